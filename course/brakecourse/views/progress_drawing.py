"""Draw the learner's record: a bar a line, and beside it the words for what the bar shows."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from brakecourse.views import palette, svg
from brakecourse.views.plan import Practice, lessons, outcomes, plan
from brakecourse.views.progress import Tally

_WIDTH, _ROW, _TOP, _BAR = 640, 30, 66, 140
_BAR_X, _WORDS_X = 340, 494
_TRIED = "The bars show how much of the practice you have tried."
_RIGHT = "The bars show the share of right answers."


def lessons_svg(tallies: Sequence[Tally], *, uid: str, title: str = "All lessons") -> str:
    """Draw all lessons: how much of each was tried, and how much of that came out right.

    Args:
        tallies: the record; activities that the plan does not know are left out.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says, and the heading.

    >>> "not tried yet" in lessons_svg([], uid="p")
    True
    """
    rows: list[tuple[str, str, float | None, str]] = []
    for lesson, name in lessons().items():
        practices = [one for one in plan() if one.lesson == lesson]
        done = _done(practices, tallies)
        share = len(done) / len(practices) if practices else None
        rows.append((lesson[:2], name, share, _tried_words(practices, done)))
    return _bars(rows, _TRIED, uid, title)


def lesson_svg(tallies: Sequence[Tally], lesson: str, *, uid: str) -> str:
    """Draw the activities of one lesson: the share of right answers of each."""
    practices = [one for one in plan() if one.lesson == lesson]
    rows = []
    for practice in practices:
        done = _done([practice], tallies)
        rows.append((practice.part, practice.title, _right_share(done), _right_words(done)))
    return _bars(rows, _RIGHT, uid, f"{lesson[:2]} {lessons()[lesson]}", indent=56)


def outcomes_svg(tallies: Sequence[Tally], *, uid: str, title: str = "What you can do") -> str:
    """Draw what the course teaches: the share of right answers in the practice that trains it."""
    rows = []
    for outcome, statement in outcomes().items():
        practices = [one for one in plan() if outcome in one.outcomes]
        if practices:
            done = _done(practices, tallies)
            rows.append(("", statement, _right_share(done), _right_words(done)))
    return _bars(rows, _RIGHT, uid, title, indent=0)


def _done(practices: Iterable[Practice], tallies: Sequence[Tally]) -> list[Tally]:
    wanted = {(one.lesson, one.activity) for one in practices}
    return [tally for tally in tallies if (tally.lesson, tally.activity) in wanted and tally.tries]


def _right_share(done: Sequence[Tally]) -> float:
    tries = sum(tally.tries for tally in done)
    return sum(tally.right for tally in done) / tries if tries else 0.0


def _right_words(done: Sequence[Tally]) -> str:
    right, tries = (sum(getattr(tally, name) for tally in done) for name in ("right", "tries"))
    return f"{right} right of {tries}" if done else "not tried yet"


def _tried_words(practices: Sequence[Practice], done: Sequence[Tally]) -> str:
    if not practices:
        return "no practice yet"
    if not done:
        return "not tried yet"
    return f"{len(done)} of {len(practices)} tried"


def _bars(
    rows: Sequence[tuple[str, str, float | None, str]], meaning: str, uid: str, title: str, indent: int = 36
) -> str:
    """Draw rows of a mark, a name, a bar and its words; a long name takes as many lines as it needs."""
    body = svg.text(24, 30, title, size=17, font_weight="bold")
    body += svg.text(24, 52, meaning, size=14, fill=palette.INK_SOFT)
    y, told = _TOP, [meaning]
    for mark, name, share, words in rows:
        lines = textwrap.wrap(name, int((_BAR_X - 24 - indent) / 7.2))
        body += svg.text(24, y + 14, mark, fill=palette.INK_SOFT) if mark else ""
        for number, line in enumerate(lines):
            body += svg.text(24 + indent, y + 14 + 18 * number, line)
        if share is not None:
            body += svg.rect(_BAR_X, y + 3, _BAR, 13, fill=palette.PANEL, stroke=palette.STEEL_DARK)
        if share:
            body += svg.rect(_BAR_X, y + 3, _BAR * share, 13, fill=palette.BLUE)
        body += svg.text(_WORDS_X, y + 14, words)
        told.append(f"{mark} {name}: {words}.".strip())
        y += _ROW + 18 * (len(lines) - 1)
    return svg.frame(_WIDTH, y + 8, body, uid=uid, title=title, desc=" ".join(told))
