"""Charts of what to teach again: each takes its figures and returns a picture of them.

They are for a projector: large words, the course's colours, and a mark, hatch or word beside every colour.
Each has its sentence in :mod:`~brakecourse.exports.chart_words` and its table in
:mod:`~brakecourse.exports.again_sheets`. The competencies have a module of their own, ``heat_map``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch
from matplotlib.ticker import MaxNLocator

from brakecourse.exports import chart_words as words
from brakecourse.exports import look
from brakecourse.exports.completion import Completion, Day
from brakecourse.exports.findings import Finding
from brakecourse.exports.item_analysis import Item, ModuleItems
from brakecourse.exports.statistics import Interval

MOST_BARS = 12
"""No more mistakes than this are drawn; the table has them all."""


def difficulty(found: ModuleItems) -> Figure:
    """Draw how hard each question was, the hardest on top: marks earned, and who has all marks."""
    sentence, title = words.difficulty(found), f"{found.module}: how hard each question was"
    marked = sorted((one for one in found.items if one.percent is not None), key=lambda one: one.percent or 0)
    if not marked:
        return look.only_words(title, sentence)
    figure, axes = look.new_figure(title, look.rows_height(len(marked), 0.52), sentence)
    _difficulty_rows(axes, marked)
    _question_axis(axes, marked)
    axes.text(102, -0.62, "all marks:", va="center", fontsize=look.SMALL_PT, color=look.INK)
    axes.set_xlim(-1.5, 118)
    axes.set_xticks(range(0, 101, 20), [f"{number} %" for number in range(0, 101, 20)])
    _legend(
        figure,
        [
            _bar("marks earned by the class"),
            _bar("the same, safety-critical", look.HATCH),
            _dot("students with all marks, 95 % interval", look.DOT, "D"),
        ],
    )
    return figure


def _difficulty_rows(axes: Axes, marked: Sequence[Item]) -> None:
    # All rows of one look are one line with gaps: a line a row would take four times as long.
    rows = range(len(marked))
    hatches = [look.HATCH if one.asked.safety_critical else "" for one in marked]
    shares = [one.percent or 0.0 for one in marked]
    axes.barh(rows, shares, 0.62, color=look.BAR, edgecolor=look.BAR_EDGE, hatch=hatches)
    known = [(row, one.interval) for row, one in enumerate(marked) if one.interval is not None]
    ends = _gapped((row, 100 * found.low, 100 * found.high) for row, found in known)
    # A light edge keeps the line apart from a hatched bar.
    axes.plot(*ends, color=look.PAPER, lw=6, solid_capstyle="butt")
    axes.plot(*ends, color=look.DOT, lw=2.5, marker="|", ms=12, mew=2.5)
    full = [one.full_percent or 0.0 for one in marked]
    axes.plot(full, rows, color=look.DOT, ls="", marker="D", ms=9, mec=look.PAPER, clip_on=False, zorder=5)
    for row, one in enumerate(marked):
        told = f"{one.full} of {one.marked}"
        axes.text(102, row, told, va="center", fontsize=look.TEXT_PT, color=look.INK)


def _gapped(pieces: Iterable[tuple[int, float, float]]) -> tuple[list[float], list[float]]:
    """Return the points of level pieces of a line, with gaps between: each a row, a begin and an end."""
    across: list[float] = []
    down: list[float] = []
    for row, begin, end in pieces:
        across += (begin, end, math.nan)
        down += (row, row, math.nan)
    return across, down


def discrimination(found: ModuleItems) -> Figure:
    """Draw how well each question tells apart those who do well otherwise, with its interval, or why not."""
    sentence = words.discrimination(found)
    title = f"{found.module}: which questions tell strong from weak students"
    known = [one for one in found.items if one.discrimination.value is not None]
    if not known:
        return look.only_words(title, sentence)
    figure, axes = look.new_figure(title, look.rows_height(len(found.items), 0.52), sentence)
    _discrimination_rows(axes, found.items)
    _question_axis(axes, found.items)
    axes.axvline(0, color=look.INK, lw=1.5)
    axes.axvline(words.SOME, color=look.CALM, lw=1.2, ls="--")
    axes.set_xlim(-0.65, 1.85)
    axes.set_xticks([-0.4, 0, words.SOME, 0.6, 1], ["−0.4", "0", "0.2", "0.6", "1"])
    _legend(
        figure,
        [
            _dot("tells apart", look.DOT, "o"),
            _dot("not clear yet", look.CALM, "o", hollow=True),
            _dot("hardly, not, or the wrong way round", look.WARNING, "s"),
        ],
    )
    return figure


def _bar(label: str, hatch: str = "") -> Patch:
    return Patch(facecolor=look.BAR, edgecolor=look.BAR_EDGE, hatch=hatch, label=label)


def _dot(label: str, colour: str, marker: str, hollow: bool = False, line: str = "-") -> Line2D:
    inside = look.PAPER if hollow else colour
    return Line2D([], [], color=colour, marker=marker, ms=9, lw=2.5, ls=line, mfc=inside, mew=2, label=label)


def _discrimination_rows(axes: Axes, items: Sequence[Item]) -> None:
    looks: dict[tuple[str, str, str], list[tuple[int, float, Interval]]] = {}
    for row, one in enumerate(items):
        found, told = one.discrimination, words.tells_apart(one.discrimination)
        if found.value is None or found.interval is None:
            axes.text(0.03, row, told, va="center", fontsize=look.SMALL_PT, color=look.INK)
            continue
        unsure, weak = told == "not clear yet", words.is_weak(found)
        colour = look.CALM if unsure else look.WARNING if weak else look.DOT
        marks = (colour, "s" if weak else "o", look.PAPER if unsure else colour)
        looks.setdefault(marks, []).append((row, found.value, found.interval))
        told = f"{words.signed(found.value)}  {told}"
        axes.text(1.04, row, told, va="center", fontsize=look.TEXT_PT, color=look.INK)
    for (colour, marker, inside), own in looks.items():
        ends = _gapped((row, interval.low, interval.high) for row, _, interval in own)
        axes.plot(*ends, color=colour, lw=2.5, marker="|", ms=12, mew=2.5)
        values, rows = [value for _, value, _ in own], [row for row, _, _ in own]
        axes.plot(values, rows, color=colour, ls="", marker=marker, ms=11, mfc=inside, mew=2)


def mistakes(module: str, found: tuple[Finding, ...]) -> Figure:
    """Draw the named mistakes, what to treat first on top."""
    sentence, title = words.mistakes(found), f"{module}: named mistakes, what to treat first on top"
    named = [one for one in found if one.kind == "named mistake"]
    if not named:
        return look.only_words(title, sentence)
    shown = named[:MOST_BARS]
    if len(named) > len(shown):
        sentence += f" The first {len(shown)} are shown."
    figure, axes = look.new_figure(title, look.rows_height(len(shown), 0.58), sentence)
    hatches = [look.HATCH if one.safety_critical else "" for one in shown]
    counts = [one.students for one in shown]
    axes.barh(range(len(shown)), counts, 0.62, color=look.BAR, edgecolor=look.BAR_EDGE, hatch=hatches)
    for row, one in enumerate(shown):
        told = f" {one.students} of {one.graded}"
        axes.text(one.students, row, told, va="center", fontsize=look.TEXT_PT, color=look.INK)
    axes.set_yticks(range(len(shown)), [look.short_label(f"{one.name} ({_where(one)})", 40) for one in shown])
    axes.set_ylim(max(len(shown), 2) - 0.5, -0.6)
    axes.set_xlim(0, 1.15 * max(counts))
    axes.xaxis.set_major_locator(MaxNLocator(integer=True))
    axes.set_xlabel("students", fontsize=look.TEXT_PT, color=look.INK)
    _legend(
        figure,
        [
            _bar("at a safety-critical question", look.HATCH),
            _bar("at another question"),
        ],
    )
    return figure


def _where(one: Finding) -> str:
    return ", ".join(one.questions[:3]) + (" …" if len(one.questions) > 3 else "")


def completion(found: Completion) -> Figure:
    """Draw how the work came in day by day, and how much of it is graded by now."""
    sentence, title = words.completion(found), f"{found.module}: handed in and graded"
    if not found.days:
        return look.only_words(title, sentence)
    figure, axes = look.new_figure(title, 5.4, sentence)
    _steps(axes, found.days)
    axes.axhline(found.students, color=look.CALM, lw=1.5, ls=":")
    from_left = axes.get_yaxis_transform()
    expected = f"{found.students} expected"
    axes.text(0.005, found.students, expected, transform=from_left, va="bottom", fontsize=look.TEXT_PT)
    if found.due is not None:
        axes.axvline(_number(found.due, found), color=look.INK, lw=1.5, ls="--")
        axes.text(_number(found.due, found), 0, " due", va="bottom", fontsize=look.TEXT_PT, color=look.INK)
    _day_axis(axes, found)
    axes.set_ylim(0, 1.12 * max(found.students, 1))
    axes.yaxis.set_major_locator(MaxNLocator(integer=True))
    axes.set_ylabel("students", fontsize=look.TEXT_PT, color=look.INK)
    _legend(
        figure,
        [
            _dot("handed in by the end of the day", look.DOT, "o", hollow=True),
            _dot("of these, graded by now", look.WARNING, "s", line="--"),
        ],
    )
    return figure


def _number(day: date, found: Completion) -> int:
    return (day - found.days[0].day).days


def _steps(axes: Axes, days: tuple[Day, ...]) -> None:
    at = [(one.day - days[0].day).days for one in days]
    came, done = [one.handed_in for one in days], [one.graded for one in days]
    axes.step(at, came, where="post", color=look.DOT, lw=4, marker="o", ms=14, mfc=look.PAPER, mew=2.5)
    axes.step(at, done, where="post", color=look.WARNING, lw=2, ls="--", marker="s", ms=6)


def _day_axis(axes: Axes, found: Completion) -> None:
    last = (found.days[-1].day - found.days[0].day).days
    due = 0 if found.due is None else _number(found.due, found)
    first, last = min(0, due), max(last, due)
    step = max(1, -(-(last - first) // 10))
    places = range(first, last + 1, step)
    start = found.days[0].day
    axes.set_xlim(first - 0.5, last + 1)
    axes.set_xticks(places, [f"{start + timedelta(days=place):%d %b}" for place in places])


def _question_axis(axes: Axes, items: Sequence[Item]) -> None:
    labels = [look.short_label(f"{one.question} {one.asked.short}") for one in items]
    axes.set_yticks(range(len(items)), labels)
    axes.set_ylim(max(len(items), 2) - 0.4, -0.85)


def _legend(figure: Figure, handles: list[Patch | Line2D]) -> None:
    figure.legend(
        handles=handles, loc="outside lower left", ncols=len(handles), fontsize=look.TEXT_PT, frameon=False
    )
