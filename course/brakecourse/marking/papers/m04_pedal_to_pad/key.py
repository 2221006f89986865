"""The right answers up to the pressure, and the changed bore: how they follow, and what they invite."""

from __future__ import annotations

from brakecourse.bench.fluid_gauges import pressure_gauge
from brakecourse.marking import basis, slips
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m04_pedal_to_pad.near import area_shares, named, near
from brakecourse.marking.papers.m04_pedal_to_pad.truth import FULL_MPA, ForceTruth
from brakecourse.marking.readings import read_one
from brakecourse.published import convert
from brakecourse.trade import hydraulics
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

SURELY_PSI = 130.0
"""No gauge of this exercise shows so many megapascals, and none so few psi."""


def own_mpa(given: Given, question: str) -> float:
    """Return a pressure that was given earlier, in MPa; one that can only be psi is converted.

    Nobody gets a sound clamp force by putting psi into it, so such an answer is not carried on as MPa.
    """
    value = given.number(question)
    return convert(value, "psi", "MPa") if value > SURELY_PSI else value


def pressure_near(push: ForceTruth) -> float:
    """Return the tolerance of the pressure that the push should make, MPa."""
    return near(2, *(push.should_mpa * share for share in area_shares(push.master_mm)))


def pressure(push: ForceTruth, _given: Given) -> Basis:
    """4.1: the pressure that this push should make."""
    area, right = piston_area_mm2(push.master_mm), push.should_mpa
    lever = push.foot_n * push.pedal_ratio
    rod = lever + push.booster_n
    how = (
        f"Lever: {number(push.foot_n, 0)} N × {number(push.pedal_ratio, 1)} = {both(lever, 'N')}. "
        f"Push: {number(lever, 0)} + {number(push.booster_n, 0)} = {both(rod, 'N')}. "
        f"Area: π ÷ 4 × {number(push.master_mm)}² = {both(area, 'mm²', 1)}. "
        f"Pressure: {number(rod, 0)} ÷ {number(area, 1)} = {both(right, 'MPa')}."
    )
    tolerance = pressure_near(push)

    def with_these(foot: float, ratio: float, help_n: float) -> float:
        return hydraulics.line_pressure_mpa(foot, ratio, push.master_mm, help_n)

    found = (
        ("bore_as_radius", right / 4),
        ("psi_for_mpa", convert(right, "MPa", "psi")),
        ("booster_left_out", push.bare_mpa),
        ("lever_left_out", with_these(push.foot_n, 1, push.booster_n)),
        ("booster_times_lever", with_these(push.foot_n + push.booster_n, push.pedal_ratio, 0)),
        ("ten_times", 10 * right),
        ("ten_times", right / 10),
    )
    return basis.number(right, tolerance, named(right, tolerance, 2, found), how=how)


def reading(push: ForceTruth, _given: Given) -> Basis:
    """4.2: the pressure gauge."""
    read = push.gauge
    how = (
        f"On the outer ring each line is {number(read.division)} MPa. The needle stands nearest to the line "
        f"of {both(read.reading, 'MPa', 1)}."
    )
    # Read on the inner ring, a number is as near as that ring's lines allow.
    gauge = pressure_gauge(FULL_MPA)
    inner = slips.slip("psi_for_mpa", convert(read.indication, "MPa", "psi"), gauge.psi.line)
    return read_one(read, (inner,), how=how, places=1)


def fits(push: ForceTruth, given: Given) -> Basis:
    """4.3: whether what the gauge shows fits the push."""
    should, shown = own_mpa(given, "4.1"), own_mpa(given, "4.2")
    truly = _verdict(push, push.should_mpa, push.gauge.reading)
    found = _verdict(push, should, shown)
    is_bare = abs(shown - push.bare_mpa) <= push.off_mpa
    # A fault that is there is never marked as gone, whatever slipped before: the vehicle may be unsafe.
    if not (found == "high" or (found == "low" and is_bare) or found == truly):
        should, shown, found = push.should_mpa, push.gauge.reading, truly
    how = (
        f"This push should make {both(should, 'MPa')}, and the gauge shows {both(shown, 'MPa')}: "
        f"{both(abs(shown - should), 'MPa')} apart. A sound gauge may be off by {both(push.off_mpa, 'MPa')}. "
    )
    how += {
        "fits": "So it fits.",
        "low": f"The lever alone makes {both(push.bare_mpa, 'MPa')}, so the booster adds nothing.",
        "high": "So the pressure is higher than this push can make with the maker's parts.",
    }[found]
    return given.choice("4.3", (found,), [("booster_left_out", "fits")] if truly == "low" else (), how=how)


def _verdict(push: ForceTruth, should_mpa: float, shown_mpa: float) -> str:
    if abs(shown_mpa - should_mpa) <= push.off_mpa:
        return "fits"
    return "low" if shown_mpa < should_mpa else "high"


def changed_bore(push: ForceTruth, given: Given) -> Basis:
    """4.9: what a part with another bore would do."""
    offer = push.offer
    larger = offer.new_mm > offer.old_mm
    areas = (
        f"The bore goes from {mm(offer.old_mm)} to {mm(offer.new_mm)}, so the area goes from "
        f"{both(piston_area_mm2(offer.old_mm), 'mm²')} to {both(piston_area_mm2(offer.new_mm), 'mm²')}. "
    )
    line = [both(one, "MPa") for one in offer.line_mpa]
    if offer.part == "master":
        right, wrong_way = ("less-short", "more-long") if larger else ("more-long", "less-short")
        travel = [mm(one, 0) for one in offer.travel_mm]
        how = (
            f"{areas}The push stays, so the pressure goes from {line[0]} to {line[1]}, and the travel of the "
            f"pedal from {travel[0]} to {travel[1]}."
        )
        others = [("where_pressure_is_made", key) for key in _CALIPER_KEYS]
        return given.choice("4.9", (right,), [("bore_wrong_way", wrong_way), *others], how=how)
    word, wrong = ("more", "less") if larger else ("less", "more")
    other = "rear" if offer.part == "front" else "front"
    clamp = [both(one, "N") for one in offer.clamp_n]
    how = (
        f"{areas}The pressure is made at the master cylinder and stays {line[0]}. The clamp force of the "
        f"{offer.part} calipers goes from {clamp[0]} to {clamp[1]}."
    )
    pairs = [
        ("bore_wrong_way", f"{offer.part}-{wrong}"),
        ("axles_swapped", f"{other}-{word}"),
        ("where_pressure_is_made", "less-short"),
        ("where_pressure_is_made", "more-long"),
    ]
    return given.choice("4.9", (f"{offer.part}-{word}",), pairs, how=how)


_CALIPER_KEYS = ("front-more", "front-less", "rear-more", "rear-less")

KEY: dict[str, Answer] = {"4.1": pressure, "4.2": reading, "4.3": fits, "4.9": changed_bore}
