"""The anonymous copy: the same marks and figures, and nothing by which anybody could be recognised."""

from __future__ import annotations

import json
import random
import sqlite3
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from brakecourse.classroom.anonymous import NAME, anonymous_copy
from brakecourse.classroom.engine.hand import excuse, set_hand_mark
from brakecourse.classroom.engine.ledger import Ledger, Outcome, QuestionMark
from brakecourse.classroom.engine.plan import read_case, read_plan
from brakecourse.classroom.engine.submissions import find_submission
from brakecourse.classroom.feedback import page
from brakecourse.classroom.folder import ClassFolder, open_class
from brakecourse.classroom.records import GradeRecord, class_records
from brakecourse.classroom.results import student_results
from brakecourse.errors import CourseError
from brakecourse.exports.badge_key import KEY_NAME, make_key
from brakecourse.exports.desk import preview, write
from brakecourse.exports.mastery import everyones_mastery
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import select

from tests.classroom.test_privacy_forget import contents, grep
from tests.exports.small_class import ABLE, MODULES, WAITING, small_class

LETTER = "Dear customer, greetings from Amara of the Thursday group."
COMMENT = "Well said, Amara."
REASON = "Ill, see the doctor's note."
FILE_NAME = "amaras-rotor.ipynb"
STRANGE = "micrometer of grandfather"
CLASS_WORDS = ("Big evening class (invented)", "Autumn of the blue workshop")


@pytest.fixture(scope="module")
def cls(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    found = small_class(tmp_path_factory.mktemp("anonymous"))
    text = found.settings_file.read_text(encoding="utf-8").replace('term = ""', f'term = "{CLASS_WORDS[1]}"')
    found.settings_file.write_text(text, encoding="utf-8")
    found = open_class(found.root)
    set_hand_mark(found, MODULES[1], ABLE, "8.9", 4, COMMENT)
    excuse(found, MODULES[0], "s003", REASON)
    with Ledger(found) as ledger, ledger.transaction() as book:
        book.db.get(QuestionMark, (MODULES[1], ABLE, "8.9")).answer = LETTER
        book.db.get(QuestionMark, (MODULES[1], ABLE, "8.9")).given = LETTER
        odd = book.db.get(QuestionMark, (MODULES[1], WAITING, "8.2"))
        odd.answer, odd.given, odd.words = STRANGE, STRANGE, f"'{STRANGE}' is no number."
        for outcome in book.db.scalars(select(Outcome)):
            outcome.healed = [f"The notebook was called '{FILE_NAME}'; it was taken as the exercise."]
            if outcome.case_version:
                outcome.case_version = read_case(found, outcome.module, outcome.student_id).version
    make_key(found)
    write(found, preview(found, "results"))
    return found


@pytest.fixture(scope="module")
def copy(cls: ClassFolder, tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    return anonymous_copy(cls, tmp_path_factory.mktemp("copy") / "for discussion", random.Random(1))


def who_is_who(cls: ClassFolder) -> dict[str, str]:
    """The new id of each student, drawn as the copy's was."""
    old = list(cls.student_ids)
    random.Random(1).shuffle(old)
    return {student: f"a{number:02}" for number, student in enumerate(old, start=1)}


def test_nobody_can_be_recognised(cls: ClassFolder, copy: ClassFolder) -> None:
    """Every byte is searched: ids, names, addresses, own words, comments, reasons, file names, the class."""
    words = [word for one in cls.roster for word in (one.student_id, one.first_name, one.email)]
    words += ["Quillstone", LETTER, "Thursday", COMMENT, REASON, FILE_NAME, STRANGE, *CLASS_WORDS]
    assert all(grep(cls.root, *words).values())
    assert grep(copy.root, *words) == {word: [] for word in words}
    assert copy.settings.name == NAME and copy.settings.term == ""


def without_people(record: GradeRecord, new_id: dict[str, str]) -> GradeRecord:
    new = new_id[record.student_id]
    return replace(
        record,
        student_id=new,
        first_name="Student",
        last_name=new.upper(),
        why="",
        healed=(),
        handed_in_at=None,
    )


def test_marks_and_figures_are_the_same(cls: ClassFolder, copy: ClassFolder) -> None:
    new_id = who_is_who(cls)
    for old, new in zip(class_records(cls), class_records(copy), strict=True):
        assert old.module == new.module
        assert {replace(one, why="", handed_in_at=None) for one in new.grades} == {
            without_people(one, new_id) for one in old.grades
        }
        assert {one.status for one in new.grades} >= {"graded"}
        assert set(new.questions) == {replace(q, student_id=new_id[q.student_id]) for q in old.questions}
    mastery = {replace(one, student_id=new_id[one.student_id]) for one in everyones_mastery(cls)}
    assert set(everyones_mastery(copy)) == mastery


def test_times_are_whole_days_from_the_due_time(cls: ClassFolder, copy: ClassFolder) -> None:
    new_id = who_is_who(cls)
    old = {(m.module, new_id[g.student_id]): g for m in class_records(cls) for g in m.grades}
    seen = 0
    for module in class_records(copy):
        due = copy.settings.due_utc(module.module)
        assert due is not None
        for grade in module.grades:
            was = old[module.module, grade.student_id]
            assert grade.days_late == was.days_late
            if grade.handed_in_at is None or was.handed_in_at is None:
                assert grade.handed_in_at is was.handed_in_at
                continue
            seen += 1
            assert (grade.handed_in_at - due) % timedelta(days=1) == timedelta()
            assert timedelta() <= grade.handed_in_at - was.handed_in_at < timedelta(days=1)
    assert seen > 3 and any(one.days_late for one in old.values())
    connection = sqlite3.connect(copy.gradebook_file)
    for table, column in (
        ("brakecourse_outcome", "graded_at"), ("brakecourse_hand_mark", "given_at"),
        ("brakecourse_history", "at"), ("submitted_assignment", "timestamp"),
    ):  # fmt: skip
        times = [str(row[0]) for row in connection.execute(f"SELECT {column} FROM {table}")]
        assert times and all("18:00:00" in one for one in times), (table, times)
    connection.close()


@given(minutes=st.integers(-30_000, 30_000), extra=st.integers(0, 5000), zone=st.sampled_from([UTC, None]))
def test_a_coarse_time_is_as_many_days_late(minutes: int, extra: int, zone: object) -> None:
    from brakecourse.classroom.anonymous import _Work
    from brakecourse.classroom.lateness import days_late

    due, more = datetime(2026, 3, 6, 18, 0, tzinfo=UTC), timedelta(minutes=extra)
    when = due + timedelta(minutes=minutes)

    class Settings:
        @staticmethod
        def due_utc(_: str) -> datetime:
            return due

    class Class:
        settings = Settings

    work = object.__new__(_Work)
    work._cls, work._extensions = Class, {("m", "s"): more}  # type: ignore[assignment]
    coarse = work.day("m", "s", when if zone else when.replace(tzinfo=None)).replace(tzinfo=UTC)
    assert days_late(coarse, due, more) == days_late(when, due, more)
    assert timedelta() <= coarse - when < timedelta(days=1)


def test_nothing_in_the_copy_looks_as_if_it_had_to_be_graded_again(
    cls: ClassFolder, copy: ClassFolder
) -> None:
    with Ledger(copy) as ledger, ledger.reading() as book:
        outcomes = [row for row in book.db.scalars(select(Outcome)) if row.submission_sha256]
        assert len(outcomes) >= 4
        for row in outcomes:
            submission = find_submission(copy, read_plan(copy, row.module), row.student_id)
            if submission is None:  # what s003 had handed in is not there
                assert row.student_id == who_is_who(cls)["s003"]
                continue
            assert submission.sha256 == row.submission_sha256
            assert read_case(copy, row.module, row.student_id).version == row.case_version
    # One who handed something newer in since is still told of.
    changed = small = cls.submitted_notebook(MODULES[1], ABLE)
    content = small.read_bytes()
    changed.unlink()
    changed.write_bytes(content + b"\n")
    try:
        later = anonymous_copy(cls, copy.root.parent / "later", random.Random(1))
        whys = {
            one.student_id: one.why
            for m in class_records(later)
            for one in m.grades
            if m.module == MODULES[1]
        }
        assert "newer was handed in" in whys[who_is_who(cls)[ABLE]]
        assert sum("newer" in why for why in whys.values()) == 1
    finally:
        changed.write_bytes(content)


def test_the_secret_the_key_and_what_went_out_stay_behind(cls: ClassFolder, copy: ClassFolder) -> None:
    assert copy.secret != cls.secret and not (copy.root / KEY_NAME).exists()
    assert copy.secret_file.stat().st_mode & 0o777 == 0o600
    files = contents(copy.root)
    assert not [
        name
        for name in files
        if name.split("/")[0] in ("exports", "kits", "received", "feedback", "autograded")
    ]
    secret = cls.secret.hex().encode()
    assert not any(secret in content for content in files.values())


def test_the_order_of_the_students_tells_nothing(cls: ClassFolder, copy: ClassFolder) -> None:
    new_id = who_is_who(cls)
    assert [new_id[one] for one in cls.student_ids] != sorted(new_id.values())
    connection = sqlite3.connect(copy.gradebook_file)
    for table, column in (("student", "id"), ("brakecourse_history", "student_id")):
        found = [row[0] for row in connection.execute(f"SELECT {column} FROM {table} ORDER BY rowid")]
        assert found == sorted(found) and len(found) >= 4
    own = [row[0] for row in connection.execute("SELECT id FROM submitted_assignment ORDER BY rowid")]
    assert own == sorted(own)
    connection.close()
    orders = {tuple(anonymous_ids(cls, seed)) for seed in range(20)}
    assert len(orders) > 5


def anonymous_ids(cls: ClassFolder, seed: int) -> list[str]:
    from brakecourse.classroom.anonymous import _new_ids

    return [_new_ids(cls, random.Random(seed))[one] for one in cls.student_ids]


def test_the_answers_that_tell_nothing_stay(cls: ClassFolder, copy: ClassFolder) -> None:
    new_id = who_is_who(cls)
    with Ledger(cls) as ledger, ledger.reading() as book:
        old = {
            (r.module, new_id[r.student_id], r.question_id): (r.answer, r.given)
            for r in book.db.scalars(select(QuestionMark))
        }
    with Ledger(copy) as ledger, ledger.reading() as book:
        new = {
            (r.module, r.student_id, r.question_id): (r.answer, r.given)
            for r in book.db.scalars(select(QuestionMark))
        }
    assert new.keys() == old.keys()
    kept = [key for key, value in new.items() if value == old[key] and value[0] is not None]
    removed = [key for key, value in new.items() if value[1] == "(text removed)"]
    assert len(kept) > len(new) / 2 and (MODULES[1], new_id[WAITING], "8.2") in removed
    assert {json.dumps(new[key]) for key in removed} == {'[null, "(text removed)"]'}
    assert any(isinstance(old[key][0], str) for key in kept)  # words that the question itself offered


def test_its_pages_can_still_be_shown(copy: ClassFolder) -> None:
    graded = [one for one in student_results(copy, MODULES[1]) if one.record.status == "graded"]
    assert graded and "Student A0" not in page(copy, graded[0])[:0] and page(copy, graded[0]).startswith("<!")


def test_a_folder_that_is_there_and_one_inside_are_refused(cls: ClassFolder, tmp_path: Path) -> None:
    for folder in (tmp_path, cls.root / "inside", tmp_path / "no" / "where"):
        before = sorted(cls.root.iterdir())
        with pytest.raises(CourseError):
            anonymous_copy(cls, folder)
        assert sorted(cls.root.iterdir()) == before


def test_a_fault_leaves_no_half_copy(
    cls: ClassFolder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fault(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("brakecourse.classroom.anonymous.copy_rows", fault)
    with pytest.raises(CourseError, match="No space left"):
        anonymous_copy(cls, tmp_path / "copy")
    assert list(tmp_path.iterdir()) == []
