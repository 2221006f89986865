"""What every fault of a vehicle has: a place, a size, and the one thing it does to the roots."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import ClassVar, Self

from brakecourse.bench._fluid_state import pressure_share
from brakecourse.bench._forces import service_clamp_n
from brakecourse.bench.checks import number
from brakecourse.bench.draw import Draw
from brakecourse.bench.roots import Pair, Roots
from brakecourse.bench.specification import AXLES, WHEELS, Axle, AxleBrake, Wheel, axle_of
from brakecourse.bench.vehicles import Vehicle


@dataclass(frozen=True)
class VehicleFault(ABC):
    """A cause. It changes the roots; everything that shows follows from them.

    Args:
        severity: how far it has gone, 0 just begun to 1 severe.
    """

    severity: float

    id: ClassVar[str]
    words: ClassVar[str]

    def __post_init__(self) -> None:
        number("severity", self.severity, 0, 1)

    @abstractmethod
    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the changed roots.

        Args:
            roots: what is the matter without it.
            vehicle: which vehicle.
            km: distance since its pads were new.
        """

    @classmethod
    def fits(cls, vehicle: Vehicle) -> bool:
        """Tell whether the vehicle has the parts that this can happen to."""
        return True

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind, its place drawn."""
        return cls(severity)

    def at(self, low: float, high: float) -> float:
        """Return a size that goes with the severity, from ``low`` to ``high``."""
        return low + (high - low) * self.severity


@dataclass(frozen=True)
class WheelFault(VehicleFault):
    """A fault at one wheel.

    Args:
        severity: how far it has gone, 0 to 1.
        wheel: where.
    """

    wheel: Wheel = "front left"

    def __post_init__(self) -> None:
        super().__post_init__()
        axle_of(self.wheel)

    @classmethod
    def wheels(cls, vehicle: Vehicle) -> tuple[Wheel, ...]:
        """Return the wheels where it can be."""
        return WHEELS

    @classmethod
    def fits(cls, vehicle: Vehicle) -> bool:
        """Tell whether it can be at one of the wheels."""
        return bool(cls.wheels(vehicle))

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind at a drawn wheel."""
        return cls(severity, draw.choice(cls.wheels(vehicle)))

    def brake(self, vehicle: Vehicle) -> AxleBrake:
        """Return the brake that it is in."""
        return vehicle.axle(axle_of(self.wheel))

    def clamp_n(self, vehicle: Vehicle) -> float:
        """Return the clamp force of everyday braking at its wheel, N."""
        return service_clamp_n(self.brake(vehicle), pressure_share(vehicle.hydraulics, self.wheel))


@dataclass(frozen=True)
class EndFault(WheelFault):
    """A fault at one end of the pads of a wheel.

    Args:
        severity: how far it has gone, 0 to 1.
        wheel: where.
        leading: at the pads' leading end, which the turning rotor meets first; else at the trailing one.
    """

    leading: bool = True

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind at a drawn wheel and a drawn end."""
        return cls(severity, draw.choice(cls.wheels(vehicle)), draw.uniform() < 0.5)

    def one(self, pair: Pair, more: float) -> Pair:
        """Return the pair (leading, trailing) with more at its own end."""
        return (pair[0] + more, pair[1]) if self.leading else (pair[0], pair[1] + more)


@dataclass(frozen=True)
class PinFault(EndFault):
    """A fault of slide pins, so of a floating caliper only; ``leading`` tells which pin, where it is one.

    Args:
        severity, wheel, leading: as for :class:`EndFault`.
    """

    @classmethod
    def wheels(cls, vehicle: Vehicle) -> tuple[Wheel, ...]:
        """Return the wheels with slide pins."""
        return tuple(wheel for wheel in WHEELS if vehicle.axle(axle_of(wheel)).caliper.pin is not None)


@dataclass(frozen=True)
class AxleFault(VehicleFault):
    """A fault at both wheels, or in the circuit, of one axle.

    Args:
        severity: how far it has gone, 0 to 1.
        axle: which one.
    """

    axle: Axle = "front"

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.axle not in AXLES:
            raise ValueError(f"axle must be 'front' or 'rear', but it was {self.axle!r}.")

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind at a drawn axle."""
        return cls(severity, draw.choice(AXLES))

    def wheels_of(self) -> tuple[Wheel, ...]:
        """Return its two wheels."""
        return tuple(wheel for wheel in WHEELS if axle_of(wheel) == self.axle)
