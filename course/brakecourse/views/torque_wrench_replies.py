"""What is replied to a setting and to a reading of a torque wrench: pure functions, words out."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.other_units import nm_from_lbfft
from brakecourse.bench.shop_gauges import TorqueWrench
from brakecourse.bench.situations import Difficulty
from brakecourse.published import convert
from brakecourse.views.quiz import NumberTask
from brakecourse.views.replies import Reply, near, number_reply
from brakecourse.views.torque_sums import LINES_OF_A_TURN, Bolt, turn_nm, turns_and_line
from brakecourse.views.torque_units import FEET, INCHES, NM, PINT
from brakecourse.views.torque_words import nm, places_of
from brakecourse.views.words import number

_WELL_SET = 0.55  # of a line: the wanted torque may lie between two lines
_NEAR_A_TURN = (9, 0, 1)


@dataclass(frozen=True)
class Wanted:
    """A torque as the maker's sheet gives it.

    Attributes:
        bolt: what it is for.
        unit: ``"N·m"``, ``"lbf·ft"`` or ``"lbf·in"``.
    """

    bolt: Bolt
    unit: str

    @property
    def number(self) -> float:
        """The number on the sheet: whole, but with a tenth when a small torque is given in pound-feet."""
        value = convert(self.bolt.fastener.torque_nm, "N*m", PINT[self.unit])
        return round(value, 1) if self.unit == FEET and value < 60 else float(round(value))

    @property
    def torque_nm(self) -> float:
        """The same in N·m."""
        return convert(self.number, PINT[self.unit], "N*m")

    @property
    def words(self) -> str:
        """The number with its unit."""
        return f"{self.number:g} {self.unit}"


def setting_reply(wanted: Wanted, wrench: TorqueWrench, set_nm: float) -> Reply:
    """Judge what a wrench is set to.

    Args:
        wanted: what the sheet asks for.
        wrench: the wrench that was taken.
        set_nm: its setting.
    """
    target, scale = wanted.torque_nm, wrench.scale
    if near(set_nm, target, _WELL_SET * scale.line):
        return Reply(True, f"Right: set to {nm(set_nm)}. Lock the grip before you pull.")
    slip = _scale_slip(wanted, wrench, set_nm)
    if slip:
        return Reply(False, f"Not yet. {slip}")
    if not scale.holds(target):
        side = "below" if target < scale.start else "above"
        return Reply(
            False,
            f"Not yet. This wrench is good from {scale.start:g} to {scale.end:g} N·m, and the wanted torque "
            f"lies {side} that. Take another wrench.",
        )
    off = set_nm - target
    side = "too high" if off > 0 else "too low"
    turns, line = turns_and_line(wrench, set_nm)
    right_turns, right_line = turns_and_line(wrench, scale.nearest(target))
    if turns == right_turns:
        hint = "The turns are right. Look at the line of the grip again."
    elif line == right_line:
        hint = f"The line is right. Count the turns again: each is {turn_nm(wrench):g} N·m."
    else:
        hint = f"Start from {scale.start:g} N·m and add {turn_nm(wrench):g} N·m for each full turn."
    return Reply(False, f"Not yet: {nm(set_nm)} is {side}. {hint}")


def _scale_slip(wanted: Wanted, wrench: TorqueWrench, set_nm: float) -> str:
    """Name the wrong scale that was set, or return nothing."""
    shown = wanted.number
    line = 1.05 * wrench.scale.line
    on_feet, on_newton = near(set_nm, nm_from_lbfft(shown), line), near(set_nm, shown, line)
    if wanted.unit == NM and on_feet:
        return f"You set {shown:g} on the lbf·ft scale. That is {nm(set_nm)}, about a third too much."
    if wanted.unit == FEET and on_newton:
        return f"You set {shown:g} on the N·m scale. The sheet says lbf·ft, and that is more."
    if wanted.unit == INCHES and on_feet:
        return f"You took lbf·in for lbf·ft. {nm(set_nm)} is 12 times too much: the bolt would break."
    if wanted.unit == INCHES and on_newton:
        return f"You set {shown:g} on the N·m scale. The sheet says lbf·in, a much smaller unit."
    return ""


def setting_shown(wrench: TorqueWrench, difficulty: Difficulty, draw: Draw) -> float:
    """Draw what a wrench is set to, N·m: on a line of its grip.

    Args:
        wrench: the wrench.
        difficulty: easy settings stand on lines with an even number, hard ones close to a full turn.
        draw: chance.
    """
    turn = draw.child("turn").integer(1, 14)
    lines = draw.child("line")
    if difficulty == "easy":
        line = 2 * lines.integer(0, 4)
    elif difficulty == "normal":
        line = lines.integer(1, 9)
    else:
        line = lines.choice(_NEAR_A_TURN)
    return round(wrench.scale.start + turn * turn_nm(wrench) + line * wrench.scale.line, 6)


def how_read(wrench: TorqueWrench, set_nm: float) -> str:
    """Tell how a setting is read: the scale's line, then the grip."""
    turns, line = turns_and_line(wrench, set_nm)
    base = wrench.scale.start + turns * turn_nm(wrench)
    grip = line * wrench.scale.line
    return (
        f"The last line of the N·m scale up to the hairline is {base:g}. The grip adds {grip:g}: "
        f"{base:g} + {grip:g} = {number(set_nm, places_of(set_nm))} N·m."
    )


def reading_task(topic: str, wrench: TorqueWrench, set_nm: float) -> NumberTask:
    """Return the question what a wrench is set to, with the usual misreadings named."""
    turn, line = turn_nm(wrench), wrench.scale.line
    wrong = wrench.misreadings(set_nm)
    _, lines = turns_and_line(wrench, set_nm)
    grip = lines * line
    near_line = "Close to a line of the scale, look at the grip: from 0 on the line counts, at 9 not yet."
    slips = {
        "That is the lbf·ft scale, below the middle. The N·m scale is the upper one.": wrong.get(
            "lbfft_for_nm", -1.0
        ),
        "You took the lbf·ft scale for lbf·in.": wrong.get("lbfin_for_lbfft", -1.0),
        "You left the grip out. Add what it shows at the mark.": set_nm - grip if lines else -1.0,
        "You counted each line of the grip as 1. Look at the numbers on the grip.": (
            set_nm - grip + lines if line != 1 else -1.0
        ),
        f"You are one full turn out, {turn:g} N·m. {near_line}": set_nm + turn,
    }
    low_turn = "You are one full turn out, too low. The line of the scale that the hairline reached counts."
    slips[low_turn] = set_nm - turn
    return NumberTask(
        topic,
        f"What is this wrench set to, in N·m? One turn of its grip is {turn:g} N·m: {LINES_OF_A_TURN} "
        "lines of "
        f"{line:g}.",
        "Setting",
        NM,
        lambda typed: number_reply(
            typed,
            set_nm,
            slips,
            unit=NM,
            tolerance=0.3 * line,
            because=how_read(wrench, set_nm),
            hint="First the upper scale at the hairline, then the grip at the mark.",
            places=places_of(set_nm),
        ),
        how_read(wrench, set_nm),
        (),
        (wrench, set_nm),
    )
