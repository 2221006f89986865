"""Look at hose, boots and bore, and decide what may stay."""

from __future__ import annotations

from typing import Any

from brakecourse.bench.draw import Draw
from brakecourse.bench.hose_cases import HoseCase, draw_hose_case
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings.boots_card import boots_card_svg
from brakecourse.views.drawings.hose_card import hose_card_svg
from brakecourse.views.hose_reasons import (
    BOOTS,
    CHOICES,
    HOSE,
    PART_OF,
    TOPICS,
    reasons,
    right_choice,
    torque_words,
)
from brakecourse.views.quiz import Quiz, Task
from brakecourse.views.retract_bench import LESSON
from brakecourse.views.units import both

_QUESTION = {
    HOSE: "Look at the hose and at what the wheel did. What do you do with the hose?",
    BOOTS: "Look at the boots. What do you do?",
}
_BORE_QUESTION = "Look for wet places and at how hard the piston goes back. What do you do?"


class HoseCheck(Quiz):
    """Hoses, boots and bores of the motor pool, drawn from what is true of them.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first case.
    """

    title = "May it stay?"
    task = "Look at the picture and at the table. Choose what you do, and press Check."
    lesson = LESSON
    topics = TOPICS

    def __init__(self, name: str = "may-it-stay", seed: int = 4, **more: Any) -> None:
        super().__init__(name, seed, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        return look_task(topic, draw_hose_case(PART_OF[topic], difficulty, draw.child("case")), draw)

    def picture(self) -> str:
        return look_svg(self.asked.case, uid=self.uid)


def look_task(topic: str, case: HoseCase, draw: Draw) -> Task:
    """Return a question about a wheel.

    Args:
        topic: one of :data:`brakecourse.views.hose_reasons.TOPICS`.
        case: the wheel.
        draw: chance, for the order of the choices.
    """
    vehicle = case.vehicle.vehicle
    where = f"This is the {vehicle.name} ({vehicle.fleet_number}), {case.wheel} wheel."
    return Task(
        topic,
        f"{where} {_QUESTION.get(topic, _BORE_QUESTION)}",
        tuple(draw.child("order").shuffled(CHOICES[topic])),
        right_choice(topic, case),
        reasons(topic, case),
        _found(topic, case),
        case,
    )


def look_svg(case: HoseCase, *, uid: str) -> str:
    """Draw what there is to see."""
    there = case.there
    fitting = "fitting at the caliper" in there.wet_places
    if case.part == "hose":
        return hose_card_svg(
            case.skin, uid=uid, wet="hose" in there.wet_places, wet_fitting=fitting, title="May it stay?"
        )
    return boots_card_svg(
        uid=uid,
        piston_torn=there.caliper.piston_boot_torn,
        pin_torn=there.caliper.pin_boot_torn,
        pins=there.caliper.pin_slide_n is not None,
        wet="caliper piston's boot" in there.wet_places,
        wet_fitting=fitting,
        title="May it stay?",
    )


def _found(topic: str, case: HoseCase) -> tuple[tuple[str, ...], ...]:
    here, partner = case.there, case.partner
    head = ("What was found", "This wheel", "The axle's other wheel")
    if topic == HOSE:
        rows = [
            ("Torque that turns the wheel, as found", here.drag.torque_nm, partner.drag.torque_nm),
            (
                "The same, fitting above the hose open",
                here.drag.fitting_opened_nm,
                partner.drag.fitting_opened_nm,
            ),
            ("The same, bleeder open", here.drag.bleeder_opened_nm, partner.drag.bleeder_opened_nm),
        ]
        return (head, *((name, torque_words(one), torque_words(two)) for name, one, two in rows))
    push = (
        "Force that pushes the pistons back, bleeder open",
        both(here.caliper.piston_push_back_n, "N"),
        both(partner.caliper.piston_push_back_n, "N"),
    )
    if topic != BOOTS or here.caliper.pin_slide_n is None:
        return (head, push)
    slides = (
        "Force that slides each pin",
        *(
            " and ".join(both(one, "N") for one in wheel.caliper.pin_slide_n or ())
            for wheel in (here, partner)
        ),
    )
    return (head, push, slides)
