"""Cells and outputs of a notebook, made without looking each one up in nbformat's schema.

nbformat's own functions of these names check every single cell against the schema of whole notebooks. That
takes longer than running the notebook. A test holds what these make to the schema, and to nbformat's.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from nbformat import NotebookNode

_OUTPUT_DEFAULTS: dict[str, dict[str, Any]] = {
    "stream": {"name": "stdout", "text": ""},
    "display_data": {"metadata": {}, "data": {}},
    "execute_result": {"metadata": {}, "data": {}, "execution_count": None},
    "error": {"ename": "NotImplementedError", "evalue": "", "traceback": []},
}


def new_output(output_type: str, **fields: Any) -> NotebookNode:
    """Make an output of a code cell."""
    # Not looked into any deeper: a student's answer can be nested without end.
    shallow = {
        name: NotebookNode(value) if isinstance(value, Mapping) else value
        for name, value in {**_OUTPUT_DEFAULTS[output_type], **fields}.items()
    }
    return NotebookNode(output_type=output_type, **shallow)


def new_code_cell(source: str, id: str, metadata: Mapping[str, Any] | None = None) -> NotebookNode:
    """Make a code cell that was not run."""
    return _node(
        id=id, cell_type="code", metadata=metadata or {}, execution_count=None, source=source, outputs=[]
    )


def new_markdown_cell(source: str, id: str, metadata: Mapping[str, Any] | None = None) -> NotebookNode:
    """Make a cell of text."""
    return _node(id=id, cell_type="markdown", metadata=metadata or {}, source=source)


def new_raw_cell(source: str, id: str, metadata: Mapping[str, Any] | None = None) -> NotebookNode:
    """Make a raw cell."""
    return _node(id=id, cell_type="raw", metadata=metadata or {}, source=source)


def new_notebook(cells: Iterable[NotebookNode], metadata: Mapping[str, Any]) -> NotebookNode:
    """Make a notebook in the format that has names of cells."""
    notebook = _node(metadata=metadata, nbformat=4, nbformat_minor=5)
    notebook.cells = list(cells)
    return notebook


def notebook_text(notebook: NotebookNode) -> str:
    """Return a notebook as it is written to a file, on one line: breaking it up takes ten times as long."""
    return json.dumps(notebook, ensure_ascii=False) + "\n"


def _node(**fields: Any) -> NotebookNode:
    return NotebookNode({name: _deep(value) for name, value in fields.items()})


def _deep(value: Any) -> Any:
    if isinstance(value, Mapping):
        return NotebookNode({name: _deep(item) for name, item in value.items()})
    return value
