"""The records of a burnish: the vehicle, the brakings of a schedule, and what happens at each."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse import published
from brakecourse.trade import _checks
from brakecourse.trade._counts import whole

MOST_BRAKINGS = 10_000
"""No schedule asks for more in one series: assumption, no source. The bound keeps a simulation short."""

_SAFETY = (
    "First pump the pedal until it is firm, with the vehicle standing. Use a clear, lawful road, and follow "
    "the pad maker's own instructions where they differ."
)


@dataclass(frozen=True)
class BurnishVehicle:
    """What decides how warm a front rotor gets.

    Attributes:
        mass_kg: mass of the vehicle as driven, kg.
        front_share: share of the braking that the front axle does, above 0, up to 1.
        rotor_mass_kg: mass of one front rotor, kg.
        specific_heat_j_kgk: specific heat of the rotor's iron, J/(kg K).
        time_constant_s: time in which the rotor's heat above the air falls to 37 percent while driving, s.
        ambient_c: temperature of the air, °C.

    Raises:
        ValueError: a value is no number in its range.
    """

    mass_kg: float
    front_share: float
    rotor_mass_kg: float
    specific_heat_j_kgk: float
    time_constant_s: float
    ambient_c: float = 20.0

    def __post_init__(self) -> None:
        _checks.positive(self.mass_kg, "mass of the vehicle in kg")
        _checks.positive(self.front_share, "front axle's share")
        _checks.within(self.front_share, "front axle's share", 0.0, 1.0)
        _checks.positive(self.rotor_mass_kg, "mass of a rotor in kg")
        _checks.positive(self.specific_heat_j_kgk, "specific heat in J/(kg K)")
        _checks.positive(self.time_constant_s, "time constant in s")
        _checks.number(self.ambient_c, "temperature of the air in °C")


@dataclass(frozen=True)
class Series:
    """Some brakings of one kind, one after the other.

    Attributes:
        count: how many, 1 to 10000.
        from_kmh: speed at the start of each, km/h.
        to_kmh: speed at the end of each, km/h, 0 or more, below the start.
        deceleration_ms2: steady deceleration, m/s².
        gap_s: driving without brakes before each, s; the very first braking of a schedule has none.
        ready_below_c: if given, the next braking comes sooner, once the rotor is no warmer than this, °C.
        least_gap_s: but never sooner than this, s: the vehicle must get back to speed.

    Raises:
        ValueError: a value is no number in its range.
    """

    count: int
    from_kmh: float
    to_kmh: float
    deceleration_ms2: float
    gap_s: float
    ready_below_c: float | None = None
    least_gap_s: float = 0.0

    def __post_init__(self) -> None:
        whole(self.count, "number of brakings", 1, MOST_BRAKINGS)
        start = _checks.positive(self.from_kmh, "speed at the start in km/h")
        end = _checks.not_negative(self.to_kmh, "speed at the end in km/h")
        if end >= start:
            raise ValueError(
                f"speed at the end in km/h must be below the start of {start:g}, but it was {end:g}."
            )
        _checks.positive(self.deceleration_ms2, "deceleration in m/s²")
        gap = _checks.not_negative(self.gap_s, "time between brakings in s")
        if self.ready_below_c is not None:
            _checks.number(self.ready_below_c, "temperature for the next braking in °C")
        least = _checks.not_negative(self.least_gap_s, "least time between brakings in s")
        if least > gap:
            raise ValueError(
                f"least time between brakings in s must be at most the gap of {gap:g}, but it was {least:g}."
            )

    @property
    def braking_s(self) -> float:
        """How long one braking lasts, s."""
        return (self.from_kmh - self.to_kmh) / 3.6 / self.deceleration_ms2


@dataclass(frozen=True)
class Schedule:
    """A burnish from start to end.

    Attributes:
        name: what it is called.
        series: its brakings, in order, at least one series.
        source: where its numbers come from, and which of them are from memory or assumed.

    Raises:
        ValueError: a text is missing, there is no series, or one that is no such record.
    """

    name: str
    series: tuple[Series, ...]
    source: str

    def __post_init__(self) -> None:
        _text(self.name, "name of a schedule")
        _text(self.source, "source of a schedule")
        for one in _checks.row(self.series, "series of brakings", at_least=1):
            _checks.record(one, "series of brakings", Series)


@dataclass(frozen=True)
class Braking:
    """One braking, and one front rotor in it.

    Attributes:
        number: 1 for the first.
        from_kmh: speed at its start, km/h.
        to_kmh: speed at its end, km/h.
        start_s: time of its start since the first braking began, s.
        end_s: time of its end, s.
        energy_j: energy that the whole vehicle gives up, J.
        start_c: rotor at its start, °C.
        peak_c: rotor at its hottest, °C.
        end_c: rotor at its end, °C.
    """

    number: int
    from_kmh: float
    to_kmh: float
    start_s: float
    end_s: float
    energy_j: float
    start_c: float
    peak_c: float
    end_c: float


@dataclass(frozen=True)
class Plan:
    """A burnish that keeps the rotor below a limit.

    Attributes:
        schedule: the schedule that it follows.
        vehicle: the vehicle that it is for.
        limit_c: the temperature that the rotor must not pass, °C.
        brakings: every braking, in order.
        waits_s: extra driving without brakes before each braking, beyond the schedule's own gap, s.
        distance_km: distance driven from the first braking to the end of the last, km.
    """

    schedule: Schedule
    vehicle: BurnishVehicle
    limit_c: float
    brakings: tuple[Braking, ...]
    waits_s: tuple[float, ...]
    distance_km: float

    @property
    def hottest_c(self) -> float:
        """The rotor's highest temperature, °C."""
        return max(braking.peak_c for braking in self.brakings)

    @property
    def waited_s(self) -> float:
        """All extra cooling together, s."""
        return math.fsum(self.waits_s)

    @property
    def total_s(self) -> float:
        """From the start of the first braking to the end of the last, s."""
        return self.brakings[-1].end_s - self.brakings[0].start_s

    @property
    def words(self) -> str:
        """The plan in short sentences, SI and US units side by side."""
        miles = published.convert(self.distance_km, "km", "mile")
        return (
            f"{len(self.brakings)} brakings, about {self.total_s / 60:.0f} min and {self.distance_km:.1f} km "
            f"({miles:.1f} mi). Extra cooling between them: {self.waited_s / 60:.1f} min. "
            f"The rotor reaches {_both(self.hottest_c)}; the limit is {_both(self.limit_c)}. {_SAFETY}"
        )


def _text(value: object, quantity: str) -> None:
    if not isinstance(value, str) or not value.strip():
        raise ValueError(f"{quantity} must be a few words, but it was {str(value)[:40]!r}.")


def _both(celsius: float) -> str:
    return f"{celsius:.0f} °C ({published.convert(celsius, 'degC', 'degF'):.0f} °F)"
