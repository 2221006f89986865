"""Tasks about a fluid and the limits of its grade: pure functions over the bench and the law's table."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.published import convert
from brakecourse.trade.fluid import MixingGrade, boiling_minima_c, moist_boiling_c, wet_water_percent
from brakecourse.views.fluid_samples import GRADES, MIXING, draw_sample, heat_tester
from brakecourse.views.quiz import NumberTask
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number

NEW, USED, FAHRENHEIT = "fluid from a bottle", "fluid from a vehicle", "a display in °F"
TOPICS = (NEW, USED, FAHRENHEIT)

# How much better than its grade's limits a bought fluid is, °C, dry and wet. Assumption, no source.
_BETTER_DRY_C, _BETTER_WET_C = (3.0, 30.0), (2.0, 12.0)
# Water in a sealed bottle and in one that stood open, %. Assumption, no source.
_SEALED, _STOOD_OPEN = (0.0, 0.05), (0.3, 1.2)


@dataclass(frozen=True)
class Held:
    """A boiling point held against its grade's limit.

    Attributes:
        grade: the grade.
        used: whether it comes from a vehicle, so that the wet column holds; else the dry one.
        boiling_c: what the tester found, whole °C.
        fahrenheit: the display is set to °F.
        where: where the sample comes from, in words.
    """

    grade: MixingGrade
    used: bool
    boiling_c: float
    fahrenheit: bool
    where: str

    @property
    def limit_c(self) -> float:
        """The limit that holds."""
        return boiling_minima_c(self.grade)[self.used]

    @property
    def above_c(self) -> float:
        """How far above that limit it boils; below 0 when it misses it."""
        return self.boiling_c - self.limit_c


def limit_task(topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
    """Return a task about a fluid and its limit.

    Args:
        topic: one of :data:`TOPICS`.
        difficulty: hard bottles may have stood open.
        draw: chance.
    """
    fahrenheit = topic == FAHRENHEIT
    from_vehicle = draw.child("from").uniform() < 0.5 if fahrenheit else topic == USED
    held = _used(draw, fahrenheit) if from_vehicle else _bottle(difficulty, draw, fahrenheit)
    because = (
        f"{'Used' if held.used else 'New'} fluid is held against the {'wet' if held.used else 'dry'} limit: "
        f"{held.boiling_c:.0f} − {held.limit_c:.0f} = {number(held.above_c, 0)} °C."
    )
    # A rise may be below 0 here: the fluid misses its limit.

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            held.above_c,
            limit_slips(held),
            unit="°C rise",
            tolerance=1.0,
            because=because + (" Below 0: it misses the limit." if held.above_c < 0 else ""),
            hint="Find the grade's row, then the column: dry for new fluid, wet for used. Then subtract.",
        )

    question = (
        f"{held.where} How far above the limit of its grade does it boil, in °C? "
        "Type a minus when it lies below."
    )
    return NumberTask(
        topic,
        question,
        "Above the limit",
        "°C rise",
        rule,
        f"{both(held.above_c, '°C rise')}. {because}",
        limits_table(),
        held,
    )


def limit_slips(held: Held) -> dict[str, float]:
    """Return what each usual slip makes of the distance from the limit."""
    minima = boiling_minima_c(held.grade)
    swapped = (
        "You took the dry column. Fluid from a vehicle holds water: take the wet one."
        if held.used
        else "You took the wet column. Fluid from a bottle should be dry: take the dry one."
    )
    slips = {swapped: held.boiling_c - minima[not held.used]}
    if held.fahrenheit:
        shown = round(convert(held.boiling_c, "degC", "degF"))
        slips["The display is set to °F. Turn its number into °C first."] = shown - held.limit_c
        limit_f = convert(held.limit_c, "degC", "degF")
        slips["That is the difference in °F. Divide it by 1.8; there is no 32 in a difference."] = (
            shown - limit_f
        )
    if held.above_c:
        slips["The size is right, but the sign is not: boiling point minus limit."] = -held.above_c
    slips["That is the boiling point. Subtract the limit from it."] = held.boiling_c
    for other in MIXING:
        if other != held.grade:
            slips[f"That is the row of {other}. This fluid is {held.grade}."] = (
                held.boiling_c - boiling_minima_c(other)[held.used]
            )
    return slips


def limits_table() -> tuple[tuple[str, ...], ...]:
    """Return the limits of every grade."""
    rows = [("Grade", "Dry, at least", "Wet, at least")]
    for grade in GRADES:
        dry, wet = boiling_minima_c(grade)
        rows.append((grade, both(dry, "°C"), both(wet, "°C")))
    return tuple(rows)


def _used(draw: Draw, fahrenheit: bool) -> Held:
    sample = draw_sample(draw.child("sample"), "hard", draw.child("old or not").integer(0, 1))
    where = f"A sample from the reservoir of the {sample.vehicle.name}, filled with {sample.grade}."
    return Held(sample.grade, True, sample.boiling_c, fahrenheit, where)


def _bottle(difficulty: Difficulty, draw: Draw, fahrenheit: bool) -> Held:
    grade = draw.child("grade").choice(MIXING)
    dry, wet = boiling_minima_c(grade)
    opened = difficulty != "easy" and draw.child("opened").uniform() < 0.5
    water = draw.child("water").between(*(_STOOD_OPEN if opened else _SEALED))
    true_c = moist_boiling_c(
        water,
        dry + draw.child("dry").between(*_BETTER_DRY_C),
        wet + draw.child("wet").between(*_BETTER_WET_C),
        wet_water_percent(),
    )
    gauge = heat_tester()
    shown = gauge.reading(gauge.indicate_clear(true_c, draw.child("tester")))
    kind = "A bottle that has stood open on the shelf" if opened else "A sealed bottle, opened just now"
    return Held(grade, False, shown, fahrenheit, f"{kind}, labelled {grade}.")
