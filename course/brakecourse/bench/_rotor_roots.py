"""What is really the matter with one rotor and its seat: root causes only."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.checks import number
from brakecourse.bench.faults import EvenWear, Fault, Grooves, HeatSpots


@dataclass(frozen=True)
class RotorRoots:
    """One rotor as it came onto its hub, and what has happened to it.

    Args:
        worn_before_mm: thickness worn off by earlier pads, both faces together.
        faults: faults of the rotor itself, as in :mod:`brakecourse.bench.faults`; not what follows from
            how it sits on its hub.
        debris_mm, debris_deg: a flake between hub and rotor, and where it lies from the chalk mark.
        flange_run_out_mm, flange_high_deg: run-out of the hub's bare flange at the seat's radius.
        rotor_run_out_mm, rotor_high_deg: the rotor's own run-out at the measuring radius, as made.
        made_variation_mm, made_thick_deg: thickness variation as made, and where it is thickest.
        ridge_width_mm, rust_mm: the strip that the pads do not reach, and the rust on it, both faces.
        loose_rock_mm, loose_high_deg: how far it rocks without its nuts.
        rides_on_ridge: the pads reach onto the ridge.
        run_out_km: how far the vehicle has gone with the run-out that it has now.
    """

    worn_before_mm: float = 0.0
    faults: tuple[EvenWear | Grooves | HeatSpots, ...] = ()
    debris_mm: float = 0.0
    debris_deg: float = 0.0
    flange_run_out_mm: float = 0.0
    flange_high_deg: float = 0.0
    rotor_run_out_mm: float = 0.0
    rotor_high_deg: float = 0.0
    made_variation_mm: float = 0.0
    made_thick_deg: float = 0.0
    ridge_width_mm: float = 3.0
    rust_mm: float = 0.0
    loose_rock_mm: float = 0.3
    loose_high_deg: float = 0.0
    rides_on_ridge: bool = False
    run_out_km: float = 0.0

    def __post_init__(self) -> None:
        number("worn_before_mm", self.worn_before_mm, 0, 10)
        number("run_out_km", self.run_out_km, 0)
        number("rust_mm", self.rust_mm, 0, 1)
        number("ridge_width_mm", self.ridge_width_mm, 0, 10)
        number("made_variation_mm", self.made_variation_mm, 0, 0.2)
        for name in ("debris_mm", "flange_run_out_mm", "rotor_run_out_mm"):
            number(name, getattr(self, name), 0, 1)
        number("loose_rock_mm", self.loose_rock_mm, 0, 2)
        for name in ("debris_deg", "flange_high_deg", "rotor_high_deg", "made_thick_deg", "loose_high_deg"):
            number(name, getattr(self, name))
        yes_or_no("rides_on_ridge", self.rides_on_ridge)
        for fault in self.faults:
            if not isinstance(fault, Fault):
                raise ValueError(f"faults of a rotor must be faults of the bench, but one was {fault!r}.")


def yes_or_no(name: str, value: object) -> None:
    """Refuse what is neither True nor False.

    Raises:
        ValueError: another thing was given.
    """
    if not isinstance(value, bool):
        raise ValueError(f"{name} must be True or False, but it was {value!r}.")
