"""Readings round the rotor, unrolled from place 1 on."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.trade.rotor import run_out_mm, thickness_variation_mm
from brakecourse.views import palette, svg, words
from brakecourse.views.drawings import _chart as chart
from brakecourse.views.drawings._inputs import above_zero, pairs

WIDTH = 640
RUN_OUT_HEIGHT = 330
THICKNESS_HEIGHT = 500
_DASHES = "9 4"


def run_out_plot_svg(
    angles_deg: Sequence[float],
    readings_mm: Sequence[float],
    *,
    uid: str,
    limit_mm: float | None = None,
    title: str = "Run-out round the rotor",
    tell_total: bool = True,
) -> str:
    """Draw dial readings round the rotor, with the highest, the lowest, and the total between them.

    Args:
        angles_deg: where each reading was taken, in degrees, 0 to below 360; three or more.
        readings_mm: the dial's readings, in mm, one for each angle.
        uid: a word that no other drawing on the page has.
        limit_mm: largest total run-out allowed, in mm. It is drawn as a level above the lowest reading.
        title: the name that a screen reader says.
        tell_total: write the total beside its bracket. Without it the learner subtracts.

    Returns:
        SVG text.

    Raises:
        ValueError: the rows do not fit, a number is no number, or the limit is not above zero.

    Source:
        Total run-out is the largest less the smallest reading: common practice, no source.

    Example:
        >>> "highest" in run_out_plot_svg([0, 120, 240], [0.0, 0.04, 0.01], uid="p1")
        True
    """
    points = pairs(angles_deg, readings_mm, "dial reading in mm")
    limit = None if limit_mm is None else above_zero(limit_mm, "run-out limit in mm")
    svg.check_uid(uid)
    lowest, highest = _ends(points)
    axes = chart.axes_for(44, 272, lowest[1], max(highest[1], lowest[1] + (limit or 0)))
    total = run_out_mm([value for _, value in points])
    body = (
        chart.background(axes, "dial reading")
        + (_allowed(axes, lowest, limit, uid) if limit else "")
        + chart.places(axes, points)
        + chart.curve(axes, points)
        + chart.named(axes, highest, "highest", above=True)
        + chart.named(axes, lowest, "lowest", above=False)
        + chart.bracket(
            axes, lowest[1], highest[1], ["total run-out", *(_in_two(total) if tell_total else ())]
        )
    )
    desc = _told("Dial readings", points, "Highest", highest, "lowest", lowest)
    if limit:
        desc += f" The limit for the total is {words.mm(limit)}, drawn as a level above the lowest reading."
    return svg.frame(WIDTH, RUN_OUT_HEIGHT, body, uid=uid, title=title, desc=desc, defs=_hatch(uid))


def _allowed(axes: chart.Axes, lowest: chart.Pair, limit: float, uid: str) -> str:
    """Draw the level that the curve may not cross, hatch what lies beyond, and tell it in the heading."""
    y = axes.y(lowest[1] + limit)
    told = f"limit: {words.mm(limit)} above the lowest"
    sample = {"stroke": palette.VERMILLION, "stroke_width": "2", "stroke_dasharray": _DASHES}
    return (
        svg.rect(chart.LEFT, axes.top, chart.RIGHT - chart.LEFT, y - axes.top, fill=f"url(#{uid}-outside)")
        + _limit_line(axes, lowest[1] + limit, palette.VERMILLION)
        + svg.line(204, axes.top - 19, 238, axes.top - 19, **sample)
        + svg.text(246, axes.top - 14, told, size=14, fill=palette.VERMILLION_TEXT)
    )


def thickness_plot_svg(
    angles_deg: Sequence[float],
    readings_mm: Sequence[float],
    *,
    uid: str,
    discard_mm: float,
    machine_to_mm: float,
    title: str = "Thickness round the rotor",
    tell_variation: bool = True,
) -> str:
    """Draw thickness readings round the rotor: against both limits, and once more magnified.

    Args:
        angles_deg: where each reading was taken, in degrees, 0 to below 360; three or more.
        readings_mm: thickness, in mm, one for each angle.
        uid: a word that no other drawing on the page has.
        discard_mm: thickness below which the rotor may not be used, in mm.
        machine_to_mm: thinnest that machining may leave, in mm.
        title: the name that a screen reader says.
        tell_variation: write the variation beside its bracket. Without it the learner subtracts.

    Returns:
        SVG text.

    Raises:
        ValueError: the rows do not fit, a number is no number, or the limits do not stand in order.

    Source:
        Variation is the largest less the smallest reading: common practice, no source.

    Example:
        >>> "thinnest" in thickness_plot_svg(
        ...     [0, 120, 240], [22.0, 22.02, 22.01], uid="p2", discard_mm=21, machine_to_mm=21.5
        ... )
        True
    """
    points = pairs(angles_deg, readings_mm, "thickness in mm")
    discard = above_zero(discard_mm, "discard thickness in mm")
    machine_to = above_zero(machine_to_mm, "machine-to thickness in mm")
    if machine_to <= discard:
        raise ValueError(
            f"The machine-to thickness must be above the discard thickness, "
            f"but they were {machine_to:g} mm and {discard:g} mm."
        )
    svg.check_uid(uid)
    thinnest, thickest = _ends(points)
    desc = (
        _told("Thickness", points, "Thickest", thickest, "thinnest", thinnest)
        + f" The discard thickness is {words.mm(discard)}. "
        + f"Machining may leave {words.mm(machine_to)} or more."
    )
    body = _against_limits(points, thinnest, thickest, discard, machine_to, uid) + _magnified(
        points, thinnest, thickest, tell_variation
    )
    return svg.frame(WIDTH, THICKNESS_HEIGHT, body, uid=uid, title=title, desc=desc, defs=_hatch(uid))


def _against_limits(
    points: list[chart.Pair],
    thinnest: chart.Pair,
    thickest: chart.Pair,
    discard: float,
    machine_to: float,
    uid: str,
) -> str:
    axes = chart.axes_for(44, 216, min(discard, thinnest[1]), max(machine_to, thickest[1]))
    low, high = axes.y(discard), axes.y(machine_to)
    # Each limit has three lines of words: keep them apart when the limits lie close together.
    push = max(0.0, 3 * chart.LINE_HEIGHT + 4 - (low - high)) / 2
    return (
        chart.background(axes, "thickness, against both limits")
        + svg.rect(chart.LEFT, low, chart.RIGHT - chart.LEFT, axes.bottom - low, fill=f"url(#{uid}-outside)")
        + _limit_line(axes, discard, palette.VERMILLION)
        + _limit_line(axes, machine_to, palette.BLUE)
        + chart.curve(axes, points)
        + chart.block(low + push - 12, ["discard", *_in_two(discard)], palette.VERMILLION_TEXT)
        + chart.block(high - push - 12, ["machine to", *_in_two(machine_to)], palette.BLUE_TEXT)
    )


def _magnified(points: list[chart.Pair], thinnest: chart.Pair, thickest: chart.Pair, tell: bool) -> str:
    axes = chart.axes_for(268, 440, thinnest[1], thickest[1])
    variation = thickness_variation_mm([value for _, value in points])
    return (
        chart.background(axes, "the same readings, magnified")
        + chart.places(axes, points)
        + chart.curve(axes, points)
        + chart.named(axes, thickest, "thickest", above=True)
        + chart.named(axes, thinnest, "thinnest", above=False)
        + chart.bracket(axes, thinnest[1], thickest[1], ["variation", *(_in_two(variation) if tell else ())])
    )


def _ends(points: list[chart.Pair]) -> tuple[chart.Pair, chart.Pair]:
    return min(points, key=lambda pair: pair[1]), max(points, key=lambda pair: pair[1])


def _in_two(length_mm: float) -> tuple[str, str]:
    millimetres, _, inches = words.mm(length_mm).partition(" (")
    return millimetres, f"({inches}"


def _limit_line(axes: chart.Axes, value: float, colour: str) -> str:
    y = axes.y(value)
    return svg.line(
        chart.LEFT,
        y,
        chart.RIGHT + 8,
        y,
        stroke=colour,
        stroke_width="2",
        stroke_dasharray=_DASHES,
        data_part="limit",
    )


def _hatch(uid: str) -> str:
    cross = svg.tag(
        "path", d="M0 0L9 9M9 0L0 9", stroke=palette.VERMILLION, stroke_width="1", stroke_opacity="0.4"
    )
    return svg.pattern(f"{uid}-outside", 9, cross)


def _told(
    what: str, points: list[chart.Pair], most: str, highest: chart.Pair, least: str, lowest: chart.Pair
) -> str:
    told = ", ".join(f"{words.number(value)} at {angle:g} degrees" for angle, value in points)
    return (
        f"{what} round the rotor, in millimetres: {told}. "
        f"{most} at {highest[0]:g} degrees, {least} at {lowest[0]:g} degrees."
    )
