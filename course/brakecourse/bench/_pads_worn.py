"""How deep the pads of one wheel have worn, and how their faces look."""

from __future__ import annotations

from typing import NamedTuple

from brakecourse.bench._forces import (
    SERVICE_PRESSURE_MPA,
    braking,
    released,
    residual_mpa,
    service_clamp_n,
)
from brakecourse.bench._wheel_records import (
    PadsCondition,
    Surface,
)
from brakecourse.bench.roots import Pair, WheelRoots
from brakecourse.bench.specification import AxleBrake
from brakecourse.trade.pads import PadReading, archard_wear_mm

# Share of the way that a vehicle goes with its brakes on. Assumption, no source.
BRAKED_SHARE = 0.05
# Share of the worn depth by which a pad tilts when its bracket's bolts hold nothing. Assumption, no source.
LOOSE_BRACKET_TILT = 0.45
# Glaze and unevenness that are seen. Assumption, no source.
SEEN = 0.1
# Friction that pads without bedding lack, as a share. Assumption, no source.
UNBEDDED_LOSS = 0.3

_LINING_HARDNESS_MPA = 200.0  # any number does: the wear constant is set from the pad's own rate


class Worn(NamedTuple):
    """Depth worn off a pad, in mm: its mean, and the share of it at the leading end (one half is even).

    Attributes:
        mean_mm: mean depth.
        leading: share of the leading end, 0 to 1.
    """

    mean_mm: float
    leading: float = 0.5

    def plus(self, other: Worn) -> Worn:
        """Return the two depths together."""
        whole = self.mean_mm + other.mean_mm
        if whole == 0:
            return self
        leading = (self.mean_mm * self.leading + other.mean_mm * other.leading) / whole
        return Worn(whole, leading)


def worn(
    brake: AxleBrake,
    roots: WheelRoots,
    km: float,
    tyre_radius_mm: float,
    seals_swollen: float,
    pressure_share: float,
) -> tuple[Worn, Worn]:
    """Return how deep the inner and the outer pad have worn.

    First the wheel was sound and wore at its pads' own rate. Then the roots acted: braking with what
    presses each pad, and rubbing all the rest of the way with what presses it although the pedal is let go.

    Args:
        brake: the axle's brake.
        roots: what is the matter at the wheel.
        km: distance since the pads were new.
        tyre_radius_mm: wheel centre to road.
        seals_swollen: share by which the rubber has swollen.
        pressure_share: line pressure of this axle over that of the front.

    Source:
        Archard's wear law; its constant from the sound pad's own rate. ``BRAKED_SHARE``: assumption, no
        source.
    """
    acting_km = min(roots.acting_km, km)
    sound_mm = brake.pad.wear_mm_per_1000km * (km + roots.overdue_km - acting_km) / 1000
    slid_m = 1000 * acting_km * brake.effective_radius_mm / tyre_radius_mm
    on = braking(brake, roots, SERVICE_PRESSURE_MPA * pressure_share, seals_swollen)
    off = released(brake, roots, seals_swollen, residual_mpa(roots, seals_swollen))
    constant = _archard_constant(brake, pressure_share, tyre_radius_mm)

    def pad(on_n: float, on_leading: float, off_n: float, off_leading: float) -> Worn:
        braked = _depth_mm(brake, constant, on_n, BRAKED_SHARE * slid_m)
        rubbed = _depth_mm(brake, constant, off_n, (1 - BRAKED_SHARE) * slid_m)
        return Worn(sound_mm).plus(Worn(braked, on_leading)).plus(Worn(rubbed, off_leading))

    return (
        pad(on.inner_n, on.inner_leading, off.inner_n, off.inner_leading),
        pad(on.outer_n, on.outer_leading, off.outer_n, off.outer_leading),
    )


def _archard_constant(brake: AxleBrake, pressure_share: float, tyre_radius_mm: float) -> float:
    """The wear constant with which a sound pad wears at its own rate."""
    braked_m = BRAKED_SHARE * 1_000_000 * brake.effective_radius_mm / tyre_radius_mm
    clamp_n = service_clamp_n(brake, pressure_share)
    return brake.pad.wear_mm_per_1000km / _depth_mm(brake, 1.0, clamp_n, braked_m)


def _depth_mm(brake: AxleBrake, constant: float, force_n: float, sliding_m: float) -> float:
    return archard_wear_mm(constant, force_n, sliding_m, _LINING_HARDNESS_MPA, brake.pad.area_mm2)


def friction(brake: AxleBrake, roots: WheelRoots) -> float:
    """Return the coefficient of friction of a wheel's pads as they are.

    Glaze, soil and missing bedding each take their share.
    """
    left = (1 - roots.glaze) * (1 - roots.soil_share) * (1 - UNBEDDED_LOSS * (1 - roots.bedding))
    return brake.pad.friction * left


def pads_condition(
    brake: AxleBrake, roots: WheelRoots, depths: tuple[Worn, Worn], looseness: float, ridge_mm: float
) -> PadsCondition:
    """Return the two pads as they are found.

    Args:
        brake: the axle's brake.
        roots: what is the matter at the wheel.
        depths: how deep inner and outer pad have worn.
        looseness: share of the bracket bolts' pull that is missing, 0 to 1.
        ridge_mm: how far the ridge stands above the track, one face; it presses a step into pads that
            reach onto it.
    """
    step_mm = ridge_mm if roots.rotor.rides_on_ridge else 0.0
    tilt = LOOSE_BRACKET_TILT * looseness
    inner, outer = (
        _reading(brake.pad.lining_new_mm + off, depth, tilt, step_mm)
        for off, depth in zip(roots.lining_off_mm, depths, strict=True)
    )
    inner_looks, outer_looks = _surfaces(roots)
    grip = friction(brake, roots)
    return PadsCondition(inner, outer, depths[0].mean_mm, depths[1].mean_mm, inner_looks, outer_looks, grip)


def _reading(new_mm: float, depth: Worn, tilt: float, step_mm: float) -> PadReading:
    """The four corners: each end wears by its share, a loose bracket tilts the pad's outer edge in."""
    ends: Pair = (2 * depth.leading * depth.mean_mm, 2 * (1 - depth.leading) * depth.mean_mm)
    leading_outer, leading_inner, trailing_outer, trailing_inner = (
        max(0.0, new_mm - end * (1 + side * tilt)) for end in ends for side in (1, -1)
    )
    return PadReading(
        leading_outer, leading_inner, trailing_outer, trailing_inner, min(step_mm, depth.mean_mm)
    )


def _surfaces(roots: WheelRoots) -> tuple[tuple[Surface, ...], tuple[Surface, ...]]:
    """How each face looks. Fluid from the piston's seal wets the inner pad first; grease both."""
    both: list[Surface] = []
    if roots.glaze >= SEEN:
        both.append("glazed")
    if roots.bedding <= 1 - SEEN:
        both.append("uneven transfer")
    soil: list[Surface] = []
    if roots.soil != "clean" and roots.soil_share >= SEEN:
        soil.append("contaminated with grease" if roots.soil == "grease" else "contaminated with brake fluid")
    inner = tuple(both + soil)
    outer = tuple(both + (soil if roots.soil == "grease" else []))
    return inner or ("sound",), outer or ("sound",)
