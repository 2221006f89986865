"""Every fault leaves its traces, in direction and size, against the same vehicle without it.

The sizes are worked out here anew, from the law that each stands on, never read back from the bench.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass, replace
from itertools import combinations, pairwise
from typing import Any

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench import vehicle_faults as known
from brakecourse.bench.condition import VehicleCondition, live
from brakecourse.bench.draw import Draw
from brakecourse.bench.roots import Roots
from brakecourse.bench.specification import WHEELS, axle_of
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicle_faults import (
    FAULTS,
    AirInCircuit,
    AxleFault,
    BentHub,
    CollapsedHose,
    ContaminatedPads,
    DirtyHub,
    DryPins,
    EndFault,
    GlazedPads,
    HoseLeak,
    InternalBypass,
    OldFluid,
    OverTorqued,
    PackedPinBore,
    PrimarySealLeak,
    RidgedRotor,
    RustUnderClips,
    SeizedPin,
    SeizedPiston,
    ThicknessVariation,
    ThinRotor,
    UnderTorqued,
    VehicleFault,
    WheelFault,
    WornPads,
    WrongFluid,
    act_all,
)
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.fasteners import nut_factor
from brakecourse.trade.hub_fit import debris_run_out_mm
from brakecourse.trade.slide_pins import free_volume_ml, wear_ratio

VEHICLES = tuple(motor_pool().values())
# All floating, fixed at the front, fixed at the rear.
THREE = tuple(motor_pool()[key] for key in ("library_van", "night_patrol_saloon", "dog_wardens_estate"))
SEVERITIES = (0.0, 0.3, 0.6, 1.0)

Trace = Callable[[VehicleCondition, int], float]


def variants(kind: type[VehicleFault], vehicle: Vehicle) -> Iterator[Callable[[float], VehicleFault]]:
    """Every way in which a fault can be at one place of the vehicle, as a function of its severity."""
    if issubclass(kind, WrongFluid):
        poured = [
            name for name in ("DOT 3", "DOT 5", "mineral oil") if name != vehicle.hydraulics.fluid_grade
        ]
        for fluid in poured:
            yield lambda severity, fluid=fluid: kind(severity, fluid)
    elif issubclass(kind, known.TorqueFault):
        for which in ("wheel nuts", "caliper bolts", "bracket bolts"):
            yield lambda severity, which=which: kind(severity, "front left", which)
    elif issubclass(kind, EndFault):
        for leading in (True, False):
            yield lambda severity, leading=leading: kind(severity, kind.wheels(vehicle)[0], leading)
    elif issubclass(kind, ContaminatedPads):
        for soil in ("grease", "brake fluid"):
            yield lambda severity, soil=soil: kind(severity, "front left", soil)
    elif issubclass(kind, WheelFault):
        yield lambda severity: kind(severity, kind.wheels(vehicle)[0])
    else:
        yield lambda severity: kind(severity)


def place_of(fault: VehicleFault) -> int:
    """The place of its wheel in ``WHEELS``; of an axle, its left one."""
    if isinstance(fault, WheelFault):
        return WHEELS.index(fault.wheel)
    return WHEELS.index(f"{fault.axle} left") if isinstance(fault, AxleFault) else 0


def sound_case(vehicle: Vehicle, seed: int = 4) -> tuple[Roots, float]:
    case = draw_vehicle(seed, faults=0, vehicle=vehicle)
    return case.sound_roots, case.km


# --- the traces of each fault ---------------------------------------------------------------------
# Above 0: the fault raises it. Each must show, at every severity, and never shrink as the fault goes on.


def _wheel(get: Callable[[Any], float]) -> Trace:
    return lambda condition, place: get(condition.wheels[place])


def _share(of: str) -> Trace:
    return _wheel(
        lambda one: max(abs(getattr(one, of).most_share - 1), abs(1 - getattr(one, of).least_share))
    )


LINING = _wheel(lambda one: min(*one.pads.inner.corners_mm, *one.pads.outer.corners_mm))
INNER_WORN = _wheel(lambda one: one.pads.inner_worn_mm)
OUTER_WORN = _wheel(lambda one: one.pads.outer_worn_mm)
RATIO = _wheel(lambda one: one.pads.inner_worn_mm / one.pads.outer_worn_mm)
TAPER = _wheel(
    lambda one: (
        abs(one.pads.outer.leading_outer_mm - one.pads.outer.trailing_outer_mm)
        + abs(one.pads.inner.leading_outer_mm - one.pads.inner.trailing_outer_mm)
    )
)
HEIGHT = _wheel(lambda one: one.pads.outer.leading_inner_mm - one.pads.outer.leading_outer_mm)
STEP = _wheel(lambda one: one.pads.inner.step_mm)
FRICTION = _wheel(lambda one: one.pads.friction)
SLIDE = _wheel(lambda one: max(one.caliper.pin_slide_n))
GREASE = _wheel(lambda one: min(one.caliper.grease_ml))
GAP = _wheel(lambda one: max(one.caliper.pin_gap_mm))
PUSH = _wheel(lambda one: one.caliper.piston_push_back_n)
GRIP = _wheel(lambda one: max(one.caliper.pad_grip_n))
RUST = _wheel(lambda one: max(one.caliper.clip_rust_mm))
RESIDUAL = _wheel(lambda one: one.caliper.residual_mpa)
DRAG = _wheel(lambda one: one.drag.torque_nm)
AFTER_FITTING = _wheel(lambda one: one.drag.fitting_opened_nm)
TORQUE = _wheel(lambda one: one.brake_torque_nm)
HEAT = _wheel(lambda one: one.rotor_c)
FLUID_HEAT = _wheel(lambda one: one.fluid_c)
RUN_OUT = _wheel(lambda one: one.rotor.run_out_mm)
DEBRIS = _wheel(lambda one: one.rotor.debris_run_out_mm)
FLANGE = _wheel(lambda one: one.rotor.flange_run_out_mm)
VARIATION = _wheel(lambda one: one.rotor.variation_mm)
THICKNESS = _wheel(lambda one: one.rotor.smallest_mm)
RIDGE = _wheel(lambda one: one.rotor.ridge_mm)
GROOVE = _wheel(lambda one: one.rotor.rotor.groove_depth_mm)
SPOTS = _wheel(lambda one: one.rotor.rotor.spot_height_mm)


def _vehicle(get: Callable[[VehicleCondition], float]) -> Trace:
    return lambda condition, place: get(condition)


SINK_OFF = _vehicle(lambda condition: condition.pedal.sink_engine_off_mm_per_min)
SINK = _vehicle(lambda condition: condition.pedal.sink_engine_running_mm_per_min)
TRAVEL = _vehicle(lambda condition: condition.pedal.travel_mm)
PUMPED = _vehicle(lambda condition: condition.pedal.pumped_mm)
SPONGY = _vehicle(lambda condition: condition.pedal.spongy_share)
LEVEL = _vehicle(lambda condition: condition.fluid.level_mm)
DROP = _vehicle(lambda condition: condition.fluid.drop_ml)
EXPLAINED = _vehicle(lambda condition: condition.fluid.wear_explains_ml)
LOST = _vehicle(lambda condition: condition.fluid.lost_ml)
IN_BOOSTER = _vehicle(lambda condition: condition.fluid.booster_ml)
WATER = _vehicle(lambda condition: condition.fluid.water_percent)
BOILS = _vehicle(lambda condition: condition.fluid.boiling_c)
MARGIN = _vehicle(lambda condition: condition.fluid.vapour_margin_c)
SWOLLEN = _vehicle(lambda condition: condition.fluid.seals_swollen)
STOP = _vehicle(lambda condition: condition.road.stopping_distance_m)
WET = _vehicle(lambda condition: len(condition.wet_places))


def PULL(condition: VehicleCondition, place: int) -> float:
    """How far the brakes pull away from the faulty wheel's side."""
    return condition.road.pull_share * (-1 if WHEELS[place].endswith("left") else 1)


LEAK = [(SINK_OFF, 1), (SINK, 1), (TRAVEL, 1), (LOST, 1), (DROP, 1), (LEVEL, -1), (WET, 1)]
TRACES: dict[str, list[tuple[Trace, int]]] = {
    "worn_pads": [(LINING, -1), (INNER_WORN, 1), (OUTER_WORN, 1), (EXPLAINED, 1), (DROP, 1), (LEVEL, -1)],
    "hose_leak": LEAK,
    "caliper_seal_leak": [*LEAK, (FRICTION, -1), (TORQUE, -1), (PULL, 1), (STOP, 1)],
    "fitting_leak": LEAK,
    "primary_seal_leak": [*LEAK, (IN_BOOSTER, 1)],
    "internal_bypass": [(SINK_OFF, 1), (SINK, 1), (TRAVEL, 1)],
    "air_in_circuit": [(TRAVEL, 1), (PUMPED, 1), (SPONGY, 1)],
    "old_fluid": [(WATER, 1), (BOILS, -1), (MARGIN, -1)],
    "wrong_fluid DOT 3": [(WATER, 1), (BOILS, -1), (MARGIN, -1)],
    "wrong_fluid DOT 5": [(BOILS, -1), (TRAVEL, 1), (SPONGY, 1), (WATER, 1)],
    "wrong_fluid mineral oil": [(SWOLLEN, 1), (RESIDUAL, 1), (PUSH, 1), (DRAG, 1), (HEAT, 1), (STOP, 1)],
    "seized_piston": [(PUSH, 1), (DRAG, 1), (HEAT, 1), (TORQUE, -1), (RATIO, 1), (PULL, 1), (STOP, 1)],
    "seized_pin": [(SLIDE, 1), (RATIO, 1), (TAPER, 1), (OUTER_WORN, -1), (TORQUE, -1), (PULL, 1)],
    "dry_pins": [(SLIDE, 1), (RATIO, 1), (GREASE, -1), (OUTER_WORN, -1), (TORQUE, -1), (PULL, 1)],
    "packed_pin_bore": [(GAP, 1), (SLIDE, 1), (RATIO, 1), (OUTER_WORN, -1), (TORQUE, -1)],
    "swapped_pins": [(SLIDE, 1), (RATIO, 1), (TAPER, 1), (OUTER_WORN, -1), (TORQUE, -1)],
    "rust_under_clips": [
        (RUST, 1),
        (GRIP, 1),
        (DRAG, 1),
        (OUTER_WORN, 1),
        (TAPER, 1),
        (HEAT, 1),
        (RATIO, -1),
    ],
    "collapsed_hose": [
        (RESIDUAL, 1),
        (DRAG, 1),
        (AFTER_FITTING, 1),
        (INNER_WORN, 1),
        (OUTER_WORN, 1),
        (HEAT, 1),
        (FLUID_HEAT, 1),
        (DROP, 1),
    ],
    "torn_piston_boot": [(PUSH, 1), (DRAG, 1), (HEAT, 1), (RATIO, 1), (TORQUE, -1)],
    "torn_pin_boot": [(SLIDE, 1), (RATIO, 1), (GREASE, -1), (TAPER, 1), (OUTER_WORN, -1)],
    "thin_rotor": [(THICKNESS, -1), (RIDGE, 1), (HEAT, 1), (MARGIN, -1)],
    "grooved_rotor": [(GROOVE, 1), (RIDGE, 1)],
    "ridged_rotor": [(RIDGE, 1), (STEP, 1), (THICKNESS, -1), (HEAT, 1)],
    "thickness_variation": [(VARIATION, 1), (THICKNESS, -1), (RUN_OUT, 1), (TRAVEL, 1)],
    "heat_spotted_rotor": [(SPOTS, 1), (VARIATION, 1), (FRICTION, -1), (TORQUE, -1), (PULL, 1), (STOP, 1)],
    "dirty_hub": [(DEBRIS, 1), (RUN_OUT, 1), (VARIATION, 1), (TRAVEL, 1)],
    "bent_hub": [(FLANGE, 1), (RUN_OUT, 1), (VARIATION, 1), (TRAVEL, 1)],
    "under_torqued wheel nuts": [(_share("nuts"), 1), (RUN_OUT, 1), (TRAVEL, 1)],
    "under_torqued caliper bolts": [(_share("bolts"), 1)],
    "under_torqued bracket bolts": [(_share("bracket_bolts"), 1), (HEIGHT, 1)],
    "over_torqued wheel nuts": [
        (_share("nuts"), 1),
        (_wheel(lambda one: one.nuts.proof_share), 1),
        (RUN_OUT, 1),
    ],
    "over_torqued caliper bolts": [(_share("bolts"), 1), (_wheel(lambda one: one.bolts.proof_share), 1)],
    "over_torqued bracket bolts": [
        (_share("bracket_bolts"), 1),
        (_wheel(lambda one: one.bracket_bolts.proof_share), 1),
    ],
    "glazed_pads": [(FRICTION, -1), (TORQUE, -1), (STOP, 1), (HEAT, -1)],
    "contaminated_pads": [(FRICTION, -1), (TORQUE, -1), (PULL, 1), (STOP, 1), (HEAT, -1)],
    "bedding_skipped": [(FRICTION, -1), (TORQUE, -1), (SPOTS, 1), (VARIATION, 1), (STOP, 1)],
}


def key_of(fault: VehicleFault) -> str:
    """Its id, with what makes it leave other traces."""
    more = getattr(fault, "fluid", "") or getattr(fault, "which", "")
    return f"{fault.id} {more}".strip()


def kinds_of(base: type[VehicleFault]) -> set[type[VehicleFault]]:
    """Every concrete class below one."""
    below = {kind for child in base.__subclasses__() for kind in kinds_of(child)}
    return below | ({base} if hasattr(base, "id") else set())


def leaves(value: object, path: str = "") -> Iterator[tuple[str, object]]:
    """Every number and word of a record, by its path."""
    if is_dataclass(value):
        for field in fields(value):
            yield from leaves(getattr(value, field.name), f"{path}.{field.name}")
    elif isinstance(value, tuple) and value and not all(isinstance(one, str) for one in value):
        for place, one in enumerate(value):
            name = type(one).__name__ if path.endswith(".faults") else place
            yield from leaves(one, f"{path}[{name}]")
    else:
        yield path, value


def changed(before: object, after: object) -> set[str]:
    """Paths of what a fault changed by more than a hundredth."""
    old, new = dict(leaves(before)), dict(leaves(after))
    return {path for path in new if path not in old or not _alike(old[path], new[path])}


def _alike(old: object, new: object) -> bool:
    if isinstance(old, float) and isinstance(new, float):
        return math.isclose(old, new, rel_tol=0.01, abs_tol=1e-6)
    return old == new


def test_every_fault_there_is_stands_in_the_list_once_and_is_named() -> None:
    assert kinds_of(VehicleFault) == set(FAULTS)
    assert len({kind.id for kind in FAULTS}) == len({kind.words for kind in FAULTS}) == len(FAULTS) >= 25
    assert all(kind.__name__ in known.__all__ for kind in FAULTS)


def test_every_fault_has_its_traces_told() -> None:
    assert {key.split()[0] for key in TRACES} == {kind.id for kind in FAULTS}


@pytest.mark.parametrize("kind", FAULTS, ids=lambda kind: kind.id)
def test_a_fault_leaves_its_traces_and_they_grow_with_it(kind: type[VehicleFault]) -> None:
    seen = 0
    for vehicle in THREE:
        if not kind.fits(vehicle):
            continue
        roots, km = sound_case(vehicle)
        sound = live(vehicle, roots, km)
        for make in variants(kind, vehicle):
            conditions = [live(vehicle, make(level).act(roots, vehicle, km), km) for level in SEVERITIES]
            place = place_of(make(0))
            for number, (trace, sign) in enumerate(TRACES[key_of(make(0))]):
                values = [sign * trace(one, place) for one in (sound, *conditions)]
                what = f"{vehicle.key}, {key_of(make(0))}, trace {number}: {values}"
                assert values[2] > values[0] and values[-1] > values[0], what
                assert all(later >= sooner - 1e-9 for sooner, later in pairwise(values[1:])), what
                seen += 1
    assert seen


@pytest.mark.parametrize("kind", FAULTS, ids=lambda kind: kind.id)
def test_a_fault_leaves_at_least_three_traces(kind: type[VehicleFault]) -> None:
    for vehicle in THREE:
        if kind.fits(vehicle):
            roots, km = sound_case(vehicle)
            sound = live(vehicle, roots, km)
            for make in variants(kind, vehicle):
                found = changed(sound, live(vehicle, make(0.8).act(roots, vehicle, km), km))
                assert len(found) >= 3, (vehicle.key, key_of(make(0.8)), found)


@pytest.mark.parametrize(
    "kind", [kind for kind in FAULTS if issubclass(kind, WheelFault)], ids=lambda kind: kind.id
)
def test_a_fault_at_a_wheel_leaves_the_other_wheels_pads_and_calipers_alone(kind: type[WheelFault]) -> None:
    vehicle = motor_pool()["meals_delivery_van"]
    roots, km = sound_case(vehicle)
    sound = live(vehicle, roots, km)
    for wheel in kind.wheels(vehicle):
        faulty = live(vehicle, kind(0.8, wheel).act(roots, vehicle, km), km)
        for other in WHEELS:
            if other != wheel:
                assert faulty.wheel(other).pads == sound.wheel(other).pads
                assert faulty.wheel(other).caliper == sound.wheel(other).caliper
                assert faulty.wheel(other).rotor == sound.wheel(other).rotor
        assert faulty.wheel(wheel) != sound.wheel(wheel)


def test_two_faults_together_show_both() -> None:
    # Whatever root one of them changed alone is changed when both are there, and traces of each are left.
    vehicle = motor_pool()["parks_pickup"]
    roots, km = sound_case(vehicle)
    sound = live(vehicle, roots, km)
    alone = {}
    for kind in FAULTS:
        fault = next(variants(kind, vehicle))(0.8)
        acted = fault.act(roots, vehicle, km)
        alone[kind] = fault, changed(roots, acted), changed(sound, live(vehicle, acted, km))
    for number, (one, other) in enumerate(combinations(FAULTS, 2)):
        acted = act_all(roots, [alone[one][0], alone[other][0]], vehicle, km)
        in_roots = changed(roots, acted)
        seen = changed(sound, live(vehicle, acted, km)) if number % 3 == 0 else None  # a third: time
        for kind in (one, other):
            assert alone[kind][1] <= in_roots, (one.id, other.id)
            assert seen is None or len(alone[kind][2] & seen) >= 3, (one.id, other.id)


def test_two_faults_at_one_root_add_up() -> None:
    vehicle = motor_pool()["parks_pickup"]
    roots, km = sound_case(vehicle)
    wheel = "rear right"
    pin, boot = SeizedPin(0.3, wheel, True), known.TornPinBoot(0.4, wheel, True)
    before = roots.wheel(wheel).pin_drag_n[0]

    def more(*faults: VehicleFault) -> float:
        return act_all(roots, faults, vehicle, km).wheel(wheel).pin_drag_n[0] - before

    assert more(pin, boot) == pytest.approx(more(pin) + more(boot))
    again = [InternalBypass(0.5), InternalBypass(0.5)]
    assert act_all(roots, again, vehicle, km).bypass == 2 * act_all(roots, again[:1], vehicle, km).bypass
    leak, seal = HoseLeak(0.5, "front left"), PrimarySealLeak(0.5)
    sinks = [
        live(vehicle, act_all(roots, faults, vehicle, km), km).pedal.sink_engine_off_mm_per_min
        for faults in ([leak], [seal], [leak, seal])
    ]
    assert sinks[2] == pytest.approx(sinks[0] + sinks[1])


# --- sizes ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("fault", [SeizedPin(0.6), SeizedPin(0.9, leading=False), DryPins(0.7)])
def test_dragging_pins_wear_the_pads_in_the_ratio_that_the_force_split_predicts(fault: WheelFault) -> None:
    # Outside check: Archard's law with the textbook force split, trade.slide_pins.wear_ratio.
    vehicle = motor_pool()["library_van"]
    roots, km = sound_case(vehicle)
    roots = roots.with_wheel("front left", piston_drag_n=0.0)
    one = live(vehicle, fault.act(roots, vehicle, km), km).wheel("front left")
    caliper = vehicle.front.caliper
    clamp_n = 1.5 * caliper.pistons * math.pi / 4 * caliper.piston_bore_mm**2  # everyday braking: 1.5 MPa
    assert one.caliper.pin_slide_n is not None
    predicted = wear_ratio(clamp_n, sum(one.caliper.pin_slide_n))
    assert one.pads.inner_worn_mm / one.pads.outer_worn_mm == pytest.approx(predicted, rel=1e-9)
    inner = vehicle.front.pad.lining_new_mm + roots.wheel("front left").lining_off_mm[0]
    assert inner - sum(one.pads.inner.corners_mm) / 4 == pytest.approx(one.pads.inner_worn_mm)
    assert one.pads.inner_worn_mm == pytest.approx(vehicle.front.pad.wear_mm_per_1000km * km / 1000)


def test_a_single_tight_pin_tapers_the_two_pads_opposite_ways() -> None:
    vehicle = motor_pool()["library_van"]
    roots, km = sound_case(vehicle)
    for leading in (True, False):
        pads = (
            live(vehicle, SeizedPin(0.8, "front right", leading).act(roots, vehicle, km), km).wheels[1].pads
        )
        outer = pads.outer.leading_outer_mm - pads.outer.trailing_outer_mm
        inner = pads.inner.leading_outer_mm - pads.inner.trailing_outer_mm
        assert (outer > 1) == leading and (
            inner < -1
        ) == leading  # the tight end of the outer pad stays thick


def test_swapped_pins_are_found_in_each_others_bores_and_rattle() -> None:
    vehicle = motor_pool()["library_van"]
    roots, km = sound_case(vehicle)
    one = live(vehicle, known.SwappedPins(0.5).act(roots, vehicle, km), km).wheels[0]
    assert one.caliper.pins_swapped and "rattle over bumps" in one.noises
    assert not live(vehicle, roots, km).wheels[0].caliper.pins_swapped


def test_rust_under_a_clip_thins_the_outer_pad_at_the_tight_end() -> None:
    vehicle = motor_pool()["library_van"]
    roots, km = sound_case(vehicle)
    for leading in (True, False):
        fault = RustUnderClips(0.8, "front left", leading)
        pads = live(vehicle, fault.act(roots, vehicle, km), km).wheels[0].pads
        taper = pads.outer.trailing_outer_mm - pads.outer.leading_outer_mm
        assert (taper > 0.5) == leading and (taper < -0.5) == (not leading)


def test_a_leak_sinks_the_pedal_by_its_volume_over_the_masters_bore() -> None:
    # Geometry: the same mL a minute through the same cylinder, whatever the way out.
    for vehicle in VEHICLES:
        roots, km = sound_case(vehicle)
        system = vehicle.hydraulics
        area_mm2 = math.pi / 4 * system.master_bore_mm**2
        pressure_off = 200 * system.pedal_ratio / area_mm2
        for fault in (HoseLeak(0.5), PrimarySealLeak(0.5), InternalBypass(0.5)):
            found = live(vehicle, fault.act(roots, vehicle, km), km)
            ml_per_min = (0.12 + 0.5 * (0.9 - 0.12)) * pressure_off
            expected = 1000 * ml_per_min / area_mm2 * system.pedal_ratio
            assert found.pedal.sink_engine_off_mm_per_min == pytest.approx(expected)
        assert found.fluid == live(vehicle, roots, km).fluid  # a bypass loses nothing


def test_the_level_falls_by_wear_and_loss_and_only_one_of_them_is_explained() -> None:
    vehicle = motor_pool()["minibus"]
    roots, km = sound_case(vehicle)
    sound = live(vehicle, roots, km).fluid
    leaking = live(vehicle, PrimarySealLeak(1.0).act(roots, vehicle, km), km).fluid
    assert leaking.wear_explains_ml == sound.wear_explains_ml
    # 350 km at 40 km/h, a twentieth of the time on the brakes at 1.5 MPa, 0.9 mL a minute for each MPa.
    assert leaking.booster_ml == pytest.approx(0.9 * 1.5 * 350 / 40 * 60 * 0.05)
    assert leaking.drop_ml - sound.drop_ml == pytest.approx(leaking.booster_ml)
    fell_mm = sound.level_mm - leaking.level_mm
    assert fell_mm == pytest.approx(1000 * leaking.booster_ml / vehicle.hydraulics.reservoir_area_mm2)


def test_air_gives_way_by_boyles_law() -> None:
    vehicle = motor_pool()["night_patrol_saloon"]
    roots, km = sound_case(vehicle)
    roots = replace(roots, air_ml=(0.0, 0.0))
    for axle, share in (("front", 1.0), ("rear", vehicle.hydraulics.rear_pressure_share)):
        found = live(vehicle, AirInCircuit(0.5, axle).act(roots, vehicle, km), km).pedal
        air_ml = 0.005 * vehicle.hydraulics.system_ml
        squeezed_ml = air_ml * (1 - 0.101325 / (0.101325 + share * found.pressure_mpa))
        area_mm2 = math.pi / 4 * vehicle.hydraulics.master_bore_mm**2
        expected = 1000 * squeezed_ml / area_mm2 * vehicle.hydraulics.pedal_ratio
        assert found.air_travel_mm == pytest.approx(expected)
        assert found.travel_mm - live(vehicle, roots, km).pedal.travel_mm == pytest.approx(expected)


def test_a_collapsed_hose_is_freed_by_the_bleeder_and_not_by_the_fitting_above_it() -> None:
    vehicle = motor_pool()["surveyors_hatchback"]
    roots, km = sound_case(vehicle)
    hose = live(vehicle, CollapsedHose(0.6).act(roots, vehicle, km), km).wheels[0]
    assert hose.drag.bleeder_opened_nm == pytest.approx(live(vehicle, roots, km).wheels[0].drag.torque_nm)
    assert hose.drag.fitting_opened_nm == hose.drag.torque_nm
    pad, caliper = vehicle.front.pad, vehicle.front.caliper
    clamp_n = hose.caliper.residual_mpa * math.pi / 4 * caliper.piston_bore_mm**2 * caliper.pushing_pistons
    rubbing_nm = 2 * pad.friction * clamp_n * vehicle.front.effective_radius_mm / 1000
    assert hose.drag.torque_nm - hose.drag.bleeder_opened_nm == pytest.approx(rubbing_nm)
    piston = live(vehicle, SeizedPiston(0.6).act(roots, vehicle, km), km).wheels[0]
    assert piston.drag.bleeder_opened_nm == piston.drag.torque_nm  # a piston that sticks is freed by neither
    oil = live(vehicle, WrongFluid(0.6, "mineral oil").act(roots, vehicle, km), km).wheels[0]
    assert oil.drag.fitting_opened_nm < oil.drag.torque_nm  # swollen seals shut it in farther up


def test_debris_tilts_the_rotor_as_geometry_says() -> None:
    vehicle = motor_pool()["library_van"]
    roots, km = sound_case(vehicle)
    clean = roots.wheel("front left").with_rotor(
        debris_mm=0.0, flange_run_out_mm=0.0, rotor_run_out_mm=0.0, run_out_km=0.0
    )
    roots = roots.with_wheel_roots("front left", replace(clean, nuts_nm=()))
    dirty = live(vehicle, DirtyHub(1.0, "front left", 70.0).act(roots, vehicle, km), km).wheels[0].rotor
    front = vehicle.front
    assert dirty.run_out_mm == pytest.approx(
        debris_run_out_mm(0.16, front.seat_radius_mm, front.measuring_radius_mm)
    )
    assert dirty.rotor.tilt_high_deg == pytest.approx(70)
    assert dirty.flange_run_out_mm == 0  # cleaned, the flange runs true
    bent = live(vehicle, BentHub(1.0, "front left", 70.0).act(roots, vehicle, km), km).wheels[0].rotor
    assert bent.run_out_mm == pytest.approx(dirty.run_out_mm) and bent.flange_run_out_mm == 0.16
    assert bent.rotor.tilt_high_deg == pytest.approx(70)


def test_variation_pulses_the_pedal_by_the_fluid_it_moves() -> None:
    vehicle = motor_pool()["library_van"]
    roots, km = sound_case(vehicle)
    found = live(vehicle, ThicknessVariation(0.7).act(roots, vehicle, km), km)
    caliper, system = vehicle.front.caliper, vehicle.hydraulics
    moved_mm3 = found.wheels[0].rotor.variation_mm * math.pi / 4 * caliper.piston_bore_mm**2 * caliper.pistons
    expected = moved_mm3 / (math.pi / 4 * system.master_bore_mm**2) * system.pedal_ratio
    assert found.pedal.pulsation_mm == pytest.approx(expected)
    assert "pulses" in found.pedal.words


def test_packed_grease_holds_the_pin_off_by_what_finds_no_room() -> None:
    vehicle = motor_pool()["library_van"]
    roots, km = sound_case(vehicle)
    found = (
        live(vehicle, PackedPinBore(1.0, "front left", True).act(roots, vehicle, km), km).wheels[0].caliper
    )
    pin = vehicle.front.caliper.pin
    assert pin is not None and found.grease_ml is not None and found.pin_gap_mm is not None
    free_ml = free_volume_ml(pin.bore_mm, pin.depth_mm, pin.pin_mm, pin.seated_length_mm)
    too_much_mm3 = 1000 * (found.grease_ml[0] - free_ml)
    assert found.pin_gap_mm[0] == pytest.approx(too_much_mm3 / (math.pi / 4 * pin.pin_mm**2))
    assert found.pin_gap_mm[1] == 0


@pytest.mark.parametrize("kind, share", [(UnderTorqued, 0.1), (OverTorqued, 2.1)])
def test_a_wrong_torque_is_a_wrong_pull(kind: type[VehicleFault], share: float) -> None:
    vehicle = motor_pool()["library_van"]
    roots, km = sound_case(vehicle)
    roots = roots.with_wheel("front left", nuts_nm=())
    nuts = live(vehicle, kind(1.0).act(roots, vehicle, km), km).wheels[0].nuts
    nut = vehicle.wheel_nut
    pull_n = 1000 * share * nut.torque_nm / (nut_factor(nut.finish) * nut.diameter_mm)
    assert nuts.preloads_n[0] == pytest.approx(pull_n)
    assert nuts.stretched == (kind is OverTorqued and nuts.proof_share > 1)


def test_worn_pads_come_to_their_minimum_and_below() -> None:
    for vehicle in VEHICLES:
        roots, km = sound_case(vehicle)
        for axle in ("front", "rear"):
            pad = vehicle.axle(axle).pad
            fault = WornPads(0.0, axle)
            worn = live(vehicle, fault.act(roots, vehicle, km), km).wheel(f"{axle} left").pads
            new = pad.lining_new_mm + roots.wheel(f"{axle} left").lining_off_mm[0]
            assert new - worn.inner_worn_mm == pytest.approx(pad.minimum_mm, abs=0.35)
            bare = live(vehicle, WornPads(1.0, axle).act(roots, vehicle, km), km).wheel(f"{axle} left").pads
            assert min(bare.inner.corners_mm) < pad.minimum_mm


def test_thin_rotors_end_below_their_discard_thickness() -> None:
    for vehicle in VEHICLES:
        roots, km = sound_case(vehicle)
        found = live(vehicle, ThinRotor(0.5, "rear").act(roots, vehicle, km), km)
        for wheel in WHEELS:
            thin = found.wheel(wheel).rotor.smallest_mm < vehicle.axle(axle_of(wheel)).rotor.discard_mm
            assert thin == (axle_of(wheel) == "rear")


def test_a_ridge_presses_a_step_of_its_own_height_into_the_pads() -> None:
    vehicle = motor_pool()["library_van"]
    roots, km = sound_case(vehicle)
    one = live(vehicle, RidgedRotor(0.8).act(roots, vehicle, km), km).wheels[0]
    rotor = one.rotor.rotor
    assert one.pads.inner.step_mm == pytest.approx((rotor.wear_mm + rotor.rust_mm) / 2)
    assert live(vehicle, roots, km).wheels[0].pads.inner.step_mm == 0


def test_lost_friction_makes_the_stop_longer_in_proportion() -> None:
    vehicle = motor_pool()["library_van"]
    roots, km = sound_case(vehicle)
    for wheel in WHEELS:
        roots = roots.with_wheel(wheel, glaze=0.0)
    sound = live(vehicle, roots, km)
    glazed = live(vehicle, GlazedPads(1.0, "front").act(roots, vehicle, km), km)
    front = sum(one.brake_torque_nm for one in sound.wheels[:2])
    rear = sum(one.brake_torque_nm for one in sound.wheels[2:])
    longer = (front + rear) / (0.5 * front + rear)
    assert glazed.road.stopping_distance_m / sound.road.stopping_distance_m == pytest.approx(longer)
    assert glazed.road.pull == "neither"
    oily = live(vehicle, ContaminatedPads(1.0, "front left").act(roots, vehicle, km), km)
    assert oily.road.pull == "right"


def test_water_lowers_the_boiling_point_along_the_published_minima() -> None:
    # 49 CFR 571.116 as restated: DOT 4 boils at 155 °C or above with about 3.7 percent water.
    vehicle = next(one for one in VEHICLES if one.hydraulics.fluid_grade == "DOT 4")
    roots, km = sound_case(vehicle)
    share = (3.7 - 0.3 - 1.2) / (4.0 - 1.2)
    old = live(vehicle, OldFluid(share).act(replace(roots, water_percent=0.3), vehicle, km), km).fluid
    assert old.water_percent == pytest.approx(3.7) and old.boiling_c == pytest.approx(155, abs=0.01)
    silicone = live(vehicle, WrongFluid(0.5, "DOT 5").act(roots, vehicle, km), km).fluid
    assert silicone.boiling_c == 100  # water lies in it as drops


@pytest.mark.parametrize("kind", FAULTS, ids=lambda kind: kind.id)
def test_a_fault_refuses_what_is_no_severity_and_no_place(kind: type[VehicleFault]) -> None:
    for bad in (-0.1, 1.1, math.nan, math.inf, "much", True, None):
        with pytest.raises(ValueError, match="severity"):
            kind(bad)  # type: ignore[arg-type]
    if issubclass(kind, WheelFault | AxleFault):
        with pytest.raises(ValueError, match="must be"):
            kind(0.5, "middle")


def test_a_pin_fault_wants_pins() -> None:
    saloon = motor_pool()["night_patrol_saloon"]
    assert saloon.front.caliper.pin is None
    for kind in FAULTS:
        if issubclass(kind, known.PinFault):
            assert all(saloon.axle(axle_of(wheel)).caliper.pin for wheel in kind.wheels(saloon))
            assert kind.drawn(Draw(1), saloon, 0.5).wheel in kind.wheels(saloon)
