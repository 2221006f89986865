"""The checks of a pair of pads, made from values that need not be the true ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from brakecourse.bench.pad_situations import SITUATIONS, shape_marks
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m07_pad_wear.draw import SHARES
from brakecourse.marking.papers.m07_pad_wear.truth import PadTruth
from brakecourse.trade._pad_records import PadCheck, Place
from brakecourse.trade._pad_wear import finding_from
from brakecourse.trade.conformity import Decision, decide
from brakecourse.trade.pads import Evidence, PadReading, WearFinding, mean_lining_mm, thin_end

PATTERN_OF = {SITUATIONS[name].marks: SITUATIONS[name].pattern for name in SHARES}
"""The pattern that a set of marks makes."""


@dataclass(frozen=True)
class Measured:
    """What a learner has measured and worked out.

    Attributes:
        smallest_mm: the thinnest corner.
        tapers_mm: inner pad lengthwise and in height, outer pad lengthwise and in height.
        apart_mm: difference of the pads.
        pads: both pads' corners, for which side is the thin one.
        thickness_u_mm, difference_u_mm: standard uncertainties that are counted.
    """

    smallest_mm: float
    tapers_mm: Sequence[float]
    apart_mm: float
    pads: tuple[PadReading, PadReading]
    thickness_u_mm: float
    difference_u_mm: float

    @property
    def as_if_certain(self) -> Measured:
        """The same, as if the gauge could not be wrong."""
        return replace(self, thickness_u_mm=0.0, difference_u_mm=0.0)


def measured(truth: PadTruth, given: Given) -> Measured:
    """Return what is given of the corners and of what follows from them."""
    return Measured(
        given.number("7.2"),
        given.row("7.3"),
        given.number("7.4"),
        truth.pads(given.row("7.1")),
        truth.limits.thickness_u_mm,
        truth.limits.difference_u_mm,
    )


def lining(truth: PadTruth, thickness_mm: float, u_mm: float) -> Decision:
    """Hold a lining against the minimum."""
    return decide(thickness_mm, truth.limits.minimum_mm, "minimum", u_mm, truth.confidence)


def finding(truth: PadTruth, values: Measured) -> WearFinding:
    """Return what the checks lead to."""
    return finding_from(evidence(truth, values))


def evidence(truth: PadTruth, values: Measured) -> tuple[Evidence, ...]:
    """Return every check, in the order of the lesson."""
    limits = truth.limits

    def check(name: PadCheck, place: Place, value: float, limit: float, thin: str = "") -> Evidence:
        # A difference has no sign; a learner may have handed one in.
        found = decide(abs(value), limit, "maximum", values.difference_u_mm, truth.confidence)
        return Evidence(name, place, abs(value), limit, "maximum", found, thin)

    inner, outer = values.pads
    thinner = "inner" if mean_lining_mm(inner) < mean_lining_mm(outer) else "outer"
    least = lining(truth, values.smallest_mm, values.thickness_u_mm)
    checks = [
        Evidence("thickness", "both pads", values.smallest_mm, limits.minimum_mm, "minimum", least),
        check("pair", "both pads", values.apart_mm, limits.max_pair_difference_mm, thinner),
    ]
    places: tuple[Place, Place] = ("inner pad", "outer pad")
    for place, pad, length, height, step in zip(
        places, values.pads, values.tapers_mm[::2], values.tapers_mm[1::2], truth.step_mm, strict=True
    ):
        most = limits.max_taper_mm
        checks.append(check("taper in length", place, length, most, thin_end(pad, "length")))
        checks.append(check("taper in height", place, height, most, thin_end(pad, "height")))
        checks.append(check("step", place, step, limits.max_step_mm))
    return tuple(checks)


def pattern(truth: PadTruth, values: Measured) -> str:
    """Return the pattern that the checks make; the true one where they make none that a case can show."""
    return PATTERN_OF.get(shape_marks(evidence(truth, values)), SITUATIONS[truth.situation].pattern)


def worst(checks: Sequence[Evidence], verdict: str) -> list[Evidence]:
    """Return the checks with a verdict, the worst first."""
    found = [one for one in checks if one.decision.verdict == verdict]
    return sorted(found, key=lambda one: one.decision.margin)
