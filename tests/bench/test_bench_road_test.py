"""The rule of the road test: the worst sign decides. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest
from brakecourse.bench.road_test import LOOSE, RUBBING, Signs, worst_sign

SOUND = Signs((), (), False, False, (120, 125, 70, 72), 300, 60)


def test_each_sign_alone_leads_to_its_action() -> None:
    assert worst_sign(SOUND) == ("go on", "none")
    assert worst_sign(replace(SOUND, noises=("squeal when braking",))) == ("go on", "squeal")
    assert worst_sign(replace(SOUND, rotors_c=(310, 315, 80, 80))) == ("cool", "both hot")
    assert worst_sign(replace(SOUND, noises=(RUBBING[0],))) == ("back", "rubbing")
    assert worst_sign(replace(SOUND, rotors_c=(120, 190, 80, 80))) == ("back", "one hotter")
    assert worst_sign(replace(SOUND, pulses=True)) == ("back", "pulse")
    assert worst_sign(replace(SOUND, pulls=True)) == ("back", "pull")
    assert worst_sign(replace(SOUND, rotors_c=(240, 330, 80, 80))) == ("stop", "smoke")
    assert worst_sign(replace(SOUND, noises=(LOOSE[1],))) == ("stop", "loose")
    assert worst_sign(replace(SOUND, pedal=("low",))) == ("stop", "pedal")


def test_of_several_signs_the_worst_decides() -> None:
    all_of_it = replace(
        SOUND, pedal=("sinks",), noises=("squeal when braking", LOOSE[0]), pulls=True, pulses=True
    )
    assert worst_sign(all_of_it) == ("stop", "pedal")
    assert worst_sign(replace(all_of_it, pedal=())) == ("stop", "loose")
    assert worst_sign(replace(all_of_it, pedal=(), noises=("squeal when braking",))) == ("back", "pull")


def test_smoke_and_haze_are_told_by_the_partner() -> None:
    one_side, both_sides = (
        replace(SOUND, rotors_c=(200, 80, 70, 310)),
        replace(SOUND, rotors_c=(320, 310, 70, 72)),
    )
    assert (one_side.smoking, one_side.hazy, one_side.much_hotter) == ((3,), (), 3)
    assert (both_sides.smoking, both_sides.hazy, both_sides.much_hotter) == ((), (0, 1), None)


@pytest.mark.parametrize("rotors", [(1, 2, 3), (1, 2, 3, 4, 5), (1, 2, 3, float("nan"))])
def test_there_are_four_temperatures(rotors: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match=r"rotor"):
        replace(SOUND, rotors_c=rotors)
