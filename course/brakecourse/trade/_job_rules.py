"""Which step of the job must precede which, and why.

Common practice, no source, but for the two rules that name theirs. A rule that follows from others stands
here again only where its own reason is the lesson.
"""

from __future__ import annotations

from collections.abc import Iterator

from brakecourse import published
from brakecourse.trade._job_records import COMMON_PRACTICE, Precedence

RULE = False
SAFETY = True

_ROWS: tuple[tuple[str, str, bool, str], ...] = (
    # before the lift
    ("hear_complaint", "look_up_data", RULE, "The work order tells which vehicle's data fit."),
    ("hear_complaint", "check_fluid", RULE, "The complaint tells what to look for."),
    ("hear_complaint", "chock_wheels", RULE, "The complaint tells whether the vehicle may be driven in."),
    ("look_up_data", "lift_vehicle", SAFETY, "Only the maker's data tell where the vehicle may be lifted."),
    ("check_fluid", "lift_vehicle", RULE, "The level reads true only while the vehicle stands level."),
    ("chock_wheels", "loosen_nuts", SAFETY, "A pull at the wrench can set a vehicle rolling."),
    ("loosen_nuts", "lift_vehicle", SAFETY, "A hard pull can bring a raised vehicle down."),
    ("lift_vehicle", "set_stands", RULE, "The stands go under when the vehicle is high enough."),
    ("set_stands", "wheel_off", SAFETY, "Nobody works on a vehicle that only a jack holds."),
    # wheel off
    ("wheel_off", "look_for_leaks", RULE, "The wheel hides the hose and the caliper."),
    ("look_for_leaks", "wet_dust", RULE, "Wetting washes the traces of a leak away."),
    ("wet_dust", "open_bleeder", RULE, "Dirt round the bleeder would get into the fluid."),
    ("wet_dust", "caliper_off", SAFETY, "Dust that is wet does not fly when parts are moved."),
    # taking apart
    ("open_bleeder", "push_piston", SAFETY, "A shut bleeder sends old fluid and dirt into the ABS unit."),
    (
        "push_piston",
        "close_bleeder",
        SAFETY,
        "A piston pushed on a shut bleeder sends old fluid to the ABS unit.",
    ),
    ("caliper_off", "support_caliper", RULE, "The caliper can be hung up when it is free."),
    ("support_caliper", "pads_out", SAFETY, "A hose that carries the caliper is damaged inside, unseen."),
    ("pads_out", "measure_pads", RULE, "The corners of the lining can be reached when the pad is out."),
    ("pads_out", "bracket_off", RULE, "Which pad sat where is seen only while the bracket holds them."),
    # cleaning and measuring
    ("bracket_off", "clean_bracket", RULE, "On the bench, rust cannot fall on hub and rotor."),
    (
        "measure_pads",
        "clean_bracket",
        RULE,
        "The wear tells where to look, before the signs are cleaned away.",
    ),
    (
        "measure_pads",
        "clean_pins",
        RULE,
        "The wear tells which pin dragged, before the signs are cleaned away.",
    ),
    ("clean_bracket", "renew_clips", RULE, "Rust under a clip lifts it, and the pad binds."),
    ("clean_pins", "pins_back", RULE, "Fresh grease over rust and old grease does not free a pin."),
    ("bracket_off", "clean_rotor", RULE, "The bracket covers a part of the faces."),
    (
        "clean_rotor",
        "measure_thickness",
        RULE,
        "Rust and dirt under the anvils make the rotor read too thick.",
    ),
    ("clean_rotor", "measure_run_out", RULE, "Dirt under the tip of the dial reads as run-out."),
    ("bracket_off", "seat_rotor", RULE, "The rotor turns freely for the dial when the bracket is away."),
    ("seat_rotor", "measure_run_out", RULE, "A loose rotor rocks and shows run-out that it has not."),
    (
        "measure_thickness",
        "decide_rotor",
        SAFETY,
        "The smallest thickness decides whether the rotor may stay.",
    ),
    ("measure_run_out", "decide_rotor", RULE, "The run-out decides with the thickness what is to be done."),
    (
        "measure_run_out",
        "rotor_off",
        RULE,
        "Rotor and hub run out together, so measure before you part them.",
    ),
    ("rotor_off", "clean_hub", RULE, "The rotor hides the hub's face."),
    # putting together
    ("clean_hub", "rotor_on", RULE, "A flake of rust between hub and rotor makes the rotor run out."),
    ("decide_rotor", "rotor_on", SAFETY, "A rotor below its limit must not go back on."),
    ("rotor_on", "bracket_on", RULE, "The bracket reaches over the rotor."),
    ("clean_bracket", "bracket_on", RULE, "Rust is cleaned off on the bench, not over the new parts."),
    ("bracket_on", "pads_in", RULE, "The bracket carries the pads."),
    ("renew_clips", "pads_in", RULE, "The pads slide on the clips."),
    ("pads_in", "caliper_on", RULE, "The caliper goes over the pads."),
    ("pins_back", "caliper_on", RULE, "The caliper is bolted to its pins."),
    (
        "close_bleeder",
        "caliper_on",
        RULE,
        "New pads are thick: the piston must be home, and the bleeder shut.",
    ),
    ("caliper_on", "torque_bolts", RULE, "Bolts are turned in by hand first, so that no thread is crossed."),
    (
        "caliper_on",
        "check_bleeder",
        RULE,
        "The last look at the bleeder comes when nothing moves it any more.",
    ),
    ("torque_bolts", "wheel_on", SAFETY, "The wheel hides a bolt that was forgotten."),
    ("check_bleeder", "wheel_on", SAFETY, "The wheel hides a bleeder that was left open."),
    # before it moves
    ("wheel_on", "lower_vehicle", SAFETY, "Without its wheel the vehicle would come down on the rotor."),
    (
        "lower_vehicle",
        "torque_nuts",
        SAFETY,
        "On the ground the wheel cannot turn, and no pull tips the vehicle.",
    ),
    ("torque_bolts", "pump_pedal", SAFETY, "Pressure pushes a caliper off that is not bolted down."),
    ("check_bleeder", "pump_pedal", RULE, "A stroke with the bleeder open lets fluid out and air in."),
    ("pump_pedal", "set_level", RULE, "The level falls while the piston comes out to the pads."),
    ("lower_vehicle", "set_level", RULE, "The level reads true only while the vehicle stands level."),
    ("check_fluid", "set_level", SAFETY, "Fluid that is topped up before the level is read hides a leak."),
    ("pump_pedal", "check_leaks", RULE, "Only a firm pedal puts the joints under pressure."),
    # road and record
    ("pump_pedal", "first_move", SAFETY, "Until the pedal is firm there is no brake."),
    ("torque_nuts", "first_move", SAFETY, "A wheel with loose nuts can come off."),
    ("set_level", "first_move", SAFETY, "A level that is too low lets air in, and the pedal falls."),
    ("check_leaks", "first_move", SAFETY, "A leak must show while the vehicle stands, not on the road."),
    ("first_move", "bed_in", SAFETY, "A brake is tried at walking pace before it is trusted at speed."),
    ("bed_in", "final_check", RULE, "Nuts settle and leaks show when the brake has been hot."),
    ("final_check", "sign_record", RULE, "Only what was checked can be signed for."),
)

_PUBLISHED = {
    ("set_stands", "wheel_off"): "no_work_under_jack_only",
    ("wet_dust", "caliper_off"): "dust_spray_wet_first",
}
"""Ids of the published values whose source writes a rule down."""


def rules() -> Iterator[Precedence]:
    """Yield each rule with its source."""
    for before, after, critical, reason in _ROWS:
        name = _PUBLISHED.get((before, after))
        yield Precedence(before, after, reason, critical, _source(name) if name else COMMON_PRACTICE)


def _source(name: str) -> str:
    row = published.value(name)
    return f"{row.source}, {row.section}"
