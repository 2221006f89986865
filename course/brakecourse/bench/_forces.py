"""What presses each pad of one wheel: while braking, and when the pedal is let go."""

from __future__ import annotations

from typing import NamedTuple

from brakecourse.bench.roots import Pair, WheelRoots
from brakecourse.bench.specification import AxleBrake, Caliper
from brakecourse.trade.hydraulics import brake_torque_nm, clamp_force_n
from brakecourse.trade.slide_pins import grease_limit_ml, pad_force_split_n, seated_gap_mm

# Line pressure of everyday braking. Assumption, no source.
SERVICE_PRESSURE_MPA = 1.5
# What a piston's seal pulls back, for each mm of bore. Friction up to that leaves no pad pressed.
# Assumption, no source.
SEAL_PULL_N_PER_MM = 4.0
# Share of a part's sticking force with which a pad goes on pressing. Assumption, no source.
RESIDUAL_SHARE = 0.15
# Rust that the clips' spring takes up, and grip for each further mm. Assumptions, no source.
CLIP_PLAY_MM = 0.15
CLIP_GRIP_N_PER_MM = 1200.0
# Force that moves a sound pad in its clips. Assumption, no source.
SOUND_GRIP_N = 20.0
# Drag for each mL of grease above the limit. Assumption, no source.
PACKED_DRAG_N_PER_ML = 300.0
# Pressure that swollen seals shut into every caliper, for rubber swollen in full. Assumption, no source.
SWOLLEN_HOLDS_MPA = 0.15
# Friction that seals swollen in full put on the pistons, as a multiple of what they pull back. Assumption,
# no source.
SWOLLEN_DRAG_TIMES = 2.5
# What turns a sound wheel by hand: bearing, and the pads' light touch. Assumption, no source.
FREE_WHEEL_NM = 1.5


class PadForces(NamedTuple):
    """Force on each pad in N, and the share of it that the pad's leading end carries.

    Attributes:
        inner_n, outer_n: force on each pad.
        inner_leading, outer_leading: share at the leading end, 0 to 1; one half is even.
    """

    inner_n: float
    outer_n: float
    inner_leading: float = 0.5
    outer_leading: float = 0.5

    @property
    def mean_n(self) -> float:
        """Mean force of the two pads, N."""
        return (self.inner_n + self.outer_n) / 2


def pin_slide_n(brake: AxleBrake, roots: WheelRoots) -> Pair:
    """Return the force that moves each slide pin, N; zeros for a caliper without pins."""
    pin = brake.caliper.pin
    if pin is None:
        return (0.0, 0.0)
    limit = grease_limit_ml(pin.bore_mm, pin.depth_mm, pin.pin_mm, pin.seated_length_mm)
    packed = [PACKED_DRAG_N_PER_ML * max(0.0, grease - limit) for grease in roots.grease_ml]
    return (roots.pin_drag_n[0] + packed[0], roots.pin_drag_n[1] + packed[1])


def pin_gaps_mm(brake: AxleBrake, roots: WheelRoots) -> Pair:
    """Return how far short of its seat each pin stops, mm; zeros for a caliper without pins."""
    pin = brake.caliper.pin
    if pin is None:
        return (0.0, 0.0)
    gaps = [
        seated_gap_mm(grease, pin.bore_mm, pin.depth_mm, pin.pin_mm, pin.seated_length_mm)
        for grease in roots.grease_ml
    ]
    return (gaps[0], gaps[1])


def pad_grip_n(roots: WheelRoots) -> Pair:
    """Return the force that moves a pad in its clips at each end, N: rust under a clip squeezes the pad."""
    grips = [SOUND_GRIP_N + CLIP_GRIP_N_PER_MM * max(0.0, rust - CLIP_PLAY_MM) for rust in roots.clip_rust_mm]
    return (grips[0], grips[1])


def service_clamp_n(brake: AxleBrake, pressure_share: float) -> float:
    """Return the clamp force of everyday braking, N; the share is the axle's pressure over the front's."""
    caliper = brake.caliper
    pressure = SERVICE_PRESSURE_MPA * pressure_share
    return clamp_force_n(pressure, caliper.piston_bore_mm, caliper.pushing_pistons)


def seal_pull_n(caliper: Caliper) -> float:
    """Return what the seals of the pistons behind one pad pull back, N."""
    return SEAL_PULL_N_PER_MM * caliper.piston_bore_mm * caliper.pushing_pistons


def piston_friction_n(caliper: Caliper, own_n: float, seals_swollen: float) -> float:
    """Return the friction that the pistons behind one pad must overcome, N: their own, and the seals'."""
    return own_n + SWOLLEN_DRAG_TIMES * seals_swollen * seal_pull_n(caliper)


def braking(brake: AxleBrake, roots: WheelRoots, pressure_mpa: float, seals_swollen: float) -> PadForces:
    """Return what presses the pads at a pressure in the caliper.

    A piston's friction takes its share first. In a floating caliper each half of the body is held back by
    its own pin, so a single tight pin tips the body: the outer pad presses less at that end.

    Args:
        brake: the axle's brake.
        roots: what is the matter at the wheel.
        pressure_mpa: pressure in the caliper.
        seals_swollen: share by which the rubber has swollen.

    Source:
        Statics (:func:`brakecourse.trade.slide_pins.pad_force_split_n`). That each pin holds back its own
        half of the body: assumption, no source.
    """
    caliper = brake.caliper
    clamp = clamp_force_n(pressure_mpa, caliper.piston_bore_mm, caliper.pushing_pistons)
    pushed = max(0.0, clamp - piston_friction_n(caliper, roots.piston_drag_n, seals_swollen))
    if caliper.pin is None:  # the sticking piston is the inner one; the other side presses in full
        return PadForces(pushed, max(0.0, clamp - piston_friction_n(caliper, 0.0, seals_swollen)))
    leading_n, trailing_n = pin_slide_n(brake, roots)
    inner, outer = pad_force_split_n(pushed, leading_n + trailing_n)
    if outer == 0:
        return PadForces(inner, outer)
    share = min(1.0, max(0.0, (pushed / 2 - leading_n) / outer))
    # The tipped body pushes the piston askew the other way, by the share of it that the pin holds.
    return PadForces(inner, outer, 0.5 - (share - 0.5) * outer / inner, share)


def residual_mpa(roots: WheelRoots, seals_swollen: float) -> float:
    """Return the pressure that stays in the caliper when the pedal is let go, MPa.

    Swollen cups cover the port through which fluid should flow back; a collapsed hose lets none pass.
    """
    return max(roots.hose_holds_mpa, SWOLLEN_HOLDS_MPA * seals_swollen)


def released(brake: AxleBrake, roots: WheelRoots, seals_swollen: float, held_mpa: float) -> PadForces:
    """Return what still presses the pads when the pedal is let go.

    Pressure that stays presses both. A piston that sticks leaves the inner pad pressed, clips on rust the
    outer one at its tight end.

    Args:
        brake: the axle's brake.
        roots: what is the matter at the wheel.
        seals_swollen: share by which the rubber has swollen.
        held_mpa: pressure that stays in the caliper.

    Source:
        Pascal's principle for the pressure; what sticking parts leave: assumption, no source.
    """
    caliper = brake.caliper
    both = clamp_force_n(held_mpa, caliper.piston_bore_mm, caliper.pushing_pistons)
    stuck = RESIDUAL_SHARE * max(
        0.0, piston_friction_n(caliper, roots.piston_drag_n, seals_swollen) - seal_pull_n(caliper)
    )
    grips = [RESIDUAL_SHARE * (grip - SOUND_GRIP_N) for grip in pad_grip_n(roots)]
    inner, outer = both + stuck, both + sum(grips)
    leading = (both / 2 + grips[0]) / outer if outer else 0.5
    return PadForces(inner, outer, 0.5, leading)


def drag_torque_nm(brake: AxleBrake, forces: PadForces) -> float:
    """Return the torque that turns a wheel by hand against these forces, N·m."""
    rubbing = brake_torque_nm(forces.mean_n, brake.pad.friction, brake.effective_radius_mm)
    return FREE_WHEEL_NM + rubbing
