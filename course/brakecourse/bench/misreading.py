"""How simulated people read a gauge: mostly right, at times a line out, and some with a habit.

The model is an assumption, no source. A habit is a misunderstanding: its owner makes that mistake
nearly every time it can be made. A slip is bad luck: it comes more often the less skilled the reader is.
"""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.checks import number
from brakecourse.bench.draw import Draw
from brakecourse.bench.gauge_base import Readable
from brakecourse.bench.gauges import DialIndicator, Micrometer

# The reading mistakes that can be a habit; other habits of a person are not the reader's business.
READING_HABITS = frozenset(
    {
        "backing_plate_included",
        "fahrenheit_for_celsius",
        "from_the_floor",
        "from_the_minimum",
        "half_millimetre_line",
        "lbf_for_newton",
        "lbfft_for_nm",
        "lbfin_for_lbfft",
        "line_step",
        "marks_counted",
        "minutes_as_hundreds",
        "parallax",
        "psi_for_mpa",
        "ten_times",
        "wrong_ring",
        "wrong_sign",
        "zero_not_set",
    }
)
HABIT_SHARE = 0.9
# A reader of skill 0 slips this often; one of skill 1 never.
MOST_SLIPS = 0.30
# Where a place of the scale misleads the eye, as just beside a micrometer's sleeve line, a slip falls for it
# this often.
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

    def read(self, indication: float, gauge: Readable, draw: Draw) -> float:
        """Return what this person reads off any gauge, in the unit of its scale.

        A habit strikes only where the gauge gives it something to mislead with. A slip is a line of the
        scale; a habit may end between two lines, or on the numbers of the wrong ring.

        Args:
            indication: what the gauge shows.
            gauge: the gauge.
            draw: where the chance comes from.

        Raises:
            ValueError: the indication is not a number.
        """
        correct = gauge.reading(indication)
        mistakes = gauge.likely_misreadings(indication)
        for habit in sorted(self.habits & READING_HABITS & mistakes.keys()):
            if draw.uniform() < HABIT_SHARE:
                return mistakes[habit]
        if draw.uniform() >= MOST_SLIPS * (1 - self.skill):
            return correct
        near = gauge.near_miss(indication)
        if near is not None and draw.uniform() < HALF_LINE_SLIP_SHARE:
            return near
        return gauge.slipped(correct, draw.weighted(SLIPS_LINES))

    def read_micrometer(self, indication_mm: float, gauge: Micrometer, draw: Draw) -> float:
        """Return what this person reads off a micrometer, in mm, always a line of the scale.

        Raises:
            ValueError: the indication is not a number.
        """
        return self.read(indication_mm, gauge, draw)

    def read_dial(self, indication_mm: float, gauge: DialIndicator, draw: Draw) -> float:
        """Return what this person reads off a dial indicator, in mm, always a line of the scale.

        Raises:
            ValueError: the indication is not a number.
        """
        return self.read(indication_mm, gauge, draw)
