"""How simulated people read a gauge: mostly right, at times a line out, and some with a habit.

The model is an assumption, no source. A habit is a misunderstanding: its owner makes that mistake
nearly every time it can be made. A slip is bad luck: it comes more often the less skilled the reader is.
"""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.checks import number
from brakecourse.bench.draw import Draw
from brakecourse.bench.gauges import NEAR_THIMBLE_ZERO_MM, SLEEVE_LINE_MM, DialIndicator, Micrometer

# The reading mistakes that can be a habit; other habits of a person are not the reader's business.
READING_HABITS = frozenset({"half_millimetre_line", "ten_times", "wrong_sign"})
HABIT_SHARE = 0.9
# A reader of skill 0 slips this often; one of skill 1 never.
MOST_SLIPS = 0.30
# Just beside a sleeve line a slip takes half a millimetre along this often.
HALF_LINE_SLIP_SHARE = 0.5
# Other slips: the next line, or the next numeral on the thimble or the dial, five or ten lines away.
SLIPS_LINES = {1: 0.40, -1: 0.40, 5: 0.06, -5: 0.06, 10: 0.04, -10: 0.04}


@dataclass(frozen=True)
class Reader:
    """One simulated person at a gauge.

    Args:
        skill: 0 (slips often) to 1 (never slips).
        habits: ids of mistakes made nearly every time; ids that are not reading mistakes have no effect here.

    Raises:
        ValueError: the skill is not a number from 0 to 1, or the habits are not a set of texts.
    """

    skill: float
    habits: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        number("skill", self.skill, 0, 1)
        if not isinstance(self.habits, frozenset) or not all(isinstance(habit, str) for habit in self.habits):
            raise ValueError(f"habits must be a frozenset of mistake ids, but it was {self.habits!r}.")

    def read_micrometer(self, indication_mm: float, gauge: Micrometer, draw: Draw) -> float:
        """Return what this person reads off a micrometer, in mm, always a line of the scale.

        A person with the half-millimetre habit misses the line where it shows, and is caught by a line
        just beside the thimble's edge; where neither is there to mislead, nothing happens.

        Raises:
            ValueError: the indication is not a number.
        """
        mistakes = gauge.misreadings(indication_mm)
        _, half_shows, thimble = gauge.parts(indication_mm)
        off_mm = thimble * gauge.resolution_mm
        beside = min(off_mm, SLEEVE_LINE_MM - off_mm) <= NEAR_THIMBLE_ZERO_MM + 1e-9
        if not (half_shows or beside):
            del mistakes["half_millimetre_line"]
        return self._read(gauge.reading(indication_mm), mistakes, beside, gauge.resolution_mm, draw)

    def read_dial(self, indication_mm: float, gauge: DialIndicator, draw: Draw) -> float:
        """Return what this person reads off a dial indicator, in mm, always a line of the scale.

        Raises:
            ValueError: the indication is not a number.
        """
        mistakes = gauge.misreadings(indication_mm)
        # To take the needle left of zero for right of it is the mistake; nobody does the opposite.
        if indication_mm > 0:
            mistakes.pop("wrong_sign", None)
        return self._read(gauge.reading(indication_mm), mistakes, False, gauge.resolution_mm, draw)

    def _read(
        self, correct_mm: float, mistakes: dict[str, float], beside: bool, line_mm: float, draw: Draw
    ) -> float:
        habits = sorted(self.habits & READING_HABITS & mistakes.keys())
        for habit in habits:
            if draw.uniform() < HABIT_SHARE:
                return mistakes[habit]
        if draw.uniform() >= MOST_SLIPS * (1 - self.skill):
            return correct_mm
        if beside and draw.uniform() < HALF_LINE_SLIP_SHARE:
            return mistakes["half_millimetre_line"]
        return round(correct_mm + draw.weighted(SLIPS_LINES) * line_mm, 9) + 0.0
