"""No attack earns a point, writes a file outside its scratch folder, reads a secret, or costs anybody else.

All attacks are one class, graded in one run; honest students sit among the attackers and keep all marks.
"""

from __future__ import annotations

import contextlib
import csv
import sysconfig
import time
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import psutil
import pytest
from brakecourse import marking
from brakecourse.classroom.engine.database import database_url
from brakecourse.classroom.records import Status
from bs4 import BeautifulSoup
from openpyxl import load_workbook
from sqlalchemy import create_engine, inspect, text

from tests.attacks.attacked import (
    CANARY,
    CANARY_VARIABLE,
    FULL_MARKS,
    WRONG,
    Attacked,
    attacked_class,
    fingerprints,
)
from tests.attacks.on_the_screen import ACT
from tests.attacks.registry import ATTACKS, MARK
from tests.classroom.engine_class import MODULE, case_of

pytestmark = pytest.mark.sandbox
STARTS_A_FORMULA = tuple("=+-@＝＋－＠\t\r")


@pytest.fixture(scope="module")
def attacked(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Attacked]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(CANARY_VARIABLE, CANARY)
        with attacked_class(tmp_path_factory.mktemp("attacks")) as done:
            yield done


def test_there_are_enough_attacks_and_each_says_what_it_tries() -> None:
    assert len(ATTACKS) >= 40
    for one in ATTACKS.values():
        assert one.tries.endswith(".") and one.ours and one.status in get_args(Status), one.name


def test_the_wrong_answers_really_earn_nothing(attacked: Attacked) -> None:
    case = case_of(attacked.cls, attacked.honest[0])
    for question, answer in WRONG.items():
        others = {other: value for other, value in WRONG.items() if other != question}
        assert marking.judge(case, question, answer, others).points == 0


@pytest.mark.parametrize("name", ATTACKS)
def test_no_attack_earns_a_point(attacked: Attacked, name: str) -> None:
    student = attacked.student_of[name]
    record = attacked.records[student]
    assert record.status == ATTACKS[name].status, (record.why, record.healed)
    found = {question: one for (who, question), one in attacked.answers.items() if who == student}
    stored = {key: points for key, points in attacked.points.items() if key[0] == student}
    if record.status in ("graded", "waiting for hand-grading"):
        assert {question: found[question].points for question in FULL_MARKS} == dict.fromkeys(FULL_MARKS, 0)
        assert {stored[student, f"q8_{n}"] for n in range(1, 9)} == {0}
    else:
        assert record.final_score is None and record.raw_score is None
        assert {one.points for one in found.values()} <= {None} and set(stored.values()) <= {None}


@pytest.mark.parametrize("name", [one.name for one in ATTACKS.values() if one.said])
def test_the_instructor_reads_in_words_what_was_odd(attacked: Attacked, name: str) -> None:
    student = attacked.student_of[name]
    record = attacked.records[student]
    refused = [f"{one.where}: {one.why}" for one in attacked.collected.refused if student in one.where]
    assert ATTACKS[name].said in " ".join([record.why, *record.healed, *refused])


def test_every_submission_ends_in_one_status(attacked: Attacked) -> None:
    records = list(attacked.records.values())
    assert [one.student_id for one in records] == list(attacked.cls.student_ids)
    for one in records:
        assert one.status in get_args(Status)
        # Points and a status that says there are none never go together, and what failed says why.
        assert (one.final_score is not None) == (one.status == "graded")
        assert one.why or one.status in ("graded", "waiting for hand-grading", "not handed in")
    assert {one.status for one in records} == set(get_args(Status))
    assert [row.student_id for row in attacked.report.rows] == list(attacked.cls.student_ids)


def test_the_honest_students_keep_all_marks(attacked: Attacked) -> None:
    for student in attacked.honest:
        own = {question: attacked.answers[student, question].points for question in FULL_MARKS}
        assert own == FULL_MARKS, student
        record = attacked.records[student]
        assert (record.status, record.why, record.healed) == ("waiting for hand-grading", "", ())


def test_nothing_secret_is_in_what_anybody_gets(attacked: Attacked) -> None:
    victim = attacked.honest[0]
    places = [path for path in (attacked.cls.root / "exports").rglob("*") if path.is_file()]
    for student in attacked.student_of.values():
        for folder in ("autograded", "feedback"):
            places += [path for path in (attacked.cls.root / folder / student).rglob("*") if path.is_file()]
    assert len(places) > len(ATTACKS)
    for path in places:
        content = path.read_text(encoding="utf-8", errors="replace")
        assert not [one for one in attacked.canaries if one in content], path
        assert "BEGIN SOLUTION" not in content and "opened " not in content, path
    for row in database_rows(attacked):
        assert victim in row or not [one for one in attacked.canaries if one in row], row


def database_rows(attacked: Attacked) -> list[str]:
    engine = create_engine(database_url(attacked.cls))
    with engine.connect() as book:
        names = inspect(book).get_table_names()
        rows = [str(tuple(row)) for name in names for row in book.execute(text(f'SELECT * FROM "{name}"'))]
    engine.dispose()
    return rows


def test_no_file_of_the_class_was_touched_and_none_made_outside(attacked: Attacked) -> None:
    time.sleep(1)  # a daemon that lived on would write now
    assert fingerprints(attacked.cls) == attacked.before
    assert [path.name for path in attacked.where.outside.iterdir()] == ["password.txt"]
    homes = [Path.home() / ".ipython/profile_default/startup", Path.home() / ".config/matplotlib"]
    shared = [
        Path(name) for name in ("/tmp", "/var/tmp", "/dev/shm", "/usr/lib", sysconfig.get_paths()["purelib"])
    ]
    for folder in (*homes, *shared, attacked.cls.root.parent):
        assert [path for path in folder.glob(f"*{MARK}*") if path.suffix != ".sock"] == []


def test_the_gradebook_holds_nothing_that_grading_did_not_put_there(attacked: Attacked) -> None:
    engine = create_engine(database_url(attacked.cls))
    with engine.connect() as book:
        by_hand = book.execute(text("SELECT count(*) FROM grade WHERE manual_score IS NOT NULL")).scalar()
        triggers = book.execute(
            text("SELECT count(*) FROM sqlite_master WHERE sql LIKE '%score = 99%'")
        ).scalar()
    engine.dispose()
    assert (by_hand, triggers) == (0, 0)


def test_no_process_is_left(attacked: Attacked) -> None:
    """Nothing works on, and nothing stands still half-way. What the grader itself keeps is idle."""
    before = cpu_seconds()
    time.sleep(1)
    after = cpu_seconds()
    assert [pid for pid, seconds in after.items() if seconds - before.get(pid, seconds) > 0.5] == []
    family = psutil.Process().children(recursive=True)
    assert [one for one in family if _status(one) == psutil.STATUS_STOPPED] == []


def cpu_seconds() -> dict[int, float]:
    found = {}
    for process in psutil.Process().children(recursive=True):
        with contextlib.suppress(psutil.Error):
            found[process.pid] = sum(process.cpu_times()[:2])
    return found


def _status(process: psutil.Process) -> str:
    try:
        return str(process.status())
    except psutil.Error:
        return "gone"


def test_nobody_called_from_inside(attacked: Attacked) -> None:
    attacked.listeners.call_all()
    assert sorted(attacked.listeners.heard) == [b"tcp", b"udp", b"unix", b"unix"]


@pytest.mark.parametrize("name", [one.name for one in ATTACKS.values() if one.group == "The screen"])
def test_nothing_that_a_student_wrote_is_live_on_any_page(attacked: Attacked, name: str) -> None:
    student = attacked.student_of[name]
    soup = BeautifulSoup(
        attacked.cls.feedback_page(MODULE, student).read_text(encoding="utf-8"), "html.parser"
    )
    assert live(soup) == []


def live(soup: BeautifulSoup) -> list[str]:
    """What could act, in a page that has nothing of the kind of its own."""
    kinds = [
        "script",
        "iframe",
        "object",
        "embed",
        "form",
        "base",
        "link",
        "img",
        "details[ontoggle]",
        "button",
    ]
    found = [str(tag) for tag in soup.select(", ".join(kinds))]
    for tag in soup.find_all(True):
        found += [str(tag) for name in tag.attrs if name.lower().startswith("on")]
        found += [str(tag) for value in tag.attrs.values() if ACT in str(value)]
    return found


def test_no_table_runs_a_formula(attacked: Attacked) -> None:
    folder = attacked.cls.root / "exports"
    for path in folder.rglob("*.xlsx"):
        for sheet in load_workbook(path):
            cells = [cell for row in sheet.iter_rows() for cell in row]
            assert [cell.value for cell in cells if cell.data_type == "f"] == [], path
            texts = [cell.value for cell in cells if isinstance(cell.value, str)]
            assert [value for value in texts if value.startswith(STARTS_A_FORMULA)] == [], path
    for path in folder.rglob("*.csv"):
        with path.open(encoding="utf-8-sig", newline="") as stream:
            values = [value for row in csv.reader(stream) for value in row]
        assert values and [v for v in values if v.startswith(STARTS_A_FORMULA) and not _number(v)] == [], path


def _number(value: str) -> bool:
    try:
        float(value)
    except ValueError:
        return False
    return True
