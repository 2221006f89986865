"""What the student gets to see: pedal, reservoir, thermometer, the plan's numbers, the signs on the road."""

from __future__ import annotations

from brakecourse.bench.specification import WHEELS
from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers.m12_pedal_and_burnish.truth import BurnishTruth
from brakecourse.marking.readings import SealedReading
from brakecourse.published import convert
from brakecourse.views.drawings import (
    infrared_thermometer_svg,
    pedal_svg,
    reservoir_svg,
    speed_line_svg,
)
from brakecourse.views.units import both
from brakecourse.views.words import mm, number, percent

NOTES = (
    "The wheel nuts are tightened to their torque, and the vehicle stands on its wheels. Both front pistons "
    "were pushed back. The reservoir was drawn before the pedal was pressed.",
    "Each stroke goes half the way to the floor. The pedal's rule begins at 0 where the pedal rests.",
    "The thermometer was read one minute after a trial braking, at the same moment on the hat and on the "
    "bright face of one front rotor.",
    "The plan: three rounds of slowdowns, in each round one straight after the other, and after each round a "
    "pause of one half-time of driving without brakes. Cooling within a round is left out, so the rotor "
    "comes out a little too hot.",
    "The road test was driven later, when the pedal had been made firm. All four rotors were read on the "
    "dull hat.",
)
PLAN_LABELS = (
    "after the first round",
    "before the second round",
    "after the second round",
    "before the third round",
    "after the third round",
)


def sheet(truth: BurnishTruth) -> Sheet:
    """Return what the student gets to see."""
    pedals, heats, rotors = _pedals(truth), _heats(truth), _rotors(truth)
    level = {"level": _level(truth)}
    speeds = {"speeds": _speeds(truth)}
    return Sheet(
        facts=_facts(truth) + _found(truth),
        notes=NOTES,
        drawings={**pedals, **level, **speeds, **heats, **rotors},
        shown={
            "12.2": list(pedals),
            "12.3": list(level),
            "12.4": list(speeds),
            "12.7": list(heats),
            "12.9": list(rotors),
        },
        labels={"12.8": list(PLAN_LABELS)},
    )


def _facts(truth: BurnishTruth) -> tuple[tuple[str, str], ...]:
    fluid, heat, pedal = truth.fluid, truth.heat, truth.pedal
    low, high = _speed(truth.low_mph), _speed(truth.high_mph)
    return (
        ("Fluid that closes the gaps of one front caliper", both(fluid.caliper_ml, "mL")),
        ("Fluid of one stroke, half the way to the floor", both(fluid.stroke_ml, "mL")),
        ("A sound pedal of this vehicle goes down at most", mm(pedal.most_mm, 0)),
        ("Area of the fluid's surface in the reservoir", both(fluid.area_mm2, "mm²")),
        ("Mass of the vehicle with its usual load", both(heat.mass_kg, "kg")),
        ("A stop of the bedding-in", f"from {low} to standstill"),
        ("A slowdown of the bedding-in", f"from {high} to {low}"),
        ("The front axle's share of the braking", percent(heat.front_share)),
        ("Mass of one front rotor", both(heat.rotor_kg, "kg", 1)),
        (
            "1 kg of its iron, 1 °C warmer, takes",
            f"{heat.iron_kj:g} kJ ({_btu(heat.iron_kj)})",
        ),
        ("Half-time of a front rotor while driving", both(heat.half_min, "minutes", 1)),
        ("Air", both(heat.air_c, "°C")),
        ("The next braking may begin, after the trial, at", both(truth.next_c, "°C")),
        ("The pad maker's limit for the rotor", both(heat.limit_c, "°C")),
        ("The rotor must reach once", both(heat.working_c, "°C")),
        ("Plan: slowdowns in each round", str(truth.round_count)),
        ("Plan: front rotor at the start", both(truth.start_c, "°C")),
    )


def _found(truth: BurnishTruth) -> tuple[tuple[str, str], ...]:
    road = truth.road
    return (
        ("Road test: slowdowns made", str(road.brakings)),
        ("Road test: pedal", ", ".join(road.pedal) or "firm and high"),
        ("Road test: beat in the pedal", "it pulses at a gentle stop" if road.pulses else "none"),
        ("Road test: steering", road.steering),
        ("Road test: noise", ", ".join(road.noises) or "none"),
        ("Road test: smell and smoke", road.smoke),
        ("A rotor is much hotter than its partner from", f"{both(road.apart_c, '°C rise')} apart on"),
    )


def _speed(mph: float) -> str:
    return f"{mph:g} mph ({convert(mph, 'mph', 'km/h'):.0f} km/h)"


def _btu(kj_per_kg_c: float) -> str:
    return f"1 lb, 1 °F: {number(convert(kj_per_kg_c, 'kJ/(kg*delta_degC)', 'BTU/(lb*delta_degF)'), 2)} Btu"


def _pedals(truth: BurnishTruth) -> dict[str, Drawn]:
    pedal = truth.pedal
    first = f"Press {pedal.press}: where the pedal stopped"
    then = f"The same press, held for {pedal.held_s:g} s"
    return {
        "p1": Drawn(
            pedal_svg(
                pedal.pressed.indication, room_mm=pedal.room_mm, uid="p1", title=first, strokes=pedal.press
            ),
            first,
        ),
        "p2": Drawn(
            pedal_svg(
                pedal.held.indication, room_mm=pedal.room_mm, uid="p2", title=then, stopwatch_s=pedal.held_s
            ),
            then,
        ),
    }


def _level(truth: BurnishTruth) -> Drawn:
    fluid, caption = truth.fluid, "The reservoir before the pedal is pressed"
    svg = reservoir_svg(
        fluid.level.indication,
        min_mm=fluid.min_mm,
        max_mm=fluid.max_mm,
        height_mm=fluid.height_mm,
        uid="level",
        title=caption,
    )
    return Drawn(svg, caption)


def _speeds(truth: BurnishTruth) -> Drawn:
    rows = [(truth.low_mph, 0.0), (truth.high_mph, truth.low_mph)]
    caption = "A stop and a slowdown of the bedding-in"
    return Drawn(speed_line_svg(rows, uid="speeds", title=caption), caption)


def _heats(truth: BurnishTruth) -> dict[str, Drawn]:
    hat = "The same rotor, at the same moment, aimed at its dull hat"
    face = "After the trial: a front rotor, aimed at its bright face"
    return {
        "i1": Drawn(infrared_thermometer_svg(truth.face.reading, target="rotor", uid="i1", title=face), face),
        "i2": Drawn(infrared_thermometer_svg(truth.hat.reading, target="hat", uid="i2", title=hat), hat),
    }


def _rotors(truth: BurnishTruth) -> dict[str, Drawn]:
    return {
        f"r{place}": _rotor(read, f"r{place}", f"Road test: {wheel} rotor, aimed at the dull hat")
        for place, (wheel, read) in enumerate(zip(WHEELS, truth.road.rotors, strict=True), start=1)
    }


def _rotor(read: SealedReading, name: str, caption: str) -> Drawn:
    return Drawn(infrared_thermometer_svg(read.reading, target="hat", uid=name, title=caption), caption)
