"""What students can do, drawn: one page a group of students, and the whole class as one bar a competency.

A page holds :data:`PER_PAGE` students, so that its cells stay readable. A bigger class has more pages, and
the bars before them.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch, PathPatch
from matplotlib.path import Path
from matplotlib.textpath import TextPath
from matplotlib.ticker import MaxNLocator

from brakecourse.exports import look
from brakecourse.exports.mastery import ClassMastery, Mastery, State
from brakecourse.exports.sheets import Table

PER_PAGE = 25
"""Students on one page."""
_CELL_PT, _GROUND_PT = 10, 1.5

# State: the mark in the cell, its colour, its hatch.
_LOOKS: dict[State, tuple[str, str, str]] = {
    "mastered": ("✓", look.DONE, ""),
    "not yet": ("✗", look.OPEN, ""),
    "too little to tell": ("–", look.PANEL, "...."),
}


def pages(everyone: Sequence[Mastery]) -> int:
    """Return how many pages the class takes: at least one."""
    return max(1, -(-len(_students(everyone)) // PER_PAGE))


def on_page(table: Table, everyone: Sequence[Mastery], page: int) -> Table:
    """Return the rows of a table of competencies, one a judgement, that a page shows."""
    shown = set(_on_page(everyone, page))
    rows = (row for row, one in zip(table.rows, everyone, strict=True) if one.student_id in shown)
    return Table(table.title, table.headings, tuple(rows))


def heat_map(everyone: Sequence[Mastery], page: int = 1) -> Figure:
    """Draw one page of students against competencies: in each cell the mark of its state and the percent.

    Args:
        everyone: how far each student is with each competency.
        page: 1 up to :func:`pages`.

    Raises:
        ValueError: there is no such page.
    """
    count = pages(everyone)
    if not 1 <= page <= count:
        raise ValueError(f"A page from 1 to {count} was expected, but found {page}.")
    students = _on_page(everyone, page)
    title = "Competencies" if count == 1 else f"Competencies, page {page} of {count}"
    if not students:
        return look.only_words(title, sentence(everyone))
    names = list(dict.fromkeys(one.competency for one in everyone))
    figure, axes = look.new_figure(title, 2.9 + 0.36 * max(len(students), 3), sentence(everyone))
    place = {name: column for column, name in enumerate(names)}
    rows = {student: row for row, student in enumerate(students)}
    cells = [(place[one.competency], rows[one.student_id], one) for one in everyone if one.student_id in rows]
    _cells(axes, cells)
    axes.set_xlim(0, len(names))
    axes.set_ylim(len(students), 0)
    axes.set_yticks([row + 0.5 for row in range(len(students))], students, fontsize=look.SMALL_PT)
    labels = [name.replace("-", " ") for name in names]
    axes.set_xticks([column + 0.5 for column in range(len(names))], labels, rotation=55, ha="right")
    axes.tick_params(axis="x", labelsize=look.SMALL_PT, rotation=55)
    axes.spines["bottom"].set_visible(False)
    _legend(figure, "number: marks of that competency, %")
    return figure


def class_bars(totals: Sequence[ClassMastery]) -> Figure:
    """Draw how many students are in each state, one bar a competency, the least mastered on top."""
    title = "Competencies: the whole class"
    students = max((one.mastered + one.not_yet + one.too_little for one in totals), default=0)
    if not students:
        return look.only_words(title, class_sentence(totals))
    ordered = sorted(totals, key=lambda one: (one.mastered - one.not_yet, one.mastered))
    figure, axes = look.new_figure(title, look.rows_height(len(ordered), 0.36, 1.6), class_sentence(totals))
    for row, one in enumerate(ordered):
        left = 0
        for state, number in zip(_LOOKS, (one.mastered, one.not_yet, one.too_little), strict=True):
            mark, colour, hatch = _LOOKS[state]
            axes.barh(row, number, 0.8, left, color=colour, edgecolor=look.BAR_EDGE, hatch=hatch, lw=0.8)
            if number >= 0.06 * students:
                _words(axes, left + number / 2, row, f"{mark} {number}", look.SMALL_PT)
            left += number
    axes.set_yticks(range(len(ordered)), [one.competency.replace("-", " ") for one in ordered])
    axes.tick_params(axis="y", labelsize=look.SMALL_PT)
    axes.set_ylim(len(ordered) - 0.5, -0.5)
    axes.set_xlim(0, students)
    axes.xaxis.set_major_locator(MaxNLocator(integer=True))
    axes.set_xlabel("students", fontsize=look.TEXT_PT, color=look.INK)
    _legend(figure)
    return figure


def sentence(everyone: Sequence[Mastery]) -> str:
    """Say how many judgements there are, and how many are each."""
    students = len(_students(everyone))
    if not students:
        return "Nobody is in the class yet."
    told = ", ".join(f"{sum(one.state == state for one in everyone)} {state}" for state in _LOOKS)
    return f"{students} student{'' if students == 1 else 's'}, a cell each competency: {told}."


def class_sentence(totals: Sequence[ClassMastery]) -> str:
    """Say which competency most students have not mastered yet."""
    weakest = max(totals, key=lambda one: one.not_yet, default=None)
    students = 0 if weakest is None else weakest.mastered + weakest.not_yet + weakest.too_little
    if weakest is None or not students:
        return "Nobody is in the class yet."
    if not weakest.not_yet:
        return "Nobody is known to lack a competency."
    name = weakest.competency.replace("-", " ")
    return f"Most are not there yet with: {name} ({weakest.not_yet} of {students} students)."


def _students(everyone: Sequence[Mastery]) -> list[str]:
    return list(dict.fromkeys(one.student_id for one in everyone))


def _on_page(everyone: Sequence[Mastery], page: int) -> list[str]:
    return _students(everyone)[(page - 1) * PER_PAGE : page * PER_PAGE]


def _cells(axes: Axes, cells: Sequence[tuple[int, int, Mastery]]) -> None:
    # Drawn by state and by word: hundreds of single cells would take seconds.
    told: dict[str, list[tuple[float, float]]] = {}
    for state, (mark, colour, hatch) in _LOOKS.items():
        own = [(column, row, one) for column, row, one in cells if one.state == state]
        corners = [[(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)] for x, y, _ in own]
        if corners:
            squares = Path.make_compound_path_from_polys(np.array(corners, dtype=float))
            edge = look.STEEL if hatch else look.PAPER
            _add(axes, PathPatch(squares, facecolor=colour, edgecolor=edge, hatch=hatch, linewidth=1.2))
        for column, row, one in own:
            words = mark if one.percent is None else f"{mark} {one.percent:.0f}"
            told.setdefault(words, []).append((column + 0.5, row + 0.5))
    for words, places in told.items():
        written, ground = _word(words)
        if words.startswith("–"):  # in a dotted cell the words need quiet ground
            _stamp(axes, ground, places, look.PANEL)
        _stamp(axes, written, places, look.INK, words)


def _stamp(
    axes: Axes, path: Path, places: Sequence[tuple[float, float]], colour: str, label: str = ""
) -> None:
    """Draw one path at many places, as a marker: it is worked out once and then only copied."""
    across, down = zip(*places, strict=True)
    size = 2 * float(np.abs(path.vertices).max())  # a marker is as large as its path then
    _add(axes, Line2D(across, down, ls="", marker=path, ms=size, mfc=colour, mec="none", label=label))


def _add(axes: Axes, drawn: Artist) -> None:
    """Add what lies inside the axes, and so needs no place in the layout."""
    drawn.set_in_layout(False)
    axes.add_artist(drawn)


@cache
def _word(words: str) -> tuple[Path, Path]:
    """Return the outlines of a cell's words, in points around the middle of the cell, and of their ground."""
    written = TextPath((0, 0), words, size=_CELL_PT)
    line, ink = TextPath((0, 0), "lp", size=_CELL_PT).get_extents(), written.get_extents()
    middle = (ink.x0 + ink.x1) / 2, (line.y0 + line.y1) / 2
    x, y = ink.width / 2 + _GROUND_PT, line.height / 2 + _GROUND_PT
    ground = Path([(-x, -y), (x, -y), (x, y), (-x, y), (-x, -y)], closed=True)
    return Path(np.asarray(written.vertices) - middle, written.codes), ground


def _words(axes: Axes, x: float, y: float, text: str, size: int) -> None:
    # In a dotted bar the words need quiet ground.
    ground = (
        {"facecolor": look.PANEL, "edgecolor": "none", "pad": _GROUND_PT} if text.startswith("–") else None
    )
    written = axes.text(x, y, text, ha="center", va="center", fontsize=size, color=look.INK, bbox=ground)
    written.set_in_layout(False)


def _legend(figure: Figure, more: str = "") -> None:
    handles = [
        Patch(facecolor=colour, edgecolor=look.BAR_EDGE, hatch=hatch, label=f"{mark} {state}")
        for state, (mark, colour, hatch) in _LOOKS.items()
    ]
    if more:
        handles.append(Patch(facecolor="none", edgecolor="none", label=more))
    figure.legend(handles=handles, loc="outside lower left", ncols=4, fontsize=look.TEXT_PT, frameon=False)
