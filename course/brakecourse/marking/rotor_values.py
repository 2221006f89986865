"""The values that the answers of `08_rotor_measurement` are worked from: the true ones, or the learner's own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from brakecourse.marking import reading_answers
from brakecourse.marking.sealed import SealedRotor
from brakecourse.trade import rotor as trade

PLACES = 8

CARRY_MM = 1.0
"""An own value is carried forward when it lies this near to what the gauge shows: two turns of the thimble,
or one turn of the dial's pointer. Farther off is no reading of this gauge, and nothing can be built on it."""


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


def own_values(rotor: SealedRotor, carries_from: tuple[str, ...], earlier: Mapping[str, object]) -> Measured | None:
    """Return the values with the learner's own in them, or None when there are none to build on.

    Args:
        rotor: the rotor behind the case.
        carries_from: the earlier questions that this one may be worked from.
        earlier: the learner's answers by question, not trusted.
    """
    found = true_values(rotor)
    own_any = False
    readings = _own_readings(rotor, earlier)
    if readings is not None and ({"8.1", "8.2", "8.3"} & set(carries_from)):
        found = replace(
            found,
            readings=readings,
            smallest=trade.smallest_mm(readings),
            variation=trade.thickness_variation_mm(readings),
        )
        own_any = True
    for question, name in (("8.2", "smallest"), ("8.3", "variation"), ("8.4", "run_out")):
        if question in carries_from:
            value = _own_number(earlier.get(question), getattr(true_values(rotor), name))
            if value is not None:
                found = replace(found, **{name: value})
                own_any = True
    return found if own_any else None


def _own_readings(rotor: SealedRotor, earlier: Mapping[str, object]) -> tuple[float, ...] | None:
    values = reading_answers.full_row(earlier.get("8.1"), PLACES)
    if values is None:
        return None
    pairs = zip(values, rotor.readings_mm, strict=True)
    return values if all(_can_be_carried(own, true) for own, true in pairs) else None


def _own_number(answer: object, true: float) -> float | None:
    value = reading_answers.number(answer)
    return value if value is not None and value >= 0 and _can_be_carried(value, true) else None


def _can_be_carried(own: float, true: float) -> bool:
    return own >= 0 and abs(own - true) <= CARRY_MM
