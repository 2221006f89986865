"""Do the exercise as a student would: fill in the answers, run every cell, save."""

from __future__ import annotations

import asyncio
import os
import re
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbformat import NotebookNode

from brakecourse.classroom.folder import Progress
from brakecourse.errors import CourseError
from brakecourse.marking import SealedCase

_AT_A_TIME = max(2, os.cpu_count() or 2)
_HAND_IN = re.compile(r'hand_in\("(?P<question>[^"]+)",\s*(?P<name>\w+)\)')


def fill_in(notebook: NotebookNode, answers: Mapping[str, object]) -> None:
    """Write a student's answers into the cells that wait for them; an answer that is None stays empty.

    Args:
        notebook: the exercise; changed in place.
        answers: the answer to each question.

    Raises:
        CourseError: the notebook has no cell for an answer.
    """
    left = dict(answers)
    for position, cell in enumerate(notebook.cells):
        found = _HAND_IN.search(cell.source) if cell.cell_type == "code" else None
        if found and found["question"] in left:
            _set(notebook.cells[:position], found["name"], left.pop(found["question"]))
        elif cell.cell_type == "markdown" and _written_question(cell) in left:
            answer = left.pop(_written_question(cell))
            cell.source = cell.source if answer is None else str(answer)
    if left:
        raise CourseError(
            f"The exercise has no cell for the answers {', '.join(sorted(left))}; make it again."
        )


def as_typed(case: SealedCase, answers: Mapping[str, object]) -> dict[str, object]:
    """Return answers as a student types them: an order of steps as their numbers in the printed list."""
    listed = {one["id"]: one["choices"] for one in case.order["questions"] if one["kind"] == "sequence"}
    return {question: _typed(answer, listed.get(question)) for question, answer in answers.items()}


def answer_cell(notebook: NotebookNode, question: str) -> NotebookNode:
    """Return the cell in which a question is answered."""
    for position, cell in enumerate(notebook.cells):
        found = _HAND_IN.search(cell.source) if cell.cell_type == "code" else None
        if found and found["question"] == question:
            return _cell_that_sets(notebook.cells[:position], found["name"])
    raise CourseError(f"The exercise has no cell that hands in question {question}; make it again.")


def run_notebooks(paths: Iterable[Path], progress: Progress | None = None) -> None:
    """Run notebooks where they lie, several at a time, and save each with its outputs."""
    asyncio.run(_run_all(list(paths), progress))


def _typed(answer: object, steps: Sequence[str] | None) -> object:
    return [steps.index(step) + 1 for step in answer] if steps and isinstance(answer, list) else answer


def _set(cells: list[NotebookNode], name: str, answer: object) -> None:
    if answer is not None:
        cell = _cell_that_sets(cells, name)
        cell.source = _waiting(name).sub(lambda match: f"{match[1]}{answer!r}", cell.source, count=1)


def _cell_that_sets(cells: list[NotebookNode], name: str) -> NotebookNode:
    for cell in reversed(cells):
        if cell.cell_type == "code" and re.search(rf"^{name}\s*=", cell.source, re.MULTILINE):
            return cell
    raise CourseError(f"The exercise has no cell that sets '{name}'; make it again.")


def _waiting(name: str) -> re.Pattern[str]:
    return re.compile(rf"^({name}\s*=\s*)None\b", re.MULTILINE)


def _written_question(cell: NotebookNode) -> str:
    grade_id: str = cell.metadata.get("nbgrader", {}).get("grade_id", "")
    found = re.fullmatch(r"q(\d+)_(\d+)", grade_id)
    return f"{found[1]}.{found[2]}" if found else ""


async def _run_all(paths: list[Path], progress: Progress | None) -> None:
    free = asyncio.Semaphore(_AT_A_TIME)
    done = 0

    async def run(path: Path) -> None:
        nonlocal done
        async with free:
            await _run(path)
        done += 1
        if progress:
            progress(done, len(paths), path.parent.name)

    await asyncio.gather(*(run(path) for path in paths))


async def _run(path: Path) -> None:
    notebook = nbformat.read(path, as_version=4)
    with tempfile.TemporaryDirectory(prefix="demo-") as sockets, open(os.devnull, "wb") as nowhere:
        client = NotebookClient(
            notebook,
            timeout=120,
            kernel_name="python3",
            allow_errors=True,
            record_timing=False,
            resources={"metadata": {"path": str(path.parent)}},
        )
        manager = client.create_kernel_manager()
        if os.name != "nt":  # a socket of the file system can't be reached from outside this computer
            manager.transport, manager.ip = "ipc", f"{sockets}/kernel"
        await client.async_execute(stderr=nowhere)
    nbformat.write(notebook, path)
