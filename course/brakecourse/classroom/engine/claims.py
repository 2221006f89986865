"""What a student claims: the answers that the hand-in cells put out, taken as plain data.

A claim is never proof of anything, so it does not matter how it came about. A student who writes a bundle by
hand gives an answer like everybody else. If a cell puts out several bundles for its question, the last counts.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from nbformat import NotebookNode

from brakecourse.classroom.engine.execute import ANSWER_MIME
from brakecourse.classroom.engine.plan import PlannedQuestion

BIGGEST_ANSWER_CHARACTERS = 20_000
DEEPEST_ANSWER = 4

_TOO_MUCH = "What was handed in is no plain value of a sensible size."


@dataclass(frozen=True)
class Claim:
    """One answer as it was handed in.

    Attributes:
        answer: plain JSON data: a number, text, True, None, or a list of those.
        problem: what the student's side said was wrong with it, or None.
    """

    answer: object = None
    problem: str | None = None


def claims(cells: Sequence[NotebookNode], questions: Sequence[PlannedQuestion]) -> dict[str, Claim]:
    """Collect the claims of an executed notebook.

    Args:
        cells: the notebook's cells, freshly run.
        questions: the module's questions.

    Returns:
        The claim for each machine-marked question, empty where nothing was handed in.
    """
    by_grade_id = {question.grade_id: question for question in questions if not question.by_hand}
    found = {question.id: Claim() for question in by_grade_id.values()}
    for cell in cells:
        question = by_grade_id.get(cell.metadata.get("nbgrader", {}).get("grade_id", ""))
        if question is not None and cell.cell_type == "code":
            found[question.id] = claim_of(cell.outputs, question.id)
    return found


def claim_of(outputs: Sequence[Mapping[str, Any]], question_id: str) -> Claim:
    """Return the last claim for a question among a cell's outputs."""
    for output in reversed(outputs):
        if output.get("output_type") != "display_data":
            continue
        bundle = output.get("data", {}).get(ANSWER_MIME)
        if isinstance(bundle, Mapping) and bundle.get("question") == question_id:
            return _claim(bundle)
    return Claim()


def _claim(bundle: Mapping[str, Any]) -> Claim:
    problem = bundle.get("problem")
    problem = problem[:500] if isinstance(problem, str) and problem else None
    answer = bundle.get("answer")
    if not _sensible(answer, DEEPEST_ANSWER):
        return Claim(None, _TOO_MUCH)
    if len(json.dumps(answer)) > BIGGEST_ANSWER_CHARACTERS:
        return Claim(None, _TOO_MUCH)
    return Claim(_plain(answer), problem)


def _sensible(value: object, depth: int) -> bool:
    """Tell whether a value is plain data, finite and shallow."""
    if value is None or isinstance(value, bool):
        return True
    if isinstance(value, str):
        return len(value) <= BIGGEST_ANSWER_CHARACTERS
    if isinstance(value, int):
        return value.bit_length() <= 256
    if isinstance(value, float):
        return math.isfinite(value)
    if isinstance(value, Sequence):
        return depth > 0 and len(value) <= 1_000 and all(_sensible(item, depth - 1) for item in value)
    return False


def _plain(value: object) -> object:
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode("utf-8").replace("\x00", "")
    if isinstance(value, Sequence):
        return [_plain(item) for item in value]
    return value
