"""What the student gets to see: the wheel, the reservoir, hose and boots close up, and what hands found."""

from __future__ import annotations

from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers import job_steps
from brakecourse.marking.papers.m06_caliper_off.moments import labels
from brakecourse.marking.papers.m06_caliper_off.truth import CaliperTruth, Pair
from brakecourse.views.drawings import reservoir_svg
from brakecourse.views.drawings._retraction_places import Push
from brakecourse.views.drawings.boots_card import boots_card_svg
from brakecourse.views.drawings.caliper_hung import caliper_hung_svg
from brakecourse.views.drawings.hose_card import hose_card_svg
from brakecourse.views.drawings.retraction import retraction_svg
from brakecourse.views.hose_reasons import torque_words
from brakecourse.views.units import both
from brakecourse.views.words import mm

NOTES = (
    "The vehicle stands on rated stands, and the brake is cool. The rotor stays, and new pads come in.",
    "The reservoir was read before anybody touched the pads. The zero of the rule is at the floor of the "
    "reservoir, and eye and fluid were on one level. The reservoir's walls are upright.",
    "The forces and torques were measured at this wheel and at the axle's other wheel, which is sound.",
)


def sheet(truth: CaliperTruth) -> Sheet:
    """Return what the student gets to see."""
    return Sheet(
        facts=_facts(truth),
        notes=NOTES,
        drawings={
            "p1": _push(truth),
            "r1": _reservoir(truth),
            "h1": _hose(truth),
            "b1": _boots(truth),
            "k1": _hung(truth),
        },
        shown={"6.1": ["p1"], "6.3": ["r1"], "6.7": ["h1"], "6.8": ["b1"], "6.10": ["k1"]},
        labels={"6.6": labels(truth.moments)},
        steps={"6.9": [job_steps.words(step) for step in truth.steps]},
    )


def _facts(truth: CaliperTruth) -> tuple[tuple[str, str], ...]:
    many = "1 piston" if truth.pistons == 1 else f"{truth.pistons} pistons"
    one, two = truth.slides_n
    return (
        ("Wheel", truth.wheel),
        ("Caliper", f"floating, {many}, bore {mm(truth.bore_mm, 0)}"),
        ("Lining of a new pad", mm(truth.new_mm, 1)),
        ("Least lining", mm(truth.least_mm, 1)),
        ("Old inner pad, mean lining", mm(truth.inner_mm, 1)),
        ("Old outer pad, mean lining", mm(truth.outer_mm, 1)),
        ("Area of the fluid in the reservoir", both(truth.area_mm2, "mm²")),
        ("MAX, above the floor of the reservoir", mm(truth.max_mm, 0)),
        ("Lid, above the floor of the reservoir", mm(truth.lid_mm, 0)),
        ("Torque that turns the wheel, as found", _torques(truth.drag_nm)),
        ("The same, fitting above the hose open", _torques(truth.fitting_nm)),
        ("The same, bleeder open", _torques(truth.bleeder_nm)),
        ("Force that pushes the pistons back, bleeder open", _forces(truth.push_n)),
        ("Force that slides the upper pin", _forces(one)),
        ("Force that slides the lower pin", _forces(two)),
    )


def _torques(pair: Pair) -> str:
    return f"here {torque_words(pair.here)}, other wheel {torque_words(pair.other)}"


def _forces(pair: Pair) -> str:
    return f"here {both(pair.here, 'N')}, other wheel {both(pair.other, 'N')}"


def _push(truth: CaliperTruth) -> Drawn:
    title = f"The {truth.wheel} caliper before the push"
    push = Push(
        bore_mm=truth.bore_mm,
        pad_height_mm=truth.pad_height_mm,
        rotor_mm=truth.rotor_mm,
        lining_new_mm=truth.new_mm,
        inner_mm=truth.inner_mm,
        outer_mm=truth.outer_mm,
        bleeder="not told",
        level_mm=truth.level.reading,
        min_mm=truth.min_mm,
        max_mm=truth.max_mm,
        height_mm=truth.lid_mm,
    )
    return Drawn(retraction_svg(push, uid="p1", title=title), title)


def _reservoir(truth: CaliperTruth) -> Drawn:
    title = "The reservoir, before anybody touched the pads"
    svg = reservoir_svg(
        truth.level.indication,
        min_mm=truth.min_mm,
        max_mm=truth.max_mm,
        height_mm=truth.lid_mm,
        uid="r1",
        title=title,
    )
    return Drawn(svg, title)


def _hose(truth: CaliperTruth) -> Drawn:
    title = "The hose of this wheel"
    svg = hose_card_svg(truth.skin, uid="h1", wet=truth.wet_hose, wet_fitting=truth.wet_fitting, title=title)
    return Drawn(svg, title)


def _boots(truth: CaliperTruth) -> Drawn:
    title = "The boots of this caliper, and the fitting of its hose"
    svg = boots_card_svg(
        uid="b1",
        piston_torn=truth.piston_torn,
        pin_torn=truth.pin_torn,
        wet=truth.wet_boot,
        wet_fitting=truth.wet_fitting,
        title=title,
    )
    return Drawn(svg, title)


def _hung(truth: CaliperTruth) -> Drawn:
    title = "The caliper, as it was left"
    svg = caliper_hung_svg(truth.held, uid="k1", mirrored=truth.wheel.endswith("right"), title=title)
    return Drawn(svg, title)
