"""Curves in one set of axes, with a limit, a band and marked points; each line is named at its end."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from brakecourse.views import palette, svg
from brakecourse.views.drawings._curve_axes import (
    BOTTOM,
    HEIGHT,
    LEFT,
    RIGHT,
    SIZE,
    TOP,
    WIDTH,
    Axis,
    axis,
    background,
)
from brakecourse.views.drawings._curve_words import level_words, mark_points, names
from brakecourse.views.drawings._inputs import finite

Points = Sequence[tuple[float, float]]

MOST_CURVES = 4
# Colour, dashes and the mark at the line's end: no two curves share any of the three.
_LOOKS = (
    (palette.BLUE, None, "round"),
    (palette.VERMILLION, "10 4", "square"),
    (palette.BLUISH_GREEN, "2 4", "diamond"),
    (palette.REDDISH_PURPLE, "12 4 2 4", "triangle"),
)
_CORNERS = {
    "square": ((-5, -5), (5, -5), (5, 5), (-5, 5)),
    "diamond": ((0, -7), (7, 0), (0, 7), (-7, 0)),
    "triangle": ((0, -7), (7, 5), (-7, 5)),
}


def curve_plot_svg(
    series: Sequence[tuple[str, Points]],
    *,
    x_label: str,
    y_label: str,
    uid: str,
    title: str,
    limit: float | None = None,
    limit_words: str = "limit",
    band: tuple[float, float, str] | None = None,
    marks: Sequence[tuple[float, float, str]] = (),
) -> str:
    """Draw one to four curves, each named at its end.

    Args:
        series: a name and its points (x, y) for each curve, x rising, two points or more.
        x_label: what the axis across shows, with its unit.
        y_label: what the axis up shows, with its unit.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.
        limit: a level to be marked by a dashed line, in the unit of y.
        limit_words: what stands at that line.
        band: a range of y to be hatched: its low and high end, and the words in it.
        marks: points to be ringed: x, y and a word or two.

    Returns:
        SVG text. Its description tells each curve's first, highest and last point.

    Raises:
        ValueError: no curve or more than four, a curve of fewer than two points, x that does not rise, a
            number that is no number, words that are empty, or a band that is no range.

    Source:
        Common practice, no source.

    Example:
        >>> curve_plot_svg([("front", [(0, 20), (60, 180)])], x_label="time, s", y_label="°C", uid="c1",
        ...     title="Rotor temperature").startswith("<svg")
        True
    """
    curves = _curves(series)
    level = None if limit is None else finite(limit, "limit")
    hatched = None if band is None else _band(band)
    ringed = [_mark(one) for one in marks]
    limit_told = _words(limit_words, "limit")
    labels = _words(x_label, "axis across"), _words(y_label, "axis up")
    svg.check_uid(uid)
    across, up = _axes(curves, level, hatched, ringed)
    rows = [[(across.at(x), up.at(y)) for x, y in points] for _, points in curves]
    spots = [[(across.at(x), up.at(y))] for x, y, _ in ringed]
    taken = [*rows, *spots]
    level_y = None if level is None else up.at(level)
    at_level = [level_words([level_y - 7], limit_told, taken, bold=True)] if level_y is not None else []
    at_level += [level_words(_rows(up, hatched), hatched[2], taken)] if hatched else []
    body = (
        background(across, up, *labels)
        + (_hatched(up, hatched, uid) if hatched else "")
        + (_limit(up, level) if level is not None else "")
        + "".join(_curve(row, place) for place, row in enumerate(rows))
        + names([(name, rows[place][-1], _LOOKS[place][0]) for place, (name, _) in enumerate(curves)])
        + "".join(told for told, _ in at_level)
        + mark_points(
            [(spot, told) for (spot,), (_, _, told) in zip(spots, ringed, strict=True)],
            level_y,
            [box for _, box in at_level],
        )
    )
    desc = _desc(curves, labels, level, limit_words, hatched, ringed)
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _curves(series: object) -> list[tuple[str, list[tuple[float, float]]]]:
    if isinstance(series, str) or not isinstance(series, Sequence) or not 1 <= len(series) <= MOST_CURVES:
        count = len(series) if isinstance(series, Sequence) else series
        raise ValueError(f"A plot must have one to {MOST_CURVES} curves, but there were {str(count)[:40]}.")
    curves = []
    for one in series:
        name, points = _members(one, 2, "curve")
        told = _words(name, "curve")
        if isinstance(points, (str, bytes)) or not isinstance(points, Sequence):
            raise ValueError(f"The curve '{told}' needs a row of points, but it was {str(points)[:40]!r}.")
        row = [_point(point, f"curve '{told}'") for point in points]
        if len(row) < 2:
            raise ValueError(f"The curve '{told}' must have two points or more, but it had {len(row)}.")
        if any(after[0] <= before[0] for before, after in pairwise(row)):
            raise ValueError(f"The points of the curve '{told}' must go on to the right, but one went back.")
        curves.append((told, row))
    return curves


def _members(one: object, count: int, what: str) -> tuple[object, ...]:
    if isinstance(one, (str, bytes)) or not isinstance(one, Sequence) or len(one) != count:
        raise ValueError(f"A {what} must have {count} members, but it was {str(one)[:40]!r}.")
    return tuple(one)


def _mark(one: object) -> tuple[float, float, str]:
    x, y, told = _members(one, 3, "mark")
    return (*_point((x, y), "mark"), _words(told, "mark"))


def _point(point: object, where: str) -> tuple[float, float]:
    x, y = _members(point, 2, f"point of the {where}")
    return finite(x, f"place across of the {where}"), finite(y, f"height of the {where}")


def _band(band: object) -> tuple[float, float, str]:
    ends = _members(band, 3, "band")
    low, high = finite(ends[0], "low end of the band"), finite(ends[1], "high end of the band")
    if low >= high:
        raise ValueError(
            f"The band's low end must be below its high end, but they were {low:g} and {high:g}."
        )
    return low, high, _words(ends[2], "band")


def _words(told: object, what: str) -> str:
    if not isinstance(told, str) or not told.strip():
        raise ValueError(f"The {what} must be named by some words, but they were {told!r:.40}.")
    return told


def _axes(
    curves: list[tuple[str, list[tuple[float, float]]]],
    level: float | None,
    band: tuple[float, float, str] | None,
    marks: list[tuple[float, float, str]],
) -> tuple[Axis, Axis]:
    places = [point for _, points in curves for point in points] + [mark[:2] for mark in marks]
    heights = [y for _, y in places] + ([] if level is None else [level]) + list(band[:2] if band else ())
    across = axis(LEFT, RIGHT, [x for x, _ in places], most=6, room=0)
    return across, axis(BOTTOM, TOP, heights, most=5, room=0.35)


def _hatched(up: Axis, band: tuple[float, float, str], uid: str) -> str:
    low, high = up.at(band[0]), up.at(band[1])
    edges = [(LEFT, low, RIGHT, low), (LEFT, high, RIGHT, high)]
    return svg.rect(
        LEFT, high, RIGHT - LEFT, low - high, fill=f"url(#{uid}-band)", data_part="band"
    ) + svg.strokes(edges, stroke=palette.SKY_BLUE, stroke_width="1.4")


def _limit(up: Axis, level: float) -> str:
    y = up.at(level)
    return svg.line(
        LEFT, y, RIGHT, y, stroke=palette.INK, stroke_width="2", stroke_dasharray="9 4", data_part="limit"
    )


def _rows(up: Axis, band: tuple[float, float, str]) -> list[float]:
    """Return the baselines that a band's words may have: in its middle, at its lower and its upper edge."""
    low, high = up.at(band[0]), up.at(band[1])
    if low - high < 2 * SIZE:
        return [(low + high) / 2 + 5]
    return [(low + high) / 2 + 5, low - 7, high + 17]


def _curve(drawn: list[svg.Point], place: int) -> str:
    colour, dashes, _ = _LOOKS[place]
    look = {"stroke": colour, "stroke_width": "2.6", "stroke_linejoin": "round", "stroke_dasharray": dashes}
    return svg.polyline(drawn, data_part="curve", **look) + _end(drawn[-1], place)


def _end(spot: svg.Point, place: int) -> str:
    colour, _, shape = _LOOKS[place]
    look = {"fill": colour, "stroke": palette.INK, "stroke_width": "1", "data_part": "end"}
    if shape == "round":
        return svg.circle(
            spot[0], spot[1], 5.5, fill=colour, stroke=palette.INK, stroke_width="1", data_part="end"
        )
    return svg.polygon([(spot[0] + x, spot[1] + y) for x, y in _CORNERS[shape]], **look)


def _desc(
    curves: list[tuple[str, list[tuple[float, float]]]],
    labels: tuple[str, str],
    level: float | None,
    limit_words: str,
    band: tuple[float, float, str] | None,
    marks: list[tuple[float, float, str]],
) -> str:
    told = f"Across: {labels[0]}. Up: {labels[1]}."
    for name, points in curves:
        (x1, y1), (x2, y2) = points[0], points[-1]
        x3, y3 = max(points, key=lambda point: point[1])
        told += (
            f" Curve {name}: from {y1:.4g} at {x1:.4g} to {y2:.4g} at {x2:.4g}, highest {y3:.4g} at {x3:.4g}."
        )
    if level is not None:
        told += f" A dashed line at {level:.4g}: {limit_words}."
    if band:
        told += f" A hatched band from {band[0]:.4g} to {band[1]:.4g}: {band[2]}."
    for x, y, words in marks:
        told += f" A ring at {x:.4g}, {y:.4g}: {words}."
    return told


def _defs(uid: str) -> str:
    stroke = svg.tag("path", d="M0 0V8", stroke=palette.SKY_BLUE, stroke_width="2", stroke_opacity="0.7")
    return svg.pattern(f"{uid}-band", 8, stroke, turn_deg=45)
