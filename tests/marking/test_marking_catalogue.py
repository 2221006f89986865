"""The tables of modules, competencies, questions, choices and mistakes fit together."""

from __future__ import annotations

import pytest
from brakecourse import marking
from brakecourse.errors import CourseError
from brakecourse.marking import catalogue, mistakes
from brakecourse.tables import read_table

MODULE = "08_rotor_measurement"
TABLES = ("modules", "lesson_parts", "competencies", "questions", "choices", "mistakes")
# The mistakes that the whole course names; other rooms use these words.
AGREED = {
    *("half_millimetre_line", "half_of_total", "mean_for_minimum", "machine_to_for_discard"),
    *("discard_for_machine_to", "on_the_ridge", "nuts_not_seated", "ignored_uncertainty"),
    *("inches_for_millimetres", "one_face_only", "largest_for_smallest", "probability_of_failing"),
    *("expanded_for_standard", "ten_times", "wrong_sign"),
}


@pytest.mark.parametrize("name", TABLES)
def test_every_row_fills_its_columns(name: str) -> None:
    rows = read_table(f"course/{name}.csv")
    assert rows
    for row in rows:
        assert None not in row, f"{name}: a comma without quotes in {row}"
        assert None not in row.values(), f"{name}: a column is missing in {row}"
        assert all(text == text.strip() for text in row.values())


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("modules", ("module",)),
        ("lesson_parts", ("module", "part")),
        ("competencies", ("competency",)),
        ("questions", ("module", "question")),
        ("choices", ("module", "question", "choice")),
        ("mistakes", ("mistake",)),
    ],
)
def test_keys_are_unique(name: str, key: tuple[str, ...]) -> None:
    keys = [tuple(row[part] for part in key) for row in read_table(f"course/{name}.csv")]
    assert len(set(keys)) == len(keys)


def test_the_course_has_thirteen_modules_and_about_two_dozen_competencies() -> None:
    modules = [row["module"] for row in read_table("course/modules.csv")]
    competencies = read_table("course/competencies.csv")
    assert [int(row["number"]) for row in read_table("course/modules.csv")] == list(range(1, 14))
    assert 22 <= len(competencies) <= 26
    named = set()
    for row in competencies:
        assert row["statement"].startswith("can ")
        where = row["modules"].split()
        assert set(where) <= set(modules)
        # Mastery asks for questions from that many modules, so there must be as many.
        assert len(where) >= int(row["mastery_modules"]) >= 2
        assert int(row["mastery_questions"]) >= 3
        assert int(row["mastery_percent"]) == 80
        named |= set(where)
    assert named == set(modules), "every module serves a competency"


def test_questions_name_competencies_that_know_the_module() -> None:
    serves = {row["competency"]: row["modules"].split() for row in read_table("course/competencies.csv")}
    for module in marking.MODULES:
        for asked in marking.questions(module):
            assert 1 <= len(asked.competencies) <= 2
            assert all(module in serves[name] for name in asked.competencies)


def test_the_rotor_module_asks_nine_questions_for_forty_marks() -> None:
    asked = marking.questions(MODULE)
    assert [one.id for one in asked] == [f"8.{number}" for number in range(1, 10)]
    assert marking.total_points(MODULE) == 40
    assert [one.id for one in asked if one.kind == "written"] == ["8.9"]
    assert {one.id for one in asked if one.safety_critical} == {"8.2", "8.5", "8.8"}
    for one in asked:
        assert one.points > 0
        assert all(earlier < one.id for earlier in one.carries_from)
        assert catalogue.lesson(MODULE, one.lesson_part).startswith(f"Lesson 08, part {one.lesson_part}: ")
        assert (one.low is not None) == (one.kind in ("table", "number"))
        assert bool(one.choices) == (one.kind == "choice")
        assert (one.count == 8) == (one.kind == "table")


def test_every_agreed_mistake_has_kind_and_useful_words() -> None:
    known = mistakes.mistakes()
    assert set(known) >= AGREED
    for one in known.values():
        assert one.likely.endswith(".") and one.next_time.endswith((".", "?")), one
        assert one.lesson.startswith(f"Lesson {one.module.split('_')[0]}, part ")
        assert 0 <= one.share <= 0.5
        assert marking.mistake_words(one.id) == f"{one.likely} {one.next_time}"
        for unkind in ("stupid", "careless", "obviously", "simply", "just ", "should have"):
            assert unkind not in one.words.lower(), one


def test_mistakes_that_could_leave_an_unsafe_rotor_on_the_road_earn_nothing() -> None:
    dangerous = ("mean_for_minimum", "on_the_ridge", "ignored_uncertainty", "largest_for_smallest")
    assert [mistakes.mistake(name).share for name in dangerous] == [0.0] * 4


def test_choices_show_only_known_mistakes_and_lead_to_every_action() -> None:
    asked = catalogue.question(MODULE, "8.8")
    assert {one.action for one in asked.choices} == {"keep", "machine", "replace"}
    assert all(one.text.startswith(one.action.capitalize()) for one in asked.choices)
    assert {one.mistake for one in asked.choices if one.mistake} <= set(mistakes.mistakes())
    assert all((one.reason == "") == (one.mistake is not None) for one in asked.choices)
    words = [one.text for one in catalogue.question(MODULE, "8.5").choices]
    assert words == ["within", "outside", "too close to call"]


def test_unknown_names_are_refused_in_a_sentence() -> None:
    with pytest.raises(CourseError, match=r"08_rotor_measurement.*'99_clutch' was asked for"):
        marking.questions("99_clutch")
    with pytest.raises(CourseError, match=r"8\.1.*found '8\.42'"):
        catalogue.question(MODULE, "8.42")
    with pytest.raises(CourseError, match="found 'sneezed'"):
        marking.mistake_words("sneezed")
    with pytest.raises(CourseError, match="no part 9"):
        catalogue.lesson(MODULE, 9)
