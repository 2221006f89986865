"""What is said about a way of pushing a piston back: pure functions, words out."""

from __future__ import annotations

from typing import NamedTuple

from brakecourse.views.replies import Reply
from brakecourse.views.retract_cases import PushBack
from brakecourse.views.units import both
from brakecourse.views.words import mm

OPEN, SHUT = "open, its hose in the bottle", "shut"
WITH_PRESS, AFTER_PRESS = "while the press still holds the pistons", "after the press is off"
_NEARLY_MM = 0.05


class Way(NamedTuple):
    """A way of working.

    Attributes:
        pushed_mm: how far the pistons have gone back.
        is_open: whether the bleeder was open.
        late: whether it is shut only after the press is off.
    """

    pushed_mm: float
    is_open: bool
    late: bool


def where_it_went(case: PushBack, way: Way) -> str:
    """Say where the fluid has gone."""
    if way.pushed_mm < _NEARLY_MM:
        return "Nothing has been pushed back yet."
    out = both(case.fluid_ml(way.pushed_mm), "mL")
    if not way.is_open:
        return f"{out} has gone back up the hose and through the ABS unit into the reservoir."
    if way.late:
        return f"{out} has gone into the bottle. The press is off, the bleeder is still open: the bore sucks."
    return f"{out} has gone through the bleeder into the bottle. None went through the ABS unit."


def way_reply(case: PushBack, way: Way) -> Reply:
    """Judge a way of working: the worst mistake is told first.

    Args:
        case: the wheel.
        way: what was done; something has been pushed.
    """
    out = both(case.fluid_ml(way.pushed_mm), "mL")
    if not way.is_open:
        rise = case.rise_mm(case.fluid_ml(way.pushed_mm))
        over = case.level_mm + rise > case.height_mm
        then = "and the reservoir runs over" if over else f"and the level has risen by {mm(rise, 1)}"
        return Reply(
            False,
            f"Not yet. The bleeder is shut, so {out} of the oldest fluid went back through the ABS unit, "
            f"{then}. Its dirt can stick in the valves. Open the bleeder before you push.",
        )
    if way.pushed_mm < case.travel_mm - _NEARLY_MM:
        short = mm(case.travel_mm - way.pushed_mm, 1)
        return Reply(
            False,
            f"Not yet. The fluid goes the right way, but the pistons are {short} short of home. "
            "New pads would not fit over the rotor.",
        )
    if way.late:
        return Reply(
            False,
            "Not yet. You shut the bleeder too late. With the press off, the seals spring the pistons out a "
            f"little and draw in up to {both(case.air_ml, 'mL', 2)} of air past the bleeder's thread. The "
            f"pedal then goes {mm(case.air_travel_mm, 1)} further and feels soft. Shut it while the press "
            "still holds.",
        )
    return Reply(
        True,
        f"Right. {out} lies in the bottle, none went through the ABS unit, and no air came in. "
        "Bring the bottle to where old fluid is collected.",
    )
