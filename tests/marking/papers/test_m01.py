"""Module 01: loads by the law of the lever, orders by a reference of their own, and the published rules."""

from __future__ import annotations

from hashlib import sha256
from itertools import pairwise
from typing import Any

import pint
import pytest
from brakecourse.marking import SealedCase, draw_sealed_case, judge
from brakecourse.marking.basis import ARROW
from brakecourse.marking.given import Given
from brakecourse.marking.paper import paper
from brakecourse.marking.papers.job_steps import MISTAKES, in_order, words
from brakecourse.marking.papers.m01_job_order.bay import PLACES
from brakecourse.marking.papers.m01_job_order.sheet import sheet
from brakecourse.marking.papers.m01_job_order.truth import NONE_WILL_DO, OrderTruth
from brakecourse.published import value
from brakecourse.views.hazards import SPOTS

from tests.marking.study import cases
from tests.units import pints_units

MODULE = "01_job_order"
PAPER = paper(MODULE)
CASES = list(cases(MODULE, 12))
each_case = pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
U: pint.UnitRegistry[Any] = pints_units()


def truth_of(case: SealedCase) -> OrderTruth:
    return OrderTruth.model_validate(case.truth)


def expected(case: SealedCase, question: str) -> Any:
    asked = case.question(question)
    assert asked is not None
    return asked.expected


def by_hand(truth: OrderTruth) -> tuple[float, float, float]:
    """Axle, stand and rating in kg: moments about the wheels that stay down, in metres."""
    base, back = truth.wheelbase_mm / 1000, truth.gravity_mm / 1000
    arm = base - back if truth.axle == "front" else back
    axle = truth.mass_kg * arm / base
    return axle, axle / 2, 1.5 * axle / 2


def right(case: SealedCase) -> dict[str, object]:
    axle, stand, rating = by_hand(truth_of(case))
    return {"1.1": round(axle), "1.2": round(stand), "1.3": round(rating)}


# --- stands ----------------------------------------------------------------------------------------


@each_case
def test_loads_and_rating_are_those_of_the_lever(case: SealedCase) -> None:
    for question, worked in zip(("1.1", "1.2", "1.3"), by_hand(truth_of(case)), strict=True):
        assert expected(case, question) == pytest.approx(worked, rel=1e-9)
        assert judge(case, question, round(worked), right(case)).status == "right"


@each_case
def test_a_share_rounded_to_three_places_is_still_right(case: SealedCase) -> None:
    truth = truth_of(case)
    share = round((truth.wheelbase_mm - truth.gravity_mm) / truth.wheelbase_mm, 3)
    front = truth.mass_kg * share
    axle = round(front if truth.axle == "front" else truth.mass_kg - front)
    assert judge(case, "1.1", axle, {}).status == "right"


@each_case
def test_the_set_is_the_one_that_a_second_reckoning_finds(case: SealedCase) -> None:
    truth = truth_of(case)
    _, _, rating = by_hand(truth)
    good = []
    for letter, one in zip("ABCDE", truth.sets, strict=True):
        kg = one.mark if one.unit == "kg" else (one.mark * U.kN / U.standard_gravity).to("kg").magnitude
        if one.kind in ("each", "pair") and kg / {"each": 1, "pair": 2}[one.kind] >= rating:
            good.append(f"set {letter}")
    assert (good or ["none of the five"]) == [expected(case, "1.4")]
    assert (not good) == (case.truth["situation"] == NONE_WILL_DO)


@each_case
def test_no_rounding_changes_which_set_to_take(case: SealedCase) -> None:
    asked = case.question("1.3")
    assert asked is not None and isinstance(asked.tolerance, float) and isinstance(asked.expected, float)
    for off in (-asked.tolerance, asked.tolerance):
        own = {**right(case), "1.3": asked.expected + off}
        assert Given(truth_of(case), PAPER.key, case.choices, own).basis("1.4").expected == expected(
            case, "1.4"
        )


@each_case
def test_mistakes_on_the_stands_are_named_and_carried_on(case: SealedCase) -> None:
    truth = truth_of(case)
    axle, stand, rating = by_hand(truth)
    newtons = (rating * U.kg * U.standard_gravity).to("N").magnitude
    named: tuple[tuple[str, float, str], ...] = (
        ("1.1", truth.mass_kg - axle, "other_axle"),
        ("1.1", truth.mass_kg / 2, "half_of_the_mass"),
        ("1.1", stand, "halved_too_soon"),
        ("1.1", truth.mass_kg, "whole_mass"),
        ("1.1", (axle * U.kg).to("lb").magnitude, "pounds_for_kilograms"),
        ("1.2", axle, "axle_not_halved"),
        ("1.2", truth.mass_kg / 4, "half_of_the_mass"),
        ("1.3", stand, "margin_left_out"),
        ("1.3", stand / 1.5, "margin_divided"),
        ("1.3", 1.5 * axle, "axle_not_halved"),
        ("1.3", newtons, "newtons_for_kilograms"),
    )
    half = {"halved_too_soon", "pounds_for_kilograms"}
    for question, answer, name in named:
        mark = judge(case, question, round(answer), right(case))
        share = 0.5 if name in half else 0.25 if name == "newtons_for_kilograms" else 0.0
        assert (mark.mistake, mark.points) == (name, round(share * mark.out_of, 2)), (question, mark)
    own = {"1.1": round(truth.mass_kg / 2), "1.2": round(truth.mass_kg / 4)}
    mark = judge(case, "1.2", own["1.2"], own)
    assert (mark.status, mark.carried_forward) == ("right", True) and "1.1" in mark.words


@each_case
def test_each_wrong_set_shows_its_own_mistake(case: SealedCase) -> None:
    shows = {"pair": "mark_of_the_pair", "jack": "jack_as_stand", "bent": "damaged_stand"}
    for letter, one in zip("ABCDE", truth_of(case).sets, strict=True):
        mark = judge(case, "1.4", f"set {letter}", right(case))
        if mark.status != "right":
            assert (mark.points, mark.mistake) == (0, shows.get(one.kind, "stand_too_weak"))


# --- the bay next door -----------------------------------------------------------------------------

_STARTS = {
    "jack": "Set rated stands under",
    "blocks": "Lift it again",
    "none": "Chock the rear wheel",
    "hose": "Hang the caliper",
    "hot": "Keep hands off",
    "levered": "Put goggles on",
    "spilt": "Put on goggles and gloves, wipe",
    "heater": "Switch the heater off",
}


@each_case
def test_the_control_fits_what_the_picture_shows(case: SealedCase) -> None:
    """Read back from the words of the drawing, place by place."""
    truth = truth_of(case)
    drawing = sheet(truth).drawings["w1"].svg
    told = drawing[drawing.index("<desc") : drawing.index("</desc>")]
    fine = [SPOTS[place].seen.partition("{")[0] for place in PLACES]
    wrong = [number for number, words_ in enumerate(fine, 1) if f"Place {number}: {words_}" not in told]
    if truth.bay.bench == "hot":  # only the temperature tells it apart
        wrong.append(5)
    assert len(wrong) == 1 + (truth.bay.lifting != "fine") + (truth.bay.dust != "fine")
    for question, places in (("1.5", {1, 2}), ("1.6", {3})):
        assert str(expected(case, question)).startswith("Go on") == (not places & set(wrong))
    for question, state in (("1.5", truth.bay.lifting), ("1.7", truth.bay.bench)):
        assert str(expected(case, question)).startswith(_STARTS.get(state, "Go on"))


@each_case
def test_the_right_control_for_another_reason_earns_half(case: SealedCase) -> None:
    dust = expected(case, "1.6")
    texts = [one.text for one in case.choices if one.question == "1.6"]
    wet = [text for text in texts if text.startswith("Wet the dust")]
    for text in texts:
        mark = judge(case, "1.6", text, {})
        if text == dust:
            assert mark.points == mark.out_of
        else:
            assert mark.points == (mark.out_of / 2 if {text, dust} == set(wet) else 0) and mark.mistake


def test_the_dust_rules_are_the_published_ones() -> None:
    """Wet first, never dry: the compliance manual on 29 CFR 1910.1001 App. F (published/shop_safety)."""
    assert value("dust_spray_wet_first").value == 1 and value("dust_dry_brushing_prohibited").value == 1
    dry = {one.text for one in CASES[0].choices if one.mistake == "dust_moved_dry"}
    assert len(dry) == 4
    for case in CASES:
        for text in dry:
            mark = judge(case, "1.6", text, {})
            assert (mark.points, mark.mistake) == (0, "dust_moved_dry")
        steps = str(expected(case, "1.9")).split(ARROW)
        for later in ("caliper_off", "pads_out"):
            if words(later) in steps:
                assert steps.index(words("wet_dust")) < steps.index(words(later))


def test_nobody_works_under_a_jack_alone() -> None:
    """Washington WAC 296-307-22509 (3), as in published/shop_safety."""
    assert value("no_work_under_jack_only").value == 1
    for case in CASES:
        jack = next(x for x, one in zip("ABCDE", truth_of(case).sets, strict=True) if one.kind == "jack")
        assert judge(case, "1.4", f"set {jack}", right(case)).points == 0
        steps = str(expected(case, "1.9")).split(ARROW)
        early = [words("set_stands"), *(one for one in steps if one != words("set_stands"))]
        assert judge(case, "1.9", [*early[1:], early[0]], {}).mistake is not None


# --- the order of work -----------------------------------------------------------------------------

# Written down here once more, by hand: some step by step chains that no sound order may break.
CHAINS = (
    (
        "hear_complaint",
        "look_up_data",
        "lift_vehicle",
        "set_stands",
        "wheel_off",
        "look_for_leaks",
        "wet_dust",
    ),
    ("chock_wheels", "loosen_nuts", "lift_vehicle"),
    ("wet_dust", "open_bleeder", "push_piston", "close_bleeder", "caliper_on"),
    ("wet_dust", "caliper_off", "support_caliper", "pads_out", "bracket_off", "clean_bracket", "renew_clips"),
    ("bracket_off", "clean_rotor", "measure_thickness", "decide_rotor", "rotor_on", "bracket_on", "pads_in"),
    ("pads_in", "caliper_on", "torque_bolts", "wheel_on", "lower_vehicle", "torque_nuts", "first_move"),
    ("torque_bolts", "pump_pedal", "set_level", "first_move", "bed_in", "final_check", "sign_record"),
    ("check_fluid", "set_level"),
)


@each_case
def test_the_order_keeps_the_chains_written_by_hand(case: SealedCase) -> None:
    truth = truth_of(case)
    order = in_order(truth.steps)
    assert len(order) == 12 and expected(case, "1.9") == ARROW.join(map(words, order))
    for chain in CHAINS:
        kept = [step for step in chain if step in order]
        assert all(order.index(one) < order.index(two) for one, two in pairwise(kept))


@each_case
def test_the_deadly_slips_fail_the_order_and_are_named(case: SealedCase) -> None:
    good = str(expected(case, "1.9")).split(ARROW)
    for before, after in (
        ("loosen_nuts", "lift_vehicle"),
        ("open_bleeder", "push_piston"),
        ("pump_pedal", "first_move"),
    ):
        wrong = [step for step in good if step != words(after)]
        wrong.insert(wrong.index(words(before)), words(after))
        mark = judge(case, "1.9", wrong, {})
        assert (mark.points, mark.mistake) == (0, MISTAKES[before, after])
        assert "This order is dangerous" in mark.words


@each_case
def test_the_pairs_follow_the_chains_and_each_slip_is_named(case: SealedCase) -> None:
    pairs = truth_of(case).pairs
    row = [int(one) for one in expected(case, "1.8")]
    for pair, answer in zip(pairs, row, strict=True):
        for chain in CHAINS:
            if pair.first in chain and pair.second in chain:
                assert answer == (1 if chain.index(pair.first) < chain.index(pair.second) else 2)
    assert row.count(0) == 2
    for place, pair in enumerate(pairs):
        for other in {0, 1, 2} - {row[place]}:
            mark = judge(case, "1.8", [*row[:place], other, *row[place + 1 :]], {})
            assert mark.points == pytest.approx(5 / 6 * mark.out_of, abs=0.01)
            tied = (pair.first, pair.second) if row[place] == 1 else (pair.second, pair.first)
            turned = MISTAKES.get(tied, "turned_round")
            name = "rule_invented" if row[place] == 0 else "rule_not_seen" if other == 0 else turned
            assert mark.mistake == name


def test_every_situation_occurs_and_the_mistakes_that_must_show_do() -> None:
    assert {case.truth["situation"] for case in CASES} == set(PAPER.shares)
    for case in CASES:
        for question, names in PAPER.must_show.items():
            asked = case.question(question)
            assert asked is not None and set(names) <= {one.mistake for one in asked.mistakes}


def test_a_load_that_no_vehicle_may_carry_is_drawn_again() -> None:
    # Of a thousand students about one draws a truck loaded so far back that its rear wheels would lock first.
    secret = sha256(b"whole program").digest()
    truth = truth_of(draw_sealed_case(MODULE, "s00615", secret))
    axle, *_ = by_hand(truth)
    assert 0.35 * truth.mass_kg <= axle <= 0.65 * truth.mass_kg


def test_the_drawings_can_be_read_and_tell_no_load() -> None:
    for case in CASES[:4]:
        truth = truth_of(case)
        for drawn in sheet(truth).drawings.values():
            assert "<title" in drawn.svg and "<desc" in drawn.svg
            for number in by_hand(truth):
                assert f">{round(number)} kg" not in drawn.svg and f"{round(number)} kg" not in drawn.caption


def test_numbers_that_stand_for_words_have_no_tolerance_to_tell() -> None:
    mark = judge(CASES[0], "1.8", list(expected(CASES[0], "1.8")), {})
    assert (mark.status, mark.tolerance) == ("right", "no other value will do")
