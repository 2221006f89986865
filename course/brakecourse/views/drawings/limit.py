"""A reading beside a limit: the three zones, told by words and patterns, and the reading with its band."""

from __future__ import annotations

from brakecourse.trade.conformity import Side
from brakecourse.views import palette, svg, words
from brakecourse.views.drawings._inputs import finite

WIDTH, HEIGHT = 640, 220
LEFT, RIGHT, TOP, BOTTOM = 24.0, 616.0, 74.0, 124.0
GUARD_PX = 92.0  # the grey zone is drawn this wide on each side of the limit; the scale follows from it


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
    """Draw a limit with its guard band on both sides, and the measured value with its band.

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
        Zones after ISO 14253-1 (from memory); the words are the course's own.

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
    svg.check_uid(uid)
    scale = _Scale(value, edge, guard)
    body = _zones(scale, side, uid) + _limit(scale, side, unit) + _reading(scale, unit)
    desc = (
        f"A scale with the limit {_told(edge, unit)}, a {side}. "
        + (f"Nearer to it than {_told(guard, unit)} lies the zone too close to call. " if guard else "")
        + f"The measured value is {_told(value, unit)}."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


class _Scale:
    """Where values lie on the picture. The limit stands in the middle."""

    def __init__(self, measured: float, limit: float, guard: float) -> None:
        self.measured, self.limit, self.guard = measured, limit, guard
        self.middle = (LEFT + RIGHT) / 2
        distance = abs(measured - limit)
        half = (RIGHT - LEFT) / 2 - 40
        self.px_per_unit = GUARD_PX / guard if guard else half / max(distance, 1e-9) * 0.6
        self.beyond = distance * self.px_per_unit > half
        self.reach = half

    def x(self, value: float) -> float:
        """Return where a value lies; one beyond the picture stands at its end."""
        offset = (value - self.limit) * self.px_per_unit
        return self.middle + max(-self.reach, min(self.reach, offset))


def _zones(scale: _Scale, side: str, uid: str) -> str:
    near, far = scale.middle - scale.guard * scale.px_per_unit, scale.middle + scale.guard * scale.px_per_unit
    low_word, high_word = ("outside", "within") if side == "minimum" else ("within", "outside")
    body = _zone(LEFT, near, low_word, uid) + _zone(far, RIGHT, high_word, uid)
    return body + (_zone(near, far, "too close to call", uid) if scale.guard else "")


def _zone(left: float, right: float, word: str, uid: str) -> str:
    name = word.split()[0]
    fill = {"within": palette.SKY_BLUE, "outside": palette.VERMILLION, "too": palette.YELLOW}[name]
    return (
        svg.rect(left, TOP, right - left, BOTTOM - TOP, fill=fill, fill_opacity="0.35", data_part=f"zone-{name}")
        + svg.rect(left, TOP, right - left, BOTTOM - TOP, fill=f"url(#{uid}-{name})", stroke=palette.STEEL_EDGE)
        + svg.text((left + right) / 2, TOP - 12, word, size=15, anchor="middle", font_weight="bold")
    )


def _limit(scale: _Scale, side: str, unit: str) -> str:
    x = scale.middle
    return svg.line(x, TOP - 34, x, BOTTOM + 12, stroke=palette.INK, stroke_width="2.5", data_part="limit") + svg.text(
        x, TOP - 42, f"limit ({side}): {_told(scale.limit, unit)}", size=14, anchor="middle"
    )


def _reading(scale: _Scale, unit: str) -> str:
    x, y = scale.x(scale.measured), (TOP + BOTTOM) / 2
    reach = scale.guard * scale.px_per_unit
    band = svg.line(max(LEFT, x - reach), y, min(RIGHT, x + reach), y, stroke=palette.INK, stroke_width="3", data_part="band")
    words_below = f"measured: {_told(scale.measured, unit)}"
    anchor = "start" if x < 200 else "end" if x > 440 else "middle"
    return (
        band
        + svg.polygon([(x, y - 10), (x + 10, y), (x, y + 10), (x - 10, y)], fill=palette.INK, data_part="measured")
        + svg.line(x, y + 10, x, BOTTOM + 30, stroke=palette.INK, stroke_width="1.2")
        + svg.text(x, BOTTOM + 48, words_below, size=15, anchor=anchor, font_weight="bold")
    )


def _told(value: float, unit: str) -> str:
    places = 2 if round(value, 2) == round(value, 6) else 3
    return words.mm(value, places) if unit == "mm" else f"{words.number(value, places)} {unit}".strip()


def _defs(uid: str) -> str:
    def lines(d: str) -> str:
        return svg.tag("path", d=d, stroke=palette.STEEL_EDGE, stroke_width="1", stroke_opacity="0.55", fill="none")

    dot = svg.circle(4, 4, 1, fill=palette.STEEL_EDGE, fill_opacity="0.6")
    return (
        svg.pattern(f"{uid}-within", 14, dot)
        + svg.pattern(f"{uid}-too", 8, lines("M0 0V8"), turn_deg=45)
        + svg.pattern(f"{uid}-outside", 9, lines("M0 0L9 9M9 0L0 9"))
    )
