"""What is really the matter with a vehicle: root causes only, nothing that follows from them.

A fault changes roots. What can be seen, felt and measured follows from the roots alone
(:mod:`brakecourse.bench.condition`), so no trace is ever drawn by hand.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any, Literal, get_args

from brakecourse.bench._rotor_roots import RotorRoots, yes_or_no
from brakecourse.bench.checks import number, whole
from brakecourse.bench.specification import WHEELS, Axle, Wheel, axle_of
from brakecourse.trade.fluid import Grade

__all__ = [
    "FLUIDS",
    "SOILS",
    "FluidPresent",
    "Pair",
    "Roots",
    "RotorRoots",
    "Soil",
    "WheelRoots",
    "sound_roots",
]

Pair = tuple[float, float]
FluidPresent = Literal[Grade, "mineral oil"]
Soil = Literal["clean", "brake fluid", "grease"]
SOILS: tuple[Soil, ...] = get_args(Soil)
FLUIDS: tuple[str, ...] = (*get_args(Grade), "mineral oil")

_NEVER = 10_000_000.0  # km; longer than any vehicle goes


@dataclass(frozen=True)
class WheelRoots:
    """What is the matter at one wheel. The defaults are a perfect wheel; a real one never is.

    Pairs ``(leading, trailing)`` go by the end of the pad that the pin or clip belongs to; leading is the
    end that the turning rotor meets first. Pairs ``(inner, outer)`` go by the pad.

    Args:
        pin_drag_n: friction of each slide pin in its bore (leading, trailing).
        grease_ml: grease in each pin's bore (leading, trailing).
        pins_swapped: each pin sits in the other's bore.
        pin_boot_torn, piston_boot_torn: a rubber boot no longer seals.
        clip_rust_mm: rust under the abutment clips (leading, trailing).
        piston_drag_n: friction that the pistons must overcome.
        hose_holds_mpa: pressure that a collapsed hose keeps in the caliper when the pedal is let go.
        acting_km: how far the vehicle has gone with the drags above; before that the wheel was sound.
        overdue_km: how much farther than the vehicle's other parts the pads have gone: they stayed in service
            past their time.
        lining_off_mm: how much thicker than nominal each pad was when new (inner, outer).
        glaze: share of each wheel's friction lost to glazed pads, 0 to 1.
        soil: what the pads are soiled with.
        soil_share: share of the friction that the soil takes, 0 to 1.
        bedding: how evenly friction material was laid on the rotor, 0 not bedded to 1 bedded.
        deposit_mm: height of the uneven deposits on the rotor, both faces together.
        deposit_count, deposit_deg: how many there are, and where the first is.
        hose_leak, caliper_seal_leak, fitting_leak: mL a minute that leave for each MPa.
        nuts_nm: torque found at each wheel nut; empty means as the maker asks.
        bolts_nm, bracket_bolts_nm: torque found at the two caliper bolts, and at the two bracket bolts;
            empty means as the maker asks.
        rotor: the rotor and its seat.
    """

    pin_drag_n: Pair = (0.0, 0.0)
    grease_ml: Pair = (0.0, 0.0)
    pins_swapped: bool = False
    pin_boot_torn: bool = False
    piston_boot_torn: bool = False
    clip_rust_mm: Pair = (0.0, 0.0)
    piston_drag_n: float = 0.0
    hose_holds_mpa: float = 0.0
    acting_km: float = _NEVER
    overdue_km: float = 0.0
    lining_off_mm: Pair = (0.0, 0.0)
    glaze: float = 0.0
    soil: Soil = "clean"
    soil_share: float = 0.0
    bedding: float = 1.0
    deposit_mm: float = 0.0
    deposit_count: int = 3
    deposit_deg: float = 0.0
    hose_leak: float = 0.0
    caliper_seal_leak: float = 0.0
    fitting_leak: float = 0.0
    nuts_nm: tuple[float, ...] = ()
    bolts_nm: tuple[float, ...] = ()
    bracket_bolts_nm: tuple[float, ...] = ()
    rotor: RotorRoots = field(default_factory=RotorRoots)

    def __post_init__(self) -> None:
        _pair("pin_drag_n", self.pin_drag_n, 0, 50_000)
        _pair("grease_ml", self.grease_ml, 0, 50)
        _pair("clip_rust_mm", self.clip_rust_mm, 0, 3)
        _pair("lining_off_mm", self.lining_off_mm, -1, 1)
        number("piston_drag_n", self.piston_drag_n, 0, 50_000)
        number("hose_holds_mpa", self.hose_holds_mpa, 0, 2)
        number("acting_km", self.acting_km, 0)
        number("overdue_km", self.overdue_km, 0)
        for name in ("glaze", "soil_share", "bedding"):
            number(name, getattr(self, name), 0, 1)
        number("deposit_mm", self.deposit_mm, 0, 0.2)
        whole("deposit_count", self.deposit_count, 2, 12)
        number("deposit_deg", self.deposit_deg)
        for name in ("hose_leak", "caliper_seal_leak", "fitting_leak"):
            number(name, getattr(self, name), 0, 20)
        for name in ("nuts_nm", "bolts_nm", "bracket_bolts_nm"):
            for torque in getattr(self, name):
                number(name, torque, 0, 2000)
        for name in ("pins_swapped", "pin_boot_torn", "piston_boot_torn"):
            yes_or_no(name, getattr(self, name))
        if not isinstance(self.rotor, RotorRoots):
            raise ValueError(f"rotor must be RotorRoots, but it was {self.rotor!r}.")
        if self.soil not in SOILS:
            raise ValueError(f"soil must be one of {', '.join(SOILS)}, but it was {self.soil!r}.")

    @property
    def leak(self) -> float:
        """What leaves the hydraulic system at this wheel, mL a minute for each MPa."""
        return self.hose_leak + self.caliper_seal_leak + self.fitting_leak

    def with_rotor(self, **changes: Any) -> WheelRoots:
        """Return these roots with fields of the rotor changed."""
        return replace(self, rotor=replace(self.rotor, **changes))


@dataclass(frozen=True)
class Roots:
    """What is the matter with a whole vehicle.

    Args:
        wheels: the four wheels, in the order of ``WHEELS``.
        fluid: what is in the reservoir.
        water_percent: water in the fluid, percent by mass.
        air_ml: air in the front and in the rear circuit, at rest (front, rear).
        seals_swollen: share by which the rubber has swollen, 0 to 1.
        booster_leak: what passes the primary seal into the booster, mL a minute for each MPa.
        bypass: what slips past the seals inside the master cylinder, mL a minute for each MPa.
        leaking_km: how far the vehicle has gone with its leaks.
        short_ml: fluid that was missing below the upper mark when the reservoir was last filled.
        air_c: temperature of the air.
    """

    wheels: tuple[WheelRoots, ...]
    fluid: FluidPresent
    water_percent: float = 0.0
    air_ml: Pair = (0.0, 0.0)
    seals_swollen: float = 0.0
    booster_leak: float = 0.0
    bypass: float = 0.0
    leaking_km: float = _NEVER
    short_ml: float = 0.0
    air_c: float = 20.0

    def __post_init__(self) -> None:
        if len(self.wheels) != len(WHEELS) or not all(isinstance(one, WheelRoots) for one in self.wheels):
            raise ValueError(f"wheels must be four WheelRoots, but they were {self.wheels!r}.")
        if self.fluid not in FLUIDS:
            raise ValueError(f"fluid must be one of {', '.join(FLUIDS)}, but it was {self.fluid!r}.")
        number("water_percent", self.water_percent, 0, 6)
        _pair("air_ml", self.air_ml, 0, 30)
        number("seals_swollen", self.seals_swollen, 0, 1)
        number("booster_leak", self.booster_leak, 0, 20)
        number("bypass", self.bypass, 0, 20)
        number("leaking_km", self.leaking_km, 0)
        number("short_ml", self.short_ml, 0, 1000)
        number("air_c", self.air_c, -40, 50)

    def wheel(self, wheel: Wheel) -> WheelRoots:
        """Return the roots of one wheel.

        Raises:
            ValueError: there is no such wheel.
        """
        return self.wheels[_place(wheel)]

    def with_wheel(self, wheel: Wheel, **changes: Any) -> Roots:
        """Return these roots with fields of one wheel changed.

        Raises:
            ValueError: there is no such wheel, or a value is outside its range.
        """
        return self.with_wheel_roots(wheel, replace(self.wheel(wheel), **changes))

    def with_wheel_roots(self, wheel: Wheel, roots: WheelRoots) -> Roots:
        """Return these roots with other roots for one wheel."""
        place = _place(wheel)
        wheels = (*self.wheels[:place], roots, *self.wheels[place + 1 :])
        return replace(self, wheels=wheels)

    def with_axle(self, axle: Axle, **changes: Any) -> Roots:
        """Return these roots with fields of both wheels of an axle changed."""
        roots = self
        for wheel in WHEELS:
            if axle_of(wheel) == axle:
                roots = roots.with_wheel(wheel, **changes)
        return roots


def sound_roots(fluid: FluidPresent) -> Roots:
    """Return the roots of a perfect vehicle, which no workshop has ever seen; for tests and lessons.

    Args:
        fluid: what is in the reservoir.

    >>> sound_roots("DOT 4").wheel("front left").pin_drag_n
    (0.0, 0.0)
    """
    perfect = WheelRoots()
    return Roots((perfect, perfect, perfect, perfect), fluid)


def _place(wheel: Wheel) -> int:
    axle_of(wheel)  # refuses what is no wheel
    return WHEELS.index(wheel)


def _pair(name: str, pair: object, low: float, high: float) -> None:
    if not isinstance(pair, tuple) or len(pair) != 2:
        raise ValueError(f"{name} must be a pair of numbers, but it was {pair!r}.")
    for value in pair:
        number(name, value, low, high)
