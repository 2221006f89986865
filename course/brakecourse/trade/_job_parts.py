"""The parts of the job that a shorter question may ask for."""

from __future__ import annotations

WHOLE_JOB = "the whole job"

PARTS: dict[str, tuple[str, ...]] = {
    "lift the vehicle": (
        *("hear_complaint", "look_up_data", "check_fluid", "chock_wheels", "loosen_nuts", "lift_vehicle"),
        *("set_stands", "wheel_off"),
    ),
    "retract the piston": (
        *("look_for_leaks", "wet_dust", "open_bleeder", "push_piston", "close_bleeder", "caliper_off"),
        *("support_caliper", "pads_out"),
    ),
    "service the bracket": (
        *("support_caliper", "pads_out", "measure_pads", "bracket_off", "clean_bracket", "renew_clips"),
        *("clean_pins", "pins_back", "pads_in", "caliper_on"),
    ),
    "measure the rotor": (
        *("bracket_off", "clean_rotor", "seat_rotor", "measure_thickness", "measure_run_out"),
        *("decide_rotor", "rotor_off", "rotor_on"),
    ),
    "put it together": (
        *("rotor_off", "clean_hub", "rotor_on", "bracket_on", "pads_in", "caliper_on", "torque_bolts"),
        *("check_bleeder", "wheel_on"),
    ),
    "torque the wheel": (
        *("torque_bolts", "check_bleeder", "wheel_on", "lower_vehicle", "torque_nuts", "pump_pedal"),
        *("first_move",),
    ),
    "bed in": (
        *("pump_pedal", "set_level", "check_leaks", "first_move", "bed_in", "final_check", "sign_record"),
    ),
}
"""The steps of each part. What must precede what among them follows from the rules of the whole job."""

PART_NAMES = (WHOLE_JOB, *PARTS)
