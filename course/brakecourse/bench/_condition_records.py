"""What is true of a whole vehicle's brakes: records only. Gauges and checks read them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from brakecourse.bench._wheel_records import WheelCondition
from brakecourse.bench.roots import FluidPresent
from brakecourse.bench.specification import WHEELS, Wheel, axle_of

Side = Literal["left", "right", "neither"]
PedalWord = Literal["firm", "spongy", "low", "goes to the floor", "sinks", "pulses"]


@dataclass(frozen=True)
class PedalCondition:
    """What the foot finds.

    Attributes:
        force_n: the reference force.
        pressure_mpa: front line pressure that it makes, engine running.
        travel_mm: how far the pedal goes at that force, slowly pressed once.
        pumped_mm: the same right after three quick strokes.
        air_travel_mm: the part of it that air takes.
        spongy_share: that part over all travel beyond the free play.
        sink_engine_off_mm_per_min, sink_engine_running_mm_per_min: how fast it sinks when held.
        pulsation_mm: how far it moves up and down in each turn of the wheels while braking.
        words: how it feels, from these numbers.
    """

    force_n: float
    pressure_mpa: float
    travel_mm: float
    pumped_mm: float
    air_travel_mm: float
    spongy_share: float
    sink_engine_off_mm_per_min: float
    sink_engine_running_mm_per_min: float
    pulsation_mm: float
    words: tuple[PedalWord, ...]


@dataclass(frozen=True)
class FluidCondition:
    """Fluid and reservoir.

    Attributes:
        present: what is in the reservoir.
        water_percent: water in it.
        boiling_c: where it boils.
        hottest_c: how hot it gets at the hottest wheel on the reference descent.
        vapour_margin_c: the one less the other.
        seals_swollen: share by which the rubber has swollen.
        level_mm: level above the reservoir's bottom.
        drop_ml: how much is missing below the upper mark.
        wear_explains_ml: how much of that the wear since the last filling has drawn.
        lost_ml: how much has leaked out of the system.
        booster_ml: how much of that lies in the booster.
    """

    present: FluidPresent
    water_percent: float
    boiling_c: float
    hottest_c: float
    vapour_margin_c: float
    seals_swollen: float
    level_mm: float
    drop_ml: float
    wear_explains_ml: float
    lost_ml: float
    booster_ml: float


@dataclass(frozen=True)
class RoadCondition:
    """What the vehicle does on the road at the reference pedal force.

    Attributes:
        deceleration_ms2: how hard it slows, no more than the tyres hold.
        stopping_distance_m: distance from the reference speed, without reaction time.
        pull_share: brake torque left less right, over both; above 0 it pulls to the left.
        pull: where it pulls when braking.
        rolling_pull_nm: drag torque left less right, pedal let go.
        rolling_pull: where it pulls when rolling.
    """

    deceleration_ms2: float
    stopping_distance_m: float
    pull_share: float
    pull: Side
    rolling_pull_nm: float
    rolling_pull: Side


@dataclass(frozen=True)
class VehicleCondition:
    """The hidden truth of a whole vehicle.

    Attributes:
        km: distance since the pads were new and the reservoir was filled to its mark.
        wheels: the four wheels, in the order of ``WHEELS``.
        pedal, fluid, road: the vehicle as a whole.
        master_wet_places: where fluid is seen at the master cylinder and the booster.
    """

    km: float
    wheels: tuple[WheelCondition, ...]
    pedal: PedalCondition
    fluid: FluidCondition
    road: RoadCondition
    master_wet_places: tuple[str, ...]

    def wheel(self, wheel: Wheel) -> WheelCondition:
        """Return what is true at one wheel.

        Raises:
            ValueError: there is no such wheel.
        """
        axle_of(wheel)  # refuses what is no wheel
        return self.wheels[WHEELS.index(wheel)]

    @property
    def wet_places(self) -> tuple[str, ...]:
        """Every place where fluid is seen, with its wheel."""
        wheels = (f"{place}, {one.wheel}" for one in self.wheels for place in one.wet_places)
        return (*self.master_wet_places, *wheels)

    @property
    def noises(self) -> tuple[str, ...]:
        """Every noise, each once."""
        return tuple(dict.fromkeys(noise for one in self.wheels for noise in one.noises))
