"""One good call of every public function and record of the trade that takes a value, and what each refuses.

Whoever adds a public function to ``brakecourse.trade`` adds its line here: a test compares the two.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
from brakecourse.trade.burnish import BurnishVehicle, Series, burnish_schedule, simulate
from brakecourse.trade.fluid import CaliperTravel, WheelWear
from brakecourse.trade.hub_fit import RunOut
from brakecourse.trade.job_order import Precedence
from brakecourse.trade.leaks import Cause, Check, Count, DiagnosisTable, Finding
from brakecourse.trade.pads import PadLimits, PadReading
from brakecourse.trade.rotor import Instruments, RotorSpec

from tests.trade.refusals import (
    Argument,
    confidence,
    each,
    not_negative,
    number,
    positive,
    record,
    records,
    row,
    share,
    text,
    whole,
    word,
)

Calls = dict[str, dict[str, Argument]]

CONFORMITY: Calls = {
    "guard_band": {
        "standard_uncertainty": not_negative(0.01, "standard uncertainty"),
        "confidence": confidence(),
    },
    "decide": {
        "measured": number(22.03, "measured value"),
        "limit": number(22.0, "limit"),
        "side": word("minimum", "side", "min"),
        "standard_uncertainty": not_negative(0.01, "standard uncertainty"),
        "confidence": confidence(),
    },
    "type_a": {"readings": row([24.01, 24.03, 24.02], "repeated reading", least=2)},
    "combine": {"standard_uncertainties": each([0.003, 0.004], "standard uncertaint", not_negative)},
    "rectangular": {"half_width": not_negative(0.005, "half width")},
    "expanded": {
        "standard_uncertainty": not_negative(0.004, "standard uncertainty"),
        "k": positive(2, "coverage factor"),
    },
    "standard_from_expanded": {
        "expanded_uncertainty": not_negative(0.008, "expanded uncertainty"),
        "k": positive(2, "coverage factor"),
    },
    "effective_degrees_of_freedom": {
        "standard_uncertainties": row([3.0, 4.0], "standard uncertainty", member=not_negative),
        "degrees_of_freedom": row(
            [4, 9], "degrees of freedom", [4, 9, 3], [4], member=positive, unbounded=True
        ),
    },
}

SPEC, GAUGES = RotorSpec(24.0, 22.6, 22.0, 0.030, 0.10), Instruments(0.005, 0.004, 0.005)
THICKNESSES = [23.10, 23.04, 23.07]
THICKNESS = "thickness reading in mm"
DIAL = row([0.00, 0.03, -0.01], "dial reading in mm", least=2)
ROTOR: Calls = {
    "thickness_variation_mm": {"readings": row(THICKNESSES, THICKNESS, least=2, member=positive)},
    "smallest_mm": {"readings": row(THICKNESSES, THICKNESS, member=positive)},
    "run_out_mm": {"dial_readings": DIAL},
    "harmonics": {"readings": row([0.00, 0.03, -0.01], "reading", least=3)},
    "machining_allowance_mm": {
        "readings": row(THICKNESSES, THICKNESS, member=positive),
        "machine_to_mm": positive(22.6, "machine-to thickness in mm"),
    },
    "cut_to_true_mm": {
        "variation_mm": not_negative(0.04, "thickness variation in mm"),
        "run_out_mm": not_negative(0.09, "run-out in mm"),
    },
    "verdict": {
        "readings": row(THICKNESSES, THICKNESS, least=2, member=positive),
        "dial_readings": DIAL,
        "spec": record(SPEC, "spec", GAUGES),
        "instruments": record(GAUGES, "instruments", SPEC),
        "confidence": confidence(),
    },
    "RotorSpec": {
        "nominal_mm": positive(24.0, "thickness", 22.6, 22.0),
        "machine_to_mm": positive(22.6, "machine-to", 24.0, 22.0),
        "discard_mm": positive(22.0, "discard", 22.6, 24.0),
        "max_variation_mm": positive(0.03, "largest thickness variation in mm"),
        "max_run_out_mm": positive(0.1, "largest run-out in mm"),
    },
    "Instruments": {
        "thickness_u_mm": not_negative(0.005, "standard uncertainty of a thickness in mm"),
        "thickness_difference_u_mm": not_negative(0.004, "standard uncertainty of a thickness difference"),
        "dial_difference_u_mm": not_negative(0.005, "standard uncertainty of a dial difference"),
    },
}

HUB, DISC = RunOut(0.04, 20.0), RunOut(0.05, 65.0)
DEBRIS = {
    "debris_mm": not_negative(0.05, "thickness of the debris in mm"),
    "seat_radius_mm": positive(70.0, "radius of the seat in mm"),
}
HUB_FIT: Calls = {
    "RunOut": {
        "total_mm": not_negative(0.04, "total run-out in mm"),
        "high_deg": number(20.0, "angle of the high spot"),
    },
    "slope": {
        "run_out_mm": not_negative(0.06, "run-out in mm"),
        "radius_mm": positive(60.0, "radius in mm"),
    },
    "at_radius": {
        "run_out": record(HUB, "run-out"),
        "measured_radius_mm": positive(60.0, "measured radius in mm"),
        "wanted_radius_mm": positive(120.0, "wanted radius in mm"),
    },
    "tilt_deg": DEBRIS,
    "debris_run_out_mm": {**DEBRIS, "measuring_radius_mm": positive(126.0, "measuring radius in mm")},
    "once_a_turn": {"dial_readings": row([0.0, 0.03, 0.0, -0.03], "dial reading in mm", least=3)},
    "rotor_alone": {"hub": record(HUB, "hub"), "together": record(DISC, "together")},
    "stack_run_out_mm": {
        "hub": record(HUB, "hub"),
        "rotor": record(DISC, "rotor"),
        "index": whole(1, "index", 0, 4),
        "studs": whole(5, "number of studs", 3, 10),
    },
    "best_index": {
        "hub": record(HUB, "hub"),
        "rotor": record(DISC, "rotor"),
        "studs": whole(5, "number of studs", 3, 10),
    },
}

TARGET = positive(110.0, "target torque")
DIAMETER = positive(12.0, "thread diameter")
FASTENERS: Calls = {
    "wrench_setting_nm": {
        "target_nm": TARGET,
        "wrench_length_mm": positive(400.0, "length of the wrench"),
        "extension_mm": not_negative(50.0, "length of the extension"),
        "angle_deg": number(0.0, "angle of the extension", 181, -181),
    },
    "wrench_tolerance": {"largest_nm": positive(200.0, "largest torque of the wrench")},
    "in_tolerance": {
        "applied_nm": not_negative(107.0, "applied torque"),
        "target_nm": TARGET,
        "tolerance": share(0.04, "tolerance as a share of the target", 1),
        "standard_uncertainty_nm": not_negative(0.5, "standard uncertainty"),
        "confidence": confidence(),
    },
    "tensile_stress_area_mm2": {
        "diameter_mm": positive(12.0, "diameter", 3.4),
        "pitch_mm": positive(1.75, "thread pitch", 6.1),
    },
    "nut_factor": {"finish": word("plain", "finish must be 'plain' or 'zinc'", "oily")},
    "preload_n": {
        "torque_nm": not_negative(110.0, "torque in N·m"),
        "diameter_mm": DIAMETER,
        "nut_factor": positive(0.2, "nut factor"),
    },
    "preload_range_n": {
        "torque_nm": not_negative(110.0, "torque in N·m"),
        "diameter_mm": DIAMETER,
        "nut_factor": positive(0.2, "nut factor"),
        "wrench_tolerance": share(0.04, "wrench tolerance", 1),
        "nut_factor_scatter": share(0.17, "nut factor scatter", 1),
    },
    "proof_fraction": {
        "preload_n": not_negative(36_700.0, "preload in N"),
        "diameter_mm": positive(12.0, "diameter", 3.4),
        "pitch_mm": positive(1.75, "thread pitch", 6.1),
        "property_class": word("8.8", "property class", 8.8, "4.6"),
    },
    "tightening_order": {"studs": whole(5, "number of studs", 3, 10)},
    "tightening_steps_nm": {"target_nm": TARGET},
}

LIMITS = PadLimits(3.0, 1.0, 1.5, 0.5, 0.05, 0.07)
PAD = PadReading(6.0, 6.0, 6.0, 6.0)
PADS: Calls = {
    "PadReading": {
        "leading_outer_mm": not_negative(6.2, "leading end, outer edge"),
        "leading_inner_mm": not_negative(6.0, "leading end, inner edge"),
        "trailing_outer_mm": not_negative(5.0, "trailing end, outer edge"),
        "trailing_inner_mm": not_negative(4.8, "trailing end, inner edge"),
        "step_mm": not_negative(0.1, "step in mm"),
    },
    "PadLimits": {
        "minimum_mm": positive(3.0, "least lining thickness"),
        "max_taper_mm": positive(1.0, "largest taper"),
        "max_pair_difference_mm": positive(1.5, "difference between the pads"),
        "max_step_mm": positive(0.5, "largest step"),
        "thickness_u_mm": not_negative(0.05, "standard uncertainty of a thickness"),
        "difference_u_mm": not_negative(0.07, "standard uncertainty of a difference"),
    },
    "smallest_lining_mm": {"reading": record(PAD, "pad reading", LIMITS)},
    "mean_lining_mm": {"reading": record(PAD, "pad reading")},
    "taper_mm": {
        "reading": record(PAD, "pad reading"),
        "along": word("length", "along must be 'length' or 'height'", "width"),
    },
    "thin_end": {
        "reading": record(PAD, "pad reading"),
        "along": word("height", "along must be 'length' or 'height'"),
    },
    "pair_difference_mm": {"inner": record(PAD, "pad reading"), "outer": record(PAD, "pad reading")},
    "classify_wear": {
        "inner": record(PAD, "pad reading"),
        "outer": record(PAD, "pad reading"),
        "limits": record(LIMITS, "limits", PAD),
        "confidence": confidence(),
    },
    "inspection_minimum_mm": {"fixing": word("bonded", "fixing must be 'bonded' or 'riveted'", "glued")},
    "wear_rate_mm_per_1000km": {
        "new_mm": positive(11.0, "lining thickness", 6.0),
        "now_mm": not_negative(6.0, "lining thickness now", 11.0, 12.0),
        "distance_km": positive(40_000.0, "distance in km"),
    },
    "remaining_km": {
        "new_mm": positive(11.0, "lining thickness", 6.0),
        "now_mm": not_negative(6.0, "lining thickness now", 11.0),
        "minimum_mm": positive(3.0, "least lining thickness", 11.0),
        "distance_km": positive(40_000.0, "distance in km"),
        "thickness_u_mm": not_negative(0.1, "standard uncertainty of a thickness"),
        "confidence": confidence(),
    },
    "archard_wear_mm": {
        "coefficient": not_negative(1e-6, "Archard's constant"),
        "force_n": not_negative(4000.0, "force in N"),
        "sliding_m": not_negative(500_000.0, "sliding distance in m"),
        "hardness_mpa": positive(200.0, "hardness in MPa"),
        "area_mm2": positive(5000.0, "lining area in mm2"),
    },
}

BORE = {
    "bore_mm": positive(10.5, "bore", 10.0),
    "depth_mm": positive(60.0, "depth", 49.9),
    "pin_mm": positive(10.0, "diameter of the pin", 10.5),
    "seated_length_mm": positive(50.0, "seated length of the pin", 60.1),
}
DRAG = {
    "clamp_force_n": not_negative(8000.0, "clamp force in N"),
    "drag_n": not_negative(2000.0, "drag of the pins in N"),
}
SLIDE_PINS: Calls = {
    "free_volume_ml": BORE,
    "grease_limit_ml": BORE,
    "seated_gap_mm": {"grease_ml": not_negative(2.0, "grease in mL", 5.3), **BORE},
    "pad_force_split_n": DRAG,
    "wear_ratio": {
        "clamp_force_n": positive(8000.0, "clamp force in N"),
        "drag_n": not_negative(2000.0, "drag of the pins in N", 8000),
    },
}

WEAR = {
    "piston_bore_mm": positive(54.0, "bore in mm"),
    "pistons": whole(2, "number of pistons", 1, 12),
    "lining_wear_mm": not_negative(7.0, "lining wear in mm"),
    "rotor_wear_mm": not_negative(1.0, "rotor wear in mm"),
    "caliper": word("floating", "caliper must be 'floating' or 'fixed'"),
}
WHEELS = [WheelWear(54.0, 1, 7.0, 1.0), WheelWear(38.0, 1, 4.0, 0.5)]
TRAVEL = CaliperTravel(54.0, 2, 11.0, 2.0, rotor_wear_mm=2.0, clearance_mm=0.2)
WATER = not_negative(1.0, "water", 6.001, 100)
FLUID: Calls = {
    "piston_area_mm2": {"bore_mm": positive(54.0, "bore in mm")},
    "wear_volume_ml": WEAR,
    "WheelWear": WEAR,
    "CaliperTravel": {
        "piston_bore_mm": positive(54.0, "bore in mm"),
        "pistons": whole(2, "number of pistons", 1, 12),
        "lining_new_mm": positive(11.0, "lining thickness", 2.0, 1.0),
        "lining_worn_mm": not_negative(2.0, "lining thickness of a worn pad in mm", 11.0, 12.0),
        "rotor_wear_mm": not_negative(2.0, "rotor wear in mm"),
        "clearance_mm": not_negative(0.2, "clearance in mm"),
        "caliper": word("floating", "caliper must be 'floating' or 'fixed'"),
    },
    "level_drop_mm": {
        "volume_ml": not_negative(30.0, "volume in mL"),
        "reservoir_area_mm2": positive(4000.0, "reservoir area in mm²"),
    },
    "explain_level": {
        "observed_drop_ml": number(60.0, "observed drop in mL"),
        "per_wheel_wear": records(WHEELS, "wear of ", [TRAVEL]),
        "uncertainty_ml": not_negative(3.0, "uncertainty in mL"),
    },
    "judge_level": {
        "observed_drop_ml": number(60.0, "observed drop in mL"),
        "expected_ml": not_negative(50.0, "volume that the wear asks for in mL"),
        "uncertainty_ml": not_negative(3.0, "uncertainty in mL"),
    },
    "required_reservoir_ml": {"calipers": records([TRAVEL], "caliper", WHEELS)},
    "boiling_minima_c": {"grade": word("DOT 4", "fluid grade must be 'DOT 3'", "DOT4", 4)},
    "moist_boiling_c": {
        "water_percent": WATER,
        "dry_c": number(250.0, "boiling point in °C", 100.0, 145.0, 351.0),
        "wet_c": number(145.0, "wet boiling point in °C", 100.0, 250.0, -145.0),
        "wet_water_percent": positive(3.0, "water at the wet boiling point in percent", 6.001),
    },
    "boiling_point_c": {
        "grade": word("DOT 4", "grade of a fluid that mixes with water", "DOT 5"),
        "water_percent": WATER,
    },
    "vapour_margin_c": {
        "grade": word("DOT 4", "grade of a fluid that mixes with water", "DOT 5"),
        "water_percent": WATER,
        "fluid_temperature_c": number(90.0, "fluid temperature in °C"),
    },
}

MASTER_BORE = positive(22.2, "master cylinder bore in mm")
PEDAL_RATIO = positive(4, "pedal ratio")
HYDRAULICS: Calls = {
    "line_pressure_mpa": {
        "pedal_force_n": not_negative(250, "pedal force in N"),
        "pedal_ratio": PEDAL_RATIO,
        "master_bore_mm": MASTER_BORE,
        "assist_force_n": not_negative(0, "assist force in N"),
    },
    "clamp_force_n": {
        "pressure_mpa": not_negative(7, "line pressure in MPa"),
        "piston_bore_mm": positive(54, "bore in mm"),
        "pistons": whole(1, "number of pistons", 1, 12),
    },
    "brake_torque_nm": {
        "clamp_force_n": not_negative(16000, "clamp force in N"),
        "friction": not_negative(0.38, "coefficient of friction"),
        "effective_radius_mm": positive(115, "effective radius in mm"),
    },
    "effective_radius_mm": {
        "outer_mm": positive(140, "radius in mm", 89.9),
        "inner_mm": positive(90, "inner radius in mm", 140.1),
        "model": word("uniform_wear", "model must be 'uniform_wear' or 'uniform_pressure'"),
    },
    "deceleration_ms2": {
        "torques_nm": row([500, 1500], "torque", member=not_negative),
        "tyre_radius_mm": positive(310, "tyre radius in mm"),
        "mass_kg": positive(1600, "mass in kg"),
    },
    "axle_loads_n": {
        "mass_kg": positive(1600, "mass in kg"),
        "wheelbase_mm": positive(2600, "wheelbase", 1099),
        "cg_height_mm": not_negative(550, "height of the centre of gravity in mm"),
        "cg_to_front_mm": not_negative(1100, "centre of gravity to front axle in mm", 2601),
        "deceleration_ms2": not_negative(7, "deceleration in m/s²", 25),
    },
    "stopping_distance_m": {
        "speed_kmh": not_negative(50, "speed in km/h"),
        "deceleration_ms2": positive(7, "deceleration in m/s²"),
        "reaction_s": not_negative(1, "reaction time in s"),
    },
    "regulation_distance_m": {"speed_kmh": positive(100, "speed in km/h")},
    "pedal_travel_mm": {
        "volume_ml": not_negative(4, "volume in mL"),
        "master_bore_mm": MASTER_BORE,
        "pedal_ratio": PEDAL_RATIO,
    },
}

LEAKS: Calls = {
    "air_travel_mm": {
        "air_ml": not_negative(2.0, "air in mL"),
        "pressure_mpa": not_negative(7.0, "line pressure in MPa"),
        "master_bore_mm": MASTER_BORE,
        "pedal_ratio": PEDAL_RATIO,
    },
    "air_ml_from_travel": {
        "extra_travel_mm": not_negative(20.4, "extra travel in mm"),
        "pressure_mpa": positive(7.0, "line pressure in MPa"),
        "master_bore_mm": MASTER_BORE,
        "pedal_ratio": PEDAL_RATIO,
    },
    "sink_rate_mm_per_min": {
        "leak_ml_per_min": not_negative(1.5, "leak in mL a minute"),
        "master_bore_mm": MASTER_BORE,
        "pedal_ratio": PEDAL_RATIO,
    },
    "leak_ml_per_min_from_sink": {
        "sink_rate_mm_per_min": not_negative(12.0, "sinking in mm a minute"),
        "master_bore_mm": MASTER_BORE,
        "pedal_ratio": PEDAL_RATIO,
    },
    "compressibility_ml": {
        "volume_ml": not_negative(60.0, "volume in mL"),
        "pressure_mpa": not_negative(7.0, "line pressure in MPa", 1800),
        "bulk_modulus_mpa": positive(1800.0, "in MPa", 7.0),
    },
}

HOLD = Check(
    "hold", "Hold the pedal", 2.0, True, (Finding("sinks", "It sinks"), Finding("stays", "It stays"))
)
DIAGNOSIS_TABLE = DiagnosisTable(
    (Cause("air", "Air in the lines", 0.4), Cause("leak", "Fluid leaves", 0.6)),
    (HOLD,),
    tuple(
        Count(cause, "any", "hold", finding, 5) for cause in ("air", "leak") for finding in ("sinks", "stays")
    ),
)
TRULY: tuple[object, ...] = (None, "yes", "", 2, math.nan, 1j, [], object())
FINDINGS = Argument(
    {"hold": "sinks"},
    "findings must be given as a dict",
    (None, 3, "hold", ["hold"], True, math.nan, {"hold"}, object()),
)
NO_CASES: tuple[object, ...] = ([], None, "air", 3, {"air": 1.0}, {1.0}, [None], [0.5])
DIAGNOSIS: Calls = {
    "Finding": {"id": text("sinks", "id of a finding"), "words": text("It sinks", "words of a finding")},
    "Count": {
        "cause": text("air", "cause of a count"),
        "severity": text("any", "severity of a count"),
        "check": text("hold", "check of a count"),
        "finding": text("sinks", "finding of a count"),
        "count": whole(5, "number of vehicles", 0, 10**12),
    },
    "Cause": {
        "id": text("air", "id of a cause"),
        "words": text("Air in the lines", "words of a cause"),
        "prior": positive(0.4, "share of the cause", 1, 1.5),
    },
    "Check": {
        "id": text("hold", "id of a check"),
        "words": text("Hold the pedal", "words of a check"),
        "minutes": positive(2.0, "minutes of the check"),
        "cheap": Argument(True, "cheap of the check", TRULY),
        "findings": records(HOLD.findings, "findings of the check", HOLD.findings[:1]),
    },
    "DiagnosisTable": {
        "causes": records(DIAGNOSIS_TABLE.causes, "cause", DIAGNOSIS_TABLE.causes[:1]),
        "checks": records([HOLD], "checks"),
        "counts": records(DIAGNOSIS_TABLE.counts, "counts"),
        "sharpness": positive(1.0, "sharpness"),
    },
    "rank_causes": {"findings": FINDINGS, "table": record(DIAGNOSIS_TABLE, "table", HOLD).or_none()},
    "next_checks": {"findings": FINDINGS, "table": record(DIAGNOSIS_TABLE, "table", HOLD).or_none()},
    "brier_score": {
        "probabilities": Argument([{"air": 0.4, "leak": 0.6}], "probabilities", NO_CASES),
        "truths": Argument(["air"], "truths", ([], None, "air", 3, {"air"}, [None], ["no such cause"])),
    },
    "reliability_table": {
        "probabilities": row([0.2, 0.5], "probabilities", member=share),
        "hits": Argument(
            [False, True], "hits", ([], None, "ab", 3, {True}, *([False, one] for one in TRULY))
        ),
        "bins": whole(10, "number of bins", 1, 1000),
        "confidence": number(0.95, "confidence", 0, 1, -0.5, 95),
    },
}

ROAD, VAN = burnish_schedule("road"), BurnishVehicle(2000, 0.7, 10.0, 450, 400, ambient_c=20)
SERIES = Series(10, 40, 20, 3, 90, 100, 20)
AIR, START = number(20, "temperature of the air in °C"), number(200, "temperature at the start in °C")
TIME_CONSTANT = positive(300, "time constant in s")
SPECIFIC_HEAT = positive(450, "specific heat in J/(kg K)")
VEHICLE = record(VAN, "vehicle", SERIES)
BURNISH: Calls = {
    "stop_energy_j": {
        "mass_kg": positive(1600, "mass in kg"),
        "from_kmh": not_negative(40, "speed at the", 19),
        "to_kmh": not_negative(20, "speed at the end in km/h", 41),
    },
    "rotor_share": {
        "front_share": share(0.7, "share"),
        "axle": word("front", "axle must be 'front' or 'rear'"),
        "left_share": share(0.5, "share"),
        "side": word("left", "side must be 'left' or 'right'"),
    },
    "temperature_rise_c": {
        "energy_j": not_negative(36000, "energy in J"),
        "mass_kg": positive(8, "mass in kg"),
        "specific_heat_j_kgk": SPECIFIC_HEAT,
    },
    "cool_c": {
        "start_c": START,
        "ambient_c": AIR,
        "seconds": not_negative(60, "time in s"),
        "time_constant_s": TIME_CONSTANT,
    },
    "wait_for_c": {
        "start_c": START,
        "target_c": number(100, "wanted temperature in °C", 20),
        "ambient_c": number(20, "temperature", 100),
        "time_constant_s": TIME_CONSTANT,
    },
    "burnish_schedule": {"name": word("road", "schedule must be 'road' or 'regulation'")},
    "simulate": {
        "schedule": record(ROAD, "schedule", VAN, "road", ROAD.series),
        "vehicle": VEHICLE,
        "start_c": number(20.0, "rotor temperature at the start in °C").or_none(),
    },
    "plan": {
        "vehicle": VEHICLE,
        "limit_c": number(150, "limit in °C", -300, 20, 30),
        "schedule": word("road", "schedule", ROAD.series),
    },
    "peak_deceleration_ms2": {"schedule": record(ROAD, "schedule", "road", ROAD.series)},
    "distance_km": {"brakings": records(simulate(ROAD, VAN), "braking", [ROAD])},
    "strokes_to_firm_pedal": {
        "clearance_ml": not_negative(23, "clearance in mL"),
        "stroke_ml": positive(6, "volume of one stroke in mL"),
    },
    "BurnishVehicle": {
        "mass_kg": positive(2000, "mass of the vehicle in kg"),
        "front_share": share(0.7, "front axle's share", 0, 0.0),
        "rotor_mass_kg": positive(10.0, "mass of a rotor in kg"),
        "specific_heat_j_kgk": SPECIFIC_HEAT,
        "time_constant_s": TIME_CONSTANT,
        "ambient_c": AIR,
    },
    "Series": {
        "count": whole(10, "number of brakings", 1, 10_000),
        "from_kmh": positive(40, "speed at the", 20, 19),
        "to_kmh": not_negative(20, "speed at the end in km/h", 40, 41),
        "deceleration_ms2": positive(3, "deceleration in m/s²"),
        "gap_s": not_negative(90, "time between brakings in s", 19),
        "ready_below_c": number(100, "temperature for the next braking in °C").or_none(),
        "least_gap_s": not_negative(20, "least time between brakings in s", 91),
    },
    "Schedule": {
        "name": text("mine", "name"),
        "series": records(ROAD.series, "series of brakings", [ROAD]),
        "source": text("invented", "source"),
    },
}


def steps(good: list[str], words: str, *also: Any) -> Argument:
    """A row of names of steps, each there once; it may be empty."""
    no_rows = ["loosen_nuts", b"lift", None, 3, True, math.nan, object(), set(good), dict.fromkeys(good)]
    inside = [[3], [*good, None], [good], [*good, math.nan], [*good, b"lift"], [*good, ""], good + good]
    return Argument(good, words, (*no_rows, iter(good), np.array(3.0), *inside, *also))


def known_steps(good: list[str], words: str) -> Argument:
    """A row of steps of the job."""
    return steps(good, words, ["losen_nuts"], [*good, "Lift_Vehicle"], [*good, "polish"])


SEQUENCE = known_steps(["loosen_nuts", "lift_vehicle"], "sequence")
PART = word("the whole job", "part of the job", "bed-in")
ON_THE_JOB = {"sequence": SEQUENCE, "part": PART}
BY_RULES = {
    "sequence": steps(["wash", "dry"], "sequence"),
    "rules": records([Precedence("wash", "dry", "Dry clean pins.")], "rule"),
}
SENTENCE = text("Wash the pins.", "must be a sentence")
SENTENCE = replace(SENTENCE, bad=(*SENTENCE.bad, "wash the pins.", "Wash the pins", "."))
JOB_ORDER: Calls = {
    "sub_job": {"name": PART},
    "check_order": ON_THE_JOB,
    "missing": ON_THE_JOB,
    "order_score": ON_THE_JOB,
    "critical": {"operations": known_steps(["loosen_nuts", "lift_vehicle"], "operations")},
    "rules_among": {"steps": known_steps(["first_move", "pump_pedal"], "steps")},
    "can_follow": {"done": known_steps(["hear_complaint"], "done"), "part": PART},
    "a_good_order": {"part": PART},
    "violations_of": BY_RULES,
    "share_in_order": BY_RULES,
    "implied_pairs": {"rules": BY_RULES["rules"]},
    "Operation": {
        "id": word("wash_pins", "id of a step", "3", "wash pins"),
        "words": SENTENCE,
        "tools": Argument(
            ("cloth",), "tool", ((), [], ["cloth"], "cloth", None, 3, {"cloth"}, (3,), ("cloth", ""))
        ),
        "caution": SENTENCE,
        "phase": word("wheel off", "phase of a step"),
        "if_left_out": replace(SENTENCE, bad=tuple(bad for bad in SENTENCE.bad if bad != "")),
    },
    "Precedence": {
        "before": word("wash", "step that comes first", "3"),
        "after": word("dry", "step that comes later", "3", "wash"),
        "reason": SENTENCE,
        "safety_critical": Argument(True, "safety-critical", (None, 1, 0, "yes", "", [True], math.nan)),
        "source": text("a handbook", "source"),
        "through": Argument(
            ("rinse",), "between the two", (None, ["rinse"], "rinse", 3, {"rinse"}, (3,), ("",))
        ),
    },
}

SUBJECTS: dict[str, Calls] = {
    "burnish": BURNISH,
    "conformity": CONFORMITY,
    "fasteners": FASTENERS,
    "fluid": FLUID,
    "hub_fit": HUB_FIT,
    "hydraulics": HYDRAULICS,
    "job_order": JOB_ORDER,
    "leaks": LEAKS | DIAGNOSIS,
    "pads": PADS,
    "rotor": ROTOR,
    "slide_pins": SLIDE_PINS,
}
GOOD_CALLS: Calls = {
    f"{subject}.{name}": arguments for subject, calls in SUBJECTS.items() for name, arguments in calls.items()
}

RESULTS = {
    *("job_order.Omission", "job_order.SubJob", "job_order.Violation"),
    *("burnish.Braking", "burnish.Plan", "conformity.Decision", "fasteners.PreloadRange"),
    *("fluid.LevelFinding", "hydraulics.AxleLoads", "pads.Evidence", "pads.RemainingDistance"),
    *("leaks.Evidence", "leaks.NextCheck", "leaks.RankedCause", "leaks.ReliabilityRow"),
    *("pads.WearFinding", "rotor.Harmonic", "rotor.Reason", "rotor.RotorFinding", "slide_pins.ForceSplit"),
}
"""Records that only come out of a calculation: nobody fills them in, so they check nothing."""
