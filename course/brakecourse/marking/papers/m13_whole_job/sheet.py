"""What the student gets to see: the complaint, the checks, the gauges as they stood, the maker's sheet."""

from __future__ import annotations

from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers.m13_whole_job.key_finish import HIGH_MPH, LOW_MPH
from brakecourse.marking.papers.m13_whole_job.steps import words
from brakecourse.marking.papers.m13_whole_job.truth import PARTS, PLACES, JobTruth
from brakecourse.marking.papers.rotor_gauges import dials, micrometers
from brakecourse.published import convert
from brakecourse.trade.conformity import guard_band
from brakecourse.views.drawings import (
    boiling_tester_svg,
    depth_gauge_svg,
    reservoir_svg,
)
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

NOTES = (
    "The limits of the fluid's grade are not invented: they are those of 49 CFR 571.116.",
    "Level and fluid were checked before the lift, with the vehicle level. The zero of the rule is at the "
    "floor of the reservoir. The testers stood in a sample from it.",
    "Pads and rotor belong to the wheel named above. They were cleaned wet and measured cold. The depth "
    "gauge was set to 0 on a flat plate. It stood at each end of each pad at the thinner edge.",
    "The micrometer was zeroed before use. Its drawings 1 to 8 and all dial drawings were taken on the "
    "swept track, {in_from_edge} in from the outer edge, drawing 9 at the outer edge itself. All wheel nuts "
    "were fitted and snug under the dial, which was set to 0 at place 1.",
    "The hottest fluid was worked out for the job sheet: the whole way down the long hill, with sound "
    "brakes.",
)
SCALE_END_MM = (15.0, 20.0)
LEVEL, BOILING = "The reservoir, before the lift", "The boiling-point tester in the sample"
BED = (
    "rise of a front rotor in one stop",
    "rise of a front rotor in one slowdown",
    "front rotor after the last slowdown",
    "front rotor after the drive without brakes",
)


def sheet(truth: JobTruth) -> Sheet:
    """Return what the student gets to see."""
    lining, thickness, turned = (
        _lining(truth),
        micrometers(truth.thickness, truth.ridge, truth.micrometer_from_mm),
        dials(truth.dial, "s", "all wheel nuts fitted and snug"),
    )
    bolt = truth.torques.bolt
    return Sheet(
        facts=(
            ("Measured wheel", truth.wheel),
            *((f"Check: {one.what}", one.shown) for one in truth.checks),
            *_fluid_facts(truth),
            *_pad_facts(truth),
            *_rotor_facts(truth),
            *_torque_facts(truth),
            *_bedding_facts(truth),
        ),
        notes=tuple(note.format(in_from_edge=mm(truth.in_from_edge_mm, 0)) for note in NOTES),
        drawings={"r1": _reservoir(truth), "b1": _boiling(truth), **lining, **thickness, **turned},
        shown={
            "13.1": ["r1"],
            "13.2": ["b1"],
            "13.3": list(lining),
            "13.4": list(thickness),
            "13.5": list(turned),
        },
        labels={
            "13.3": list(PLACES),
            "13.4": [f"place {place}" for place in range(1, len(truth.thickness) + 1)],
            "13.6": ["thinnest lining", "smallest thickness", "thickness variation"],
            "13.12": list(PARTS),
            "13.13": ["wheel nuts", f"{bolt}s", f"setting of the wrench for the {bolt}s"],
            "13.15": list(BED),
        },
        steps={"13.14": [words(step) for step in truth.listed]},
    )


def _fluid_facts(truth: JobTruth) -> tuple[tuple[str, str], ...]:
    return (
        ("MAX above the floor of the reservoir", both(truth.max_mm, "mm", 0)),
        ("MIN above the floor of the reservoir", both(truth.min_mm, "mm", 0)),
        ("Reservoir rule", f"lines of {both(truth.level.division, 'mm', 0)}"),
        ("Brake fluid, the maker's grade", truth.grade),
        (f"Wet limit of {truth.grade}", f"at least {both(truth.wet_c, '°C')}"),
        ("Hottest fluid on the long hill", both(truth.hottest_c, "°C")),
        ("A boiling-point reading: standard uncertainty u", both(truth.boiling_u_c, "°C rise", 2, 2)),
    )


def _pad_facts(truth: JobTruth) -> tuple[tuple[str, str], ...]:
    limits = truth.pad_limits
    return (
        ("Lining when new", mm(truth.lining_new_mm, 1)),
        ("Least lining", mm(limits.minimum_mm, 1)),
        ("Depth gauge", f"lines of {mm(truth.lining[0].division, 1)}"),
        ("A lining reading: standard uncertainty u", mm(limits.thickness_u_mm, 3)),
    )


def _rotor_facts(truth: JobTruth) -> tuple[tuple[str, str], ...]:
    spec, gauges = truth.spec, truth.instruments
    factor = guard_band(1.0, truth.confidence)
    return (
        ("Rotor thickness when new", mm(spec.nominal_mm)),
        ("Machine-to limit (after a cut, no thinner)", mm(spec.machine_to_mm)),
        ("Discard limit (ever, no thinner)", mm(spec.discard_mm)),
        ("Largest thickness variation", mm(spec.max_variation_mm, 3)),
        ("Largest total run-out, all wheel nuts snug", mm(spec.max_run_out_mm)),
        ("Micrometer", f"{truth.ridge.gauge}, lines of {mm(truth.ridge.division)}"),
        ("Dial indicator", f"lines of {mm(truth.dial[0].division)}"),
        ("A thickness reading: standard uncertainty u", mm(gauges.thickness_u_mm, 4)),
        ("Difference of two thickness readings: u", mm(gauges.thickness_difference_u_mm, 4)),
        ("Difference of two dial readings: u", mm(gauges.dial_difference_u_mm, 4)),
        (
            "Guard band of every decision",
            f"{number(factor, 3)} times u, for {number(100 * truth.confidence, 0)} % confidence",
        ),
    )


def _torque_facts(truth: JobTruth) -> tuple[tuple[str, str], ...]:
    one = truth.torques
    # The question is what these are in N·m, so that unit does not stand beside them.
    return (
        ("Torque of the wheel nuts", f"{number(one.nut_lbfft, 0)} lbf·ft"),
        (f"Torque of the {one.bolt}s", f"{number(one.bolt_lbfft, 0)} lbf·ft"),
        ("Torque wrench, square drive to middle of the grip", mm(one.wrench_mm, 0)),
        (f"Extension that reaches the {one.bolt}s, straight on", mm(one.extension_mm, 0)),
    )


def _bedding_facts(truth: JobTruth) -> tuple[tuple[str, str], ...]:
    plan = truth.bedding
    half = f"{number(plan.half_time_min, 1)} minutes"
    drive = f"{number(plan.half_times * plan.half_time_min, 1)} minutes"
    return (
        ("Mass with its usual load", both(plan.mass_kg, "kg")),
        ("Share of the braking done by the front axle", f"{number(plan.front_percent, 0)} %"),
        ("Mass of one front rotor", both(plan.rotor_kg, "kg", 1)),
        ("Heat that 1 kg of iron takes for 1 °C", "0.45 kJ (for 1 lb and 1 °F: 0.11 Btu)"),
        ("Stop of the bedding-in", f"from {_speed(LOW_MPH)} to standstill"),
        ("Slowdown of the bedding-in", f"from {_speed(HIGH_MPH)} to {_speed(LOW_MPH)}"),
        ("Front rotor before the last slowdown", both(plan.start_c, "°C")),
        ("Air", both(plan.air_c, "°C")),
        ("Half-time of a front rotor while driving", half),
        ("Drive without brakes after the last slowdown", f"{drive}"),
    )


def _speed(mph: float) -> str:
    kmh, ms = (convert(mph, "mph", unit) for unit in ("km/h", "m/s"))
    return f"{number(mph, 0)} mph ({number(kmh, 0)} km/h, {number(ms, 2)} m/s)"


def _reservoir(truth: JobTruth) -> Drawn:
    svg = reservoir_svg(
        truth.level.indication,
        min_mm=truth.min_mm,
        max_mm=truth.max_mm,
        height_mm=truth.height_mm,
        uid="r1",
        title=f"Reservoir of the {truth.vehicle}",
        fluid="clear",
    )
    return Drawn(svg, LEVEL)


def _boiling(truth: JobTruth) -> Drawn:
    return Drawn(boiling_tester_svg(truth.boiling.reading, fahrenheit=True, uid="b1"), BOILING)


def _lining(truth: JobTruth) -> dict[str, Drawn]:
    full = next(end for end in SCALE_END_MM if end >= truth.lining_new_mm + 1)
    captions = [f"{place[:1].upper()}{place[1:]}, at its thinner edge" for place in PLACES]
    return {
        f"g{count}": Drawn(
            depth_gauge_svg(
                max(0.0, read.indication), full_mm=full, uid=f"g{count}", title=f"Depth gauge: {caption}"
            ),
            caption,
        )
        for count, (caption, read) in enumerate(zip(captions, truth.lining, strict=True), start=1)
    }
