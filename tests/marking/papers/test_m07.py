"""Module 07: answers worked with numpy and scipy from the sealed readings, mistakes worked apart."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest
from brakecourse import published
from brakecourse.bench.pad_situations import SITUATIONS
from brakecourse.marking import SealedCase, judge
from brakecourse.marking.given import Given
from brakecourse.marking.paper import paper
from brakecourse.marking.papers.m07_pad_wear.draw import SHARES, draw
from brakecourse.marking.papers.m07_pad_wear.key import KEY
from brakecourse.marking.papers.m07_pad_wear.sheet import sheet
from brakecourse.marking.papers.m07_pad_wear.truth import PadTruth
from brakecourse.marking.seal import choices
from brakecourse.trade.pads import archard_wear_mm
from scipy import stats

from tests.marking.study import cases

MODULE = "07_pad_wear"
CASES = list(cases(MODULE, 14))
TRUTHS = {name: draw(1, "normal", name) for name in SHARES}
each_case = pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
each_situation = pytest.mark.parametrize("name", SHARES)


def truth_of(case: SealedCase) -> PadTruth:
    return PadTruth.model_validate(case.truth)


def expected(case: SealedCase, question: str) -> Any:
    asked = case.question(question)
    assert asked is not None
    return asked.expected


def text_of(question: str, key: str) -> str:
    return next(one.text for one in choices(MODULE) if (one.question, one.key) == (question, key))


def verdict(margin: float, u: float) -> str:
    """One-sided guard band after ISO 14253-1, z at 95 % from scipy."""
    band = stats.norm.ppf(0.95) * u
    return "within" if margin >= band else "outside" if margin <= -band else "too close to call"


def by_hand(pads: PadTruth) -> dict[str, Any]:
    """Everything from an array: pad, end (leading, trailing), edge (outer, inner)."""
    corners = np.round([one.indication for one in pads.reads], 1).reshape(2, 2, 2)
    limits, means = pads.limits, corners.mean(axis=(1, 2))
    length = np.abs(np.diff(corners, axis=1)).max(axis=(1, 2))
    height = np.abs(np.diff(corners, axis=2)).max(axis=(1, 2))
    least = corners.min()
    shape = [limits.max_pair_difference_mm - abs(means[0] - means[1])]
    shape += [limits.max_taper_mm - one for one in (*length, *height)]
    shape += [limits.max_step_mm - one for one in pads.step_mm]
    worn = pads.lining_new_mm - least
    return {
        "corners": corners,
        "smallest": least,
        "tapers": [length[0], height[0], length[1], height[1]],
        "difference": abs(means[0] - means[1]),
        "lining": verdict(round(least - limits.minimum_mm, 6), limits.thickness_u_mm),
        "shape": {verdict(round(one, 6), limits.difference_u_mm) for one in shape},
        "km": max(0.0, (least - limits.minimum_mm) / worn * pads.km),
    }


@each_case
def test_the_answers_are_those_worked_by_hand(case: SealedCase) -> None:
    hand = by_hand(truth_of(case))
    assert expected(case, "7.1") == pytest.approx(tuple(hand["corners"].ravel()))
    assert expected(case, "7.2") == pytest.approx(hand["smallest"])
    assert expected(case, "7.3") == pytest.approx(hand["tapers"])
    assert expected(case, "7.4") == pytest.approx(hand["difference"])
    assert expected(case, "7.5") == hand["lining"]
    assert expected(case, "7.8") == pytest.approx(hand["km"])


@each_situation
def test_the_decisions_follow_the_lessons_order(name: str) -> None:
    """Minimum first, then a proven pattern, then doubt (common practice, no source)."""
    pads, hand = TRUTHS[name], by_hand(TRUTHS[name])
    if hand["lining"] != "within":
        key = "axle-outside" if hand["lining"] == "outside" else "axle-unproven"
    elif "outside" in hand["shape"]:
        key = "cause-pattern"
    else:
        key = "again-shape" if "too close to call" in hand["shape"] else "keep-all"
    given = Given(pads, KEY, choices(MODULE))
    assert given.words("7.9") == text_of("7.9", key)
    assert given.words("7.6") == SITUATIONS[name].pattern
    assert given.words("7.7") == SITUATIONS[name].cause


@each_case
def test_the_mistakes_have_the_values_that_somebody_would_get(case: SealedCase) -> None:
    pads, hand = truth_of(case), by_hand(truth_of(case))
    corners, least, new = hand["corners"], hand["smallest"], pads.lining_new_mm
    thin = corners[int(np.argmin(corners.min(axis=(1, 2))))]
    rate = (new - least) / pads.km
    wanted = {
        "7.2": {
            "best_corner": {corners.max(), thin.max()},
            "mean_of_corners": {thin.mean(), corners.mean()},
            "backing_plate_included": {least + 5.5},
        },
        "7.4": {
            "not_divided_by_four": {4 * hand["difference"]},
            "one_mean_only": set(corners.mean(axis=(1, 2))),
            "added_not_subtracted": {corners.mean(axis=(1, 2)).sum()},
        },
        "7.8": {
            "down_to_the_plate": {least / rate},
            "distance_gone": {pads.km},
            "whole_life": {hand["km"] + pads.km},
            "backing_plate_included": {(least + 5.5 - pads.limits.minimum_mm) / rate},
        },
    }
    for question, names in wanted.items():
        asked = case.question(question)
        assert asked is not None
        for one in asked.mistakes:
            if one.mistake in names:
                assert min(abs(float(one.value) - value) for value in names[one.mistake]) < 1e-6
    tapers = case.question("7.3")
    assert tapers is not None
    lengthwise = np.abs(np.diff(corners[0], axis=0)).ravel()
    smaller = [one.value for one in tapers.mistakes if (one.mistake, one.place) == ("smaller_difference", 1)]
    assert all(one == pytest.approx(lengthwise.min()) for one in smaller)


@each_situation
def test_no_decision_turns_when_a_reading_moves_by_its_standard_uncertainty(name: str) -> None:
    """Each of the eight readings, either way."""
    pads, right = TRUTHS[name], by_hand(TRUTHS[name])
    for place in range(8):
        for way in (-1, 1):
            reads = list(pads.reads)
            moved = reads[place].reading + way * reads[place].u
            corners = np.array([one.reading for one in reads])
            corners[place] = moved
            least = corners.min() - pads.limits.minimum_mm
            assert verdict(least, pads.limits.thickness_u_mm) == right["lining"]
            values = {"7.1": list(map(float, corners))}
            own = Given(pads, KEY, choices(MODULE), values)
            assert own.words("7.6") == SITUATIONS[name].pattern


def test_the_minimum_is_never_below_the_published_last_limit() -> None:
    """49 CFR 393.47(d) and 570.59(c): the least lining of vehicles in use. The maker's limit comes first."""
    row = published.value("cmv_hydraulic_lining_min")
    least = published.convert(row.value, row.unit, "mm")
    assert least == pytest.approx(1.6, abs=0.02)
    assert all(pads.limits.minimum_mm > least for pads in TRUTHS.values())


@each_case
def test_the_distance_left_is_archards(case: SealedCase) -> None:
    """Archard's law: the constant of the wear so far uses up the rest in the expected distance."""
    pads, least = truth_of(case), float(expected(case, "7.2"))
    one = archard_wear_mm(1e-6, 3000, 1000 * pads.km, 200, 5000)
    constant = 1e-6 * (pads.lining_new_mm - least) / one
    more = archard_wear_mm(constant, 3000, 1000 * float(expected(case, "7.8")) + 1e-9, 200, 5000)
    assert more == pytest.approx(max(0.0, least - pads.limits.minimum_mm), abs=1e-6)


@each_case
def test_a_plate_counted_at_every_corner_is_named_once_and_carried_on(case: SealedCase) -> None:
    plate = [round(value + 5.5, 1) for value in expected(case, "7.1")]
    mark = judge(case, "7.1", plate, {})
    assert (mark.points, mark.mistake) == (0, "backing_plate_included")
    own = {"7.1": plate, "7.2": min(plate), "7.3": list(expected(case, "7.3"))}
    assert judge(case, "7.2", min(plate), own).carried_forward
    assert judge(case, "7.3", own["7.3"], own).points == 4
    assert judge(case, "7.4", round(expected(case, "7.4"), 2), own).points == 3
    assert judge(case, "7.5", "within", own).points == 3


@each_case
def test_named_mistakes_are_told(case: SealedCase) -> None:
    mark = judge(case, "7.9", text_of("7.9", "one-wheel"), {})
    assert (mark.points, mark.mistake) == (0, "one_side_only")
    mark = judge(case, "7.7", text_of("7.7", "uneven"), {})
    assert (mark.points, mark.mistake) == (0, "symptom_for_cause")
    mark = judge(case, "7.2", max(expected(case, "7.1")), {})
    assert (mark.points, mark.mistake) == (0, "best_corner")


def test_what_cannot_be_a_lining_stops_nothing() -> None:
    for case in CASES:
        for own in (-3.0, 0.0, truth_of(case).lining_new_mm, 25.0):
            judge(case, "7.8", 0, {"7.1": [own] * 8, "7.2": own})


@pytest.mark.parametrize("name", ["dry pins", "ridge", "close to the minimum"])
def test_the_drawings_can_be_read_and_tell_no_reading(name: str) -> None:
    pads = TRUTHS[name]
    shown = sheet(pads)
    assert len(shown.shown["7.1"]) == 8 and set(shown.labels["7.1"]) == {
        shown.drawings[one].caption for one in shown.shown["7.1"]
    }
    assert sum(len(one.svg) for one in shown.drawings.values()) < 200_000
    for key, one in shown.drawings.items():
        assert f'id="{key}-title"' in one.svg and "<desc" in one.svg
        seen = re.sub(r"<[^>]*>", " ", one.svg)
        numbers = set(re.findall(r"(?<![\d.])\d+\.\d+", seen)) - {"0.1"}
        assert not numbers, (key, numbers)


def test_every_situation_is_drawn_as_it_is_asked() -> None:
    assert {name: pads.situation for name, pads in TRUTHS.items()} == {name: name for name in SHARES}
    assert sum(SHARES.values()) == pytest.approx(1)
    assert paper(MODULE).shares == SHARES
