"""The right answers with the wrench: conversions, the reading, the extension, the tolerance."""

from __future__ import annotations

import math
from collections.abc import Iterable

from brakecourse.marking import basis, slips
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m11_reassembly_and_torque.draw import grip_nm
from brakecourse.marking.papers.m11_reassembly_and_torque.truth import TorqueTruth
from brakecourse.marking.readings import read_one
from brakecourse.marking.sealed import SealedMistake
from brakecourse.published import convert
from brakecourse.trade import fasteners
from brakecourse.trade.conformity import combine, expanded, rectangular
from brakecourse.views.torque_words import mm_of, nm, nm_range, nm_to_a_tenth
from brakecourse.views.words import number

LESSON_FACTOR = 1.356
"""Newton metres of a pound-foot as the lesson rounds them."""

COSINE_ROUNDING = 0.0005
"""Half of the last of three places, to which a cosine is written."""


def near(places: int, *bounds: float) -> float:
    """Return the tolerance of an answer: the expanded uncertainty (k = 2) of everything that was rounded.

    Args:
        places: decimal places that are asked for.
        bounds: how far each rounding on the way may move the answer, either way.

    Source:
        JCGM 100:2008 (GUM), 4.3.7 for a rounded value and 5.1.2 for independent ones.
    """
    half = 0.5 * 10.0**-places
    return expanded(combine(*(rectangular(bound) for bound in (half, *bounds))))


def named(
    right: float, tolerance: float, places: int, found: Iterable[tuple[str, float]]
) -> tuple[SealedMistake, ...]:
    """Return named mistakes, each recognised as near, as a share of its value, as the right answer."""
    half = 0.5 * 10.0**-places
    return tuple(slips.slip(name, value, max(half, tolerance * abs(value / right))) for name, value in found)


def conversions(case: TorqueTruth, _given: Given) -> Basis:
    """11.1: the old sheet's lbf·ft and lbf·in in N·m."""
    feet, inches = case.old.nut_lbfft, case.old.small_lbfin
    right = (convert(feet, "lbf*ft", "N*m"), convert(inches, "lbf*in", "N*m"))
    factor = LESSON_FACTOR / convert(1, "lbf*ft", "N*m") - 1
    # The lesson's factor, and pound-feet written with one place on the way.
    near_of = (near(1, right[0] * factor), near(1, right[1] * factor, right[1] * 0.05 * 12 / inches))
    pairs = (
        (
            ("torque_unit_wrong_way", convert(feet, "N*m", "lbf*ft")),
            ("lbfin_for_lbfft", convert(feet, "lbf*in", "N*m")),
            ("torque_not_converted", feet),
            ("ten_times", 10 * right[0]),
            ("ten_times", right[0] / 10),
        ),
        (
            ("lbfin_for_lbfft", convert(inches, "lbf*ft", "N*m")),
            ("torque_unit_wrong_way", convert(inches / 12, "N*m", "lbf*ft")),
            ("torque_unit_wrong_way", convert(inches * 12, "lbf*ft", "N*m")),
            ("stopped_at_pound_feet", inches / 12),
            ("torque_not_converted", inches),
            ("ten_times", 10 * right[1]),
            ("ten_times", right[1] / 10),
        ),
    )
    found = [
        one.model_copy(update={"place": place})
        for place, (value, close, own) in enumerate(zip(right, near_of, pairs, strict=True), start=1)
        for one in named(value, close, 1, own)
    ]
    how = (
        f"Wheel nuts: {number(feet, 0)} lbf·ft × {LESSON_FACTOR} = {number(right[0], 1)} N·m. "
        f"The {case.old.small}s: {number(inches, 0)} lbf·in ÷ 12 = {number(inches / 12, 1)} lbf·ft, "
        f"× {LESSON_FACTOR} = {number(right[1], 1)} N·m."
    )
    return basis.table(right, near_of, found, how=how, places=1)


def reading(case: TorqueTruth, _given: Given) -> Basis:
    """11.2: what the wrench was left set to."""
    read = case.wrench.left
    grip, turn, lines = grip_nm(case.wrench)
    base = read.reading - grip
    close = read.division / 4
    extra = (
        slips.slip("grip_left_out", base, close),
        slips.slip("grip_lines_as_ones", base + lines, close),
        slips.slip("one_turn_out", read.reading + turn, close),
        slips.slip("one_turn_out", read.reading - turn, close),
    )
    # A wrench that counts its lines in ones, or twos, leaves some of them out: they would be right.
    kept = [one for one in extra if abs(float(one.value) - read.reading) >= read.division - 1e-9]
    how = (
        f"The last line of the N·m scale up to the hairline is {base:g}. The grip adds {grip:g}: "
        f"{base:g} + {grip:g} = {nm(read.reading)}."
    )
    return read_one(read, kept, how=how, places=1)


def setting(case: TorqueTruth, _given: Given) -> Basis:
    """11.3: what to set with the extension."""
    one, target, right = case.wrench, case.bolt.torque_nm, case.setting_nm
    cosine = math.cos(math.radians(one.angle_deg))
    arm = one.length_mm + one.extension_mm * cosine
    tolerance = near(1, right * one.extension_mm * COSINE_ROUNDING / arm)

    def with_part(part: float) -> float:
        return target * one.length_mm / (one.length_mm + one.extension_mm * part)

    found = [
        ("extension_ignored", target),
        ("extension_inverted", target * target / right),
        ("extension_other_way", with_part(-cosine)),
        ("extension_for_lever", target * one.extension_mm / arm),
    ]
    if one.angle_deg:
        found += [
            ("whole_extension_at_an_angle", with_part(1.0)),
            ("sine_for_cosine", with_part(math.sin(math.radians(one.angle_deg)))),
            ("radians_for_degrees", with_part(math.cos(one.angle_deg))),
        ]
    found += [("ten_times", 10 * right), ("ten_times", right / 10)]
    part = f" × {number(cosine, 3)}" if one.angle_deg else ""
    how = (
        f"The whole lever is {one.length_mm:g} + {one.extension_mm:g}{part} = {mm_of(arm)}. "
        f"{number(target, 0)} × {one.length_mm:g} ÷ {number(arm, 1)} = {nm(right)}."
    )
    return basis.number(right, tolerance, named(right, tolerance, 1, found), how=how, places=1)


def tolerance(case: TorqueTruth, given: Given) -> Basis:
    """11.8: whether a tested wrench is in tolerance."""
    one = case.tested
    key = {"within": "within", "outside": "outside", "too close to call": "too-close"}

    def words(share: float, u: float) -> str:
        return key[fasteners.in_tolerance(one.shown_nm, one.set_nm, share, u, one.confidence).verdict]

    found = fasteners.in_tolerance(one.shown_nm, one.set_nm, one.share, one.u_nm, one.confidence)
    low, high = one.set_nm * (1 - one.share), one.set_nm * (1 + one.share)
    side = "inside" if found.margin >= 0 else "outside"
    how = (
        f"The tolerance runs from {nm_range(low, high)}. The tester shows {nm_to_a_tenth(one.shown_nm)}, "
        f"{number(abs(found.margin), 2)} N·m {side} its nearer end. The guard band is "
        f"{number(found.guard_band, 2)} N·m wide on each side of the end: {found.verdict}."
    )
    full_scale = one.share * one.largest_nm / one.set_nm
    mistakes = [
        ("ignored_uncertainty", words(one.share, 0.0)),
        ("percent_of_full_scale", words(min(full_scale, 0.9), one.u_nm)),
    ]
    return given.choice("11.8", (key[found.verdict],), mistakes, how=how)


KEY: dict[str, Answer] = {
    "11.1": conversions,
    "11.2": reading,
    "11.3": setting,
    "11.8": tolerance,
}
