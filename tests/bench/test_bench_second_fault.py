"""One more fault on a drawn vehicle: as if both had been drawn together, never a third or the same again."""

from __future__ import annotations

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.vehicle_cases import draw_vehicle, with_fault
from brakecourse.bench.vehicle_faults import DryPins, OldFluid, ThicknessVariation, WornPads


@pytest.mark.parametrize("seed", range(4))
def test_two_faults_of_one_draw_are_one_and_one_more(seed: int) -> None:
    both = draw_vehicle(seed, 2, kinds=(WornPads, OldFluid))
    alone = draw_vehicle(seed, 1, kinds=(WornPads,))
    old = next(one for one in both.faults if isinstance(one, OldFluid))
    worn = next(one for one in both.faults if isinstance(one, WornPads))
    # The places and severities of the two draws may differ, so the first fault is put on anew.
    made = with_fault(with_fault(draw_vehicle(seed, 0), worn, Draw(1)), old, Draw(1))
    assert (made.faults, made.condition) == (both.faults, both.condition)
    assert alone.sound_roots == both.sound_roots == made.sound_roots


def test_the_fluid_changes_and_the_rotor_stays() -> None:
    case = draw_vehicle(5, 1, kinds=(ThicknessVariation,))
    older = with_fault(case, OldFluid(0.9), Draw(2))
    assert older.condition.fluid.boiling_c < case.condition.fluid.boiling_c
    assert [one.rotor for one in older.condition.wheels] == [one.rotor for one in case.condition.wheels]
    assert case.faults != older.faults and len(case.faults) == 1


def test_a_third_fault_or_the_same_again_is_refused() -> None:
    case = draw_vehicle(5, 1, kinds=(ThicknessVariation,))
    with pytest.raises(ValueError, match="of a new kind, but it was thickness_variation"):
        with_fault(case, case.faults[0], Draw(1))
    two = with_fault(case, OldFluid(0.5), Draw(1))
    with pytest.raises(ValueError, match="fault must be the second one"):
        with_fault(two, DryPins(0.5), Draw(1))
