"""Tasks about reading the two fluid testers, with the usual slips named: pure functions over the bench."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.published import convert
from brakecourse.views.fluid_samples import Sample, fact_vehicle, heat_tester, on_scale, water_tester
from brakecourse.views.quiz import NumberTask
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number

WATER, BOILING, ERROR = "the water tester", "the boiling-point tester", "what a tester may be off"
TOPICS = (WATER, BOILING, ERROR)

_COUNTED = "You counted the lines and took their number for percent. Ten lines are 1 %."
_FIFTHS = "You took a line for 0.2 %. There are ten lines from number to number, so a line is 0.1 %."
_HUNDREDTHS = "You took a line for 0.01 %. A line is a tenth of a percent, 0.1 %."
_BACKWARDS = "You counted back from the number on the right. Count on from the number on the left."
_RAW_F = "The display is set to °F, and you took its number for °C."
_ONLY_32 = "You took 32 off and stopped. Divide by 1.8 as well."
_NO_32 = "You divided by 1.8, but did not take 32 off first."
_THERE = "You turned °C into °F. The display is in °F already, and °C is asked."
_NEEDLESS = "The display is set to °C already. Read it as it stands."


@dataclass(frozen=True)
class Shown:
    """Which tester the picture shows, and of what.

    Attributes:
        sample: whose fluid.
        water: the water tester; else the boiling-point tester.
        fahrenheit: the display is set to °F.
    """

    sample: Sample
    water: bool
    fahrenheit: bool = False


def tester_task(topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
    """Return a task about a tester.

    Args:
        topic: one of :data:`TOPICS`.
        difficulty: hard displays are set to °F; easy needles stand at a line.
        draw: chance.
    """
    sample = on_scale(draw, "normal" if difficulty == "easy" else "hard")
    if topic == ERROR:
        return _error(sample, difficulty, draw.child("which"))
    if topic == WATER:
        return _water(sample, difficulty)
    chance = draw.child("unit").uniform()
    return _boiling(sample, difficulty == "hard" or (difficulty == "normal" and chance < 0.5))


def water_slips(reading: float) -> dict[str, float]:
    """Return what each usual slip makes of a reading of the water tester."""
    base, lines = water_tester().scale.below(reading)
    return {
        _COUNTED: water_tester().misreadings(reading).get("marks_counted", 10 * reading),
        _FIFTHS: base + 0.2 * lines,
        _HUNDREDTHS: base + 0.01 * lines,
        _BACKWARDS: base + 1 - 0.1 * lines,
    }


def fahrenheit_slips(celsius: float) -> dict[str, float]:
    """Return what each usual slip makes of a display in °F."""
    shown = round(convert(celsius, "degC", "degF"))
    return {
        _RAW_F: float(shown),
        _ONLY_32: shown - 32.0,
        _NO_32: shown / 1.8,
        _THERE: 1.8 * shown + 32,
    }


def _water(sample: Sample, difficulty: Difficulty) -> NumberTask:
    reading = sample.water_percent
    drawn = Sample(sample.case, reading, sample.boiling_shown_c) if difficulty == "easy" else sample
    base, lines = water_tester().scale.below(reading)
    told = f"{lines} line{'' if lines == 1 else 's'} past {base:.0f}" if lines else f"right on the {base:.0f}"

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            reading,
            water_slips(reading),
            unit="%",
            tolerance=0.06,
            because=f"The needle stands {told}, and a line is 0.1 %.",
            hint="Take the number to the left of the needle, and add 0.1 for each line after it.",
            places=1,
        )

    question = (
        f"The pins stand in the fluid of the {sample.vehicle.name}. How much water does the tester show?"
    )
    answer = f"{number(reading, 1)} %: {told}."
    return NumberTask(WATER, question, "Water", "%", rule, answer, _who(sample), Shown(drawn, water=True))


def _boiling(sample: Sample, fahrenheit: bool) -> NumberTask:
    reading = sample.boiling_c
    wrong = fahrenheit_slips(reading)
    because = "The display is set to °C, so it is read as it stands."
    if fahrenheit:
        shown = round(convert(reading, "degC", "degF"))
        because = f"The display is set to °F: ({shown} − 32) ÷ 1.8 = {number(reading, 0)}."
    else:
        wrong = {_NEEDLESS: (reading - 32) / 1.8, f"{_NEEDLESS} ": 1.8 * reading + 32}

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            reading,
            wrong,
            unit="°C",
            tolerance=1.0,
            because=because,
            hint="Look first which unit the display is set to, then read its digits.",
        )

    question = f"A sample from the {sample.vehicle.name} begins to bubble. Where does it boil, in °C?"
    answer = f"{both(reading, '°C')}. {because}"
    case = Shown(sample, water=False, fahrenheit=fahrenheit)
    return NumberTask(BOILING, question, "It boils at", "°C", rule, answer, _who(sample), case)


def _error(sample: Sample, difficulty: Difficulty, draw: Draw) -> NumberTask:
    water = difficulty == "easy" or draw.uniform() < 0.5
    gauge = water_tester() if water else heat_tester()
    reading, limit = (sample.water_percent if water else sample.boiling_c), gauge.error_limit
    worst = reading + limit if water else reading - limit
    unit, places = ("%", 1) if water else ("°C", 0)
    what = "most water that may be in it" if water else "lowest temperature at which it may boil"
    sign = "+" if water else "−"
    wrong = {
        "That is the reading itself. The tester may be off, to the bad side too.": reading,
        "You went to the good side. Take the bad one: more water, or a lower boiling point.": (
            2 * reading - worst
        ),
        "You took the error limit twice.": 2 * worst - reading,
    }

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            worst,
            wrong,
            unit=unit,
            tolerance=0.06 if water else 1.0,
            because=f"{number(reading, places)} {sign} {number(limit, places)} = {number(worst, places)}.",
            hint="Read the tester, then go by its error limit to the bad side.",
            places=places,
        )

    question = f"Fluid of the {sample.vehicle.name}. Read the tester. What is the {what}?"
    evidence = (*_who(sample), ("The tester may be off by", f"{both(limit, unit, places)} either way"))
    if not water:  # a difference of temperatures converts without the 32
        evidence = (*_who(sample), ("The tester may be off by", f"{both(limit, '°C rise')} either way"))
    answer = f"{both(worst, unit, places)}."
    return NumberTask(ERROR, question, "At worst", unit, rule, answer, evidence, Shown(sample, water=water))


def _who(sample: Sample) -> tuple[tuple[str, str], ...]:
    return ("Fact", "Value"), fact_vehicle(sample.vehicle), ("The maker's grade", sample.grade)
