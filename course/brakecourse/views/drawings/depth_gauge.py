"""A lining depth gauge: its foot stands on the lining, its pin reaches down to the backing plate."""

from __future__ import annotations

from functools import cache

from brakecourse.views import palette, svg
from brakecourse.views.drawings._hatch import lining_cut, steel_cut
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._line_words import stands
from brakecourse.views.drawings._round import Ring, Sweep, needle, ring

LINE_MM, LINES_PER_NUMBER = 0.1, 10
SHORTEST_MM, LONGEST_MM = 5.0, 20.0

WIDTH, HEIGHT = 400, 506
CENTRE = (200.0, 162.0)
FOOT_Y, FOOT_HEIGHT = 346.0, 22.0
LINING_Y = FOOT_Y + FOOT_HEIGHT
LINING_LEFT, LINING_RIGHT = 212.0, 350.0
DEEPEST_PX = 96.0  # the whole scale, on the pad below
PLATE_PX = 32.0
PIN_X = 200.0
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}
LEADER = {"stroke": palette.INK_SOFT, "stroke_width": "1"}


def depth_gauge_svg(
    reading_mm: float, *, full_mm: float = 15, uid: str, title: str = "Lining depth gauge"
) -> str:
    """Draw a depth gauge standing on a pad that is cut through.

    Args:
        reading_mm: what the gauge indicates, in mm, 0 to the scale's end. The lining is drawn as thick.
        full_mm: end of the scale, in mm, 5 to 20. A line is 0.1 mm.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells where the needle stands, never the reading.

    Raises:
        ValueError: a length is no number or out of range.

    Source:
        Measuring the lining alone, from its face to the backing plate: common practice, no source.

    Example:
        >>> depth_gauge_svg(6.3, uid="q1").startswith("<svg")
        True
    """
    full = within(full_mm, "end of the depth scale in mm", SHORTEST_MM, LONGEST_MM)
    reading = within(reading_mm, "lining thickness in mm", 0, full)
    svg.check_uid(uid)
    plate_y = LINING_Y + reading * DEEPEST_PX / full
    dial = svg.group(
        _face(full, uid) + needle(_sweep(full).angle(reading), 128, 34, 4) + _hub(uid),
        transform=f"translate({svg.num(CENTRE[0])} {svg.num(CENTRE[1])})",
    )
    body = _pad(plate_y, uid) + _stem(plate_y, uid) + dial + _names(plate_y)
    desc = (
        "A depth gauge with a round scale in millimetres stands with its foot on the face of a brake pad's "
        "lining. Its pin reaches past the lining's edge down to the steel backing plate. The scale has a "
        f"line for each tenth of a millimetre. The needle "
        f"stands {stands(reading, LINE_MM, LINES_PER_NUMBER)}."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _sweep(full: float) -> Sweep:
    return Sweep(0, full, -150, 150)


@cache
def _lines(full: float) -> str:
    return ring(
        _sweep(full), Ring(LINE_MM, LINES_PER_NUMBER, 137, 22, 98, 18 if full <= 15 else 15, name="mm")
    )


def _face(full: float, uid: str) -> str:
    return (
        svg.circle(0, 0, 152, fill=f"url(#{uid}-bezel)", **EDGE)
        + svg.circle(0, 0, 143, fill=palette.DIAL_FACE, **EDGE)
        + _lines(full)
        + svg.text(0, 62, "lining, mm", size=15, anchor="middle", fill=palette.INK_SOFT)
        + svg.text(0, 82, "line: 0.1", size=14, anchor="middle", fill=palette.INK_SOFT)
    )


def _hub(uid: str) -> str:
    return svg.circle(0, 0, 10, fill=f"url(#{uid}-bezel)", **EDGE)


def _pad(plate_y: float, uid: str) -> str:
    """Draw the pad lying on its back: the lining, and the backing plate that stands out beside it."""
    lining = (LINING_LEFT, LINING_Y, LINING_RIGHT - LINING_LEFT, plate_y - LINING_Y)
    plate = (92.0, plate_y, 296.0, PLATE_PX)
    drawn = ""
    if plate_y > LINING_Y:
        drawn = _cut(lining, palette.LINING, f"{uid}-lining-cut", "lining")
    return drawn + _cut(plate, palette.STEEL_LIGHT, f"{uid}-steel-cut", "plate")


def _cut(box: tuple[float, float, float, float], fill: str, hatch: str, name: str) -> str:
    x, y, width, height = box
    return svg.rect(x, y, width, height, fill=fill, data_part=name, **EDGE) + svg.rect(
        x, y, width, height, fill=f"url(#{hatch})"
    )


def _stem(plate_y: float, uid: str) -> str:
    """Draw the pin down to the plate, the foot on the lining, and the stem up to the case."""
    steel = {"fill": f"url(#{uid}-steel)", **EDGE}
    return (
        svg.rect(PIN_X - 4, 300, 8, plate_y - 300, data_part="pin", **steel)
        + svg.rect(PIN_X - 13, 304, 26, 44, **steel)
        + svg.rect(110, FOOT_Y, 218, FOOT_HEIGHT, rx="2", fill=f"url(#{uid}-bar)", data_part="foot", **EDGE)
        + svg.circle(PIN_X + 20, 326, 7, fill=f"url(#{uid}-bezel)", **EDGE)
    )


def _names(plate_y: float) -> str:
    lining = ""
    if plate_y > LINING_Y:
        lining = svg.text(346, LINING_Y - 12, "lining", size=15) + svg.line(
            362, LINING_Y - 7, LINING_RIGHT - 10, (LINING_Y + plate_y) / 2, **LEADER
        )
    return (
        svg.text(8, LINING_Y - 4, "foot", size=15)
        + svg.line(42, LINING_Y - 9, 110, LINING_Y - 11, **LEADER)
        + svg.text(130, FOOT_Y - 12, "pin", size=15)
        + svg.line(154, FOOT_Y - 14, PIN_X - 2, LINING_Y + 3, **LEADER)
        + lining
        + svg.text(8, plate_y + 18, "backing", size=15)
        + svg.text(8, plate_y + 35, "plate", size=15)
        + svg.line(68, plate_y + 13, 98, plate_y + 13, **LEADER)
    )


def _defs(uid: str) -> str:
    bright = [(0, palette.STEEL_DARK), (0.3, palette.STEEL), (0.5, palette.STEEL_WHITE), (0.7, palette.STEEL)]
    return (
        svg.gradient(f"{uid}-steel", [*bright, (1, palette.STEEL_DARK)], across=True)
        + svg.gradient(
            f"{uid}-bar", [(0, palette.STEEL_WHITE), (0.5, palette.STEEL), (1, palette.STEEL_DARK)]
        )
        + svg.gradient(
            f"{uid}-bezel", [(0, palette.STEEL_WHITE), (0.5, palette.STEEL_MID), (1, palette.STEEL_DARK)]
        )
        + steel_cut(uid)
        + lining_cut(uid)
    )
