"""Slide pins against integration, root finding, a set of equations, and Archard's law."""

from __future__ import annotations

import math

import numpy as np
import pytest
from brakecourse.trade.pads import archard_wear_mm
from brakecourse.trade.slide_pins import (
    AIR_SHARE,
    free_volume_ml,
    grease_limit_ml,
    pad_force_split_n,
    seated_gap_mm,
    wear_ratio,
)
from scipy import integrate, optimize

from tests.published.comparison import Compare
from tests.units import pints_units

BORES = [(10.5, 60.0, 10.0, 50.0), (12.0, 80.0, 9.0, 80.0), (9.0, 45.0, 8.8, 20.0)]


def room_ml(bore: float, depth: float, pin: float, inserted: float) -> float:
    """Room left in a bore, by adding up slices along its depth (scipy.integrate.quad)."""

    def slice_mm2(z: float) -> float:
        return math.pi / 4 * (bore**2 - (pin**2 if z < inserted else 0.0))

    return integrate.quad(slice_mm2, 0, depth, points=[inserted])[0] / 1000


@pytest.mark.parametrize("bore", BORES)
def test_free_volume_against_integration_over_the_depth(
    bore: tuple[float, float, float, float], compare: Compare
) -> None:
    # Source: solid geometry; scipy.integrate.quad.
    compare(
        "slide_pins.free_volume_ml",
        f"room in a {bore[0]:g} mm bore, {bore[1]:g} mm deep, beside its seated pin",
        free_volume_ml(*bore),
        room_ml(*bore),
        "mL",
        share=1e-6,
        source="solid geometry: scipy.integrate.quad over the depth",
        how_known="run",
    )


def test_free_volume_with_units_carried_by_a_unit_library() -> None:
    # Source: pint: a bore of 1/2 in by 3 in with a pin of 3/8 in, 2 in deep, in fluid ounces.
    q = pints_units().Quantity
    room = math.pi / 4 * (q(0.5, "in") ** 2 * q(3, "in") - q(0.375, "in") ** 2 * q(2, "in"))
    lengths = [q(inches, "in").to("mm").magnitude for inches in (0.5, 3, 0.375, 2)]
    assert q(free_volume_ml(*lengths), "mL").to("fluid_ounce").magnitude == pytest.approx(
        room.to("fluid_ounce").magnitude
    )


@pytest.mark.parametrize("bore", BORES)
@pytest.mark.parametrize("fill", [0.0, 0.5, 0.99])
def test_the_pin_stops_where_the_grease_has_just_room(
    bore: tuple[float, float, float, float], fill: float, compare: Compare
) -> None:
    # Source: conservation of volume, solved by scipy.optimize.brentq.
    depth, seated = bore[1], bore[3]
    whole = room_ml(bore[0], depth, bore[2], 0.0)
    free = room_ml(*bore)
    grease = free + fill * (whole - free)
    inserted = optimize.brentq(lambda length: room_ml(*bore[:3], length) - grease, 0, depth)
    compare(
        "slide_pins.seated_gap_mm",
        f"gap of the pin in a {bore[0]:g} mm bore with {grease:.3g} mL of grease",
        seated_gap_mm(grease, *bore),
        seated - inserted,
        "mm",
        within=1e-5,
        source="conservation of volume: scipy.optimize.brentq",
        how_known="run",
    )


@pytest.mark.parametrize("bore", BORES)
def test_the_grease_limit_leaves_its_share_of_air(
    bore: tuple[float, float, float, float], compare: Compare
) -> None:
    # Common practice, no source: an air space is left. Its size is the course's assumption; here only that
    # the rule leaves it, and that the air can be pressed together (Boyle's law) without locking the pin.
    room, grease = room_ml(*bore), grease_limit_ml(*bore)
    air = room - grease
    compare(
        "slide_pins.grease_limit_ml",
        f"share of the free room that stays air in a {bore[0]:g} mm bore",
        air / room,
        AIR_SHARE,
        share=1e-6,
        source="common practice, no source, for the air; scipy.integrate.quad for the room",
        how_known="run",
    )
    pin_mm2 = math.pi / 4 * bore[2] ** 2
    pressure_ratio = air / (air - pin_mm2 * 0.5 / 1000)  # the pin moves 0.5 mm further in
    assert 1 < pressure_ratio < 1.7


@pytest.mark.parametrize(("piston", "drag"), [(8000.0, 0.0), (8000.0, 2000.0), (12_500.0, 400.0)])
def test_the_force_split_solves_the_balance_of_forces(piston: float, drag: float, compare: Compare) -> None:
    # Source: textbook statics, numpy.linalg.solve. Unknown: fluid force on the piston, on the body, inner
    # pad, outer pad. Fluid presses piston and body alike; the body's force goes into drag and outer pad.
    balance = np.array([[1, 0, 0, 0], [1, -1, 0, 0], [1, 0, -1, 0], [0, 1, 0, -1]], dtype=float)
    _, _, inner, outer = np.linalg.solve(balance, [piston, 0, 0, drag])
    split = pad_force_split_n(piston, drag)
    assert split.inner_n == pytest.approx(inner)
    compare(
        "slide_pins.pad_force_split_n",
        f"force on the outer pad, {piston:g} N at the piston and {drag:g} N of drag",
        split.outer_n,
        outer,
        "N",
        source="textbook statics: numpy.linalg.solve",
        how_known="run",
    )


@pytest.mark.parametrize("drag", [0.0, 500.0, 4000.0])
def test_the_wear_ratio_is_that_of_archards_law(drag: float, compare: Compare) -> None:
    # Source: Archard's wear law for each pad, same distance, hardness and area.
    inner, outer = (archard_wear_mm(1e-6, force, 4e5, 200, 5000) for force in pad_force_split_n(8000, drag))
    compare(
        "slide_pins.wear_ratio",
        f"inner over outer pad's wear, 8000 N at the piston and {drag:g} N of drag",
        wear_ratio(8000, drag),
        inner / outer,
        source="Archard's wear law for each pad, same distance, hardness and area",
        how_known="counted",
    )


def test_the_wear_ratio_holds_over_a_life_of_many_stops() -> None:
    # Source: numpy sum over stops of different force: the ratio of the sums lies among those of the stops.
    clamps = np.random.default_rng(3).uniform(3000, 12_000, 500)
    forces = np.array([pad_force_split_n(clamp, 1000.0) for clamp in clamps])
    worn = forces.sum(axis=0)
    assert worn[0] / worn[1] == pytest.approx(wear_ratio(float(clamps.mean()), 1000.0))
