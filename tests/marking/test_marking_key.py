"""The sealed answers against an outside working: numpy, scipy and the rules as the lesson states them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from brakecourse.marking import SealedCase, judge
from scipy import stats

from tests.marking.rotor import dial_mm, rotor_of, thickness_mm

Cases = Callable[[int], list[SealedCase]]


def key(case: SealedCase) -> dict[str, object]:
    return {one.id: one.expected for one in case.questions}


def outside_verdict(measured: float, limit: float, u: float) -> str:
    """One-sided guard band after ISO 14253-1: z at 95 % from scipy."""
    margin = round(measured - limit, 9)
    band = stats.norm.ppf(0.95) * u
    return "within" if margin >= band else "outside" if margin <= -band else "too close to call"


def outside_action(case: SealedCase) -> str:
    """The order of the checks as the lesson states it (common practice, no source)."""
    spec, u = rotor_of(case).spec, rotor_of(case).instruments
    thick = np.round(np.asarray(thickness_mm(case)), 2)
    swing = np.round(np.asarray(dial_mm(case)), 2)
    variation, run_out = np.ptp(thick), np.ptp(swing)
    if outside_verdict(thick.min(), spec.discard_mm, u.thickness_u_mm) != "within":
        return "replace"
    even = outside_verdict(spec.max_variation_mm, variation, u.thickness_difference_u_mm) == "within"
    true = outside_verdict(spec.max_run_out_mm, run_out, u.dial_difference_u_mm) == "within"
    if even and true:
        return "keep"
    left = thick.min() - variation - run_out
    return "machine" if outside_verdict(left, spec.machine_to_mm, u.thickness_u_mm) == "within" else "replace"


def test_every_answer_agrees_with_the_outside_working(many_cases: Cases) -> None:
    for case in many_cases(200):
        rotor, answers = rotor_of(case), key(case)
        thick = np.round(np.asarray(thickness_mm(case)), 2)
        assert answers["8.1"] == pytest.approx(tuple(thick))
        assert answers["8.2"] == pytest.approx(thick.min())
        assert answers["8.3"] == pytest.approx(np.ptp(thick))
        assert answers["8.4"] == pytest.approx(np.ptp(np.round(np.asarray(dial_mm(case)), 2)))
        u, limit = rotor.instruments.thickness_u_mm, rotor.spec.discard_mm
        assert answers["8.5"] == outside_verdict(thick.min(), limit, u)
        assert answers["8.6"] == pytest.approx(max(0.0, thick.min() - rotor.spec.machine_to_mm), abs=1e-9)
        assert answers["8.7"] == pytest.approx(100 * stats.norm.cdf((thick.min() - limit) / u), abs=1e-6)
        assert str(answers["8.8"]).lower().startswith(outside_action(case))
        assert answers["8.9"] is None


def test_the_reason_of_the_right_sentence_holds(many_cases: Cases) -> None:
    seen = set()
    for case in many_cases(200):
        rotor, answers = rotor_of(case), key(case)
        accepted = case.question("8.8").accepted  # type: ignore[union-attr]
        uneven = answers["8.3"] > rotor.spec.max_variation_mm  # type: ignore[operator]
        for sentence in accepted:
            reason = next(one.reason for one in case.choices if one.text == sentence)
            seen.add(reason)
            if reason == "outside":
                assert answers["8.2"] < rotor.spec.discard_mm  # type: ignore[operator]
            if reason == "too close to call":
                assert answers["8.5"] == "too close to call"
            if reason == "variation":
                assert uneven or answers["8.3"] == pytest.approx(rotor.spec.max_variation_mm, abs=0.02)
    assert seen == {"all", "variation", "run-out", "outside", "too close to call", "machining"}


def test_the_key_earns_every_mark(many_cases: Cases) -> None:
    for case in many_cases(100):
        answers = key(case)
        marks = [judge(case, one.id, answers[one.id], answers) for one in case.questions if one.id != "8.9"]
        assert [mark.status for mark in marks] == ["right"] * 8
        assert sum(mark.points for mark in marks) == 36 == sum(mark.out_of for mark in marks)
        assert not any(mark.carried_forward or mark.mistake or mark.lesson for mark in marks)


def test_what_the_gauge_shows_between_its_lines_is_right_as_well(many_cases: Cases) -> None:
    """Who estimates tenths of a division hands in the indications themselves."""
    for case in many_cases(50):
        shown = [round(value, 3) for value in thickness_mm(case)]
        assert judge(case, "8.1", shown, {}).points == 8
        smallest = judge(case, "8.2", min(shown), {"8.1": shown})
        variation = judge(case, "8.3", round(max(shown) - min(shown), 3), {"8.1": shown})
        assert (smallest.status, variation.status) == ("right", "right")


@pytest.mark.parametrize(("off", "points"), [(0.006, 8), (-0.006, 8), (0.014, 0), (-0.014, 0)])
def test_a_reading_may_be_one_division_off_and_no_more(many_cases: Cases, off: float, points: float) -> None:
    for case in many_cases(20):
        assert judge(case, "8.1", [value + off for value in thickness_mm(case)], {}).points == points


def test_a_choice_may_be_written_in_any_case_and_spacing(case: SealedCase) -> None:
    answers = key(case)
    for question in ("8.5", "8.8"):
        words = "  " + str(answers[question]).upper().replace(" ", "   ").rstrip(".") + " "
        assert judge(case, question, words, answers).status == "right"
