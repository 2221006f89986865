"""What the student gets to see of the rotor on its hub: sizes and arrows, the hat, the faces, the dial."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers.m10_hub_and_rotor_fit.truth import ASKED_STUDS, FitTruth, Measure
from brakecourse.marking.readings import SealedReading
from brakecourse.views.drawings import (
    HubAndRotor,
    dial_svg,
    hub_face_svg,
    hub_section_svg,
    rotor_off_svg,
)
from brakecourse.views.drawings.rotor_index import studs_on
from brakecourse.views.words import mm

NOTES = (
    "Drawings f1 to f8 were taken first, as the vehicle came in: all wheel nuts fitted and snug, the dial on "
    "the track, set to 0 at place 1.",
    "Then the rotor came off. Both faces were brushed damp, down to bare metal, and the same rotor went on "
    "again in its old position, all nuts snug. Then drawings c1 to c9 were taken.",
    "The flange was measured bare, with a fine dial at the edge of the seat. The rotor's own run-out was "
    "measured on a true plate, at the measuring radius.",
    "Angles count from stud 0 of the hub, as the numbers of the studs go. The rotor is turned on that way.",
)


def sheet(truth: FitTruth) -> Sheet:
    """Return what the student gets to see."""
    found = _dials(truth.found, "f", "as it came in")
    clean = _dials(truth.clean, "c", "both faces clean")
    edge = _dial(truth.edge, f"c{len(clean) + 1}", "At the outer edge, on the rust, both faces clean")
    pictures = _pictures(truth)
    return Sheet(
        facts=_facts(truth),
        notes=NOTES,
        drawings={**found, **pictures, **clean, **edge},
        shown={
            "10.1": list(found),
            "10.4": ["off"],
            "10.5": ["faces", "cut"],
            "10.6": [*clean, *edge],
        },
        labels={
            "10.1": [f"place {place}" for place in range(1, len(found) + 1)],
            "10.7": [studs_on(index) for index in ASKED_STUDS],
        },
    )


def _facts(truth: FitTruth) -> tuple[tuple[str, str], ...]:
    dial = truth.found[0]
    tried = [
        (f"A colleague's try, {studs_on(index)}: total run-out", mm(value))
        for index, value in enumerate(truth.tried_mm, start=len(ASKED_STUDS) + 1)
    ]
    return (
        ("Wheel", truth.wheel),
        ("Wheel studs", str(truth.studs)),
        ("Largest total run-out, all wheel nuts snug", mm(truth.limit_mm)),
        _length(truth.seat_as, truth.seat_mm, ("Seat radius s", "Diameter of the hub's seat")),
        _length(
            truth.track_as, truth.track_mm, ("Measuring radius r", "The dial stands on a circle of diameter")
        ),
        ("Thickness of the flake, by micrometer", mm(truth.flake_mm)),
        ("Bare flange, at the edge of its seat: total run-out", mm(truth.flange_mm, 3)),
        ("Bare flange: high spot", f"{truth.hub_deg:.0f}°"),
        ("Rotor by itself: total run-out", mm(truth.rotor_mm)),
        ("Rotor by itself: high spot, in its old position", f"{truth.rotor_deg:.0f}°"),
        *tried,
        ("Dial indicator", f"lines of {mm(dial.division)}"),
        ("Difference of two dial readings: standard uncertainty u", mm(truth.difference_u_mm, 4)),
    )


def _length(given_as: Measure, radius_mm: float, names: tuple[str, str]) -> tuple[str, str]:
    if given_as == "radius":
        return names[0], mm(radius_mm, 1)
    return names[1], mm(2 * radius_mm, 1)


def _dials(reads: Sequence[SealedReading], letter: str, when: str) -> dict[str, Drawn]:
    drawn: dict[str, Drawn] = {}
    for place, read in enumerate(reads, start=1):
        drawn |= _dial(read, f"{letter}{place}", f"Place {place}, on the track, {when}")
    return drawn


def _dial(read: SealedReading, name: str, caption: str) -> dict[str, Drawn]:
    return {name: Drawn(dial_svg(read.indication, uid=name, title=f"Dial indicator: {caption}"), caption)}


def _pictures(truth: FitTruth) -> dict[str, Drawn]:
    size = HubAndRotor(
        outer_mm=truth.sizes.outer,
        inner_mm=truth.sizes.inner,
        measuring_mm=truth.track_mm,
        seat_mm=truth.seat_mm,
        thickness_mm=truth.sizes.thickness,
        stud_circle_mm=truth.sizes.stud_circle,
        studs=truth.studs,
    )
    return {
        "off": Drawn(
            rotor_off_svg(size, uid="off", screw=truth.screw, holes=truth.holes),
            "The rotor as it stands, the wheel nuts off",
        ),
        "faces": Drawn(
            hub_face_svg(size, uid="faces", rusty=True, flake_deg=truth.flake_deg),
            "The two mating faces, as they were found",
        ),
        "cut": Drawn(
            hub_section_svg(
                size,
                truth.flake_mm,
                uid="cut",
                flake_deg=truth.flake_deg,
                turned_deg=truth.flake_deg,
                title="The rotor on the flake, cut through",
            ),
            "The rotor on the flake, cut through, the flake at the top",
        ),
    }
