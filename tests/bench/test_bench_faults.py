"""Each fault leaves its own trace, in the direction and the size that geometry says."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import numpy as np
import pytest
from brakecourse.bench.faults import (
    GROWTH_PER_RUN_OUT_AND_1000_KM,
    EvenWear,
    Fault,
    Grooves,
    HeatSpots,
    HubRunOut,
    VariationFromRunOut,
    apply,
    grown_variation_mm,
)
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.trade.rotor import run_out_mm, thickness_variation_mm
from hypothesis import given
from hypothesis import strategies as st

NEW = RotorCondition(
    nominal_mm=24.0, outer_radius_mm=140, inner_radius_mm=90, measuring_radius_mm=115, studs=5
)
MADE = replace(
    NEW, made_variation_mm=0.012, made_thick_deg=70, rust_mm=0.05, tilt_across=0.0001, tilt_along=-0.00005
)
RADIUS = NEW.measuring_radius_mm
FINE = [float(angle) for angle in range(360)]
DEGREES = st.floats(0, 360)
SEATS = st.floats(0.005, 0.3)
SEAT_RADII = st.floats(40, 110)


def thicknesses(condition: RotorCondition, angles: list[float] = FINE) -> list[float]:
    return [condition.between_anvils_mm(angle, RADIUS) for angle in angles]


def offsets(condition: RotorCondition, nuts_fitted: bool = True) -> list[float]:
    return [condition.face_offset_mm(angle, nuts_fitted) for angle in FINE]


def waves(readings: list[float]) -> np.ndarray:
    """Amplitude of each order. Outside check: numpy's FFT."""
    return np.abs(np.fft.rfft(readings)) * 2 / len(readings)


# --- even wear ------------------------------------------------------------------------------------


@given(st.floats(0, 3), DEGREES)
def test_wear_lowers_every_reading_of_the_track_alike(wear: float, angle: float) -> None:
    worn = EvenWear(wear).act(MADE)
    assert MADE.thickness_mm(angle, RADIUS) - worn.thickness_mm(angle, RADIUS) == pytest.approx(
        wear, abs=1e-9
    )


@given(st.floats(0.1, 3), DEGREES)
def test_wear_leaves_the_ridge_standing(wear: float, angle: float) -> None:
    worn = EvenWear(wear).act(MADE)
    ridge = worn.thickness_mm(angle, worn.ridge_radius_mm)
    assert ridge == MADE.thickness_mm(angle, MADE.ridge_radius_mm) == 24.05
    assert ridge > worn.thickness_mm(angle, RADIUS)


def test_wear_changes_neither_variation_nor_run_out() -> None:
    worn = EvenWear(1.5).act(MADE)
    assert thickness_variation_mm(thicknesses(worn)) == pytest.approx(
        thickness_variation_mm(thicknesses(MADE))
    )
    assert offsets(worn) == offsets(MADE)


# --- grooves and ridge ----------------------------------------------------------------------------


def test_grooves_hide_from_flat_anvils_but_are_there() -> None:
    cut = Grooves(0.3, 0.2, pitch_mm=2.0).act(MADE)
    assert thicknesses(cut) == thicknesses(MADE)
    bottom = RADIUS + 1.0  # half a pitch from the crest at the measuring radius
    # Two faces, so twice the depth of one groove.
    assert MADE.thickness_mm(10, bottom) - cut.thickness_mm(10, bottom) == pytest.approx(0.6)
    assert cut.thickness_mm(10, RADIUS + 2.0) == pytest.approx(MADE.thickness_mm(10, RADIUS + 2.0))
    assert cut.between_anvils_mm(10, bottom) == cut.between_anvils_mm(10, RADIUS)


def test_the_ridge_carries_the_rust_and_only_the_ridge_does() -> None:
    rusty = Grooves(0.0, 0.25).act(MADE)
    assert rusty.thickness_mm(0, 139) == pytest.approx(24.0 + 0.05 + 0.25)
    assert thicknesses(rusty) == thicknesses(MADE)


@given(st.floats(0.1, 2), st.floats(0, 0.4), DEGREES)
def test_twelve_millimetres_in_is_clear_of_the_ridge(wear: float, rust: float, angle: float) -> None:
    # Common practice, no source: measure at least 12 mm in from the outer edge.
    worn = apply(MADE, [EvenWear(wear), Grooves(0.2, rust)])
    edge = worn.outer_radius_mm
    assert worn.between_anvils_mm(angle, edge - 12) < worn.between_anvils_mm(angle, edge - 1)
    assert worn.between_anvils_mm(angle, edge - 12) == worn.between_anvils_mm(angle, RADIUS)


# --- hub run-out ----------------------------------------------------------------------------------


@given(SEATS, SEAT_RADII, st.integers(0, 359))
def test_a_seats_run_out_grows_at_the_dial_in_the_ratio_of_the_radii(
    seat: float, radius: float, high: int
) -> None:
    # Geometry of a tilted flat: the total at radius r is that at radius R times r / R.
    tilted = HubRunOut(seat, radius, high).act(NEW)
    total = run_out_mm(offsets(tilted))
    assert total == pytest.approx(seat * RADIUS / radius, rel=1e-9)
    assert total == pytest.approx(tilted.tilt_run_out_mm)
    # The same by the angle itself, with a tangent: an independent road.
    angle = math.atan(seat / (2 * radius))
    assert total == pytest.approx(2 * RADIUS * math.tan(angle))


@given(SEATS, st.integers(0, 359))
def test_a_tilt_is_a_first_order_wave_with_its_crest_at_the_high_spot(seat: float, high: int) -> None:
    readings = offsets(HubRunOut(seat, 64, high).act(NEW))
    amplitudes = waves(readings)
    assert amplitudes[1] == pytest.approx(seat * RADIUS / 64 / 2)
    assert max(amplitudes[2:]) < 1e-12
    assert readings.index(max(readings)) == high


@given(SEATS, SEATS, st.integers(0, 359), st.integers(0, 359))
def test_two_tilts_add_as_vectors(one: float, two: float, first: int, second: int) -> None:
    tilted = apply(NEW, [HubRunOut(one, 64, first), HubRunOut(two, 64, second)])
    vector = cmath.rect(one, math.radians(first)) + cmath.rect(two, math.radians(second))
    assert tilted.tilt_run_out_mm == pytest.approx(abs(vector) * RADIUS / 64, abs=1e-12)


def test_a_tilt_leaves_the_thickness_alone() -> None:
    assert thicknesses(HubRunOut(0.2, 64, 30).act(MADE)) == thicknesses(MADE)


def test_a_loose_rotor_shows_more_and_by_the_studs() -> None:
    loose = replace(HubRunOut(0.02, 64, 30).act(NEW), loose_rock_mm=0.4)
    assert run_out_mm(offsets(loose, nuts_fitted=False)) > run_out_mm(offsets(loose)) + 0.2
    amplitudes = waves(offsets(loose, nuts_fitted=False))
    assert amplitudes[5] == pytest.approx(0.04, abs=1e-9)  # five studs, five drops in a turn
    assert run_out_mm(offsets(replace(NEW, loose_rock_mm=0.4), nuts_fitted=False)) <= 0.4 + 1e-9


# --- thickness variation grown from run-out -------------------------------------------------------


@given(st.floats(0.02, 0.1), st.floats(100, 12_000), st.floats(0.1, 2))
def test_variation_grows_in_proportion_to_run_out_and_distance(
    run_out: float, km: float, times: float
) -> None:
    grown = grown_variation_mm(run_out, km)
    assert grown == pytest.approx(GROWTH_PER_RUN_OUT_AND_1000_KM * run_out * km / 1000)
    assert grown_variation_mm(times * run_out, km) == pytest.approx(times * grown)
    assert grown_variation_mm(run_out, times * km) == pytest.approx(times * grown)


@given(st.floats(0, 0.5), st.floats(0, 1e6))
def test_variation_never_outgrows_the_run_out(run_out: float, km: float) -> None:
    assert 0 <= grown_variation_mm(run_out, km) <= run_out


@given(SEATS, st.integers(0, 359), st.floats(1000, 20_000))
def test_what_grew_is_what_a_micrometer_finds(seat: float, high: int, km: float) -> None:
    tilted = HubRunOut(seat, 64, high).act(NEW)
    worn = VariationFromRunOut(km).act(tilted)
    expected = grown_variation_mm(run_out_mm(offsets(tilted)), km)
    assert thickness_variation_mm(thicknesses(worn)) == pytest.approx(expected, abs=1e-9)


@given(st.integers(0, 359))
def test_two_thin_places_grow_at_the_high_spot_and_half_a_turn_from_it(high: int) -> None:
    worn = apply(NEW, [HubRunOut(0.06, 64, high), VariationFromRunOut(8000)])
    readings = thicknesses(worn)
    thinnest = min(readings)
    assert readings[high] == pytest.approx(thinnest)
    assert readings[(high + 180) % 360] == pytest.approx(thinnest)
    amplitudes = waves(readings)
    assert amplitudes[2] == pytest.approx(worn.grown_mm / 2)
    assert amplitudes[1] < 1e-12


def test_the_rubbed_high_spot_no_longer_stands_out_as_far() -> None:
    tilted = HubRunOut(0.06, 64, 40).act(NEW)
    worn = VariationFromRunOut(8000).act(tilted)
    assert tilted.face_offset_mm(40) - worn.face_offset_mm(40) == pytest.approx(worn.grown_mm)
    assert run_out_mm(offsets(worn)) < run_out_mm(offsets(tilted))


def test_without_run_out_nothing_grows() -> None:
    assert thicknesses(VariationFromRunOut(100_000).act(NEW)) == thicknesses(NEW)


# --- heat spots -----------------------------------------------------------------------------------


@given(st.integers(3, 7), st.floats(0.01, 0.1), st.integers(0, 119))
def test_heat_spots_stand_up_at_as_many_places_as_told(count: int, height: float, first: int) -> None:
    spotted = HeatSpots(count, height, first).act(NEW)
    readings = thicknesses(spotted)
    assert max(readings) == pytest.approx(24.0 + height, abs=height / 20)
    assert min(readings) == pytest.approx(24.0, abs=height / 20)
    crests = [here for here in range(360) if readings[here] > 24.0 + 0.9 * height]
    assert sum((place - 1) % 360 not in crests for place in crests) == count


@pytest.mark.slow
@given(st.integers(3, 6), st.floats(0.01, 0.1))
def test_heat_spots_show_in_the_higher_orders_only(count: int, height: float) -> None:
    # 2520 places: a multiple of every count, so that an order is not smeared over its neighbours.
    angles = [place / 7 for place in range(2520)]
    amplitudes = waves(thicknesses(HeatSpots(count, height, 17.0).act(NEW), angles))
    assert max(amplitudes[1:count]) < 1e-9  # nothing of order 1, 2, ...
    assert amplitudes[count] > 0.2 * height
    assert amplitudes[2 * count] > 0.02 * height  # and its overtone: spots are no pure wave
    assert int(np.argmax(amplitudes[1:])) + 1 == count


def test_the_dial_feels_half_of_a_heat_spot() -> None:
    # It touches one face; the spot stands up on both.
    spotted = HeatSpots(4, 0.06, 0.0).act(NEW)
    assert run_out_mm(offsets(spotted)) == pytest.approx(0.03)
    assert thickness_variation_mm(thicknesses(spotted)) == pytest.approx(0.06)


# --- together -------------------------------------------------------------------------------------


def test_wear_and_grooves_may_come_in_any_order() -> None:
    faults: list[Fault] = [EvenWear(1.2), Grooves(0.2, 0.1), HubRunOut(0.05, 64, 10), HeatSpots(4, 0.03, 5)]
    forth, back = apply(MADE, faults), apply(MADE, reversed(faults))
    assert thicknesses(forth) == pytest.approx(thicknesses(back))
    assert offsets(forth) == pytest.approx(offsets(back))


@given(DEGREES)
def test_a_full_turn_comes_back_to_the_same_place(angle: float) -> None:
    worn = apply(
        MADE, [EvenWear(1), HubRunOut(0.05, 64, 10), VariationFromRunOut(9000), HeatSpots(5, 0.03, 5)]
    )
    assert worn.thickness_mm(angle + 360, RADIUS) == pytest.approx(worn.thickness_mm(angle, RADIUS), abs=1e-9)
    assert worn.face_offset_mm(angle + 360, False) == pytest.approx(
        worn.face_offset_mm(angle, False), abs=1e-9
    )


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "make",
    [
        lambda: EvenWear(-0.1),
        lambda: EvenWear(float("nan")),
        lambda: EvenWear("0.4"),  # type: ignore[arg-type]
        lambda: Grooves(-0.1, 0.1),
        lambda: Grooves(0.1, -0.1),
        lambda: Grooves(0.1, 0.1, 0),
        lambda: HubRunOut(-0.1, 64, 0),
        lambda: HubRunOut(0.1, 0, 0),
        lambda: HubRunOut(0.1, 64, float("inf")),
        lambda: VariationFromRunOut(-1),
        lambda: HeatSpots(1, 0.02, 0),
        lambda: HeatSpots(4.0, 0.02, 0),  # type: ignore[arg-type]
        lambda: HeatSpots(4, -0.02, 0),
        lambda: grown_variation_mm(-0.1, 10),
        lambda: EvenWear(13).act(NEW),
        lambda: NEW.thickness_mm(float("nan"), RADIUS),
        lambda: NEW.thickness_mm(0, 141),
        lambda: NEW.thickness_mm(0, 89),
        lambda: NEW.face_offset_mm("0"),  # type: ignore[arg-type]
        lambda: replace(NEW, nominal_mm=0),
        lambda: replace(NEW, measuring_radius_mm=139),
        lambda: replace(NEW, rust_mm=True),
        lambda: replace(NEW, studs=5.0),
        lambda: replace(NEW, tilt_along=float("nan")),
        lambda: replace(NEW, spot_deg=float("inf")),
        lambda: replace(NEW, groove_pitch_mm=0),
        lambda: replace(NEW, loose_rock_mm=-0.1),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(make: object) -> None:
    with pytest.raises(ValueError, match="must be") as caught:
        make()  # type: ignore[operator]
    assert str(caught.value).endswith(".")
