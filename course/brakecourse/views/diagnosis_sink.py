"""A held pedal and a stopwatch: how fast it sinks, and how much fluid leaves."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.controls import NumberPair
from brakecourse.views.diagnosis_pedal_cases import (
    RULE_LINE_MM,
    SinkingPedal,
    pedal_facts,
    sinking_pedal,
    volume_mistakes,
    whose,
)
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

SINK, LEAK = "how fast it sinks", "how much fluid leaves"


class PedalSink(Quiz):
    """Let the stopwatch run, read the rule at its start and its end, and work it out.

    Args:
        name, seed, session: as for every quiz.
    """

    title = "A pedal that sinks"
    task = "Run the stopwatch. Read the rule at the start and at the end, work out the number, press Check."
    lesson = "05_leaks_and_pedal_feel"
    topics = (SINK, LEAK)
    first_difficulty = "easier"

    def __init__(self, name: str = "pedal-sink", **more: Any) -> None:
        super().__init__(name, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return sink_task(topic, sinking_pedal(draw, difficulty))

    def controls(self) -> Sequence[widgets.Widget]:
        self.time = NumberPair("Stopwatch, in seconds", 0, 0, self.asked.case.hold_s, 1)
        self.time.on_change(self.refresh)
        return (*super().controls(), self.time)

    def new_case(self, *change: object) -> None:
        super().new_case(*change)
        longest = self.asked.case.hold_s
        self.time.value = 0
        self.time.slider.max = self.time.box.max = longest

    def picture(self) -> str:
        case: SinkingPedal = self.asked.case
        return case.picture(min(float(self.time.value), case.hold_s), self.uid)


def sink_task(topic: str, pedal: SinkingPedal) -> NumberTask:
    """Return the question of a topic for a pedal."""
    question = f"{whose(pedal.case)} It holds the pedal for {pedal.hold_s} s."
    facts = tuple(pedal_facts(pedal.case.vehicle))
    if topic == SINK:
        return NumberTask(
            topic,
            f"{question} How far does the pedal sink in a whole minute?",
            "Sinking in one minute",
            "mm travel",
            lambda typed: sink_reply(typed, pedal),
            f"{mm(pedal.sink_mm_per_min, 0)} a minute. {how_sunk(pedal)}",
            facts,
            pedal,
        )
    return NumberTask(
        topic,
        f"{question} How much fluid leaves in a minute?",
        "Fluid that leaves",
        "mL/min",
        lambda typed: leak_reply(typed, pedal),
        f"{both(pedal.leak_ml_per_min, 'mL/min', 2)}. {how_leaked(pedal)}",
        facts,
        pedal,
    )


def how_sunk(pedal: SinkingPedal) -> str:
    """Tell how the sinking comes about."""
    first, last = pedal.read_mm
    told = f"The rule goes from {first} to {last} mm in {pedal.hold_s} s"
    return f"{told}." if pedal.hold_s == 60 else f"{told}: ({last} − {first}) ÷ {pedal.hold_s} × 60."


def how_leaked(pedal: SinkingPedal) -> str:
    """Tell how the leak comes about."""
    system = pedal.case.vehicle.hydraulics
    return (
        f"{how_sunk(pedal)} That is {number(pedal.sink_mm_per_min, 1)} mm a minute at the foot: divide by "
        f"the pedal ratio {system.pedal_ratio:g}, and multiply by the area of a bore of "
        f"{mm(system.master_bore_mm, 1)}."
    )


def _slack_mm_per_min(pedal: SinkingPedal) -> float:
    """One line of the rule more or less, over the time of the hold."""
    return RULE_LINE_MM * 60 / pedal.hold_s + 0.1


def _in_the_hold(told: str, value: float, pedal: SinkingPedal) -> dict[str, float]:
    """The mistake of taking the hold for a minute; none where the hold lasts a minute."""
    if pedal.hold_s == 60:
        return {}
    return {f"{told} in {pedal.hold_s} s. Work it out for 60 s.": value}


def sink_reply(typed: float, pedal: SinkingPedal) -> Reply:
    """Judge the sinking in mm a minute."""
    first, last = pedal.read_mm
    return number_reply(
        typed,
        pedal.sink_mm_per_min,
        _in_the_hold("That is how far it sank", last - first, pedal)
        | {
            "That is where the pedal stood at the end. Subtract where it stood at the start.": last,
            "That is where the pedal stood at the start. How much further did it go?": first,
        },
        unit="mm",
        tolerance=_slack_mm_per_min(pedal),
        because=how_sunk(pedal),
        hint="Read the rule at the start and at the end of the hold again; the large rule shows every line.",
        places=0,
    )


def leak_reply(typed: float, pedal: SinkingPedal) -> Reply:
    """Judge the leak in mL a minute."""
    system = pedal.case.vehicle.hydraulics
    right = pedal.leak_ml_per_min
    share = _slack_mm_per_min(pedal) / pedal.sink_mm_per_min
    mistakes = (
        _in_the_hold("That is what left", right * pedal.hold_s / 60, pedal)
        | volume_mistakes(right, system.pedal_ratio)
        | {"You divided by the pedal ratio twice.": right / system.pedal_ratio}
    )
    return number_reply(
        typed,
        right,
        mistakes,
        unit="mL/min",
        tolerance=right * share,
        because=how_leaked(pedal),
        hint="Sinking of the foot in a minute, divided by the pedal ratio, times the bore's area.",
        places=2,
    )
