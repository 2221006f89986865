"""What a student claims: the answers that the hand-in cells put out, taken as plain data.

A claim is never proof of anything, so it does not matter how it came about. A student who writes a bundle
by hand gives an answer like everybody else. Of several bundles for a cell's question the last one counts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from nbformat import NotebookNode

from brakecourse.classroom.engine.outputs import ANSWER_MIME
from brakecourse.classroom.engine.plain_values import NO_PLAIN_VALUE, plain_value
from brakecourse.classroom.engine.plan import PlannedQuestion

__all__ = ["NO_PLAIN_VALUE", "answer_of", "answers"]


def answers(cells: Sequence[NotebookNode], questions: Sequence[PlannedQuestion]) -> dict[str, object]:
    """Collect the answers of an executed notebook.

    Args:
        cells: the notebook's cells, freshly run.
        questions: the module's questions.

    Returns:
        The answer to each machine-marked question as plain JSON data, None where nothing was handed in.
    """
    by_grade_id = {question.grade_id: question.id for question in questions if not question.by_hand}
    found: dict[str, object] = dict.fromkeys(by_grade_id.values())
    for cell in cells:
        question_id = by_grade_id.get(cell.metadata.get("nbgrader", {}).get("grade_id", ""))
        if question_id is not None and cell.cell_type == "code":
            found[question_id] = answer_of(cell.outputs, question_id)
    return found


def answer_of(outputs: Sequence[Mapping[str, Any]], question_id: str) -> object:
    """Return the last answer to a question among a cell's outputs, or None."""
    for output in reversed(outputs):
        if output.get("output_type") != "display_data":
            continue
        data = output.get("data")
        bundle = data.get(ANSWER_MIME) if isinstance(data, Mapping) else None
        if isinstance(bundle, Mapping) and bundle.get("question") == question_id:
            return plain_value(bundle.get("answer"))
    return None
