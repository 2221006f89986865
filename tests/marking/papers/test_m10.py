"""Exercise 10 worked again by hand and with numpy, from the sealed values alone."""

from __future__ import annotations

import math
import re
from itertools import product

import numpy as np
import pytest
from brakecourse import published
from brakecourse.bench.situations import Difficulty
from brakecourse.marking import SealedCase, draw_sealed_case, judge, judge_all
from brakecourse.marking.papers.m10_hub_and_rotor_fit import PAPER
from brakecourse.marking.papers.m10_hub_and_rotor_fit.decisions import verdict
from brakecourse.marking.papers.m10_hub_and_rotor_fit.truth import FitTruth

from tests.marking.study import cases

MODULE = "10_hub_and_rotor_fit"
CASES = list(cases(MODULE, 12))
FINE = np.radians(np.arange(0, 360, 0.25))

each_case = pytest.mark.parametrize("case", CASES, ids=[one.student for one in CASES])


def truth_of(case: SealedCase) -> FitTruth:
    truth = PAPER.read_truth(case.truth)
    assert isinstance(truth, FitTruth)
    return truth


def expected(case: SealedCase, question: str) -> object:
    found = case.question(question)
    assert found is not None
    return found.expected


def mistakes(case: SealedCase, question: str) -> dict[str, list[float | str]]:
    found = case.question(question)
    assert found is not None
    return {
        name: [one.value for one in found.mistakes if one.mistake == name]
        for name in {one.mistake for one in found.mistakes}
    }


def wave(total_mm: float, high_deg: float) -> np.ndarray:
    """Height of a tilted face all round, its high side at an angle."""
    return total_mm / 2 * np.cos(FINE - math.radians(high_deg))


def together(truth: FitTruth, index: float, hub_mm: float | None = None) -> float:
    """Run-out of hub and rotor, from the faces themselves and not from a sum of arrows."""
    hub = truth.flange_mm * truth.track_mm / truth.seat_mm if hub_mm is None else hub_mm
    face = wave(hub, truth.hub_deg) + wave(truth.rotor_mm, truth.rotor_deg + 360 * index / truth.studs)
    return float(np.ptp(face))


def words(case: SealedCase, question: str, key: str) -> str:
    """The words of a choice, by its short name."""
    return next(one.text for one in case.choices if (one.question, one.key) == (question, key))


def right_answers(case: SealedCase) -> dict[str, object]:
    found: dict[str, object] = {}
    for one in case.questions:
        value = one.expected
        found[one.id] = [round(x, one.places) for x in value] if isinstance(value, tuple) else value
        if isinstance(value, float):
            found[one.id] = round(value, one.places)
    return found


# ------------------------------------------------------------------ the right answers


@each_case
def test_the_totals_are_what_the_dial_swings_over(case: SealedCase) -> None:
    found, clean = ([one["indication"] for one in case.truth[name]] for name in ("found", "clean"))
    assert expected(case, "10.1") == pytest.approx([round(value, 2) for value in found])
    assert expected(case, "10.2") == pytest.approx(np.ptp(np.round(found, 2)))
    assert expected(case, "10.6") == pytest.approx(np.ptp(np.round(clean, 2)))
    assert len(found) == len(clean) == 8 and found[0] == clean[0] == 0


@each_case
def test_the_place_that_rubs_is_one_that_the_dial_cannot_tell_from_the_highest(case: SealedCase) -> None:
    found = [one["reading"] for one in case.truth["found"]]
    question = case.question("10.3")
    assert question is not None
    near = [f"place {place}" for place, value in enumerate(found, 1) if value >= max(found) - 0.0142]
    assert sorted(question.accepted) == sorted(near)
    assert question.expected == f"place {np.argmax(found) + 1}"


@each_case
def test_a_flake_tilts_the_rotor_by_its_angle(case: SealedCase) -> None:
    """By the angle itself, not by the ratio of the radii; nearer than the small angle's error."""
    truth = truth_of(case)
    angle = math.atan(truth.flake_mm / (2 * truth.seat_mm))
    assert expected(case, "10.5") == pytest.approx(2 * truth.track_mm * math.tan(angle), abs=1e-9)
    one_percent = published.value("small_angle_tangent_one_percent").value  # an encyclopaedia's, read
    assert angle < one_percent / 100
    assert 2 * truth.track_mm * angle == pytest.approx(expected(case, "10.5"), rel=1e-4)


@each_case
def test_the_positions_are_the_swing_of_the_two_faces_added(case: SealedCase) -> None:
    truth = truth_of(case)
    assert expected(case, "10.7") == pytest.approx([together(truth, i) for i in (1, 2, 3)], abs=2e-5)
    every = [together(truth, index) for index in range(truth.studs)]
    assert expected(case, "10.8") == np.argmin(every)
    assert truth.tried_mm == pytest.approx(every[4:], abs=0.0051)
    # What the dial has found without turning is what the two faces make there.
    assert expected(case, "10.6") == pytest.approx(every[0], abs=0.03)


@each_case
def test_the_dial_sees_what_the_arrows_say(case: SealedCase) -> None:
    """numpy's Fourier transform of the readings, against hub, rotor and flake added up."""
    truth = truth_of(case)
    for reads, flake in ((truth.found, truth.flake_mm), (truth.clean, 0.0)):
        spectrum = np.fft.rfft([one.indication for one in reads]) / len(reads)
        total, high = 4 * abs(spectrum[1]), -math.degrees(np.angle(spectrum[1]))
        ratio = truth.track_mm / truth.seat_mm
        arrows = [
            (truth.flange_mm * ratio, truth.hub_deg),
            (truth.rotor_mm, truth.rotor_deg),
            (flake * ratio, truth.flake_deg),
        ]
        added = sum(size * np.exp(1j * math.radians(at)) for size, at in arrows)
        assert total == pytest.approx(abs(added), abs=0.012)  # twice the dial's difference
        apart = (high - math.degrees(np.angle(added)) + 180) % 360 - 180
        assert abs(apart) * math.radians(1) * total < 0.012


@each_case
def test_what_is_done_follows_the_lessons_order(case: SealedCase) -> None:
    truth = truth_of(case)
    hub = truth.flange_mm * truth.track_mm / truth.seat_mm
    best = min(together(truth, index) for index in range(truth.studs))
    words = str(expected(case, "10.9"))
    if np.ptp(truth.clean_mm) <= truth.limit_mm + 1e-9:
        assert words.startswith("Leave") and truth.situation == "clean is enough"
    elif best <= truth.limit_mm:
        assert words.startswith("Turn the rotor on") and truth.situation == "index it"
    elif hub > truth.limit_mm:
        assert words.startswith("Renew the hub") and truth.situation == "hub is bent"
    else:
        assert words.startswith("Machine or renew") and truth.rotor_mm > truth.limit_mm
    first = "Undo" if truth.screw else "Turn two bolts" if truth.holes else "Soak"
    assert str(expected(case, "10.4")).startswith(first)


# ------------------------------------------------------------------ the named mistakes


@each_case
def test_each_mistake_with_the_sums_gives_its_value(case: SealedCase) -> None:
    truth = truth_of(case)
    right = truth.flake_mm * truth.track_mm / truth.seat_mm
    sizes = {"seat": truth.seat_mm, "track": truth.track_mm}
    sizes["seat" if truth.seat_as == "diameter" else "track"] *= 2
    slips = mistakes(case, "10.5")
    assert slips["flake_for_run_out"] == pytest.approx([truth.flake_mm])
    mixed = truth.flake_mm * sizes["track"] / sizes["seat"]
    assert slips["diameter_for_radius"] == pytest.approx([mixed])
    assert min(abs(float(one) - truth.flake_mm**2 / right) for one in slips["radii_inverted"]) < 1e-9
    hub = truth.flange_mm * truth.track_mm / truth.seat_mm
    told = mistakes(case, "10.7")
    at = {
        "hub_at_seat": [together(truth, i, truth.flange_mm) for i in (1, 2, 3)],
        "turned_other_way": [together(truth, -i) for i in (1, 2, 3)],
        "rotor_not_turned": [together(truth, 0)] * 3,
        "sizes_added": [hub + truth.rotor_mm] * 3,
        "sizes_subtracted": [abs(hub - truth.rotor_mm)] * 3,
        "diameter_for_radius": [together(truth, i, hub * mixed / right) for i in (1, 2, 3)],
    }
    question = case.question("10.7")
    assert question is not None and told
    for one in question.mistakes:
        if one.mistake in at:
            assert one.place is not None
            assert one.value == pytest.approx(at[one.mistake][one.place - 1], abs=2e-5)


@each_case
def test_each_mistake_with_the_dial_gives_its_value(case: SealedCase) -> None:
    truth = truth_of(case)
    clean, found = mistakes(case, "10.6"), mistakes(case, "10.2")
    assert clean["on_the_ridge"] == pytest.approx([np.ptp([*truth.clean_mm, truth.edge.reading])])
    assert clean["half_of_total"] == pytest.approx([np.ptp(truth.clean_mm) / 2])
    assert clean["found_for_clean"] == pytest.approx([np.ptp(truth.found_mm)])
    assert found["half_of_total"] == pytest.approx([np.ptp(truth.found_mm) / 2])
    row = truth.found_mm
    low = [f"place {place}" for place, value in enumerate(row, 1) if value <= min(row) + 0.0142]
    assert sorted(map(str, mistakes(case, "10.3")["lowest_for_highest"])) == low
    best = int(np.argmin([together(truth, index) for index in range(truth.studs)]))
    assert mistakes(case, "10.8")["counted_from_one"] == [best + 1]


def test_every_way_to_get_a_rotor_off_has_its_mistake() -> None:
    for case in CASES:
        slips, question = mistakes(case, "10.4"), case.question("10.4")
        assert question is not None
        assert slips["hammer_on_friction_face"] == ["Strike the friction face with a hammer."]
        assert len({value for values in slips.values() for value in values}) >= 3


# ------------------------------------------------------------------ decisions stand firm


@each_case
def test_no_reading_moved_by_its_uncertainty_changes_what_is_done(case: SealedCase) -> None:
    truth = truth_of(case)
    total, u = float(np.ptp(truth.clean_mm)), truth.difference_u_mm
    near = 0.0072  # what an honest sum of arrows may be off by
    table = [together(truth, index) for index in (1, 2, 3)]
    for shift, sums in product((-u, 0.0, u), (-near, 0.0, near)):
        moved = [value + sums for value in table]
        least = min(truth.positions_mm(total + shift, moved))
        assert verdict(truth, total + shift, least) == verdict(truth, total, min([*table, total]))
    assert np.ptp(truth.found_mm) - u > truth.limit_mm


def test_each_situation_leads_to_its_own_action() -> None:
    levels: tuple[Difficulty, ...] = ("easy", "normal", "hard")
    for situation, level in zip(PAPER.shares, (*levels, "normal"), strict=True):
        truth = PAPER.draw(11, level, situation)
        assert truth.situation == situation and truth == PAPER.draw(11, level, situation)


# ------------------------------------------------------------------ marks and words


def test_a_perfect_answer_gets_every_mark() -> None:
    for case in CASES[:6]:
        marks = judge_all(case, right_answers(case))
        assert all(mark.points == mark.out_of for mark in marks.values()), case.student


@each_case
def test_the_usual_mistakes_are_named_and_told_kindly(case: SealedCase) -> None:
    truth = truth_of(case)
    wrong: dict[str, tuple[object, str, float]] = {
        "10.2": (round(float(np.ptp(truth.found_mm)) / 2, 3), "half_of_total", 0.5),
        "10.4": (words(case, "10.4", "friction-face"), "hammer_on_friction_face", 0.0),
        "10.5": (truth.flake_mm, "flake_for_run_out", 0.0),
        "10.6": (
            round(float(np.ptp([*truth.clean_mm, truth.edge.reading])), 2),
            "on_the_ridge",
            0.0,
        ),
    }
    answers = right_answers(case)
    for question, (answer, name, share) in wrong.items():
        mark = judge(case, question, answer, answers)
        assert (mark.mistake, mark.points) == (name, pytest.approx(share * mark.out_of)), question
        assert mark.lesson.startswith("Lesson 10, part")
    mixed = 0.5 if truth.seat_as == "diameter" else 2
    mark = judge(case, "10.5", round(truth.flake_mm * truth.track_mm / truth.seat_mm * mixed, 2), answers)
    assert mark.mistake == "diameter_for_radius" and "Halve the diameter first" in mark.words


def test_own_readings_are_carried_on() -> None:
    case = next(one for one in CASES if one.truth["situation"] == "index it")
    truth, answers = truth_of(case), right_answers(case)
    # Read one place too high by two divisions: the total follows from what was read.
    row = list(truth.found_mm)
    top = int(np.argmax(row))
    row[top] = round(row[top] + 0.02, 2)
    answers["10.1"] = row
    mark = judge(case, "10.2", round(max(row) - min(row), 2), answers)
    assert mark.points == mark.out_of and mark.carried_forward and "your own answer" in mark.words
    # Whoever reads a total that keeps the limit is right to leave the rotor.
    answers["10.6"] = round(truth.limit_mm - 0.01, 2)
    mark = judge(case, "10.9", words(case, "10.9", "leave-within"), answers)
    assert mark.points == mark.out_of and mark.carried_forward
    # The right action for a reason that does not hold earns half.
    mark = judge(case, "10.9", words(case, "10.9", "index-any"), right_answers(case))
    assert mark.points == mark.out_of / 2 and mark.mistake == "best_still_over"
    mark = judge(case, "10.9", words(case, "10.9", "leave-within"), right_answers(case))
    assert mark.points == 0 and mark.mistake == "over_limit_left"


# ------------------------------------------------------------------ what the student gets


def test_the_drawings_can_be_read_and_tell_no_reading() -> None:
    case = draw_sealed_case(MODULE, "s01", bytes(range(32)))
    truth, order = truth_of(case), case.work_order()
    assert len(str(order)) < 400_000
    hidden = {f"{abs(one.indication):.3f}" for one in (*truth.found, *truth.clean, truth.edge)}
    hidden |= {f"{value:.3f}" for value in [together(truth, i) for i in (1, 2, 3)]}
    for name, one in order["drawings"].items():
        assert f'id="{name}-title"' in one["svg"] and "<desc" in one["svg"]
        seen = re.sub(r"<[^>]*>", " ", one["svg"])
        numbers = set(re.findall(r"\d+\.\d+", seen))
        assert not numbers & (hidden - {"0.010"}), (name, numbers)
    facts = dict(order["vehicle"]["facts"])
    assert sum("iameter" in name for name in facts) == 1
    assert len(order["questions"][0]["drawings"]) == 8 and len(order["questions"][5]["drawings"]) == 9
