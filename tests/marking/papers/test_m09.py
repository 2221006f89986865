"""Module 09: answers worked by hand from the sealed values, mistakes worked apart, a published volume."""

from __future__ import annotations

import itertools
import math
import re
from typing import Any

import pytest
from brakecourse import published
from brakecourse.bench.bracket_cases import TIGHT_SHARE
from brakecourse.marking import SealedCase, judge
from brakecourse.marking.given import Given
from brakecourse.marking.paper import paper
from brakecourse.marking.papers.m09_bracket_and_pins.draw import PART, SHARES, draw
from brakecourse.marking.papers.m09_bracket_and_pins.key import KEY
from brakecourse.marking.papers.m09_bracket_and_pins.sheet import sheet
from brakecourse.marking.papers.m09_bracket_and_pins.truth import FAULT_OF, Bore, BracketTruth
from brakecourse.marking.seal import choices
from brakecourse.trade.job_order import sub_job

from tests.marking.study import cases

MODULE = "09_bracket_and_pins"
CASES = list(cases(MODULE, 16))
TRUTHS = {name: draw(2, "normal", name) for name in SHARES}
# What each part needs, as the lesson's part 4 has it, and what each order spoils: common practice, no source.
REMEDY = {
    "dry": "film",
    "seized": "free-pin",
    "packed": "wash-out",
    "swapped": "own-bores",
    "rust": "bare-metal",
    "piston": "piston",
    "pin-boot": "pin-boot",
    "piston-boot": "piston-boot",
    "sound": "service",
}
STEP_MISTAKES = {
    ("support_caliper", "pads_out"): "caliper_on_the_hose",
    ("pads_out", "bracket_off"): "places_not_noted",
    ("measure_pads", "clean_bracket"): "signs_cleaned_away",
    ("measure_pads", "clean_pins"): "signs_cleaned_away",
    ("clean_bracket", "renew_clips"): "clips_over_rust",
    ("renew_clips", "pads_in"): "fitted_too_early",
    ("clean_pins", "pins_back"): "grease_over_rust",
    ("pins_back", "caliper_on"): "fitted_too_early",
    ("pads_in", "caliper_on"): "fitted_too_early",
}
WORDS = {step.id: step.words for step in sub_job(PART).operations}
each_case = pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
each_situation = pytest.mark.parametrize("name", SHARES)


def truth_of(case: SealedCase) -> BracketTruth:
    return BracketTruth.model_validate(case.truth)


def expected(case: SealedCase, question: str) -> Any:
    asked = case.question(question)
    assert asked is not None
    return asked.expected


def values(case: SealedCase, question: str, mistake: str) -> list[float]:
    asked = case.question(question)
    assert asked is not None
    return [float(one.value) for one in asked.mistakes if one.mistake == mistake]


def text_of(question: str, key: str) -> str:
    return next(one.text for one in choices(MODULE) if (one.question, one.key) == (question, key))


def circle_cm2(diameter_mm: float) -> float:
    return math.pi * (diameter_mm / 20) ** 2


def room_ml(bore: Bore) -> float:
    """In centimetres, with radii: cubic centimetres are millilitres."""
    return circle_cm2(bore.bore_mm) * bore.depth_mm / 10 - circle_cm2(bore.pin_mm) * bore.seated_mm / 10


def nearest(read: Any) -> float:
    return float(round(read.indication / read.division) * read.division)


@each_case
def test_the_answers_are_those_worked_by_hand(case: SealedCase) -> None:
    wheel = truth_of(case)
    pulls = [nearest(one) for one in wheel.pulls]
    piston_cm2 = wheel.pistons * circle_cm2(wheel.piston_mm)
    assert wheel.clamp_n == pytest.approx(100 * wheel.pressure_mpa * piston_cm2, abs=0.5)
    outer, room = wheel.clamp_n - sum(pulls), room_ml(wheel.bore)
    assert expected(case, "9.1") == pytest.approx(tuple(pulls))
    assert expected(case, "9.2") == pytest.approx(outer)
    assert expected(case, "9.3") == pytest.approx(wheel.clamp_n / outer)
    assert expected(case, "9.4") == pytest.approx(room)
    assert expected(case, "9.5") == pytest.approx(room / 2)
    assert expected(case, "9.6") == pytest.approx(
        10 * (wheel.pressed_in_ml - room) / circle_cm2(wheel.bore.pin_mm)
    )
    assert 1.9 < expected(case, "9.6") < 6.2 and wheel.pressed_in_ml > room
    assert expected(case, "9.7") == FAULT_OF[wheel.situation]


@each_case
def test_the_mistakes_have_the_values_that_somebody_would_get(case: SealedCase) -> None:
    wheel, bore = truth_of(case), truth_of(case).bore
    lead, trail = (nearest(one) for one in wheel.pulls)
    room, wide, thin = room_ml(bore), circle_cm2(bore.bore_mm), circle_cm2(bore.pin_mm)
    over = wheel.pressed_in_ml - room
    assert values(case, "9.2", "drag_added") == [wheel.clamp_n + lead + trail]
    assert set(values(case, "9.2", "one_pin_only")) <= {wheel.clamp_n - lead, wheel.clamp_n - trail}
    assert values(case, "9.2", "inner_for_outer") == [wheel.clamp_n]
    upside = values(case, "9.3", "ratio_upside_down")
    assert all(one == pytest.approx((wheel.clamp_n - lead - trail) / wheel.clamp_n) for one in upside)
    assert values(case, "9.4", "whole_bore") == pytest.approx([wide * bore.depth_mm / 10])
    radius = 4 * (wide * bore.depth_mm - thin * bore.seated_mm) / 10
    assert values(case, "9.4", "bore_as_radius") == pytest.approx([radius])
    assert values(case, "9.4", "ring_only") == pytest.approx([(wide - thin) * bore.seated_mm / 10])
    assert values(case, "9.5", "packed_full") == pytest.approx([room])
    assert values(case, "9.6", "all_the_grease") == pytest.approx([10 * wheel.pressed_in_ml / thin])
    assert values(case, "9.6", "from_the_limit") == pytest.approx([10 * (over + room / 2) / thin])


def test_the_free_volume_is_the_wine_gallons() -> None:
    """25 and 24 inches across, 6 inches long: the old wine gallon's cubic inches (published table)."""
    row = published.value("wine_gallon_cylinder")
    inches = Bore(bore_mm=25, depth_mm=6, pin_mm=24, seated_mm=6)
    wheel = TRUTHS["sound"].model_copy(update={"bore": inches})
    found = Given(wheel, KEY, choices(MODULE)).number("9.4")
    assert 1000 * found == pytest.approx(row.value, rel=2e-3)


@each_situation
def test_the_part_is_told_by_what_is_shown(name: str) -> None:
    """Worked apart, from the facts and the picture; each reading may move by its standard uncertainty."""
    wheel = TRUTHS[name]
    for ways in itertools.product((-1, 0, 1), repeat=2):
        pulls = [one.reading + way * one.u for one, way in zip(wheel.pulls, ways, strict=True)]
        tight = [one >= TIGHT_SHARE * wheel.clamp_n for one in pulls]
        found = "sound"
        if wheel.pins[0].flat:
            found = "swapped"
        elif any(wheel.here.gap_mm):
            found = "packed"
        elif any(pin.boot_torn for pin in wheel.pins):
            found = "pin-boot"
        elif wheel.piston_boot_torn:
            found = "piston-boot"
        elif any(tight):
            found = "dry" if all(tight) else "seized"
        elif max(wheel.here.grip_n) > 2 * max(wheel.other.grip_n) - 10:
            found = "rust" if max(wheel.here.rust_mm) >= 0.2 else found
        if found == "sound" and wheel.here.push_back_n > 1.9 * wheel.other.push_back_n:
            found = "piston"
        assert found == name
    assert Given(wheel, KEY, choices(MODULE)).words("9.8") == text_of("9.8", REMEDY[name])


@each_case
def test_a_wrong_part_carries_its_remedy_but_a_harmful_one_earns_nothing(case: SealedCase) -> None:
    other = "dry" if truth_of(case).situation != "dry" else "rust"
    own = {"9.7": text_of("9.7", other)}
    mark = judge(case, "9.8", text_of("9.8", REMEDY[other]), own)
    assert (mark.points, mark.carried_forward) == (4, True)
    for key, name in (
        ("pack", "packed_full"),
        ("over-rust", "clips_over_rust"),
        ("petroleum", "petroleum_grease"),
    ):
        mark = judge(case, "9.8", text_of("9.8", key), {"9.7": expected(case, "9.7")})
        assert (mark.points, mark.mistake) == (0, name)


@each_case
def test_own_forces_and_volumes_are_carried_on(case: SealedCase) -> None:
    wheel = truth_of(case)
    own: dict[str, Any] = {"9.1": list(expected(case, "9.1"))}
    slip = wheel.clamp_n + sum(own["9.1"])
    assert judge(case, "9.2", slip, own).mistake == "drag_added"
    own["9.2"] = slip
    mark = judge(case, "9.3", round(wheel.clamp_n / slip, 2), own)
    assert mark.points == 3
    full = round(expected(case, "9.4"), 2)
    assert judge(case, "9.5", full, {"9.4": full}).mistake == "packed_full"
    assert judge(case, "9.5", round(full / 2, 3), {"9.4": full}).points == 3
    whole = round(values(case, "9.4", "whole_bore")[0], 2)
    assert judge(case, "9.4", whole, {}).mistake == "whole_bore"
    assert judge(case, "9.5", round(whole / 2, 2), {"9.4": whole}).carried_forward


@pytest.mark.parametrize("pair", STEP_MISTAKES, ids="-".join)
def test_each_broken_rule_is_named(pair: tuple[str, str]) -> None:
    """The later step moved to just before the one that must come first."""
    case, (before, after) = CASES[0], pair
    steps = expected(case, "9.9").split(" → ")
    steps.remove(WORDS[after])
    steps.insert(steps.index(WORDS[before]), WORDS[after])
    mark = judge(case, "9.9", steps, {})
    assert mark.mistake == STEP_MISTAKES[pair]
    critical = pair == ("support_caliper", "pads_out")
    assert (mark.points == 0) == critical and mark.points < 6


def test_pins_and_bracket_may_be_cleaned_in_either_order() -> None:
    steps = [
        *("support_caliper", "pads_out", "measure_pads", "clean_pins", "pins_back", "bracket_off"),
        *("clean_bracket", "renew_clips", "pads_in", "caliper_on"),
    ]
    assert judge(CASES[0], "9.9", [WORDS[step] for step in steps], {}).points == 6


def test_junk_in_an_earlier_answer_stops_nothing() -> None:
    for case in CASES[:4]:
        for own in (0, -50, 1e9, None, "much"):
            judge(case, "9.3", 1.0, {"9.1": [own, own], "9.2": own})
            judge(case, "9.6", 1.0, {"9.4": own})


@each_situation
def test_the_drawings_can_be_read_and_tell_no_reading(name: str) -> None:
    wheel = TRUTHS[name]
    shown = sheet(wheel)
    assert shown.shown == {"9.1": ["p1", "p2"], "9.7": ["parts"]}
    assert sorted(shown.steps["9.9"]) == sorted(WORDS.values())
    for key, one in shown.drawings.items():
        assert f'id="{key}-title"' in one.svg and "<desc" in one.svg
    for key, read in zip(("p1", "p2"), wheel.pulls, strict=True):
        seen = re.sub(r"<[^>]*>", " ", shown.drawings[key].svg)
        scale = {f"{10 * line * read.division:g}" for line in range(11)}
        found = set(re.findall(r"(?<![\d.])\d+(?:\.\d+)?", seen))
        assert f"{read.reading:g}" not in found - scale and f"{read.indication:.1f}" not in found
    facts = " ".join(text for _, text in shown.facts)
    assert not any(f"{one:g} N" in facts.split(". ")[0] for one in wheel.pulls_n if one > 100)


def test_every_situation_is_drawn_as_it_is_asked() -> None:
    assert {name: wheel.situation for name, wheel in TRUTHS.items()} == {name: name for name in SHARES}
    assert sum(SHARES.values()) == pytest.approx(1)
    assert paper(MODULE).shares == SHARES
