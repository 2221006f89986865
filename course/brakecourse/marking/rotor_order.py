"""What a student gets for `08_rotor_measurement`: the vehicle, the drawings of the gauges, the questions.

Nothing in here tells an answer: no reading as a number, no seed, no situation. The drawings are numbered
in the order in which they were taken, and say only where and how.
"""

from __future__ import annotations

from typing import Any

from brakecourse import __version__
from brakecourse.bench.cases import RotorCase
from brakecourse.marking import catalogue
from brakecourse.marking.catalogue import Question
from brakecourse.marking.sealed import SealedRotor
from brakecourse.trade.conformity import expanded, guard_band
from brakecourse.views.drawings import dial_svg, micrometer_svg
from brakecourse.views.words import mm, number

FORMAT = 1
MODULE = "08_rotor_measurement"

NOTES = (
    "This vehicle, its limits and its readings are invented. They fit no real car.",
    "The rotor was cleaned wet, the hub face was cleaned, and the rotor was cold.",
    "The micrometer was zeroed before use. The dial stood square to the face and was set to 0 at place 1.",
    "The micrometer drawings 1 to 8 and all the dial drawings were taken on the swept track, "
    "{in_from_edge} in from the outer edge. Micrometer drawing 9 was taken at the outer edge itself.",
)


def work_order(case: RotorCase, rotor: SealedRotor, student: str, attempt: int) -> dict[str, Any]:
    """Return the work order as plain JSON data."""
    thickness, loose, seated = _micrometers(case), _dials(case, "o"), _dials(case, "s")
    in_from_edge = mm(case.vehicle.front.rotor_outer_radius_mm - case.vehicle.front.measuring_radius_mm, 0)
    shown = {"8.1": list(thickness), "8.4": [*loose, *seated]}
    return {
        "format": FORMAT,
        "course_version": __version__,
        "module": MODULE,
        "title": catalogue.title(MODULE),
        "student": student,
        "attempt": attempt,
        "vehicle": {
            "name": case.vehicle.name,
            "fleet_number": case.vehicle.fleet_number,
            "facts": [list(fact) for fact in _facts(rotor)],
        },
        "complaint": case.complaint,
        "notes": [note.format(in_from_edge=in_from_edge) for note in NOTES],
        "drawings": {**thickness, **loose, **seated},
        "questions": [_question(asked, shown.get(asked.id, [])) for asked in catalogue.questions(MODULE)],
    }


def _facts(rotor: SealedRotor) -> list[tuple[str, str]]:
    spec, gauges = rotor.spec, rotor.instruments
    u = gauges.thickness_u_mm
    factor = guard_band(1.0, rotor.confidence)
    return [
        ("Rotor thickness when new", mm(spec.nominal_mm)),
        ("Machine-to limit (after a cut, no thinner)", mm(spec.machine_to_mm)),
        ("Discard limit (ever, no thinner)", mm(spec.discard_mm)),
        ("Largest thickness variation", mm(spec.max_variation_mm, 3)),
        ("Largest total run-out, all wheel nuts snug", mm(spec.max_run_out_mm)),
        ("Micrometer", f"{rotor.micrometer.name}, lines of {mm(rotor.micrometer.resolution_mm)}"),
        ("A thickness reading: standard uncertainty u", mm(u, 4)),
        ("A thickness reading: expanded uncertainty (k = 2)", mm(expanded(u), 4)),
        ("Difference of two thickness readings: u", mm(gauges.thickness_difference_u_mm, 4)),
        ("Dial indicator", f"lines of {mm(rotor.dial.resolution_mm)}"),
        ("Difference of two dial readings: u", mm(gauges.dial_difference_u_mm, 4)),
        ("Guard band", f"{number(factor, 3)} times u, for {number(100 * rotor.confidence, 0)} % confidence"),
    ]


def _micrometers(case: RotorCase) -> dict[str, dict[str, str]]:
    places = [
        (value, f"Place {place}, on the swept track")
        for place, value in enumerate(case.thickness_mm, start=1)
    ]
    places.append((case.ridge_mm, "Place 1, at the outer edge, on the ridge"))
    return {
        f"m{count}": {
            "svg": micrometer_svg(
                value,
                uid=f"m{count}",
                start_mm=case.micrometer.low_mm,
                title=f"Micrometer: {caption}",
                whole=False,
            ),
            "caption": caption,
        }
        for count, (value, caption) in enumerate(places, start=1)
    }


def _dials(case: RotorCase, letter: str) -> dict[str, dict[str, str]]:
    values, nuts = {
        "o": (case.dial_loose_mm, "wheel nuts off"),
        "s": (case.dial_seated_mm, "all wheel nuts fitted and snug"),
    }[letter]
    captions = [f"Place {place}, {nuts}" for place in range(1, len(values) + 1)]
    return {
        f"{letter}{count}": {
            "svg": dial_svg(value, uid=f"{letter}{count}", title=f"Dial indicator: {caption}"),
            "caption": caption,
        }
        for count, (value, caption) in enumerate(zip(values, captions, strict=True), start=1)
    }


def _question(asked: Question, drawings: list[str]) -> dict[str, Any]:
    count = asked.count or 0
    return {
        "id": asked.id,
        "kind": asked.kind,
        "short": asked.short,
        "unit": asked.unit,
        "low": asked.low,
        "high": asked.high,
        "count": asked.count,
        "labels": [f"place {place}" for place in range(1, count + 1)],
        "choices": [choice.text for choice in asked.choices],
        "drawings": drawings,
        "points": asked.points,
    }
