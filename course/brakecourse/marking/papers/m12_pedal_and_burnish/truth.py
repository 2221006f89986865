"""What is true of the pedal, the fluid, the plan and the road test behind a case, as it is sealed."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from brakecourse.bench.road_test import Signs
from brakecourse.marking.readings import SealedReading
from brakecourse.marking.sealed import Finite, Record, Row, Truth
from brakecourse.published import convert
from brakecourse.trade.burnish import cool_c, rotor_share, stop_energy_j, temperature_rise_c

MODULE = "12_pedal_and_burnish"
CALIPERS = 2
PLACES_OF_PLAN = 5

PedalState = Literal["firm", "low", "sinks"]
Reads = tuple[SealedReading, ...]


class Pedal(Record):
    """The pedal as it was proven.

    Attributes:
        state: what is true of it.
        room_mm: from rest to the floor.
        most_mm: how far a sound pedal of this vehicle goes at most.
        press: which press was drawn, counted from the first.
        pressed, held: the rule beside the pedal at that press, and after it was held for a while.
        held_s: how long.
    """

    state: PedalState
    room_mm: Finite
    most_mm: Finite
    press: int = Field(ge=1)
    pressed: SealedReading
    held: SealedReading
    held_s: Finite


class Fluid(Record):
    """The fluid that the gaps take.

    Attributes:
        caliper_ml: what closes the gaps of one front caliper.
        stroke_ml: what one stroke sends out.
        area_mm2: area of the fluid's surface.
        min_mm, max_mm, height_mm: marks of the reservoir, and its inside height.
        level: the rule at the reservoir before the pedal is pumped.
    """

    caliper_ml: Finite = Field(gt=0)
    stroke_ml: Finite = Field(gt=0)
    area_mm2: Finite = Field(gt=0)
    min_mm: Finite
    max_mm: Finite
    height_mm: Finite
    level: SealedReading

    @property
    def gaps_ml(self) -> float:
        """What closes the gaps of both front calipers."""
        return CALIPERS * self.caliper_ml


class Heat(Record):
    """What decides how warm a front rotor gets, as printed.

    Attributes:
        mass_kg: mass of the vehicle.
        front_share: the front axle's share of the braking.
        rotor_kg: mass of one front rotor.
        iron_kj: heat that 1 kg of its iron takes for 1 °C.
        half_min: its half-time while driving, minutes.
        air_c: temperature of the air.
        limit_c, working_c: the pad maker's limit, and what the rotor must reach once.
    """

    mass_kg: Finite = Field(gt=0)
    front_share: Finite = Field(gt=0, le=1)
    rotor_kg: Finite = Field(gt=0)
    iron_kj: Finite = Field(gt=0)
    half_min: Finite = Field(gt=0)
    air_c: Finite
    limit_c: Finite
    working_c: Finite


class RoadSigns(Record):
    """What driver and thermometer find on the road test.

    Attributes:
        brakings: how many slowdowns it has made.
        pedal, noises: what is wrong with the pedal, and what is heard.
        steering: where it runs when braking, in words.
        pulls, pulses: it pulls to one side; the pedal beats.
        smoke: what is smelt and seen, in words.
        rotors: the thermometer at the four hats.
        apart_c: from so many °C on, one rotor is much hotter than its partner.
    """

    brakings: int
    pedal: tuple[str, ...]
    noises: tuple[str, ...]
    steering: str
    pulls: bool
    pulses: bool
    smoke: str
    rotors: Reads
    apart_c: Finite


class BurnishTruth(Truth):
    """The vehicle behind a case, from the first press of the pedal to the road test.

    Attributes:
        pedal, fluid, heat: as above.
        low_mph, high_mph: stops begin at the lower speed; slowdowns go from the higher to the lower.
        hat, face: the thermometer on the dull hat and on the bright face, after a trial.
        next_c: the next braking may begin at this temperature.
        start_c: the rotor at the start of the planned bedding-in.
        round_count: slowdowns in a row, before each pause of one half-time.
        road: what is found on the road test.
    """

    pedal: Pedal
    fluid: Fluid
    heat: Heat
    low_mph: Finite = Field(gt=0)
    high_mph: Finite = Field(gt=0)
    hat: SealedReading
    face: SealedReading
    next_c: Finite
    start_c: Finite
    round_count: int = Field(ge=1)
    road: RoadSigns

    @property
    def stop_kj(self) -> float:
        """Energy of one stop."""
        return stop_energy_j(self.heat.mass_kg, convert(self.low_mph, "mph", "km/h")) / 1000

    @property
    def ratio(self) -> float:
        """Energy of one slowdown over that of one stop."""
        return (self.high_mph**2 - self.low_mph**2) / self.low_mph**2

    @property
    def signs(self) -> Signs:
        """What decides on the road test."""
        road = self.road
        return Signs(
            road.pedal,
            road.noises,
            road.pulls,
            road.pulses,
            tuple(one.reading for one in road.rotors),
            self.heat.limit_c,
            road.apart_c,
        )

    def rise_c(self, kj: float, share: float | None = None) -> float:
        """Return how much warmer a front rotor gets from a braking.

        Args:
            kj: energy of the braking.
            share: what of it goes into the rotor; its own share when left out.
        """
        own = rotor_share(self.heat.front_share) if share is None else share
        return temperature_rise_c(1000 * kj * own, self.heat.rotor_kg, 1000 * self.heat.iron_kj)

    def plan_c(self, rise_c: float) -> Row:
        """Return the rotor after the first round, before and after the second, before and after the third.

        Args:
            rise_c: how much warmer one slowdown makes it; cooling within a round is left out.
        """
        row = [self.start_c + self.round_count * rise_c]
        while len(row) < PLACES_OF_PLAN:
            cooled = self.cooled_c(row[-1])
            row += [cooled, cooled + self.round_count * rise_c]
        return tuple(row)

    def cooled_c(self, from_c: float) -> float:
        """Return the temperature after one half-time of driving without brakes."""
        # In units of half-times: the time constant is one over the natural logarithm of 2.
        return cool_c(from_c, self.heat.air_c, LN_2, 1.0)


LN_2 = 0.6931471805599453
