"""The parts of a caliper that is cut through: body, pistons, seals, boots, pads, rotor, hose."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings._caliper_places import AXIS_Y, BRIDGE_MM, FINGER_MM, PLATE_MM, WALL_MM, Places

EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.3", "stroke_linejoin": "round"}
TANK_OUTLET = (50.0, 186.0)
VENTED_FROM_MM = 18.0
CHEEK_SHARE = 0.32
PIPE_MM = 3.2
BOTTOM_PX = 458.0


def body(at: Places, uid: str) -> str:
    """Draw the body with its bores, the fluid in them, and the pistons."""
    half, pale = at.cut.bore_mm / 2 + WALL_MM, palette.FLUID_PALE
    left, right, top = at.outer_left, at.outer_right, at.bridge + BRIDGE_MM
    mouth_right = -at.mouth if at.fixed else at.plate_out
    low_right = -half if at.fixed else -0.62 * at.cut.pad_height_mm / 2
    outline = [
        (left, -half),
        (left, top - 6),
        (left + 6, top),
        (right - 6, top),
        (right, top - 6),
        (right, low_right),
        (mouth_right, low_right),
        (mouth_right, at.bridge),
        (at.mouth, at.bridge),
        (at.mouth, -half),
    ]
    spots = [(at.x(x), at.y(y)) for x, y in outline]
    iron = svg.polygon(spots, fill=f"url(#{uid}-body)", data_part="body", **EDGE)
    iron += svg.polygon(spots, fill=f"url(#{uid}-steel-cut)", fill_opacity="0.5")
    sides = (-1, 1) if at.fixed else (-1,)
    if at.fixed:  # the passage over the rotor
        y = at.bridge + BRIDGE_MM / 2
        wide = -2 * at.px * at.bottom
        iron += svg.rect(at.x(at.bottom), at.y(y + PIPE_MM / 2), wide, at.px * PIPE_MM, fill=pale)
        for side in sides:
            x = at.bottom * -side + (0 if side < 0 else -PIPE_MM)
            iron += svg.rect(at.x(x), at.y(y + PIPE_MM / 2), at.px * PIPE_MM, at.px * y, fill=pale)
    return iron + "".join(_cylinder(at, side, uid) for side in sides)


def _span(at: Places, side: int, near: float, far: float) -> tuple[float, float]:
    """Return left edge and width of what lies between two places of the left side, or mirrored, in px."""
    one, other = (near, far) if side < 0 else (-far, -near)
    return at.x(one), at.px * (other - one)


def _cylinder(at: Places, side: int, uid: str) -> str:
    """Draw one bore: fluid behind, the piston, a cup, its seal and its boot."""
    r = at.cut.bore_mm / 2
    x, width = _span(at, side, at.bottom, at.mouth)
    pale, name = palette.FLUID_PALE, "fluid" if side < 0 else None
    bore = svg.rect(x, at.y(r), width, at.px * 2 * r, fill=pale, data_part=name, **EDGE)
    pipe_x, pipe = _span(at, side, at.outer_left, at.bottom)
    if side < 0:
        bore += svg.rect(pipe_x - 1, at.y(PIPE_MM / 2), pipe + 2, at.px * PIPE_MM, fill=pale)
    x, width = _span(at, side, at.rear, at.front)
    slim = 0.2  # the piston is drawn a hair smaller than its bore
    tall = at.px * 2 * (r - slim)
    name = "piston" if side < 0 else "piston-right"
    shell = svg.rect(
        x, at.y(r - slim), width, tall, rx="3", fill=f"url(#{uid}-bright)", data_part=name, **EDGE
    )
    cut = f"url(#{uid}-steel-cut)"
    shell += svg.rect(x, at.y(r - slim), width, tall, rx="3", fill=cut, fill_opacity="0.35")
    thick = max(3.5, 0.1 * at.cut.bore_mm)
    hollow_x, hollow = _span(at, side, at.rear + 1.6 * thick, at.front)
    cup = svg.rect(hollow_x, at.y(r - thick), hollow, at.px * 2 * (r - thick), fill=palette.PAPER, **EDGE)
    return bore + shell + cup + _rubber(at, side, r)


def _rubber(at: Places, side: int, r: float) -> str:
    """Draw the square seal in its groove, and the folded boot between bore and piston, above and below."""
    seal_x, seal = _span(at, side, at.mouth - 11, at.mouth - 7)
    drawn = "".join(
        svg.rect(seal_x, at.y(y), seal, at.px * 4, fill=palette.RUBBER, **EDGE) for y in (r + 3.6, -r + 0.4)
    )
    reach = at.front - at.mouth
    folds = 4
    for up in (1, -1):
        spots = []
        for fold in range(folds + 1):
            place = at.mouth + reach * fold / folds
            spots.append((at.x(place if side < 0 else -place), at.y(up * (r + (0.8 if fold % 2 else 3.2)))))
        drawn += svg.polyline(spots, stroke=palette.RUBBER, stroke_width=2.6, stroke_linejoin="round")
    return drawn


def pads_and_rotor(at: Places, uid: str) -> str:
    """Draw the rotor from its rim down, and a pad on each side of it."""
    high = at.cut.pad_height_mm / 2
    top = at.y(high + 3)
    left, right = at.x(-at.rotor), at.x(at.rotor)
    look = {"fill": f"url(#{uid}-steel-cut)", **EDGE}
    tall = BOTTOM_PX - top
    drawn = svg.rect(left, top, right - left, tall, fill=palette.IRON, data_part="rotor", **EDGE)
    if at.cut.rotor_new_mm >= VENTED_FROM_MM:
        cheek = CHEEK_SHARE * (right - left)
        drawn += svg.rect(left, top, cheek, tall, **look) + svg.rect(right - cheek, top, cheek, tall, **look)
        drawn += svg.rect(left + cheek, top, right - left - 2 * cheek, tall, fill=palette.STEEL_LIGHT, **EDGE)
    else:
        drawn += svg.rect(left, top, right - left, tall, **look)
    for side in (-1, 1):
        name = "inner" if side < 0 else "outer"
        x, width = _span(at, side, -at.plate_in, -at.rotor)
        if width > 0.05:
            y, tall_pad = at.y(high), at.px * 2 * high
            part = f"{name}-lining"
            drawn += svg.rect(x, y, width, tall_pad, fill=palette.LINING, data_part=part, **EDGE)
            drawn += svg.rect(x, y, width, tall_pad, fill=f"url(#{uid}-lining-cut)")
        x, width = _span(at, side, -at.plate_out, -at.plate_in)
        y, tall_plate = at.y(high + 1.5), at.px * (2 * high + 3)
        drawn += svg.rect(x, y, width, tall_plate, fill=palette.STEEL_DARK, data_part=f"{name}-plate", **EDGE)
    return drawn


def passages(at: Places) -> str:
    """Draw the hose from the reservoir down to the caliper's inlet; it follows when the body slides."""
    x, y = at.x(at.outer_left), AXIS_Y
    out_x, out_y = TANK_OUTLET
    steps = ("M", out_x, out_y, "C", out_x, out_y + 80, out_x - 8, y, x, y)
    return (
        svg.path(*steps, fill="none", stroke=palette.RUBBER, stroke_width="15")
        + svg.path(*steps, fill="none", stroke=palette.FLUID_PALE, stroke_width="6")
        + svg.rect(x - 18, y - 11, 20, 22, rx="3", fill=palette.STEEL_MID, **EDGE)
        + svg.line(x - 18, y, x + 3, y, stroke=palette.FLUID_PALE, stroke_width="6")
    )


__all__ = ["EDGE", "FINGER_MM", "PLATE_MM", "TANK_OUTLET", "body", "pads_and_rotor", "passages"]
