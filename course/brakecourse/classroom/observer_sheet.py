"""A sheet on paper for whoever watches at a real vehicle: a line for each student, a box for each point.

The points are those of the marking scheme in the instructor's notebook, so sheet and scheme never differ.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import nbformat

from brakecourse import marking
from brakecourse.classroom.attempts import module_of
from brakecourse.classroom.engine.plan import grade_id_of
from brakecourse.classroom.files import reporting_disk_trouble, write_text_whole
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.pages import page_template
from brakecourse.errors import CourseError
from brakecourse.marking import catalogue

STUDENTS_A_PAGE = 12
BEGIN, END = "=== BEGIN MARK SCHEME ===", "=== END MARK SCHEME ==="
_POINT = re.compile(r"^\d+\. \*\*(?P<name>.+?)\*\*:? (?P<words>.+)$", re.MULTILINE)
_TITLE = re.compile(r"^## \S+ (?:On a real vehicle: )?(?P<title>.+) \(.*\)$", re.MULTILINE)


@dataclass(frozen=True)
class ObservedTask:
    """One task on a real vehicle.

    Attributes:
        id: its question, e.g. ``13.17``.
        title: what is done, in a few words.
        marks: marks for all of it.
        points: what is observed: a name, and what is to be seen.
        stop: what ends the work at once.
    """

    id: str
    title: str
    marks: float
    points: tuple[tuple[str, str], ...]
    stop: str


def observed_tasks(module: str, notebook: Mapping[str, Any]) -> tuple[ObservedTask, ...]:
    """Return the tasks of a module, with the points of their marking schemes.

    Args:
        module: the module's name.
        notebook: the instructor's notebook.

    Raises:
        CourseError: the notebook has no cell for a task, or a marking scheme without points.
    """
    cells = {cell["metadata"].get("nbgrader", {}).get("grade_id"): cell for cell in notebook["cells"]}
    return tuple(
        _task(asked, cells.get(grade_id_of(asked.id)))
        for asked in marking.questions(module)
        if asked.kind == "task"
    )


def _task(asked: marking.Question, cell: Mapping[str, Any] | None) -> ObservedTask:
    text = "" if cell is None else str(cell["source"])
    scheme = text.partition(BEGIN)[2].partition(END)[0]
    points = tuple((one["name"], one["words"]) for one in _POINT.finditer(scheme))
    title = _TITLE.search(text)
    if not points or title is None:
        raise CourseError(
            f"Question {asked.id} should have a task cell with a marking scheme of numbered points, but has "
            "none; put the instructor's notebook back as the course has it."
        )
    stop = scheme.strip().splitlines()[-1]
    return ObservedTask(
        asked.id,
        title["title"][:1].upper() + title["title"][1:],
        asked.points,
        points,
        "" if _POINT.match(stop) else stop,
    )


def write_observer_sheet(cls: ClassFolder, module: str) -> Path:
    """Write a module's observer's sheet into the class's exports folder.

    Args:
        cls: the class.
        module: the module's name.

    Returns:
        The page: HTML, each sheet of it one A4 page across, for twelve students.

    Raises:
        CourseError: the module is unknown, was not assigned or has no task, or the page can't be written.
    """
    source = cls.source_notebook(module)
    if not source.is_file():
        raise CourseError(
            f"Module {module} was not handed out to this class yet; "
            f"give 'brakecourse assign {cls.root} {module}' first."
        )
    tasks = observed_tasks(module_of(module), nbformat.read(source, as_version=4))
    if not tasks:
        raise CourseError(
            f"Module {module} has no task on a real vehicle, so it has no observer's sheet; "
            "choose a module with one, such as 13_whole_job."
        )
    path = cls.exports / f"{module}_observer_sheet.html"
    with reporting_disk_trouble(f"write {path}"):
        write_text_whole(path, _page(cls, module, tasks))
    return path


def _page(cls: ClassFolder, module: str, tasks: tuple[ObservedTask, ...]) -> str:
    taking = set(cls.taking(module))
    students = [one for one in cls.roster if one.student_id in taking]
    sheets = [students[at : at + STUDENTS_A_PAGE] for at in range(0, len(students), STUDENTS_A_PAGE)]
    return page_template("observer_sheet.html.j2").render(
        settings=cls.settings,
        number=module.split("_")[0],
        title=catalogue.title(module_of(module)),
        tasks=tasks,
        sheets=sheets,
        printed=f"{datetime.now(cls.settings.zone):%d %B %Y}".lstrip("0"),
    )
