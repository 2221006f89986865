"""The demo's parts, without running it: whose folder it may remove, and how answers get into a notebook."""

from __future__ import annotations

from pathlib import Path

import nbformat
import pytest
from brakecourse import marking
from brakecourse.bench.draw import Draw
from brakecourse.demo import cycle, run_demo
from brakecourse.demo.homework import as_typed, fill_in
from brakecourse.errors import CourseError
from brakecourse.marking.simulated import Student
from brakecourse.workorder.answers import look_at
from brakecourse.workorder.order import parse


def test_a_folder_of_somebody_elses_is_not_touched(tmp_path: Path) -> None:
    (tmp_path / "thesis.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(CourseError, match="holds something that the demo did not make"):
        run_demo(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["thesis.txt"]


def test_an_earlier_demo_may_be_kept(tmp_path: Path) -> None:
    (tmp_path / "d").mkdir()
    (tmp_path / "d-2").mkdir()
    assert cycle._beside(tmp_path / "d") == tmp_path / "d-3"
    assert cycle._beside(tmp_path / "e") == tmp_path / "e"


def test_an_earlier_demo_is_removed_whole_with_its_read_only_files(tmp_path: Path) -> None:
    (tmp_path / cycle.MARKER).write_text("x", encoding="utf-8")
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "kept.ipynb").write_text("x", encoding="utf-8")
    (tmp_path / "a" / "kept.ipynb").chmod(0o444)
    (tmp_path / "a").chmod(0o555)
    cycle._remove(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_an_answer_without_a_cell_is_said() -> None:
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell('hand_in("8.1", a)')])
    with pytest.raises(CourseError, match="no cell that sets 'a'"):
        fill_in(notebook, {"8.1": 3.0})
    with pytest.raises(CourseError, match=r"no cell for the answers 8\.9"):
        fill_in(notebook, {"8.9": "words"})


def test_answers_are_written_where_none_stood() -> None:
    cells = [
        nbformat.v4.new_code_cell("a_mm = None  # in millimetres"),
        nbformat.v4.new_code_cell('hand_in("8.1", a_mm)'),
        nbformat.v4.new_code_cell("b = None"),
        nbformat.v4.new_code_cell('hand_in("8.2", b)'),
        nbformat.v4.new_markdown_cell("*Write here*", metadata={"nbgrader": {"grade_id": "q8_9"}}),
    ]
    notebook = nbformat.v4.new_notebook(cells=cells)
    fill_in(notebook, {"8.1": [1.5, 2.0], "8.2": None, "8.9": "It's done."})
    assert [cell.source for cell in notebook.cells[::2]] == [
        "a_mm = [1.5, 2.0]  # in millimetres",
        "b = None",
        "It's done.",
    ]


@pytest.mark.parametrize(
    ("text", "points"), [("", 0), ("One.", 1), ("It is 1.5 mm. Two!", 2), ("A. " * 9, 4)]
)
def test_the_demos_rule(text: str, points: float) -> None:
    assert cycle.demo_points(text)[0] == points


@pytest.mark.parametrize("module", marking.MODULES)
def test_what_a_perfect_student_types_is_taken_and_earns_every_mark(module: str) -> None:
    """The way of an answer from the typed line over the hand-in cell to the marks, without a kernel."""
    case = marking.draw_sealed_case(module, "s01", bytes(32))
    typed = as_typed(case, Student(1.0, frozenset()).answers(case, Draw(1)))
    asked = [
        one for one in parse(case.work_order()).questions.values() if one.kind not in ("written", "task")
    ]
    looks = {one.id: look_at(one, typed[one.id]) for one in asked}
    assert [look.problem for look in looks.values() if look.problem] == []
    marks = marking.judge_all(case, {question: look.answer for question, look in looks.items()})
    assert {one.id: marks[one.id].points for one in asked} == {one.id: one.points for one in asked}
