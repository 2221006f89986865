"""The motor pool: eight invented vehicles whose dimensions fit together, and tables that are checked."""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import fields, replace
from pathlib import Path

import pytest
from brakecourse import tables
from brakecourse.bench import motor_pool, vehicles
from brakecourse.bench.specification import (
    AXLES,
    Axle,
    AxleBrake,
    Caliper,
    Fastener,
    Hydraulics,
    Pad,
    SlidePin,
)
from brakecourse.bench.vehicles import Vehicle, vehicle_from_row
from brakecourse.errors import CourseError
from brakecourse.published import convert
from brakecourse.tables import read_table
from brakecourse.trade.rotor import RotorSpec

POOL = motor_pool()
VAN = POOL["library_van"]
TABLES = (
    vehicles.TABLE,
    vehicles.BRAKES_TABLE,
    vehicles.HYDRAULICS_TABLE,
    vehicles.FASTENERS_TABLE,
)
each_vehicle = pytest.mark.parametrize("vehicle", POOL.values(), ids=POOL.keys())
each_axle = pytest.mark.parametrize("axle", AXLES)


def test_there_are_eight_and_each_is_its_own() -> None:
    assert len(POOL) == 8
    for name in ("name", "fleet_number"):
        assert len({getattr(vehicle, name) for vehicle in POOL.values()}) == 8
    assert all(key == vehicle.key for key, vehicle in POOL.items())


def test_both_micrometers_are_needed() -> None:
    assert {vehicle.front.rotor.nominal_mm < 25 for vehicle in POOL.values()} == {True, False}


def test_the_pool_has_every_kind_of_part_that_the_lessons_speak_of() -> None:
    calipers = [vehicle.axle(axle).caliper for vehicle in POOL.values() for axle in AXLES]
    assert {(caliper.kind, caliper.pushing_pistons) for caliper in calipers} == {
        ("floating", 1),
        ("floating", 2),
        ("fixed", 1),
        ("fixed", 2),
    }
    assert sum(not caliper.bracket_bolt.reusable for caliper in calipers) == 1
    assert {vehicle.hydraulics.fluid_grade for vehicle in POOL.values()} == {"DOT 3", "DOT 4", "DOT 5.1"}


@each_axle
@each_vehicle
def test_the_rotor_is_in_the_ratio_that_the_trade_sees(vehicle: Vehicle, axle: Axle) -> None:
    # Common practice, no source.
    spec = vehicle.axle(axle).rotor
    assert 8 <= spec.discard_mm <= 35
    assert 0.80 <= spec.discard_mm / spec.nominal_mm <= 0.95
    assert 0.5 <= round(spec.machine_to_mm - spec.discard_mm, 6) <= 1.5
    assert 0.025 <= spec.max_variation_mm <= 0.040
    assert 0.06 <= spec.max_run_out_mm <= 0.12


@each_axle
@each_vehicle
def test_the_limits_are_written_to_a_tenth_so_that_a_gauge_line_lies_on_them(
    vehicle: Vehicle, axle: Axle
) -> None:
    spec = vehicle.axle(axle).rotor
    for limit in (spec.nominal_mm, spec.machine_to_mm, spec.discard_mm):
        assert limit == round(limit, 1)
    assert spec.max_run_out_mm == round(spec.max_run_out_mm, 2)


@each_vehicle
def test_the_rotors_fit_inside_the_wheel_and_the_wheel_in_the_tyre(vehicle: Vehicle) -> None:
    # A rim has a whole or half number of inches across: converted by pint, an outside library.
    inches = convert(2 * vehicle.rim_radius_mm, "mm", "in")
    assert 2 * inches == pytest.approx(round(2 * inches))
    assert vehicle.rear.rotor_outer_radius_mm <= vehicle.front.rotor_outer_radius_mm
    assert vehicle.front.rotor_outer_radius_mm + 40 <= vehicle.rim_radius_mm
    assert 1.3 < vehicle.tyre_radius_mm / vehicle.rim_radius_mm < 2.0


@each_axle
@each_vehicle
def test_gauges_are_set_in_the_middle_of_the_track_clear_of_the_ridge(vehicle: Vehicle, axle: Axle) -> None:
    brake = vehicle.axle(axle)
    assert brake.rotor_outer_radius_mm - brake.measuring_radius_mm >= 12  # common practice, no source
    middle = (brake.rotor_outer_radius_mm + brake.rotor_inner_radius_mm) / 2
    assert brake.measuring_radius_mm == pytest.approx(middle, abs=1)
    assert brake.effective_radius_mm == pytest.approx(brake.measuring_radius_mm)


@each_vehicle
def test_worn_pads_and_rotors_bring_the_level_down_to_the_lower_mark(vehicle: Vehicle) -> None:
    # Common practice, no source: a low level is a first sign of worn pads. The volume is worked out here by
    # hand: pistons that follow the wear, their area, two pads and the rotor, two wheels an axle.
    worn_ml = 0.0
    for brake in (vehicle.front, vehicle.rear):
        caliper, pad = brake.caliper, brake.pad
        following = caliper.pistons / (2 if caliper.kind == "fixed" else 1)
        pads_mm = 2 * (pad.lining_new_mm - pad.minimum_mm + caliper.clearance_mm)
        rotor_mm = brake.rotor.nominal_mm - brake.rotor.discard_mm
        worn_ml += 2 * following * 0.785398 * caliper.piston_bore_mm**2 * (pads_mm + rotor_mm) / 1000
    system = vehicle.hydraulics
    assert worn_ml <= system.reservoir_ml  # 49 CFR 571.135, S5.4.2
    fall_mm = 1000 * worn_ml / system.reservoir_area_mm2
    assert 0.9 <= fall_mm / (system.reservoir_max_mm - system.reservoir_min_mm) <= 1.3


@each_vehicle
def test_pads_last_as_long_as_a_motor_pool_sees(vehicle: Vehicle) -> None:
    # Common practice, no source: 20 000 to 150 000 km, and the rear ones last longer.
    front_km, rear_km = (
        1000 * (brake.pad.lining_new_mm - brake.pad.minimum_mm) / brake.pad.wear_mm_per_1000km
        for brake in (vehicle.front, vehicle.rear)
    )
    assert 20_000 <= front_km < rear_km <= 150_000


@each_vehicle
def test_the_wheel_nut_torque_suits_the_studs(vehicle: Vehicle) -> None:
    # Preload T / (K d), K = 0.2 (Shigley's Mechanical Engineering Design, 9th ed., table 8-15, zinc plated;
    # read) over the stress area pi/4 (d - 0.9382 p)^2 of ISO 898-1 (from memory). A stud of class 10.9 has a
    # proof stress of 830 MPa (ISO 898-1, from memory). 40 to 75 % of it is usual: common practice, no source.
    nut = vehicle.wheel_nut
    preload_n = nut.torque_nm * 1000 / (0.2 * nut.diameter_mm)
    area_mm2 = 0.7854 * (nut.diameter_mm - 0.9382 * nut.pitch_mm) ** 2
    assert 0.40 <= preload_n / area_mm2 / 830 <= 0.75
    assert nut.proof_share == pytest.approx(preload_n / area_mm2 / 830, rel=0.005)


@each_vehicle
def test_mass_tyre_and_distance_are_plausible(vehicle: Vehicle) -> None:
    assert 600 <= vehicle.mass_kg <= 12000
    assert 2 <= vehicle.odometer_km / vehicle.km_per_year <= 20
    assert 8 <= vehicle.wheelbase_mm / vehicle.tyre_radius_mm <= 11


def test_an_axle_is_asked_for_by_its_name() -> None:
    assert VAN.axle("front") is VAN.front
    assert VAN.axle("rear") is VAN.rear
    with pytest.raises(ValueError, match="axle must be 'front' or 'rear'"):
        VAN.axle("middle")  # type: ignore[arg-type]


def _half_bore(axle: Axle) -> Vehicle:
    brake = VAN.axle(axle)
    caliper = replace(brake.caliper, piston_bore_mm=brake.caliper.piston_bore_mm / 2)
    return replace(VAN, **{axle: replace(brake, caliper=caliper)})  # type: ignore[arg-type]


def _system(**changes: float) -> Vehicle:
    return replace(VAN, hydraulics=replace(VAN.hydraulics, **changes))


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: replace(VAN, stud_circle_mm=140.0), "studs must lie inside"),
        (lambda: replace(VAN, rim_radius_mm=184.0), "fit inside the wheel"),
        (lambda: replace(VAN, tyre_radius_mm=230.0, rim_radius_mm=231.0), "tyre must be larger"),
        (lambda: replace(VAN, odometer_km=10.0), "a year's distance"),
        (lambda: replace(VAN, front=VAN.rear), "front brake must be made for the front axle"),
        (lambda: replace(VAN, cg_to_front_mm=2500.0), "35 to 65 %"),
        (lambda: _system(reservoir_area_mm2=4500.0), "reservoir must hold the 184 mL"),
        (lambda: _system(rear_pressure_share=1.0), "front wheels must lock before"),
        (lambda: replace(VAN, cg_height_mm=1000.0), "front wheels must lock before"),
        (lambda: _half_bore("front"), "front wheels must lock before"),
        (lambda: replace(VAN, studs=5.0), "studs of the library van must be a whole number"),
        (lambda: replace(VAN, studs=True), "studs of the library van must be a whole number"),
        (lambda: replace(VAN, mass_kg=float("nan")), "mass_kg of the library van must be a finite number"),
        (lambda: replace(VAN, mass_kg=-2650.0), "mass_kg of the library van must be from 600 to 12000"),
        (lambda: replace(VAN, wheelbase_mm="3200"), "wheelbase_mm of the library van must be a number"),
        (lambda: replace(VAN, name=" "), "name of a vehicle"),
        (lambda: replace(VAN, front=28.0), "front of the library van must be AxleBrake"),
        (lambda: replace(VAN, wheel_nut=160.0), "wheel_nut of the library van must be Fastener"),
        (lambda: replace(VAN, hydraulics=None), "hydraulics of the library van must be Hydraulics"),
    ],
)
def test_a_vehicle_that_does_not_fit_together_is_refused(make: Callable[[], Vehicle], sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        make()


def test_the_tables_have_the_columns_of_the_records_and_no_others() -> None:
    def names(kind: type, prefix: str = "", without: tuple[str, ...] = ()) -> list[str]:
        return [prefix + field.name for field in fields(kind) if field.name not in without]

    parts = ("caliper", "pad", "rotor")
    expected = {
        vehicles.TABLE: names(Vehicle, without=("wheel_nut", "front", "rear", "hydraulics")),
        vehicles.BRAKES_TABLE: [
            "vehicle",
            *names(AxleBrake, without=parts),
            *names(Caliper, "caliper_", without=("pin", "bolt", "bracket_bolt")),
            *names(SlidePin, "pin_"),
            *names(Pad, "pad_"),
            *names(RotorSpec, "rotor_"),
        ],
        vehicles.HYDRAULICS_TABLE: ["vehicle", *names(Hydraulics)],
        vehicles.FASTENERS_TABLE: ["vehicle", "axle", "place", *names(Fastener)],
    }
    for table, columns in expected.items():
        assert sorted(read_table(table)[0]) == sorted(columns), table


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"mass_kg": "heavy"}, "mass_kg must be a number, but it was 'heavy'"),
        ({"studs": "five"}, "row of the library van"),
        ({"studs": "5.5"}, "studs of the library van must be a whole number"),
        ({"cg_height_mm": ""}, "cg_height_mm must be a number"),
        ({"odometer_km": "nan"}, "row of the library van"),
        ({"rim_radius_mm": "160"}, "row of the library van"),
        ({"tyre_radius_mm": None}, "column 'tyre_radius_mm'"),
        ({"key": "hovercraft"}, r"motor_pool/fasteners\.csv should have 5 rows for the vehicle 'hovercraft'"),
    ],
)
def test_a_spoilt_row_is_told_in_a_sentence(change: dict[str, str | None], sentence: str) -> None:
    row = {**read_table(vehicles.TABLE)[0], **change}
    spoilt = {column: text for column, text in row.items() if text is not None}
    with pytest.raises(CourseError, match=sentence) as caught:
        vehicle_from_row(spoilt)
    assert "\n" not in str(caught.value)


@pytest.fixture
def copied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The tables in a folder that is read instead of the course's own, and is forgotten afterwards."""
    folder = tmp_path / "motor_pool"
    folder.mkdir()
    for table in TABLES:
        (tmp_path / table).write_text(tables.table_path(table).read_text(encoding="utf-8"), encoding="utf-8")
    monkeypatch.setattr(tables, "_INSIDE", tmp_path)
    monkeypatch.setattr(vehicles, "_pool", vehicles._pool.__wrapped__)
    return folder


def _spoil(path: Path, change: Callable[[list[dict[str, str]]], None]) -> None:
    with path.open(encoding="utf-8", newline="") as handle:
        rows = list(csv.DictReader(handle))
    columns = list(rows[0])
    change(rows)
    with path.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.DictWriter(handle, columns)
        writer.writeheader()
        writer.writerows(rows)


def test_the_copied_tables_give_the_same_vehicles(copied: Path) -> None:
    assert motor_pool() == POOL


@pytest.mark.parametrize(
    ("name", "change", "sentence"),
    [
        ("vehicles", list.clear, "no vehicle"),
        ("vehicles", lambda rows: rows.append(rows[0]), "'library_van' more than once"),
        ("brakes", lambda rows: rows.pop(0), "should have 2 rows for the vehicle 'library_van'"),
        ("brakes", lambda rows: rows.append(rows[0]), "should have 2 rows for the vehicle 'library_van'"),
        ("brakes", lambda rows: rows[0].update(axle="rear"), "should have 2 rows"),
        ("brakes", lambda rows: rows[0].update(pin_bore_mm=""), "pin_bore_mm must be a number"),
        ("brakes", lambda rows: rows[0].update(caliper_kind="sliding"), "row of the library van"),
        ("brakes", lambda rows: rows[0].update(rotor_discard_mm="29"), "row of the library van"),
        ("hydraulics", list.clear, "should have 1 row for the vehicle 'library_van'"),
        ("hydraulics", lambda rows: rows[0].update(fluid_grade="DOT 9"), "row of the library van"),
        ("hydraulics", lambda rows: rows[0].update(pedal_ratio="four"), "pedal_ratio must be a number"),
        ("fasteners", lambda rows: rows.pop(0), "should have 5 rows for the vehicle 'library_van'"),
        ("fasteners", lambda rows: rows[0].update(reusable="perhaps"), "must be True or False"),
        ("fasteners", lambda rows: rows[0].update(torque_nm="400"), "30 to 80 % of its proof load"),
    ],
)
def test_a_spoilt_table_is_told_in_a_sentence(
    copied: Path, name: str, change: Callable[[list[dict[str, str]]], None], sentence: str
) -> None:
    _spoil(copied / f"{name}.csv", change)
    with pytest.raises(CourseError, match=sentence) as caught:
        motor_pool()
    assert f"motor_pool/{name}.csv" in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("table", TABLES)
def test_a_cut_table_is_told_in_a_sentence(copied: Path, table: str) -> None:
    path = copied.parent / table
    header = path.read_text(encoding="utf-8").splitlines()[0]
    path.write_text(header + "\nlibrary_van,front\n", encoding="utf-8")
    with pytest.raises(CourseError, match=r"motor_pool/\w+\.csv"):
        motor_pool()
