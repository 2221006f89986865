"""Turn answers into points, in the trusted process, and leave the outcome where nbgrader looks for it."""

from __future__ import annotations

import html
from dataclasses import dataclass

from nbformat import NotebookNode
from nbgrader.utils import compute_checksum

from brakecourse import marking
from brakecourse.classroom.engine.claims import answers
from brakecourse.classroom.engine.harmless import make_harmless
from brakecourse.classroom.engine.nodes import new_output
from brakecourse.classroom.engine.plan import Plan, PlannedQuestion
from brakecourse.classroom.engine.reading import Unreadable

WAITING = "waiting for hand-grading"


@dataclass(frozen=True)
class Judged:
    """What became of one question.

    Attributes:
        question: which one.
        mark: the mark; None for a written answer that a person has to read, and for a task.
        answer: the answer as plain data; for a written one its text, for a task nothing.
    """

    question: PlannedQuestion
    mark: marking.Mark | None
    answer: object

    @property
    def status(self) -> str:
        """How the answer fared, in words."""
        return WAITING if self.mark is None else self.mark.status


def judge_notebook(notebook: NotebookNode, plan: Plan, case: marking.SealedCase) -> tuple[Judged, ...]:
    """Judge an executed notebook, make it harmless, and put the outcome into its graded cells.

    Args:
        notebook: healed and freshly run; it is changed.
        plan: what the module asks.
        case: the student's sealed case.

    Returns:
        One outcome for each question, in the module's order.

    Raises:
        Unreadable: the case was sealed for other marks than the notebook gives.
    """
    sealed = {question.id: question.points for question in case.questions}
    if sealed != {question.id: question.points for question in plan.questions}:
        raise Unreadable(
            "The sealed case gives other marks than the handed-out notebook; "
            "put back the case that went out with it, then grade again."
        )
    given = answers(notebook.cells, plan.questions)
    cells = {cell.metadata.get("nbgrader", {}).get("grade_id"): cell for cell in notebook.cells}
    # Each answer is judged on what the same student gave before it.
    marks = marking.judge_all(case, given)
    outcomes = tuple(
        _written(question, cells[question.grade_id])
        if question.by_hand
        else Judged(question, marks[question.id], given[question.id])
        for question in plan.questions
    )
    make_harmless(notebook, plan.template)
    for outcome in outcomes:
        if outcome.mark is not None and not outcome.question.by_hand:
            _write_outcome(cells[outcome.question.grade_id], outcome.mark)
    return outcomes


def _written(question: PlannedQuestion, cell: NotebookNode) -> Judged:
    """A written answer waits for a person, unless nothing was written. A task always waits."""
    if question.task:
        return Judged(question, None, "")
    if cell.metadata["nbgrader"].get("checksum") != compute_checksum(cell):
        return Judged(question, None, cell.source)
    empty = marking.Mark(
        question_id=question.id,
        points=0.0,
        out_of=question.points,
        status="no answer",
        given="",
        expected="",
        tolerance="",
        how="",
        mistake=None,
        words="Nothing was written here.",
        lesson="",
        carried_forward=False,
    )
    return Judged(question, empty, "")


def _write_outcome(cell: NotebookNode, mark: marking.Mark) -> None:
    """Leave one result in a graded cell: the points as nbgrader reads them, and the words."""
    words = html.escape(f"{mark.question_id}: {mark.points:g} of {mark.out_of:g} points. {mark.words}")
    cell.outputs = [
        new_output(
            "execute_result",
            data={"text/plain": repr(float(mark.points)), "text/html": f"<p>{words}</p>"},
            execution_count=cell.get("execution_count") or 1,
        )
    ]
    cell.execution_count = cell.get("execution_count") or 1
