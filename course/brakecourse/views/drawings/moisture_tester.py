"""A tester with a needle for the water in brake fluid, its two pins in the fluid."""

from __future__ import annotations

from functools import cache

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._line_words import stands
from brakecourse.views.drawings._round import Ring, Sweep, around, needle, ring
from brakecourse.views.drawings._tester_glass import EDGE, case_defs, glass

FULL_PERCENT, LINE_PERCENT, LINES_PER_NUMBER = 4.0, 0.1, 10
WIDTH, HEIGHT = 400, 500
PIVOT = (200.0, 268.0)
SWEEP = Sweep(0, FULL_PERCENT, -52, 52)


def moisture_tester_svg(percent: float, *, uid: str, title: str = "Water tester") -> str:
    """Draw a needle tester with its two pins in the fluid.

    Args:
        percent: what the tester indicates: water in the fluid, in % by mass, 0 to 4.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells where the needle stands, never the reading.

    Raises:
        ValueError: the reading is no number, or off the scale.

    Source:
        Scale of the tester: common practice, no source.

    Example:
        >>> moisture_tester_svg(2.3, uid="f1").startswith("<svg")
        True
    """
    reading = within(percent, "water content in %", 0, FULL_PERCENT)
    svg.check_uid(uid)
    meter = svg.group(
        _scale() + needle(SWEEP.angle(reading), 190, 0, 4) + svg.circle(0, 0, 15, fill=palette.RUBBER),
        transform=f"translate({svg.num(PIVOT[0])} {svg.num(PIVOT[1])})",
    )
    window = svg.rect(34, 44, 332, 196, rx="12", fill=palette.DIAL_FACE, data_part="face", **EDGE)
    clip = svg.tag("clipPath", svg.rect(34, 44, 332, 196, rx="12"), id=f"{uid}-window")
    pins = "".join(
        svg.rect(x, 360, 7, 108, rx="3", fill=f"url(#{uid}-steel)", data_part="pin", **EDGE)
        for x in (178.0, 215.0)
    )
    body = (
        pins
        + glass()
        + _case(uid)
        + clip
        + window
        + svg.group(meter, clip_path=f"url(#{uid}-window)")
        + svg.text(200, 286, "water in the fluid, % by mass", size=16, anchor="middle", fill=palette.INK)
    )
    desc = (
        "A hand tester with a needle, its two metal pins dipped into brake fluid in a glass. The scale goes "
        "from 0 to 4 percent of water by mass, with ten lines from number to number. The needle stands "
        f"{stands(reading, LINE_PERCENT, LINES_PER_NUMBER)}."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=case_defs(uid))


@cache
def _scale() -> str:
    rim = [around(SWEEP.angle(place / 10), 184) for place in range(41)]
    return (
        svg.polyline(rim, stroke=palette.INK, stroke_width="1.4")
        + ring(SWEEP, Ring(LINE_PERCENT, LINES_PER_NUMBER, 184, 26, 138, 24, name="percent"))
        + svg.text(136, -48, "%", size=22, anchor="middle", font_weight="bold")
    )


def _case(uid: str) -> str:
    """Draw the case with its rim, and the collar that holds the pins."""
    return (
        svg.path(
            *("M", 30, 24, "H", 370, "q", 14, 0, 14, 14, "V", 262, "q", 0, 44, -44, 44, "H", 246),
            *("L", 236, 364, "H", 164, "L", 154, 306, "H", 60, "q", -44, 0, -44, -44, "V", 38),
            *("q", 0, -14, 14, -14, "Z"),
            fill=f"url(#{uid}-case)",
            **EDGE,
        )
        + svg.rect(150, 318, 100, 6, rx="3", fill=palette.STEEL_DARK)
        + svg.rect(153, 332, 94, 6, rx="3", fill=palette.STEEL_DARK)
        + svg.rect(28, 38, 344, 208, rx="15", fill=palette.STEEL_DARK, **EDGE)
    )
