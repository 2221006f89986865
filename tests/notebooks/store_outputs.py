"""Run notebooks and store their outputs: ``python tests/notebooks/store_outputs.py NOTEBOOK ...``.

Run this after a change to a lesson, or to what it shows. What a viewer without a kernel cannot use (the
state and the random ids of live controls) is left out, so the stored notebook changes only when
what it shows changes.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import nbformat
from nbclient import NotebookClient

WIDGET = "application/vnd.jupyter.widget-view+json"
LANGUAGE = {"name": "python"}


def tidy(notebook: Any) -> Any:
    """Take out what differs from run to run, and return the notebook."""
    notebook.metadata.pop("widgets", None)
    notebook.metadata["language_info"] = dict(LANGUAGE)  # no version: it would differ from machine to machine
    for cell in notebook.cells:
        cell.metadata.pop("execution", None)
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(WIDGET, None)
    return notebook


def store(path: Path) -> None:
    """Run one notebook in its own folder and write its outputs into it."""
    notebook = nbformat.read(path, as_version=4)
    folder = {"metadata": {"path": str(path.parent)}}
    client = NotebookClient(notebook, timeout=120, kernel_name="python3", resources=folder)
    client.execute()
    nbformat.write(tidy(notebook), path)


def main(paths: list[str]) -> Iterator[Path]:
    """Store each notebook, one after another."""
    for path in map(Path, paths):
        store(path)
        yield path


if __name__ == "__main__":
    if not sys.argv[1:]:
        sys.exit("Name the notebooks to run, for example course/lessons/08_rotor_measurement.ipynb.")
    for done in main(sys.argv[1:]):
        print(f"{done}: run and stored")
