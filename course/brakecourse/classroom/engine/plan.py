"""What grading a module needs to know, read once: the cells that were handed out, the questions they ask."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import nbformat
from pydantic import ValidationError

from brakecourse import marking
from brakecourse.classroom.attempts import attempt_of, module_of
from brakecourse.classroom.engine.healing import TemplateCell
from brakecourse.classroom.engine.reading import Unreadable
from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError

PYTHON = {"name": "python3", "display_name": "Python 3 (ipykernel)", "language": "python"}


@dataclass(frozen=True)
class PlannedQuestion:
    """One graded cell: which question it is, what it is worth, and whether a person marks it.

    A task is shown on a real vehicle: a person marks it, and its cell is never the student's to fill in.
    """

    id: str
    grade_id: str
    short: str
    points: float
    by_hand: bool
    task: bool = False


@dataclass(frozen=True)
class Plan:
    """One module as one class was set it."""

    module: str
    template: tuple[TemplateCell, ...]
    questions: tuple[PlannedQuestion, ...]
    kernelspec: Mapping[str, str]
    sha256: str

    @property
    def key(self) -> str:
        """Tells it from every other plan."""
        return f"{self.module}/{self.sha256}"

    @property
    def max_score(self) -> float:
        """The marks for the whole exercise, the hand-marked ones included."""
        return sum(question.points for question in self.questions)

    def question(self, question_id: str) -> PlannedQuestion:
        """Return one question.

        Raises:
            CourseError: the module has no such question.
        """
        for question in self.questions:
            if question.id == question_id:
                return question
        names = ", ".join(question.id for question in self.questions)
        raise CourseError(f"Module {self.module} has no question '{question_id}'; its questions are {names}.")


@dataclass(frozen=True)
class StudentCase:
    """A student's sealed case and the file it came from."""

    case: marking.SealedCase
    sha256: str

    @property
    def version(self) -> str:
        """What the case's marking depends on: the course that drew it, and the sealed file itself."""
        return f"{self.case.course_version}/{self.sha256[:16]}"

    @property
    def files(self) -> dict[str, bytes]:
        """The trusted files that lie beside the notebook while it runs."""
        return {"work_order.json": json.dumps(self.case.work_order(), ensure_ascii=False).encode("utf-8")}


def grade_id_of(question_id: str) -> str:
    """Return the name of the cell that hands a question in.

    >>> grade_id_of("8.2")
    'q8_2'
    """
    return "q" + question_id.replace(".", "_")


def read_plan(cls: ClassFolder, module: str) -> Plan:
    """Read what a class was set for a module.

    Raises:
        CourseError: the module is unknown, was not assigned, or its notebook does not fit the questions.
    """
    asked = marking.questions(module_of(module))
    path = cls.release_notebook(module)
    try:
        text = path.read_bytes()
        notebook = nbformat.reads(text.decode("utf-8"), as_version=4)
    except FileNotFoundError as error:
        raise CourseError(
            f"Module {module} was not handed out to this class yet; "
            f"give 'brakecourse assign {cls.root} {module}' first."
        ) from error
    except (OSError, ValueError, nbformat.ValidationError) as error:
        raise CourseError(
            f"The handed-out notebook {path} can't be read; assign the module again."
        ) from error
    template = _template(notebook.cells, {grade_id_of(question.id): question.id for question in asked})
    questions = tuple(_planned(question, template, path) for question in asked)
    _refuse_other_graded_cells(template, questions, path)
    spec = {**PYTHON, **notebook.metadata.get("kernelspec", {})}
    return Plan(module, template, questions, spec, hashlib.sha256(text).hexdigest())


def read_case(cls: ClassFolder, module: str, student_id: str) -> StudentCase:
    """Read a student's sealed case.

    Raises:
        Unreadable: there is none, or it is damaged.
    """
    return case_in(case_bytes(cls, module, student_id), module, student_id)


def case_bytes(cls: ClassFolder, module: str, student_id: str) -> bytes:
    """Return the file of a student's sealed case.

    Raises:
        Unreadable: there is none, or it can't be opened.
    """
    path = cls.case_file(module, student_id)
    try:
        return path.read_bytes()
    except FileNotFoundError as error:
        raise Unreadable(
            "No sealed case was drawn for this student; assign the module again, then grade again."
        ) from error
    except OSError as error:
        raise Unreadable(_damaged(student_id)) from error


def case_in(content: bytes, module: str, student_id: str) -> StudentCase:
    """Read a sealed case from its bytes.

    Raises:
        Unreadable: it is damaged, or somebody else's.
    """
    try:
        case = marking.SealedCase.model_validate_json(content)
    except (ValidationError, ValueError) as error:
        raise Unreadable(_damaged(student_id)) from error
    whose = (student_id, module_of(module), attempt_of(module))
    if (case.student, case.module, case.attempt) != whose:
        raise Unreadable(
            f"The sealed case {student_id}.json belongs to another student; put the right one back."
        )
    return StudentCase(case, hashlib.sha256(content).hexdigest())


def _damaged(student_id: str) -> str:
    return f"The sealed case {student_id}.json is damaged; put it back from a copy, then grade again."


def _template(cells: Sequence[Any], question_of: Mapping[str, str]) -> tuple[TemplateCell, ...]:
    known = [_template_cell(cell) for cell in cells if cell.metadata.get("nbgrader", {}).get("grade_id")]
    named: list[TemplateCell] = []
    question = ""
    # An answer cell belongs to the question that is handed in next, so look from the end.
    for cell in reversed(known):
        question = question_of.get(cell.grade_id, question)
        named.append(replace(cell, question=question))
    return tuple(reversed(named))


def _template_cell(cell: Any) -> TemplateCell:
    marks = cell.metadata["nbgrader"]
    return TemplateCell(
        kind=cell.cell_type,
        source=cell.source,
        grade_id=marks["grade_id"],
        cell_id=cell.id,
        metadata={
            "nbgrader": dict(marks),
            **{k: cell.metadata[k] for k in ("deletable", "editable") if k in cell.metadata},
        },
        # nbgrader tells a task from a graded cell; here both are worth points.
        graded=bool(marks.get("grade") or marks.get("task")),
        answer=bool(marks.get("solution")),
    )


def _planned(question: marking.Question, template: Sequence[TemplateCell], path: Path) -> PlannedQuestion:
    grade_id = grade_id_of(question.id)
    cell = next((cell for cell in template if cell.grade_id == grade_id and cell.graded), None)
    if cell is None or cell.metadata["nbgrader"].get("points") != question.points:
        raise CourseError(
            f"The notebook {path} should have a graded cell '{grade_id}' worth {question.points:g} points, "
            "but has not; assign the module again."
        )
    task = bool(cell.metadata["nbgrader"].get("task"))
    by_hand = cell.answer or task
    return PlannedQuestion(question.id, grade_id, question.short, float(question.points), by_hand, task)


def _refuse_other_graded_cells(
    template: Sequence[TemplateCell], questions: Sequence[PlannedQuestion], path: Path
) -> None:
    strange = {cell.grade_id for cell in template if cell.graded} - {
        question.grade_id for question in questions
    }
    if strange:
        raise CourseError(
            f"The notebook {path} has graded cells of no question ({', '.join(sorted(strange))}); "
            "assign the module again."
        )
