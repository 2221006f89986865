"""What is in a file that is about to leave the class: its first lines, its parts, or the picture itself."""

from __future__ import annotations

import base64
import csv
import io
import re
import zipfile
from html import escape, unescape

from brakecourse.desks.parts import note, table
from brakecourse.exports.kinds import OutFile

MOST_LINES = 6
"""So many lines of a file are shown."""
_LONGEST = 160


def peek(file: OutFile) -> str:
    """Return what is in a file as HTML. Everything in it is shown as text."""
    ending = file.name.rpartition(".")[2]
    made = {"csv": _csv, "zip": _zip, "xlsx": _workbook, "png": _picture, "pdf": _pdf}.get(ending, _text)
    said = "".join(note(one) for one in file.said)
    return f"{made(file)}{said}"


def _csv(file: OutFile) -> str:
    head, *rows = list(csv.reader(io.StringIO(file.content.decode("utf-8"), newline="")))
    return table(f"{file.name}: the first of {len(rows)} rows", head, rows[:MOST_LINES])


def _text(file: OutFile) -> str:
    lines = file.content.decode("utf-8", "replace").splitlines()
    first = "\n".join(line[:_LONGEST] for line in lines[: 4 * MOST_LINES])
    more = "\n…" if len(lines) > 4 * MOST_LINES else ""
    return f'<p>{escape(file.name)}:</p><pre class="bc-given">{escape(first)}{more}</pre>'


def _zip(file: OutFile) -> str:
    with zipfile.ZipFile(io.BytesIO(file.content)) as archive:
        inside = {name: archive.read(name).decode("utf-8") for name in archive.namelist()}
    tables = {name: list(csv.reader(io.StringIO(text, newline=""))) for name, text in inside.items()}
    rows = [
        (name, max(0, len(lines) - 1), ", ".join(lines[0]) if lines else "", _first(lines))
        for name, lines in tables.items()
    ]
    return table(f"In {file.name}", ["File in the zip", ">Rows", "Columns", "First row"], rows, tall=True)


def _first(lines: list[list[str]]) -> str:
    return ", ".join(one for one in lines[1] if one)[:_LONGEST] if len(lines) > 1 else ""


def _workbook(file: OutFile) -> str:
    with zipfile.ZipFile(io.BytesIO(file.content)) as archive:
        text = archive.read("xl/workbook.xml").decode("utf-8")
    names = [unescape(name) for name in re.findall(r'<sheet [^>]*\bname="([^"]*)"', text)]
    rows = [(number, name) for number, name in enumerate(names, start=1)]
    return table(f"In {file.name}", ["Sheet", "Name"], rows, tall=True)


def _picture(file: OutFile) -> str:
    data = base64.b64encode(file.content).decode("ascii")
    alt = f"{file.name}; the file of the same name that ends with .csv has its figures"
    return f'<figure><img src="data:image/png;base64,{data}" alt="{escape(alt, quote=True)}"></figure>'


def _pdf(file: OutFile) -> str:
    return note(
        f"{file.name}: a page of PDF, {len(file.content)} bytes, about student {', '.join(file.who)}."
    )
