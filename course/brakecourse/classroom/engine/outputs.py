"""What is kept of what a student's code puts out, whoever ran it: plain data of bounded size."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from nbformat import NotebookNode

from brakecourse.classroom.engine.plain_values import plain_value

ANSWER_MIME = "application/vnd.brakecourse.answer+json"

_MOST_ANSWERS = 20
_STORED_DATA = ("text/plain", "image/png")
_LONGEST_TRACEBACK = 40


class Kept:
    """Counts what was kept of each cell's outputs."""

    def __init__(self, most_bytes: int) -> None:
        """Make a count.

        Args:
            most_bytes: how much is kept of one cell; the rest is dropped.
        """
        self._most = most_bytes
        self._bytes: dict[int, int] = {}

    def content(self, kind: str, content: object, cell: NotebookNode, place: int) -> dict[str, Any] | None:
        """Return what is kept of one output, or None when nothing is.

        Args:
            kind: what sort of output it is.
            content: what came, from whomever.
            cell: the cell that put it out.
            place: the cell's place in the notebook.
        """
        kept = _stored(kind, content)
        return kept if kept is not None and self._fits(kept, cell, place) else None

    def _fits(self, content: Mapping[str, Any], cell: NotebookNode, place: int) -> bool:
        if ANSWER_MIME in content.get("data", {}):
            # Answers have their own share: a flood of print can't push one out.
            held = sum(ANSWER_MIME in output.get("data", {}) for output in cell.outputs)
            return held < _MOST_ANSWERS
        size = self._bytes.get(place, 0) + len(json.dumps(content, default=str))
        if size > self._most:
            return False
        self._bytes[place] = size
        return True


def _stored(kind: str, content: object) -> dict[str, Any] | None:
    """Return the part of an output that is kept: plain text, pictures in dots, and handed-in answers.

    Everything else (HTML, scripts, drawings as text) could act on the teacher's screen later.
    """
    if not isinstance(content, Mapping):
        return None
    if kind == "stream":
        name, text = content.get("name"), content.get("text")
        return (
            {"name": name, "text": text} if name in ("stdout", "stderr") and isinstance(text, str) else None
        )
    if kind == "error":
        lines = content.get("traceback")
        lines = [str(line) for line in lines[-_LONGEST_TRACEBACK:]] if isinstance(lines, list) else []
        return {"ename": str(content.get("ename")), "evalue": str(content.get("evalue")), "traceback": lines}
    data = content.get("data")
    if not isinstance(data, Mapping):
        return None
    kept: dict[str, Any] = {mime: data[mime] for mime in _STORED_DATA if isinstance(data.get(mime), str)}
    claim = data.get(ANSWER_MIME)
    if isinstance(claim, Mapping) and isinstance(claim.get("question"), str):
        # Cut down at once: what comes next handles it as a part of a notebook, at any depth.
        kept[ANSWER_MIME] = {"question": claim["question"][:40], "answer": plain_value(claim.get("answer"))}
    if not kept:
        return None
    return {"data": kept, "metadata": {}, "execution_count": content.get("execution_count")}
