"""What the corners say: the smallest lining, the tapers, the difference, and how far the pads still go."""

from __future__ import annotations

from typing import Any, Literal

from brakecourse.bench.draw import Draw
from brakecourse.bench.pad_cases import PadCase, draw_pad_case
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.pads import (
    PadReading,
    mean_lining_mm,
    pair_difference_mm,
    smallest_lining_mm,
    taper_mm,
)
from brakecourse.views.pad_replies import (
    distance_reply,
    interval_words,
    life_of,
    pair_reply,
    smallest_reply,
    taper_reply,
)
from brakecourse.views.pad_view import Which, readings_table, wheel_picture, wheel_words
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.words import mm, number

SMALLEST, LENGTH, HEIGHT, PAIR = (
    "smallest lining",
    "taper lengthwise",
    "taper in height",
    "difference of the pads",
)
LIFE = "distance left"

Along = Literal["length", "height"]

_SITUATIONS = {
    SMALLEST: ("dry pins", "leading pin", "trailing pin", "rusty clips", "loose bracket"),
    LENGTH: ("leading pin", "trailing pin", "leading clip", "trailing clip", "seized pin"),
    HEIGHT: ("loose bracket",),
    PAIR: ("dry pins", "rusty clips", "sticking piston", "seized pin"),
    LIFE: ("sound", "dry pins", "leading pin", "rusty clips", "trailing clip"),
}


class _PadNumbers(Quiz):
    """Numbers from the readings of both pads."""

    lesson = "07_pad_wear"

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        situation = draw.child("situation").choice(_SITUATIONS[topic])
        case = draw_pad_case(draw.child("case").integer(0, 10**9), situation, difficulty)
        return number_task(topic, case)

    def picture(self) -> str:
        return wheel_picture(self.asked.case, self.uid)


class CornerSums(_PadNumbers):
    """Smallest lining, tapers, difference of the two pads.

    Args:
        name, seed, session: as for every quiz.
    """

    title = "What the corners say"
    task = "Work out the asked number from the eight readings, and press Check."
    topics = (SMALLEST, LENGTH, HEIGHT, PAIR)

    def __init__(self, name: str = "corner-sums", **more: Any) -> None:
        super().__init__(name, **more)


class DistanceLeft(_PadNumbers):
    """How far the pads still go before the thinnest corner reaches the minimum.

    Args:
        name, seed, session: as for every quiz.
    """

    title = "How far do these pads still go?"
    task = "Work out the distance from the thinnest corner, and press Check. The calculator above may help."
    topics = (LIFE,)

    def __init__(self, name: str = "distance-left", **more: Any) -> None:
        super().__init__(name, **more)


def number_task(topic: str, case: PadCase) -> NumberTask:
    """Return the question of a topic for some pads."""
    if topic == SMALLEST:
        return _task(
            topic, case, "Which lining counts against the minimum?", "Smallest lining", _smallest(case)
        )
    if topic == PAIR:
        return _task(
            topic,
            case,
            "By how much do the means of the two pads differ?",
            "Difference of the means",
            f"{mm(pair_difference_mm(case.inner, case.outer))}: the means are "
            f"{number(mean_lining_mm(case.inner))} and {number(mean_lining_mm(case.outer))} mm.",
        )
    if topic == LIFE:
        return _distance_task(case)
    along: Along = "length" if topic == LENGTH else "height"
    which = tapered(case, along)
    pad = _pad(case, which)
    way = "lengthwise" if along == "length" else "in height"
    return NumberTask(
        topic,
        f"{wheel_words(case)} What is the taper {way} of the {which}?",
        f"Taper {way}, {which}",
        "mm wear",
        lambda answer: taper_reply(answer, pad, along),
        f"{mm(taper_mm(pad, along), 1)}: the larger of the two differences.",
        tuple(readings_table(case)),
        case,
    )


def tapered(case: PadCase, along: Along) -> Which:
    """Return the pad with the larger taper."""
    inner, outer = (taper_mm(pad, along) for pad in (case.inner, case.outer))
    return "inner pad" if inner >= outer else "outer pad"


def thinner(case: PadCase) -> Which:
    """Return the pad with the thinnest corner."""
    return "inner pad" if smallest_lining_mm(case.inner) <= smallest_lining_mm(case.outer) else "outer pad"


def _pad(case: PadCase, which: Which) -> PadReading:
    return case.inner if which == "inner pad" else case.outer


def _smallest(case: PadCase) -> str:
    least = min(smallest_lining_mm(case.inner), smallest_lining_mm(case.outer))
    return f"{mm(least, 1)}, the thinnest of the eight corners."


def _task(topic: str, case: PadCase, asked: str, label: str, answer: str) -> NumberTask:
    rule = smallest_reply if topic == SMALLEST else pair_reply
    question = f"{wheel_words(case)} {asked}"
    table = tuple(readings_table(case))
    return NumberTask(topic, question, label, "mm wear", lambda typed: rule(typed, case), answer, table, case)


def _distance_task(case: PadCase) -> NumberTask:
    which, spec = thinner(case), case.brake.pad
    life = life_of(case, which)
    table = (
        *readings_table(case),
        ("Lining when new", mm(spec.lining_new_mm, 1), mm(spec.lining_new_mm, 1)),
        ("Least lining", mm(spec.minimum_mm, 1), mm(spec.minimum_mm, 1)),
    )
    return NumberTask(
        LIFE,
        f"{wheel_words(case)} How far until the thinnest corner reaches the minimum?",
        "Distance left",
        "km",
        lambda answer: distance_reply(answer, case, which),
        interval_words(life),
        table,
        case,
    )
