"""Competencies: the rule of the table, its edges, and the tables that tell of them."""

from __future__ import annotations

import csv
import io

import pytest
from brakecourse import marking
from brakecourse.exports import sheets
from brakecourse.exports.mastery import Evidence, Mastery, Rule, class_mastery, mastery, rules
from brakecourse.tables import read_table

RULE = Rule("read-micrometer", "can read a micrometer", 80.0, 3, 2)


def evidence(*answers: tuple[str, str, float, float, bool]) -> list[Evidence]:
    return [Evidence("s01", *answer) for answer in answers]


def state(*answers: tuple[str, str, float, float, bool]) -> Mastery:
    return mastery(RULE, "s01", evidence(*answers))


def test_at_least_eighty_percent_over_three_questions_from_two_modules() -> None:
    """The rule as the course map states it. 8 + 4 + 4 of 20 marks are 80 %."""
    found = state(("08", "8.1", 8, 10, False), ("08", "8.2", 4, 5, False), ("13", "13.4", 4, 5, False))
    assert (found.state, found.percent, found.questions, found.modules) == ("mastered", 80.0, 3, 2)
    just_below = state(("08", "8.1", 7.9, 10, False), ("08", "8.2", 4, 5, False), ("13", "13.4", 4, 5, False))
    assert just_below.state == "not yet" and "80 % are asked for" in just_below.why


@pytest.mark.parametrize(
    "answers",
    [
        [("08", "8.1", 10, 10, False), ("13", "13.4", 5, 5, False)],  # two questions only
        [("08", "8.1", 9, 9, False), ("08", "8.2", 9, 9, False), ("08", "8.3", 9, 9, False)],  # one module
        [],
    ],
)
def test_too_few_questions_or_modules_tell_nothing(
    answers: list[tuple[str, str, float, float, bool]],
) -> None:
    assert state(*answers).state == "too little to tell"


def test_a_missed_safety_critical_question_forbids_mastery() -> None:
    found = state(("08", "8.1", 10, 10, False), ("08", "8.2", 4.9, 5, True), ("13", "13.4", 5, 5, True))
    assert (found.state, found.safety_missed) == ("not yet", ("8.2",)) and "8.2" in found.why
    right = state(("08", "8.1", 10, 10, False), ("08", "8.2", 5, 5, True), ("13", "13.4", 5, 5, True))
    assert right.state == "mastered"


def test_two_attempts_are_pooled_but_are_one_question() -> None:
    found = state(
        ("08", "8.1", 2, 10, False), ("08", "8.1", 10, 10, False), ("08", "8.2", 5, 5, False),
    )  # fmt: skip
    assert (found.questions, found.earned, found.out_of) == (2, 17, 25)


def test_other_students_answers_do_not_count() -> None:
    mine = evidence(("08", "8.1", 0, 10, False))
    theirs = [Evidence("s02", "13", "13.1", 10, 10, False)]
    assert mastery(RULE, "s01", [*mine, *theirs]).out_of == 10


def test_the_class_is_the_sum_of_its_students() -> None:
    everyone = [
        state(("08", "8.1", 10, 10, False), ("08", "8.2", 5, 5, False), ("13", "13.4", 5, 5, False)),
        mastery(RULE, "s02", []),
    ]
    found = class_mastery(RULE, everyone)
    assert (found.mastered, found.not_yet, found.too_little, found.percent) == (1, 0, 1, 100.0)
    assert class_mastery(RULE, []).percent is None


def test_the_rules_are_data_and_can_be_met() -> None:
    known = rules()
    assert [rule.competency for rule in known] == [
        row["competency"] for row in read_table("course/competencies.csv")
    ]
    tags = {
        name for module in marking.MODULES for one in marking.questions(module) for name in one.competencies
    }
    assert tags <= {rule.competency for rule in known}


def test_every_competency_can_be_mastered_with_the_exercises_there_are() -> None:
    """Of each, the exercises ask at least as many questions, from as many modules, as its rule wants."""
    if len(marking.MODULES) < 13:
        pytest.skip("not every module has its exercise yet")
    for rule in rules():
        asked = [
            (module, one.id)
            for module in marking.MODULES
            for one in marking.questions(module)
            if rule.competency in one.competencies
        ]
        assert len(asked) >= rule.questions, rule.competency
        assert len({module for module, _ in asked}) >= rule.modules, rule.competency


def test_the_tables_say_it_in_words() -> None:
    everyone = [
        state(("08", "8.1", 10, 10, False), ("08", "8.2", 5, 5, False), ("13", "13.4", 5, 5, False)),
        mastery(RULE, "=s02", []),
    ]
    rows = list(
        csv.DictReader(io.StringIO(sheets.csv_bytes(sheets.student_competencies(everyone, [RULE])).decode()))
    )
    assert rows[0]["state"] == "mastered" and rows[0]["percent"] == "100.0"
    assert rows[1]["student_id"] == "'=s02" and rows[1]["percent"] == ""
    totals = sheets.class_competencies([class_mastery(RULE, everyone)], [RULE])
    assert totals.rows == (("read-micrometer", "can read a micrometer", 1, 0, 1, totals.rows[0][5]),)
    assert str(totals.rows[0][5]) == "100.0"
