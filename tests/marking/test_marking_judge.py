"""Each mistake put in alone earns its marks and its name; own earlier answers are followed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest
from brakecourse.errors import CourseError
from brakecourse.marking import Mark, SealedCase, judge
from brakecourse.marking.basis import sealed
from brakecourse.marking.mistakes import mistake

from tests.marking.rotor import rotor_of

Cases = Callable[[int], list[SealedCase]]
COMMON = 60
MANY = 120  # so that each situation is there


def key(case: SealedCase) -> dict[str, object]:
    return {one.id: one.expected for one in case.questions}


def row(case: SealedCase) -> list[float]:
    return list(rotor_of(case).readings_mm)


@pytest.mark.slow
def test_each_mistake_alone_is_named_and_earns_its_share(many_cases: Cases) -> None:
    """Every sealed number, one at a time, all else right. Two mistakes may land on one number."""
    injected, named = Counter[str](), Counter[str]()
    for case in many_cases(COMMON):
        answers = key(case)
        for question in case.questions:
            if question.kind != "number":
                continue
            for one in question.mistakes:
                mark = judge(case, question.id, one.value, answers)
                if mark.status == "right":  # within the tolerance of the right answer, when judged alone
                    continue
                injected[one.mistake] += 1
                assert mark.mistake is not None
                named[one.mistake] += mark.mistake == one.mistake
                assert mark.points == pytest.approx(mistake(mark.mistake).share * question.points, abs=0.01)
                assert mark.status == ("partly right" if mark.points else "wrong")
                assert mark.lesson == mistake(mark.mistake).lesson
                assert mistake(mark.mistake).likely in mark.words
    assert sum(named.values()) >= 0.95 * sum(injected.values()), (injected, named)
    assert set(injected) >= {"half_of_total", "nuts_not_seated", "one_face_only", "probability_of_failing"}


@pytest.mark.parametrize("name", ["half_millimetre_line", "on_the_ridge", "inches_for_millimetres"])
def test_one_wrong_place_of_the_table_costs_one_mark(many_cases: Cases, name: str) -> None:
    for case in many_cases(COMMON):
        table = case.question("8.1")
        assert table is not None
        one = next(found for found in table.mistakes if found.mistake == name and found.place == 3)
        if len(sealed(table).named(float(one.value), 3)) > 1:
            continue  # a ridge that happens to stand half a millimetre proud
        mark = judge(case, "8.1", [*row(case)[:2], one.value, *row(case)[3:]], {})
        assert mark.mistake == name
        assert mark.points == pytest.approx(7 + mistake(name).share)
        assert "7 of 8 values are right. At place 3: " in mark.words


def test_a_table_with_gaps_earns_what_is_there(case: SealedCase) -> None:
    mark = judge(case, "8.1", [*row(case)[:5], None, None, "?"], {})
    assert (mark.points, mark.status, mark.mistake) == (5, "partly right", None)
    assert "At places 6, 7 and 8: there is no number." in mark.words


def test_a_table_read_wrong_all_over_names_the_commonest_mistake(case: SealedCase) -> None:
    values = [value + 0.5 for value in row(case)]
    values[7] = rotor_of(case).ridge.reading
    mark = judge(case, "8.1", values, {})
    assert (mark.points, mark.mistake, mark.status) == (0, "half_millimetre_line", "wrong")
    assert mark.lesson.endswith("the half-millimetre line")
    assert mistake("on_the_ridge").likely in mark.words


def test_half_of_the_run_out_earns_half(case: SealedCase) -> None:
    right = key(case)["8.4"]
    mark = judge(case, "8.4", right / 2, {})  # type: ignore[operator]
    assert (mark.points, mark.out_of, mark.mistake) == (3, 6, "half_of_total")
    assert mark.words.endswith("It earns a part of the marks.")


def test_run_out_with_the_nuts_off_earns_nothing(case: SealedCase) -> None:
    loose = max(rotor_of(case).loose_readings_mm) - min(rotor_of(case).loose_readings_mm)
    mark = judge(case, "8.4", round(loose, 2), {})
    assert (mark.points, mark.mistake, mark.status) == (0, "nuts_not_seated", "wrong")


def of_situation(cases: list[SealedCase], situation: str) -> SealedCase:
    return next(case for case in cases if case.truth["situation"] == situation)


def test_ignoring_the_uncertainty_shows_in_the_grey_zone(many_cases: Cases) -> None:
    for case in many_cases(MANY):
        if case.truth["situation"] != "replace too close to call":
            continue
        margin = (
            rotor_of(case).readings_mm and min(rotor_of(case).readings_mm) - rotor_of(case).spec.discard_mm
        )
        bare = "within" if margin >= 0 else "outside"
        mark = judge(case, "8.5", bare, key(case))
        assert (mark.points, mark.mistake) == (0, "ignored_uncertainty")


def test_the_machine_to_limit_in_place_of_the_discard_limit_is_told_from_the_reversed_probability(
    many_cases: Cases,
) -> None:
    """Between the two limits both slips give 0 %. The answer to 8.5 tells them apart."""
    case = next(
        case
        for case in many_cases(MANY)
        if rotor_of(case).spec.discard_mm + 0.1
        < min(rotor_of(case).readings_mm)
        < rotor_of(case).spec.machine_to_mm - 0.1
    )
    answers = key(case)
    reversed_only = judge(case, "8.7", 0.0, answers)
    wrong_limit = judge(case, "8.7", 0.0, {**answers, "8.5": "outside"})
    assert reversed_only.mistake == "probability_of_failing"
    assert wrong_limit.mistake == "machine_to_for_discard"


def test_the_right_action_with_a_reason_that_does_not_hold_earns_half(many_cases: Cases) -> None:
    cases = many_cases(MANY)
    case = of_situation(cases, "keep")
    bare = next(one.text for one in case.choices if one.mistake == "ignored_uncertainty")
    mark = judge(case, "8.8", bare, key(case))
    assert (mark.points, mark.status, mark.mistake) == (2, "partly right", "ignored_uncertainty")
    assert mark.words.startswith("The action is right, but the reason does not hold here.")

    case = of_situation(cases, "replace below discard")
    other = next(one.text for one in case.choices if one.reason == "machining")
    assert judge(case, "8.8", other, key(case)).points == 2


def test_a_wrong_action_earns_nothing(many_cases: Cases) -> None:
    case = of_situation(many_cases(MANY), "replace below discard")
    for one in case.choices:
        if one.action in ("keep", "machine"):
            mark = judge(case, "8.8", one.text, key(case))
            assert (mark.points, mark.status) == (0, "wrong")


def test_either_reason_is_right_when_both_hold(many_cases: Cases) -> None:
    both = [case for case in many_cases(MANY) if len(case.question("8.8").accepted) > 1]  # type: ignore[union-attr]
    assert both, "some rotors fail both limits"
    for case in both:
        for sentence in case.question("8.8").accepted:  # type: ignore[union-attr]
            assert judge(case, "8.8", sentence, key(case)).points == 4


# --- own earlier answers -------------------------------------------------------------------------


def test_a_half_millimetre_slip_costs_its_place_and_nothing_after(case: SealedCase) -> None:
    own = row(case)
    own[own.index(max(own))] -= 0.5
    own = [round(value, 2) for value in own]
    earlier: dict[str, object] = {"8.1": own}
    marks: list[Mark] = []
    for question, answer in (("8.2", min(own)), ("8.3", round(max(own) - min(own), 2))):
        marks.append(judge(case, question, answer, earlier))
        earlier[question] = answer
    room = max(0.0, round(min(own) - rotor_of(case).spec.machine_to_mm, 2))
    marks.append(judge(case, "8.6", room, earlier))
    assert [mark.points for mark in marks] == [3, 4, 3]
    assert marks[0].carried_forward and marks[1].carried_forward
    assert "worked from your own answer to 8.1" in marks[0].words
    assert marks[0].how.startswith("From your own earlier values: ")


def test_the_action_follows_own_values(many_cases: Cases) -> None:
    """Thickness variation misread as far above its limit: keep becomes machine, for its own reason."""
    case = of_situation(many_cases(MANY), "keep")
    sentence = next(one.text for one in case.choices if one.reason == "variation")
    answers = key(case)
    assert judge(case, "8.8", sentence, answers).points == 0
    roomy = min(rotor_of(case).readings_mm) - rotor_of(case).spec.machine_to_mm > 0.6
    own = {**answers, "8.3": 0.30}
    mark = judge(case, "8.8", sentence, own)
    if roomy:
        assert (mark.points, mark.carried_forward) == (4, True)
    else:
        assert mark.points == 0


def test_a_right_answer_stays_right_whatever_came_before(many_cases: Cases) -> None:
    for case in many_cases(30):
        answers = key(case)
        own = [value + 0.5 for value in row(case)]
        earlier = {"8.1": own, "8.2": min(own), "8.3": 0.5, "8.4": 0.9}
        for question in ("8.2", "8.3", "8.4", "8.5", "8.6", "8.7", "8.8"):
            assert judge(case, question, answers[question], earlier).status == "right"


def test_a_mistake_on_own_values_is_named(case: SealedCase) -> None:
    own = [round(value + 0.5, 2) for value in row(case)]
    mark = judge(case, "8.2", sum(own) / 8, {"8.1": own})
    assert (mark.mistake, mark.points) == ("mean_for_minimum", 0)


def test_readings_in_inches_are_followed_as_the_millimetres_they_mean(case: SealedCase) -> None:
    own = [round(value / 25.4, 4) for value in row(case)]
    mark = judge(case, "8.2", min(own), {"8.1": own})
    assert (mark.mistake, mark.points) == ("inches_for_millimetres", 1.5)
    assert judge(case, "8.2", min(row(case)), {"8.1": own}).status == "right"


def test_made_up_values_earn_nothing_further_on(case: SealedCase) -> None:
    """Eight equal numbers would make every later answer easy. They are no readings of this gauge."""
    for made_up in ([min(row(case)) - 3.0] * 8, [0.0] * 8, [1e9] * 8, [-3.0] * 8):
        earlier: dict[str, object] = {"8.1": made_up, "8.2": made_up[0], "8.3": 0.0}
        assert judge(case, "8.2", made_up[0], earlier).points == 0
        assert judge(case, "8.3", 0.0, earlier).points == 0
        assert judge(case, "8.1", made_up, {}).points == 0
        right = judge(case, "8.2", key(case)["8.2"], earlier)
        assert right.status == "right" and not right.carried_forward


def test_answers_that_come_later_are_not_looked_at(case: SealedCase) -> None:
    answers = key(case)
    alone = judge(case, "8.2", 0.1, {})
    assert judge(case, "8.2", 0.1, {name: answers[name] for name in answers if name > "8.2"}) == alone


# --- what a mark says ------------------------------------------------------------------------------


def test_a_mark_tells_the_expected_value_its_tolerance_and_how_it_follows(case: SealedCase) -> None:
    answers = key(case)
    for question in case.questions:
        if question.kind == "written":
            continue
        mark = judge(case, question.id, None, {})
        assert (mark.points, mark.status, mark.given) == (0, "no answer", "nothing")
        assert mark.expected and mark.tolerance and mark.how.endswith(".")
        assert mark.lesson == question.lesson
        if question.kind == "number" and question.unit == "mm":
            assert mark.expected.startswith(f"{answers[question.id]:.2f} mm (") and mark.expected.endswith(
                " in)"
            )
            assert " mm (" in mark.tolerance


def test_no_answer_and_not_readable_are_told_apart(case: SealedCase) -> None:
    for nothing in (None, "", "  ", [], [None] * 8):
        assert judge(case, "8.1", nothing, {}).status == "no answer"
    for strange in ("about 23", [1, 2, 3], {"a": 1}, True):
        mark = judge(case, "8.1", strange, {})
        assert (mark.status, mark.points) == ("not readable", 0)
        assert "the question asks for a list of 8 numbers in mm" in mark.words
    assert "one number in mm" in judge(case, "8.2", "thick", {}).words
    assert "one number in percent" in judge(case, "8.7", [50], {}).words
    assert "one of the listed choices" in judge(case, "8.5", "perhaps", {}).words


def test_unknown_and_written_questions_are_refused_in_a_sentence(case: SealedCase) -> None:
    with pytest.raises(CourseError, match=r"8\.1, 8\.2.*found '9\.9'"):
        judge(case, "9.9", 1, {})
    with pytest.raises(CourseError, match="a person marks it"):
        judge(case, "8.9", "Dear customer", {})


def test_a_mark_cannot_be_changed(case: SealedCase) -> None:
    mark = judge(case, "8.2", 1.0, {})
    with pytest.raises(AttributeError):
        mark.points = 3.0  # type: ignore[misc]
    assert replace(mark, points=3.0).points == 3.0
