"""A farm that needs no kernel: it takes the plain values that stand in the answer cells. For tests of what
becomes of marks, where how the notebook is run does not matter."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterable, Iterator
from typing import Any, Self

from brakecourse.classroom.engine.execute import ANSWER_MIME
from brakecourse.classroom.engine.farm import Done, Job
from brakecourse.classroom.engine.healing import heal
from brakecourse.classroom.engine.judging import judge_notebook
from brakecourse.classroom.engine.plan import case_in
from brakecourse.classroom.engine.reading import Unreadable, read_submission
from brakecourse.classroom.engine.sandbox import Protection
from brakecourse.classroom.engine.work import Worked
from brakecourse.classroom.engine.write import COULD_NOT, GRADED, RunRecord
from nbformat import NotebookNode
from nbformat.v4 import new_output


class QuickFarm:
    """Does jobs at once, one after the other.

    Args:
        each: called with every job before it is done; what it raises comes out of `run`.
    """

    words = "Notebooks are read here."

    def __init__(self, each: Callable[[Job], Any] = lambda _: None) -> None:
        self._each = each
        self.graded: list[str] = []

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        return None

    def protection(self, trust_files: bool) -> Protection:
        """Nothing of a student's is run, so nothing has to be shut in."""
        return Protection(None)

    def run(self, jobs: Iterable[Job]) -> Iterator[Done]:
        for job in jobs:
            self._each(job)
            self.graded.append(job.student_id)
            yield read_only(job)


def read_only(job: Job) -> Done:
    """What became of a job, found without running anything."""
    version, digest, worked, why = "", job.submission_sha256, None, ""
    try:
        case = case_in(job.case_json, job.plan.module, job.student_id)
        version = case.version
        submitted = read_submission(job.content)
        notebook = heal(submitted.cells, job.plan.template, job.plan.kernelspec).notebook
        _put_out_answers(notebook)
        worked = Worked.of(notebook, judge_notebook(notebook, job.plan, case.case))
    except Unreadable as error:
        why = str(error)
    status = GRADED if worked else COULD_NOT
    return Done(job.plan.module, RunRecord(job.student_id, status, why, (), digest, version), worked)


def _put_out_answers(notebook: NotebookNode) -> None:
    values: dict[str, object] = {}
    for cell in notebook.cells:
        grade_id = cell.metadata.get("nbgrader", {}).get("grade_id", "")
        if cell.cell_type != "code" or not grade_id:
            continue
        for line in ast.parse(cell.source).body:
            if isinstance(line, ast.Assign) and isinstance(line.targets[0], ast.Name):
                values[line.targets[0].id] = ast.literal_eval(line.value)
            elif cell.source.startswith("hand_in("):
                question, name = line.value.args
                bundle = {"question": question.value, "answer": values.get(name.id)}
                cell.outputs = [new_output("display_data", {ANSWER_MIME: bundle})]
