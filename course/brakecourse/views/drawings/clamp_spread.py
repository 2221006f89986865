"""How far the clamp load of a bolt may spread, as bars beside its proof load."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from brakecourse.published import convert
from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import above_zero, finite
from brakecourse.views.words import number

WIDTH = 480
LEFT, RIGHT, TOP, ROW = 24.0, 430.0, 66.0, 84.0
BAR = 26.0
_STEPS = (5, 10, 20, 25, 50, 100)
_MOST_STEPS = 7


@dataclass(frozen=True)
class SpreadBar:
    """One way to tighten, and what it may give.

    Attributes:
        words: what was done.
        low_n, middle_n, high_n: clamp loads in N, in this order.
    """

    words: str
    low_n: float
    middle_n: float
    high_n: float


def clamp_spread_svg(
    bars: Sequence[SpreadBar], *, proof_n: float, uid: str, title: str = "How the clamp load spreads"
) -> str:
    """Draw one bar for each way of tightening: from the least to the largest clamp load.

    Args:
        bars: one to three.
        proof_n: the bolt's proof load, N, above 0.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text.

    Raises:
        ValueError: no bar or too many, a bar's loads fall, or a number is none.

    Source:
        The drawing only shows what it is given.

    Example:
        >>> clamp_spread_svg([SpreadBar("as asked", 20e3, 25e3, 31e3)], proof_n=50e3, uid="c").count(
        ...     'data-part="spread"')
        1
    """
    proof = above_zero(proof_n, "proof load in N")
    if not 1 <= len(bars) <= 3:
        raise ValueError(f"One to three bars were expected, but there were {len(bars)}.")
    for bar in bars:
        low, middle, high = (finite(one, "clamp load in N") for one in (bar.low_n, bar.middle_n, bar.high_n))
        if not 0 <= low <= middle <= high:
            raise ValueError(
                f"A bar's loads must rise from 0 or more, but they were {low:g}, {middle:g}, {high:g}."
            )
    axis = _Axis(max(proof * 1.15, *(bar.high_n for bar in bars)) * 1.04 / 1000)
    bottom = TOP + ROW * len(bars) + 8
    body = (
        _beyond(axis, proof, bottom, uid)
        + _scale(axis, bottom)
        + "".join(_bar(bar, place, axis, uid) for place, bar in enumerate(bars))
    )
    told = " ".join(
        f"{bar.words}: from {_kn(bar.low_n)} by way of {_kn(bar.middle_n)} to {_kn(bar.high_n)}."
        for bar in bars
    )
    desc = f"A scale of clamp loads. The proof load of the bolt is {_kn(proof)}. {told}"
    return svg.frame(WIDTH, round(bottom + 52), body, uid=uid, title=title, desc=desc, defs=_defs(uid))


class _Axis:
    def __init__(self, largest_kn: float) -> None:
        self.step = next((step for step in _STEPS if largest_kn / step <= _MOST_STEPS), 200)
        self.end = math.ceil(largest_kn / self.step * 2) / 2 * self.step

    def x(self, force_n: float) -> float:
        return LEFT + (RIGHT - LEFT) * force_n / 1000 / self.end


def _scale(axis: _Axis, y: float) -> str:
    drawn = svg.line(LEFT, y, RIGHT, y, stroke=palette.INK, stroke_width="1.6")
    for place in range(int(axis.end / axis.step + 1e-9) + 1):
        value = place * axis.step
        x = axis.x(1000 * value)
        pounds = number(round(convert(value, "kN", "lbf"), -2), 0)
        drawn += (
            svg.line(x, y, x, y + 7, stroke=palette.INK, stroke_width="1.4")
            + svg.text(x, y + 22, value, size=15, anchor="middle", data_part="kn-number")
            + svg.text(x, y + 40, pounds, size=12.5, anchor="middle", fill=palette.BLUE_TEXT)
        )
    return (
        drawn
        + svg.text(WIDTH - 8, y + 22, "kN", size=14, anchor="end", font_weight="bold")
        + svg.text(WIDTH - 8, y + 40, "lbf", size=12.5, anchor="end", fill=palette.BLUE_TEXT)
    )


def _beyond(axis: _Axis, proof: float, bottom: float, uid: str) -> str:
    """Draw the zone in which the bolt stays longer for good."""
    x = axis.x(proof)
    words = "proof load"
    anchor = "end" if x > WIDTH / 2 else "start"
    side = -6 if anchor == "end" else 6
    return (
        svg.rect(x, 34, RIGHT - x + 12, bottom - 34, fill=palette.VERMILLION, fill_opacity="0.18")
        + svg.rect(x, 34, RIGHT - x + 12, bottom - 34, fill=f"url(#{uid}-beyond)", data_part="beyond")
        + svg.line(x, 28, x, bottom, stroke=palette.VERMILLION, stroke_width="2.5", data_part="proof")
        + svg.text(x + side, 20, f"{words} {_kn(proof)}", size=15, anchor=anchor, font_weight="bold")
        + svg.text(x + side, 46, "beyond: longer for good", size=14, anchor=anchor, **_HALO)
    )


_HALO = {"stroke": palette.PAPER, "stroke_width": "4", "stroke_linejoin": "round", "paint_order": "stroke"}


def _bar(bar: SpreadBar, place: int, axis: _Axis, uid: str) -> str:
    y = TOP + place * ROW + 22
    low, middle, high = (axis.x(one) for one in (bar.low_n, bar.middle_n, bar.high_n))
    name = ("first", "second", "third")[place]
    colour = (palette.SKY_BLUE, palette.ORANGE, palette.REDDISH_PURPLE)[place]
    box = svg.rect(
        low, y, max(high - low, 1.0), BAR, fill=colour, fill_opacity="0.65", stroke=palette.STEEL_EDGE,
        stroke_width="1.2", data_part="spread",
    )  # fmt: skip
    texture = svg.rect(low, y, max(high - low, 1.0), BAR, fill=f"url(#{uid}-{name})")
    if high - low < 84:  # both numbers would run into each other
        told = [((low + high) / 2, f"{number(bar.low_n / 1000, 1)} to {_kn(bar.high_n)}")]
    else:
        told = [(low, _kn(bar.low_n)), (high, _kn(bar.high_n))]
    ends = "".join(_label(x, y + BAR + 17, words) for x, words in told)
    dot = svg.polygon(
        [(middle, y + 4), (middle + 8, y + BAR / 2), (middle, y + BAR - 4), (middle - 8, y + BAR / 2)],
        fill=palette.INK,
        data_part="middle",
    )
    words = svg.text(LEFT, y - 8, bar.words, size=15, font_weight="600", **_HALO)
    return box + texture + dot + ends + words


def _label(x: float, y: float, words: str) -> str:
    """Write a number on paper of its own, so that no pattern runs through it."""
    half = 4.2 * len(words)
    x = min(x, WIDTH - 8 - half)
    return svg.rect(x - half, y - 13, 2 * half, 18, rx="3", fill=palette.PAPER) + svg.text(
        x, y, words, size=14, anchor="middle"
    )


def _kn(force_n: float) -> str:
    return f"{number(force_n / 1000, 1)} kN"


def _defs(uid: str) -> str:
    def lines(d: str) -> str:
        return svg.tag("path", d=d, stroke=palette.STEEL_EDGE, stroke_width="1", fill="none")

    return (
        svg.pattern(f"{uid}-first", 12, svg.circle(6, 6, 1.3, fill=palette.STEEL_EDGE))
        + svg.pattern(f"{uid}-second", 8, lines("M0 0V8"), turn_deg=45)
        + svg.pattern(f"{uid}-third", 8, lines("M0 0V8"))
        + svg.pattern(f"{uid}-beyond", 11, lines("M0 0L11 11M11 0L0 11"))
    )
