"""The motor pool: eight invented vehicles whose dimensions fit together, and a table that is checked."""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path

import pytest
from brakecourse import tables
from brakecourse.bench import motor_pool, vehicles
from brakecourse.bench.vehicles import Vehicle, vehicle_from_row
from brakecourse.errors import CourseError
from brakecourse.published import convert
from brakecourse.tables import read_table
from brakecourse.trade.rotor import RotorSpec

POOL = motor_pool()
VAN = POOL["library_van"]
each_vehicle = pytest.mark.parametrize("vehicle", POOL.values(), ids=POOL.keys())


def test_there_are_eight_and_each_is_its_own() -> None:
    assert len(POOL) == 8
    for name in ("name", "fleet_number"):
        assert len({getattr(vehicle, name) for vehicle in POOL.values()}) == 8
    assert all(key == vehicle.key for key, vehicle in POOL.items())


def test_both_micrometers_are_needed() -> None:
    assert {vehicle.rotor.nominal_mm < 25 for vehicle in POOL.values()} == {True, False}


@each_vehicle
def test_the_rotor_is_in_the_ratio_that_the_trade_sees(vehicle: Vehicle) -> None:
    # Common practice, no source.
    spec = vehicle.rotor
    assert 8 <= spec.discard_mm <= 35
    assert 0.80 <= spec.discard_mm / spec.nominal_mm <= 0.95
    assert 0.5 <= round(spec.machine_to_mm - spec.discard_mm, 6) <= 1.5
    assert 0.025 <= spec.max_variation_mm <= 0.040
    assert 0.06 <= spec.max_run_out_mm <= 0.12


@each_vehicle
def test_the_limits_are_written_to_a_tenth_so_that_a_gauge_line_lies_on_them(vehicle: Vehicle) -> None:
    for limit in (vehicle.rotor.nominal_mm, vehicle.rotor.machine_to_mm, vehicle.rotor.discard_mm):
        assert limit == round(limit, 1)
    assert vehicle.rotor.max_run_out_mm == round(vehicle.rotor.max_run_out_mm, 2)


@each_vehicle
def test_the_rotor_fits_inside_the_wheel_and_the_wheel_in_the_tyre(vehicle: Vehicle) -> None:
    # A rim has a whole or half number of inches across: converted by pint, an outside library.
    inches = convert(2 * vehicle.rim_radius_mm, "mm", "in")
    assert 2 * inches == pytest.approx(round(2 * inches))
    assert vehicle.rotor_outer_radius_mm + 40 <= vehicle.rim_radius_mm
    assert 1.3 < vehicle.tyre_radius_mm / vehicle.rim_radius_mm < 2.0


@each_vehicle
def test_gauges_are_set_in_the_middle_of_the_track_clear_of_the_ridge(vehicle: Vehicle) -> None:
    assert vehicle.rotor_outer_radius_mm - vehicle.measuring_radius_mm >= 12  # common practice, no source
    middle = (vehicle.rotor_outer_radius_mm + vehicle.rotor_inner_radius_mm) / 2
    assert vehicle.measuring_radius_mm == pytest.approx(middle, abs=1)


@each_vehicle
def test_the_wheel_nut_torque_suits_the_studs(vehicle: Vehicle) -> None:
    # Preload T / (K d), K = 0.2 (Shigley's Mechanical Engineering Design, 9th ed., table 8-15, zinc plated;
    # read) over the stress area pi/4 (d - 0.9382 p)^2 of ISO 898-1 (from memory). A stud of class 10.9 has a
    # proof stress of 830 MPa (ISO 898-1, from memory). 40 to 75 % of it is usual: common practice, no source.
    preload_n = vehicle.wheel_nut_torque_nm * 1000 / (0.2 * vehicle.stud_diameter_mm)
    area_mm2 = 0.7854 * (vehicle.stud_diameter_mm - 0.9382 * vehicle.stud_pitch_mm) ** 2
    assert 0.40 <= preload_n / area_mm2 / 830 <= 0.75


@each_vehicle
def test_mass_tyre_and_distance_are_plausible(vehicle: Vehicle) -> None:
    assert 600 <= vehicle.mass_kg <= 12000
    assert 2 <= vehicle.odometer_km / vehicle.km_per_year <= 20
    assert 8 <= vehicle.wheelbase_mm / vehicle.tyre_radius_mm <= 11


def _with_rotor(**changes: float) -> Vehicle:
    return replace(VAN, rotor=replace(VAN.rotor, **changes))


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: _with_rotor(discard_mm=22.0), "80 to 95 %"),
        (lambda: _with_rotor(machine_to_mm=26.4), "0.5 to 1.5 mm above"),
        (lambda: _with_rotor(machine_to_mm=27.6), "0.5 to 1.5 mm above"),
        (lambda: _with_rotor(max_variation_mm=0.010), "variation limit"),
        (lambda: _with_rotor(max_run_out_mm=0.05), "run-out limit"),
        (lambda: _with_rotor(nominal_mm=27.0, machine_to_mm=26.0, discard_mm=25.0), "one micrometer"),
        (lambda: replace(VAN, measuring_radius_mm=130.0), "middle of the track"),
        (lambda: replace(VAN, rotor_inner_radius_mm=130.0, measuring_radius_mm=137.5), "at least 12 mm in"),
        (lambda: replace(VAN, seat_radius_mm=95.0), "inside the track"),
        (lambda: replace(VAN, stud_circle_mm=140.0), "studs must lie inside"),
        (lambda: replace(VAN, rim_radius_mm=184.0), "fit inside the wheel"),
        (lambda: replace(VAN, tyre_radius_mm=230.0, rim_radius_mm=231.0), "tyre must be larger"),
        (lambda: replace(VAN, odometer_km=10.0), "a year's distance"),
        (lambda: replace(VAN, studs=2), "studs of the library van must be a whole number"),
        (lambda: replace(VAN, studs=5.0), "studs of the library van must be a whole number"),
        (lambda: replace(VAN, mass_kg=float("nan")), "mass_kg of the library van must be a finite number"),
        (lambda: replace(VAN, mass_kg=-2650.0), "mass_kg of the library van must be from 600 to 12000"),
        (lambda: replace(VAN, wheelbase_mm="3200"), "wheelbase_mm of the library van must be a number"),
        (lambda: replace(VAN, name=" "), "name of a vehicle"),
        (lambda: replace(VAN, rotor=28.0), "must be a RotorSpec"),
    ],
)
def test_a_vehicle_that_does_not_fit_together_is_refused(make: object, sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        make()  # type: ignore[operator]


def test_the_table_has_the_columns_of_the_vehicle() -> None:
    columns = list(read_table(vehicles.TABLE)[0])
    rotor = [f"rotor_{field.name}" for field in fields(RotorSpec)]
    expected = [field.name for field in fields(Vehicle) if field.name != "rotor"] + rotor
    assert sorted(columns) == sorted(expected)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"mass_kg": "heavy"}, "mass_kg must be a number, but it was 'heavy'"),
        ({"studs": "five"}, "row of the library van"),
        ({"rotor_discard_mm": ""}, "rotor_discard_mm must be a number"),
        ({"rotor_discard_mm": "nan"}, "row of the library van"),
        ({"rotor_discard_mm": "29"}, "row of the library van"),
        ({"tyre_radius_mm": None}, "column 'tyre_radius_mm'"),
    ],
)
def test_a_spoilt_row_is_told_in_a_sentence(change: dict[str, str | None], sentence: str) -> None:
    row = {**read_table(vehicles.TABLE)[0], **change}
    spoilt = {column: text for column, text in row.items() if text is not None}
    with pytest.raises(CourseError, match=sentence) as caught:
        vehicle_from_row(spoilt)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("rows", ["", "library_van,library van,LM-11\n"])
def test_an_empty_or_cut_table_is_told_in_a_sentence(
    rows: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = tables.table_path(vehicles.TABLE).read_text(encoding="utf-8").splitlines()[0] + "\n"
    (tmp_path / "motor_pool").mkdir()
    (tmp_path / "motor_pool" / "vehicles.csv").write_text(whole + rows, encoding="utf-8")
    monkeypatch.setattr(tables, "_INSIDE", tmp_path)
    vehicles._pool.cache_clear()
    try:
        with pytest.raises(CourseError, match=r"motor_pool/vehicles\.csv"):
            motor_pool()
    finally:
        monkeypatch.undo()
        vehicles._pool.cache_clear()
    assert len(motor_pool()) == 8


def test_a_vehicle_named_twice_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = tables.table_path(vehicles.TABLE).read_text(encoding="utf-8")
    (tmp_path / "motor_pool").mkdir()
    (tmp_path / "motor_pool" / "vehicles.csv").write_text(
        text + text.splitlines()[1] + "\n", encoding="utf-8"
    )
    monkeypatch.setattr(tables, "_INSIDE", tmp_path)
    vehicles._pool.cache_clear()
    try:
        with pytest.raises(CourseError, match="'library_van' more than once"):
            motor_pool()
    finally:
        monkeypatch.undo()
        vehicles._pool.cache_clear()
