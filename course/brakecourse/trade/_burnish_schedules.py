"""The schedules of a burnish: on the road, and in a regulation's stopping test."""

from __future__ import annotations

from typing import Literal, get_args

from brakecourse import published
from brakecourse.trade import _checks
from brakecourse.trade._burnish_records import Schedule, Series

ScheduleName = Literal["road", "regulation"]

ROAD_DECELERATION_MS2 = 3.0
"""A firm stop, far from locking a wheel: assumption, no source."""

ROAD_GAP_S = 30.0
"""The "short cooling time" between the brakings of the road schedule: assumption, no source."""

REGULATION_LEAST_GAP_S = 20.0
"""Time to get back to speed in the regulation's schedule: assumption, no source."""


def burnish_schedule(name: ScheduleName) -> Schedule:
    """Return a schedule by its name.

    Args:
        name: ``"road"``: 10 stops from 20 mph, then 10 slowdowns from 40 to 20 mph. ``"regulation"``: the
            burnish of a stopping test for light vehicles, 200 stops from 80 km/h.

    Returns:
        The schedule; its ``source`` tells which numbers are read, remembered or assumed.

    Raises:
        ValueError: the name is another word.

    Source:
        Road: common practice, no source. Regulation: 49 CFR 571.135, S7.1; 200 stops
        read, the rest from memory.

    Example:
        >>> [(one.count, round(one.from_kmh), round(one.to_kmh)) for one in burnish_schedule("road").series]
        [(10, 32, 0), (10, 64, 32)]
    """
    _checks.one_of(name, "schedule", get_args(ScheduleName))
    return _road() if name == "road" else _regulation()


def _road() -> Schedule:
    slow, fast = (published.convert(mph, "mph", "km/h") for mph in (20, 40))
    stops = Series(10, slow, 0.0, ROAD_DECELERATION_MS2, ROAD_GAP_S)
    slowdowns = Series(10, fast, slow, ROAD_DECELERATION_MS2, ROAD_GAP_S)
    source = "Common practice, no source; deceleration and time between brakings are assumptions, no source."
    return Schedule("road", (stops, slowdowns), source)


def _regulation() -> Schedule:
    count = int(published.value("burnish_stops_135").value)
    # The next four are from memory: speed, deceleration, distance between stops, temperature for the next.
    speed = published.value("burnish_speed_135").value  # memory
    deceleration = published.value("burnish_decel_135").value  # memory
    interval_km = published.value("burnish_interval_135").value  # memory
    ready_c = published.value("burnish_ibt_max_135").value  # memory
    gap_s = 3600 * interval_km / speed
    series = Series(count, speed, 0.0, deceleration, gap_s, ready_c, REGULATION_LEAST_GAP_S)
    source = (
        "49 CFR 571.135, S7.1: the number of stops was read; speed, deceleration, interval and temperature "
        "are from memory. The time to get back to speed is an assumption, no source."
    )
    return Schedule("regulation", (series,), source)


def peak_deceleration_ms2(schedule: Schedule) -> float:
    """Return the hardest deceleration that a schedule asks for.

    Args:
        schedule: the brakings, e.g. from :func:`burnish_schedule`.

    Returns:
        Deceleration, m/s².

    Raises:
        ValueError: the argument is no schedule.

    Source:
        The schedule's own.

    Example:
        >>> peak_deceleration_ms2(burnish_schedule("road"))
        3.0
    """
    _checks.record(schedule, "schedule", Schedule)
    return max(series.deceleration_ms2 for series in schedule.series)
