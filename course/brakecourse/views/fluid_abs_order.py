"""Renew the fluid so that nothing old, dirty or airy gets into the ABS unit: steps to put in order."""

from __future__ import annotations

from typing import Any

from brakecourse.bench.draw import Draw
from brakecourse.views.board_rules import Board, Fault
from brakecourse.views.fluid_samples import LESSON
from brakecourse.views.sequence_board import SequenceBoard

PART = "renew the fluid"

STEPS: dict[str, str] = {
    "look_up": "Look up the order of the bleeders, and whether the ABS unit needs a procedure of its own",
    "suck": "Draw the old fluid out of the reservoir with a clean syringe, and wipe the reservoir",
    "fill": "Fill the reservoir with fresh fluid from a sealed bottle",
    "hose": "Push the clear hose onto the first bleeder, its end under fluid in the bottle",
    "open": "Open the bleeder; a helper presses the pedal slowly, half the way down",
    "shut": "Shut the bleeder while the pedal is still held down",
    "up": "Let the pedal come up slowly",
    "top_up": "Top the reservoir up, long before it is at MIN",
    "others": "Do the same at the other wheels, in the maker's order",
    "firm": "Prove the pedal firm, look for wet places, and set the level at MAX",
}
"""The cards, in a right order. Common practice, no source; the maker's procedure comes first."""

# What must come before what, why, and whether a slip can hurt someone.
_RULES: tuple[tuple[str, str, str, bool], ...] = (
    ("look_up", "suck", "The book may ask for another way: some ABS units are bled with a tool.", False),
    ("look_up", "hose", "The order of the bleeders differs from vehicle to vehicle.", False),
    ("suck", "fill", "Old fluid and the dirt in it would spoil the fresh fluid.", False),
    (
        "fill",
        "open",
        "What stands in the reservoir goes through the ABS unit next: fresh fluid, or dirt and air.",
        True,
    ),
    ("hose", "open", "Without the hose fluid runs out over caliper, floor and skin.", True),
    ("open", "shut", "A bleeder that was not open lets nothing out.", False),
    ("shut", "up", "With the bleeder open, the pedal that comes up draws air back in.", True),
    (
        "up",
        "top_up",
        "The pump draws its fluid from the reservoir as the pedal comes up. See then what is left.",
        False,
    ),
    (
        "top_up",
        "others",
        "An empty reservoir sends air into the ABS unit, and there it is hard to get out again.",
        True,
    ),
    ("others", "firm", "Old fluid still stands in the lines of the other wheels.", True),
)


def _before() -> dict[str, dict[str, tuple[str, bool]]]:
    """Return for each card what must come before it, also by way of other cards."""
    found: dict[str, dict[str, tuple[str, bool]]] = {step: {} for step in STEPS}
    for step in STEPS:  # the cards stand in a right order, so what comes before is complete already
        for first, after, reason, danger in _RULES:
            if after == step:
                found[step][first] = (reason, danger)
                for earlier, told in found[first].items():
                    found[step].setdefault(earlier, told)
    return found


_BEFORE = _before()


def faults(order: tuple[str, ...]) -> list[Fault]:
    """Return everything that is wrong with an order; the nearest and the most dangerous reason first."""
    place = {step: number for number, step in enumerate(order)}
    broken = []
    for step in order:
        for first, (reason, danger) in _BEFORE[step].items():
            if first in place and place[first] > place[step]:
                words = f"“{_short(step)}” comes too early. First: “{_short(first)}”. {reason}"
                broken.append(Fault(step, words, danger, first))
    return sorted(broken, key=lambda fault: (not fault.dangerous, list(STEPS).index(fault.first)))


def _short(step: str) -> str:
    return STEPS[step].split(";")[0].split(",")[0]


class FluidOrder(SequenceBoard):
    """The steps from the old fluid to a firm pedal on the new.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first board.
    """

    title = "New fluid, and nothing but fluid, through the ABS unit"
    task = "Choose each next step in the list, or click its card. Or sort all cards first, then check them."
    lesson = LESSON
    topics = (PART,)

    def __init__(self, name: str = "fluid-order", seed: int = 1, **more: Any) -> None:
        super().__init__(name, seed, **more)

    def draw_board(self, topic: str, difficulty: str, draw: Draw) -> Board:
        praise = "Only fresh fluid went through the ABS unit, and no air."
        return Board(topic, STEPS, faults, praise, {}, tuple(STEPS))
