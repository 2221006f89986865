"""The caliper of the retraction drawing: body, piston, seal, boot, pads, rotor, bleeder and press."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings._retraction_places import AXIS_Y, PLATE_MM, WALL_MM, At

EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.3", "stroke_linejoin": "round"}
BOTTOM_PX = 506.0
CHANNEL_PX = 6.0
VENTED_FROM_MM = 18.0
OLD = palette.FLUID_DARK  # the oldest fluid of the system stands in the caliper


def body(at: At, uid: str) -> str:
    """Draw the body with its bore and the fluid in it."""
    half = at.push.bore_mm / 2 + WALL_MM
    low = -0.62 * at.push.pad_height_mm / 2
    outline = [
        (at.left, -half),
        (at.left, at.top - 5),
        (at.left + 5, at.top),
        (at.right - 5, at.top),
        (at.right, at.top - 5),
        (at.right, low),
        (at.finger, low),
        (at.finger, at.bridge),
        (at.mouth, at.bridge),
        (at.mouth, -half),
    ]
    spots = [(at.x(x), at.y(y)) for x, y in outline]
    drawn = svg.polygon(spots, fill=f"url(#{uid}-body)", data_part="body", **EDGE)
    drawn += svg.polygon(spots, fill=f"url(#{uid}-steel-cut)", fill_opacity="0.5")
    r, x = at.push.bore_mm / 2, at.x(at.bottom)
    wide, tall = at.px * (at.mouth - at.bottom), at.px * 2 * r
    drawn += svg.rect(x, at.y(r), wide, tall, fill=OLD, data_part="fluid", **EDGE)
    return drawn + _channel(at, r)


def _channel(at: At, r: float) -> str:
    """Draw the channel from the top of the bore's end up to the bleeder, and the inlet at the back."""
    x, top = at.bleeder_x, at.y(at.top)
    rise = svg.rect(x - CHANNEL_PX / 2, top, CHANNEL_PX, at.y(r) - top + 2, fill=OLD)
    y = inlet_y(at)
    inlet = svg.line(at.x(at.left) - 3, y, at.x(at.bottom) + 2, y, stroke=OLD, stroke_width="6")
    return rise + inlet


def inlet_y(at: At) -> float:
    """Return the height of the hose's inlet on the picture."""
    return at.y(-0.62 * at.push.bore_mm / 2)


def piston(at: At, uid: str) -> str:
    """Draw the piston: a cup, its seal and its boot."""
    r = at.push.bore_mm / 2 - 0.2
    x, wide, tall = at.x(at.rear), at.px * (at.front - at.rear), at.px * 2 * r
    shell = svg.rect(x, at.y(r), wide, tall, rx="3", fill=f"url(#{uid}-bright)", data_part="piston", **EDGE)
    shell += svg.rect(x, at.y(r), wide, tall, rx="3", fill=f"url(#{uid}-steel-cut)", fill_opacity="0.35")
    thick = max(3.5, 0.1 * at.push.bore_mm)
    hollow, left = r - thick, at.rear + 1.6 * thick
    cup = svg.rect(
        at.x(left),
        at.y(hollow),
        at.px * (at.front - left),
        at.px * 2 * hollow,
        fill=palette.PAPER,
        **EDGE,
    )
    return shell + cup + _rubber(at)


def _rubber(at: At) -> str:
    r = at.push.bore_mm / 2
    x = at.x(at.mouth - 11)
    drawn = "".join(
        svg.rect(x, at.y(y), at.px * 4, at.px * 4, fill=palette.RUBBER, data_part="seal", **EDGE)
        for y in (r + 3.6, -r + 0.4)
    )
    folds, reach = 4, at.front - at.mouth
    for up in (1, -1):
        spots = [
            (at.x(at.mouth + reach * fold / folds), at.y(up * (r + (0.8 if fold % 2 else 3.2))))
            for fold in range(folds + 1)
        ]
        drawn += svg.polyline(spots, stroke=palette.RUBBER, stroke_width=2.6, stroke_linejoin="round")
    return drawn


def pads_and_rotor(at: At, uid: str) -> str:
    """Draw the rotor from its rim down, and a pad on each side of it."""
    high = at.push.pad_height_mm / 2
    top, left = at.y(high + 3), at.x(-at.rotor)
    wide, tall = at.px * 2 * at.rotor, BOTTOM_PX - top
    cut = {"fill": f"url(#{uid}-steel-cut)", **EDGE}
    drawn = svg.rect(left, top, wide, tall, fill=palette.IRON, data_part="rotor", **EDGE)
    drawn += svg.rect(left, top, wide, tall, **cut)
    if at.push.rotor_mm >= VENTED_FROM_MM:
        drawn += svg.rect(left + 0.32 * wide, top, 0.36 * wide, tall, fill=palette.STEEL_LIGHT, **EDGE)
    for name, side, lining in (("inner", -1, at.push.inner_mm), ("outer", 1, at.push.outer_mm)):
        near, plate = at.rotor, at.rotor + lining
        x = at.x(near if side > 0 else -plate)
        if lining > 0.05:
            y, wide, tall = at.y(high), at.px * lining, at.px * 2 * high
            drawn += svg.rect(x, y, wide, tall, fill=palette.LINING, data_part=f"{name}-lining", **EDGE)
            drawn += svg.rect(x, y, wide, tall, fill=f"url(#{uid}-lining-cut)")
        x = at.x(plate if side > 0 else -plate - PLATE_MM)
        y, wide, tall = at.y(high + 1.5), at.px * PLATE_MM, at.px * (2 * high + 3)
        drawn += svg.rect(x, y, wide, tall, fill=palette.STEEL_DARK, data_part=f"{name}-plate", **EDGE)
    return drawn


def frame_of_press(at: At) -> str:
    """Draw the press's frame, which reaches over everything from the body's back to beyond the fingers."""
    left, right, up = at.x(at.left) - 26, at.x(at.outer) + 150, at.y(at.top) - 40
    spots: tuple[str | float, ...] = ("M", left, AXIS_Y + 8, "L", left, up + 22, "Q", left, up, left + 24, up)
    spots += ("L", right - 24, up, "Q", right, up, right, up + 22, "L", right, AXIS_Y + 8)
    frame = svg.path(*spots, fill="none", stroke=palette.STEEL_EDGE, stroke_width="19")
    frame += svg.path(*spots, fill="none", stroke=palette.STEEL, stroke_width="16", data_part="press")
    jaw = svg.rect(left + 6, AXIS_Y - 12, 20, 24, rx="3", fill=palette.STEEL_DARK, **EDGE)
    return frame + jaw


def screw_of_press(at: At) -> str:
    """Draw the press's screw, which reaches between the fingers to the outer pad."""
    tip, end = at.x(at.outer), at.x(at.outer) + 190
    screw = svg.rect(tip + 9, AXIS_Y - 7, end - tip - 9, 14, fill=palette.STEEL_LIGHT, **EDGE)
    threads = [(x, AXIS_Y + 7, x + 4, AXIS_Y - 7) for x in range(int(tip) + 18, int(end) - 8, 8)]
    screw += svg.strokes(threads, stroke=palette.STEEL_DARK, stroke_width="1.4")
    nut = svg.rect(tip + 137, AXIS_Y - 17, 26, 34, rx="4", fill=palette.STEEL, **EDGE)
    foot = svg.rect(tip, AXIS_Y - 16, 10, 32, rx="2", fill=palette.STEEL_DARK, data_part="foot", **EDGE)
    bar = svg.rect(end - 8, AXIS_Y - 42, 8, 84, rx="4", fill=palette.STEEL_MID, **EDGE)
    return screw + nut + foot + bar


def bleeder(at: At) -> str:
    """Draw the bleeder screw in the body's upper side: seated when shut, a turn out when open."""
    state, x, top = at.push.bleeder, at.bleeder_x, at.y(at.top)
    up = 7 if state == "open" else 0
    spots = [(x - 6, top - up), (x + 6, top - up), (x + 6, top + 16 - up), (x, top + 25 - up)]
    shank = svg.polygon([*spots, (x - 6, top + 16 - up)], fill=palette.STEEL_LIGHT, **EDGE)
    threads = [(x - 6, top + t - up, x + 6, top + t - 2 - up) for t in (4, 8, 12)]
    shank += svg.strokes(threads, stroke=palette.STEEL_DARK, stroke_width="1.2")
    hex_ = svg.rect(x - 11, top - 13 - up, 22, 12, rx="2", fill=palette.STEEL_MID, **EDGE)
    hex_ += svg.line(x - 4, top - 13 - up, x - 4, top - 1 - up, stroke=palette.STEEL_EDGE)
    hex_ += svg.line(x + 4, top - 13 - up, x + 4, top - 1 - up, stroke=palette.STEEL_EDGE)
    nipple = svg.rect(x - 4.5, top - 30 - up, 9, 18, rx="3", fill=palette.STEEL_LIGHT, **EDGE)
    drawn = svg.group(shank + hex_ + nipple, data_part="bleeder", data_up=up)
    if state == "not told":
        return svg.circle(x, top - 8, 26, fill=palette.PANEL, **EDGE) + svg.text(
            x, top + 2, "?", size=28, anchor="middle", font_weight="600"
        )
    return drawn
