"""A dial indicator set up on a rotor that is turned by hand, place by place."""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings import _rotor_views as rotor
from brakecourse.views.drawings import dial
from brakecourse.views.drawings._dial_words import describe
from brakecourse.views.drawings._inputs import finite

WIDTH, HEIGHT = 640, 424
DIAL_SCALE = 0.72
TOUCH_Y = rotor.CENTRE[1] - rotor.TOUCH_RADIUS
DIAL_X = rotor.FACE_X + dial.TIP_Y * DIAL_SCALE


def dial_on_rotor_svg(
    reading_mm: float,
    angle_deg: float,
    *,
    uid: str,
    title: str = "Dial indicator on the rotor",
    studs: int = 5,
    nuts_fitted: bool = True,
) -> str:
    """Draw the rotor from the front, turned to an angle, and from the side with the dial on its face.

    Args:
        reading_mm: what the dial indicates there, in mm, from -5 to 5.
        angle_deg: how far the rotor is turned from place 1, in degrees. Place 2 comes to the dial at 45.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.
        studs: wheel studs of the hub, 3 to 10.
        nuts_fitted: wheel nuts hold the rotor to the hub; without them it hangs loose.

    Returns:
        SVG text. Its description tells the angle and where the needle stands, never the reading.

    Raises:
        ValueError: a number is no number or out of range.

    Source:
        Set-up: common practice, no source.

    Example:
        >>> "Turned 45°" in dial_on_rotor_svg(0.02, 45, uid="r1")
        True
    """
    reading = dial.dial_reading(reading_mm)
    angle = finite(angle_deg, "angle in degrees") % 360
    if isinstance(studs, bool) or not isinstance(studs, int) or not 3 <= studs <= 10:
        raise ValueError(
            f"The number of wheel studs must be a whole number from 3 to 10, but it was {studs!r}."
        )
    svg.check_uid(uid)
    turned, place, nuts = _words(angle, nuts_fitted)
    body = (
        _stand()
        + rotor.front(angle, studs, nuts_fitted, uid)
        + rotor.side(angle, studs, nuts_fitted, reading * dial.PX_PER_MM * DIAL_SCALE, uid)
        + _dial(reading, uid)
        + _links()
        + svg.text(20, 40, turned, size=20, font_weight="bold")
        + svg.text(20, 64, place, size=16)
        + svg.text(20, 88, nuts, size=16)
        + _notes()
    )
    desc = (
        f"A rotor seen from the front and from the side. {turned}: {place}. {nuts[0].upper()}{nuts[1:]}. "
        f"The dial's stem is square to the face, near the outer edge but in from it. {describe(reading)}"
    )
    return svg.frame(
        WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=dial.defs(uid) + rotor.defs(uid)
    )


def _words(angle: float, nuts_fitted: bool) -> tuple[str, str, str]:
    place = angle / rotor.PLACE_DEG
    nearest = round(place)
    if math.isclose(place, nearest, abs_tol=0.01):
        where = f"place {nearest % rotor.PLACES + 1} at the dial"
    else:
        lower = math.floor(place)
        where = f"between place {lower % rotor.PLACES + 1} and place {(lower + 1) % rotor.PLACES + 1}"
    nuts = "all wheel nuts fitted and snug" if nuts_fitted else "wheel nuts off, rotor hangs loose"
    return f"Turned {angle:.4g}°", where, nuts


def _dial(reading: float, uid: str) -> str:
    # The stem is drawn pointing down; a quarter turn makes it point left, at the rotor.
    return svg.group(
        svg.group(dial.stem(reading, uid), transform="rotate(90)") + dial.face(reading, uid),
        transform=f"translate({svg.num(DIAL_X)} {svg.num(TOUCH_Y)}) scale({DIAL_SCALE})",
    )


def _stand() -> str:
    """Draw the rod that holds the dial by its stem, and the clamp that holds the rod."""
    x = DIAL_X - DIAL_SCALE * 207
    look = {"fill": palette.STEEL_MID, "stroke": palette.STEEL_EDGE, "stroke_width": "1.2"}
    return (
        svg.rect(x - 4, TOUCH_Y, 8, HEIGHT - 46 - TOUCH_Y, **look)
        + svg.rect(x - 11, TOUCH_Y - 13, 22, 26, rx="4", **look)
        + svg.rect(x - 20, HEIGHT - 50, 44, 30, rx="3", fill=palette.STEEL_DARK, stroke=palette.STEEL_EDGE)
    )


def _links() -> str:
    x, y = rotor.CENTRE[0], TOUCH_Y
    accent = {"fill": "none", "stroke": palette.VERMILLION_TEXT}
    return svg.line(
        x + 8, y, rotor.FACE_X - 24, y, stroke_width="1", stroke_dasharray="5 4", **accent
    ) + svg.circle(x, y, 6, stroke_width="2.5", data_part="touch", **accent)


def _notes() -> str:
    rows = (
        "ring: the dial's tip touches here",
        "white line: chalk mark at place 1",
        "dial drawn larger than the rotor",
    )
    notes = "".join(
        svg.text(396, 330 + 20 * row, words, size=13, fill=palette.INK_SOFT) for row, words in enumerate(rows)
    )
    return notes + svg.text(396, 402, "stand clamped to a fixed part", size=13, fill=palette.INK_SOFT)
