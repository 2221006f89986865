"""The controls of a board of steps: what is on offer above it, the list of cards and its buttons below."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from html import escape
from typing import Any

import ipywidgets as widgets

from brakecourse.views.adapt import LET_THE_COURSE_CHOOSE
from brakecourse.views.controls import choice, dropdown, row
from brakecourse.views.drawings.step_cards import StepCard

ONE_BY_ONE = "choose each next step"
ALL_AT_ONCE = "sort all cards, then check"
OPENINGS = {
    ONE_BY_ONE: "Choose the first step. A wrong one stays, and you are told why.",
    ALL_AT_ONCE: "Move the cards until the order is right, then press Check the order.",
}
"""What a board says first, by the way to work."""
FINISHED = "The board is finished. Press New board for another."


class BoardOffers:
    """Which part, how hard, and which way to work. What offers one choice only is not shown.

    Args:
        changed: called when the learner chooses another.
    """

    def __init__(
        self,
        topics: Sequence[str],
        difficulties: Sequence[str],
        difficulty: str,
        ways: Sequence[str],
        changed: Callable[[Any], object],
    ) -> None:
        self.topic = dropdown("Which part?", (LET_THE_COURSE_CHOOSE, *topics), LET_THE_COURSE_CHOOSE)
        self.difficulty = choice("How hard?", difficulties, difficulty)
        self.way = choice("How to work", ways, ways[0])
        offered = (self.topic, topics), (self.difficulty, difficulties), (self.way, ways)
        shown = [control for control, choices in offered if len(choices) > 1]
        for control, _ in offered:
            control.observe(changed, "value")
        self.widgets: tuple[widgets.Widget, ...] = (row(*shown),) if shown else ()


class CardList(widgets.VBox):
    """A list to choose a card from, with the buttons that act on it.

    Args:
        chosen: called when the learner chooses another card; not when the list itself is filled anew.
    """

    def __init__(self, chosen: Callable[[], object]) -> None:
        self._filling = False
        self.cards = widgets.Select(
            style={"description_width": "auto"},
            layout={  # the label on top
                "width": "100%",
                "max_width": "640px",
                "flex_flow": "column",
                "align_items": "stretch",
            },
        )
        self.cards.observe(lambda _: None if self._filling else chosen(), "value")
        self._buttons = row()
        self._finished = widgets.HTML(f'<p class="bc-caption">{escape(FINISHED)}</p>')
        super().__init__([self.cards, self._buttons])

    def fill(
        self,
        label: str,
        cards: Sequence[tuple[str, str]],
        chosen: str | None,
        buttons: Sequence[widgets.Button],
    ) -> None:
        """Show some cards, each with its words and id, and the buttons that go with them.

        Without a card nothing is left to do: a word says so in the place of the buttons.
        """
        ids = [card for _, card in cards]
        self._filling = True
        try:
            with self.cards.hold_sync():
                self.cards.description = self.cards.tooltip = label
                self.cards.options = list(cards)
                self.cards.rows = max(2, min(10, len(cards)))
                self.cards.layout.display = None if cards else "none"
                self.cards.value = chosen if chosen in ids else next(iter(ids), None)
        finally:
            self._filling = False
        self._buttons.children = list(buttons) if cards else [self._finished]


def step_cards(
    steps: Mapping[str, str],
    order: Sequence[str],
    waiting: Sequence[str],
    chosen: str | None,
    marks: Mapping[str, str],
) -> list[StepCard]:
    """Return a board's cards to draw: the laid ones with places and marks, then the waiting ones."""
    laid = [
        StepCard(one, steps[one], place, one == chosen, marks.get(one, ""))
        for place, one in enumerate(order, 1)
    ]
    return [*laid, *(StepCard(one, steps[one], None, one == chosen) for one in waiting)]
