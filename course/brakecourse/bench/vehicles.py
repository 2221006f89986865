"""The motor pool of the invented borough of Larkmoor: eight invented vehicles.

No dimension is taken from a real vehicle. Each is plausible, and each vehicle refuses to exist
when its dimensions do not fit together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from brakecourse.bench.checks import whole
from brakecourse.bench.parts import Caliper, Fastener, Pad, SlidePin, keep_ranges, refuse_unless
from brakecourse.bench.rows import record, rows_of, told
from brakecourse.bench.specification import AXLES, Axle, AxleBrake, Hydraulics
from brakecourse.errors import CourseError
from brakecourse.tables import read_table
from brakecourse.trade import fluid, hydraulics
from brakecourse.trade.rotor import RotorSpec

TABLE = "motor_pool/vehicles.csv"
BRAKES_TABLE = "motor_pool/brakes.csv"
HYDRAULICS_TABLE = "motor_pool/hydraulics.csv"
FASTENERS_TABLE = "motor_pool/fasteners.csv"

# Assumption, no source: the caliper over the rotor needs this much room to the rim.
CALIPER_ROOM_MM = 40.0
# A rear wheel that locks first throws the vehicle round. How hard a braking the rule must hold for, as a
# share of standard gravity: assumption, no source (hardly any road lets a tyre do more).
FRONT_FIRST_UP_TO = 0.85


@dataclass(frozen=True)
class Vehicle:
    """One vehicle of the motor pool.

    Args:
        key, name, fleet_number: how files, people and the motor pool's list call it.
        mass_kg: mass with its usual load.
        wheelbase_mm: front axle to rear axle.
        cg_height_mm, cg_to_front_mm: centre of gravity, above the road and behind the front axle.
        tyre_radius_mm: wheel centre to road, loaded.
        rim_radius_mm: half the rim's nominal diameter.
        studs, stud_circle_mm: the wheel studs of one hub; their circle is a diameter.
        wheel_nut: the wheel nuts and their studs, alike on all wheels.
        front, rear: the brakes of each axle.
        hydraulics: what works them.
        odometer_km, km_per_year: how far it has gone, and goes.

    Raises:
        ValueError: a dimension is not a number in its range, or two do not fit together.
    """

    key: str
    name: str
    fleet_number: str
    mass_kg: float
    wheelbase_mm: float
    cg_height_mm: float
    cg_to_front_mm: float
    tyre_radius_mm: float
    rim_radius_mm: float
    studs: int
    stud_circle_mm: float
    wheel_nut: Fastener
    front: AxleBrake
    rear: AxleBrake
    hydraulics: Hydraulics
    odometer_km: float
    km_per_year: float

    def __post_init__(self) -> None:
        for name in ("key", "name", "fleet_number"):
            if not isinstance(getattr(self, name), str) or not getattr(self, name).strip():
                raise ValueError(f"{name} of a vehicle must be a text that is not empty.")
        keep_ranges(self, self.name, _RANGES)
        whole(f"studs of the {self.name}", self.studs, 3, 10)
        for name, kind in _PARTS.items():
            if not isinstance(getattr(self, name), kind):
                found = getattr(self, name)
                raise ValueError(f"{name} of the {self.name} must be {kind.__name__}, but it was {found!r}.")
        rules = self._body_rules() + self._brake_rules()
        refuse_unless(f"The {self.name}", [rule for axle in AXLES for rule in self._axle_rules(axle)] + rules)

    def axle(self, axle: Axle) -> AxleBrake:
        """Return the brakes of one axle.

        Args:
            axle: ``"front"`` or ``"rear"``.

        Raises:
            ValueError: there is no such axle.
        """
        if axle not in AXLES:
            raise ValueError(f"axle must be 'front' or 'rear', but it was {axle!r}.")
        return self.front if axle == "front" else self.rear

    @property
    def front_share(self) -> float:
        """The share of the whole braking that the front axle does."""
        front = self.front.torque_nm(1.0)  # the share is the same at every pressure
        return front / (front + self.rear.torque_nm(self.hydraulics.rear_pressure_share))

    def _axle_rules(self, axle: Axle) -> list[tuple[bool, str]]:
        brake = self.axle(axle)
        studs_mm = self.stud_circle_mm / 2 + self.wheel_nut.diameter_mm / 2
        return [
            (brake.axle == axle, f"its {axle} brake must be made for the {axle} axle"),
            (studs_mm < brake.seat_radius_mm, "the studs must lie inside the hub's seat"),
            (
                brake.rotor_outer_radius_mm + CALIPER_ROOM_MM <= self.rim_radius_mm,
                "rotor and caliper must fit inside the wheel",
            ),
        ]

    def _body_rules(self) -> list[tuple[bool, str]]:
        return [
            (self.rim_radius_mm < self.tyre_radius_mm, "the tyre must be larger than the rim"),
            (self.odometer_km >= self.km_per_year, "it must have gone at least a year's distance"),
            (
                0.35 <= self.cg_to_front_mm / self.wheelbase_mm <= 0.65,
                "its centre of gravity must lie 35 to 65 % of the wheelbase behind the front axle",
            ),
        ]

    def _brake_rules(self) -> list[tuple[bool, str]]:
        needed_ml = fluid.required_reservoir_ml([self.axle(axle).travel for axle in AXLES for _ in range(2)])
        hardest = FRONT_FIRST_UP_TO * hydraulics.STANDARD_GRAVITY_MS2
        loads = hydraulics.axle_loads_n(
            self.mass_kg, self.wheelbase_mm, self.cg_height_mm, self.cg_to_front_mm, hardest
        )
        return [
            (
                self.hydraulics.reservoir_ml >= needed_ml,
                f"its reservoir must hold the {needed_ml:.0f} mL that worn pads and rotors take",
            ),
            (
                self.front_share >= loads.front_n / (loads.front_n + loads.rear_n),
                "its front wheels must lock before its rear wheels",
            ),
        ]


_PARTS = {"wheel_nut": Fastener, "front": AxleBrake, "rear": AxleBrake, "hydraulics": Hydraulics}
_RANGES: dict[str, tuple[float, float]] = {
    "mass_kg": (600, 12000),
    "wheelbase_mm": (1800, 6000),
    "cg_height_mm": (300, 1600),
    "cg_to_front_mm": (600, 4000),
    "tyre_radius_mm": (230, 600),
    "rim_radius_mm": (150, 300),
    "stud_circle_mm": (80, 350),
    "odometer_km": (0, 1_000_000),
    "km_per_year": (1000, 100_000),
}
_PLACES: dict[tuple[str, ...], str] = {
    (axle, place): f"{axle} {place}" for axle in AXLES for place in ("caliper bolt", "bracket bolt")
} | {("both", "wheel nut"): "wheel nut"}


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
        CourseError: a table is missing, or a row of it does not describe a vehicle.

    >>> motor_pool()["minibus"].studs
    6
    >>> motor_pool()["minibus"].axle("rear").rotor.discard_mm
    19.5
    """
    return {vehicle.key: vehicle for vehicle in _pool()}


def vehicle_from_row(row: Mapping[str, str]) -> Vehicle:
    """Make a vehicle from its row, and from its rows in the tables of brakes, hydraulics and fasteners.

    Args:
        row: column name to text.

    Raises:
        CourseError: a row or column is missing, a cell holds another kind of value, or the dimensions do
            not fit together.
    """
    name = row.get("name") or row.get("key") or "vehicle"
    key = row.get("key") or name
    with told(FASTENERS_TABLE, name):
        found = rows_of(FASTENERS_TABLE, key, _PLACES)
        bolts = {place: record(Fastener, cells) for place, cells in found.items()}
    with told(BRAKES_TABLE, name):
        found = rows_of(BRAKES_TABLE, key, {(axle,): axle for axle in AXLES})
        brakes = {axle: _brake(cells, bolts) for axle, cells in found.items()}
    with told(HYDRAULICS_TABLE, name):
        (cells,) = rows_of(HYDRAULICS_TABLE, key, {(): "hydraulics"}).values()
        system = record(Hydraulics, cells)
    with told(TABLE, name):
        return record(Vehicle, row, wheel_nut=bolts["wheel nut"], hydraulics=system, **brakes)


def _brake(row: Mapping[str, str], bolts: Mapping[str, Fastener]) -> AxleBrake:
    axle = row["axle"]
    caliper = record(
        Caliper,
        row,
        "caliper_",
        pin=record(SlidePin, row, "pin_") if row.get("caliper_kind") == "floating" else None,
        bolt=bolts[f"{axle} caliper bolt"],
        bracket_bolt=bolts[f"{axle} bracket bolt"],
    )
    return record(
        AxleBrake,
        row,
        caliper=caliper,
        pad=record(Pad, row, "pad_"),
        rotor=record(RotorSpec, row, "rotor_"),
    )
