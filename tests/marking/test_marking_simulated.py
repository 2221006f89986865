"""Simulated students: the model as documented, and the marking as fair as promised."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.marking import Mark, SealedCase
from brakecourse.marking.sealed import BY_HAND
from brakecourse.marking.simulated import Student, Work

from tests.marking.rotor import thickness_mm
from tests.marking.study import marks_of

Cases = Callable[[int], list[SealedCase]]
COUNT = 300

pytestmark = pytest.mark.slow  # hundreds of students, each at a case of its own


HABITS = (
    *("half_millimetre_line", "on_the_ridge", "mean_for_minimum", "largest_for_smallest", "half_of_total"),
    *("nuts_not_seated", "ignored_uncertainty", "machine_to_for_discard", "discard_for_machine_to"),
    *("one_face_only", "probability_of_failing", "inches_for_millimetres"),
)


def sittings(cases: list[SealedCase]) -> list[tuple[SealedCase, Work, dict[str, Mark]]]:
    found = []
    for number, case in enumerate(cases):
        draw = Draw(number)
        habits = frozenset(draw.shuffled(HABITS)[: draw.integer(0, 2)])
        work = Student(draw.between(0.3, 1.0), habits).work(case, draw.child("work"))
        found.append((case, work, marks_of(case, work)))
    return found


@pytest.fixture(scope="module")
def seen(many_cases: Cases) -> list[tuple[SealedCase, Work, dict[str, Mark]]]:
    """Four hundred students of mixed ability, with none, one or two habits, each at a case of its own."""
    return sittings(many_cases(COUNT))


def test_committed_mistakes_are_named(seen: list[tuple[SealedCase, Work, dict[str, Mark]]]) -> None:
    """At least 95 % of the mistakes that made an answer wrong, where no slip of chance came on top."""
    named, missed = 0, Counter[tuple[str, str, str | None]]()
    kinds = Counter[str]()
    for _case, work, marks in seen:
        for question, committed in work.committed.items():
            mark = marks[question]
            if question in work.slipped or mark.status in ("right", "no answer"):
                continue
            kinds.update(committed)
            if mark.mistake in committed:
                named += 1
            else:
                missed[question, committed[-1], mark.mistake] += 1
    total = named + sum(missed.values())
    assert total > 250
    assert set(kinds) == set(HABITS), "every habit was put to the test"
    assert named >= 0.95 * total, (named, total, missed.most_common(8))


def test_right_answers_are_not_marked_wrong(seen: list[tuple[SealedCase, Work, dict[str, Mark]]]) -> None:
    """Fewer than 1 %: done without mistake or slip, on values that were handed in."""
    right = wrong = 0
    for case, work, marks in seen:
        for one in case.questions:
            if one.kind in BY_HAND or work.answers[one.id] is None:
                continue
            builds_on = ("8.1", *one.carries_from)
            if one.id in work.committed or one.id in work.slipped:
                continue
            if any(work.answers[earlier] is None for earlier in builds_on):
                continue
            right += 1
            wrong += marks[one.id].status != "right"
    assert right > 1500
    assert wrong < 0.01 * right, (wrong, right)


def test_a_slip_alone_is_never_called_right_where_it_matters(
    seen: list[tuple[SealedCase, Work, dict[str, Mark]]],
) -> None:
    for case, work, marks in seen:
        given = work.answers["8.1"]
        if not isinstance(given, list):
            continue
        pairs = zip(given, thickness_mm(case), strict=True)
        off = sum(abs(own - shown) > 0.0100001 for own, shown in pairs)
        assert (marks["8.1"].points < 8) == (off > 0)


def test_the_able_do_better(many_cases: Cases) -> None:
    def mean_points(ability: float) -> float:
        total = 0.0
        for number, case in enumerate(many_cases(60)):
            work = Student(ability).work(case, Draw(number))
            total += sum(mark.points for mark in marks_of(case, work).values())
        return total / 60

    weak, middling, able = mean_points(0.1), mean_points(0.6), mean_points(1.0)
    assert weak < middling < able == 36


def test_a_perfect_student_gives_the_key(many_cases: Cases) -> None:
    """But for the other one of two lines now and then, and what follows from it. That is right as well."""
    for case in many_cases(60):
        work = Student(1.0).work(case, Draw(1))
        assert not work.slipped and not work.committed
        assert {mark.status for mark in marks_of(case, work).values()} == {"right"}
        for one in case.questions:
            if one.kind == "table":
                assert work.answers[one.id] == pytest.approx(list(one.expected), abs=0.0101)  # type: ignore[arg-type]


@pytest.mark.parametrize("habit", HABITS)
def test_each_habit_shows_and_is_named(many_cases: Cases, habit: str) -> None:
    found = missed = 0
    for number, case in enumerate(many_cases(150)):
        work = Student(1.0, frozenset({habit})).work(case, Draw(number))
        for question, mark in marks_of(case, work).items():
            if habit in work.committed.get(question, ()) and mark.status != "right":
                found += 1
                missed += mark.mistake != habit
    assert found >= 3
    assert missed <= max(1, 0.25 * found), (found, missed)


def test_the_same_draw_gives_the_same_answers(case: SealedCase) -> None:
    student = Student(0.5, frozenset({"half_of_total"}))
    assert student.answers(case, Draw(3)) == student.answers(case, Draw(3))
    several = {json.dumps(student.answers(case, Draw(seed))) for seed in range(20)}
    assert len(several) > 5


def test_answers_are_plain_data_with_words_for_the_customer(many_cases: Cases) -> None:
    for number, case in enumerate(many_cases(60)):
        answers = Student(number / 59).answers(case, Draw(number))
        assert list(answers) == [one.id for one in case.questions]
        json.dumps(answers, allow_nan=False)
        words = answers["8.9"]
        assert words is None or (isinstance(words, str) and words.endswith(".") and ".." not in words)


def test_the_better_the_student_the_fuller_the_letter(case: SealedCase) -> None:
    letters = [Student(ability).answers(case, Draw(7))["8.9"] for ability in (0.2, 0.6, 1.0)]
    lengths = [len(str(letter)) for letter in letters]
    assert lengths == sorted(lengths) and len(set(lengths)) == 3


@pytest.mark.parametrize("ability", [-0.1, 1.1, True, float("nan")])
def test_no_such_ability(ability: float) -> None:
    with pytest.raises(ValueError, match="ability must be from 0 to 1"):
        Student(ability)


def test_no_such_habit() -> None:
    with pytest.raises(ValueError, match="found biting_nails"):
        Student(0.5, frozenset({"biting_nails", "half_of_total"}))
