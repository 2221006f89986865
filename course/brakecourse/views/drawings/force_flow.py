"""One push from the foot to the road in one picture, with arrows as long as the forces."""

from __future__ import annotations

from typing import Literal, get_args

from brakecourse.bench.specification import AXLES, Axle
from brakecourse.bench.vehicles import Vehicle
from brakecourse.views import palette, svg
from brakecourse.views.drawings import _force_pedal as top
from brakecourse.views.drawings import _force_wheel as low
from brakecourse.views.drawings._force_arrows import block, scale_bar, turning
from brakecourse.views.drawings._force_words import description, fills, newtons
from brakecourse.views.drawings._round import nice_step
from brakecourse.views.force_chain import AxleForces, Bores, ForceChain, bores_of, follow
from brakecourse.views.words import number

Stage = Literal["foot", "pressure", "clamp", "torque", "road"]
STAGES: tuple[Stage, ...] = get_args(Stage)
Part = Literal["whole", "upper", "lower"]

WIDTH, HEIGHT = 640, 640
MOST_FOOT_N = 400
# Where each part of the picture begins and ends, and what a listener is told of it.
_WINDOWS: dict[Part, tuple[int, int, str]] = {
    "whole": (0, HEIGHT, ""),
    "upper": (0, 442, " The picture ends at the calipers."),
    "lower": (238, HEIGHT, " The picture begins at the calipers."),
}
_X: dict[Axle, float] = {"rear": 150.0, "front": 470.0}
_ROD_PX, _WHEEL_PX, _SWEEP = 250.0, 88.0, 250.0
_ROW_Y = 204.0
_MS2_PX = 9.0


def force_flow_svg(
    vehicle: Vehicle,
    chain: ForceChain,
    bores: Bores | None = None,
    *,
    upto: Stage = "road",
    part: Part = "whole",
    uid: str,
    title: str = "From the foot to the road",
) -> str:
    """Draw pedal, booster, master cylinder, lines, calipers and wheels, and the forces of one push.

    Master cylinder and calipers are drawn to one scale, and both wheels to another. The forces at the rod
    have one scale of their own, those at the wheels another; each has its bar.

    Args:
        vehicle: the vehicle.
        chain: the push.
        bores: the bores to draw, if they are not the vehicle's own.
        upto: how far the numbers go: what lies after it has a question mark, and no arrow.
        part: ``"upper"`` for pedal to calipers, ``"lower"`` for calipers and wheels, or the whole.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. The vehicle's nose is to the right.

    Raises:
        ValueError: there is no such stage or part, or the uid cannot be an id.

    Source:
        Common practice, no source. The pads' backing plates are drawn 5 mm thick.

    Example:
        >>> from brakecourse.bench import motor_pool
        >>> van = motor_pool()["library_van"]
        >>> force_flow_svg(van, follow(van, 250), uid="f1").startswith("<svg")
        True
    """
    for found, offered in ((upto, STAGES), (part, tuple(_WINDOWS))):
        if found not in offered:
            raise ValueError(f"One of {', '.join(offered)} was expected, but it was {found!r}.")
    svg.check_uid(uid)
    used = bores or bores_of(vehicle)
    known = STAGES.index(upto)
    hardest = follow(vehicle, MOST_FOOT_N)
    place = top.foot(vehicle.hydraulics.pedal_ratio, chain.travel_mm)
    body = (
        _pipes(vehicle, used, known >= 1)
        + top.pedal(place, vehicle.hydraulics.pedal_ratio, uid)
        + top.master(used.master_mm, uid)
        + top.booster(uid)
        + _rod(chain, hardest, place, uid)
        + _gauge(chain, known >= 1)
        + _road(known >= 4)
        + "".join(_axle(vehicle, axle, chain, used, hardest, known, uid) for axle in AXLES)
        + _slowing(chain, known >= 4)
        + (_wheel_scale(hardest) if known >= 2 else "")
    )
    begin, end, seen = _WINDOWS[part]
    desc = description(vehicle, chain, used, known) + seen
    window = svg.group(body, transform=f"translate(0 {-begin})") if begin else body
    return svg.frame(WIDTH, end - begin, window, uid=uid, title=title, desc=desc, defs=fills(uid))


def _rod(chain: ForceChain, hardest: ForceChain, place: top.Foot, uid: str) -> str:
    """Draw the foot's arrow, and lever and booster end to end."""
    px = _ROD_PX / hardest.rod_n
    x, y = 158.0, _ROW_Y
    lever, booster = chain.lever_n * px, chain.booster_n * px
    face_x, face_y = place.face
    bar = nice_step(hardest.rod_n, 6)
    return (
        block((face_x, face_y - 2), chain.foot_n * px, "right", palette.ORANGE, "foot")
        + svg.text(10, 158, "foot", size=14)
        + svg.text(10, 176, newtons(chain.foot_n), size=15, font_weight="bold")
        + block((x + lever, y), lever, "right", palette.ORANGE, "lever")
        + block((x + lever + booster, y), booster, "right", f"url(#{uid}-boost)", "booster")
        + svg.text(x, y - 13, f"lever {newtons(chain.lever_n)} + booster {newtons(chain.booster_n)}", size=14)
        + svg.text(x, y + 25, f"push at the rod {newtons(chain.rod_n)}", size=15, font_weight="bold")
        + scale_bar(458, _ROW_Y + 20, bar * px, newtons(bar), "rod-bar")
    )


def _gauge(chain: ForceChain, known: bool) -> str:
    told = f"{number(chain.line_mpa)} MPa" if known else "? MPa"
    return (
        top.small_gauge(586, 62, min(chain.line_mpa, 16.0) if known else None)
        + svg.text(534, 122, "pressure in the lines", size=14, anchor="middle")
        + svg.text(534, 142, told, size=17, anchor="middle", font_weight="bold")
    )


def _pipes(vehicle: Vehicle, bores: Bores, known: bool) -> str:
    """Draw the two circuits: the front straight to its calipers, the rear through the valve."""
    look = {"fill": "none", "stroke_linejoin": "round"}
    under = top.AXIS_Y + bores.master_mm * top.PX_PER_MM / 2 + 6
    ends = {axle: low.left_of(_X[axle], vehicle.axle(axle)) + 2 for axle in AXLES}
    front = _pipe(top.OUT_FRONT, under, (168, 444, 252, 362), ends["front"])
    rear = _pipe(top.OUT_REAR, under, (173, 142, 251, 22), ends["rear"])
    drawn = ""
    for steps in (front, rear):
        drawn += svg.path(*steps, stroke=palette.STEEL_EDGE, stroke_width="6.5", **look)
        drawn += svg.path(*steps, stroke=palette.FLUID_PALE if known else palette.STEEL_LIGHT,
                          stroke_width="3.6", **look)  # fmt: skip
    valve = svg.rect(58, 241, 34, 20, rx="3", fill=palette.STEEL, **top.EDGE)
    return drawn + valve + svg.text(29, 275, "valve", size=13, fill=palette.INK_SOFT)


def _pipe(x: float, y: float, bends: tuple[float, ...], end_x: float) -> tuple[str | float, ...]:
    """Return a line down from the master cylinder, round its bends, and across into a caliper."""
    down, across, lower, outer = bends
    return ("M", x, y, "V", down, "H", across, "V", lower, "H", outer, "V", low.PAD_Y, "H", end_x)


def _axle(
    vehicle: Vehicle, axle: Axle, chain: ForceChain, bores: Bores, hardest: ForceChain, known: int, uid: str
) -> str:
    x, brake = _X[axle], vehicle.axle(axle)
    forces = chain.front if axle == "front" else chain.rear
    px = _wheel_px(hardest)
    drawn, section = low.caliper(x, brake, bores.axle_mm(axle), uid)
    kind = f"{brake.caliper.kind}, {_pistons(brake.caliper.pistons)} of {number(bores.axle_mm(axle), 0)} mm"
    length = forces.clamp_n * px
    y = low.ROTOR_FOOT - 13
    if known >= 2:
        drawn += block((section.rotor_left, y), length, "right", palette.VERMILLION, f"{axle}-clamp")
        drawn += block((section.rotor_right, y), length, "left", palette.VERMILLION, f"{axle}-clamp")
    clamp = newtons(forces.clamp_n) if known >= 2 else "? N"
    here = f"{number(forces.pressure_mpa)} MPa" if known >= 1 else "? MPa"
    drawn += svg.text(x + 84, 262, axle, size=16, font_weight="bold")
    drawn += svg.text(x + 84, 280, here, size=14)
    drawn += svg.text(x - 14, 411, f"clamp {clamp}", size=15, anchor="middle", font_weight="bold")
    return (
        drawn
        + svg.text(x - 14, 428, kind, size=13, anchor="middle", fill=palette.INK_SOFT)
        + (_wheel(x, vehicle, axle, forces, hardest, known, uid))
    )


def _wheel(
    x: float, vehicle: Vehicle, axle: Axle, forces: AxleForces, hardest: ForceChain, known: int, uid: str
) -> str:
    brake, tyre, px = vehicle.axle(axle), vehicle.tyre_radius_mm, _wheel_px(hardest)
    centre = low.wheel_centre(x, tyre)
    drawn = low.wheel(x, brake, tyre, uid)
    radius = (brake.rotor_outer_radius_mm + 26) * low.WHEEL_PX_PER_MM
    torque = number(forces.torque_nm, 0) if known >= 3 else "?"
    side = x + tyre * low.WHEEL_PX_PER_MM + 6
    drawn += svg.text(side, 464, "torque", size=14) + svg.text(side, 481, f"{torque} N·m", size=14,
                                                               font_weight="bold")  # fmt: skip
    if known >= 3:
        sweep = _SWEEP * forces.torque_nm / max(hardest.front.torque_nm, hardest.rear.torque_nm)
        drawn += turning(centre, radius, min(sweep, 340), palette.SKY_BLUE, f"{axle}-torque")
    road = newtons(forces.road_n) if known >= 4 else "? N"
    load = newtons(forces.braking_n) if known >= 4 else "? N"
    if known >= 4:
        start = x - 18
        drawn += block((start - forces.road_n * px, low.ROAD_Y + 13), forces.road_n * px, "left",
                       palette.BLUISH_GREEN, f"{axle}-road", half=5)  # fmt: skip
        drawn += block(
            (x, low.ROAD_Y + 1), forces.braking_n * px, "up", palette.STEEL_MID, f"{axle}-load", half=5
        )
        mark = low.ROAD_Y + 1 + forces.standing_n * px
        drawn += svg.line(x - 15, mark, x + 15, mark, stroke=palette.INK, stroke_width="1.6",
                          stroke_dasharray="4 3", data_part=f"{axle}-standing")  # fmt: skip
    drawn += svg.text(x + 24, low.ROAD_Y + 20, f"load {load}", size=14)
    return drawn + svg.text(x - 20, low.ROAD_Y + 40, f"road {road}", size=14, anchor="end")


def _road(known: bool) -> str:
    y = low.ROAD_Y
    dashed = svg.text(272, y + 40, "dashed: standing", size=13, anchor="middle", fill=palette.INK_SOFT)
    road = svg.line(8, y, WIDTH - 8, y, stroke=palette.STEEL_EDGE, stroke_width="2.4")
    return road + dashed if known else road


def _slowing(chain: ForceChain, known: bool) -> str:
    told = f"{number(chain.slowing_ms2)} m/s²" if known else "? m/s²"
    x, y = 318.0, 530.0
    arrow = block((x - chain.slowing_ms2 * _MS2_PX / 2, y + 24), chain.slowing_ms2 * _MS2_PX, "left",
                  palette.REDDISH_PURPLE, "slowing") if known else ""  # fmt: skip
    return (
        svg.text(x, y - 14, "deceleration", size=14, anchor="middle")
        + svg.text(x, y + 6, told, size=17, anchor="middle", font_weight="bold")
        + arrow
    )


def _wheel_scale(hardest: ForceChain) -> str:
    bar = nice_step(hardest.front.clamp_n, 5)
    return scale_bar(232, 394, bar * _wheel_px(hardest), f"{number(bar / 1000, 0)} kN", "wheel-bar")


def _wheel_px(hardest: ForceChain) -> float:
    """Return the pixels of a newton at the wheels: the vehicle's hardest push fills the room there is."""
    return _WHEEL_PX / hardest.front.clamp_n


def _pistons(count: int) -> str:
    return "1 piston" if count == 1 else f"{count} pistons"
