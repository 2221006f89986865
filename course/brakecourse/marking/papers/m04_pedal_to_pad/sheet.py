"""What the student gets to see: what the maker states, the push, the gauge as it stood, the offered part."""

from __future__ import annotations

from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers.m04_pedal_to_pad.truth import FULL_MPA, Brake, ForceTruth
from brakecourse.views.drawings import pressure_gauge_svg
from brakecourse.views.drawings.bore_pair import bore_pair_svg
from brakecourse.views.force_tables import speed_words
from brakecourse.views.units import both
from brakecourse.views.words import mm, number, percent

NOTES = (
    "The engine was running, the vehicle stood, and a helper held the pedal with the force named above.",
    "The gauge was fitted at the master cylinder with the pedal released. It stood at 0 before the push.",
    "What the booster adds is what the maker states for a sound booster at this push.",
)
_PARTS = {"master": "master cylinder", "front": "front piston", "rear": "rear piston"}


def sheet(push: ForceTruth) -> Sheet:
    """Return what the student gets to see."""
    part = _PARTS[push.offer.part]
    title = f"The old bore and the new one: {part}"
    return Sheet(
        facts=_facts(push),
        notes=NOTES,
        drawings={
            "g1": Drawn(
                pressure_gauge_svg(push.gauge.indication, full_mpa=FULL_MPA, uid="g1"),
                "The gauge at the master cylinder, pedal held",
            ),
            "b1": Drawn(
                bore_pair_svg(push.offer.old_mm, push.offer.new_mm, what=part, uid="b1", title=title),
                f"The maker's {part}: {mm(push.offer.old_mm)}. The one offered: {mm(push.offer.new_mm)}",
            ),
        },
        shown={"4.2": ["g1"], "4.9": ["b1"]},
        labels={"4.4": ["front caliper", "rear caliper"], "4.7": ["front axle", "rear axle"]},
    )


def _facts(push: ForceTruth) -> tuple[tuple[str, str], ...]:
    front, rear, off = push.front, push.rear, push.gauge.division
    return (
        ("Foot on the pedal", both(push.foot_n, "N")),
        ("Pedal ratio", number(push.pedal_ratio, 1)),
        ("Booster adds, at the rod", both(push.booster_n, "N")),
        ("Master cylinder, bore", mm(push.master_mm)),
        ("Pressure let through to the rear", percent(push.rear_share)),
        ("Front caliper", _pistons(front)),
        ("Rear caliper", _pistons(rear)),
        ("Coefficient of friction, front and rear", f"{number(front.friction)} and {number(rear.friction)}"),
        ("Effective radius, front", mm(front.radius_mm, 1)),
        ("Effective radius, rear", mm(rear.radius_mm, 1)),
        ("Tyre radius", mm(push.tyre_mm, 0)),
        ("Mass, loaded", both(push.mass_kg, "kg")),
        ("Wheelbase", mm(push.wheelbase_mm, 0)),
        ("Height of the centre of gravity", mm(push.height_mm, 0)),
        ("Load of the front axle, standing", both(front.standing_n, "N")),
        ("Load of the rear axle, standing", both(rear.standing_n, "N")),
        ("The stop in question: speed", speed_words(push.speed_kmh)),
        ("The stop in question: reaction time", f"{number(push.reaction_s, 1)} s"),
        ("Pressure gauge, one line of the outer ring", both(off, "MPa")),
        ("Pressure gauge, a sound one may be off by", both(push.off_mpa, "MPa")),
    )


def _pistons(brake: Brake) -> str:
    count = "1 piston" if brake.pistons == 1 else f"{brake.pistons} pistons"
    side = f"{brake.pushing} on each side" if brake.kind == "fixed" else "on one side"
    return f"{brake.kind}, {count} of {mm(brake.bore_mm, 1)}, {side}"
