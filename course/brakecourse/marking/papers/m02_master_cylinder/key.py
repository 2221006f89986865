"""The right answers on the level and what it tells, how they follow, and the mistakes that they invite."""

from __future__ import annotations

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m02_master_cylinder import volumes
from brakecourse.marking.papers.m02_master_cylinder.truth import LevelTruth
from brakecourse.marking.readings import read_one
from brakecourse.trade.conformity import combine, guard_band
from brakecourse.trade.fluid import LEAST_LEAK_ML, LevelFinding, LevelVerdict, judge_level
from brakecourse.views.units import both
from brakecourse.views.words import number

slip = slips.slip

ROUNDED_ML = volumes.ROUNDED_ML
MOST_ROUNDED_U_ML = 0.05
"""The root may be written down to 0.1 mL before it is multiplied, so it is off by half of that."""

_KEYS: dict[LevelVerdict, str] = {
    "wear explains it": "explained",
    "suspect a leak": "leak",
    "too close to call": "too-close",
    "fluid was added": "added",
}
MEANS: dict[LevelVerdict, str] = {
    "wear explains it": f"together they stay within {both(LEAST_LEAK_ML, 'mL', 0)}, so wear explains it",
    "suspect a leak": "more is missing than the wear asks for, by at least the guard band, so suspect a leak",
    "too close to call": "neither a leak nor its absence is proven, so it is too close to call",
    "fluid was added": "less is missing than the wear asks for, by the guard band at least: fluid was added",
}


def level(truth: LevelTruth, _given: Given) -> Basis:
    """2.1: the level on the rule."""
    read = truth.level
    line = tolerances.rounded(read.division)
    ten = int(read.reading // 10 * 10)
    more = round(read.reading - ten)
    lines = "line" if more == 1 else "lines"
    where = f"{more} {lines} above number {ten}" if more else f"at number {ten}"
    return read_one(
        read,
        [slip("from_the_maximum", truth.max_mm - read.reading, line)],
        how=f"The flat of the fluid stands {where}, to the nearest line: {both(read.reading, 'mm', 0)}.",
        places=0,
    )


def missing(truth: LevelTruth, given: Given) -> Basis:
    """2.2: what is missing below MAX."""
    level_mm, per_mm = given.number("2.1"), truth.area_mm2 / 1000
    right, gone_mm = truth.missing_ml(level_mm), truth.max_mm - level_mm
    line = tolerances.rounded(truth.level.division) * per_mm
    return basis.number(
        right,
        tolerances.reading(truth.level.division) * per_mm,
        (
            slip("fluid_left_for_missing", level_mm * per_mm, ROUNDED_ML),
            slip("fluid_left_for_missing", (level_mm - truth.min_mm) * per_mm, ROUNDED_ML),
            slip("length_for_volume", gone_mm, ROUNDED_ML),
            slip("fluid_left_for_missing", level_mm * per_mm, line),
            slip("fluid_left_for_missing", (level_mm - truth.min_mm) * per_mm, line),
            slip("cubic_millimetres", 1000 * right, 1000 * ROUNDED_ML),
            *slips.decimal_point(right, ROUNDED_ML),
        ),
        how=f"{number(truth.max_mm, 0)} mm − {number(level_mm, 0 if level_mm == round(level_mm) else 1)} mm "
        f"is {number(gone_mm, 0 if gone_mm == round(gone_mm) else 1)} mm below MAX. Times "
        f"{number(truth.area_mm2, 0)} mm², divided by 1000, that is {both(right, 'mL')}.",
        places=1,
        carried=ROUNDED_ML,
    )


def guard(truth: LevelTruth, _given: Given) -> Basis:
    """2.6: how far the two volumes must lie apart to prove something."""
    level_u, front_u, _, rear_u, _ = truth.contributions_ml
    u, factor = truth.uncertainty_ml, guard_band(1.0, truth.confidence)
    # Rounded to 0.1 mL at the end, and perhaps once before, at the root.
    near = ROUNDED_ML + factor * MOST_ROUNDED_U_ML
    parts = " + ".join(f"{number(one)}²" for one in truth.contributions_ml)
    return basis.number(
        truth.guard_ml,
        near,
        (
            slip("guard_factor_left_out", u, near),
            slip("added_not_squared", factor * sum(truth.contributions_ml), near),
            slip("added_not_squared", sum(truth.contributions_ml), near),
            slip("one_wheel_of_an_axle", factor * combine(level_u, front_u, rear_u), ROUNDED_ML),
            slip("wear_uncertainty_left_out", factor * level_u, ROUNDED_ML),
            *slips.decimal_point(truth.guard_ml, near),
        ),
        how=f"The root of {parts} is {both(u, 'mL', 2, 3)}. Times {number(factor, 3)} that is "
        f"{both(truth.guard_ml, 'mL')}.",
        places=1,
    )


def _found(given: Given, truth: LevelTruth, *, sure: bool = False) -> LevelFinding:
    """Return what the given volumes lead to; sure: as if nothing were uncertain."""
    u = 0.0 if sure else max(0.0, given.number("2.6")) / guard_band(1.0, truth.confidence)
    return judge_level(given.number("2.2"), max(0.0, given.number("2.5")), u)


def _told(given: Given, found: LevelFinding) -> str:
    side = "more" if found.unexplained_ml >= 0 else "less"
    return (
        f"{both(given.number('2.2'), 'mL')} are missing and the wear asks for "
        f"{both(found.expected_ml, 'mL')}. That is {both(abs(found.unexplained_ml), 'mL')} {side}, and the "
        f"guard band is {both(given.number('2.6'), 'mL')}: {MEANS[found.verdict]}."
    )


def tells(truth: LevelTruth, given: Given) -> Basis:
    """2.7: what the level tells."""
    found, bare = _found(given, truth), _found(given, truth, sure=True)
    return given.choice(
        "2.7",
        (_KEYS[found.verdict],),
        (
            ("ignored_uncertainty", _KEYS[bare.verdict]),
            # Not proven, and taken for proof of the opposite.
            *((("unproven_taken_for_sound", "explained"),) if found.verdict == "too close to call" else ()),
        ),
        how=_told(given, found),
    )


def what_next(truth: LevelTruth, given: Given) -> Basis:
    """2.8: what to do next, with the reason."""
    found = _found(given, truth)
    by_reason = {one.reason: one.key for one in given.choices("2.8") if one.reason}
    bare = _found(given, truth, sure=True)
    return given.choice(
        "2.8",
        (by_reason[found.verdict],),
        (("ignored_uncertainty", by_reason[bare.verdict]),),
        how=f"{_told(given, found)} {_NEXT[found.verdict]}",
    )


_NEXT: dict[LevelVerdict, str] = {
    "wear explains it": "So go on, and look for wet places as on every job. New pads push the fluid back up.",
    "suspect a leak": "So find the leak before the vehicle moves.",
    "too close to call": "So look for a leak as if there were one: a level that proves nothing does not "
    "prove the system tight.",
    "fluid was added": "So ask who added fluid, look for a leak, and draw some out before the pistons go "
    "back.",
}

KEY: dict[str, Answer] = {
    "2.1": level,
    "2.2": missing,
    "2.3": volumes.areas,
    "2.4": volumes.wheels,
    "2.5": volumes.all_wheels,
    "2.6": guard,
    "2.7": tells,
    "2.8": what_next,
    "2.9": volumes.must_hold,
}
