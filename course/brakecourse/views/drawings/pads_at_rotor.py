"""Both pads of a wheel beside their rotor, and both faces: all at true proportion."""

from __future__ import annotations

from dataclasses import replace

from brakecourse.trade.pads import PadReading
from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._pad_edge import edge_defs, pad_edge
from brakecourse.views.drawings._pad_face import face_defs, face_height_mm, pad_face
from brakecourse.views.drawings._pad_shape import EAR_MM, DrawnPad, ends_of
from brakecourse.views.drawings._pad_words import face_words, slope_words

WIDTH = 600
GAP_MM = 2.5  # pads are drawn this far off the rotor
VANE_MM = 9.0
CHEEK_SHARE = 0.32
VENTED_FROM_MM = 18.0
RIDGE_MM = 3.5
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.1", "stroke_linejoin": "round"}
SOFT = {"fill": palette.INK_SOFT}


def pads_at_rotor_svg(
    inner: DrawnPad,
    outer: DrawnPad,
    *,
    rotor_mm: float,
    ridge_mm: float = 0.0,
    uid: str,
    title: str = "Both pads of the wheel",
) -> str:
    """Draw the two pads beside the rotor, seen from its rim and from the leading end, and both faces.

    Args:
        inner: the piston's pad.
        outer: the other one, of the same size.
        rotor_mm: thickness of the rotor, in mm, 4 to 50.
        ridge_mm: how far the ridge at the rim stands out, each side, in mm, 0 to 4.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Each view is at true proportion. Its description tells what is to be seen, no thickness.

    Raises:
        ValueError: a length is no number or out of range, or an argument is no pad.

    Source:
        Common practice, no source.
    """
    for pad, which in ((inner, "inner"), (outer, "outer")):
        if not isinstance(pad, DrawnPad):
            raise ValueError(f"The {which} pad must be a DrawnPad, but it was {pad!r:.60}.")
    rotor = within(rotor_mm, "thickness of the rotor in mm", 4, 50)
    ridge = within(ridge_mm, "ridge in mm", 0, 4)
    svg.check_uid(uid)
    scale = min(3.0, 470 / (inner.length_mm + 2 * EAR_MM))
    stack = rotor + 2 * (GAP_MM + inner.plate_mm + max(inner.new_mm, outer.new_mm) + 0.5)
    tall = scale * stack
    second = 74 + tall
    body = _from_rim(inner, outer, rotor, scale, 52, tall, uid)
    end_scale = min(2.7, 186 / stack)
    body += _from_end(inner, outer, rotor, ridge, end_scale, second, stack, uid)
    faces, bottom = _faces(inner, outer, second, uid)
    height = round(max(bottom, second + 66 + end_scale * (inner.height_mm + 14)))
    defs = edge_defs(uid) + face_defs(uid) + _defs(uid)
    return svg.frame(
        WIDTH, height, body + faces, uid=uid, title=title, desc=_desc(inner, outer, ridge), defs=defs
    )


def _from_rim(
    inner: DrawnPad, outer: DrawnPad, rotor: float, scale: float, top: float, tall: float, uid: str
) -> str:
    """Inner pad above, rotor, outer pad below; the leading ends at the left."""
    left = (WIDTH - scale * inner.length_mm) / 2
    middle = top + tall / 2
    half = scale * rotor / 2
    band = (20.0, middle - half, WIDTH - 40.0, 2 * half)
    drawn = _rotor_rim(band, rotor, scale, uid)
    # The lower pad is seen from the rim as well: its leading end stays at the left, so it is turned over.
    upper_y = middle - half - scale * (GAP_MM + max(inner.reading.corners_mm))
    lower_y = middle + half + scale * (GAP_MM + max(outer.reading.corners_mm))
    drawn += pad_edge(_turned(inner), "outer edge", left, upper_y, scale, uid, down=True, name="inner")
    drawn += pad_edge(_turned(outer), "outer edge", left, lower_y, scale, uid, name="outer")
    return (
        svg.text(20, 26, "Seen from the rotor's rim", size=18, font_weight="bold")
        + drawn
        + _label(WIDTH / 2, upper_y - scale * inner.plate_mm - 8, "inner pad (piston's side)")
        + _label(WIDTH / 2, lower_y + scale * outer.plate_mm + 18, "outer pad")
        + svg.rect(WIDTH / 2 - 104, middle - 12, 208, 24, rx="6", fill=palette.PAPER, fill_opacity="0.92")
        + svg.text(WIDTH / 2, middle + 5, "rotor turns this way →", size=16, anchor="middle")
        + _label(20, upper_y - scale * inner.plate_mm - 8, "leading end", "start")
        + _label(WIDTH - 20, upper_y - scale * inner.plate_mm - 8, "trailing end", "end")
    )


def _turned(pad: DrawnPad) -> DrawnPad:
    """Swap the ends, so that the leading end comes to the left in a view from the outer edge."""
    one = pad.reading
    swapped = PadReading(
        one.trailing_outer_mm, one.trailing_inner_mm, one.leading_outer_mm, one.leading_inner_mm, one.step_mm
    )
    return replace(pad, reading=swapped)


def _label(x: float, y: float, words: str, anchor: str = "middle") -> str:
    return svg.text(x, y, words, size=16, anchor=anchor, **SOFT)


def _rotor_rim(band: tuple[float, float, float, float], rotor: float, scale: float, uid: str) -> str:
    """The rotor's rim: two cheeks with vanes between them, or one plate."""
    x, y, width, height = band
    drawn = svg.rect(x, y, width, height, fill=f"url(#{uid}-rim)", data_part="rotor", **EDGE)
    if rotor >= VENTED_FROM_MM:
        cheek = height * CHEEK_SHARE
        drawn += svg.rect(x, y + cheek, width, height - 2 * cheek, fill=palette.STEEL_EDGE)
        step = scale * VANE_MM
        vanes = [
            (x + step * (one + 0.5), y + cheek, x + step * (one + 0.5), y + height - cheek)
            for one in range(int(width / step))
        ]
        drawn += svg.strokes(vanes, stroke=palette.STEEL_MID, stroke_width=svg.num(scale * 3))
    return drawn


def _from_end(
    inner: DrawnPad,
    outer: DrawnPad,
    rotor: float,
    ridge: float,
    scale: float,
    top: float,
    stack: float,
    uid: str,
) -> str:
    """Seen along the rotor from the leading end: outer pad at the left, the rotor's rim at the top."""
    middle, high = 130.0, top + 62
    half = scale * rotor / 2
    rides = max(inner.reading.step_mm, outer.reading.step_mm) > 0
    out = scale * (0.0 if rides else RIDGE_MM)
    low = high + scale * inner.height_mm + 12
    iron = svg.rect(
        middle - half,
        high - out,
        2 * half,
        low - high + out,
        fill=f"url(#{uid}-cheek)",
        data_part="rotor-end",
        **EDGE,
    )
    if ridge:
        for side in (-1, 1):
            x = middle + half if side > 0 else middle - half - scale * ridge
            iron += svg.rect(
                x, high - out, scale * ridge, scale * RIDGE_MM, fill=palette.RUST, data_part="ridge", **EDGE
            )
    # Drawn lying, then stood up: left becomes top, the upper pad comes to the right.
    reach_in = half + scale * (GAP_MM + max(inner.reading.corners_mm))
    reach_out = half + scale * (GAP_MM + max(outer.reading.corners_mm))
    lying = pad_edge(inner, "leading end", 0, -reach_in, scale, uid, down=True, name="inner-end") + pad_edge(
        outer, "leading end", 0, reach_out, scale, uid, name="outer-end"
    )
    stood = svg.group(lying, transform=f"translate({svg.num(middle)} {svg.num(high)}) rotate(90)")
    return (
        svg.text(20, top + 12, "From the leading end", size=18, font_weight="bold")
        + iron
        + stood
        + _label(min(middle - reach_out, middle - 44), top + 34, "outer pad")
        + _label(max(middle + reach_in, middle + 44), top + 34, "inner pad")
        + _label(middle, low + 20, "towards the hub")
    )


def _faces(inner: DrawnPad, outer: DrawnPad, top: float, uid: str) -> tuple[str, float]:
    """Both faces, one below the other, leading ends at the left."""
    scale = min(2.0, 200 / (inner.length_mm + 2 * EAR_MM))
    left = WIDTH - 24 - scale * (inner.length_mm + EAR_MM)
    tall = scale * face_height_mm(inner)
    drawn = svg.text(left - scale * EAR_MM, top + 12, "The faces", size=18, font_weight="bold")
    y = top + 40
    for pad, which in ((inner, "inner pad"), (outer, "outer pad")):
        drawn += svg.text(left - scale * EAR_MM, y - 6, which, size=16, **SOFT)
        drawn += pad_face(pad, left, y, scale, uid, name=which.replace(" pad", "-face"))
        y += tall + 27
    drawn += _label(left, y - 10, "leading", "start")  # "end" as well would not fit under a short pad
    return drawn + _label(left + scale * inner.length_mm, y - 10, "trailing", "end"), y + 2


def _desc(inner: DrawnPad, outer: DrawnPad, ridge: float) -> str:
    told = (
        "The two brake pads of a wheel stand a little off their rotor, steel plates outside, linings inside. "
        "They are seen from the rim and from the leading end, and both faces square on. "
    )
    for pad, which in ((inner, "inner"), (outer, "outer")):
        one = pad.reading
        long = slope_words(
            one.leading_outer_mm + one.leading_inner_mm,
            one.trailing_outer_mm + one.trailing_inner_mm,
            ends_of("inner edge"),
        )
        high = slope_words(
            one.leading_outer_mm + one.trailing_outer_mm,
            one.leading_inner_mm + one.trailing_inner_mm,
            ends_of("leading end"),
        )
        told += f"The {which} pad's lining is {long}, and {high}. Its face {face_words(pad)}. "
    means = (inner.mean_mm, outer.mean_mm)
    told += (
        "Both linings look about equally thick."
        if abs(means[0] - means[1]) < 0.5
        else f"The {'inner' if means[0] < means[1] else 'outer'} pad's lining is the thinner one."
    )
    return told + (" A rusty ridge stands at the rotor's rim." if ridge >= 0.5 else "")


def _defs(uid: str) -> str:
    return svg.gradient(
        f"{uid}-rim",
        [
            (0, palette.STEEL_DARK),
            (0.12, palette.STEEL_LIGHT),
            (0.88, palette.STEEL),
            (1, palette.STEEL_DARK),
        ],
    ) + svg.gradient(
        f"{uid}-cheek",
        [(0, palette.STEEL_DARK), (0.2, palette.STEEL_LIGHT), (0.8, palette.STEEL), (1, palette.STEEL_DARK)],
        across=True,
    )
