"""Judge a brake rotor from its thickness and run-out readings.

The maker of the vehicle, and the local law, set the limits. A rotor that cannot be shown to keep
its discard thickness does not go back on the road.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from brakecourse.trade import _checks
from brakecourse.trade._decimals import difference, total
from brakecourse.trade._rotor_records import Action, Check, Instruments, Reason, RotorFinding, RotorSpec
from brakecourse.trade._waves import Harmonic, harmonics
from brakecourse.trade.conformity import Side, decide

__all__ = [
    "Action",
    "Check",
    "Harmonic",
    "Instruments",
    "Reason",
    "RotorFinding",
    "RotorSpec",
    "cut_to_true_mm",
    "harmonics",
    "machining_allowance_mm",
    "run_out_mm",
    "smallest_mm",
    "thickness_variation_mm",
    "verdict",
]

_THICKNESS = "thickness reading in mm"
_DIAL = "dial reading in mm"


def thickness_variation_mm(readings: Sequence[float]) -> float:
    """Return the thickness variation round a rotor.

    Args:
        readings: at least two thickness readings round the rotor at one radius, mm, each above 0.

    Returns:
        Largest minus smallest reading, mm.

    Raises:
        ValueError: fewer than two readings, or one that is no number above 0.

    Source:
        Common practice, no source.

    Example:
        >>> thickness_variation_mm([24.03, 24.01, 24.00, 24.02])
        0.03
    """
    row = _checks.positives(readings, _THICKNESS, at_least=2)
    return difference(max(row), min(row))


def smallest_mm(readings: Sequence[float]) -> float:
    """Return the thickness that counts against the discard limit: the smallest, never the mean.

    Args:
        readings: at least one thickness reading round the rotor, mm, each above 0.

    Returns:
        The smallest reading, mm.

    Raises:
        ValueError: no reading, or one that is no number above 0.

    Source:
        Common practice, no source: the discard thickness holds at every place of the rotor.

    Example:
        >>> smallest_mm([24.03, 24.01, 24.00, 24.02])
        24.0
    """
    return min(_checks.positives(readings, _THICKNESS))


def run_out_mm(dial_readings: Sequence[float]) -> float:
    """Return the total run-out of one turn: highest dial reading minus lowest.

    Args:
        dial_readings: at least two dial readings of one turn, mm; signs count.

    Returns:
        Total indicated run-out, mm. It is the whole swing, not half of it.

    Raises:
        ValueError: fewer than two readings, or one that is no finite number.

    Source:
        Common practice, no source.

    Example:
        >>> run_out_mm([0.00, 0.03, 0.05, 0.02, -0.01, -0.02])
        0.07
    """
    row = _checks.numbers(dial_readings, _DIAL, at_least=2)
    return difference(max(row), min(row))


def machining_allowance_mm(readings: Sequence[float], machine_to_mm: float) -> float:
    """Return how much metal may be cut before the machine-to thickness is reached.

    Args:
        readings: at least one thickness reading, mm, each above 0.
        machine_to_mm: least thickness that may be left after machining, mm, above 0.

    Returns:
        Smallest reading minus machine-to thickness, mm, both faces together; 0 when nothing may be cut.

    Raises:
        ValueError: a value is missing or no number above 0.

    Source:
        Common practice, no source.

    Example:
        >>> machining_allowance_mm([23.10, 23.04, 23.07], 22.60)
        0.44
    """
    least = _checks.positive(machine_to_mm, "machine-to thickness in mm")
    return max(0.0, difference(smallest_mm(readings), least))


def cut_to_true_mm(variation_mm: float, run_out_mm: float) -> float:
    """Return how much metal must come off to make the rotor true.

    Args:
        variation_mm: thickness variation, mm, 0 or more.
        run_out_mm: total run-out, mm, 0 or more.

    Returns:
        Variation plus run-out, mm, both faces together.

    Raises:
        ValueError: a value is no number of 0 or more.

    Source:
        Common practice, no source.

    Example:
        >>> cut_to_true_mm(0.04, 0.09)
        0.13
    """
    return total(
        _checks.not_negative(variation_mm, "thickness variation in mm"),
        _checks.not_negative(run_out_mm, "run-out in mm"),
    )


def verdict(
    readings: Sequence[float],
    dial_readings: Sequence[float],
    spec: RotorSpec,
    instruments: Instruments,
    confidence: float = 0.95,
) -> RotorFinding:
    """Decide whether to keep, machine or replace a rotor.

    First the smallest thickness must be proven to keep the discard thickness; else replace. Then, when
    variation and run-out are both proven to keep their limits, keep. Otherwise the rotor has to be
    machined true, and what is left must be proven to keep the machine-to thickness; else replace.
    "Too close to call" proves nothing.

    Args:
        readings: at least two thickness readings round the rotor, mm, each above 0.
        dial_readings: at least two dial readings of one turn, wheel nuts fitted, mm.
        spec: the rotor's limits, from the maker's service information.
        instruments: standard uncertainties of the gauges.
        confidence: wanted probability of a right decision, 0.5 up to below 1.

    Returns:
        The action, the reason that decides it, and every check made.

    Raises:
        ValueError: a reading or the confidence is outside its range, or spec or instruments are other things.

    Source:
        Order of the checks: common practice, no source. Each check: ISO 14253-1:2017 and JCGM 106:2012.

    Example:
        >>> limits = RotorSpec(24.0, 22.6, 22.0, 0.030, 0.10)
        >>> gauges = Instruments(0.005, 0.004, 0.005)
        >>> finding = verdict([23.10, 23.04, 23.07], [0.00, 0.03, 0.01], limits, gauges)
        >>> finding.action, finding.deciding.check
        ('machine', 'variation')
    """
    _checks.record(spec, "spec", RotorSpec)
    _checks.record(instruments, "instruments", Instruments)
    smallest = smallest_mm(readings)
    variation = thickness_variation_mm(readings)
    run_out = run_out_mm(dial_readings)

    def check(name: Check, measured: float, limit: float, side: Side, u: float) -> Reason:
        return Reason(name, measured, limit, side, decide(measured, limit, side, u, confidence))

    thickness = check("thickness", smallest, spec.discard_mm, "minimum", instruments.thickness_u_mm)
    uneven = check(
        "variation", variation, spec.max_variation_mm, "maximum", instruments.thickness_difference_u_mm
    )
    wobble = check("run-out", run_out, spec.max_run_out_mm, "maximum", instruments.dial_difference_u_mm)
    reasons = [thickness, uneven, wobble]
    unproven = [reason for reason in (uneven, wobble) if reason.decision.verdict != "within"]
    action: Action
    deciding: Reason
    if thickness.decision.verdict != "within":
        action, deciding = "replace", thickness
    elif not unproven:
        action, deciding = "keep", min(reasons, key=_tightness)
    else:
        left = difference(smallest, cut_to_true_mm(variation, run_out))
        machining = check("machining", left, spec.machine_to_mm, "minimum", instruments.thickness_u_mm)
        reasons.append(machining)
        if machining.decision.verdict == "within":
            action, deciding = "machine", unproven[0]
        else:
            action, deciding = "replace", machining
    return RotorFinding(
        action,
        deciding,
        tuple(reasons),
        smallest,
        variation,
        run_out,
        machining_allowance_mm(readings, spec.machine_to_mm),
    )


def _tightness(reason: Reason) -> tuple[float, float]:
    decision = reason.decision
    ratio = decision.margin / decision.guard_band if decision.guard_band > 0 else math.inf
    return ratio, decision.margin
