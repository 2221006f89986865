"""Decide against a limit when every reading has an uncertainty.

A reading beside a limit is never simply "good" or "bad". The gauge and the hand that holds it add
an uncertainty. The guard band keeps a distance from the limit so that a decision can be trusted.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from brakecourse.trade import _checks
from brakecourse.trade._decimals import difference

Verdict = Literal["within", "outside", "too close to call"]
Side = Literal["minimum", "maximum"]


@dataclass(frozen=True)
class Decision:
    """What a measurement says about a limit.

    Attributes:
        verdict: ``"within"``, ``"outside"`` or ``"too close to call"``.
        margin: signed distance from the limit, positive on the conforming side, in the measured unit.
        guard_band: the distance a decision needs, in the measured unit.
        probability_conforming: how probable it is that the true value keeps the limit, 0 to 1.
    """

    verdict: Verdict
    margin: float
    guard_band: float
    probability_conforming: float


def guard_band(standard_uncertainty: float, confidence: float = 0.95) -> float:
    """Return how far from a limit a reading must be before it decides.

    Args:
        standard_uncertainty: standard uncertainty of the measured value, in its unit, 0 or more.
        confidence: wanted one-sided probability of a right decision, 0.5 up to below 1.

    Returns:
        The one-sided guard band ``z(confidence) * standard_uncertainty``, in the unit of the uncertainty.

    Raises:
        ValueError: an argument is no number or outside its range.

    Source:
        ISO 14253-1:2017 and JCGM 106:2012, one-sided guard band for a normal distribution.

    Example:
        >>> round(guard_band(0.010), 4)
        0.0164
    """
    u = _checks.not_negative(standard_uncertainty, "standard uncertainty")
    level = _checks.between(confidence, "confidence", 0.5, 1.0)
    return statistics.NormalDist().inv_cdf(level) * u


def decide(
    measured: float,
    limit: float,
    side: Side,
    standard_uncertainty: float,
    confidence: float = 0.95,
) -> Decision:
    """Decide whether a measured value keeps a limit.

    Args:
        measured: the measured value.
        limit: the limit, in the same unit.
        side: ``"minimum"`` when the value must not be below the limit, ``"maximum"`` when not above.
        standard_uncertainty: standard uncertainty of the measured value, in the same unit. With 0 there
            is no grey zone, and a value on the limit keeps it.
        confidence: wanted probability of a right decision, 0.5 up to below 1.

    Returns:
        The verdict with the margin, the guard band and the probability of conforming.

    Raises:
        ValueError: an argument is no finite number, outside its range, or ``side`` is another word.

    Source:
        Rule and guard band after ISO 14253-1:2017; probability of conformity after JCGM 106:2012, 7.2,
        normal distribution.

    Example:
        A rotor reads 22.03 mm (0.867 in). It may not be thinner than 22.00 mm (0.866 in).

        >>> decision = decide(22.03, 22.00, "minimum", 0.010)
        >>> decision.verdict, decision.margin, round(decision.guard_band, 4)
        ('within', 0.03, 0.0164)
        >>> decide(22.01, 22.00, "minimum", 0.010).verdict
        'too close to call'
    """
    value = _checks.number(measured, "measured value")
    bound = _checks.number(limit, "limit")
    _checks.one_of(side, "side", get_args(Side))
    band = guard_band(standard_uncertainty, confidence)
    margin = difference(value, bound) if side == "minimum" else difference(bound, value)
    if margin >= band:
        verdict: Verdict = "within"
    elif margin <= -band:
        verdict = "outside"
    else:
        verdict = "too close to call"
    return Decision(verdict, margin, band, _probability_above_zero(margin, float(standard_uncertainty)))


def _probability_above_zero(margin: float, standard_uncertainty: float) -> float:
    if standard_uncertainty == 0:
        return 1.0 if margin >= 0 else 0.0
    # erfc keeps its precision far out in the tail, where 1 + erf would lose it.
    return 0.5 * math.erfc(-margin / standard_uncertainty / math.sqrt(2))


def type_a(readings: Sequence[float]) -> tuple[float, float]:
    """Return the mean of repeated readings and the standard uncertainty of that mean.

    Args:
        readings: at least two readings of the same quantity, all in one unit.

    Returns:
        ``(mean, standard uncertainty)`` in the unit of the readings. The uncertainty is the sample
        standard deviation divided by the square root of the number of readings.

    Raises:
        ValueError: fewer than two readings, or one that is no finite number.

    Source:
        JCGM 100:2008 (GUM), 4.2.1 to 4.2.3.

    Example:
        >>> mean, u = type_a([24.01, 24.03, 24.02])
        >>> round(mean, 2), round(u, 4)
        (24.02, 0.0058)
    """
    row = _checks.numbers(readings, "repeated reading", at_least=2)
    return statistics.fmean(row), statistics.stdev(row) / math.sqrt(len(row))


def combine(*standard_uncertainties: float) -> float:
    """Return the combined standard uncertainty of independent contributions.

    Args:
        standard_uncertainties: one or more, each 0 or more, all in one unit, each already multiplied by
            its sensitivity.

    Returns:
        The square root of the sum of the squares, in the same unit.

    Raises:
        ValueError: none was given, or one is no finite number of 0 or more.

    Source:
        JCGM 100:2008 (GUM), 5.1.2, uncorrelated input quantities.

    Example:
        >>> combine(3.0, 4.0)
        5.0
    """
    if not standard_uncertainties:
        raise ValueError("standard uncertainties must be at least one number, but none was given.")
    return math.hypot(*(_checks.not_negative(u, "standard uncertainty") for u in standard_uncertainties))


def rectangular(half_width: float) -> float:
    """Return the standard uncertainty of a value known only to lie between two bounds.

    Args:
        half_width: half the distance between the bounds, 0 or more. For rounding to a gauge's
            resolution it is half the resolution; for an error limit of plus or minus 4, it is 4.

    Returns:
        ``half_width / sqrt(3)``, in the same unit.

    Raises:
        ValueError: the half width is no finite number of 0 or more.

    Source:
        JCGM 100:2008 (GUM), 4.3.7.

    Example:
        A gauge with a resolution of 0.01 mm rounds by up to 0.005 mm.

        >>> round(rectangular(0.005), 4)
        0.0029
    """
    return _checks.not_negative(half_width, "half width") / math.sqrt(3)


def expanded(standard_uncertainty: float, k: float = 2) -> float:
    """Return the expanded uncertainty, as a calibration certificate states it.

    Args:
        standard_uncertainty: standard uncertainty, 0 or more.
        k: coverage factor, above 0. With 2, about 95 percent of the values lie inside.

    Returns:
        ``k * standard_uncertainty``, in the same unit.

    Raises:
        ValueError: an argument is no finite number or outside its range.

    Source:
        JCGM 100:2008 (GUM), 6.2.1.

    Example:
        >>> expanded(0.004)
        0.008
    """
    factor = _checks.positive(k, "coverage factor k")
    return factor * _checks.not_negative(standard_uncertainty, "standard uncertainty")


def standard_from_expanded(expanded_uncertainty: float, k: float = 2) -> float:
    """Return the standard uncertainty behind an expanded one.

    Args:
        expanded_uncertainty: expanded uncertainty from a certificate, 0 or more.
        k: the coverage factor that the certificate states, above 0.

    Returns:
        ``expanded_uncertainty / k``, in the same unit.

    Raises:
        ValueError: an argument is no finite number or outside its range.

    Source:
        JCGM 100:2008 (GUM), 4.3.3.

    Example:
        >>> standard_from_expanded(0.008)
        0.004
    """
    factor = _checks.positive(k, "coverage factor k")
    return _checks.not_negative(expanded_uncertainty, "expanded uncertainty") / factor


def effective_degrees_of_freedom(
    standard_uncertainties: Sequence[float], degrees_of_freedom: Sequence[float]
) -> float:
    """Return the effective degrees of freedom of a combined uncertainty (Welch-Satterthwaite).

    Args:
        standard_uncertainties: the independent contributions, each 0 or more, not all 0, in one unit.
        degrees_of_freedom: one for each contribution, above 0. ``math.inf`` says that a contribution is
            taken as exactly known, as an error limit from a standard often is.

    Returns:
        The effective degrees of freedom, not rounded; ``math.inf`` when nothing limits them.

    Raises:
        ValueError: the two rows differ in length, are empty, or hold a number outside its range.

    Source:
        JCGM 100:2008 (GUM), G.4.1, equation G.2b.

    Example:
        >>> round(effective_degrees_of_freedom([3.0, 4.0], [4, 9]), 1)
        12.8
    """
    row = _checks.numbers(standard_uncertainties, "standard uncertainty")
    parts = [_checks.not_negative(u, "standard uncertainty") for u in row]
    freedoms = _freedoms(degrees_of_freedom)
    if len(parts) != len(freedoms):
        raise ValueError(
            f"degrees of freedom must be one for each of the {len(parts)} standard uncertainties, "
            f"but there were {len(freedoms)}."
        )
    whole = combine(*parts)
    if whole == 0:
        raise ValueError("standard uncertainties must include one above 0, but all were 0.")
    # Shares of the whole, not fourth powers of the parts: tiny and huge units stay exact.
    loss = math.fsum((u / whole) ** 4 / freedom for u, freedom in zip(parts, freedoms, strict=True))
    return 1 / loss if loss > 0 else math.inf


def _freedoms(values: Sequence[float]) -> list[float]:
    name = "degrees of freedom"
    row = _checks.row(values, name, at_least=1)
    return [math.inf if _is_infinity(value) else _checks.positive(value, name) for value in row]


def _is_infinity(value: object) -> bool:
    return isinstance(value, float) and value == math.inf
