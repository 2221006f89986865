"""The exercises are the exact release of the solutions, hold no answers, and run for whoever opens them."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse import marking
from brakecourse.classroom import release
from brakecourse.errors import CourseError
from brakecourse.marking import SealedCase, judge
from brakecourse.marking.basis import ARROW
from brakecourse.marking.sealed import BY_HAND
from brakecourse.marking.worked import worked_letters, worked_values
from brakecourse.tables import read_table
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output
from traitlets.config import Config

ROOT = Path(__file__).resolve().parents[2]
ANSWER = "application/vnd.brakecourse.answer+json"

pytestmark = pytest.mark.parametrize("module", marking.MODULES)


def solved(module: str) -> Any:
    return nbformat.read(ROOT / "solutions" / module / f"{module}.ipynb", as_version=4)


def exercise(module: str) -> Any:
    return nbformat.read(ROOT / "exercises" / module / f"{module}.ipynb", as_version=4)


def sealed_example(module: str) -> SealedCase:
    text = (ROOT / "solutions" / module / "case.json").read_text(encoding="utf-8")
    return SealedCase.model_validate({**json.loads(text), "order": {}})


def handed_in(notebook: Any) -> dict[str, dict[str, Any]]:
    bundles = [
        output["data"][ANSWER]
        for cell in notebook.cells
        for output in cell.get("outputs", [])
        if ANSWER in output.get("data", {})
    ]
    return {bundle["question"]: bundle for bundle in bundles}


def run_in(folder: Path, notebook: Any, monkeypatch: pytest.MonkeyPatch) -> Any:
    """Run a notebook's code beside its work order, in this very process: a kernel takes seconds to start.

    That each one runs in a kernel of its own, too, is nbval's business.
    """
    monkeypatch.chdir(folder)
    InteractiveShell.clear_instance()
    shell = InteractiveShell.instance(config=Config({"HistoryManager": {"enabled": False}}))
    for cell in notebook.cells:
        if cell.cell_type != "code":
            continue
        with capture_output() as captured:
            result = shell.run_cell(cell.source, store_history=False)
        assert result.success and not captured.stderr, (cell.id, captured.stdout)
        cell.outputs = [nbformat.v4.new_output("display_data", data=one.data) for one in captured.outputs]
    InteractiveShell.clear_instance()
    return notebook


# --- up to date ------------------------------------------------------------------------------------


def test_the_exercise_is_the_release_of_the_solution(module: str) -> None:
    path = ROOT / "exercises" / module / f"{module}.ipynb"
    assert path.read_text(encoding="utf-8") == release.as_text(release.released(solved(module))), (
        "run python -m brakecourse.classroom.release"
    )


def test_the_work_orders_and_the_key_are_those_of_the_example_and_the_practice_case(module: str) -> None:
    example, practice = release.example_case(module), release.practice_case(module)
    stored = ROOT / "solutions" / module / "work_order.json"
    assert json.loads(stored.read_text(encoding="utf-8")) == example.work_order()
    stored = ROOT / "exercises" / module / "work_order.json"
    assert json.loads(stored.read_text(encoding="utf-8")) == practice.work_order()
    assert sealed_example(module) == example.model_copy(update={"order": {}})
    assert example.truth != practice.truth


def test_the_typed_values_are_those_of_the_key(module: str) -> None:
    before = release.as_text(solved(module))
    example = sealed_example(module)
    filled = release.fill_in(solved(module), worked_values(example), worked_letters(example))
    assert release.as_text(filled) == before


def test_a_solution_without_a_line_for_a_value_is_refused(module: str) -> None:
    notebook = solved(module)
    values = worked_values(sealed_example(module))
    name = next(iter(values))
    for cell in notebook.cells:
        cell.source = cell.source.replace(f"{name} = ", "another_name = ")
    with pytest.raises(CourseError, match=f"a line for {name}"):
        release.fill_in(notebook, values, {})


# --- the solved notebook ---------------------------------------------------------------------------


def test_the_stored_outputs_earn_every_mark(module: str) -> None:
    """What nbval compares: each handed-in answer is stored, and the key gives it full marks."""
    case, handed = sealed_example(module), handed_in(solved(module))
    answers = {question: bundle["answer"] for question, bundle in handed.items()}
    asked = [one for one in marking.questions(module) if one.kind not in BY_HAND]
    assert list(handed) == [one.id for one in asked]
    for one in asked:
        assert handed[one.id]["problem"] is None
        mark = judge(case, one.id, answers[one.id], answers)
        assert (mark.points, mark.status) == (one.points, "right")


def test_every_code_cell_of_the_solution_was_run_in_order(module: str) -> None:
    counts = [cell.execution_count for cell in solved(module).cells if cell.cell_type == "code"]
    assert counts == list(range(1, len(counts) + 1))
    outputs = [output for cell in solved(module).cells for output in cell.get("outputs", [])]
    assert not [
        output for output in outputs if output.output_type == "error" or output.get("name") == "stderr"
    ]


def test_the_solution_tells_the_instructor_how_to_mark_by_hand(module: str) -> None:
    for one in marking.questions(module):
        if one.kind == "written":
            cell = cell_of(solved(module), one.id)
            assert "marking scheme" in cell.source and "For the instructor" in cell.source
            criteria = re.findall(r"^\d\. \*\*", cell.source, re.MULTILINE)
            assert len(criteria) == one.points
        if one.kind == "task":
            _, _, scheme = cell_of(solved(module), one.id).source.partition("=== BEGIN MARK SCHEME ===")
            scheme, end, _ = scheme.partition("=== END MARK SCHEME ===")
            assert end and re.findall(r"^\d\. \*\*", scheme, re.MULTILINE)


# --- what students get -----------------------------------------------------------------------------


def cell_of(notebook: Any, question: str) -> Any:
    name = "q" + question.replace(".", "_")
    return next(c for c in notebook.cells if c.metadata.get("nbgrader", {}).get("grade_id") == name)


def test_the_exercise_holds_no_answer(module: str) -> None:
    text = release.as_text(exercise(module))
    example = sealed_example(module)
    told = [value for value in worked_values(example).values() if len(value) > 8]  # a short one says nothing
    for hidden in (*told, *worked_letters(example).values(), "SOLUTION", "MARK SCHEME", "marking scheme"):
        assert hidden not in text
    for one in example.questions:
        if one.shown and one.places > 1:
            values = one.expected if isinstance(one.expected, tuple) else (one.expected,)
            assert not [value for value in values if f"{value:.{one.places}f}" in text]
    assert not any(cell.get("outputs") or cell.get("execution_count") for cell in exercise(module).cells)
    assert "widgets" not in exercise(module).metadata


def test_no_answer_lies_beside_the_exercise(module: str) -> None:
    assert {path.name for path in (ROOT / "exercises" / module).iterdir() if path.is_file()} == {
        f"{module}.ipynb",
        "work_order.json",
    }


def test_each_answer_cell_has_one_line_to_fill_in(module: str) -> None:
    for cell in exercise(module).cells:
        marks = cell.metadata.get("nbgrader", {})
        if marks.get("solution") and cell.cell_type == "code":
            (line,) = [line for line in cell.source.splitlines() if line.strip()]
            assert re.fullmatch(r"[a-z_]+ = None  # .+", line)
            assert not marks["locked"] and not marks["grade"]


def test_each_question_has_a_locked_cell_worth_its_points(module: str) -> None:
    total = 0.0
    for one in marking.questions(module):
        marks = cell_of(exercise(module), one.id).metadata["nbgrader"]
        assert marks["task" if one.kind == "task" else "grade"] and marks["points"] == one.points
        assert marks["locked"] == (one.kind != "written")
        assert marks["solution"] == (one.kind == "written")
        if one.kind not in BY_HAND:
            source = cell_of(exercise(module), one.id).source
            variable = re.fullmatch(rf'hand_in\("{re.escape(one.id)}", ([a-z_]+)\)', source)
            assert variable
            assert cell_of(exercise(module), f"{one.id}_answer").source.startswith(f"{variable[1]} = None")
        total += marks["points"]
    assert total == marking.total_points(module)
    opening = "\n".join(cell.source for cell in exercise(module).cells[:3])
    assert f"**Marks:** {total:g}" in opening


def test_headings_tell_the_marks_of_the_tables(module: str) -> None:
    text = "\n".join(cell.source for cell in exercise(module).cells if cell.cell_type == "markdown")
    for one in marking.questions(module):
        assert re.search(rf"^## {re.escape(one.id)} .+ \({one.points:g} marks\)$", text, re.MULTILINE)


def test_safety_comes_first_and_everything_is_said_to_be_invented(module: str) -> None:
    first = [cell.source for cell in exercise(module).cells[:2]]
    assert "invented" in first[0] and "fit no real car" in first[0]
    for hazard in ("Dust.", "Raised vehicle.", "Hot parts.", "Pinch points", "fluid", "First movement."):
        assert hazard in first[1]
    assert "The maker's service information and local law come first." in first[1]


@pytest.mark.parametrize("which", [solved, exercise], ids=["solution", "exercise"])
def test_cells_have_readable_ids_and_a_plain_kernel(module: str, which: Any) -> None:
    notebook = which(module)
    ids = [cell.id for cell in notebook.cells]
    assert len(set(ids)) == len(ids)
    assert all(re.fullmatch(r"[a-z][a-z0-9_]{2,40}", name) for name in ids)
    assert notebook.metadata.kernelspec.name == "python3"
    assert notebook.metadata.language_info == {"name": "python"}
    nbformat.validate(notebook)


def test_an_unsolved_exercise_runs_and_speaks_in_sentences(
    module: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(ROOT / "exercises" / module, tmp_path, dirs_exist_ok=True)
    notebook = run_in(tmp_path, exercise(module), monkeypatch)
    handed = handed_in(notebook)
    assert all(bundle["answer"] is None and bundle["problem"] is None for bundle in handed.values())
    assert set(handed) == {one.id for one in marking.questions(module) if one.kind not in BY_HAND}
    for output in (output for cell in notebook.cells for output in cell.get("outputs", [])):
        if ANSWER in output.get("data", {}):
            assert "is still empty: " in output["data"]["text/plain"]


def test_the_exercise_can_be_solved_on_the_practice_vehicle(
    module: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Filled in as a student would, with the practice case's own key."""
    shutil.copytree(ROOT / "exercises" / module, tmp_path, dirs_exist_ok=True)
    case, notebook = release.practice_case(module), exercise(module)
    key = {one.id: one.expected for one in case.questions}
    for question, right in key.items():
        if right is not None:
            cell = cell_of(notebook, f"{question}_answer")
            sealed = case.question(question)
            assert sealed is not None
            value = list(right) if isinstance(right, tuple) else right
            if sealed.kind == "sequence":
                listed = next(one for one in case.order["questions"] if one["id"] == question)["choices"]
                value = [listed.index(step) + 1 for step in str(right).split(ARROW)]
            cell.source = cell.source.replace("None", repr(value), 1)
    handed = handed_in(run_in(tmp_path, notebook, monkeypatch))
    answers = {question: bundle["answer"] for question, bundle in handed.items()}
    marks = [judge(case, question, answer, answers) for question, answer in answers.items()]
    by_hand = sum(one.points for one in marking.questions(module) if one.kind in BY_HAND)
    assert sum(mark.points for mark in marks) == marking.total_points(module) - by_hand


def test_the_parts_that_feedback_names_are_the_lessons_own(module: str) -> None:
    lesson = nbformat.read(ROOT / "course" / "lessons" / f"{module}.ipynb", as_version=4)
    text = "\n".join(cell.source for cell in lesson.cells if cell.cell_type == "markdown")
    parts = [row for row in read_table("course/lesson_parts.csv") if row["module"] == module]
    assert parts
    for row in parts:
        assert re.search(rf"^## Part {row['part']}: {re.escape(row['title'])}$", text, re.MULTILINE)
