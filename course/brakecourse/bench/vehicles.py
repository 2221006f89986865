"""The motor pool of the invented borough of Larkmoor: eight invented vehicles.

No dimension is taken from a real vehicle. Each is plausible, and each vehicle refuses to exist
when its dimensions do not fit together.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cache

from brakecourse.bench.checks import number, whole
from brakecourse.errors import CourseError
from brakecourse.tables import read_table
from brakecourse.trade.rotor import RotorSpec

TABLE = "motor_pool/vehicles.csv"

# Common practice, no source: the share of the new thickness that a maker lets a rotor wear down to.
DISCARD_SHARE = (0.80, 0.95)
# Common practice, no source: how much thicker than the discard limit a rotor must be after machining.
MACHINE_TO_ABOVE_DISCARD_MM = (0.5, 1.5)
# Common practice, no source: measure at least 12 mm in from the outer edge, clear of the ridge.
MEASURING_IN_FROM_EDGE_MM = 12.0
# Assumption, no source: the caliper over the rotor needs this much room to the rim.
CALIPER_ROOM_MM = 40.0
# So that a gauge with lines of 0.01 mm can decide. A tighter limit needs a finer gauge.
VARIATION_LIMITS_MM = (0.025, 0.040)
RUN_OUT_LIMITS_MM = (0.06, 0.12)


@dataclass(frozen=True)
class Vehicle:
    """One vehicle of the motor pool, with the front brake rotor's dimensions.

    Args:
        key, name, fleet_number: how files, people and the motor pool's list call it.
        mass_kg: mass with its usual load.
        wheelbase_mm: front axle to rear axle.
        tyre_radius_mm: wheel centre to road, loaded.
        rim_radius_mm: half the rim's nominal diameter.
        studs, stud_circle_mm, stud_diameter_mm, stud_pitch_mm: the wheel studs; their circle is a diameter.
        wheel_nut_torque_nm: the wheel nuts' torque.
        rotor: the rotor's thickness when new and its limits.
        rotor_outer_radius_mm, rotor_inner_radius_mm: outer edge and inner end of the swept track.
        seat_radius_mm: outer radius of the hub's seat for the rotor.
        measuring_radius_mm: where micrometer and dial indicator are set: the middle of the track.
        odometer_km, km_per_year: how far it has gone, and goes.

    Raises:
        ValueError: a dimension is not a number in its range, or two do not fit together.
    """

    key: str
    name: str
    fleet_number: str
    mass_kg: float
    wheelbase_mm: float
    tyre_radius_mm: float
    rim_radius_mm: float
    studs: int
    stud_circle_mm: float
    stud_diameter_mm: float
    stud_pitch_mm: float
    wheel_nut_torque_nm: float
    rotor: RotorSpec
    rotor_outer_radius_mm: float
    rotor_inner_radius_mm: float
    seat_radius_mm: float
    measuring_radius_mm: float
    odometer_km: float
    km_per_year: float

    def __post_init__(self) -> None:
        for name in ("key", "name", "fleet_number"):
            if not isinstance(getattr(self, name), str) or not getattr(self, name).strip():
                raise ValueError(f"{name} of a vehicle must be a text that is not empty.")
        for name, (low, high) in _RANGES.items():
            number(f"{name} of the {self.name}", getattr(self, name), low, high)
        whole(f"studs of the {self.name}", self.studs, 3, 10)
        if not isinstance(self.rotor, RotorSpec):
            raise ValueError(f"rotor of the {self.name} must be a RotorSpec, but it was {self.rotor!r}.")
        for fits, expected in self._consistency():
            if not fits:
                raise ValueError(f"The {self.name} does not fit together: {expected}.")

    def _consistency(self) -> list[tuple[bool, str]]:
        spec = self.rotor
        share = spec.discard_mm / spec.nominal_mm
        above = round(spec.machine_to_mm - spec.discard_mm, 9)
        middle = (self.rotor_outer_radius_mm + self.rotor_inner_radius_mm) / 2
        in_from_edge = self.rotor_outer_radius_mm - self.measuring_radius_mm
        return [
            (_inside(share, DISCARD_SHARE), "the discard thickness must be 80 to 95 % of the new thickness"),
            (
                _inside(above, MACHINE_TO_ABOVE_DISCARD_MM),
                "the machine-to thickness must be 0.5 to 1.5 mm above the discard thickness",
            ),
            (
                _inside(spec.max_variation_mm, VARIATION_LIMITS_MM),
                "the variation limit must be 0.025 to 0.040 mm",
            ),
            (_inside(spec.max_run_out_mm, RUN_OUT_LIMITS_MM), "the run-out limit must be 0.06 to 0.12 mm"),
            (
                spec.nominal_mm + 1 <= 25 or (spec.discard_mm - 1 >= 25 and spec.nominal_mm + 1 <= 50),
                "one micrometer (0-25 or 25-50 mm) must reach from 1 mm above new to 1 mm below discard",
            ),
            (
                abs(self.measuring_radius_mm - middle) <= 1,
                "the measuring radius must be in the middle of the track",
            ),
            (
                in_from_edge >= MEASURING_IN_FROM_EDGE_MM,
                "the measuring radius must be at least 12 mm in from the outer edge",
            ),
            (self.seat_radius_mm < self.rotor_inner_radius_mm, "the hub's seat must lie inside the track"),
            (
                self.stud_circle_mm / 2 + self.stud_diameter_mm / 2 < self.seat_radius_mm,
                "the studs must lie inside the hub's seat",
            ),
            (
                self.rotor_outer_radius_mm + CALIPER_ROOM_MM <= self.rim_radius_mm,
                "rotor and caliper must fit inside the wheel",
            ),
            (self.rim_radius_mm < self.tyre_radius_mm, "the tyre must be larger than the rim"),
            (self.odometer_km >= self.km_per_year, "it must have gone at least a year's distance"),
        ]


def _inside(value: float, ends: tuple[float, float]) -> bool:
    return ends[0] <= value <= ends[1]


_RANGES: dict[str, tuple[float, float]] = {
    "mass_kg": (600, 12000),
    "wheelbase_mm": (1800, 6000),
    "tyre_radius_mm": (230, 600),
    "rim_radius_mm": (150, 300),
    "stud_circle_mm": (80, 350),
    "stud_diameter_mm": (10, 24),
    "stud_pitch_mm": (1, 3),
    "wheel_nut_torque_nm": (60, 700),
    "rotor_outer_radius_mm": (100, 250),
    "rotor_inner_radius_mm": (50, 200),
    "seat_radius_mm": (40, 200),
    "measuring_radius_mm": (60, 240),
    "odometer_km": (0, 1_000_000),
    "km_per_year": (1000, 100_000),
}
_WORDS = ("key", "name", "fleet_number")


@cache
def _pool() -> tuple[Vehicle, ...]:
    vehicles = tuple(vehicle_from_row(row) for row in read_table(TABLE))
    keys = [vehicle.key for vehicle in vehicles]
    again = [key for key in keys if keys.count(key) > 1]
    if again or not keys:
        found = f"the vehicle '{again[0]}' more than once" if again else "no vehicle"
        raise CourseError(
            f"The table {TABLE} should list each vehicle of the motor pool once, but it has {found}; "
            "correct it, or fetch the course again."
        )
    return vehicles


def motor_pool() -> dict[str, Vehicle]:
    """Return the motor pool's vehicles by key, in the order of the table.

    Raises:
        CourseError: the table is missing, or a row of it is not a vehicle.

    >>> motor_pool()["minibus"].studs
    6
    """
    return {vehicle.key: vehicle for vehicle in _pool()}


def vehicle_from_row(row: dict[str, str]) -> Vehicle:
    """Make a vehicle from one row of the table.

    Args:
        row: column name to text; the rotor's limits are the columns that begin with ``rotor_``
            and end in the name of a limit.

    Raises:
        CourseError: a column is missing, is not a number, or the dimensions do not fit together.
    """
    name = row.get("name") or row.get("key") or "vehicle"
    try:
        limits = {field.name: _cell(row, f"rotor_{field.name}") for field in fields(RotorSpec)}
        numbers = {column: _cell(row, column) for column in _RANGES}
        words = {column: row[column] for column in _WORDS}
        studs = int(row["studs"])
        return Vehicle(**words, **numbers, studs=studs, rotor=RotorSpec(**limits))  # type: ignore[arg-type]
    except KeyError as missing:
        raise CourseError(
            f"The table {TABLE} should have a column {missing} for the {name}, but it has none; "
            "fetch the course again so that its files are complete."
        ) from None
    except (TypeError, ValueError) as problem:
        raise CourseError(
            f"The table {TABLE} should describe a vehicle in the row of the {name}, but: {problem} "
            "Correct that row, or fetch the course again."
        ) from None


def _cell(row: dict[str, str], column: str) -> float:
    text = row[column]
    try:
        return float(text)
    except ValueError:
        raise ValueError(f"{column} must be a number, but it was {text!r}.") from None
