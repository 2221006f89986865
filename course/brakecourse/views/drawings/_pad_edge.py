"""A pad seen on edge: backing plate, the near side of the lining, and what of the far side looks over it."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings._hatch import lining_cut
from brakecourse.views.drawings._pad_shape import EAR_MM, SLOT_FLOOR_MM, SLOT_MM, STRIP_MM, DrawnPad

EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.1", "stroke_linejoin": "round"}
GROOVE_PITCH_MM = 3.0
PLATE_LIP_MM = 1.5  # how far the plate reaches past the lining along its long edges


def edge_defs(uid: str) -> str:
    """Return the gradients and textures of pads on edge."""
    steel = [(0, palette.STEEL), (0.3, palette.STEEL_WHITE), (1, palette.STEEL_DARK)]
    shade = svg.tag("stop", offset="0", stop_color=palette.INK, stop_opacity="0") + svg.tag(
        "stop", offset="1", stop_color=palette.INK, stop_opacity="0.28"
    )
    return (
        svg.gradient(f"{uid}-plate", steel)
        + lining_cut(uid)
        + svg.tag("linearGradient", shade, id=f"{uid}-shade", x1="0", y1="0", x2="0", y2="1")
    )


def pad_edge(
    pad: DrawnPad,
    view: str,
    x: float,
    y: float,
    scale: float,
    uid: str,
    *,
    down: bool = False,
    name: str = "pad",
) -> str:
    """Draw a pad on edge.

    Args:
        pad: which one.
        view: from where, of ``VIEWS``.
        x: where the lining's left end stands.
        y: where lining and plate meet.
        scale: pixels for each mm, in both directions alike.
        uid: the drawing's.
        down: the lining hangs below the plate, not above it.
        name: begins the names of its parts.
    """
    long = view.endswith("edge")
    width = pad.length_mm if long else pad.height_mm
    way = 1 if down else -1
    near, far = pad.sides(view)
    low_near, low_far = _steps(pad, view)

    def points(profile: list[tuple[float, float]]) -> list[svg.Point]:
        return [(x + scale * along, y + way * scale * high) for along, high in profile]

    def side(heights: tuple[float, float], low: float, part: str, back: bool) -> str:
        profile = _profile(pad, view, width, (heights[0] - low, heights[1] - low))
        shape = [(0.0, 0.0), *profile, (width, 0.0)]
        if max(heights) <= 0:
            return ""
        look = {"stroke": palette.STEEL_EDGE, "stroke_width": "0.9", "stroke_linejoin": "round"}
        fill = palette.STEEL_DARK if back else palette.LINING
        drawn = svg.polygon(points(shape), fill=fill, data_part=part, **look)
        if back:
            return drawn
        return (
            drawn
            + svg.polygon(points(shape), fill=f"url(#{uid}-lining-cut)")
            + svg.polygon(points(shape), fill=f"url(#{uid}-shade)")
        )

    body = side(far, low_far, f"{name}-far", True) + side(near, low_near, f"{name}-near", False)
    reach = EAR_MM if long else PLATE_LIP_MM
    top = y if not down else y - scale * pad.plate_mm
    plate = svg.rect(
        x - scale * reach,
        top,
        scale * (width + 2 * reach),
        scale * pad.plate_mm,
        rx="2",
        fill=f"url(#{uid}-plate)",
        data_part=f"{name}-plate",
        **EDGE,
    )
    return body + plate + _slot(pad, long, width, x, y, way * scale)


def _steps(pad: DrawnPad, view: str) -> tuple[float, float]:
    """How much lower the near and the far side stand: the step lies along the outer edge."""
    step = pad.reading.step_mm
    return (step if view == "outer edge" else 0.0, step if view == "inner edge" else 0.0)


def _profile(
    pad: DrawnPad, view: str, width: float, heights: tuple[float, float]
) -> list[tuple[float, float]]:
    """The upper line of one side, from left to right."""
    left, right = (max(0.0, one) for one in heights)

    def at(along: float) -> float:
        return left + (right - left) * along / width

    if view.endswith("edge"):
        first, last = (min(pad.chamfer_mm(one), width / 5) for one in (left, right))
        if not first and not last:
            return [(0.0, left), (width, right)]
        face = [(first, at(first)), (width - last, at(width - last))]
        return [(0.0, left - first), *face, (width, right - last)]
    line = [(0.0, left)]
    if pad.groove_mm:
        spots = int(width / GROOVE_PITCH_MM)
        for spot in range(1, 2 * spots):
            along = spot * width / (2 * spots)
            line.append((along, max(0.0, at(along) - (pad.groove_mm if spot % 2 else 0.0))))
    line.append((width, right))
    return _with_step(pad, view, width, line)


def _with_step(
    pad: DrawnPad, view: str, width: float, line: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    """Lower the strip along the outer edge, seen from an end."""
    step = pad.reading.step_mm
    if not step:
        return line
    at_left = view == "leading end"
    strip = STRIP_MM if at_left else width - STRIP_MM

    def high(along: float) -> float:
        (a, ya), (b, yb) = line[0], line[-1]
        return ya + (yb - ya) * (along - a) / (b - a)

    kept = [point for point in line if (point[0] > strip if at_left else point[0] < strip)]
    if at_left:
        return [
            (0.0, max(0.0, high(0.0) - step)),
            (strip, max(0.0, high(strip) - step)),
            (strip, high(strip)),
            *kept,
        ]
    return [
        *kept,
        (strip, high(strip)),
        (strip, max(0.0, high(strip) - step)),
        (width, max(0.0, high(width) - step)),
    ]


def _slot(pad: DrawnPad, long: bool, width: float, x: float, y: float, up: float) -> str:
    """Draw the slot across the middle of the lining, open to the face, down to its floor."""
    if not long or not pad.slot_left:
        return ""
    scale = abs(up)
    top = y + up * pad.mean_mm
    floor = y + up * SLOT_FLOOR_MM
    return svg.rect(
        x + scale * (width - SLOT_MM) / 2,
        min(top, floor),
        scale * SLOT_MM,
        abs(floor - top),
        fill=palette.STEEL_EDGE,
        fill_opacity="0.85",
    )
