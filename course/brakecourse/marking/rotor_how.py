"""How each right answer of `08_rotor_measurement` follows from this vehicle's readings, in sentences."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from brakecourse.marking import rotor_answers
from brakecourse.marking.rotor_values import Measured, true_values
from brakecourse.marking.sealed import SealedRotor
from brakecourse.trade import rotor as trade
from brakecourse.trade.conformity import Decision, decide
from brakecourse.views.words import mm, number


def how(rotor: SealedRotor, question_id: str, own: Measured | None) -> str:
    """Return how the right answer follows.

    Args:
        rotor: the rotor behind the case.
        question_id: e.g. ``"8.2"``.
        own: the learner's own values, when the answer was marked on them; else None.
    """
    values = own or true_values(rotor)
    told = _HOW[question_id](rotor, values) if question_id in _HOW else ""
    return f"From your own earlier values: {told}" if own is not None and told else told


def _table(rotor: SealedRotor, _values: Measured) -> str:
    return (
        f"The micrometer shows {_row(rotor.readings_mm)} mm at places 1 to {len(rotor.readings_mm)}. "
        f"The drawing on the ridge ({mm(rotor.ridge_reading_mm)}) is no place of the track and stays out."
    )


def _smallest(_rotor: SealedRotor, values: Measured) -> str:
    return f"The smallest of {_row(values.readings)} mm is {mm(values.smallest)}."


def _variation(_rotor: SealedRotor, values: Measured) -> str:
    largest, least = max(values.readings), min(values.readings)
    return f"Largest {number(largest)} mm minus smallest {number(least)} mm is {mm(values.variation)}."


def _run_out(rotor: SealedRotor, _values: Measured) -> str:
    row = rotor.dial_readings_mm
    return (
        f"With all wheel nuts snug the dial shows {_row(row)} mm. Highest {number(max(row))} mm minus lowest "
        f"{number(min(row))} mm is {mm(trade.run_out_mm(row))}. With the nuts off it showed a swing of "
        f"{mm(trade.run_out_mm(rotor.loose_readings_mm))}, which is not the rotor's own."
    )


def _against_limit(rotor: SealedRotor, values: Measured) -> str:
    decision = _decide(rotor, values)
    return f"{_margin(rotor, values, decision)} So the answer is '{decision.verdict}'."


def _allowance(rotor: SealedRotor, values: Measured) -> str:
    limit = rotor.spec.machine_to_mm
    allowed = trade.machining_allowance_mm([values.smallest], limit)
    told = f"Smallest thickness {number(values.smallest)} mm minus machine-to limit {number(limit)} mm"
    if allowed > 0:
        return f"{told} is {mm(allowed)}, both faces together."
    return f"{told} leaves nothing to cut, so the allowance is {mm(0.0)}."


def _probability(rotor: SealedRotor, values: Measured) -> str:
    decision = _decide(rotor, values)
    u = rotor.instruments.thickness_u_mm
    told = f"The margin is {_signed(decision.margin)} mm and u is {number(u, 4)} mm"
    share = f"{number(100 * decision.probability_conforming, 1)} %"
    if u == 0:
        return f"{told}, so the probability is {share}."
    z = _signed(decision.margin / u)
    return f"{told}, so z = margin / u = {z}. The normal distribution gives {share}."


def _action(rotor: SealedRotor, values: Measured) -> str:
    found = rotor_answers.finding(values, rotor.spec, rotor.instruments, rotor.confidence)
    return " ".join(reason.words for reason in found.reasons)


def _decide(rotor: SealedRotor, values: Measured) -> Decision:
    u = rotor.instruments.thickness_u_mm
    return decide(values.smallest, rotor.spec.discard_mm, "minimum", u, rotor.confidence)


def _margin(rotor: SealedRotor, values: Measured, decision: Decision) -> str:
    return (
        f"The smallest thickness {number(values.smallest)} mm lies {_signed(decision.margin)} mm from the "
        f"discard limit {number(rotor.spec.discard_mm)} mm, and the guard band is "
        f"{number(decision.guard_band, 3)} mm wide on each side."
    )


def _row(values: Sequence[float]) -> str:
    return ", ".join(number(value) for value in values)


def _signed(value: float) -> str:
    return ("+" if value > 0 else "") + number(value)


_HOW: dict[str, Callable[[SealedRotor, Measured], str]] = {
    "8.1": _table,
    "8.2": _smallest,
    "8.3": _variation,
    "8.4": _run_out,
    "8.5": _against_limit,
    "8.6": _allowance,
    "8.7": _probability,
    "8.8": _action,
}
