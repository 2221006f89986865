"""Readings round the rotor, unrolled from place 1 to place 1 again."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.trade.rotor import run_out_mm, smallest_mm, thickness_variation_mm
from brakecourse.views import palette, svg, words
from brakecourse.views.drawings import _chart as chart
from brakecourse.views.drawings._inputs import finite, pairs

WIDTH = 640


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
        angles_deg: where each reading was taken, in degrees, 0 to below 360.
        readings_mm: the dial's readings, in mm, one for each angle.
        uid: a word that no other drawing on the page has.
        limit_mm: largest total run-out allowed, in mm, drawn as a band above the lowest reading.
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
    limit = None if limit_mm is None else finite(limit_mm, "run-out limit in mm")
    if limit is not None and limit <= 0:
        raise ValueError(f"The run-out limit in mm must be above 0, but it was {limit:g}.")
    lowest, highest = _ends(points)
    total = run_out_mm([value for _, value in points])
    top = max(highest[1], lowest[1] + (limit or 0))
    axes = chart.round_axes(78, 520, 40, 268, lowest[1], top)
    label = ["total run-out"] + (_two_lines(total) if tell_total else [])
    body = (
        chart.grid(axes, points, unit="mm")
        + (_limit_band(axes, lowest[1], limit) if limit else "")
        + _level(axes, highest)
        + _level(axes, lowest)
        + chart.round_the_rotor(axes, points)
        + chart.named_point(axes, highest, "highest", above=True)
        + chart.named_point(axes, lowest, "lowest", above=False)
        + chart.bracket(536, axes.y(highest[1]), axes.y(lowest[1]))
        + _label(546, (axes.y(highest[1]) + axes.y(lowest[1])) / 2, label)
        + svg.text((axes.left + axes.right) / 2, 328, "place and angle round the rotor", size=13, anchor="middle", fill=palette.INK_SOFT)
    )
    desc = _told("Dial readings", points, "mm") + f" Highest at {highest[0]:g} degrees, lowest at {lowest[0]:g} degrees."
    if limit:
        desc += f" The limit for the total is {words.mm(limit)}, drawn as a band above the lowest reading."
    return svg.frame(WIDTH, 342, body, uid=uid, title=title, desc=desc)


def _ends(points: list[chart.Pair]) -> tuple[chart.Pair, chart.Pair]:
    return min(points, key=lambda pair: pair[1]), max(points, key=lambda pair: pair[1])


def _two_lines(length_mm: float) -> list[str]:
    return words.mm(length_mm).replace(" (", "\n(").split("\n")


def _label(x: float, middle: float, lines: list[str]) -> str:
    top = middle - 9 * (len(lines) - 1) + 5
    return "".join(
        svg.text(x, top + 18 * row, line, size=14, font_weight="bold" if row == 0 else None)
        for row, line in enumerate(lines)
    )


def _level(axes: chart.Axes, pair: chart.Pair) -> str:
    y = axes.y(pair[1])
    return svg.line(axes.x(pair[0]), y, 536, y, stroke=palette.INK, stroke_width="1", stroke_dasharray="3 3")


def _limit_band(axes: chart.Axes, lowest: float, limit: float) -> str:
    y = axes.y(lowest + limit)
    return svg.line(
        axes.left, y, axes.right, y, stroke=palette.VERMILLION, stroke_width="2", stroke_dasharray="9 4", data_part="limit"
    ) + svg.text(
        axes.left + 6, y - 7, f"limit: {words.mm(limit)} above the lowest", size=13, fill=palette.VERMILLION_TEXT
    )


def _told(what: str, points: list[chart.Pair], unit: str) -> str:
    told = ", ".join(f"{value:.2f} at {angle:g} degrees" for angle, value in points)
    return f"{what} round the rotor, in {unit}: {told}."


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
    """Draw thickness readings round the rotor: against both limits, and again magnified.

    Args:
        angles_deg: where each reading was taken, in degrees, 0 to below 360.
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
    discard, machine_to = finite(discard_mm, "discard thickness in mm"), finite(machine_to_mm, "machine-to thickness in mm")
    if not machine_to > discard > 0:
        raise ValueError(
            f"The machine-to thickness must be above the discard thickness, and both above 0 mm, "
            f"but they were {machine_to:g} and {discard:g}."
        )
    thinnest, thickest = _ends(points)
    values = [value for _, value in points]
    variation, smallest = thickness_variation_mm(values), smallest_mm(values)
    whole = chart.round_axes(78, 520, 40, 190, min(discard, smallest), max(machine_to, thickest[1]))
    large = chart.round_axes(78, 520, 250, 400, smallest, thickest[1])
    label = ["variation"] + (_two_lines(variation) if tell_variation else [])
    body = (
        chart.grid(whole, points, unit="mm")
        + _limit_line(whole, discard, "discard thickness", palette.VERMILLION, palette.VERMILLION_TEXT)
        + _limit_line(whole, machine_to, "machine to", palette.BLUE, palette.BLUE_TEXT)
        + chart.round_the_rotor(whole, points)
        + chart.grid(large, points, unit="mm")
        + _level(large, thickest)
        + _level(large, thinnest)
        + chart.round_the_rotor(large, points)
        + chart.named_point(large, thickest, "thickest", above=True)
        + chart.named_point(large, thinnest, "thinnest", above=False)
        + chart.bracket(536, large.y(thickest[1]), large.y(thinnest[1]))
        + _label(546, (large.y(thickest[1]) + large.y(thinnest[1])) / 2, label)
    )
    desc = (
        _told("Thickness", points, "mm") + f" Thickest at {thickest[0]:g} degrees, thinnest at {thinnest[0]:g} degrees. "
        f"The discard thickness is {words.mm(discard)}; machining may leave {words.mm(machine_to)} or more."
    )
    return svg.frame(WIDTH, 460, body, uid=uid, title=title, desc=desc)


def _limit_line(axes: chart.Axes, value: float, name: str, colour: str, ink: str) -> str:
    y = axes.y(value)
    return svg.line(
        axes.left, y, 528, y, stroke=colour, stroke_width="2", stroke_dasharray="9 4", data_part="limit"
    ) + svg.text(532, y - 1, name, size=13, fill=ink) + svg.text(532, y + 14, words.mm(value).split(" (")[0], size=13, fill=ink)
