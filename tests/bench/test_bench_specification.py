"""The parts of a vehicle's brakes: each refuses numbers that cannot belong together."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import FrozenInstanceError, replace

import pytest
from brakecourse import published
from brakecourse.bench import motor_pool
from brakecourse.bench.specification import AXLES, WHEELS, Axle, AxleBrake, Fastener, axle_of

VAN = motor_pool()["library_van"]
SALOON = motor_pool()["night_patrol_saloon"]
ESTATE = motor_pool()["dog_wardens_estate"]
FRONT, SYSTEM, NUT = VAN.front, VAN.hydraulics, VAN.wheel_nut
PIN = FRONT.caliper.pin
assert PIN is not None
EVERY_BRAKE = [vehicle.axle(axle) for vehicle in motor_pool().values() for axle in AXLES]
EVERY_FASTENER = [vehicle.wheel_nut for vehicle in motor_pool().values()] + [
    bolt for brake in EVERY_BRAKE for bolt in (brake.caliper.bolt, brake.caliper.bracket_bolt)
]
WORDS = {"front left": "front", "front right": "front", "rear left": "rear", "rear right": "rear"}


def test_the_four_wheels_know_their_axles() -> None:
    assert {wheel: axle_of(wheel) for wheel in WHEELS} == WORDS
    for bad in ("front", "left", 1, None, ["front left"]):
        with pytest.raises(ValueError, match="wheel must be one of"):
            axle_of(bad)  # type: ignore[arg-type]


def test_a_part_is_not_changed_once_made() -> None:
    for part in (NUT, PIN, FRONT.caliper, FRONT.pad, FRONT, SYSTEM):
        with pytest.raises(FrozenInstanceError):
            part.name = "other"  # type: ignore[union-attr,misc]


@pytest.mark.parametrize("bolt", EVERY_FASTENER, ids=lambda bolt: bolt.name)
def test_no_torque_takes_a_bolt_to_its_proof_load(bolt: Fastener) -> None:
    # Outside check: proof load of an M12 coarse bolt (ISO 898-1 table on a reference page, read), scaled by
    # the stress area pi/4 (d - 0.9382 p)^2 (ISO 898-1, from memory), and K of Shigley's Table 8-15 (read).
    load = published.value(f"bolt_m12_proof_{bolt.property_class.replace('.', '_')}").value
    area = math.pi / 4 * (bolt.diameter_mm - 0.9382 * bolt.pitch_mm) ** 2
    proof_n = load / published.value("bolt_m12_stress_area").value * area
    pull_n = 1000 * bolt.torque_nm / bolt.diameter_mm / published.value(f"torque_k_{bolt.finish}").value
    assert bolt.preload_n == pytest.approx(pull_n)
    assert bolt.proof_share == pytest.approx(pull_n / proof_n, rel=0.005)
    assert bolt.proof_share < 1
    assert (bolt.proof_share > 0.8) == (not bolt.reusable)


@pytest.mark.parametrize("brake", EVERY_BRAKE)
def test_torque_and_volume_follow_from_the_pistons(brake: AxleBrake) -> None:
    # Worked by hand: force = pressure x area, torque = 2 x friction x force x radius (textbook).
    pushing = brake.caliper.pistons // (2 if brake.caliper.kind == "fixed" else 1)
    area_mm2 = pushing * math.pi / 4 * brake.caliper.piston_bore_mm**2
    assert brake.caliper.pushing_pistons == pushing
    assert brake.clamp_force_n(7.0) == pytest.approx(7.0 * area_mm2)
    by_hand = 2 * brake.pad.friction * 7.0 * area_mm2 * brake.effective_radius_mm / 1000
    assert brake.torque_nm(7.0) == pytest.approx(by_hand)
    assert brake.wear(3.0, 0.5).volume_ml == pytest.approx(area_mm2 * 6.5 / 1000)
    worn = brake.pad.lining_new_mm - brake.pad.minimum_mm + brake.caliper.clearance_mm
    both_mm = 2 * worn + brake.rotor.nominal_mm - brake.rotor.discard_mm
    assert brake.travel.volume_ml == pytest.approx(area_mm2 * both_mm / 1000)


def _rotor(**changes: float) -> AxleBrake:
    return replace(FRONT, rotor=replace(FRONT.rotor, **changes))


def _pad(**changes: float) -> AxleBrake:
    return replace(FRONT, pad=replace(FRONT.pad, **changes))


REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: replace(NUT, torque_nm=400.0), "wheel nut does not fit together: .* 30 to 80 %"),
    (lambda: replace(NUT, torque_nm=60.0), "30 to 80 %"),
    (lambda: replace(NUT, finish="lubricated", torque_nm=230.0), "30 to 80 %"),
    (lambda: replace(NUT, reusable=False), "80 to 100 %"),
    (lambda: replace(ESTATE.front.caliper.bracket_bolt, reusable=True), "bracket bolt .* 30 to 80 %"),
    (lambda: replace(NUT, reusable="yes"), "reusable of the wheel nut must be True or False"),
    (lambda: replace(NUT, name=""), "name of a fastener"),
    (lambda: replace(NUT, torque_nm=True), "torque_nm of the wheel nut must be a number"),
    (lambda: replace(NUT, torque_nm=math.nan), "torque_nm of the wheel nut must be a finite number"),
    (lambda: replace(NUT, pitch_mm=0.0), "pitch_mm of the wheel nut must be from 0.75 to 3"),
    (lambda: replace(NUT, property_class="9.9"), "property class must be"),
    (lambda: replace(NUT, finish="painted"), "finish must be"),
    (lambda: replace(PIN, pin_mm=10.4), "below the bore's"),
    (lambda: replace(PIN, pin_mm=9.0), "0.1 to 1.0 mm of play"),
    (lambda: replace(PIN, seated_length_mm=70.0), "at most the bore's depth"),
    (lambda: replace(PIN, bore_mm="10"), "bore_mm of the slide pin must be a number"),
    (lambda: replace(FRONT.caliper, kind="sliding"), "caliper must be"),
    (lambda: replace(FRONT.caliper, pistons=0), "pistons of the caliper must be a whole number"),
    (lambda: replace(FRONT.caliper, pistons=2.0), "pistons of the caliper must be a whole number"),
    (lambda: replace(SALOON.front.caliper, pistons=3), "must be even in a fixed caliper"),
    (lambda: replace(FRONT.caliper, pin=None), "must be a SlidePin"),
    (lambda: replace(SALOON.front.caliper, pin=PIN), "fixed caliper must be None"),
    (lambda: replace(FRONT.caliper, pin=10.0), "must be a SlidePin"),
    (lambda: replace(FRONT.caliper, bolt="M8"), "bolt of the caliper must be a Fastener"),
    (lambda: replace(FRONT.caliper, clearance_mm=-0.1), "clearance_mm of the caliper"),
    (lambda: _pad(lining_new_mm=6.5), "at least 4 mm above its minimum"),
    (lambda: _pad(area_mm2=7600.0), "75 to 100 %"),
    (lambda: _pad(friction=0.0), "friction of the pad must be from 0.25"),
    (lambda: replace(FRONT.pad, minimum_mm=6.0, max_taper_mm=4.0, lining_new_mm=10.0), "largest taper"),
    (lambda: _pad(height_mm=56.0, area_mm2=7500.0), "pad's height must fit the track"),
    (lambda: _pad(length_mm=75.0, area_mm2=3400.0), "find room along it"),
    (lambda: _rotor(discard_mm=22.0), "80 to 95 %"),
    (lambda: _rotor(machine_to_mm=26.4), "0.5 to 1.5 mm above"),
    (lambda: _rotor(machine_to_mm=27.6), "0.5 to 1.5 mm above"),
    (lambda: _rotor(max_variation_mm=0.010), "variation limit"),
    (lambda: _rotor(max_run_out_mm=0.05), "run-out limit"),
    (lambda: _rotor(nominal_mm=27.0, machine_to_mm=26.0, discard_mm=25.0), "one micrometer"),
    (lambda: replace(FRONT, measuring_radius_mm=130.0), "middle of the track"),
    (lambda: replace(FRONT, rotor_inner_radius_mm=130.0, measuring_radius_mm=137.5), "at least 12 mm in"),
    (lambda: replace(FRONT, seat_radius_mm=95.0), "inside the track"),
    (lambda: replace(FRONT, rotor_mass_kg=4.0), "50 to 120 % of a full iron disc"),
    (lambda: replace(FRONT, rotor_mass_kg=20.0), "50 to 120 % of a full iron disc"),
    (lambda: replace(FRONT, axle="middle"), "axle must be"),
    (lambda: replace(FRONT, rotor=28.0), "must be a RotorSpec"),
    (lambda: replace(FRONT, pad=None), "pad of the front brake must be a Pad"),
    (lambda: replace(FRONT, cooling_time_constant_s=math.inf), "finite number"),
    (lambda: replace(SYSTEM, reservoir_min_mm=38.0), "lower mark must be below"),
    (lambda: replace(SYSTEM, system_ml=200.0), "must hold more than its reservoir"),
    (lambda: replace(SYSTEM, master_stroke_mm=30.0), "stroke must reach"),
    (lambda: replace(SYSTEM, fluid_grade="DOT 9"), "fluid grade must be"),
    (lambda: replace(SYSTEM, rear_pressure_share=1.1), "rear_pressure_share of the hydraulics"),
    (lambda: replace(SYSTEM, assist_factor=0.5), "assist_factor of the hydraulics must be from 1"),
    (lambda: SYSTEM.assist_n(-1.0), "pedal_force_n must be 0 or more"),
]


@pytest.mark.parametrize(("make", "sentence"), REFUSED, ids=[sentence for _, sentence in REFUSED])
def test_what_cannot_belong_together_is_refused_in_one_sentence(
    make: Callable[[], object], sentence: str
) -> None:
    with pytest.raises(ValueError, match=sentence) as caught:
        make()
    assert "\n" not in str(caught.value)


def test_the_booster_multiplies_the_push_up_to_its_limit() -> None:
    push_n = 100.0 * SYSTEM.pedal_ratio
    assert push_n + SYSTEM.assist_n(100.0) == pytest.approx(SYSTEM.assist_factor * push_n)
    assert SYSTEM.assist_n(0.0) == 0.0
    assert SYSTEM.assist_n(5000.0) == SYSTEM.assist_limit_n


@pytest.mark.parametrize("axle", AXLES)
def test_the_effective_radius_is_the_middle_of_the_pad(axle: Axle) -> None:
    assert VAN.axle(axle).effective_radius_mm == pytest.approx(VAN.axle(axle).measuring_radius_mm)
