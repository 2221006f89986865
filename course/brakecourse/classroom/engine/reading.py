"""Read a submitted notebook as what it is: bytes from a stranger.

Only the cells' kind, text and names are taken over. Outputs, tags, widget states and whatever else
the file says about itself stay behind.
"""

from __future__ import annotations

import hashlib
import json
import warnings
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, cast, get_args

import nbformat

CellKind = Literal["code", "markdown", "raw"]

BIGGEST_FILE_BYTES = 20_000_000
MOST_CELLS = 2_000
LONGEST_CELL_CHARACTERS = 200_000


class Unreadable(Exception):
    """A submission that can't be graded; the message says why, in one sentence."""


@dataclass(frozen=True)
class SubmittedCell:
    """One cell as the student left it."""

    kind: CellKind
    source: str
    grade_id: str | None = None
    cell_id: str | None = None


@dataclass(frozen=True)
class Submitted:
    """A submitted notebook: its cells, and what was odd about the file."""

    cells: tuple[SubmittedCell, ...]
    notes: tuple[str, ...] = ()
    sha256: str = field(default="", compare=False)


def read_submission(content: bytes) -> Submitted:
    """Read the bytes of a submitted notebook.

    Raises:
        Unreadable: this is no notebook.
    """
    notebook = _as_version_4(_parsed(content))
    notes = _kernel_notes(notebook)
    cells, damaged = submitted_cells(notebook)
    if damaged:
        notes.append(f"{damaged} damaged {'cell was' if damaged == 1 else 'cells were'} left out.")
    return Submitted(cells, tuple(notes), hashlib.sha256(content).hexdigest())


def submitted_cells(notebook: Mapping[str, Any]) -> tuple[tuple[SubmittedCell, ...], int]:
    """Return a notebook's cells and how many of them were too damaged to read.

    Raises:
        Unreadable: there are no cells at all, or far too many.
    """
    raw = notebook.get("cells")
    if not isinstance(raw, list) or not raw:
        raise Unreadable("The file is a notebook without any cells; hand in the notebook you worked in.")
    if len(raw) > MOST_CELLS:
        raise Unreadable(
            f"The notebook has {len(raw)} cells, and at most {MOST_CELLS} are read; delete some."
        )
    cells = [_cell(item) for item in raw]
    return tuple(cell for cell in cells if cell is not None), cells.count(None)


def _parsed(content: bytes) -> dict[str, Any]:
    if not content.strip():
        raise Unreadable("The file is empty; save the notebook, look at it once more, and hand it in again.")
    if len(content) > BIGGEST_FILE_BYTES:
        raise Unreadable(
            f"The file is bigger than {BIGGEST_FILE_BYTES / 1e6:.0f} MB, and no more is read of a notebook; "
            "clear the outputs and hand it in again."
        )
    try:
        notebook = json.loads(content)
    except (ValueError, RecursionError) as error:
        raise Unreadable(
            "The file can't be read as a notebook (it is damaged, or another kind of file under this name); "
            "open it once in Jupyter, save it, and hand it in again."
        ) from error
    if not isinstance(notebook, dict):
        raise Unreadable("The file holds data, but not a notebook; hand in the .ipynb file of the exercise.")
    return notebook


def _as_version_4(notebook: dict[str, Any]) -> dict[str, Any]:
    """Bring a notebook of an old format up to version 4. Within version 4 nothing we read has changed."""
    major = notebook.get("nbformat", 4)
    if major == 4:
        return notebook
    try:
        if not isinstance(major, int) or major > 4:
            raise ValueError
        with warnings.catch_warnings():
            # What the library thinks of a stranger's cell ids is nothing for the teacher's terminal.
            warnings.simplefilter("ignore")
            return cast("dict[str, Any]", nbformat.convert(nbformat.from_dict(notebook), 4))
    except Exception as error:
        # nbformat lets many kinds of error out when a file only pretends to be of an old version.
        raise Unreadable(
            f"The file says it is a notebook of format {str(major)[:20]}, which can't be read; "
            "open it once in Jupyter, save it, and hand it in again."
        ) from error


def _kernel_notes(notebook: Mapping[str, Any]) -> list[str]:
    metadata = notebook.get("metadata")
    spec = metadata.get("kernelspec") if isinstance(metadata, dict) else None
    name = spec.get("name") if isinstance(spec, dict) else None
    if isinstance(name, str) and name != "python3":
        asked = printable(name[:40])
        return [f"The notebook asked for the kernel '{asked}'; it was run with the course's Python 3."]
    return []


def _cell(item: object) -> SubmittedCell | None:
    if not isinstance(item, dict) or item.get("cell_type") not in get_args(CellKind):
        return None
    source = item.get("source")
    if isinstance(source, list) and all(isinstance(line, str) for line in source):
        source = "".join(source)
    if not isinstance(source, str) or len(source) > LONGEST_CELL_CHARACTERS:
        return None
    return SubmittedCell(
        kind=item["cell_type"],
        source=plain_text(source),
        grade_id=_grade_id(item),
        cell_id=_text(item.get("id")),
    )


def _grade_id(item: Mapping[str, Any]) -> str | None:
    metadata = item.get("metadata")
    nbgrader = metadata.get("nbgrader") if isinstance(metadata, dict) else None
    return _text(nbgrader.get("grade_id")) if isinstance(nbgrader, dict) else None


def _text(value: object) -> str | None:
    return value if isinstance(value, str) and value else None


def printable(text: str) -> str:
    """Return a text that can neither steer a terminal nor turn the line it stands in.

    >>> printable("a\\x1b[2Jb\\u202ec")
    'a?[2Jb?c'
    """
    return "".join(c if c.isprintable() else "?" for c in text)


def plain_text(text: str) -> str:
    """Return a text without half characters and zero bytes: JSON can hold them, but no file and no database.

    >>> plain_text("a\\ud800b\\x00c")
    'a?bc'
    """
    return text.encode("utf-8", "replace").decode("utf-8").replace("\x00", "")
