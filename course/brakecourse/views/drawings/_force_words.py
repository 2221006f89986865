"""What the force picture says to a listener, and the fills of its parts."""

from __future__ import annotations

from brakecourse.bench.vehicles import Vehicle
from brakecourse.views import palette, svg
from brakecourse.views.drawings._hatch import lining_cut, steel_cut
from brakecourse.views.force_chain import Bores, ForceChain
from brakecourse.views.words import number

LAST_STAGE = 4


def description(vehicle: Vehicle, chain: ForceChain, bores: Bores, known: int) -> str:
    """Describe the push as far as it is worked out."""
    told = (
        f"The brakes of the {vehicle.name}, nose to the right: pedal, booster, master cylinder of "
        f"{bores.master_mm:g} mm, lines, one rear and one front caliper in section, both wheels on the road. "
        f"The foot pushes with {newtons(chain.foot_n)}; the lever makes it {newtons(chain.lever_n)} and "
        f"the booster adds {newtons(chain.booster_n)}."
    )
    if known >= 1:
        told += f" Pressure {number(chain.line_mpa)} MPa."
    for one in (chain.front, chain.rear):
        told += f" {one.axle.capitalize()}:"
        told += f" {vehicle.axle(one.axle).caliper.kind} caliper"
        told += f", clamp force {newtons(one.clamp_n)}" if known >= 2 else ""
        told += f", torque {number(one.torque_nm, 0)} N·m" if known >= 3 else ""
        told += f", road force {newtons(one.road_n)}, load {newtons(one.braking_n)}" if known >= 4 else ""
        told += "."
    if known < LAST_STAGE:
        return f"{told} What follows has a question mark."
    return f"{told} Deceleration {number(chain.slowing_ms2)} m/s²."


def fills(uid: str) -> str:
    """Return the gradients and textures that the parts are filled with."""
    steel = [(0, palette.STEEL_DARK), (0.4, palette.STEEL_LIGHT), (1, palette.STEEL_MID)]
    bar = [(0, palette.STEEL_MID), (0.35, palette.STEEL_WHITE), (1, palette.STEEL_DARK)]
    drum = [(0, palette.STEEL_LIGHT), (0.5, palette.STEEL_MID), (1, palette.STEEL_DARK)]
    tile = svg.rect(0, 0, 7, 7, fill=palette.ORANGE) + svg.tag(
        "path", d="M0 0V7", stroke=palette.INK, stroke_width="1.6", stroke_opacity="0.55"
    )
    return (
        svg.gradient(f"{uid}-steel", steel, across=True)
        + svg.gradient(f"{uid}-bar", bar)
        + svg.gradient(f"{uid}-drum", drum)
        + svg.pattern(f"{uid}-boost", 7, tile, turn_deg=45)
        + steel_cut(uid)
        + lining_cut(uid)
    )


def newtons(force_n: float) -> str:
    """Write a force for the picture.

    >>> newtons(949.6)
    '950 N'
    """
    return f"{number(force_n, 0)} N"
