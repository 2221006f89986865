"""What to do with a pair of pads: keep, measure again, find the cause, or replace the axle set."""

from __future__ import annotations

from typing import Any

from brakecourse.bench.draw import Draw
from brakecourse.bench.pad_cases import PadCase, draw_pad_case
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.pads import Evidence
from brakecourse.views.pad_discreet import DiscreetQuiz
from brakecourse.views.pad_view import sheet_table, wheel_picture, wheel_words
from brakecourse.views.quiz import Task
from brakecourse.views.words import mm

KEEP = "keep the pads as they are"
AGAIN = "measure again, or with a finer gauge"
CAUSE = "keep them for now, and put the cause right"
ONE_SIDE = "new pads at this wheel only"
AXLE = "new pads at both wheels of the axle"
CHOICES = (KEEP, AGAIN, CAUSE, ONE_SIDE, AXLE)
_RIGHT: dict[str, str] = {
    "keep": KEEP,
    "measure again": AGAIN,
    "find the cause": CAUSE,
    "replace": AXLE,
}
_TOPICS: dict[str, tuple[str, ...]] = {
    "below the minimum": ("worn out", "dry pins, too late", "close to the minimum"),
    "a pattern": (
        "dry pins",
        "sticking piston",
        "leading pin",
        "trailing clip",
        "rusty clips",
        "loose bracket",
        "ridge",
    ),
    "nothing to find": ("sound",),
    "a doubt": ("close in shape",),
}


class WhatNext(DiscreetQuiz):
    """Decide what happens to the pads, and why.

    Args:
        name, seed, session: as for every quiz.
    """

    title = "What next?"
    task = "Hold the readings against the limits, choose what you would do, and press Check."
    lesson = "07_pad_wear"
    topics = tuple(_TOPICS)

    def __init__(self, name: str = "what-next", **more: Any) -> None:
        super().__init__(name, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        situation = draw.child("situation").choice(_TOPICS[topic])
        case = draw_pad_case(draw.child("case").integer(0, 10**9), situation, difficulty)
        return next_task(topic, case)

    def picture(self) -> str:
        return wheel_picture(self.asked.case, self.uid)


def next_task(topic: str, case: PadCase) -> Task:
    """Return the question what to do with some pads."""
    return Task(
        topic,
        f"{wheel_words(case)} What would you do?",
        CHOICES,
        _RIGHT[case.finding.action],
        {one: next_reason(case, one) for one in CHOICES},
        sheet_table(case),
        case,
    )


def next_reason(case: PadCase, chosen: str) -> str:
    """Return why an action is right or wrong for these pads, from their readings.

    Args:
        case: the pads.
        chosen: one of ``CHOICES``.
    """
    action = case.finding.action
    thin = _worst(case, "thickness")
    if action == "replace":
        if chosen == ONE_SIDE:
            return (
                "Pads are an axle set. With new pads on one side only the vehicle pulls, because old and new "
                "pads hold differently. Renew both wheels."
            )
        if chosen == AGAIN and thin.decision.verdict == "too close to call":
            return f"{thin.words} A finer gauge may prove it good. Until one has, it counts as not proven."
        best = max(*case.inner.corners_mm, *case.outer.corners_mm)
        tail = (
            "Both wheels of the axle get new pads."
            if chosen == AXLE
            else (f"The best corner, {mm(best, 1)}, does not help: the thinnest one decides.")
        )
        also = (
            " Put the cause right as well."
            if chosen == AXLE
            and case.finding.patterns[0]
            not in (
                "even",
                "too close to call",
            )
            else ""
        )
        return f"{thin.words} Whoever keeps a lining must prove it good. {tail}{also}"
    if chosen in (ONE_SIDE, AXLE):
        tail = " And one wheel alone is never right: pads are an axle set." if chosen == ONE_SIDE else ""
        return f"Nothing asks for new pads yet. {thin.words}{tail}"
    shape = _worst(case, "shape")
    if action == "find the cause":
        if chosen == CAUSE:
            return f"{shape.words} The linings are thick enough. The cause goes on until it is put right."
        return f"{shape.words} A pattern does not go away by itself: find the part behind it."
    if action == "measure again":
        if chosen == AGAIN:
            return f"{shape.words} No pattern is proven, and none is ruled out."
        return f"{shape.words} You would decide on what the gauge cannot tell."
    if chosen == KEEP:
        return f"Every check keeps its limit by more than the guard band. The tightest of them: {shape.words}"
    return (
        f"Every check is within its limit, by more than the guard band. The tightest of them: {shape.words}"
    )


def _worst(case: PadCase, what: str) -> Evidence:
    """Return the check of the thickness, or of the shape, that is worst for its limit."""
    checks = [one for one in case.finding.evidence if (one.check == "thickness") == (what == "thickness")]
    return min(checks, key=lambda one: one.decision.margin / one.decision.guard_band)
