"""What a vehicle's brakes are made of: the brakes of one axle, and the hydraulic system that works them.

Each refuses to exist when its numbers do not fit together.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, get_args

from brakecourse.bench.checks import number
from brakecourse.bench.parts import Caliper, Fastener, Pad, SlidePin, inside, keep_ranges, refuse_unless
from brakecourse.trade import fluid, hydraulics
from brakecourse.trade.rotor import RotorSpec

__all__ = [
    "AXLES",
    "WHEELS",
    "Axle",
    "AxleBrake",
    "Caliper",
    "Fastener",
    "Hydraulics",
    "Pad",
    "SlidePin",
    "Wheel",
    "axle_of",
]

Axle = Literal["front", "rear"]
Wheel = Literal["front left", "front right", "rear left", "rear right"]
AXLES: tuple[Axle, ...] = get_args(Axle)
WHEELS: tuple[Wheel, ...] = get_args(Wheel)

# Common practice, no source: the share of the new thickness that a maker lets a rotor wear down to.
DISCARD_SHARE = (0.80, 0.95)
# Common practice, no source: how much thicker than the discard limit a rotor must be after machining.
MACHINE_TO_ABOVE_DISCARD_MM = (0.5, 1.5)
# Common practice, no source: measure at least 12 mm in from the outer edge, clear of the ridge.
MEASURING_IN_FROM_EDGE_MM = 12.0
# So that a gauge with lines of 0.01 mm can decide. A tighter limit needs a finer gauge.
VARIATION_LIMITS_MM = (0.025, 0.040)
RUN_OUT_LIMITS_MM = (0.06, 0.12)
# Assumption, no source: how much of the space that a full disc of its size would fill is iron in a rotor.
# Air channels take away, the hat adds.
IRON_SHARE = (0.5, 1.2)
IRON_KG_PER_MM3 = 7.2e-6  # density of grey cast iron, from memory
# Assumption, no source: pistons in a row may reach this far beyond the pad's length.
PISTON_ROW_SHARE = 1.1


def axle_of(wheel: Wheel) -> Axle:
    """Return the axle of a wheel.

    Raises:
        ValueError: there is no such wheel.

    >>> axle_of("rear left")
    'rear'
    """
    if wheel not in WHEELS:
        raise ValueError(f"wheel must be one of {', '.join(WHEELS)}, but it was {wheel!r}.")
    return "front" if wheel.startswith("front") else "rear"


@dataclass(frozen=True)
class AxleBrake:
    """The brakes of one axle: both wheels have the same caliper, pads and rotor.

    Args:
        axle: ``"front"`` or ``"rear"``.
        caliper, pad: one caliper, and one of its two pads.
        rotor: the rotor's thickness when new and its limits.
        rotor_outer_radius_mm, rotor_inner_radius_mm: outer edge and inner end of the swept track.
        seat_radius_mm: outer radius of the hub's seat for the rotor.
        measuring_radius_mm: where micrometer and dial indicator are set: the middle of the track.
        rotor_mass_kg: mass of one new rotor.
        cooling_time_constant_s: time in which its heat above the air falls to 37 percent while driving.

    Raises:
        ValueError: a value is outside its range, or two parts do not fit together.
    """

    axle: Axle
    caliper: Caliper
    pad: Pad
    rotor: RotorSpec
    rotor_outer_radius_mm: float
    rotor_inner_radius_mm: float
    seat_radius_mm: float
    measuring_radius_mm: float
    rotor_mass_kg: float
    cooling_time_constant_s: float

    def __post_init__(self) -> None:
        if self.axle not in AXLES:
            raise ValueError(f"axle must be 'front' or 'rear', but it was {self.axle!r}.")
        for name, kind in (("caliper", Caliper), ("pad", Pad), ("rotor", RotorSpec)):
            if not isinstance(getattr(self, name), kind):
                found = getattr(self, name)
                raise ValueError(
                    f"{name} of the {self.axle} brake must be a {kind.__name__}, but it was {found!r}."
                )
        keep_ranges(self, f"{self.axle} brake", _AXLE_RANGES)
        what = f"The {self.axle} brake"
        refuse_unless(what, self._rotor_rules() + self._track_rules())

    def _rotor_rules(self) -> list[tuple[bool, str]]:
        spec = self.rotor
        share = spec.discard_mm / spec.nominal_mm
        above = round(spec.machine_to_mm - spec.discard_mm, 9)
        small, large = spec.discard_mm - 1, spec.nominal_mm + 1
        disc_kg = math.pi * self.rotor_outer_radius_mm**2 * spec.nominal_mm * IRON_KG_PER_MM3
        return [
            (inside(share, DISCARD_SHARE), "the discard thickness must be 80 to 95 % of the new thickness"),
            (
                inside(above, MACHINE_TO_ABOVE_DISCARD_MM),
                "the machine-to thickness must be 0.5 to 1.5 mm above the discard thickness",
            ),
            (
                inside(spec.max_variation_mm, VARIATION_LIMITS_MM),
                "the variation limit must be 0.025 to 0.040 mm",
            ),
            (inside(spec.max_run_out_mm, RUN_OUT_LIMITS_MM), "the run-out limit must be 0.06 to 0.12 mm"),
            (
                large <= 25 or (small >= 25 and large <= 50),
                "one micrometer (0-25 or 25-50 mm) must reach from 1 mm above new to 1 mm below discard",
            ),
            (
                inside(self.rotor_mass_kg / disc_kg, IRON_SHARE),
                "the rotor's mass must be 50 to 120 % of a full iron disc of its size",
            ),
        ]

    def _track_rules(self) -> list[tuple[bool, str]]:
        outer, inner, middle = (
            self.rotor_outer_radius_mm,
            self.rotor_inner_radius_mm,
            self.measuring_radius_mm,
        )
        row_mm = self.caliper.pushing_pistons * self.caliper.piston_bore_mm
        return [
            (
                abs(middle - (outer + inner) / 2) <= 1,
                "the measuring radius must be in the middle of the track",
            ),
            (
                outer - middle >= MEASURING_IN_FROM_EDGE_MM,
                "the measuring radius must be at least 12 mm in from the outer edge",
            ),
            (self.seat_radius_mm < inner, "the hub's seat must lie inside the track"),
            (
                middle + self.pad.height_mm / 2 <= outer and middle - self.pad.height_mm / 2 >= inner,
                "the pad's height must fit the track",
            ),
            (inner < self.effective_radius_mm < outer, "the effective radius must lie inside the track"),
            (
                row_mm <= PISTON_ROW_SHARE * self.pad.length_mm,
                "the pistons that press one pad must find room along it",
            ),
        ]

    @cached_property
    def effective_radius_mm(self) -> float:
        """Where the friction of a bedded-in pad acts, from the wheel's centre, mm."""
        half = self.pad.height_mm / 2
        return hydraulics.effective_radius_mm(
            self.measuring_radius_mm + half, self.measuring_radius_mm - half
        )

    @property
    def travel(self) -> fluid.CaliperTravel:
        """The whole travel of one caliper's pistons, from new pads and rotor to worn ones."""
        return fluid.CaliperTravel(
            self.caliper.piston_bore_mm,
            self.caliper.pistons,
            self.pad.lining_new_mm,
            self.pad.minimum_mm,
            self.rotor.nominal_mm - self.rotor.discard_mm,
            self.caliper.clearance_mm,
            self.caliper.kind,
        )

    def wear(self, lining_wear_mm: float, rotor_wear_mm: float = 0.0) -> fluid.WheelWear:
        """Return the wear of one wheel as the fluid's level feels it (mean of its pads, rotor; mm)."""
        caliper = self.caliper
        return fluid.WheelWear(
            caliper.piston_bore_mm, caliper.pistons, lining_wear_mm, rotor_wear_mm, caliper.kind
        )

    def clamp_force_n(self, pressure_mpa: float) -> float:
        """Return the force that presses one pad at a pressure in the caliper, N."""
        caliper = self.caliper
        return hydraulics.clamp_force_n(pressure_mpa, caliper.piston_bore_mm, caliper.pushing_pistons)

    def torque_nm(self, pressure_mpa: float) -> float:
        """Return the brake torque of one wheel at a pressure in the caliper, N·m."""
        clamp = self.clamp_force_n(pressure_mpa)
        return hydraulics.brake_torque_nm(clamp, self.pad.friction, self.effective_radius_mm)


_AXLE_RANGES: dict[str, tuple[float, float]] = {
    "rotor_outer_radius_mm": (100, 250),
    "rotor_inner_radius_mm": (50, 200),
    "seat_radius_mm": (40, 200),
    "measuring_radius_mm": (60, 240),
    "rotor_mass_kg": (1.5, 40),
    "cooling_time_constant_s": (100, 1500),
}


@dataclass(frozen=True)
class Hydraulics:
    """Pedal, booster, master cylinder, reservoir and lines. Each axle has a circuit of its own.

    Args:
        pedal_ratio: foot travel over push-rod travel.
        master_bore_mm, master_stroke_mm: the master cylinder; its whole stroke serves both circuits.
        assist_factor: how many times the booster multiplies the push on the master's rod.
        assist_limit_n: the most force that the booster can add.
        free_play_mm: pedal travel until the master's piston moves.
        pedal_room_mm: pedal travel until the floor.
        reservoir_area_mm2: area of the fluid's surface.
        reservoir_max_mm, reservoir_min_mm: the marks, above the bottom.
        system_ml: fluid in the whole system, the reservoir at its upper mark.
        expansion_ml_per_mpa: how much hoses and seals swell.
        fluid_grade: as :mod:`brakecourse.trade.fluid` names it.
        rear_pressure_share: how much of the line pressure the valve lets through to the rear brakes.

    Raises:
        ValueError: a value is outside its range, or two do not fit together.
    """

    pedal_ratio: float
    master_bore_mm: float
    master_stroke_mm: float
    assist_factor: float
    assist_limit_n: float
    free_play_mm: float
    pedal_room_mm: float
    reservoir_area_mm2: float
    reservoir_max_mm: float
    reservoir_min_mm: float
    system_ml: float
    expansion_ml_per_mpa: float
    fluid_grade: fluid.Grade
    rear_pressure_share: float

    def __post_init__(self) -> None:
        keep_ranges(self, "hydraulics", _HYDRAULICS_RANGES)
        fluid.boiling_minima_c(self.fluid_grade)  # refuses a grade that the trade does not know
        travel_mm = self.free_play_mm + self.master_stroke_mm * self.pedal_ratio
        refuse_unless(
            "The hydraulic system",
            [
                (self.reservoir_min_mm < self.reservoir_max_mm, "the lower mark must be below the upper one"),
                (self.system_ml > self.reservoir_ml, "the system must hold more than its reservoir"),
                (
                    travel_mm >= self.pedal_room_mm,
                    "the master's stroke must reach as far as the pedal can go",
                ),
            ],
        )

    @property
    def reservoir_ml(self) -> float:
        """What the reservoir holds at its upper mark, mL."""
        return self.reservoir_area_mm2 * self.reservoir_max_mm / 1000

    def assist_n(self, pedal_force_n: float) -> float:
        """Return the force that the booster adds at the push-rod, N."""
        wanted = (self.assist_factor - 1) * self.pedal_ratio * number("pedal_force_n", pedal_force_n, 0)
        return min(wanted, self.assist_limit_n)


_HYDRAULICS_RANGES: dict[str, tuple[float, float]] = {
    "pedal_ratio": (2.5, 7),
    "master_bore_mm": (17, 45),
    "master_stroke_mm": (20, 60),
    "assist_factor": (1, 12),
    "assist_limit_n": (0, 12000),
    "free_play_mm": (1, 15),
    "pedal_room_mm": (80, 200),
    "reservoir_area_mm2": (1000, 20000),
    "reservoir_max_mm": (20, 120),
    "reservoir_min_mm": (5, 100),
    "system_ml": (200, 3000),
    "expansion_ml_per_mpa": (0.02, 1.5),
    "rear_pressure_share": (0.1, 1.0),
}
