"""A reading beside a limit: the three zones, told by words and patterns, and the reading with its band."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.trade.conformity import Side
from brakecourse.views import palette, svg, words
from brakecourse.views.drawings._inputs import finite

WIDTH, HEIGHT = 640, 206
LEFT, RIGHT, MIDDLE = 24.0, 616.0, 320.0
MARKER_Y = 62.0
TOP, SEAM, BOTTOM = 84.0, 114.0, 148.0  # of the bar: words above the seam, patterns below it
GUARD_PX = 92.0  # the grey zone is drawn this wide on each side of the limit; the scale follows from it
REACH_PX = 264.0  # a reading farther off than this stands at the bar's end, behind a break
WORD_PX = 8.2  # of one letter of the widest words here, about
NAME_PX = 10.0  # the same of the bold ones above the bar


def limit_svg(
    measured: float,
    limit: float,
    side: Side,
    guard_band: float,
    *,
    unit: str = "mm",
    uid: str,
    title: str = "The reading beside its limit",
) -> str:
    """Draw a limit with its guard band on both sides, and the measured value with the same band.

    Args:
        measured: the measured value, in ``unit``.
        limit: the limit, in ``unit``.
        side: ``"minimum"`` (no less is allowed) or ``"maximum"`` (no more is allowed).
        guard_band: how far from the limit a reading must lie to decide, in ``unit``; 0 leaves two zones.
        unit: unit of the three, for the words. Millimetres get the inches beside them.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text.

    Raises:
        ValueError: a number is no number, the guard band is negative, or the side is no side.

    Source:
        The three zones follow the decision rule of ISO 14253-1 (from memory); the words are our own.

    Example:
        >>> "too close to call" in limit_svg(21.51, 21.5, "minimum", 0.02, uid="l1")
        True
    """
    value, edge = finite(measured, "measured value"), finite(limit, "limit")
    guard = finite(guard_band, "guard band")
    if guard < 0:
        raise ValueError(f"The guard band must be 0 or more, but it was {guard:g}.")
    if side not in ("minimum", "maximum"):
        raise ValueError(f"The side must be 'minimum' or 'maximum', but it was {side!r}.")
    if not isinstance(unit, str):
        raise ValueError(f"The unit must be a word, but it was {unit!r}.")
    svg.check_uid(uid)
    scale = _Scale(value, edge, guard)
    body = _zones(scale, side, uid) + _limit(scale, side, unit) + _reading(scale, unit)
    return svg.frame(
        WIDTH, HEIGHT, body, uid=uid, title=title, desc=_desc(value, edge, side, guard, unit), defs=_defs(uid)
    )


@dataclass(frozen=True)
class _Scale:
    """Where values lie on the picture. The limit stands in the middle."""

    measured: float
    limit: float
    guard: float

    @property
    def px_per_unit(self) -> float:
        if self.guard:
            return GUARD_PX / self.guard
        # With no grey zone there is no width to follow: the reading itself sets the scale.
        return 150.0 / (abs(self.measured - self.limit) or 1.0)

    @property
    def offset_px(self) -> float:
        return (self.measured - self.limit) * self.px_per_unit

    @property
    def broken(self) -> bool:
        """Whether the reading lies farther off than the picture reaches."""
        return abs(self.offset_px) > REACH_PX

    @property
    def guard_px(self) -> float:
        return GUARD_PX if self.guard else 0.0

    @property
    def marker_x(self) -> float:
        return MIDDLE + max(-REACH_PX, min(REACH_PX, self.offset_px))


def _zones(scale: _Scale, side: Side, uid: str) -> str:
    low, high = ("outside", "within") if side == "minimum" else ("within", "outside")
    near, far = MIDDLE - scale.guard_px, MIDDLE + scale.guard_px
    grey = _zone(near, far, "too close to call", uid) if scale.guard else ""
    return _zone(LEFT, near, low, uid) + _zone(far, RIGHT, high, uid) + grey


def _zone(left: float, right: float, word: str, uid: str) -> str:
    colour = {
        "within": palette.SKY_BLUE,
        "outside": palette.VERMILLION,
        "too close to call": palette.STEEL_MID,
    }[word]
    name = word.split()[0]
    edge = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2"}
    return (
        svg.rect(left, TOP, right - left, BOTTOM - TOP, fill=palette.CHALK)
        + svg.rect(left, SEAM, right - left, BOTTOM - SEAM, fill=colour, fill_opacity="0.5")
        + svg.rect(left, SEAM, right - left, BOTTOM - SEAM, fill=f"url(#{uid}-{name})")
        + svg.rect(left, TOP, right - left, BOTTOM - TOP, fill="none", data_part=f"zone-{name}", **edge)
        + svg.text((left + right) / 2, TOP + 21, word, size=16, anchor="middle", font_weight="bold")
    )


def _limit(scale: _Scale, side: Side, unit: str) -> str:
    return svg.line(
        MIDDLE, SEAM, MIDDLE, BOTTOM + 14, stroke=palette.INK, stroke_width="3", data_part="limit"
    ) + svg.text(MIDDLE, BOTTOM + 34, f"limit ({side}): {_told(scale.limit, unit)}", size=15, anchor="middle")


def _reading(scale: _Scale, unit: str) -> str:
    """Draw the measured value above the bar, with its band and dotted lines down to the zones."""
    x, y = scale.marker_x, MARKER_Y
    name = f"measured: {_told(scale.measured, unit)}"
    if scale.broken:
        name += ", farther off than drawn"
    half = NAME_PX * len(name) / 2
    middle = max(LEFT + half, min(RIGHT - half, x))
    spot = [(x, y - 9), (x + 9, y), (x, y + 9), (x - 9, y)]
    return (
        svg.text(middle, 30, name, size=16, anchor="middle", font_weight="bold")
        + (_break(x) if scale.broken else _band(scale, unit))
        + svg.line(x, y, x, TOP, stroke=palette.INK, stroke_width="1.5")
        + svg.polygon(spot, fill=palette.INK, data_part="measured")
    )


def _band(scale: _Scale, unit: str) -> str:
    if not scale.guard:
        return ""
    x, y = scale.marker_x, MARKER_Y
    left, right = x - GUARD_PX, x + GUARD_PX
    ink = {"stroke": palette.INK}
    seen = [end for end in (left, right) if LEFT <= end <= RIGHT]
    ends = [(end, y - 7, end, y + 7) for end in seen]
    # The words between the marker and the patterns stay free of lines.
    dots = [(end, start, end, stop) for end in seen for start, stop in ((y + 7, TOP), (SEAM, BOTTOM))]
    told = f"± {_told(scale.guard, unit)}"
    side = 1 if right + 8 + 7.2 * len(told) < RIGHT else -1
    told_x = right + 8 if side > 0 else left - 8
    return (
        svg.line(max(LEFT, left), y, min(RIGHT, right), y, stroke_width="3", data_part="band", **ink)
        + svg.strokes(ends, stroke_width="3", **ink)
        + svg.strokes(dots, stroke_width="1.2", stroke_dasharray="2 4", **ink)
        + svg.text(told_x, y + 5, told, size=14, anchor="start" if side > 0 else "end", fill=palette.INK_SOFT)
    )


def _break(x: float) -> str:
    """Draw two slanted strokes across the bar: the scale is cut there."""
    inner = x - 24 if x > MIDDLE else x + 24
    gap = [(inner - 7, BOTTOM + 6), (inner + 1, TOP - 6), (inner + 9, TOP - 6), (inner + 1, BOTTOM + 6)]
    cuts = [(*gap[0], *gap[1]), (*gap[3], *gap[2])]
    return svg.polygon(gap, fill=palette.PAPER) + svg.strokes(
        cuts, stroke=palette.INK, stroke_width="1.5", data_part="break"
    )


def _told(value: float, unit: str) -> str:
    places = 2 if abs(value - round(value, 2)) < 1e-6 else 3
    return words.mm(value, places) if unit == "mm" else f"{words.number(value, places)} {unit}".rstrip()


def _desc(value: float, edge: float, side: Side, guard: float, unit: str) -> str:
    within = "above" if side == "minimum" else "below"
    zones = f"The zone within lies {within} the limit."
    if guard:
        zones = (
            f"Nearer to the limit than {_told(guard, unit)}, on both sides, lies the zone too close to call. "
            f"The zone within lies {within} it."
        )
    return f"The limit is {_told(edge, unit)}, a {side}. {zones} The measured value is {_told(value, unit)}."


def _defs(uid: str) -> str:
    def lines(d: str) -> str:
        return svg.tag("path", d=d, stroke=palette.STEEL_EDGE, stroke_width="1", fill="none")

    return (
        svg.pattern(f"{uid}-within", 12, svg.circle(6, 6, 1.3, fill=palette.STEEL_EDGE))
        + svg.pattern(f"{uid}-too", 8, lines("M0 0V8"), turn_deg=45)
        + svg.pattern(f"{uid}-outside", 9, lines("M0 0L9 9M9 0L0 9"))
    )
