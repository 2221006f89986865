"""A bolt or stud that clamps two parts, cut along its middle, and its head or nut seen from the end."""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings._hatch import steel_cut
from brakecourse.views.drawings._inputs import within

WIDTH, HEIGHT = 480, 290
PX = 4.6  # one millimetre
AXIS_Y = 134.0
LEFT = 26.0
CLAMPED_MM, HELD_MM = 16.0, 20.0
HEAD_SHARE, NUT_SHARE = 0.62, 0.85  # of the thread: how high a head and a nut are
FLATS_SHARE = 1.5  # of the thread: across the flats; about that of the usual hexagons (from memory)
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}
LINE = {"stroke": palette.INK_SOFT, "stroke_width": "1"}


def clamped_bolt_svg(
    diameter_mm: float,
    pitch_mm: float,
    mark: str,
    *,
    uid: str,
    nut: bool = False,
    title: str = "A bolt that clamps two parts",
) -> str:
    """Draw a bolt in its two parts to scale, and the class mark on its end.

    Args:
        diameter_mm: thread, mm, 6 to 20.
        pitch_mm: from thread to thread, mm, 0.75 to 3.
        mark: the class as it stands on the head, e.g. ``"8.8"``.
        uid: a word that no other drawing on the page has.
        nut: a stud with a nut, as on a wheel, instead of a bolt with a head.
        title: the name that a screen reader says.

    Returns:
        SVG text.

    Raises:
        ValueError: a size is out of its range, or the mark is no text.

    Source:
        Common practice, no source; the thread is a sharp profile at its true pitch.

    Example:
        >>> "M12" in clamped_bolt_svg(12, 1.5, "10.9", uid="b1")
        True
    """
    diameter = within(diameter_mm, "thread diameter in mm", 6, 20)
    pitch = within(pitch_mm, "thread pitch in mm", 0.75, 3)
    if not isinstance(mark, str) or not mark.strip():
        raise ValueError(f"The mark on the bolt must be some words, but it was {mark!r}.")
    body = (
        (_stud if nut else _bolt)(diameter, pitch, uid)
        + _end(diameter, mark, nut, uid)
        + _words(diameter, pitch, nut)
    )
    what = "A wheel stud with its nut" if nut else "A bolt"
    desc = (
        f"{what}, cut along its middle, clamps two parts; two arrows show how it presses them together. Its "
        f"thread is M{diameter:g} with a pitch of {pitch:g} millimetres. Seen from its end, it carries "
        f"the mark {mark}."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _block(x: float, width: float, half: float, uid: str, hole: float) -> str:
    """Draw a part cut through above and below the bolt."""
    drawn = ""
    for y, height in ((AXIS_Y - half, half - hole), (AXIS_Y + hole, half - hole)):
        drawn += svg.rect(x, y, width, height, fill=palette.IRON, **EDGE)
        drawn += svg.rect(x, y, width, height, fill=f"url(#{uid}-steel-cut)")
    return drawn


def _threads(start: float, end: float, half: float, pitch: float, uid: str) -> str:
    """Draw a threaded rod from the side: teeth above and below, and a slanted line for each thread."""
    step, deep = pitch * PX, pitch * PX * 0.61
    turns = max(1, round((end - start) / step))
    step = (end - start) / turns
    top, bottom, slants = [], [], []
    for place in range(turns):
        x = start + place * step
        top += [(x, AXIS_Y - half + deep), (x + step / 2, AXIS_Y - half)]
        bottom += [(x, AXIS_Y + half), (x + step / 2, AXIS_Y + half - deep)]
        slants.append((x + step / 2, AXIS_Y - half + 0.5, x + step, AXIS_Y + half - 0.5))
    top.append((end, AXIS_Y - half + deep))
    bottom.append((end, AXIS_Y + half))
    outline = svg.polygon([*top, *reversed(bottom)], fill=f"url(#{uid}-rod)", data_part="thread", **EDGE)
    return outline + svg.strokes(slants, stroke=palette.STEEL_DARK, stroke_width="0.9", data_part="turns")


def _bolt(diameter: float, pitch: float, uid: str) -> str:
    half, head = diameter * PX / 2, diameter * HEAD_SHARE * PX
    flats = diameter * FLATS_SHARE * PX
    seat = LEFT + head
    split, end = seat + CLAMPED_MM * PX, seat + (CLAMPED_MM + HELD_MM) * PX
    outer = flats / 2 + 26
    parts = _block(seat + 6, split - seat - 6, outer, uid, half + 2) + _block(
        split, end - split, outer, uid, half
    )
    shank = svg.rect(seat, AXIS_Y - half, split - seat - 8, 2 * half, fill=f"url(#{uid}-rod)", **EDGE)
    washer = svg.rect(seat, AXIS_Y - flats / 2 - 4, 6, flats + 8, rx="1.5", fill=palette.STEEL_LIGHT, **EDGE)
    return (
        parts
        + _threads(split - 8, end + 6, half, pitch, uid)
        + shank
        + _hexagon(LEFT, head, flats, uid)
        + washer
        + _clamp(seat + 6, split, end, outer)
    )


def _stud(diameter: float, pitch: float, uid: str) -> str:
    half, nut = diameter * PX / 2, diameter * NUT_SHARE * PX
    flats = diameter * FLATS_SHARE * PX
    outer = flats / 2 + 26
    head = 5 * PX
    hub, split = LEFT + head, LEFT + head + 11 * PX
    seat = split + 11 * PX
    cone = 5 * PX
    parts = _block(hub, split - hub, outer, uid, half) + _block(split, seat - split, outer, uid, half + 3)
    knob = svg.rect(LEFT, AXIS_Y - half - 9, head, 2 * half + 18, rx="4", fill=f"url(#{uid}-rod)", **EDGE)
    shank = svg.rect(hub, AXIS_Y - half, split - hub, 2 * half, fill=f"url(#{uid}-rod)", **EDGE)
    taper = [
        (seat - cone, AXIS_Y - half - 2), (seat + 2, AXIS_Y - flats / 2), (seat + 2, AXIS_Y + flats / 2),
        (seat - cone, AXIS_Y + half + 2),
    ]  # fmt: skip
    return (
        parts
        + knob
        + _threads(split - 6, seat + nut + 10, half, pitch, uid)
        + shank
        + svg.polygon(taper, fill=palette.STEEL_LIGHT, **EDGE)
        + _hexagon(seat + 2, nut, flats, uid)
        + _clamp(hub, split, seat, outer)
    )


def _hexagon(x: float, width: float, flats: float, uid: str) -> str:
    """Draw a hexagon from the side, two of its faces and half of two more."""
    corner = flats / math.cos(math.pi / 6) / 2
    box = svg.rect(
        x, AXIS_Y - corner, width, 2 * corner, rx="3", fill=f"url(#{uid}-rod)", data_part="hexagon", **EDGE
    )
    folds = [
        (x + 2, AXIS_Y + side * corner / 2, x + width - 2, AXIS_Y + side * corner / 2) for side in (-1, 1)
    ]
    return box + svg.strokes(folds, stroke=palette.STEEL_DARK, stroke_width="1.1")


def _clamp(left: float, split: float, right: float, outer: float) -> str:
    """Draw the pair of arrows that press the parts together, and the line between them."""
    drawn = svg.line(
        split, AXIS_Y - outer - 6, split, AXIS_Y - outer + 14, stroke=palette.INK, stroke_width="1.4"
    )
    y = AXIS_Y - outer - 14
    for tip, side in ((split - 5, -1), (split + 5, 1)):
        drawn += svg.line(
            tip + side * 34, y, tip + side * 9, y, stroke=palette.VERMILLION, stroke_width="3.4"
        )
        drawn += svg.polygon(
            [(tip, y), (tip + side * 11, y - 5), (tip + side * 11, y + 5)], fill=palette.VERMILLION
        )
    return drawn + svg.text(split, y - 10, "clamp load", size=15, anchor="middle")


def _end(diameter: float, mark: str, nut: bool, uid: str) -> str:
    """Draw head or nut from the end with the class mark."""
    x = WIDTH - 92.0
    flats = diameter * FLATS_SHARE * PX
    corner = flats / math.cos(math.pi / 6) / 2
    corners = [
        (x + corner * math.sin(math.pi / 3 * k), AXIS_Y - corner * math.cos(math.pi / 3 * k))
        for k in range(6)
    ]
    face = svg.circle(
        x, AXIS_Y, diameter * PX / 2 if nut else flats / 2 - 2, fill=palette.STEEL_WHITE, **EDGE
    )
    label = svg.text(x, AXIS_Y + 6, mark, size=16, anchor="middle", font_weight="bold", data_part="mark")
    washer = svg.circle(x, AXIS_Y, corner + 5, fill=palette.STEEL_MID, **EDGE)
    words = ("nut and stud", "from the end") if nut else ("head", "from the end")
    named = "".join(
        svg.text(x, AXIS_Y + corner + 26 + 18 * row, one, size=15, anchor="middle")
        for row, one in enumerate(words)
    )
    return washer + svg.polygon(corners, fill=f"url(#{uid}-face)", **EDGE) + face + label + named


def _words(diameter: float, pitch: float, nut: bool) -> str:
    y = HEIGHT - 18
    return svg.text(
        LEFT, y, f"{'stud' if nut else 'bolt'} M{diameter:g} × {pitch:g}", size=16, font_weight="bold"
    )


def _defs(uid: str) -> str:
    round_bar = (
        (0, palette.STEEL_DARK),
        (0.25, palette.STEEL_LIGHT),
        (0.45, palette.STEEL_WHITE),
        (1, palette.STEEL_DARK),
    )
    return (
        steel_cut(uid)
        + svg.gradient(f"{uid}-rod", round_bar)
        + svg.gradient(f"{uid}-face", ((0, palette.STEEL_LIGHT), (1, palette.STEEL_MID)))
    )
