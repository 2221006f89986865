"""The look of every chart: sizes that a projector carries, the course's colours, a text for who can't see it.

A figure belongs to nobody but its caller: no window, no shared state. Colour never speaks alone.
"""

from __future__ import annotations

import io
import textwrap

from matplotlib import rc_context
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.layout_engine import ConstrainedLayoutEngine

from brakecourse.views import palette

WIDE_IN = 13.0
"""Width of a figure, in inches; at :data:`DPI` it fills a projector."""
DPI = 100
TEXT_PT, SMALL_PT, TITLE_PT = 14, 12, 18

BAR, BAR_EDGE = palette.SKY_BLUE, palette.INK
DOT, WARNING, CALM = palette.BLUE_TEXT, palette.VERMILLION_TEXT, palette.INK_SOFT
HATCH = "///"
_COMPRESS_LEVEL = 3
"""Of a PNG file: the usual 6 takes twice as long, for files a tenth smaller."""
_LINE_LETTERS, _LINE_IN = 118, 0.27
INK, RULE, PAPER, PANEL, STEEL = palette.INK, palette.RULE, palette.CHALK, palette.PANEL, palette.STEEL
DONE, OPEN = palette.SKY_BLUE, palette.YELLOW


def new_figure(title: str, body_in: float, sentence: str = "") -> tuple[Figure, Axes]:
    """Return an empty figure with its title, and under it the sentence that says what it shows.

    Args:
        title: stands on top, in bold.
        body_in: height in inches of all that stands below title and sentence.
        sentence: wrapped to the figure's width.
    """
    lines = textwrap.wrap(sentence, _LINE_LETTERS)
    head_in = 0.65 + _LINE_IN * len(lines)
    height_in = head_in + body_in
    layout = ConstrainedLayoutEngine(rect=(0.005, 0.01, 0.985, body_in / height_in - 0.02))
    figure = Figure(figsize=(WIDE_IN, height_in), dpi=DPI, facecolor=PAPER, layout=layout)
    FigureCanvasAgg(figure)
    figure.text(0.012, 1 - 0.18 / height_in, title, fontsize=TITLE_PT, fontweight="bold", color=INK, va="top")
    figure.text(
        0.012, 1 - 0.58 / height_in, "\n".join(lines), fontsize=TEXT_PT, color=INK, va="top", linespacing=1.25
    )
    axes = figure.add_subplot()
    axes.set_facecolor(PAPER)
    axes.tick_params(labelsize=TEXT_PT, colors=INK, length=0)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.spines["bottom"].set_color(RULE)
    return figure, axes


def rows_height(rows: int, each_in: float, around_in: float = 1.5) -> float:
    """Return the height in inches of a figure's body with so many rows."""
    return around_in + each_in * max(rows, 2)


def only_words(title: str, sentence: str) -> Figure:
    """Return a figure that says why there is nothing to draw."""
    figure, axes = new_figure(title, 2.4)
    axes.axis("off")
    words = textwrap.fill(sentence, 80)
    axes.text(0.5, 0.5, words, ha="center", va="center", fontsize=TEXT_PT + 2, color=INK)
    return figure


def png(figure: Figure, alt: str) -> bytes:
    """Return a figure as a PNG picture that carries its text.

    Args:
        figure: what to draw.
        alt: what it shows, in words, for who can't see it.
    """
    content, canvas = io.BytesIO(), figure.canvas
    assert isinstance(canvas, FigureCanvasAgg)
    # Fitting letters to the dots takes a quarter of the time, and at this size nobody sees it.
    with rc_context({"text.hinting": "none"}):
        layout = figure.get_layout_engine()
        if layout is not None:
            # Laid out once here, and written by the canvas itself: saving would draw it all a second time.
            layout.execute(figure)
            figure.set_layout_engine("none")
        told = {"Description": alt, "Software": "brakecourse"}
        canvas.print_png(content, metadata=told, pil_kwargs={"compress_level": _COMPRESS_LEVEL})
    return content.getvalue()


def short_label(text: str, most: int = 34) -> str:
    """Return a label on two lines at most.

    >>> short_label("one two", 3)
    'one\\ntwo'
    """
    lines = textwrap.wrap(text, most) or [""]
    return "\n".join(lines if len(lines) <= 2 else [lines[0], textwrap.shorten(" ".join(lines[1:]), most)])
