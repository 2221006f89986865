"""What a board of steps is, and what is said about an order: pure functions, words out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from brakecourse.bench.draw import Draw

_TRIES = 20
DANGER = "This mistake can hurt someone."
"""Said of every wrong move against a safety-critical rule."""


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong with an order.

    Attributes:
        step: id of the card that comes too early.
        words: what is wrong and why, in one or two sentences.
        dangerous: whether the mistake can hurt someone.
        first: id of the card that must come before it; empty when the reason is not about one other card.
    """

    step: str
    words: str
    dangerous: bool = False
    first: str = ""


@dataclass(frozen=True)
class Board:
    """Steps to put in order.

    Attributes:
        topic: which of the activity's topics it is about.
        steps: the words on each card, by the card's id, in any order.
        judge: gives everything that is wrong with an order of some or all cards; nothing when it is right.
        praise: what to say when the order is right; may be empty.
        notes: by a card's id, what to say when this card was put rightly; may be empty.
        right: one right order of all cards; by default it is found by trying.
        case: whatever the activity needs to draw its picture.
    """

    topic: str
    steps: Mapping[str, str]
    judge: Callable[[tuple[str, ...]], Sequence[Fault]]
    praise: str = ""
    notes: Mapping[str, str] = field(default_factory=dict)
    right: tuple[str, ...] = ()
    case: Any = None

    def __post_init__(self) -> None:
        if len(self.steps) < 2 or len(set(self.steps.values())) < len(self.steps):
            raise ValueError(f"At least two different cards were expected, but they are {dict(self.steps)}.")
        if self.right and sorted(self.right) != sorted(self.steps):
            raise ValueError(f"The right order must hold each card once, but it is {self.right}.")


def faults_of_next(board: Board, order: Sequence[str], card: str) -> list[Fault]:
    """Return why a card may not be done next; nothing when it may.

    The order is judged with all other cards behind this one: so a card is too early also when what must come
    first has not been laid at all.
    """
    rest = [one for one in board.steps if one != card and one not in order]
    return [fault for fault in board.judge((*order, card, *rest)) if fault.step == card]


def right_order(board: Board) -> tuple[str, ...]:
    """Return a right order of all cards: the board's own, or the first one found by trying.

    Raises:
        ValueError: no card may come next at some place, so that the board cannot be solved this way.
    """
    order = list(board.right)
    while len(order) < len(board.steps):
        free = [one for one in board.steps if one not in order and not faults_of_next(board, order, one)]
        if not free:
            raise ValueError(f"No step may follow after {order}: give the board's right order with it.")
        order.append(free[0])
    return tuple(order)


def start_order(board: Board, draw: Draw) -> list[str]:
    """Draw the row in which the cards first lie: not a right one, if the board can be wrong at all."""
    cards = list(board.steps)
    for again in range(_TRIES):
        cards = draw.child(f"start {again}").shuffled(cards)
        if board.judge(tuple(cards)):
            break
    return cards


def marks_of(faults: Sequence[Fault]) -> dict[str, str]:
    """Return what to write on the cards that come too early, by their ids.

    >>> marks_of([Fault("oil", "Dry it first."), Fault("oil", "Hot oil burns.", dangerous=True)])
    {'oil': 'danger: too early'}
    """
    marks = {fault.step: "too early" for fault in faults}
    return marks | {fault.step: "danger: too early" for fault in faults if fault.dangerous}


def wrong_words(faults: Sequence[Fault]) -> str:
    """Say what is wrong with one move: the most dangerous reason of them.

    >>> wrong_words([Fault("oil", "Dry it first."), Fault("oil", "Hot oil burns.", dangerous=True)])
    'Not yet. Hot oil burns. This mistake can hurt someone.'
    """
    worst = next((fault for fault in faults if fault.dangerous), faults[0])
    return f"Not yet. {worst.words}" + (f" {DANGER}" if worst.dangerous else "")


def check_words(faults: Sequence[Fault]) -> str:
    """Say what is wrong with a whole order: how much, and the most dangerous reason.

    >>> check_words([Fault("oil", "Dry it first."), Fault("dry", "Wash it first.")])
    'Not yet: 2 cards come too early. One of them: Dry it first.'
    """
    cards = len({fault.step for fault in faults})
    if cards == 1:
        return wrong_words(faults)
    worst = next((fault for fault in faults if fault.dangerous), faults[0])
    danger = f" {DANGER}" if worst.dangerous else ""
    return f"Not yet: {cards} cards come too early. One of them: {worst.words}{danger}"
