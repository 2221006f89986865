"""Cells and outputs made the quick way are what nbformat's own functions make, and fit its schema."""

from __future__ import annotations

from typing import Any

import nbformat
import pytest
from brakecourse.classroom.engine import nodes
from nbformat import v4

METADATA = {"nbgrader": {"grade_id": "q8_1", "points": 3.0, "grade": True}, "deletable": False}
METADATA_OF_ALL = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
OUTPUTS: list[tuple[str, dict[str, Any]]] = [
    ("stream", {"name": "stderr", "text": "a\n"}),
    ("display_data", {"data": {"text/plain": "a"}}),
    ("execute_result", {"data": {"text/plain": "1", "text/html": "<p>1</p>"}, "execution_count": 3}),
    ("error", {"ename": "E", "evalue": "e", "traceback": ["1", "2"]}),
]


@pytest.mark.parametrize("kind", ["code", "markdown", "raw"])
def test_cells_are_nbformats(kind: str) -> None:
    ours = getattr(nodes, f"new_{kind}_cell")("x = 1", id="one", metadata=METADATA)
    theirs = getattr(v4, f"new_{kind}_cell")("x = 1", id="one", metadata=METADATA)
    assert ours == theirs
    assert ours.metadata.nbgrader.points == 3.0
    METADATA["nbgrader"]["points"] = 4.0  # type: ignore[index]
    assert ours.metadata.nbgrader.points == 3.0  # its own copy
    METADATA["nbgrader"]["points"] = 3.0  # type: ignore[index]


@pytest.mark.parametrize(("kind", "fields"), OUTPUTS)
def test_outputs_are_nbformats(kind: str, fields: dict[str, Any]) -> None:
    assert nodes.new_output(kind, **fields) == v4.new_output(kind, **fields)
    assert nodes.new_output(kind) == v4.new_output(kind)
    assert type(nodes.new_output("display_data").data) is nbformat.NotebookNode
    assert nodes.new_output("display_data").data is not nodes.new_output("display_data").data


def test_a_notebook_fits_the_schema_and_reads_back_as_it_was() -> None:
    cell = nodes.new_code_cell("print('ä')\n1", id="one")
    cell.outputs = [nodes.new_output(kind, **fields) for kind, fields in OUTPUTS]
    notebook = nodes.new_notebook([cell, nodes.new_markdown_cell("*a*", id="two")], METADATA_OF_ALL)
    nbformat.validate(notebook)
    assert nbformat.reads(nodes.notebook_text(notebook), as_version=4) == notebook
    assert nbformat.reads(nbformat.writes(notebook), as_version=4) == notebook


def test_an_answer_nested_without_end_is_no_trouble() -> None:
    deep: list[Any] = []
    for _ in range(5_000):
        deep = [deep]
    assert nodes.new_output("display_data", data={"x": deep}).data.x is deep
