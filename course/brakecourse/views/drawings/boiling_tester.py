"""A tester with a display for the boiling point of brake fluid, its heated probe in the fluid."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings._display import degrees_shown, digits_words, display
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._tester_glass import EDGE, case_defs, glass

LOWEST_C, HIGHEST_C = 50.0, 350.0
WIDTH, HEIGHT = 400, 500


def boiling_tester_svg(
    temp_c: float, *, fahrenheit: bool = False, uid: str, title: str = "Boiling-point tester"
) -> str:
    """Draw a tester with a display and its heated probe in the fluid.

    Args:
        temp_c: the boiling point that the tester found, in °C, 50 to 350. It shows whole degrees.
        fahrenheit: the display is set to °F.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells the digits on the display one by one.

    Raises:
        ValueError: the temperature is no number or out of range, or the setting is not True or False.

    Source:
        Conversion by :func:`brakecourse.published.convert`; the rest is common practice, no source.

    Example:
        >>> boiling_tester_svg(183, uid="f2").startswith("<svg")
        True
    """
    temperature = within(temp_c, "boiling point in °C", LOWEST_C, HIGHEST_C)
    shown, unit = degrees_shown(temperature, fahrenheit)
    svg.check_uid(uid)
    steel = f"url(#{uid}-steel)"
    probe = (
        svg.rect(192, 330, 16, 122, fill=steel, **EDGE)
        + svg.path(
            "M", 188, 440, "h", 24, "v", 24, "q", 0, 8, -12, 8, "q", -12, 0, -12, -8, "Z", fill=steel, **EDGE
        )
        + svg.strokes(
            [(190, 448, 210, 448), (190, 454, 210, 454), (190, 460, 210, 460)],
            stroke=palette.STEEL_EDGE,
            stroke_width="1.4",
        )
    )
    body = (
        probe
        + glass()
        + _bubbles()
        + _grip(uid)
        + display(84, 62, 232, 124, shown, unit, places=3, digit=38)
        + svg.text(200, 222, "boiling point", size=17, anchor="middle")
        + svg.text(200, 244, f"set to {unit}", size=15, anchor="middle")
    )
    desc = (
        "A hand tester with a display, its heated probe dipped into brake fluid in a glass, with bubbles "
        f"round the tip. The display shows {digits_words(shown)}, and the unit {unit}."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=case_defs(uid))


def _grip(uid: str) -> str:
    """Draw the body of the display instrument."""
    ribs = [(150.0, y, 250.0, y) for y in (286.0, 296.0, 306.0, 316.0)]
    return svg.path(
        *("M", 70, 26, "H", 330, "q", 16, 0, 16, 16, "V", 246, "q", 0, 20, -20, 22, "L", 262, 276),
        *("V", 322, "q", 0, 14, -14, 14, "H", 152, "q", -14, 0, -14, -14, "V", 276, "L", 74, 268),
        *("q", -20, -2, -20, -22, "V", 42, "q", 0, -16, 16, -16, "Z"),
        fill=f"url(#{uid}-case)",
        **EDGE,
    ) + svg.strokes(ribs, stroke=palette.STEEL_DARK, stroke_width="3", stroke_linecap="round")


def _bubbles() -> str:
    spots = (
        (180.0, 452.0, 4.0),
        (222.0, 446.0, 5.0),
        (174.0, 436.0, 3.0),
        (230.0, 433.0, 3.5),
        (216.0, 464.0, 3.0),
    )
    return "".join(
        svg.circle(
            x,
            y,
            radius,
            fill=palette.CHALK,
            fill_opacity="0.8",
            stroke=palette.STEEL_DARK,
            stroke_width="0.8",
        )
        for x, y, radius in spots
    )
