"""Tasks about the vapour margin, with the usual slips named: pure functions over the bench."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.published import convert
from brakecourse.trade.fluid import MixingGrade, boiling_minima_c, boiling_point_c
from brakecourse.views.fluid_samples import Sample, fact_vehicle, heat_tester, on_scale, straight_c
from brakecourse.views.quiz import NumberTask
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number

MEASURED, WORST, FROM_WATER = "from a boiling test", "at its worst", "from the water"
TOPICS = (MEASURED, WORST, FROM_WATER)

_SIGN = "The size is right, but the sign is not: boiling point minus hottest fluid."
_FAHRENHEIT = "That is a difference in °F. Divide it by 1.8 for °C."
_WITH_32 = "You turned a difference into °F with the 32. The answer is asked in °C."
_DRY = "You took the dry limit for the boiling point. This fluid holds water."
_WET = "You took the wet limit for the boiling point. It holds at about 3.7 % of water only."
_BOIL = "That is the boiling point. Subtract the hottest fluid from it."
_STRAIGHT = "You went along a straight line from dry to wet. The curve lies below it: use the table."


@dataclass(frozen=True)
class Margin:
    """A sample, and the boiling point that the task starts from.

    Attributes:
        sample: whose fluid.
        boils_c: the boiling point to subtract from.
        from_water: whether it is found from the water, by the grade's curve.
    """

    sample: Sample
    boils_c: float
    from_water: bool

    @property
    def margin_c(self) -> float:
        """The right answer."""
        return self.boils_c - self.sample.hottest_c


def margin_task(topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
    """Return a task about a margin.

    Args:
        topic: one of :data:`TOPICS`.
        difficulty: easy ones tell the tester's reading; on hard ones the water lies between two rows.
        draw: chance.
    """
    sample = on_scale(draw, difficulty)
    if topic == FROM_WATER:
        return _from_water(sample, difficulty)
    return _measured(sample, difficulty, worst=topic == WORST)


def curve_table(grade: MixingGrade) -> list[tuple[str, str]]:
    """Return rows of a grade's boiling points, half a percent of water apart."""
    waters = [place / 2 for place in range(9)]
    return [
        (f"At {number(water, 1)} % of water it boils at", both(round(boiling_point_c(grade, water)), "°C"))
        for water in waters
    ]


def _measured(sample: Sample, difficulty: Difficulty, *, worst: bool) -> NumberTask:
    limit_c = heat_tester().error_limit if worst else 0.0
    margin = Margin(sample, sample.boiling_c - limit_c, from_water=False)
    hot = sample.hottest_c
    off = f" − {limit_c:.0f}" if worst else ""
    because = f"{sample.boiling_c:.0f}{off} − {hot:.0f} = {number(margin.margin_c, 0)} °C."
    wrong = {
        "That leaves the tester's error out. At its worst the fluid boils that much lower.": sample.margin_c,
        "You added the tester's error. At its worst the fluid boils lower, not higher.": (
            sample.margin_c + limit_c
        ),
    }
    rows = [
        fact_vehicle(sample.vehicle),
        ("The maker's grade", sample.grade),
    ]
    if difficulty == "easy":
        rows.append(("A sample boils at", both(sample.boiling_c, "°C")))
    if worst:
        rows.append(("The boiling-point tester may be off by", f"{both(limit_c, '°C rise')} either way"))
    rows.append(("Hottest fluid on the long hill", both(hot, "°C")))
    topic = WORST if worst else MEASURED
    question = (
        f"What margin is left in the fluid of the {sample.vehicle.name} on the long hill"
        f"{', if the tester errs to the bad side' if worst else ''}, in °C? Type a minus if there is none."
    )
    return _task(topic, question, margin, wrong if worst else {}, because, 1.0, rows)


def _from_water(sample: Sample, difficulty: Difficulty) -> NumberTask:
    grade, hot = sample.grade, sample.hottest_c
    water = sample.water_percent if difficulty == "hard" else round(2 * sample.water_percent) / 2
    margin = Margin(sample, boiling_point_c(grade, water), from_water=True)
    because = (
        f"With {number(water, 1)} % of water it boils at {margin.boils_c:.0f} °C, and "
        f"{margin.boils_c:.0f} − {hot:.0f} = {number(round(margin.boils_c) - hot, 0)} °C."
    )
    wrong = {_STRAIGHT: straight_c(grade, water) - hot}
    rows = [
        fact_vehicle(sample.vehicle),
        ("The maker's grade", grade),
        ("Water in the fluid", f"{number(water, 1)} %"),
        ("Hottest fluid on the long hill", both(hot, "°C")),
        *curve_table(grade),
    ]
    question = (
        f"Fluid of the {sample.vehicle.name} that just keeps {grade} holds {number(water, 1)} % of water. "
        "What margin is left on the long hill, in °C? Type a minus if there is none."
    )
    return _task(FROM_WATER, question, margin, wrong, because, 3.0, rows)


def _task(
    topic: str,
    question: str,
    margin: Margin,
    first: dict[str, float],
    because: str,
    tolerance: float,
    rows: list[tuple[str, str]],
) -> NumberTask:
    right, hot = margin.margin_c, margin.sample.hottest_c
    dry, wet = boiling_minima_c(margin.sample.grade)
    wrong = first | {
        _SIGN: -right,
        _BOIL: margin.boils_c,
        _FAHRENHEIT: 1.8 * right,
        _WITH_32: convert(right, "degC", "degF"),
        _DRY: dry - hot,
        _WET: wet - hot,
    }
    wrong = {words: number_ for words, number_ in wrong.items() if abs(number_ - right) > 2 * tolerance}
    told = because + (" No margin is left: vapour can form." if right <= 0 else "")

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            right,
            wrong,
            unit="°C rise",
            tolerance=tolerance,
            because=told,
            hint="Take the boiling point, and subtract the hottest fluid.",
        )

    return NumberTask(
        topic,
        question,
        "Margin",
        "°C rise",
        rule,
        f"{both(right, '°C rise')}. {told}",
        (("Fact", "Value"), *rows),
        margin,
    )
