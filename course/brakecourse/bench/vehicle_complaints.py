"""What the customer says of a whole vehicle: what a driver feels, hears and sees, never a fault's name."""

from __future__ import annotations

from brakecourse.bench.condition import VehicleCondition
from brakecourse.bench.draw import Draw
from brakecourse.bench.vehicles import Vehicle

# From where a driver notices. Assumptions, no source.
FELT_LONG_STOP_SHARE = 0.12
SMELT_ROTOR_C = 190.0
SEEN_LOW_ML = 8.0
MOST_THINGS = 2  # a customer tells what troubles most

_PEDAL = {
    "goes to the floor": ("the pedal goes to the floor",),
    "low": ("the pedal goes far down before anything happens", "the pedal has become low"),
    "spongy": ("the pedal feels soft and springy", "the pedal gives like a sponge"),
    "sinks": (
        "the pedal sinks slowly under the foot at the lights",
        "the pedal creeps down while it is held",
    ),
    "pulses": ("the pedal pulses at a gentle stop", "the pedal pushes back in beats while it slows down"),
}
_NOISES = {
    "grinding when braking": ("it grinds like metal on metal when braking",),
    "scraping when braking": ("there is a scraping noise when the brakes are on",),
    "clunk when braking starts": ("something clunks when the brakes come on",),
    "rattle over bumps": ("something rattles over bumps",),
    "rubbing when rolling": (
        "one wheel rubs when it rolls with the foot off the pedal",
        "a wheel drags as if the brake were half on",
    ),
    "squeal when braking": ("the brakes squeal",),
}
_REASONS = (
    "for its yearly check",
    "for its winter check",
    "because the motor pool's plan says so",
)


def complaint(vehicle: Vehicle, condition: VehicleCondition, usual_stop_m: float, draw: Draw) -> str:
    """Return what the customer says, in two sentences at most.

    Args:
        vehicle: whose driver speaks.
        condition: what is true of it.
        usual_stop_m: the stopping distance that the driver is used to.
        draw: chooses among the ways to say it.

    Source: common practice, no source.
    """
    called = f"The {vehicle.name} ({vehicle.fleet_number}) has come in"
    told = [draw.choice(ways) for ways in _felt(condition, usual_stop_m)[:MOST_THINGS]]
    if not told:
        return f"{called} {draw.choice(_REASONS)}. Its driver has noticed nothing."
    return f"{called}. Its driver says that {', and that '.join(told)}."


def _felt(condition: VehicleCondition, usual_stop_m: float) -> list[tuple[str, ...]]:
    """Everything that the driver notices, what troubles most first."""
    felt: list[tuple[str, ...]] = [
        ways for word, ways in _PEDAL.items() if word in condition.pedal.words and word != "pulses"
    ]
    road = condition.road
    if road.pull != "neither":
        felt.append((f"it pulls to the {road.pull} when braking",))
    if road.stopping_distance_m > (1 + FELT_LONG_STOP_SHARE) * usual_stop_m:
        felt.append(("it takes a hard push to stop it", "it does not stop as it used to"))
    if max(one.rotor_c for one in condition.wheels) >= SMELT_ROTOR_C:
        felt.append(("one wheel smells hot after a drive",))
    if road.rolling_pull != "neither":
        felt.append((f"it pulls to the {road.rolling_pull} with the foot off the pedal",))
    if "pulses" in condition.pedal.words:
        felt.append(_PEDAL["pulses"])
    felt += [ways for noise, ways in _NOISES.items() if noise in condition.noises]
    if condition.fluid.drop_ml - condition.fluid.wear_explains_ml >= SEEN_LOW_ML:
        felt.append(("the fluid in the reservoir keeps falling",))
    return felt
