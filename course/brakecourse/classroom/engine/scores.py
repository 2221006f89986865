"""What nbgrader reads in a judged notebook's cells: the machine's points, and where nothing was answered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from nbformat import NotebookNode
from nbgrader.utils import compute_checksum, determine_grade, is_grade, is_task


@dataclass(frozen=True)
class CellScore:
    """What nbgrader reads in one cell.

    Attributes:
        points: the machine's points; None where a person gives them, and in a cell that is worth none.
        empty: whether the cell is still as it was handed out.
    """

    points: float | None
    empty: bool


def cell_scores(notebook: NotebookNode) -> Mapping[str, CellScore]:
    """Return what nbgrader reads in each of its cells, by the cell's name."""
    return {
        cell.metadata["nbgrader"]["grade_id"]: _score(cell)
        for cell in notebook.cells
        if "grade_id" in cell.metadata.get("nbgrader", {})
    }


def _score(cell: NotebookNode) -> CellScore:
    task = is_task(cell)
    points = determine_grade(cell)[0] if is_grade(cell) and not task else None
    as_handed_out = cell.metadata["nbgrader"].get("checksum") == compute_checksum(cell)
    return CellScore(points, as_handed_out and not task)
