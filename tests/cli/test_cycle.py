"""A module's whole life at the command line, with two students, one of whom hands in."""

from __future__ import annotations

import csv
import zipfile
from pathlib import Path

import nbformat
import openpyxl
import pytest
from brakecourse.bench.draw import Draw
from brakecourse.classroom.assign import read_case
from brakecourse.classroom.engine import grading
from brakecourse.classroom.folder import open_class
from brakecourse.cli import main
from brakecourse.demo.homework import fill_in
from brakecourse.marking.simulated import Student

from tests.classroom.shared_farm import shared_farm

MODULE = "08_rotor_measurement"

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class that was handed out, and an inbox with the work of one student."""
    folder = tmp_path_factory.mktemp("cycle")
    rows = ["student_id,first_name,last_name", "s01,Amara,Quillstone", "s02,=Bruno,Fennimoor"]
    (folder / "roster.csv").write_text("\n".join(rows), encoding="utf-8")
    new = ["class", "new", str(folder / "class"), "--roster", str(folder / "roster.csv"), "--name", "Evening"]
    assert main([*new, "--cell-timeout", "30"]) == 0
    assert main(["assign", str(folder / "class"), MODULE, "--due", "2025-12-05 18:00"]) == 0
    with zipfile.ZipFile(folder / "class" / "kits" / MODULE / "s01.zip") as archive:
        archive.extractall(folder / "inbox")
    path = folder / "inbox" / f"{MODULE}-s01" / f"{MODULE}-s01.ipynb"
    notebook = nbformat.read(path, as_version=4)
    case = read_case(open_class(folder / "class"), MODULE, "s01")
    fill_in(notebook, Student(1.0).answers(case, Draw(5)))
    nbformat.write(notebook, path)
    return folder


def test_from_hand_in_to_exported_grades(
    place: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    cls = str(place / "class")

    def give(*arguments: str) -> str:
        assert main(list(arguments)) == 0, capsys.readouterr().err
        out = capsys.readouterr().out
        assert "Quillstone" not in out and "Fennimoor" not in out
        assert out.rstrip().splitlines()[-1].startswith("Next: ")
        return " ".join(out.split())

    out = give("collect", cls, MODULE, str(place / "inbox"), "--received", "2025-12-05 18:00")
    assert "Handed in: 1 of 2 students; missing: 1." in out and "in time" in out

    out = give("grade", cls, MODULE)
    assert "waiting for hand-grading" in out and "not handed in" in out
    assert f"Next: brakecourse hand-mark {cls} {MODULE} s01 8.9 POINTS" in out
    # From here on it no longer matters how workers start.
    monkeypatch.setattr(grading, "LocalFarm", lambda _workers: shared_farm())

    assert main(["hand-mark", cls, MODULE, "s01", "8.9", "99"]) == 1
    assert capsys.readouterr().err.count("\n") == 1
    out = give("hand-mark", cls, MODULE, "s01", "8.9", "3.5", "--comment", "Clear.")
    assert "3.5 points are in the gradebook. Still waiting: 0 answers." in out
    assert f"Next: brakecourse feedback {cls} {MODULE}" in out

    assert ": 1 page, in a folder" in give("feedback", cls, MODULE)
    assert "Clear." in (place / "class" / "feedback" / "s01" / f"{MODULE}.html").read_text(encoding="utf-8")

    out = give("excuse", cls, MODULE, "s02", "--why", "Ill.")
    assert "s02 is excused" in out
    out = give("export-grades", cls)
    assert "Not final" not in out
    with (place / "class" / "exports" / "grades.csv").open(encoding="utf-8", newline="") as handle:
        ours, excused = csv.DictReader(handle)
    assert (ours["status"], ours["final_score"], ours["days_late"]) == ("graded", "39.50", "0")
    assert (excused["status"], excused["why"], excused["first_name"]) == ("excused", "Ill.", "'=Bruno")
    assert openpyxl.load_workbook(place / "class" / "exports" / "grades.xlsx")["Grades"].max_row == 3

    give("excuse", cls, MODULE, "s02", "--end")
    assert "Not final: 1 row;" in give("export-grades", cls)
    out = give("class", "show", cls)
    assert MODULE in out and "Friday 5 December 2025, 18:00 (UTC time)" in out

    out = give("teach-again", cls, "all")
    assert f"{MODULE}: work graded of 1 student." in out
    assert "8.9" in out and "Lesson 08, part 8" in out  # 3.5 of 4 marks: the one question with marks to gain
    assert "Handed in: 1 of 2 students; missing: 1." in give("collect", cls, "all", str(place / "inbox"))
    assert ": 1 page, in a folder" in give("feedback", cls, "all")
    with (place / "class" / "exports" / "results.csv").open(encoding="utf-8", newline="") as handle:
        counted = {row["student_id"]: row for row in csv.DictReader(handle)}
    assert (counted["s01"]["final_score"], counted["s01"]["attempts"]) == ("39.50", "1")

    again = give("grade", cls, "all")
    assert "graded" in again and f"Next: brakecourse feedback {cls} all" in again
    assert "39.50" in give("grade", cls, MODULE, "--again", "--student", "s01")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["grade", "{cls}", MODULE, "--student", "s99"], "No student 's99' is in this class's roster"),
        (["hand-mark", "{cls}", MODULE, "s99", "8.9", "1"], "No student 's99'"),
        (["hand-mark", "{cls}", MODULE, "s01", "9.9", "1"], "has no question '9.9'"),
        (["hand-mark", "{cls}", MODULE, "s01", "8.9", "nan"], "a number such as 2.5 was expected, but 'nan'"),
        (["excuse", "{cls}", MODULE, "s99"], "No student 's99'"),
        (["collect", "{cls}", MODULE, "{cls}"], "holds the class folder or lies in it"),
        (["collect", "{cls}", MODULE, "{place}/none.zip"], "nothing to collect at"),
    ],
)
def test_unknown_people_questions_and_places_are_refused(
    place: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], words: str
) -> None:
    assert main([argument.format(cls=place / "class", place=place) for argument in arguments]) == 1
    said = capsys.readouterr()
    assert words in said.err and said.err.count("\n") == 1
