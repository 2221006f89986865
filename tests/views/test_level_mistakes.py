"""Each named mistake about levels, areas and volumes is worked out again here, by another way.

Source of the formulas: geometry of circle and cylinder; which piston follows which pad: common practice,
no source.
"""

from __future__ import annotations

import math

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.level_cases import draw_level_case, level_case
from brakecourse.trade.fluid import CaliperTravel, WheelWear
from brakecourse.views import level_mistakes as slips

AREA_54 = 2290.22  # mm², a circle of 54 mm across


def near(found: float, expected: float) -> bool:
    return found == pytest.approx(expected, rel=1e-4)


def test_slips_with_the_area_of_a_piston() -> None:
    found = slips.area_mistakes(54.0)
    assert near(found[slips.RADIUS], 4 * AREA_54)
    assert near(found[slips.SQUARE], 54 * 54)
    assert near(found[slips.ROUND], math.pi * 54)


def test_slips_with_one_floating_caliper() -> None:
    found = slips.volume_mistakes(WheelWear(54.0, 2, 6.0, 0.4))
    whole = 2 * AREA_54 * 12.4 / 1000
    assert near(found[slips.RADIUS], 4 * whole)
    assert near(found[slips.ONE_PAD], 2 * AREA_54 * 6.4 / 1000)
    assert near(found[slips.ONE_PAD_ALONE], 2 * AREA_54 * 6.0 / 1000)
    assert near(found[slips.PISTONS], whole / 2)
    assert near(found[slips.NO_ROTOR], 2 * AREA_54 * 12.0 / 1000)
    assert near(found[slips.CUBIC_MM], 1000 * whole)
    assert slips.BOTH_IN_FIXED not in found


def test_slips_with_one_fixed_caliper() -> None:
    found = slips.volume_mistakes(WheelWear(54.0, 4, 6.0, 0.4, "fixed"))
    assert near(found[slips.BOTH_IN_FIXED], 4 * AREA_54 * 12.4 / 1000)
    assert slips.ONE_PAD not in found


def test_slips_with_a_calipers_whole_travel() -> None:
    travel = CaliperTravel(54.0, 1, 11.0, 2.0, rotor_wear_mm=2.0, clearance_mm=0.3)
    found = slips.volume_mistakes(travel)
    assert near(found[slips.TO_BARE], AREA_54 * (2 * 11.3 + 2) / 1000)
    assert near(found[slips.NO_CLEARANCE], AREA_54 * (2 * 9.0 + 2) / 1000)
    assert near(found[slips.ONE_PAD], AREA_54 * (9.3 + 2) / 1000)


def test_slips_with_all_four_wheels() -> None:
    front, rear = WheelWear(54.0, 1, 6.0, 0.4), WheelWear(54.0, 1, 3.0, 0.2)
    one, other = AREA_54 * 12.4 / 1000, AREA_54 * 6.2 / 1000
    found = slips.total_mistakes([front, rear])
    assert near(found[slips.ONE_WHEEL], one + other)
    assert near(found[slips.FRONT_ONLY], 2 * one)
    assert near(found[slips.ONE_FRONT_WHEEL], one)
    assert near(found[slips.RADIUS], 8 * (one + other))
    assert near(found[slips.ONE_PAD], 2 * AREA_54 * (6.4 + 3.2) / 1000)
    assert slips.TO_BARE not in found and slips.PISTONS not in found  # nothing to forget here


def test_slips_with_the_pistons_way() -> None:
    pool = motor_pool()
    floating = slips.travel_mistakes(pool["minibus"].front, 6.0, 0.4)
    assert floating[slips.ONE_PAD_ALONE] == 6.0 and floating[slips.ONE_PAD] == 6.4
    assert floating[slips.HALF] == 6.2 and floating[slips.NO_ROTOR] == 12.0
    fixed = slips.travel_mistakes(pool["night_patrol_saloon"].front, 6.0, 0.4)
    assert fixed[slips.BOTH_IN_FIXED] == 12.4 and fixed[slips.NO_ROTOR] == 6.0


def test_slips_with_the_reservoir() -> None:
    case = level_case(70, "meals_delivery_van", "suspect a leak")  # 18 mm, MIN 9, MAX 36, 5000 mm²
    level = slips.level_mistakes(case)
    assert level[slips.FROM_MIN] == 9.0 and level[slips.FROM_MAX] == 18.0 and level[slips.ASIDE] == 21.0
    missing = slips.missing_mistakes(case)
    assert missing[slips.CUBIC_MM] == 90_000 and missing[slips.LEFT_OVER] == 90.0
    assert missing[slips.ABOVE_MIN] == 45.0 and missing[slips.ONLY_MM] == 18.0
    assert missing[slips.LINE_LOW] == 95.0 and missing[slips.LINE_HIGH] == 85.0


def test_a_slip_that_nobody_could_tell_from_the_right_value_is_left_out() -> None:
    assert slips.tidy({"a": 10.05, "b": 12.0}, 10.0, 0.1) == {"b": 12.0}
    for seed in range(40):
        case = draw_level_case(Draw(seed))
        for one in case.wheels:
            if one.pad_wear_mm:
                volume = one.wear.volume_ml
                wrong = slips.volume_mistakes(one.wear).values()
                assert all(abs(value - volume) > 0.012 * volume for value in wrong)


def test_every_sentence_says_what_went_wrong_in_plain_words() -> None:
    sentences = [value for name, value in vars(slips).items() if name.isupper() and name != "LESSON"]
    assert len(sentences) >= 18 and len(set(sentences)) == len(sentences)
    for sentence in sentences:
        assert sentence.endswith(".") and len(sentence) < 190
        assert all(len(part.split()) <= 24 for part in sentence.split(". "))
