"""Wheels whose hose, boots and bore are looked at: the evidence shows what is the matter, and only that."""

from __future__ import annotations

from collections import Counter

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.hose_cases import (
    ALIKE,
    GOOD_SKINS,
    HOLDS_NM,
    KINDS,
    SKINS,
    STICKS,
    HoseCase,
    Part,
    draw_hose_case,
)
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_faults import (
    CollapsedHose,
    HoseLeak,
    SeizedPiston,
    TornPinBoot,
    TornPistonBoot,
)

LEVELS: tuple[Difficulty, ...] = ("easy", "normal", "hard")


def cases(part: Part, level: Difficulty, many: int = 30) -> list[HoseCase]:
    return [draw_hose_case(part, level, Draw(seed)) for seed in range(many)]


@pytest.mark.parametrize("part", KINDS)
@pytest.mark.parametrize("level", LEVELS)
def test_every_kind_comes_up_and_its_evidence_shows(part: Part, level: Difficulty) -> None:
    found: Counter[object] = Counter()
    for case in cases(part, level):
        found[case.kind] += 1
        there, caliper = case.there, case.there.caliper
        assert case.hose_holds == (case.kind is CollapsedHose)
        assert caliper.piston_boot_torn == (case.kind is TornPistonBoot)
        assert caliper.pin_boot_torn == (case.kind is TornPinBoot)
        assert ("hose" in there.wet_places) == (case.kind is HoseLeak)
        if case.kind is SeizedPiston:
            assert case.push_ratio >= STICKS and case.piston_sticks
        elif case.kind is not TornPistonBoot and case.kind is not CollapsedHose:
            assert case.push_ratio <= ALIKE
    assert set(found) == set(KINDS[part])


def test_a_collapsed_hose_lets_go_at_the_bleeder_and_not_above_itself() -> None:
    held = [case for case in cases("hose", "normal", 40) if case.kind is CollapsedHose]
    assert held
    for case in held:
        drag = case.there.drag
        assert drag.torque_nm - drag.bleeder_opened_nm >= HOLDS_NM > drag.torque_nm - drag.fitting_opened_nm
        assert not case.hose_may_stay and case.skin in GOOD_SKINS


def test_a_hose_stays_only_dry_free_and_with_its_cords_covered() -> None:
    seen = set()
    for level in LEVELS:
        for case in cases("hose", level, 60):
            fine = case.kind is None and case.skin in GOOD_SKINS
            assert case.hose_may_stay == fine
            seen.add((case.skin, fine))
    assert {skin for skin, _ in seen} == set(SKINS)
    assert {skin for skin, fine in seen if fine} == set(GOOD_SKINS)


def test_the_partner_is_the_axles_other_wheel() -> None:
    for case in cases("bore", "normal", 12):
        assert case.partner.wheel.split()[0] == case.wheel.split()[0]
        assert case.partner.wheel != case.wheel


def test_the_same_draw_gives_the_same_wheel() -> None:
    assert draw_hose_case("boots", "hard", Draw(3)) == draw_hose_case("boots", "hard", Draw(3))


def test_a_part_that_is_not_there_is_refused_in_a_sentence() -> None:
    with pytest.raises(ValueError, match="part must be one of hose, boots, bore"):
        draw_hose_case("wheel", "easy", Draw(1))  # type: ignore[arg-type]
