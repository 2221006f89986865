"""What a student claims: the answers that the hand-in cells put out, taken as plain data.

A claim is never proof of anything, so it does not matter how it came about. A student who writes a bundle
by hand gives an answer like everybody else. Of several bundles for a cell's question the last one counts.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from typing import Any

from nbformat import NotebookNode

from brakecourse.classroom.engine.execute import ANSWER_MIME
from brakecourse.classroom.engine.plan import PlannedQuestion

LONGEST_ANSWER_CHARACTERS = 20_000
DEEPEST_ANSWER = 4
MOST_VALUES = 1_000

NO_PLAIN_VALUE = "(not a plain value of a sensible size)"
"""Stands in for an answer that is none. The marking can't read it as any kind of answer."""


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
        bundle = output.get("data", {}).get(ANSWER_MIME)
        if isinstance(bundle, Mapping) and bundle.get("question") == question_id:
            return _plain_value(bundle.get("answer"))
    return None


def _plain_value(answer: object) -> object:
    if not _sensible(answer, DEEPEST_ANSWER) or len(json.dumps(answer)) > LONGEST_ANSWER_CHARACTERS:
        return NO_PLAIN_VALUE
    return _storable(answer)


def _sensible(value: object, depth: int) -> bool:
    """Tell whether a value is plain data, finite and shallow."""
    if value is None or isinstance(value, bool):
        return True
    if isinstance(value, str):
        return len(value) <= LONGEST_ANSWER_CHARACTERS
    if isinstance(value, int):
        return value.bit_length() <= 256
    if isinstance(value, float):
        return math.isfinite(value)
    if isinstance(value, list):
        return depth > 0 and len(value) <= MOST_VALUES and all(_sensible(item, depth - 1) for item in value)
    return False


def _storable(value: object) -> object:
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode("utf-8").replace("\x00", "")
    return [_storable(item) for item in value] if isinstance(value, list) else value
