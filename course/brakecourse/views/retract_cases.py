"""A wheel whose pistons must go back before new pads find room: how far, and how much fluid that is."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import WHEELS, AxleBrake, Wheel, axle_of
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicle_faults import WornPads
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.fluid import level_drop_mm, piston_area_mm2, wear_volume_ml
from brakecourse.trade.leaks import air_travel_mm
from brakecourse.trade.pads import mean_lining_mm
from brakecourse.views.drawings._retraction_places import Bleeder, Push

RUNNING = "dog_wardens_estate"
"""The vehicle that the lesson follows."""

LID_ABOVE_MAX_MM = 14.0  # assumption, no source: how much higher a reservoir is than its upper mark
FIRM_MPA = 5.0  # a firm push of the foot, to tell what air costs: assumption, no source


@dataclass(frozen=True)
class PushBack:
    """One wheel with a floating caliper and worn pads.

    Attributes:
        vehicle, wheel: whose it is.
        inner_mm, outer_mm: mean lining of the old pads, to a tenth.
        level_mm: level in the reservoir above its floor, to a tenth.
    """

    vehicle: Vehicle
    wheel: Wheel
    inner_mm: float
    outer_mm: float
    level_mm: float

    @property
    def brake(self) -> AxleBrake:
        """The wheel's brake."""
        return self.vehicle.axle(axle_of(self.wheel))

    @property
    def new_mm(self) -> float:
        """Lining of a new pad."""
        return self.brake.pad.lining_new_mm

    @property
    def travel_mm(self) -> float:
        """How far the pistons of a floating caliper go back: what both pads have worn together."""
        return round(2 * self.new_mm - self.inner_mm - self.outer_mm, 1)

    @property
    def area_mm2(self) -> float:
        """Area of one piston."""
        return piston_area_mm2(self.brake.caliper.piston_bore_mm)

    @property
    def volume_ml(self) -> float:
        """Fluid that leaves the caliper until its pistons are home."""
        return self.fluid_ml(self.travel_mm)

    def fluid_ml(self, pushed_mm: float) -> float:
        """Return the fluid that leaves the caliper when its pistons go back so far."""
        caliper = self.brake.caliper
        return wear_volume_ml(caliper.piston_bore_mm, caliper.pistons, pushed_mm / 2)

    def rise_mm(self, volume_ml: float) -> float:
        """Return how far the reservoir's level rises when so much fluid comes back."""
        return level_drop_mm(volume_ml, self.vehicle.hydraulics.reservoir_area_mm2)

    @property
    def height_mm(self) -> float:
        """Inside height of the reservoir."""
        return self.vehicle.hydraulics.reservoir_max_mm + LID_ABOVE_MAX_MM

    @property
    def air_ml(self) -> float:
        """Air that comes in when the press goes first: the pistons spring out by the pads' clearance.

        Assumption, no source: the seals draw them back by as much in use.
        """
        return self.fluid_ml(self.brake.caliper.clearance_mm)

    @property
    def air_travel_mm(self) -> float:
        """How much further the pedal goes for that air, at a firm push."""
        hydraulics = self.vehicle.hydraulics
        return air_travel_mm(self.air_ml, FIRM_MPA, hydraulics.master_bore_mm, hydraulics.pedal_ratio)

    def drawn(
        self,
        pushed_mm: float = 0.0,
        bleeder: Bleeder = "shut",
        *,
        press: bool = True,
        air: bool = False,
        hose: bool = True,
        new_pads: bool = False,
        bottle_ml: float | None = None,
    ) -> Push:
        """Return it as the drawing takes it."""
        volume, hydraulics = self.fluid_ml(pushed_mm), self.vehicle.hydraulics
        back = self.rise_mm(volume) if bleeder == "shut" and press else 0.0
        return Push(
            self.brake.caliper.piston_bore_mm,
            self.brake.pad.height_mm,
            self.brake.rotor.nominal_mm,
            self.new_mm,
            self.new_mm if new_pads else self.inner_mm,
            self.new_mm if new_pads else self.outer_mm,
            0.0 if new_pads else min(pushed_mm, 2 * self.new_mm - self.inner_mm - self.outer_mm),
            bleeder,
            press,
            air,
            (volume if bleeder == "open" else 0.0) if bottle_ml is None else bottle_ml,
            min(self.level_mm + back, self.height_mm),
            hydraulics.reservoir_min_mm,
            hydraulics.reservoir_max_mm,
            self.height_mm,
            hose,
        )


def draw_push_back(
    draw: Draw, difficulty: Difficulty = "normal", *, vehicle: str | None = None, wheel: Wheel | None = None
) -> PushBack:
    """Draw a wheel with worn pads and a floating caliper.

    Args:
        draw: chance.
        difficulty: easy ones have one piston, hard ones two.
        vehicle: key of the vehicle; drawn when left out.
        wheel: which one; drawn when left out.
    """
    pool = motor_pool()
    wanted = {"easy": {1}, "normal": {1, 2}, "hard": {2}}[difficulty]
    there = [
        (key, one)
        for key, car in pool.items()
        for one in WHEELS
        if vehicle in (None, key) and wheel in (None, one) and _fits(car.axle(axle_of(one)), wanted)
    ]
    key, chosen = draw.child("which wheel").choice(there)
    # One in three comes with pads that stayed in too long.
    faults = int(draw.child("worn out").uniform() < 1 / 3)
    seed = draw.child("vehicle").integer(0, 10**9)
    case = draw_vehicle(seed, faults, "normal", (WornPads,), pool[key])
    pads = case.condition.wheel(chosen).pads
    return PushBack(
        case.vehicle,
        chosen,
        round(mean_lining_mm(pads.inner), 1),
        round(mean_lining_mm(pads.outer), 1),
        round(case.condition.fluid.level_mm, 1),
    )


def _fits(brake: AxleBrake, pistons: set[int]) -> bool:
    return brake.caliper.kind == "floating" and brake.caliper.pistons in pistons


def worked_case() -> PushBack:
    """Return the wheel that the lesson follows from start to end."""
    return draw_push_back(Draw(43), vehicle=RUNNING, wheel="front left")


def wheel_words(case: PushBack) -> str:
    """Say which wheel it is: ``the minibus (LM-40), front left wheel``."""
    return f"the {case.vehicle.name} ({case.vehicle.fleet_number}), {case.wheel} wheel"
