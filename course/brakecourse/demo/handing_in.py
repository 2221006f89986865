"""Bring the simulated students' work into one folder, mishaps included, as a class's post would look."""

from __future__ import annotations

import os
import zipfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

import nbformat

from brakecourse.demo.homework import answer_cell
from brakecourse.demo.people import Person
from brakecourse.errors import CourseError
from brakecourse.marking import questions

_LOOP = """\
place = 0
while place < 8:  # never ends: place does not grow
    thickest_mm = 0.0
"""


def hand_in(person: Person, notebook: Path, inbox: Path, due: datetime, number: int, module: str) -> None:
    """Put one student's work into the inbox, unless the student hands in nothing.

    Args:
        person: who.
        notebook: the notebook on the student's own computer, filled in and run.
        inbox: where everybody's work arrives.
        due: when it is due.
        number: the student's place in the class; it spreads the times and the ways of handing in.
        module: which exercise it is.
    """
    if person.hands_in == "not at all":
        return
    when = due - timedelta(hours=1 + number, minutes=7 * number)
    if person.hands_in == "late":
        when = due + timedelta(days=1, hours=3)
    content = notebook.read_bytes()
    if person.hands_in == "a damaged file":
        content = content[: len(content) // 2]
    elif person.hands_in == "an endless loop":
        content = _with_a_loop(content, module)
    elif person.hands_in == "a deleted cell":
        content = _without_a_cell(content, module)
    _put(person, notebook, content, inbox, when, number, module)


def _put(
    person: Person, notebook: Path, content: bytes, inbox: Path, when: datetime, number: int, module: str
) -> None:
    if number % 4 == 0:  # the whole kit as a zip
        path = inbox / f"{person.student_id}.zip"
        _zip_kit(notebook, content, path, when)
    elif number % 4 == 1:  # a file of the student's own naming
        words = " ".join(module.split("_")[1:])
        path = inbox / f"{words} final {person.student_id}.ipynb"
        path.write_bytes(content)
    else:  # a folder for each student, as a learning platform's download has
        path = inbox / person.student_id / notebook.name
        path.parent.mkdir()
        path.write_bytes(content)
    os.utime(path, (when.timestamp(), when.timestamp()))


def _zip_kit(notebook: Path, content: bytes, path: Path, when: datetime) -> None:
    local = when.astimezone(UTC).timetuple()[:6]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in sorted(notebook.parent.rglob("*")):
            if file.is_file():
                name = f"{notebook.parent.name}/{file.relative_to(notebook.parent).as_posix()}"
                entry = zipfile.ZipInfo(name, local)
                entry.compress_type = zipfile.ZIP_DEFLATED
                archive.writestr(entry, content if file == notebook else file.read_bytes())


def _with_a_loop(content: bytes, module: str) -> bytes:
    notebook = nbformat.reads(content.decode("utf-8"), as_version=4)
    cell = answer_cell(notebook, _numbers(module)[-2])
    cell.source = _LOOP + cell.source
    return nbformat.writes(notebook).encode("utf-8")


def _without_a_cell(content: bytes, module: str) -> bytes:
    notebook = nbformat.reads(content.decode("utf-8"), as_version=4)
    gone = "q" + _numbers(module)[1].replace(".", "_")
    kept = [cell for cell in notebook.cells if cell.metadata.get("nbgrader", {}).get("grade_id") != gone]
    if len(kept) == len(notebook.cells):
        raise CourseError(f"The exercise has no graded cell '{gone}' that could be deleted; make it again.")
    notebook.cells = kept
    return nbformat.writes(notebook).encode("utf-8")


def _numbers(module: str) -> list[str]:
    """The questions of a module that are answered by one number."""
    return [one.id for one in questions(module) if one.kind == "number"]
