"""The missing fluid beside what the wear asks for: the zones of the verdicts, told by words and patterns."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.trade.fluid import LEAST_LEAK_ML, LevelVerdict
from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import finite, within
from brakecourse.views.units import both
from brakecourse.views.words import number

WIDTH, HEIGHT = 640, 234
LEFT, RIGHT = 24.0, 616.0
TOP, BOTTOM = 70.0, 128.0
WORD_PX = 9.0  # of one letter of the widest words here, about
_STEPS = (2, 5, 10, 20, 50)

Zone = tuple[LevelVerdict, float, float]


def level_band_svg(
    expected_ml: float,
    missing_ml: float,
    guard_ml: float,
    *,
    uid: str,
    title: str = "The missing fluid beside the wear",
) -> str:
    """Draw a scale of missing fluid with the four zones, what the wear asks for, and what is missing.

    Args:
        expected_ml: what the wear asks for, mL, 0 or more.
        missing_ml: what is missing below MAX, mL; below 0 when the level stands above it.
        guard_ml: how far the two must lie apart to prove something, mL, above 0.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text.

    Raises:
        ValueError: a number is no number or out of range.

    Source:
        The zones are those of :func:`brakecourse.trade.fluid.explain_level`.

    Example:
        >>> "suspect a leak" in level_band_svg(70, 92, 6, uid="b")
        True
    """
    expected = within(expected_ml, "expected volume in mL", 0, 10_000)
    missing = finite(missing_ml, "missing volume in mL")
    guard = within(guard_ml, "guard band in mL", 0.1, 1000)
    svg.check_uid(uid)
    scale = _Scale(expected, missing, guard)
    drawn = (
        "".join(_zone(scale, zone, row, uid) for row, zone in enumerate(scale.zones))
        + _leader(scale)
        + _axis(scale)
        + _wear(scale)
        + _missing(scale)
    )
    return svg.frame(WIDTH, HEIGHT, drawn, uid=uid, title=title, desc=_desc(scale), defs=_defs(uid))


@dataclass(frozen=True)
class _Scale:
    """Where volumes lie on the picture."""

    expected: float
    missing: float
    guard: float

    @property
    def low(self) -> float:
        return self.expected - max(2.2 * self.guard, 14)

    @property
    def high(self) -> float:
        return self.expected + max(2.6 * self.guard, 26)

    @property
    def broken(self) -> bool:
        return not self.low <= self.missing <= self.high

    @property
    def zones(self) -> list[Zone]:
        """Every zone that has some width, from left to right."""
        added = self.expected - self.guard
        leak = self.expected + self.guard
        explained = min(self.expected + LEAST_LEAK_ML - self.guard, leak)
        zones: list[Zone] = [
            ("fluid was added", self.low, added),
            ("wear explains it", added, explained),
            ("too close to call", explained, leak),
            ("suspect a leak", leak, self.high),
        ]
        return [zone for zone in zones if zone[2] > zone[1]]

    def x(self, ml: float) -> float:
        held = max(self.low, min(self.high, ml))
        return LEFT + (RIGHT - LEFT) * (held - self.low) / (self.high - self.low)


_COLOURS: dict[LevelVerdict, str] = {
    "fluid was added": palette.REDDISH_PURPLE,
    "wear explains it": palette.SKY_BLUE,
    "too close to call": palette.STEEL_MID,
    "suspect a leak": palette.VERMILLION,
}


def _zone(scale: _Scale, zone: Zone, row: int, uid: str) -> str:
    word, low, high = zone
    left, right = scale.x(low), scale.x(high)
    box = (left, TOP, right - left, BOTTOM - TOP)
    name = word.replace(" ", "-")
    middle = (left + right) / 2
    half = WORD_PX * len(word) / 2
    words_x = max(LEFT + half, min(RIGHT - half, middle))
    words_y = 28.0 if row % 2 else 50.0
    return (
        svg.rect(*box, fill=palette.CHALK)
        + svg.rect(*box, fill=_COLOURS[word], fill_opacity="0.45")
        + svg.rect(*box, fill=f"url(#{uid}-{name})")
        + svg.rect(*box, fill="none", stroke=palette.STEEL_EDGE, stroke_width="1.2", data_part=f"zone-{name}")
        + svg.line(middle, words_y + 5, middle, TOP, stroke=palette.INK_SOFT, stroke_width="1.2")
        + svg.text(words_x, words_y, word, size=18, anchor="middle", font_weight="bold")
    )


def _axis(scale: _Scale) -> str:
    """Draw a tick and a number at round volumes, but where a pointer needs the place."""
    step = next(one for one in _STEPS if (scale.high - scale.low) / one <= 12 or one == _STEPS[-1])
    rounds = [step * k for k in range(math.ceil(scale.low / step), math.floor(scale.high / step) + 1)]
    ticks = [(scale.x(ml), BOTTOM, scale.x(ml), BOTTOM + 6) for ml in rounds]
    pointers = (scale.x(scale.expected), scale.x(scale.missing))
    free = [ml for ml in rounds if all(abs(scale.x(ml) - spot) > 22 for spot in pointers)]
    numbers = "".join(
        svg.text(scale.x(ml), BOTTOM + 23, number(ml, 0), size=15, anchor="middle", fill=palette.INK_SOFT)
        for ml in free
    )
    return svg.strokes(ticks, stroke=palette.INK, stroke_width="1.2", data_part="ticks") + numbers


def _wear(scale: _Scale) -> str:
    x = scale.x(scale.expected)
    return svg.line(
        x, TOP, x, BOTTOM + 34, stroke=palette.INK, stroke_width="3", data_part="expected"
    ) + _words(x, BOTTOM + 55, f"the wear asks for {both(scale.expected, 'mL')}")


def _leader(scale: _Scale) -> str:
    """Draw the line from the missing volume down to its words, behind all other words."""
    x = scale.x(scale.missing)
    return svg.line(x, BOTTOM, x, BOTTOM + 64, stroke=palette.INK, stroke_width="1.4", stroke_dasharray="3 3")


def _missing(scale: _Scale) -> str:
    """Draw a diamond in the bar, with the guard band on both sides."""
    x, y = scale.x(scale.missing), (TOP + BOTTOM) / 2
    spot = [(x, y - 10), (x + 10, y), (x, y + 10), (x - 10, y)]
    words = f"missing below MAX: {both(scale.missing, 'mL')}"
    words += ", farther off than drawn" if scale.broken else f", ± {both(scale.guard, 'mL')}"
    left, right = scale.x(scale.missing - scale.guard), scale.x(scale.missing + scale.guard)
    whisker = [(left, y, right, y), (left, y - 8, left, y + 8), (right, y - 8, right, y + 8)]
    rim = svg.strokes(whisker, stroke=palette.CHALK, stroke_width="7")
    band = svg.strokes(whisker, stroke=palette.INK, stroke_width="3", data_part="band")
    return (
        ("" if scale.broken else rim + band)
        + svg.polygon(spot, fill=palette.INK, stroke=palette.CHALK, stroke_width="2", data_part="missing")
        + _words(x, BOTTOM + 84, words, bold=True)
    )


def _words(x: float, y: float, words: str, *, bold: bool = False) -> str:
    half = WORD_PX * len(words) / 2
    middle = max(LEFT + half, min(RIGHT - half, x))
    rim = {"stroke": palette.PAPER, "stroke_width": "5", "stroke_linejoin": "round", "paint_order": "stroke"}
    weight = "bold" if bold else None
    return svg.text(middle, y, words, size=17, anchor="middle", font_weight=weight, **rim)


def _desc(scale: _Scale) -> str:
    zone = next(
        (word for word, low, high in scale.zones if low <= scale.missing < high),
        "fluid was added" if scale.missing < scale.low else "suspect a leak",
    )
    return (
        f"A scale of the fluid missing below MAX, in mL. The wear asks for {both(scale.expected, 'mL')}. "
        f"Missing are {both(scale.missing, 'mL')}, with a guard band of {both(scale.guard, 'mL')} on each "
        f"side. From left to right lie the zones {', '.join(word for word, _, _ in scale.zones)}. "
        f"The missing volume lies in the zone {zone}."
    )


def _defs(uid: str) -> str:
    soft = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.3"}
    slant = svg.tag("path", d="M0 0V9", fill="none", **soft)
    return (
        svg.pattern(f"{uid}-fluid-was-added", 12, svg.circle(6, 6, 2.4, fill="none", **soft))
        + svg.pattern(f"{uid}-wear-explains-it", 12, svg.tag("path", d="M0 6H12", fill="none", **soft))
        + svg.pattern(f"{uid}-too-close-to-call", 8, svg.circle(4, 4, 1.4, fill=palette.STEEL_EDGE))
        + svg.pattern(f"{uid}-suspect-a-leak", 9, slant, turn_deg=45)
    )
