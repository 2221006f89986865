"""What to teach again: the questions that earned least, and the mistakes in sentences."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from brakecourse.classroom.records import QuestionRecord
from brakecourse.exports import again

MODULE = "08_rotor_measurement"


def record(
    student: str, question: str, points: float | None, out_of: float, mistake: str | None
) -> QuestionRecord:
    return QuestionRecord(student, question, points, out_of, "wrong", mistake)


def test_the_hardest_question_comes_first_and_each_mistake_names_its_lesson(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    records = [
        record("s01", "8.1", 8, 8, None),
        record("s02", "8.1", 0, 8, "half_millimetre_line"),
        record("s01", "8.4", 3, 6, "half_of_total"),
        record("s02", "8.4", 3, 6, "half_of_total"),
        record("s02", "8.9", None, 4, None),  # waits for a person: neither good nor bad
        record("s01", "8.2", 0, 3, "a_name_from_an_older_course"),
    ]
    monkeypatch.setattr(again, "question_records", lambda _cls, _module: records)
    nobody: Any = SimpleNamespace()
    found = again.module_again(nobody, MODULE)
    assert found.graded == 2
    # 0 of 3, then 6 of 12 and 8 of 16 marks, which are both one half.
    assert [(one.question, one.percent, one.students) for one in found.questions] == [
        ("8.2", 0.0, 1), ("8.1", 50.0, 2), ("8.4", 50.0, 2),
    ]  # fmt: skip
    assert found.sentences[0].startswith("2 of 2: half of total (8.4). This is half of the total")
    assert found.sentences[0].endswith("Lesson 08, part 5: " + found.sentences[0].split("part 5: ")[1])
    assert any("half millimetre line (8.1)" in one and "Lesson 08, part 2" in one for one in found.sentences)
    assert any(one == "1 of 2: a name from an older course (8.2)." for one in found.sentences)


def test_a_mistake_of_another_module_points_to_the_questions_own_lesson(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    strange = SimpleNamespace(
        module="02_master_cylinder", lesson="Lesson 02, part 1: elsewhere", likely="Off."
    )
    monkeypatch.setattr(again, "mistakes", lambda: {"ten_times": strange})
    monkeypatch.setattr(
        again, "question_records", lambda _cls, _module: [record("s01", "8.4", 0, 6, "ten_times")]
    )
    nobody: Any = SimpleNamespace()
    (sentence,) = again.module_again(nobody, MODULE).sentences
    assert "Lesson 08, part 5" in sentence and "Lesson 02" not in sentence
