"""Read a pressure gauge on the lines, and say whether what it shows fits the push."""

from __future__ import annotations

from typing import Any, NamedTuple

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.fluid_gauges import PressureGauge, pressure_gauge
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade import hydraulics
from brakecourse.views.drawings import pressure_gauge_svg
from brakecourse.views.force_chain import follow
from brakecourse.views.force_replies import pressure_answer, snapped
from brakecourse.views.force_tables import pedal_facts
from brakecourse.views.quiz import NumberTask, Quiz, Task
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both

READ, FITS = "reading the gauge", "does it fit the push?"
AS_IT_SHOULD = "It fits: the pedal, the booster and the master cylinder do their work."
NO_HELP = "Too low: the booster adds nothing."
TOO_HIGH = "Too high: the gauge shows more than this push can make."
FULL_MPA = 16.0
NEAR_RING = 0.04  # how near a number read between two lines of the inner ring comes, as a share of it
_FEET = {"easy": (150, 300), "normal": (80, 350), "hard": (60, 400)}
_SHARES = {AS_IT_SHOULD: 0.4, NO_HELP: 0.35, TOO_HIGH: 0.25}
_TOO_HIGH_TIMES = {"easy": 1.8, "normal": 1.5, "hard": 1.3}


class Shown(NamedTuple):
    """What the picture of a case needs."""

    indication_mpa: float
    gauge: PressureGauge


class ReadPressure(Quiz):
    """A pressure gauge screwed in at the master cylinder while a helper holds the pedal."""

    title = "Read the pressure gauge"
    task = "The gauge is in the lines, and the pedal is held. The outer ring is in MPa, the inner one in psi."
    lesson = "04_pedal_to_pad"
    topics = (READ, FITS)

    def __init__(self, name: str = "read-pressure", seed: int = 13, **more: Any) -> None:
        super().__init__(name, seed, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task | NumberTask:
        vehicle = draw.choice(tuple(motor_pool().values()))
        low, high = _FEET[difficulty]
        foot = 10.0 * draw.integer(low // 10, high // 10)
        gauge = pressure_gauge(FULL_MPA)
        true = follow(vehicle, foot).line_mpa
        if topic == READ:
            return _reading(vehicle, foot, Shown(gauge.indicate_clear(true, draw), gauge))
        return _fits(vehicle, foot, true, difficulty, gauge, draw)

    def picture(self) -> str:
        return pressure_gauge_svg(self.asked.case.indication_mpa, full_mpa=FULL_MPA, uid=self.uid)


def reading_reply(answer_mpa: float, shown: Shown) -> Reply:
    """Judge what was read off the gauge, in MPa."""
    right = shown.gauge.reading(shown.indication_mpa)
    wrong = shown.gauge.misreadings(shown.indication_mpa)
    mistakes = {
        "That is read on the inner ring: it is in psi. Read the outer ring for MPa.": wrong["psi_for_mpa"],
        "You counted each line as a tenth. There are ten lines from one number to the next, and the numbers "
        "go in twos: one line is 0.2 MPa.": wrong.get("line_step", -1.0),
        "Your decimal point slipped by one place.": 10 * right,
    }
    return number_reply(
        answer_mpa,
        right,
        snapped(answer_mpa, mistakes, NEAR_RING),
        unit="MPa",
        tolerance=shown.gauge.scale.line / 2,
        because="Each line of the outer ring is 0.2 MPa (29 psi).",
        hint="Find the number before the needle on the outer ring, then count the lines: each is 0.2 MPa.",
    )


def _reading(vehicle: Vehicle, foot: float, shown: Shown) -> NumberTask:
    right = shown.gauge.reading(shown.indication_mpa)
    return NumberTask(
        READ,
        f"A helper holds the pedal of the {vehicle.name}. What pressure does the gauge show?",
        "Pressure",
        "MPa",
        lambda answer: reading_reply(answer, shown),
        f"{both(right, 'MPa')}: each line of the outer ring is 0.2 MPa (29 psi).",
        (),
        shown,
    )


def _fits(
    vehicle: Vehicle, foot: float, sound_mpa: float, difficulty: Difficulty, gauge: PressureGauge, draw: Draw
) -> Task:
    system = vehicle.hydraulics
    bare = hydraulics.line_pressure_mpa(foot, system.pedal_ratio, system.master_bore_mm)
    right = draw.weighted(_SHARES)
    true = {AS_IT_SHOULD: sound_mpa, NO_HELP: bare, TOO_HIGH: sound_mpa * _TOO_HIGH_TIMES[difficulty]}[right]
    if true > FULL_MPA:
        right, true = AS_IT_SHOULD, sound_mpa
    indication = gauge.indicate_clear(true, draw)
    seen = both(gauge.reading(indication), "MPa")
    worked = f"This push should make {pressure_answer(vehicle, foot)}"
    without = f"Without the booster it would be {both(bare, 'MPa')}."
    reasons = {
        AS_IT_SHOULD: f"{worked} The gauge shows {seen}.",
        NO_HELP: f"{worked} {without} The gauge shows {seen}.",
        TOO_HIGH: f"{worked} The gauge shows {seen}.",
    }
    if right == TOO_HIGH:
        reasons[TOO_HIGH] += (
            " A smaller master cylinder, a longer lever or a wrong gauge could do that: find out which part "
            "is not as the maker built it."
        )
    if right == NO_HELP:
        reasons[NO_HELP] += " Only the lever works. Look at the booster, its hose and its vacuum."
    return Task(
        FITS,
        f"The {vehicle.name}, the gauge at the master cylinder. Does the pressure fit this push?",
        (AS_IT_SHOULD, NO_HELP, TOO_HIGH),
        right,
        reasons,
        pedal_facts(vehicle, foot),
        Shown(indication, gauge),
    )
