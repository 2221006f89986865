"""One pad, turned to any side, with a depth gauge standing at one of its corners."""

from __future__ import annotations

from html import unescape

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._inset import description, inset
from brakecourse.views.drawings._pad_edge import EDGE, PLATE_LIP_MM, edge_defs, pad_edge
from brakecourse.views.drawings._pad_face import face_defs, face_height_mm, pad_face
from brakecourse.views.drawings._pad_shape import EAR_MM, STRIP_MM, VIEWS, DrawnPad, ends_of
from brakecourse.views.drawings._pad_words import face_words, slope_words
from brakecourse.views.drawings.depth_gauge import depth_gauge_svg

WIDTH, HEIGHT = 600, 508
TOP_TALL = 222.0
DIAL = 276.0
SCALE_END_MM = (15.0, 20.0)
SEEN_FROM = (*VIEWS, "face")
ENDS, EDGES = ("leading", "trailing"), ("outer", "inner")
SOFT = {"fill": palette.INK_SOFT}


def pad_measured_svg(
    pad: DrawnPad,
    seen_from: str,
    end: str,
    edge: str,
    shown_mm: float,
    *,
    which: str = "pad",
    uid: str,
    title: str = "A pad and the depth gauge",
) -> str:
    """Draw a pad from one side with the depth gauge at a corner, the gauge's dial, and where the corner is.

    Args:
        pad: the pad.
        seen_from: ``"inner edge"``, ``"trailing end"``, ``"outer edge"``, ``"leading end"`` or ``"face"``.
        end: the gauge's corner: ``"leading"`` or ``"trailing"``.
        edge: and ``"outer"`` or ``"inner"``.
        shown_mm: what the gauge shows there, in mm.
        which: what the pad is called.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. The pad is at true proportion. Its description tells where the needle stands, no reading.

    Raises:
        ValueError: an argument is none of these, or a length is no number or out of range.

    Source:
        Common practice, no source.
    """
    if not isinstance(pad, DrawnPad):
        raise ValueError(f"The pad must be a DrawnPad, but it was {pad!r:.60}.")
    for value, allowed, what in (
        (seen_from, SEEN_FROM, "side that a pad is seen from"),
        (end, ENDS, "end of a pad"),
        (edge, EDGES, "edge of a pad"),
    ):
        if value not in allowed:
            raise ValueError(f"The {what} must be one of {', '.join(allowed)}, but it was {value!r:.40}.")
    full = next((one for one in SCALE_END_MM if one >= pad.new_mm + 1), SCALE_END_MM[-1])
    shown = within(shown_mm, "lining thickness in mm", 0, full)
    svg.check_uid(uid)
    gauge = depth_gauge_svg(shown, full_mm=full, uid=f"{uid}-gauge")
    view = _on_face(pad, end, edge, uid) if seen_from == "face" else _on_edge(pad, seen_from, end, edge, uid)
    body = (
        svg.text(20, 28, f"The {which}, {_from(seen_from)}", size=18, font_weight="bold")
        + view
        + svg.line(20, TOP_TALL, WIDTH - 20, TOP_TALL, stroke=palette.RULE, stroke_width="1")
        + inset(gauge, 14, TOP_TALL + 6, DIAL, DIAL * 312 / 318, "40 4 318 312")
        + _map(pad, which, end, edge, uid)
    )
    return svg.frame(
        WIDTH,
        HEIGHT,
        body,
        uid=uid,
        title=title,
        desc=_desc(pad, which, seen_from, end, edge, unescape(description(gauge))),
        defs=edge_defs(uid) + face_defs(uid) + _defs(uid),
    )


def _from(seen_from: str) -> str:
    return "seen on its face" if seen_from == "face" else f"seen from its {seen_from}"


def _on_edge(pad: DrawnPad, view: str, end: str, edge: str, uid: str) -> str:
    width = pad.length_mm if view.endswith("edge") else pad.height_mm
    reach = EAR_MM if view.endswith("edge") else PLATE_LIP_MM
    scale = min(3.0, 540 / (width + 2 * reach), 132 / (pad.new_mm + 32.5))
    x, y = (WIDTH - scale * width) / 2, 178.0
    left, right = ends_of(view)
    here = end if view.endswith("edge") else edge
    at_left = left.startswith(here)
    near = view.startswith(edge if view.endswith("edge") else end)
    tool = _tool(x if at_left else x + scale * width, y, pad.corner(end, edge), scale, at_left, view, uid)
    drawn = pad_edge(pad, view, x, y, scale, uid)
    words_y = y + scale * pad.plate_mm + 20
    return (
        (drawn + tool if near else tool + drawn)
        + svg.text(x - 12, words_y, left, size=17, anchor="middle" if width < 100 else "start", **SOFT)
        + svg.text(
            x + scale * width + 12, words_y, right, size=17, anchor="middle" if width < 100 else "end", **SOFT
        )
        + svg.text(
            WIDTH - 20,
            28,
            "gauge in front" if near else "gauge behind",
            size=17,
            anchor="end",
            **SOFT,
        )
    )


def _tool(x: float, y: float, lining: float, scale: float, at_left: bool, view: str, uid: str) -> str:
    """The gauge in place: foot on the face, pin down to the plate beside the lining's end."""
    way = 1 if at_left else -1
    face = y - scale * lining
    long = view.endswith("edge")
    pin_x = x - way * 2.4 * scale if long else x + way * 4 * scale
    first, last = sorted((pin_x - way * 3 * scale, pin_x + way * 24 * scale))
    middle = pin_x + way * 4 * scale
    steel = {"fill": f"url(#{uid}-tool)", **EDGE}
    return (
        svg.rect(
            pin_x - 0.8 * scale,
            face - 2 * scale,
            1.6 * scale,
            y - face + 2 * scale,
            data_part="gauge-pin",
            **steel,
        )
        + svg.rect(
            first, face - 3.4 * scale, last - first, 3.4 * scale, rx="1.5", data_part="gauge-foot", **steel
        )
        + svg.rect(middle - 2.2 * scale, face - 10 * scale, 4.4 * scale, 6.8 * scale, **steel)
        + svg.circle(middle, face - 21 * scale, 11.5 * scale, **steel)
        + svg.circle(middle, face - 21 * scale, 9.6 * scale, fill=palette.DIAL_FACE, **EDGE)
        + svg.text(middle, face - 20 * scale + 2, "mm", size=12, anchor="middle", **SOFT)
    )


def _on_face(pad: DrawnPad, end: str, edge: str, uid: str) -> str:
    scale = min(3.6, 530 / (pad.length_mm + 2 * EAR_MM), 134 / face_height_mm(pad))
    x = (WIDTH - scale * pad.length_mm) / 2
    y = 56.0
    low = y + scale * face_height_mm(pad)
    return (
        pad_face(pad, x, y, scale, uid)
        + _spot(pad, x, y, scale, end, edge)
        + svg.text(x, low + 20, "leading end", size=17, **SOFT)
        + svg.text(x + scale * pad.length_mm, low + 20, "trailing end", size=17, anchor="end", **SOFT)
        + svg.text(WIDTH / 2, y - 8, "outer edge", size=17, anchor="middle", **SOFT)
        + svg.text(WIDTH / 2, low + 14, "inner edge", size=17, anchor="middle", **SOFT)
    )


def _spot(pad: DrawnPad, x: float, y: float, scale: float, end: str, edge: str) -> str:
    """Ring the corner where the gauge stands."""
    in_from = 9.0
    arch = face_height_mm(pad) - pad.height_mm
    across = in_from if end == "leading" else pad.length_mm - in_from
    share = across / pad.length_mm
    bulge = arch * (1 - 4 * share * (1 - share))
    down = STRIP_MM + 5 if edge == "outer" else pad.height_mm - 8
    spot = (x + scale * across, y + scale * (bulge + down))
    return svg.circle(*spot, 5.4 * scale, fill="none", stroke=palette.PAPER, stroke_width="5") + svg.circle(
        *spot, 5.4 * scale, fill="none", stroke=palette.BLUE, stroke_width="2.6", data_part="spot"
    )


def _map(pad: DrawnPad, which: str, end: str, edge: str, uid: str) -> str:
    """A small face that tells where the gauge stands."""
    scale = min(1.7, 236 / (pad.length_mm + 2 * EAR_MM))
    x = 328 + scale * EAR_MM
    y = TOP_TALL + 76
    low = y + scale * face_height_mm(pad)
    return (
        svg.text(320, TOP_TALL + 30, "The gauge stands at the", size=17)
        + svg.text(320, TOP_TALL + 52, f"{end} end, {edge} edge", size=17, font_weight="bold")
        + pad_face(pad, x, y, scale, uid, name="map")
        + _spot(pad, x, y, scale, end, edge)
        + svg.text(x, low + 18, "leading", size=16, **SOFT)
        + svg.text(x + scale * pad.length_mm, low + 18, "trailing", size=16, anchor="end", **SOFT)
        + svg.text(320, low + 50, "Needle: lining alone, from", size=17, **SOFT)
        + svg.text(320, low + 72, "its face to the steel plate.", size=17, **SOFT)
        + svg.text(320, low + 94, "One line is 0.1 mm.", size=17, **SOFT)
    )


def _desc(pad: DrawnPad, which: str, seen_from: str, end: str, edge: str, gauge: str) -> str:
    if seen_from == "face":
        seen = f"The {which} is seen on its face, which {face_words(pad)}."
    else:
        near, _ = pad.sides(seen_from)
        seen = (
            f"The {which} lies on its steel plate, seen from its {seen_from}. "
            f"The near side of its lining is {slope_words(*near, ends_of(seen_from))}."
        )
    return f"{seen} The gauge stands at the {end} end, {edge} edge. {gauge}"


def _defs(uid: str) -> str:
    bright = [
        (0, palette.STEEL_DARK),
        (0.35, palette.STEEL_WHITE),
        (0.7, palette.STEEL),
        (1, palette.STEEL_DARK),
    ]
    return svg.gradient(f"{uid}-tool", bright, across=True)
