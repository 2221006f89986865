"""Cards with the steps of a job: the numbered ones lie in their order, the others still wait."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from brakecourse.views import palette, svg

_WIDTH = 640
_MARGIN = 12
_ROW, _LINE, _GAP = 36, 22, 7  # a card of one line, each further line, between cards
_LETTERS = 62
_SIZE = 17
_BADGE = 13


@dataclass(frozen=True)
class StepCard:
    """One card.

    Attributes:
        id: by which a drag calls it.
        words: what stands on it.
        number: its place in the order, from 1; None while it waits.
        chosen: whether the controls have it.
        mark: some words about it, such as ``"too early"``; empty for none.
    """

    id: str
    words: str
    number: int | None = None
    chosen: bool = False
    mark: str = ""


def step_cards_svg(
    cards: Sequence[StepCard], *, uid: str, title: str = "The steps as cards", movable: bool = True
) -> str:
    """Draw the cards in a column: first those with a number, then those that wait.

    Args:
        cards: at least one; those with a number in their order.
        uid: a word that no other drawing on the page has.
        title: what a screen reader says first.
        movable: whether cards wait to be laid; else those without a number are only shown.

    Returns:
        The SVG text. Each card's group has ``data-card``, its id.

    Raises:
        ValueError: there is no card.

    Example:
        >>> step_cards_svg([StepCard("a", "Wash."), StepCard("b", "Dry.")], uid="demo").count("data-card")
        2
    """
    if not cards:
        raise ValueError("At least one card was expected to draw, but there is none.")
    laid = [card for card in cards if card.number is not None]
    waiting = [card for card in cards if card.number is None]
    body, y = "", float(_MARGIN)
    for heading, some in (("In order", laid), ("Still to come", waiting)):
        if some and waiting and movable:
            body += svg.text(_MARGIN, y + 16, heading, size=15, font_weight="600")
            y += 28
        for card in some:
            drawn, height = _card(card, y, uid, movable)
            body += drawn
            y += height + _GAP
    shade = svg.gradient(f"{uid}-card", ((0, palette.CHALK), (1, palette.STEEL_WHITE)))
    others = "Still to come" if movable else "Steps"
    desc = f"{_listed(laid, 'Laid in order')} {_listed(waiting, others)}".strip()
    return svg.frame(_WIDTH, round(y - _GAP + _MARGIN), body, uid=uid, title=title, desc=desc, defs=shade)


def _card(card: StepCard, y: float, uid: str, movable: bool) -> tuple[str, float]:
    lines = textwrap.wrap(card.words, _LETTERS - (len(card.mark) + 4 if card.mark else 0)) or [""]
    height = _ROW + _LINE * (len(lines) - 1)
    waits = card.number is None and movable
    edge = palette.BLUE if card.chosen else palette.STEEL_DARK if waits else palette.STEEL_EDGE
    box = svg.rect(
        _MARGIN,
        y,
        _WIDTH - 2 * _MARGIN,
        height,
        rx="6",
        fill=palette.PANEL if waits else f"url(#{uid}-card)",
        stroke=edge,
        stroke_width=2.5 if card.chosen else 1.0,
        stroke_dasharray="6 4" if waits and not card.chosen else None,
    )
    middle = y + height / 2
    left = _MARGIN + (48 if movable or card.number else 16)
    words = "".join(
        svg.text(left, y + 24 + _LINE * place, one, size=_SIZE) for place, one in enumerate(lines)
    )
    parts = box + (_badge(card, middle) if movable or card.number else "") + words
    if card.mark:
        parts += svg.text(
            _WIDTH - _MARGIN - 12,
            middle + 5,
            card.mark,
            size=14,
            fill=palette.VERMILLION_TEXT,
            anchor="end",
            font_weight="600",
        )
    named: dict[str, object] = {"data_card": card.id, "style": "cursor:grab"} if movable else {}
    return svg.group(parts, data_part="card", data_chosen="yes" if card.chosen else None, **named), height


def _badge(card: StepCard, middle: float) -> str:
    x = _MARGIN + 25
    if card.number is None:
        # Two rows of three dots: the usual sign for "this can be dragged".
        dots = "".join(
            svg.circle(x + dx, middle + dy, 2, fill=palette.STEEL_DARK) for dx in (-4, 4) for dy in (-7, 0, 7)
        )
        return svg.group(dots)
    disc = svg.circle(
        x, middle, _BADGE, fill=palette.STEEL_LIGHT, stroke=palette.STEEL_EDGE, stroke_width=1.0
    )
    return disc + svg.text(
        x, middle + 5, card.number, size=14, anchor="middle", font_weight="600", data_part="place"
    )


def _listed(cards: Sequence[StepCard], heading: str) -> str:
    if not cards:
        return ""
    told = "; ".join(
        (f"{card.number}, " if card.number else "")
        + card.words.rstrip(".")
        + (f" ({card.mark})" if card.mark else "")
        for card in cards
    )
    return f"{heading}: {told}."
