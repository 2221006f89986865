"""7.5 to 7.9: against the minimum, the pattern, the part, the distance left, what to do."""

from __future__ import annotations

from dataclasses import replace

from brakecourse.bench.pad_situations import PATTERNS
from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers import units_text as both
from brakecourse.marking.papers.m07_pad_wear import checks
from brakecourse.marking.papers.m07_pad_wear.causes import against, found_words
from brakecourse.marking.papers.m07_pad_wear.checks import Measured, lining
from brakecourse.marking.papers.m07_pad_wear.corners import told_apart
from brakecourse.marking.papers.m07_pad_wear.truth import PadTruth
from brakecourse.trade.conformity import combine, expanded, guard_band
from brakecourse.trade.pads import WearFinding, mean_lining_mm, remaining_km, wear_rate_mm_per_1000km
from brakecourse.views.words import mm, number

slip = slips.slip

ROUNDING_KM = 50.0
"""The distance is asked to the nearest 100 km, so rounding moves it by up to 50 km."""

RATE_ROUNDING = 0.0005
"""Half of the last place of a wear rate that was written down in between to 0.001 mm for each 1000 km."""

_VERDICT_KEYS = {"within": "within", "outside": "outside", "too close to call": "too-close"}
_ENDS = {PATTERNS[3]: PATTERNS[4], PATTERNS[4]: PATTERNS[3]}
_SIDES = {PATTERNS[0]: PATTERNS[1], PATTERNS[1]: PATTERNS[0]}
_HALVES = {
    PATTERNS[13]: (PATTERNS[0], PATTERNS[2]),
    PATTERNS[14]: (PATTERNS[0], PATTERNS[7]),
    PATTERNS[2]: (PATTERNS[3], PATTERNS[4]),
}
"""Patterns that tell only a part of another one."""


def against_minimum(truth: PadTruth, given: Given) -> Basis:
    """7.5: within, outside or too close to call."""
    u, plate = truth.limits.thickness_u_mm, truth.plate_mm
    thinnest, row = given.number("7.2"), given.row("7.1")
    thin = min(map(mean_lining_mm, truth.pads(row)))

    def words(measured_mm: float, uncertainty: float) -> str:
        return _VERDICT_KEYS[lining(truth, measured_mm, uncertainty).verdict]

    found = lining(truth, thinnest, u)
    return given.choice(
        "7.5",
        (words(thinnest, u),),
        (
            ("ignored_uncertainty", words(thinnest, 0.0)),
            ("expanded_for_standard", words(thinnest, expanded(u))),
            ("best_corner", words(max(row), u)),
            ("mean_of_corners", words(thin, u)),
            ("backing_plate_included", words(thinnest + plate, u)),
        ),
        how=(
            f"The thinnest corner, {number(thinnest, 1)} mm, lies {_signed(found.margin)} mm from the "
            f"minimum of {number(truth.limits.minimum_mm, 1)} mm. The guard band is {_band(truth)} wide on "
            f"each side. So the answer is '{found.verdict}'."
        ),
    )


def pattern(truth: PadTruth, given: Given) -> Basis:
    """7.6: which pattern the checks make."""
    values = checks.measured(truth, given)
    right = checks.pattern(truth, values)
    careless = checks.pattern(truth, values.as_if_certain)
    pairs = [("ignored_uncertainty", careless)] if careless != right else []
    pairs += [("part_of_the_pattern", one) for one in _HALVES.get(right, ())]
    pairs += [("pads_mixed_up", _SIDES[right])] if right in _SIDES else []
    pairs += [("ends_mixed_up", _ENDS[right])] if right in _ENDS else []
    if right not in (PATTERNS[8], PATTERNS[9]):
        pairs.append(("pattern_overlooked", PATTERNS[8]))
    keys = {one.text: one.key for one in given.choices("7.6")}
    told = [one.words for one in checks.evidence(truth, values) if one.decision.verdict != "within"]
    return given.choice(
        "7.6",
        (keys[right],),
        [(name, keys[words]) for name, words in pairs],
        how=f"{' '.join(told) or 'Every check is within its limit.'} So the pattern is: {right}.",
    )


def cause(truth: PadTruth, given: Given) -> Basis:
    """7.7: the part, or the happening, behind it."""
    keys = {one.text: one.key for one in given.choices("7.7")}
    return given.choice(
        "7.7",
        (keys[truth.cause],),
        [(name, keys[words]) for name, words in against(truth.cause)],
        how=f"{found_words(truth)} So it is: {truth.cause}.",
    )


def distance(truth: PadTruth, given: Given) -> Basis:
    """7.8: how far until the thinnest corner reaches the minimum."""
    row, new, minimum = given.row("7.1"), truth.lining_new_mm, truth.limits.minimum_mm
    now = _worn(truth, given.number("7.2"))
    worn, rate = new - now, wear_rate_mm_per_1000km(new, now, truth.km)
    right = _to_go(truth, now)
    rounding = combine(ROUNDING_KM, right * RATE_ROUNDING / rate)
    # How much the distance moves for each millimetre that the reading is off.
    steep = truth.km * (new - minimum) / worn**2
    near = combine(steep * tolerances.reading(truth.inner[0].division), rounding)
    thin = min(map(mean_lining_mm, truth.pads(row)))
    said = (
        f"Worn off: {number(new, 1)} − {number(now, 1)} = {mm(worn, 1)}. Each 1000 km take "
        f"{number(rate, 3)} mm. Left: {number(now, 1)} − {number(minimum, 1)} = {mm(now - minimum, 1)}."
    )
    ends = f"That is {both.kilometres(right)}." if right else "Nothing is left, so the distance is 0 km."
    return basis.number(
        right,
        near,
        told_apart(
            slip("best_corner", _to_go(truth, max(row)), rounding),
            slip("mean_of_corners", _to_go(truth, thin), rounding),
            slip("down_to_the_plate", 1000 * now / rate, rounding),
            slip("backing_plate_included", 1000 * (now + truth.plate_mm - minimum) / rate, rounding),
            slip("distance_gone", truth.km, ROUNDING_KM),
            slip("whole_life", right + truth.km, rounding),
            slip("wrong_sign", abs(now - minimum) / rate * 1000, rounding),
            slip("miles_for_kilometres", both.to_miles(right), both.to_miles(rounding)),
            *slips.decimal_point(right, rounding),
        ),
        how=f"{said} {ends}",
        places=0,
        carried=rounding,
    )


def action(truth: PadTruth, given: Given) -> Basis:
    """7.9: keep, measure again, find the cause, or renew the axle set, each with its reason."""
    values, row = checks.measured(truth, given), given.row("7.1")
    found = checks.finding(truth, values)
    thin = min(map(mean_lining_mm, truth.pads(row)))

    def sound(others: Measured) -> str:
        return _sound(checks.finding(truth, others), given)

    return given.choice(
        "7.9",
        (_sound(found, given),),
        (
            ("ignored_uncertainty", sound(values.as_if_certain)),
            ("best_corner", sound(_with(values, max(row)))),
            ("mean_of_corners", sound(_with(values, thin))),
            ("backing_plate_included", sound(_with(values, values.smallest_mm + truth.plate_mm))),
        ),
        how=_why(found),
    )


def _with(values: Measured, smallest_mm: float) -> Measured:
    return replace(values, smallest_mm=smallest_mm)


def _sound(found: WearFinding, given: Given) -> str:
    """Return the short name of the choice with the right action and a reason that holds."""
    thickness = next(one for one in found.evidence if one.check == "thickness")
    reason = thickness.decision.verdict if found.action == "replace" else "shape"
    return next(
        one.key for one in given.choices("7.9") if one.action == found.action and one.reason == reason
    )


def _why(found: WearFinding) -> str:
    """Say which checks decide."""
    thickness = next(one for one in found.evidence if one.check == "thickness")
    if found.action == "replace":
        return f"{thickness.words} A lining that is not proven to keep its minimum goes, on both wheels."
    told = [one.words for one in checks.worst(found.evidence, "outside")]
    told += [one.words for one in checks.worst(found.evidence, "too close to call")]
    if told:
        return f"{thickness.words} {' '.join(told)}"
    return f"{thickness.words} Every other check keeps its limit, too."


def _worn(truth: PadTruth, now_mm: float) -> float:
    """Return a thickness to reckon with; the true one when the learner's own would be no wear at all."""
    return now_mm if 0 <= now_mm < truth.lining_new_mm else min(truth.readings_mm)


def _to_go(truth: PadTruth, now_mm: float) -> float:
    """Return the distance left with a lining of this thickness, km; 0 when nothing has worn off."""
    if now_mm >= truth.lining_new_mm:
        return 0.0
    life = remaining_km(
        truth.lining_new_mm, now_mm, truth.limits.minimum_mm, truth.km, truth.limits.thickness_u_mm
    )
    return life.likely_km


def _band(truth: PadTruth) -> str:
    return mm(guard_band(truth.limits.thickness_u_mm, truth.confidence))


def _signed(value: float) -> str:
    return ("+" if value > 0 else "") + number(value, 1)
