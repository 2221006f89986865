"""Making the assignment: the same when asked again, only the notebook copied, kept once work came in."""

from __future__ import annotations

import errno
import os
import sqlite3
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse import marking
from brakecourse.classroom import files
from brakecourse.classroom.engine import prepare, prepare_assignment
from brakecourse.classroom.engine.plan import grade_id_of, read_plan
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.classroom.nbgrader_config import config_text, write_nbgrader_config
from brakecourse.errors import CourseError
from nbgrader.api import Gradebook
from nbgrader.nbgraderformat import MetadataValidator
from traitlets.config import PyFileConfigLoader

from tests.classroom.engine_class import MODULE, fresh_class, hand_in, released


@pytest.fixture
def empty(tmp_path: Path) -> ClassFolder:
    """A class that was set nothing yet."""
    roster = tmp_path / "roster.csv"
    roster.write_text("student_id,first_name,last_name\ns01,Amara,Quillstone\n", encoding="utf-8")
    return new_class(tmp_path / "class", roster, name="Evening class")


@pytest.fixture
def own_solutions(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The course's instructor's notebook, as a copy that a test may change."""
    path = tmp_path / "solutions" / MODULE / f"{MODULE}.ipynb"
    path.parent.mkdir(parents=True)
    path.write_bytes((prepare.SOLUTIONS / MODULE / f"{MODULE}.ipynb").read_bytes())
    monkeypatch.setattr(prepare, "SOLUTIONS", tmp_path / "solutions")
    return path


def contents(path: Path) -> list[str]:
    with sqlite3.connect(path) as database:
        return list(database.iterdump())


def title_changed(path: Path, title: str) -> None:
    notebook = nbformat.read(path, 4)
    notebook.cells[0].source = title
    nbformat.write(notebook, path)


def test_the_handed_out_notebook_has_no_solution_and_asks_every_question(empty: ClassFolder) -> None:
    path = prepare_assignment(empty, MODULE)
    assert path == empty.release_notebook(MODULE)
    notebook = nbformat.read(path, 4)
    MetadataValidator().validate_nb(notebook)
    text = path.read_text(encoding="utf-8")
    assert "SOLUTION" not in text and "marking scheme" not in text
    graded = {
        c.metadata["nbgrader"]["grade_id"]
        for c in notebook.cells
        if c.metadata.get("nbgrader", {}).get("grade")
    }
    assert graded == {grade_id_of(question.id) for question in marking.questions(MODULE)}
    plan = read_plan(empty, MODULE)
    assert [question.id for question in plan.questions] == [q.id for q in marking.questions(MODULE)]
    assert plan.max_score == marking.total_points(MODULE)
    assert [question.id for question in plan.questions if question.by_hand] == ["8.9"]


def test_nbgrader_knows_the_assignment(empty: ClassFolder) -> None:
    prepare_assignment(empty, MODULE)
    with Gradebook(f"sqlite:///{empty.gradebook_file}") as book:
        (notebook,) = book.find_assignment(MODULE).notebooks
        assert sum(cell.max_score for cell in notebook.grade_cells) == marking.total_points(MODULE)


def test_only_the_notebook_is_copied(empty: ClassFolder, own_solutions: Path) -> None:
    (own_solutions.parent / "work_order.json").write_text('{"the example\'s": 1}')
    prepare_assignment(empty, MODULE)
    names = {path.name for folder in ("source", "release") for path in (empty.root / folder).rglob("*.*")}
    assert names == {f"{MODULE}.ipynb"}


def test_asking_again_changes_nothing(empty: ClassFolder) -> None:
    prepare_assignment(empty, MODULE)
    before = contents(empty.gradebook_file), empty.release_notebook(MODULE).stat().st_mtime_ns
    prepare_assignment(empty, MODULE)
    assert (contents(empty.gradebook_file), empty.release_notebook(MODULE).stat().st_mtime_ns) == before


def test_no_other_program_has_to_be_on_the_search_path(
    empty: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", "/nowhere")
    assert prepare_assignment(empty, MODULE).is_file()


def test_a_newer_notebook_of_the_course_is_taken_until_work_came_in(
    tmp_path: Path, own_solutions: Path
) -> None:
    cls = fresh_class(tmp_path)
    title_changed(own_solutions, "# Second version")
    prepare_assignment(cls, MODULE)
    assert released(cls).cells[0].source == "# Second version"
    hand_in(cls, "s01", released(cls))
    title_changed(own_solutions, "# Third version")
    prepare_assignment(cls, MODULE)
    assert released(cls).cells[0].source == "# Second version"


def test_the_due_time_stands_in_nbgraders_table_in_its_own_clock(empty: ClassFolder) -> None:
    prepare_assignment(empty, MODULE)
    later = empty.with_due(MODULE, datetime(2026, 6, 1, 18, 0, tzinfo=UTC))
    prepare_assignment(later, MODULE)
    with Gradebook(f"sqlite:///{empty.gradebook_file}") as book:
        assert book.find_assignment(MODULE).duedate == datetime(2026, 6, 1, 18, 0)


def test_an_unknown_module_is_one_sentence(empty: ClassFolder) -> None:
    with pytest.raises(CourseError, match="no instructor's notebook for module '99_none'"):
        prepare_assignment(empty, "99_none")
    assert not empty.gradebook_file.exists()


def test_a_folder_name_that_nbgrader_can_not_use_is_one_sentence(empty: ClassFolder, tmp_path: Path) -> None:
    moved = open_class(empty.root.rename(tmp_path / "class [2026]"))
    with pytest.raises(CourseError, match="takes for wildcards"):
        prepare_assignment(moved, MODULE)


def test_a_notebook_that_nbgrader_refuses_is_one_sentence(empty: ClassFolder, own_solutions: Path) -> None:
    notebook = nbformat.read(own_solutions, 4)
    notebook.cells.append(notebook.cells[0].copy())
    own_solutions.write_text(nbformat.writes(notebook), encoding="utf-8")
    with pytest.raises(CourseError, match="nbgrader could not make the assignment"):
        prepare_assignment(empty, MODULE)


@pytest.mark.parametrize("change", ["points", "missing"])
def test_a_notebook_that_does_not_fit_the_questions_is_refused(tmp_path: Path, change: str) -> None:
    cls = fresh_class(tmp_path)
    notebook = released(cls)
    cell = next(c for c in notebook.cells if c.metadata.get("nbgrader", {}).get("grade_id") == "q8_4")
    if change == "points":
        cell.metadata["nbgrader"]["points"] = 60
    else:
        notebook.cells.remove(cell)
    nbformat.write(notebook, cls.release_notebook(MODULE))
    with pytest.raises(CourseError, match="should have a graded cell 'q8_4' worth 6 points"):
        read_plan(cls, MODULE)


def test_a_full_disk_is_one_sentence(empty: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: Any) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(files.os, "fsync", full)
    with pytest.raises(CourseError, match="No space left on device"):
        prepare_assignment(empty, MODULE)
    monkeypatch.undo()
    assert prepare_assignment(empty, MODULE).is_file()


def test_nbgraders_settings_are_python_that_nbgrader_can_read_and_a_teachers_own_stay(
    empty: ClassFolder,
) -> None:
    path = write_nbgrader_config(empty)
    config = PyFileConfigLoader(path.name, path=str(path.parent)).load_config()
    assert config.CourseDirectory.root == str(empty.root)
    assert config.ClearSolutions.code_stub == {"python": ""}
    names = config.Autograde.sanitize_preprocessors + config.Autograde.autograde_preprocessors
    for name in names:
        module, _, step = name.rpartition(".")
        assert hasattr(__import__(module, fromlist=[step]), step), name
    order = [name.rpartition(".")[2] for name in config.Autograde.autograde_preprocessors]
    assert order.index("SandboxedExecute") < order.index("JudgeAnswers") < order.index("SaveAutoGrades")
    path.write_text(config_text() + "c.SandboxedExecute.trust_files = True\n", encoding="utf-8")
    write_nbgrader_config(open_class(empty.root))
    assert "\nc.SandboxedExecute.trust_files = True" in path.read_text(encoding="utf-8")
    assert os.listdir(empty.root / "autograded") == []
