"""What the student gets to see: the reservoir with its rule, what the maker states, and the wear."""

from __future__ import annotations

from brakecourse.bench.specification import WHEELS
from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers.m02_master_cylinder.truth import LevelTruth
from brakecourse.trade.conformity import guard_band
from brakecourse.trade.fluid import LEAST_LEAK_ML, CaliperTravel
from brakecourse.views.drawings import reservoir_svg
from brakecourse.views.units import both
from brakecourse.views.words import number

NOTES = (
    "The vehicle stood level, its engine was off, and nobody has opened the cap yet. The zero of the rule is "
    "at the floor of the reservoir. Eye and fluid were on one level.",
    "The wear was told with a lamp and a mirror, through the wheel and the caliper's window. One number "
    "stands for both pads of a wheel: their mean. The wear of a rotor is that of both faces together.",
    "The reservoir stood at MAX when the pads were new. Whether anybody has added fluid since, nobody knows.",
)
CAPTION = "The reservoir, before the lift"


def sheet(truth: LevelTruth) -> Sheet:
    """Return what the student gets to see."""
    drawn = reservoir_svg(
        truth.level.indication,
        min_mm=truth.min_mm,
        max_mm=truth.max_mm,
        height_mm=truth.height_mm,
        uid="r1",
        title=f"Reservoir of the {truth.vehicle}",
        fluid=truth.look,
    )
    return Sheet(
        facts=_facts(truth),
        notes=NOTES,
        drawings={"r1": Drawn(drawn, CAPTION)},
        shown={"2.1": ["r1"]},
        labels={"2.3": ["front axle", "rear axle"], "2.4": list(WHEELS)},
    )


def _facts(truth: LevelTruth) -> tuple[tuple[str, str], ...]:
    front, rear = truth.calipers
    factor = guard_band(1.0, truth.confidence)
    return (
        ("Since the pads were new and the reservoir full", both(truth.km, "km")),
        ("MAX above the floor of the reservoir", both(truth.max_mm, "mm", 0)),
        ("MIN above the floor of the reservoir", both(truth.min_mm, "mm", 0)),
        ("Area of the fluid's surface", both(truth.area_mm2, "mm²")),
        ("Reservoir rule", f"lines of {both(truth.level.division, 'mm', 0)}"),
        *_caliper("front", front),
        *_caliper("rear", rear),
        *(
            (f"Wear, {name}", f"each pad {both(one.lining_wear_mm, 'mm', 1)}, "
             f"rotor {both(one.rotor_wear_mm, 'mm', 1)}")
            for name, one in zip(WHEELS, truth.wheels, strict=True)
        ),
        ("Standard uncertainty of the level, as fluid", both(truth.level_u_ml, "mL", 2, 3)),
        ("Standard uncertainty of the wear, each front wheel, as fluid", both(truth.front_u_ml, "mL", 2, 3)),
        ("Standard uncertainty of the wear, each rear wheel, as fluid", both(truth.rear_u_ml, "mL", 2, 3)),
        (
            "Guard band",
            f"{number(factor, 3)} times the standard uncertainty of all together, for "
            f"{number(100 * truth.confidence, 0)} % confidence",
        ),
        ("Loss to be ruled out before wear explains the level", both(LEAST_LEAK_ML, "mL", 0)),
    )  # fmt: skip


def _caliper(axle: str, one: CaliperTravel) -> tuple[tuple[str, str], ...]:
    pistons = "1 piston" if one.pistons == 1 else f"{one.pistons} pistons"
    sides = ", half of them on each side" if one.caliper == "fixed" else ""
    return (
        (f"Calipers, {axle}", f"{one.caliper}, {pistons}{sides}, bore {both(one.piston_bore_mm, 'mm', 0)}"),
        (
            f"Lining, {axle}",
            f"new {both(one.lining_new_mm, 'mm', 1)}, at its minimum {both(one.lining_worn_mm, 'mm', 1)}",
        ),
        (f"Clearance of each pad, {axle}, drawn back", both(one.clearance_mm, "mm")),
        (f"Rotor may lose, {axle}, both faces together", both(one.rotor_wear_mm, "mm", 1)),
    )
