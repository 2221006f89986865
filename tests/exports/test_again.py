"""What to teach again: the questions that earned least, and what went wrong in sentences, in their order."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC
from types import SimpleNamespace

import pytest
from brakecourse.classroom.records import ModuleRecords, QuestionRecord
from brakecourse.exports import again_sheets
from brakecourse.exports.again import ModuleAgain, again, small_class
from brakecourse.exports.findings import Finding, findings
from brakecourse.exports.item_analysis import Asked
from brakecourse.marking.mistakes import Mistake, mistakes

MODULE = "08_rotor_measurement"
ASKED = (
    Asked("8.2", "smallest", "Lesson 08, part 3: where", safety_critical=True),
    Asked("8.4", "run-out", "Lesson 08, part 5: dial"),
    Asked("8.10", "more", "Lesson 08, part 9: more"),
)


def record(
    student: str,
    question: str,
    points: float | None,
    out_of: float,
    mistake: str | None,
    status: str = "wrong",
) -> QuestionRecord:
    return QuestionRecord(student, question, points, out_of, status, mistake)


def of(*records: QuestionRecord) -> ModuleAgain:
    return again(ModuleRecords(MODULE, (), records), UTC)


def nobody_knows(_name: str) -> Mistake | None:
    return None


def many(question: str, mistake: str | None, students: range, lost: float = 2.0) -> list[QuestionRecord]:
    return [record(f"s{n:02}", question, 4 - lost, 4, mistake) for n in students]


def right(students: int) -> list[QuestionRecord]:
    return [record(f"s{n:02}", "8.2", 4, 4, None, "right") for n in range(students)]


def names(found: tuple[Finding, ...]) -> list[str]:
    return [one.name for one in found]


def test_the_hardest_question_comes_first_and_each_mistake_names_its_lesson() -> None:
    found = of(
        record("s01", "8.1", 8, 8, None, "right"),
        record("s02", "8.1", 0, 8, "half_millimetre_line"),
        record("s01", "8.4", 3, 6, "half_of_total"),
        record("s02", "8.4", 3, 6, "half_of_total"),
        record("s02", "8.9", None, 4, None),  # waits for a person: neither good nor bad
        record("s01", "8.2", 0, 3, "a_name_from_an_older_course"),
    )
    assert found.graded == 2
    # 0 of 3, then 6 of 12 and 8 of 16 marks, which are both one half.
    assert [(one.question, one.percent, one.marked) for one in found.hardest_first] == [
        ("8.2", 0.0, 1), ("8.1", 50.0, 2), ("8.4", 50.0, 2),
    ]  # fmt: skip
    assert found.sentences[0].startswith("2 of 2: half of total (8.4) – this is half of the total")
    assert " – Lesson 08, part 5: " in found.sentences[0] and found.sentences[0].endswith(".")
    assert any("half millimetre line (8.1)" in one and "Lesson 08, part 2" in one for one in found.sentences)
    older = next(one for one in found.sentences if "a name from an older course" in one)
    assert older == (
        "1 of 2: a name from an older course (8.2; safety-critical) – Lesson 08, part 3: where to measure."
    )


def test_nine_of_twenty_four_read_the_half_millimetre_line_wrong() -> None:
    """The sentence that an instructor plans the next evening by."""
    found = of(*many("8.1", "half_millimetre_line", range(9)), *right(24))
    (sentence,) = found.sentences
    assert sentence.startswith(
        "9 of 24: half millimetre line (8.1) – a half-millimetre line was probably read wrong"
    )
    assert sentence.endswith("– Lesson 08, part 2: the half-millimetre line.")
    assert sentence.count(". ") == 0  # one sentence
    assert found.findings[0].who == tuple(f"s{n:02}" for n in range(9))


def test_a_mistake_of_another_module_points_to_the_questions_own_lesson() -> None:
    elsewhere = SimpleNamespace(lesson="Lesson 02, part 1: elsewhere", likely="Off. More.")
    known: Callable[[str], Mistake | None] = lambda _name: elsewhere  # type: ignore[assignment,return-value]  # noqa: E731
    (found,) = findings(MODULE, ASKED, [record("s01", "8.4", 0, 6, "ten_times")], known)
    assert found.sentence == "1 of 1: ten times (8.4) – off – Lesson 08, part 5: dial."


def test_safety_comes_first_among_what_many_did_and_the_few_come_last() -> None:
    found = findings(
        MODULE,
        ASKED,
        [
            *right(30),
            *many("8.4", "most_made", range(20)),
            *many("8.2", "safety", range(20, 24)),
            *many("8.2", "safety_of_two", range(24, 26)),  # 2 of 30 are fewer than one in ten
            *many("8.4", "of_two", range(28, 30)),
            *many("8.10", "of_one", range(27, 28)),
        ],
        nobody_knows,
    )
    assert names(found) == ["safety", "most made", "safety of two", "of two", "of one"]
    assert [one.few for one in found] == [False, False, True, True, True]


def test_more_students_then_more_marks_then_a_name_then_the_order_of_questions() -> None:
    found = findings(
        MODULE,
        ASKED,
        [
            *right(12),
            *many("8.10", "three", range(3)),
            *many("8.10", "dear", range(3, 5), lost=4.0),
            *many("8.4", "cheap", range(3, 5)),
            *many("8.10", "cheap_later", range(6, 8)),
            *many("8.4", None, range(8, 10)),
        ],
        nobody_knows,
    )
    expected = ["three", "dear", "cheap", "cheap later", "marks lost without a named mistake"]
    assert names(found) == expected


def test_in_a_class_of_one_everything_is_told_safety_first() -> None:
    found = findings(
        MODULE, ASKED, [*many("8.4", "a", range(1), 4.0), *many("8.2", "b", range(1), 1.0)], nobody_knows
    )
    assert names(found) == ["b", "a"]


def test_lost_marks_without_a_name_are_told_by_what_happened() -> None:
    found = of(
        record("s01", "8.4", 0, 6, None, "no answer"),
        record("s02", "8.4", 0, 6, None, "not readable"),
        record("s03", "8.4", 1, 6, None),
        record("s04", "8.4", 6, 6, None, "right"),
        record("s05", "8.4", None, 6, None, "waiting for hand-grading"),
    )
    assert {one.kind: one.who for one in found.findings} == {
        "left empty": ("s01",), "could not be read": ("s02",), "no named mistake": ("s03",),
    }  # fmt: skip
    assert any(
        one.startswith("1 of 4: left empty (8.4, total indicated run-out) – Lesson 08")
        for one in found.sentences
    )


@pytest.mark.parametrize("records", [(), (record("s01", "8.4", None, 6, None, "waiting for hand-grading"),)])
def test_nothing_marked_is_nothing_to_teach_again(records: tuple[QuestionRecord, ...]) -> None:
    found = of(*records)
    assert (found.graded, found.findings, found.hardest_first, found.caution) == (0, (), (), "")
    assert again_sheets.what_went_wrong(found).rows == ()


def test_all_right_leaves_no_sentence_but_the_questions() -> None:
    found = of(*right(3))
    assert found.sentences == () and [one.percent for one in found.hardest_first] == [100.0]


def test_every_named_mistake_gives_one_sentence_with_its_lesson() -> None:
    for name, known in mistakes().items():
        one = findings(MODULE, ASKED, [record("s01", "8.4", 0, 6, name)], mistakes().get)[0]
        assert one.sentence.endswith(".") and ". " not in one.sentence, name
        assert one.likely and one.likely != known.likely and one.lesson in one.sentence


def test_a_small_class_is_told_what_it_can_not_tell() -> None:
    """Wilson's interval of 3 of 6, by statsmodels: 18.8 to 81.2 %."""
    assert "Only 6 students have marks: half of them would mean 19 to 81 %" in small_class(6)
    assert "that one would mean 21 to 100 %" in small_class(1)
    assert "2 would mean 21 to 94 %" in small_class(3)
    assert small_class(0) == small_class(20) == ""


def test_the_table_has_each_finding_with_the_students_it_concerns() -> None:
    table = again_sheets.what_went_wrong(of(record("=s01", "8.4", 3, 6, "half_of_total")))
    (row,) = (dict(zip((h.key for h in table.headings), row, strict=True)) for row in table.rows)
    assert (row["order"], row["students"], row["graded"], row["who"]) == (1, 1, 1, "'=s01")
    assert str(row["lost"]) == "3.00" and str(row["sentence"]).startswith("1 of 1: half of total")
