"""The values that answers of `08_rotor_measurement` are worked from: the true ones, or the learner's own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from brakecourse.marking import reading_answers
from brakecourse.marking.inches import to_millimetres
from brakecourse.marking.sealed import SealedRotor
from brakecourse.trade import rotor as trade

PLACES = 8

_FROM_READINGS = {"8.1", "8.2", "8.3"}

CARRY_MM = 1.0
"""How far an honest value may lie from what the gauge shows: two turns of a thimble, or one of a needle."""


@dataclass(frozen=True)
class Measured:
    """What is known of the rotor, in mm: eight readings, and what follows from them.

    Attributes:
        readings: thickness at the eight places.
        smallest, variation, run_out: as the names say.
    """

    readings: tuple[float, ...]
    smallest: float
    variation: float
    run_out: float


def true_values(rotor: SealedRotor) -> Measured:
    """Return the values that correct readings give."""
    return Measured(
        rotor.readings_mm,
        trade.smallest_mm(rotor.readings_mm),
        trade.thickness_variation_mm(rotor.readings_mm),
        trade.run_out_mm(rotor.dial_readings_mm),
    )


def own_values(
    rotor: SealedRotor, carries_from: tuple[str, ...], earlier: Mapping[str, object]
) -> Measured | None:
    """Return the values with the learner's own in them, or None when there are none to build on.

    Only what could have been read off this gauge is carried forward: nothing can be built on the rest, and
    made-up values earn nothing further on. Values given in inches are carried as the millimetres they mean.

    Args:
        rotor: the rotor behind the case.
        carries_from: the earlier questions that this one may be worked from.
        earlier: the learner's answers by question, not trusted.
    """
    true = true_values(rotor)
    readings = own_readings(rotor, earlier.get("8.1")) if _FROM_READINGS & set(carries_from) else None
    found = true
    if readings is not None:
        found = replace(
            true,
            readings=readings,
            smallest=trade.smallest_mm(readings),
            variation=trade.thickness_variation_mm(readings),
        )

    def own(question: str, *near: float) -> float | None:
        return _own_number(earlier.get(question), near) if question in carries_from else None

    smallest = own("8.2", true.smallest, *found.readings)
    variation = own("8.3", true.variation, found.variation)
    run_out = own("8.4", true.run_out)
    if readings is None and smallest is None and variation is None and run_out is None:
        return None
    return Measured(
        found.readings,
        found.smallest if smallest is None else smallest,
        found.variation if variation is None else variation,
        found.run_out if run_out is None else run_out,
    )


def own_readings(rotor: SealedRotor, answer: object) -> tuple[float, ...] | None:
    """Return a table of readings that something can be built on, in mm, or None.

    Every reading must lie in the micrometer's range, and half of them at least near what it shows.
    """
    given = reading_answers.full_row(answer, PLACES)
    if given is None:
        return None
    for values in (given, tuple(to_millimetres(value) for value in given)):
        gauge = rotor.micrometer
        in_range = all(gauge.low_mm <= value <= gauge.high_mm and value > 0 for value in values)
        pairs = zip(values, rotor.readings_mm, strict=True)
        if in_range and sum(_near(own, true) for own, true in pairs) * 2 >= PLACES:
            return values
    return None


def _own_number(answer: object, near: tuple[float, ...]) -> float | None:
    given = reading_answers.number(answer)
    if given is None or given < 0:
        return None

    def off(value: float) -> float:
        return min(abs(value - true) for true in near)

    meant = min((given, to_millimetres(given)), key=off)
    return meant if off(meant) <= CARRY_MM else None


def _near(own: float, true: float) -> bool:
    return abs(own - true) <= CARRY_MM
