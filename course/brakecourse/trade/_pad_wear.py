"""Put the checks of a pair of pads together into a finding."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.trade._pad_causes import causes_of
from brakecourse.trade._pad_records import (
    Evidence,
    PadAction,
    PadCheck,
    PadLimits,
    PadReading,
    Pattern,
    Place,
    WearFinding,
)
from brakecourse.trade._pad_shape import corners, pair_difference, signed_taper, thin_side
from brakecourse.trade.conformity import Side, decide

_PATTERNS: dict[PadCheck, Pattern] = {
    "taper in length": "tapered lengthwise",
    "taper in height": "tapered in height",
    "step": "stepped edge",
    "pair": "uneven inner and outer",
}


def evidence_of(
    inner: PadReading, outer: PadReading, limits: PadLimits, confidence: float
) -> tuple[Evidence, ...]:
    """Return every check: four for each pad, inner pad first, and one for the pair."""

    def check(
        name: PadCheck, place: Place, measured: float, limit: float, thin: str = "", side: Side = "maximum"
    ) -> Evidence:
        u = limits.thickness_u_mm if name == "thickness" else limits.difference_u_mm
        return Evidence(
            name, place, measured, limit, side, decide(measured, limit, side, u, confidence), thin
        )

    def checks(place: Place, pad: PadReading) -> list[Evidence]:
        length, height = abs(signed_taper(pad, "length")), abs(signed_taper(pad, "height"))
        return [
            check("thickness", place, min(corners(pad)), limits.minimum_mm, side="minimum"),
            check("taper in length", place, length, limits.max_taper_mm, thin_side(pad, "length")),
            check("taper in height", place, height, limits.max_taper_mm, thin_side(pad, "height")),
            check("step", place, pad.step_mm, limits.max_step_mm),
        ]

    apart, thinner = pair_difference(inner, outer)
    pair = check("pair", "both pads", apart, limits.max_pair_difference_mm, thinner)
    return (*checks("inner pad", inner), *checks("outer pad", outer), pair)


def finding_from(evidence: tuple[Evidence, ...]) -> WearFinding:
    """Return the patterns, the causes and the action that follow from the checks."""
    shape = [one for one in evidence if one.check != "thickness"]
    linings = [one.decision.verdict for one in evidence if one.check == "thickness"]
    # The pair comes first: it names the part that most often fails, the slide pins.
    proven = [one for one in reversed(shape) if one.decision.verdict == "outside"]
    even = all(one.decision.verdict == "within" for one in shape)
    below = "outside" in linings
    patterns = [_PATTERNS[name] for name in _PATTERNS if name in {one.check for one in proven}]
    if not patterns:
        patterns = ["even" if even else "too close to call"]
    if below:
        patterns.append("below minimum")
    return WearFinding(
        tuple(patterns), causes_of(proven, even, below), evidence, _action(linings, proven, even)
    )


def _action(linings: Sequence[str], proven: Sequence[Evidence], even: bool) -> PadAction:
    if any(verdict != "within" for verdict in linings):
        return "replace"
    if proven:
        return "find the cause"
    return "keep" if even else "measure again"
