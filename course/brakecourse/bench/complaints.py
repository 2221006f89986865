"""What the customer says: what a driver feels and hears of the faults, never the faults' names."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.draw import Draw
from brakecourse.bench.faults import Fault, Grooves, HeatSpots, HubRunOut, VariationFromRunOut
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.bench.vehicles import Vehicle

# Thickness variation that a driver feels for sure. Source: the upper of two figures of a disc maker's
# technical article (row dtv_judder_high, how known: read).
FELT_VARIATION_MM = 0.020
# Run-out that a driver feels in the steering. Assumption, no source.
FELT_RUN_OUT_MM = 0.06

_PULSES = (
    "the pedal pulses under the foot at a gentle stop",
    "the pedal throbs when the brakes are on, faster the faster it goes",
    "the pedal pushes back in beats while it slows down",
)
_SHUDDERS = (
    "it shudders and drones when braking down a long hill",
    "after a few hard stops the whole front end shudders",
)
_SHAKES = (
    "the steering wheel shakes when braking from main-road speed",
    "the steering wheel trembles when the brakes are touched lightly",
)
_SCRAPES = (
    "the front brakes scrape, and it does not go away when the pedal is pressed",
    "there is a grinding noise from the front when it rolls to a stop",
)
_REASONS = (
    "for its yearly check",
    "for new front pads",
    "to have its front brakes measured before the winter",
)


def complaint(vehicle: Vehicle, faults: Sequence[Fault], condition: RotorCondition, draw: Draw) -> str:
    """Return what the customer says, in two sentences.

    A thickness variation pulses in the pedal, heat spots shudder, a tilted rotor shakes the steering,
    a grooved one scrapes. What is too small to be felt is not mentioned.

    Args:
        vehicle: whose driver speaks.
        faults: what has happened to the rotor.
        condition: what came of it.
        draw: chooses among the ways to say it.

    Source: common practice, no source.
    """
    called = f"The {vehicle.name} ({vehicle.fleet_number}) has come in"
    felt = [draw.choice(ways) for fault in faults if (ways := _ways(fault, condition))]
    if not felt:
        return f"{called} {draw.choice(_REASONS)}. Its driver has noticed nothing."
    return f"{called}. Its driver says that {', and that '.join(felt)}."


def _ways(fault: Fault, condition: RotorCondition) -> tuple[str, ...]:
    if isinstance(fault, VariationFromRunOut) and condition.grown_mm >= FELT_VARIATION_MM:
        return _PULSES
    if isinstance(fault, HeatSpots) and fault.height_mm >= FELT_VARIATION_MM:
        return _SHUDDERS
    if isinstance(fault, HubRunOut) and condition.tilt_run_out_mm >= FELT_RUN_OUT_MM:
        return _SHAKES
    return _SCRAPES if isinstance(fault, Grooves) else ()
