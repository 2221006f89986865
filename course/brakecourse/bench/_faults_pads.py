"""Faults of pads and of fasteners: mostly what somebody did or left undone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Self, get_args

from brakecourse.bench._fault_base import AxleFault, WheelFault
from brakecourse.bench.checks import number, whole
from brakecourse.bench.draw import Draw
from brakecourse.bench.roots import Roots, Soil
from brakecourse.bench.specification import Fastener
from brakecourse.bench.vehicles import Vehicle

Fasteners = Literal["wheel nuts", "caliper bolts", "bracket bolts"]
_FIELDS = {"wheel nuts": "nuts_nm", "caliper bolts": "bolts_nm", "bracket bolts": "bracket_bolts_nm"}
_BOLTS = 2


@dataclass(frozen=True)
class WornPads(AxleFault):
    """The pads of an axle stayed in service past their time."""

    id = "worn_pads"
    words = "the pads of an axle are worn out"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with pads that have gone farther: to their minimum, or most of the way to bare."""
        pad = vehicle.axle(self.axle).pad
        left_mm = pad.minimum_mm * self.at(1.0, 0.25)
        wanted_km = 1000 * (pad.lining_new_mm - left_mm) / pad.wear_mm_per_1000km
        return roots.with_axle(self.axle, overdue_km=max(0.0, wanted_km - km))


@dataclass(frozen=True)
class GlazedPads(AxleFault):
    """The pads of an axle have been overheated, and their faces are glazed."""

    id = "glazed_pads"
    words = "the pads of an axle are glazed"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with glazed pads."""
        for wheel in self.wheels_of():
            glaze = max(roots.wheel(wheel).glaze, self.at(0.16, 0.5))
            roots = roots.with_wheel(wheel, glaze=glaze)
        return roots


@dataclass(frozen=True)
class ContaminatedPads(WheelFault):
    """Grease or brake fluid has got onto the pads of one wheel.

    Args:
        severity, wheel: as for every fault at a wheel.
        soil: what it is.
    """

    soil: Soil = "grease"

    id = "contaminated_pads"
    words = "grease or fluid has got onto the pads"

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.soil not in ("grease", "brake fluid"):
            raise ValueError(f"soil must be 'grease' or 'brake fluid', but it was {self.soil!r}.")

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind with a drawn soil."""
        soils: tuple[Soil, ...] = ("grease", "brake fluid")
        return cls(severity, draw.choice(cls.wheels(vehicle)), draw.choice(soils))

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with soiled pads."""
        share = max(roots.wheel(self.wheel).soil_share, self.at(0.2, 0.6))
        return roots.with_wheel(self.wheel, soil=self.soil, soil_share=share)


@dataclass(frozen=True)
class BeddingSkipped(AxleFault):
    """Nobody bedded the new pads in. Friction material lies on the rotors in patches.

    Args:
        severity, axle: as for every fault of an axle.
        count: how many patches each rotor has.
        first_deg: where the first is, from the chalk mark.
    """

    count: int = 3
    first_deg: float = 0.0

    id = "bedding_skipped"
    words = "the new pads were not bedded in"

    def __post_init__(self) -> None:
        super().__post_init__()
        whole("count", self.count, 2, 12)
        number("first_deg", self.first_deg)

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind with drawn patches."""
        front = draw.uniform() < 0.5
        return cls(severity, "front" if front else "rear", draw.integer(2, 5), draw.between(0, 360))

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots without bedding."""
        for wheel in self.wheels_of():
            now = roots.wheel(wheel)
            roots = roots.with_wheel(
                wheel,
                bedding=min(now.bedding, 1 - self.at(0.3, 0.95)),
                deposit_mm=max(now.deposit_mm, self.at(0.02, 0.06)),
                deposit_count=self.count,
                deposit_deg=self.first_deg,
            )
        return roots


@dataclass(frozen=True)
class TorqueFault(WheelFault):
    """Fasteners of one wheel at another torque than the maker's.

    Args:
        severity, wheel: as for every fault at a wheel.
        which: which of them.
    """

    which: Fasteners = "wheel nuts"

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.which not in get_args(Fasteners):
            raise ValueError(f"which must be one of {', '.join(_FIELDS)}, but it was {self.which!r}.")

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind at a drawn wheel, for drawn fasteners."""
        return cls(severity, draw.choice(cls.wheels(vehicle)), draw.choice(get_args(Fasteners)))

    def found(self, roots: Roots, vehicle: Vehicle) -> list[float]:
        """Return the torques that are there without the fault, N·m."""
        there: tuple[float, ...] = getattr(roots.wheel(self.wheel), _FIELDS[self.which])
        count = vehicle.studs if self.which == "wheel nuts" else _BOLTS
        return list(there) or [self.fastener(vehicle).torque_nm] * count

    def fastener(self, vehicle: Vehicle) -> Fastener:
        """Return what they are."""
        caliper = self.brake(vehicle).caliper
        if self.which == "wheel nuts":
            return vehicle.wheel_nut
        return caliper.bolt if self.which == "caliper bolts" else caliper.bracket_bolt

    def with_torques(self, roots: Roots, torques_nm: list[float]) -> Roots:
        """Return the roots with these torques."""
        return roots.with_wheel(self.wheel, **{_FIELDS[self.which]: tuple(torques_nm)})


@dataclass(frozen=True)
class UnderTorqued(TorqueFault):
    """Fasteners are loose: of the wheel nuts two neighbours, of the bolts both."""

    id = "under_torqued"
    words = "fasteners are under-torqued"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with two loose fasteners."""
        torques = self.found(roots, vehicle)
        torques[:2] = [torque * self.at(0.75, 0.1) for torque in torques[:2]]
        return self.with_torques(roots, torques)


@dataclass(frozen=True)
class OverTorqued(TorqueFault):
    """Fasteners are too tight: somebody used an impact wrench."""

    id = "over_torqued"
    words = "fasteners are over-torqued"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with tight fasteners, each a little different."""
        torques = self.found(roots, vehicle)
        tight = [torque * (self.at(1.3, 2.1) + 0.08 * (place % 2)) for place, torque in enumerate(torques)]
        return self.with_torques(roots, tight)
