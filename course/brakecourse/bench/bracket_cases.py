"""One wheel's bracket, pins and piston, drawn from the bench, and what is found on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from brakecourse.bench.condition import VehicleCondition
from brakecourse.bench.draw import Draw
from brakecourse.bench.parts import SlidePin
from brakecourse.bench.roots import Pair
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import WHEELS, AxleBrake, Wheel, axle_of
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicle_faults import (
    DryPins,
    PackedPinBore,
    RustUnderClips,
    SeizedPin,
    SeizedPiston,
    SwappedPins,
    TornPinBoot,
    TornPistonBoot,
    VehicleFault,
)
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.hydraulics import clamp_force_n
from brakecourse.trade.slide_pins import free_volume_ml, grease_limit_ml

EVERYDAY_MPA = 1.5
"""Pressure of everyday braking. Assumption, no source; the bench's own."""
TIGHT_SHARE = 0.06
"""A pin is tight from this share of the piston's everyday force on. Assumption, no source."""

DRY, SEIZED, PACKED, SWAPPED = (
    "both slide pins are dry",
    "one slide pin is seized",
    "a pin's bore is packed with grease",
    "the two pins are swapped",
)
RUST, PISTON, PIN_BOOT, PISTON_BOOT, SOUND = (
    "rust under a clip holds a pad",
    "the piston sticks under a whole boot",
    "a pin's boot is torn",
    "the piston's boot is torn",
    "every part is sound",
)
KINDS: dict[str, type[VehicleFault]] = {
    DRY: DryPins,
    SEIZED: SeizedPin,
    PACKED: PackedPinBore,
    SWAPPED: SwappedPins,
    RUST: RustUnderClips,
    PISTON: SeizedPiston,
    PIN_BOOT: TornPinBoot,
    PISTON_BOOT: TornPistonBoot,
}
"""What can be at fault, and the bench's fault behind it; :data:`SOUND` is none of them."""
FAULTS = (*KINDS, SOUND)


@dataclass(frozen=True)
class PinSums:
    """Room and limits of one pin's bore, in mL."""

    pin: SlidePin

    @property
    def measures(self) -> tuple[float, float, float, float]:
        """Bore, depth, pin and seated length in mm, as the trade's functions take them."""
        return self.pin.bore_mm, self.pin.depth_mm, self.pin.pin_mm, self.pin.seated_length_mm

    @property
    def free_ml(self) -> float:
        """The free volume."""
        return free_volume_ml(*self.measures)

    @property
    def limit_ml(self) -> float:
        """The most grease."""
        return grease_limit_ml(*self.measures)


@dataclass(frozen=True)
class BracketCase:
    """What lies on the bench.

    Attributes:
        vehicle, wheel: whose it is.
        condition: the whole vehicle's.
        fault: what is at fault, one of :data:`FAULTS`; hidden from the learner.
    """

    vehicle: Vehicle
    wheel: Wheel
    condition: VehicleCondition
    fault: str

    def __post_init__(self) -> None:
        if self.fault not in FAULTS or self.pin is None:
            raise ValueError(
                f"A wheel with slide pins and one of {', '.join(FAULTS)} was expected, but it was the "
                f"{self.wheel} wheel of the {self.vehicle.name} and {self.fault!r}."
            )

    @property
    def brake(self) -> AxleBrake:
        """The brakes of its axle."""
        return self.vehicle.axle(axle_of(self.wheel))

    @property
    def pin(self) -> SlidePin:
        """A pin and its bore."""
        pin = self.brake.caliper.pin
        if pin is None:
            raise ValueError(f"The {self.wheel} wheel of the {self.vehicle.name} has no slide pins.")
        return pin

    @property
    def sums(self) -> PinSums:
        """Room and limits of the bore."""
        return PinSums(self.pin)

    @property
    def partner(self) -> Wheel:
        """The axle's other wheel."""
        return next(one for one in WHEELS if axle_of(one) == axle_of(self.wheel) and one != self.wheel)

    @property
    def clamp_n(self) -> float:
        """Force of the pistons at the pressure of everyday braking."""
        return everyday_clamp_n(self.brake)

    def slides_n(self, wheel: Wheel | None = None) -> Pair:
        """Return the force that slides each pin, leading and trailing, as a hand's spring gauge tells it."""
        found = self.condition.wheel(wheel or self.wheel).caliper.pin_slide_n or (0.0, 0.0)
        return 5.0 * round(found[0] / 5), 5.0 * round(found[1] / 5)

    @property
    def grease_ml(self) -> Pair:
        """Grease in each bore."""
        return self.condition.wheel(self.wheel).caliper.grease_ml or (0.0, 0.0)

    @property
    def gaps_mm(self) -> Pair:
        """How far short of its seat each pin stops."""
        return self.condition.wheel(self.wheel).caliper.pin_gap_mm or (0.0, 0.0)


def everyday_clamp_n(brake: AxleBrake, pressure_mpa: float = EVERYDAY_MPA) -> float:
    """Return the force of the pistons behind the inner pad.

    Args:
        brake: which brakes.
        pressure_mpa: pressure in the caliper.
    """
    return clamp_force_n(pressure_mpa, brake.caliper.piston_bore_mm, brake.caliper.pushing_pistons)


def draw_bracket(
    fault: str,
    difficulty: Difficulty,
    draw: Draw,
    vehicle: Vehicle | None = None,
) -> BracketCase:
    """Draw one wheel with slide pins.

    Args:
        fault: one of :data:`FAULTS`.
        difficulty: how far the fault has gone.
        draw: chance.
        vehicle: which one; drawn when left out.
    """
    kinds: Sequence[type[VehicleFault]] = (KINDS[fault],) if fault in KINDS else ()
    for again in range(100):
        seed = draw.child(f"vehicle {again}").integer(0, 10**9)
        case = (
            draw_vehicle(seed, 1, difficulty, kinds, vehicle)
            if kinds
            else draw_vehicle(seed, 0, difficulty, vehicle=vehicle)
        )
        wheel = (
            getattr(case.faults[0], "wheel", None) if kinds else draw.child(f"wheel {again}").choice(WHEELS)
        )
        if wheel is not None and case.vehicle.axle(axle_of(wheel)).caliper.pin is not None:
            return BracketCase(case.vehicle, wheel, case.condition, fault)
    raise ValueError(f"No wheel with slide pins was drawn for “{fault}”.")


@dataclass(frozen=True)
class SeenPin:
    """What can be seen of a slide pin that has come out of its bore.

    Attributes:
        grease_share: grease in its bore over the most that may go in.
        scored: it has rubbed dry: rust and bright marks.
        flat: it is the pin with the flat, which belongs in the trailing bore.
        boot_torn: its boot is torn.
    """

    grease_share: float
    scored: bool
    flat: bool
    boot_torn: bool


def seen_pins(case: BracketCase) -> tuple[SeenPin, SeenPin]:
    """Return what can be seen of both pins: the one out of the leading bore, then the trailing one."""
    caliper, slides = case.condition.wheel(case.wheel).caliper, case.slides_n()
    leading, trailing = (
        SeenPin(
            case.grease_ml[place] / case.sums.limit_ml,
            scored=slides[place] >= TIGHT_SHARE * case.clamp_n
            and not caliper.pins_swapped
            and not case.gaps_mm[place],
            flat=caliper.pins_swapped == (place == 0),
            boot_torn=caliper.pin_boot_torn and slides[place] == max(slides),
        )
        for place in (0, 1)
    )
    return leading, trailing
