"""The base of every board on which steps are put in order, one by one or all at once."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from html import escape
from typing import ClassVar

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.views.activity import Activity
from brakecourse.views.adapt import LET_THE_COURSE_CHOOSE, RULE, next_topic, why
from brakecourse.views.board_controls import (
    ALL_AT_ONCE,
    ONE_BY_ONE,
    OPENINGS,
    BoardOffers,
    CardList,
    step_cards,
)
from brakecourse.views.board_rules import (
    Board,
    Fault,
    check_words,
    faults_of_next,
    marks_of,
    right_order,
    start_order,
    wrong_words,
)
from brakecourse.views.card_drag import CardDrag
from brakecourse.views.controls import button, row
from brakecourse.views.drawings.step_cards import step_cards_svg
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import streak_words

__all__ = ["ALL_AT_ONCE", "ONE_BY_ONE", "Board", "Fault", "SequenceBoard"]


class SequenceBoard(Activity):
    """Steps to put in order: from the keyboard, or with the mouse on the picture.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first board.
        session: fixes the boards after it, for tests; by default every session has others.
        progress, lesson: as for :class:`Activity`.

    A subclass sets ``title``, ``task``, ``lesson`` and ``topics`` (one or more, in the learner's words) and
    gives ``draw_board``. ``ways`` and ``difficulties`` may be shortened or made longer; a control with one
    choice is left out. ``picture`` may draw something else than cards (``self.order``, ``self.waiting``,
    ``self.card``, ``self.marks``): whatever carries ``data-card`` there answers the mouse. Each board counts
    once: right when no move was wrong, or when the first check was right.
    """

    topics: ClassVar[tuple[str, ...]] = ()
    ways: ClassVar[tuple[str, ...]] = (ONE_BY_ONE, ALL_AT_ONCE)
    difficulties: ClassVar[tuple[str, ...]] = ("usual",)

    def __init__(
        self,
        name: str | None = None,
        seed: int = 1,
        session: int | None = None,
        progress: Progress | None = None,
        lesson: str | None = None,
    ) -> None:
        if not self.topics:
            raise ValueError(f"{type(self).__name__} needs at least one topic.")
        self.number = self.streak = 0
        self._counted: set[int] = set()  # the boards that have been counted
        self._session = Draw(secrets.randbits(64) if session is None else session)
        self.begins = "usual" if "usual" in self.difficulties else self.difficulties[0]
        self._lay_out(self.topics[0], self.begins, self.ways[0], Draw(seed).child("first board"))
        super().__init__(name, progress, lesson)
        self.children = [*self.children, CardDrag(self.dropped)]

    # What a subclass gives.

    def draw_board(self, topic: str, difficulty: str, draw: Draw) -> Board:
        """Return a board of a topic: its cards and rules, drawn with ``draw`` and nothing else of chance."""
        raise NotImplementedError

    @property
    def one_by_one(self) -> bool:
        """Whether each next step is chosen; else all cards lie there to be sorted."""
        return self._way == ONE_BY_ONE

    @property
    def done(self) -> bool:
        """Whether every card lies in a right order."""
        return not self.waiting and not self.board.judge(tuple(self.order))

    @property
    def card(self) -> str | None:
        """The id of the card that is chosen in the list."""
        return self.list.cards.value

    def _lay_out(self, topic: str, difficulty: str, way: str, draw: Draw) -> None:
        self.board = self.draw_board(topic, difficulty, draw.child("board"))
        self._way = way
        start = start_order(self.board, draw)
        self.order, self.waiting = ([], start) if way == ONE_BY_ONE else (start, [])
        self.marks: dict[str, str] = {}

    # The controls.

    def controls(self) -> Sequence[widgets.Widget]:
        self.offers = BoardOffers(self.topics, self.difficulties, self.begins, self.ways, self.new_board)
        return self.offers.widgets

    def answers(self) -> Sequence[widgets.Widget]:
        self.list = CardList(self.refresh)
        self._add = [button("Do this next", self.add)]
        self._sort = [
            button("Move up", lambda: self.move(-1)),
            button("Move down", lambda: self.move(1)),
            button("Check the order", self.check),
        ]
        self._next = widgets.HTML()
        self._show_cards()
        return (
            self.list,
            row(button("New board", self.new_board), button("Show a right order", self.show_order)),
            self._next,
        )

    def _show_cards(self, chosen: str | None = None) -> None:
        steps = self.board.steps
        if self.one_by_one:
            waiting = [(steps[one], one) for one in self.waiting]
            self.list.fill("What comes next?", waiting, chosen, self._add)
        else:
            sorted_ = [(f"{place}. {steps[one]}", one) for place, one in enumerate(self.order, 1)]
            self.list.fill("Which card?", sorted_, chosen, self._sort)
        self._tell_next()

    # What the learner does.

    def add(self) -> None:
        """Do the chosen card next: it joins the order, or stays and the reason is told."""
        card = self.card
        if card is None:
            self.say("The board is finished: press New board for another.")
            return
        wrong = faults_of_next(self.board, self.order, card)
        if wrong:
            self._say_wrong(wrong_words(wrong))
            return
        place = self.waiting.index(card)
        self.waiting.remove(card)
        self.order.append(card)
        self._show_cards(self.waiting[min(place, len(self.waiting) - 1)] if self.waiting else None)
        self._say_right(self.board.notes.get(card, ""))
        self.refresh()

    def move(self, by: int) -> None:
        """Move the chosen card up (-1) or down (1) by one place."""
        if self.card is not None:
            place = self.order.index(self.card)
            self._place(self.card, max(0, min(len(self.order) - 1, place + by)))

    def check(self) -> None:
        """Reply to the order of all cards, and mark those that come too early."""
        wrong = self.board.judge(tuple(self.order))
        self.marks = marks_of(wrong)
        if wrong:
            self._say_wrong(check_words(wrong))
        else:
            self._say_right()
        self.refresh()

    def dropped(self, card: str, onto: str) -> None:
        """Take what the mouse did: a card was dropped onto another, or clicked (dropped onto itself)."""
        if card not in (self.waiting if self.one_by_one else self.order):
            return
        self.list.cards.value = card
        if self.one_by_one and (onto == card or onto in self.order):
            self.add()
        elif not self.one_by_one and onto != card and onto in self.order:
            self._place(card, self.order.index(onto))

    def show_order(self) -> None:
        """Lay a right order. A board that was not counted before counts as not right."""
        self.streak = self.streak if self.number in self._counted else 0
        told = self._count(right=False)
        self.order, self.waiting, self.marks = list(right_order(self.board)), [], {}
        self._show_cards()
        self.say("This is a right order; there may be others.", told)
        self.refresh()

    def new_board(self, *_: object) -> None:
        """Draw another board: of the chosen topic, or of the one that the record asks for."""
        self.number += 1
        draw = self._session.child(f"board {self.number}")
        chosen = self.offers.topic.value
        topic = next_topic(self.results, draw) if chosen == LET_THE_COURSE_CHOOSE else chosen
        self._lay_out(topic, self.offers.difficulty.value, self.offers.way.value, draw)
        self._show_cards()
        self.say(self.opening())
        self.refresh()

    def _place(self, card: str, place: int) -> None:
        self.order.remove(card)
        self.order.insert(place, card)
        self.marks = {}
        self._show_cards(card)
        self.say(f"It is step {place + 1} of {len(self.order)} now.")
        self.refresh()

    # What the board says.

    def picture(self) -> str:
        cards = step_cards(self.board.steps, self.order, self.waiting, self.card, self.marks)
        return step_cards_svg(cards, uid=self.uid, title=self.title)

    def words(self) -> str:
        about = f"{self.board.topic[0].upper()}{self.board.topic[1:]}"
        if not self.waiting:
            return f"{about}: {len(self.order)} steps lie in a row."
        return f"{about}: {len(self.order)} of {len(self.board.steps)} steps are in order."

    def opening(self) -> str:
        return OPENINGS[self._way]

    def _say_wrong(self, words: str) -> None:
        self.streak = 0
        self.say(words, self._count(right=False))

    def _say_right(self, note: str = "") -> None:
        if not self.done:
            self.say("Right.", note)
            return
        clean = self.number not in self._counted
        self.streak += int(clean)
        told = self._count(right=True)
        praise = f"Right: every step is in a safe order. {self.board.praise}".strip()
        self.say(praise, streak_words(self.streak) if clean else "", told)

    def _count(self, *, right: bool) -> str:
        if self.number in self._counted:
            return ""
        self._counted.add(self.number)
        told = self.count(self.number, right=right, topic=self.board.topic)
        self._tell_next()
        return told

    @property
    def results(self) -> dict[str, tuple[bool, ...]]:
        """The latest results of each topic, empty for one not tried yet."""
        kept = self._record.topics(self.counts_for)
        return {topic: kept.get(topic, ()) for topic in self.topics}

    def _tell_next(self) -> None:
        if len(self.topics) > 1:
            chosen = self.offers.topic.value
            words = f"Next: {chosen}, as you chose."
            if chosen == LET_THE_COURSE_CHOOSE:
                words = f"{why(self.results)} {RULE}"
            self._next.value = f'<p class="bc-caption">{escape(words)}</p>'
