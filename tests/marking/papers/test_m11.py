"""Module 11: answers worked by hand from the sealed values, mistakes worked apart, and published numbers."""

from __future__ import annotations

import itertools
import math
import re
from typing import Any

import pint
import pytest
from brakecourse import published
from brakecourse.bench.draw import Draw
from brakecourse.marking import SealedCase, judge
from brakecourse.marking.basis import ARROW
from brakecourse.marking.given import Given
from brakecourse.marking.paper import paper
from brakecourse.marking.papers.m11_reassembly_and_torque.key_order import sound_orders
from brakecourse.marking.papers.m11_reassembly_and_torque.sheet import sheet
from brakecourse.marking.papers.m11_reassembly_and_torque.truth import TorqueTruth
from brakecourse.trade.fasteners import tightening_order
from scipy import stats

from tests.marking.study import cases
from tests.units import pints_units

MODULE = "11_reassembly_and_torque"
PAPER = paper(MODULE)
CASES = list(cases(MODULE, 14))
U: pint.UnitRegistry[Any] = pints_units()


def truth_of(case: SealedCase) -> TorqueTruth:
    return TorqueTruth.model_validate(case.truth)


def expected(case: SealedCase, question: str) -> Any:
    asked = case.question(question)
    assert asked is not None
    return asked.expected


def newton_metres(value: float, unit: str) -> float:
    return float((value * U(unit)).to(U.newton * U.metre).magnitude)


def by_hand(one: TorqueTruth) -> dict[str, Any]:
    """Every number, with nothing of the course's own."""
    bolt, wrench = one.bolt, one.wrench
    part = wrench.extension_mm * math.cos(wrench.angle_deg * math.pi / 180)
    lever = 1 + part / wrench.length_mm
    got = wrench.left.reading * lever
    return {
        "11.1": [
            newton_metres(one.old.nut_lbfft, "lbf*ft"),
            newton_metres(one.old.small_lbfin, "lbf*inch"),
        ],
        "11.3": bolt.torque_nm / lever,
        "11.6": bolt.torque_nm / (bolt.diameter_mm / 1000) / bolt.dry / 1000,
        "11.7": got / (bolt.diameter_mm / 1000) / bolt.oiled / (bolt.proof_kn * 1000) * 100,
        "lever": lever,
    }


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_the_numbers_are_those_worked_by_hand(case: SealedCase) -> None:
    hand = by_hand(truth_of(case))
    for question in ("11.1", "11.3", "11.6", "11.7"):
        assert expected(case, question) == pytest.approx(hand[question], rel=1e-9)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_the_wrench_stands_on_a_line_of_its_grip(case: SealedCase) -> None:
    wrench = truth_of(case).wrench
    lines = (wrench.left.indication - wrench.largest_nm / 5) / (wrench.largest_nm / 200)
    assert lines == pytest.approx(round(lines), abs=1e-6)
    assert expected(case, "11.2") == pytest.approx(wrench.left.indication)
    # The line of the grip is never 0: nobody can leave the grip out and be right.
    assert round(lines) % 10


# --- orders ----------------------------------------------------------------------------------------


def _sound(order: tuple[int, ...], studs: int) -> bool:
    """Each next nut as far across as any that is left, worked from the chords of the circle."""

    def chord(one: int, other: int) -> float:
        return round(abs(math.sin(math.pi * (one - other) / studs)), 9)

    return all(
        chord(order[place], order[place + 1]) == max(chord(order[place], left) for left in order[place + 1 :])
        for place in range(studs - 1)
    )


@pytest.mark.parametrize("studs", [4, 5, 6])
def test_the_sound_orders_are_all_that_go_across(studs: int) -> None:
    for first in range(1, studs + 1):
        every = {
            order
            for order in itertools.permutations(range(1, studs + 1))
            if order[0] == first and _sound(order, studs)
        }
        assert set(sound_orders(studs, first)) == every
    assert tightening_order(studs) in sound_orders(studs, 1)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_every_sound_order_is_right_and_round_the_circle_is_named(case: SealedCase) -> None:
    wheel = truth_of(case).wheel
    nuts = range(1, wheel.studs + 1)
    for order in itertools.permutations(nuts):
        if order[0] == wheel.first and _sound(order, wheel.studs):
            assert judge(case, "11.4", [f"nut {one}" for one in order], {}).points == 4
    for way in (1, -1):
        ring = [(wheel.first - 1 + way * one) % wheel.studs + 1 for one in range(wheel.studs)]
        mark = judge(case, "11.4", [f"nut {one}" for one in ring], {})
        assert (mark.points, mark.mistake) == (0, "round_the_circle")
    other = wheel.first % wheel.studs + 1
    star = next(one for one in itertools.permutations(nuts) if one[0] == other and _sound(one, wheel.studs))
    mark = judge(case, "11.4", [f"nut {one}" for one in star], {})
    assert (mark.points, mark.mistake) == (2, "another_nut_first")


def test_six_nuts_by_every_second_are_named() -> None:
    case = next(one for one in CASES if truth_of(one).wheel.studs == 6)
    first = truth_of(case).wheel.first
    order = [(first - 1 + one) % 6 + 1 for one in (0, 2, 4, 1, 3, 5)]
    assert judge(case, "11.4", [f"nut {one}" for one in order], {}).mistake == "every_second_nut"


def _swapped(case: SealedCase, early: str, late: str) -> Any:
    """Put the step whose words hold one text right before the one that holds the other."""
    steps = expected(case, "11.5").split(ARROW)
    moved = next(one for one in steps if early in one)
    steps.remove(moved)
    at = next(place for place, one in enumerate(steps) if late in one)
    return [*steps[:at], moved, *steps[at:]]


@pytest.mark.parametrize(
    ("early", "late", "points", "name"),
    [
        ("Torque the wheel nuts", "lower the vehicle", 0, "torqued_on_the_stands"),
        ("Move off", "Pump the pedal", 0, "moved_before_firm"),
        ("Move off", "Torque the wheel nuts", 0, "moved_on_loose_nuts"),
        ("Put the wheel on", "Torque the bracket bolts", 0, "wheel_hides_loose_bolts"),
        ("lower the vehicle", "Put the wheel on", 0, "lowered_without_wheel"),
        ("Fit new pads", "Mount the bracket", 3.75, None),
        ("Pump the pedal", "Torque the wheel nuts", 5, None),
        ("Pump the pedal", "Put the wheel on", 5, None),
    ],
)
def test_the_order_of_the_steps(early: str, late: str, points: float, name: str | None) -> None:
    """Common practice, no source: the pedal may be firmed as soon as the bolts have their torque."""
    mark = judge(CASES[0], "11.5", _swapped(CASES[0], early, late), {})
    assert (mark.points, mark.mistake) == (points, name)


# --- decisions -------------------------------------------------------------------------------------


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_the_tested_wrench_is_decided_as_by_hand_and_stays_so(case: SealedCase) -> None:
    one = truth_of(case).tested
    band = stats.norm.ppf(0.95) * one.u_nm
    words = {"in": "In tolerance", "out": "Out of tolerance", "close": "Too close to call"}

    def verdict(shown: float) -> str:
        inside = 0.04 * one.set_nm - abs(shown - one.set_nm)
        return "in" if inside > band else "out" if inside < -band else "close"

    for shown in (one.shown_nm, one.shown_nm - one.u_nm, one.shown_nm + one.u_nm):
        assert expected(case, "11.8").startswith(words[verdict(shown)])
    bare = 0.04 * one.set_nm > abs(one.shown_nm - one.set_nm)
    if verdict(one.shown_nm) == "close":
        answer = next(
            c.text
            for c in case.choices
            if c.key == ("within" if bare else "outside") and c.question == "11.8"
        )
        assert judge(case, "11.8", answer, {}).mistake == "ignored_uncertainty"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_the_bolt_is_decided_as_by_hand_and_stays_so(case: SealedCase) -> None:
    one = truth_of(case)
    percent = by_hand(one)["11.7"]
    right = "Clean it" if one.bolt.reusable and not one.bolt.spoilt and percent <= 100 else "Fit a new one"
    assert expected(case, "11.9").startswith(right)
    # A line of the grip more or less, or the tolerance of the share, changes nothing.
    asked = case.question("11.7")
    assert asked is not None and isinstance(asked.tolerance, float)
    for off in (-asked.tolerance, asked.tolerance):
        assert (percent + off > 100) == (percent > 100)
        given = Given(one, PAPER.key, case.choices, {"11.7": percent + off})
        assert given.basis("11.9").accepted == given.basis("11.9").accepted
        assert given.basis("11.9").expected == expected(case, "11.9")
    if one.situation in ("sound", "spoilt"):
        # Even the largest pull of the lesson's spread, 4 % of the wrench and 17 % of the threads, holds.
        sd, mean = (published.value(f"preload_scatter_{name}").value for name in ("sd", "mean"))
        assert percent * 1.04 / (1 - 2 * sd / mean) < 100


def test_a_bolt_pulled_too_far_is_never_marked_as_sound() -> None:
    for case in (one for one in CASES if one.truth["situation"] == "over its proof load"):
        clean = next(one.text for one in case.choices if one.key == "clean")
        mark = judge(case, "11.9", clean, {"11.7": 80.0})
        assert (mark.points, mark.mistake) == (0, "pulled_bolt_reused")
    case = next(one for one in CASES if one.truth["situation"] == "use once")
    clean = next(one.text for one in case.choices if one.key == "clean")
    assert judge(case, "11.9", clean, {}).mistake == "stretch_bolt_reused"
    spoilt = next(one.text for one in case.choices if one.key == "new-spoilt")
    assert judge(case, "11.9", spoilt, {}).points == 1.5


# --- mistakes, worked apart ------------------------------------------------------------------------


def _mistakes_by_hand(one: TorqueTruth) -> list[tuple[str, Any, str]]:
    hand, bolt, wrench = by_hand(one), one.bolt, one.wrench
    nut, small = hand["11.1"]
    found: list[tuple[str, Any, str]] = [
        ("11.1", [newton_metres(one.old.nut_lbfft, "lbf*inch"), small], "lbfin_for_lbfft"),
        ("11.1", [nut, 12 * small], "lbfin_for_lbfft"),
        ("11.1", [one.old.nut_lbfft / newton_metres(1, "lbf*ft"), small], "torque_unit_wrong_way"),
        ("11.1", [nut, one.old.small_lbfin / 12], "stopped_at_pound_feet"),
        ("11.2", _base(one), "grip_left_out"),
        ("11.3", bolt.torque_nm, "extension_ignored"),
        ("11.3", bolt.torque_nm * hand["lever"], "extension_inverted"),
        ("11.6", bolt.torque_nm / bolt.oiled / bolt.diameter_mm, "oiled_for_dry"),
        ("11.6", bolt.torque_nm / bolt.diameter_mm, "factor_left_out"),
        ("11.6", bolt.torque_nm / bolt.dry / bolt.pitch_mm, "pitch_for_diameter"),
        ("11.7", hand["11.7"] * bolt.oiled / bolt.dry, "oiled_at_dry_torque"),
        ("11.7", hand["11.7"] / hand["lever"], "extension_ignored"),
        ("11.7", hand["11.7"] / 100, "fraction_for_percent"),
    ]
    if wrench.angle_deg:
        whole = bolt.torque_nm * wrench.length_mm / (wrench.length_mm + wrench.extension_mm)
        found.append(("11.3", whole, "whole_extension_at_an_angle"))
    return found


def _base(one: TorqueTruth) -> float:
    turn = one.wrench.largest_nm / 20
    return one.wrench.left.reading // turn * turn


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_each_mistake_worked_apart_is_named(case: SealedCase) -> None:
    places = {"11.1": 1, "11.2": 1, "11.3": 1, "11.6": 1, "11.7": 0}
    for question, value, name in _mistakes_by_hand(truth_of(case)):
        digits = 3 if name == "fraction_for_percent" else places[question]
        answer = [round(one, 1) for one in value] if isinstance(value, list) else round(value, digits)
        mark = judge(case, question, answer, {})
        found = {name, "sheet_for_what_was_set"} if question == "11.7" else {name}
        assert mark.mistake in found, (question, name, mark)
        assert mark.points <= 0.75 * mark.out_of


def test_every_situation_and_every_number_of_studs_occurs() -> None:
    assert {case.truth["situation"] for case in CASES} == set(PAPER.shares)
    assert {truth_of(case).wheel.studs for case in CASES} == {4, 5, 6}
    for case in CASES:
        for question, names in PAPER.must_show.items():
            asked = case.question(question)
            assert asked is not None and set(names) <= {one.mistake for one in asked.mistakes}


def _right(case: SealedCase) -> dict[str, Any]:
    hand = by_hand(truth_of(case))
    return {
        "11.1": [round(one, 1) for one in hand["11.1"]],
        "11.2": round(expected(case, "11.2"), 1),
        "11.3": round(hand["11.3"], 1),
        "11.4": expected(case, "11.4").split(ARROW),
        "11.5": expected(case, "11.5").split(ARROW),
        "11.6": round(hand["11.6"], 1),
        "11.7": round(hand["11.7"]),
        "11.8": expected(case, "11.8"),
        "11.9": expected(case, "11.9"),
    }


@pytest.mark.parametrize("case", CASES[:8], ids=lambda case: case.student)
def test_a_right_sheet_earns_everything(case: SealedCase) -> None:
    answers = _right(case)
    marks = [judge(case, question, answer, answers) for question, answer in answers.items()]
    assert [mark.status for mark in marks] == ["right"] * 9
    assert sum(mark.points for mark in marks) == 36


@pytest.mark.parametrize("case", CASES[:8], ids=lambda case: case.student)
def test_an_extension_ignored_costs_its_own_question_only(case: SealedCase) -> None:
    one, answers = truth_of(case), _right(case)
    answers["11.3"] = one.bolt.torque_nm
    answers["11.7"] = round(by_hand(one)["11.7"] / by_hand(one)["lever"])
    assert judge(case, "11.3", answers["11.3"], answers).mistake == "extension_ignored"
    mark = judge(case, "11.7", answers["11.7"], answers)
    assert mark.status == "right" and mark.carried_forward


# --- outside the project ---------------------------------------------------------------------------


def _key(case: SealedCase, truth: TorqueTruth, question: str) -> Any:
    return PAPER.key[question](truth, Given(truth, PAPER.key, case.choices)).expected


def test_the_key_gives_a_textbook_its_own_clamp_load() -> None:
    """Shigley's Mechanical Engineering Design, 9th ed., example 8-3: 3/4 inch, K 0.2, 3750 lbf.in."""
    case = CASES[0]
    one = truth_of(case)
    torque = newton_metres(3750, "lbf*inch")
    bolt = one.bolt.model_copy(update={"torque_nm": torque, "diameter_mm": 0.75 * 25.4, "dry": 0.2})
    kilonewtons = _key(case, one.model_copy(update={"bolt": bolt}), "11.6")
    pounds = float((kilonewtons * U.kilonewton).to("lbf").magnitude)
    assert pounds == pytest.approx(published.value("shigley_ex8_3_f").value, rel=0.001)


def test_the_key_sets_what_a_fastener_guide_applies() -> None:
    """The guide's example (row torque_ext_ex4): 100 N.m set, 500 mm made 650 mm long. Solved back."""
    case = CASES[0]
    one = truth_of(case)
    got = published.value("torque_ext_ex4").value
    wrench = one.wrench.model_copy(update={"length_mm": 500.0, "extension_mm": 150.0, "angle_deg": 0.0})
    bolt = one.bolt.model_copy(update={"torque_nm": got})
    book = one.model_copy(update={"wrench": wrench, "bolt": bolt})
    assert _key(case, book, "11.3") == pytest.approx(100, rel=0.001)


def test_the_pound_foot_is_the_published_one() -> None:
    """NIST SP 811, as the row unit_lbfft_nm has it."""
    case = CASES[0]
    one = truth_of(case)
    old = one.old.model_copy(update={"nut_lbfft": 1.0, "small_lbfin": 12.0})
    right = _key(case, one.model_copy(update={"old": old}), "11.1")
    assert right == pytest.approx([published.value("unit_lbfft_nm").value] * 2, rel=1e-5)


def test_proof_loads_are_those_of_the_standard() -> None:
    """ISO 898-1: proof stress of a class times the stress area, here from a fastener table's M12 row."""
    for case in CASES:
        bolt = truth_of(case).bolt
        name = bolt.property_class.replace(".", "_")
        stress = (
            published.value(f"bolt_m12_proof_{name}").value / published.value("bolt_m12_stress_area").value
        )
        area = math.pi / 4 * (bolt.diameter_mm - 0.9382 * bolt.pitch_mm) ** 2  # ISO 898-1, from memory
        assert bolt.proof_kn == pytest.approx(stress * area / 1000, abs=0.08)


def test_the_tolerance_of_a_wrench_is_the_published_one() -> None:
    """ISO 6789-1:2017, as stated by a calibration service."""
    share = published.value("torque_wrench_tol_above_10").value / 100
    assert {truth_of(case).tested.share for case in CASES} == {share}


# --- what the student sees -------------------------------------------------------------------------


@pytest.mark.parametrize("case", CASES[:6], ids=lambda case: case.student)
def test_the_drawings_can_be_read_and_hold_no_reading(case: SealedCase) -> None:
    one = truth_of(case)
    drawings = sheet(one).drawings
    for name, drawn in drawings.items():
        assert f'id="{name}-title"' in drawn.svg and f'id="{name}-desc"' in drawn.svg
        assert all(found.startswith(f"{name}-") for found in re.findall(r' id="([^"]+)"', drawn.svg))
    seen = re.sub(r"<[^>]*>", " ", drawings["w1"].svg)
    assert not re.search(rf"(?<![\d.]){one.wrench.left.reading:g}(?![\d.])", seen)
    extended = re.sub(r"<[^>]*>", " ", drawings["e1"].svg)
    assert f"{one.wrench.extension_mm:g} mm" in extended
    assert not one.wrench.angle_deg or f"{one.wrench.angle_deg:g}°" in extended


@pytest.mark.parametrize("case", CASES[:6], ids=lambda case: case.student)
def test_the_sheet_lists_what_is_needed_and_no_answer(case: SealedCase) -> None:
    one = truth_of(case)
    seen = sheet(one)
    text = " ".join(value for _, value in seen.facts)
    assert f"{one.setting_nm:.1f}" not in text and f"{expected(case, '11.6'):.1f} kN" not in text
    assert seen.steps["11.4"] == [f"nut {count}" for count in range(1, one.wheel.studs + 1)]
    assert sorted(seen.steps["11.5"]) == sorted(expected(case, "11.5").split(ARROW))
    assert len(seen.labels["11.1"]) == 2


def test_the_same_seed_gives_the_same_bench() -> None:
    seed = Draw(5).seed
    assert PAPER.draw(seed, "normal", None) == PAPER.draw(seed, "normal", None)
    assert PAPER.draw(seed, "hard", "spoilt").situation == "spoilt"
    assert PAPER.draw(seed, "easy", "use once").model_dump()["bolt"]["reusable"] is False
