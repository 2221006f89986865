"""What is true at one wheel: records only. Gauges and checks read them; nothing changes them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from brakecourse.bench.roots import Pair
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.bench.specification import Wheel
from brakecourse.trade.pads import PadReading

Surface = Literal[
    "sound",
    "glazed",
    "contaminated with brake fluid",
    "contaminated with grease",
    "uneven transfer",
]


@dataclass(frozen=True)
class PadsCondition:
    """The two pads of one wheel.

    Attributes:
        inner, outer: lining at the four corners, and the step at the edge. Inner is the piston's pad; in a
            fixed caliper, the pad nearer the middle of the vehicle.
        inner_worn_mm, outer_worn_mm: mean depth worn off each.
        inner_surface, outer_surface: how each friction face looks.
        friction: coefficient of friction of the pair as it is.
    """

    inner: PadReading
    outer: PadReading
    inner_worn_mm: float
    outer_worn_mm: float
    inner_surface: tuple[Surface, ...]
    outer_surface: tuple[Surface, ...]
    friction: float


@dataclass(frozen=True)
class CaliperCondition:
    """The caliper of one wheel, its bracket and its hose.

    Attributes:
        pin_slide_n: force that moves each slide pin (leading, trailing); None without pins.
        grease_ml: grease in each pin's bore; None without pins.
        pin_gap_mm: how far short of its seat each pin stops; None without pins.
        pins_swapped: each pin sits in the other's bore.
        pin_boot_torn, piston_boot_torn: a boot no longer seals.
        clip_rust_mm: rust under the abutment clips (leading, trailing).
        pad_grip_n: force that moves a pad in its bracket at each end (leading, trailing).
        piston_push_back_n: force that pushes the pistons back, bleeder open.
        residual_mpa: pressure that stays in the caliper when the pedal is let go.
    """

    pin_slide_n: Pair | None
    grease_ml: Pair | None
    pin_gap_mm: Pair | None
    pins_swapped: bool
    pin_boot_torn: bool
    piston_boot_torn: bool
    clip_rust_mm: Pair
    pad_grip_n: Pair
    piston_push_back_n: float
    residual_mpa: float


@dataclass(frozen=True)
class DragCondition:
    """What holds a wheel that is spun by hand, pedal let go.

    Attributes:
        inner_n, outer_n: force that presses each pad although the pedal is let go.
        torque_nm: torque that turns the wheel.
        bleeder_opened_nm: the same once the bleeder has been opened.
        fitting_opened_nm: the same when only the fitting between pipe and hose has been opened. A
            collapsed hose holds its pressure then; fluid shut in farther up gets out.
    """

    inner_n: float
    outer_n: float
    torque_nm: float
    bleeder_opened_nm: float
    fitting_opened_nm: float


@dataclass(frozen=True)
class RotorFit:
    """The rotor of one wheel, as it sits on its hub.

    Attributes:
        rotor: the rotor's own condition, which micrometer and dial read.
        run_out_mm: total run-out of the mounted rotor at the measuring radius, tilt only.
        debris_mm: thickness of the flake between hub and rotor.
        debris_run_out_mm: what that flake alone makes at the measuring radius.
        flange_run_out_mm: run-out of the bare, clean flange at the seat's radius.
        variation_mm: thickness variation, largest less smallest of a whole turn.
        smallest_mm: smallest thickness of the track, what flat anvils find.
        ridge_mm: how far the ridge at the outer edge stands above the track, one face.
        looks: what can be seen of it.
    """

    rotor: RotorCondition
    run_out_mm: float
    debris_mm: float
    debris_run_out_mm: float
    flange_run_out_mm: float
    variation_mm: float
    smallest_mm: float
    ridge_mm: float
    looks: tuple[str, ...]


@dataclass(frozen=True)
class FastenerSet:
    """Fasteners of one kind at one wheel, as found.

    Attributes:
        name: what people call them.
        wanted_nm: the maker's torque.
        torques_nm: torque found at each.
        preloads_n: pull in each, from its torque.
        proof_share: the most that one of them carries of its proof load.
    """

    name: str
    wanted_nm: float
    torques_nm: tuple[float, ...]
    preloads_n: tuple[float, ...]
    proof_share: float

    @property
    def stretched(self) -> bool:
        """One of them carries more than its proof load, so it may stay longer for good."""
        return self.proof_share > 1

    @property
    def least_share(self) -> float:
        """Torque of the loosest over the maker's."""
        return min(self.torques_nm) / self.wanted_nm

    @property
    def most_share(self) -> float:
        """Torque of the tightest over the maker's."""
        return max(self.torques_nm) / self.wanted_nm


@dataclass(frozen=True)
class WheelCondition:
    """Everything that is true at one wheel.

    Attributes:
        wheel: which one.
        pads, caliper, drag, rotor: its parts.
        nuts, bolts, bracket_bolts: its fasteners.
        brake_torque_nm: torque at the reference pedal force, engine running.
        rotor_c: rotor's temperature after the reference drive.
        fluid_c: the fluid's in the caliper after the reference descent.
        wet_places: where fluid is seen.
        noises: what is heard.
    """

    wheel: Wheel
    pads: PadsCondition
    caliper: CaliperCondition
    drag: DragCondition
    rotor: RotorFit
    nuts: FastenerSet
    bolts: FastenerSet
    bracket_bolts: FastenerSet
    brake_torque_nm: float
    rotor_c: float
    fluid_c: float
    wet_places: tuple[str, ...]
    noises: tuple[str, ...]
