"""A small display with digits of seven bars."""

from __future__ import annotations

from brakecourse.published import convert
from brakecourse.views import palette, svg

# Bars of a digit in a box one wide and two tall: across the top, middle and foot, then the four uprights.
_BARS: dict[str, tuple[svg.Point, svg.Point]] = {
    "a": ((0, 0), (1, 0)),
    "g": ((0, 1), (1, 1)),
    "d": ((0, 2), (1, 2)),
    "f": ((0, 0), (0, 1)),
    "b": ((1, 0), (1, 1)),
    "e": ((0, 1), (0, 2)),
    "c": ((1, 1), (1, 2)),
}
_LIT = {
    **{"0": "abcdef", "1": "bc", "2": "abged", "3": "abgcd", "4": "fgbc", "5": "afgcd", "6": "afgedc"},
    **{"7": "abc", "8": "abcdefg", "9": "abcdfg", "-": "g", " ": ""},
}


def display(
    x: float, y: float, width: float, height: float, shown: str, unit: str, *, places: int, digit: float
) -> str:
    """Draw a display.

    Args:
        x: left edge.
        y: upper edge.
        width: of the window.
        height: of the window.
        shown: digits, ``-`` and ``.`` only.
        unit: printed beside the digits.
        places: how many digits the display has. What is shown stands at their right.
        digit: width of one digit.

    Returns:
        SVG text. Every lit digit is a group of its own.
    """
    pitch, tall, thick = digit * 1.5, digit * 2, digit * 0.2
    unit_x = x + width - 10
    left = x + (width - places * pitch - len(unit) * 10) / 2 + digit * 0.1
    top = y + (height - tall) / 2
    cells = _cells(shown, places)
    ghosts = [
        bar for place in range(places) for bar in _bars("abcdefg", left + place * pitch, top, digit, thick)
    ]
    lit = "".join(_digit(cell, left + place * pitch, top, digit, thick) for place, cell in enumerate(cells))
    return (
        svg.rect(x - 3, y - 3, width + 6, height + 6, rx="7", fill=palette.RUBBER)
        + svg.rect(
            x, y, width, height, rx="4", fill=palette.DISPLAY, stroke=palette.STEEL_EDGE, stroke_width="1"
        )
        + svg.strokes(
            ghosts,
            stroke=palette.DISPLAY_SHADE,
            stroke_width=thick,
            stroke_opacity="0.7",
            stroke_linecap="round",
            data_part="ghost",
        )
        + lit
        + svg.text(unit_x, top + tall + thick / 2, unit, size=18, anchor="end", font_weight="bold")
    )


def _cells(shown: str, places: int) -> list[str]:
    """Split what is shown into digits, each with the point that follows it."""
    cells: list[str] = []
    for sign in shown:
        if sign == ".":
            cells[-1] += "."
        else:
            cells.append(sign)
    return [" "] * (places - len(cells)) + cells


def _digit(cell: str, x: float, y: float, digit: float, thick: float) -> str:
    bars = _bars(_LIT[cell[0]], 0, 0, digit, thick)
    point = ""
    if cell.endswith("."):
        point = svg.circle(digit * 1.25, 2 * digit, thick * 0.62, fill=palette.INK, data_part="point")
    lines = "".join(
        svg.line(*bar, stroke=palette.INK, stroke_width=thick, stroke_linecap="round", data_part="bar")
        for bar in bars
    )
    where = f"translate({svg.num(x)} {svg.num(y)})"
    return svg.group(lines + point, transform=where, data_part="digit") if lines or point else ""


def _bars(names: str, x: float, y: float, digit: float, thick: float) -> list[svg.Segment]:
    gap = thick * 0.68
    found = []
    for name in names:
        (x1, y1), (x2, y2) = _BARS[name]
        along, down = (gap, 0.0) if y1 == y2 else (0.0, gap)
        found.append(
            (x + x1 * digit + along, y + y1 * digit + down, x + x2 * digit - along, y + y2 * digit - down)
        )
    return found


def digits_words(shown: str) -> str:
    """Say what is shown sign by sign, so that a listener reads the display, too.

    Example:
        >>> digits_words("18.3")
        '1, 8, point, 3'
    """
    return ", ".join({".": "point", "-": "minus"}.get(sign, sign) for sign in shown)


def degrees_shown(temp_c: float, fahrenheit: bool) -> tuple[str, str]:
    """Return what a display of whole degrees shows, and its unit.

    Raises:
        ValueError: the setting is not True or False.

    Example:
        >>> degrees_shown(100.2, True)
        ('212', '°F')
    """
    if not isinstance(fahrenheit, bool):
        raise ValueError(f"The display's setting to °F must be True or False, but it was {fahrenheit!r:.40}.")
    value = convert(temp_c, "°C", "°F") if fahrenheit else temp_c
    return f"{round(value)}", "°F" if fahrenheit else "°C"
