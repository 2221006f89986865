"""A vehicle's speed along the road: one or two brakings, each from one speed down to another."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.published import convert
from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import finite, within

MOST_MPH = 120.0

WIDTH, HEIGHT = 560, 260
LEFT, RIGHT, TOP, ROAD = 70.0, 540.0, 44.0, 200.0


def speed_line_svg(
    brakings: Sequence[tuple[float, float]], *, uid: str, title: str = "Speed of a vehicle"
) -> str:
    """Draw how the speed falls in one braking, or in two beside each other.

    Args:
        brakings: one or two brakings: speed at the start and at the end, mph.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells the speeds.

    Raises:
        ValueError: no braking or more than two, or a speed out of range or one that does not fall.

    Source:
        A steady slowing, drawn as a straight line over time: common practice, no source.

    Example:
        >>> speed_line_svg([(20, 0)], uid="s1").startswith("<svg")
        True
    """
    rows = _rows(brakings)
    svg.check_uid(uid)
    fastest = max(begin for begin, _ in rows)
    share = (RIGHT - LEFT) / len(rows)
    body = _background() + "".join(
        _braking(
            row, LEFT + share * place, share, fastest, f"{_ORDER[place]} braking" if len(rows) > 1 else ""
        )
        for place, row in enumerate(rows)
    )
    desc = " ".join(
        f"{_ORDER[place].capitalize()} braking: the speed falls evenly from {begin:g} mph to "
        f"{'standstill' if not end else f'{end:g} mph'}."
        for place, (begin, end) in enumerate(rows)
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc)


_ORDER = ("first", "second")


def _rows(brakings: object) -> list[tuple[float, float]]:
    if isinstance(brakings, str) or not isinstance(brakings, Sequence) or not 1 <= len(brakings) <= 2:
        raise ValueError("One or two brakings were expected to be drawn.")
    rows = []
    for one in brakings:
        if isinstance(one, str) or not isinstance(one, Sequence) or len(one) != 2:
            raise ValueError(f"A braking needs two speeds, but it was {one!r:.40}.")
        begin = within(one[0], "speed at the start in mph", 0, MOST_MPH)
        end = finite(one[1], "speed at the end in mph")
        if not 0 <= end < begin:
            raise ValueError(
                f"The speed at the end in mph must be 0 or more and below the start of {begin:g}, "
                f"but it was {end:g}."
            )
        rows.append((begin, end))
    return rows


def _background() -> str:
    return (
        svg.rect(LEFT, TOP - 14, RIGHT - LEFT, ROAD - TOP + 14, fill=palette.PANEL)
        + svg.line(LEFT, ROAD, RIGHT, ROAD, stroke=palette.STEEL_DARK, stroke_width="2")
        + svg.line(LEFT, TOP - 14, LEFT, ROAD, stroke=palette.STEEL_DARK, stroke_width="1.4")
        + svg.text(LEFT - 10, ROAD + 5, "0", size=15, anchor="end", fill=palette.INK_SOFT)
        + svg.text(LEFT - 10, TOP + 4, "speed", size=15, anchor="end", fill=palette.INK_SOFT)
    )


def _braking(row: tuple[float, float], left: float, wide: float, fastest: float, name: str) -> str:
    begin, end = row
    x1, x2, x3, x4 = (left + wide * part for part in (0.04, 0.3, 0.62, 0.96))

    def at(mph: float) -> float:
        return ROAD - (ROAD - TOP) * mph / fastest

    top, low = at(begin), at(end)
    level = {"stroke": palette.STEEL_MID, "stroke_width": "3", "stroke_dasharray": "7 5"}
    words = svg.text(x1, top - 8, _speed(begin), size=15, font_weight="bold", data_part="speed")
    under = 23 if end else -8  # clear of the falling line
    ends = svg.text(
        x4, low + under, _speed(end), size=15, anchor="end", font_weight="bold", data_part="speed"
    )
    return (
        svg.line(x1, top, x2, top, **level)
        + svg.line(x3, low, x4, low, **level)
        + svg.line(x2, top, x3, low, stroke=palette.VERMILLION, stroke_width="5", data_part="braking")
        + svg.circle(x2, top, 5, fill=palette.VERMILLION)
        + svg.circle(x3, low, 5, fill=palette.VERMILLION)
        + words
        + ends
        + svg.text((x1 + x4) / 2, ROAD + 30, name or "time", size=15, anchor="middle", fill=palette.INK_SOFT)
    )


def _speed(mph: float) -> str:
    return f"{mph:.0f} mph, {convert(mph, 'mph', 'km/h'):.0f} km/h" if mph else "standstill"
