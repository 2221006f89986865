"""Make nbgrader's assignment of a module: the instructor's notebook in, the handed-out notebook out."""

from __future__ import annotations

import glob
import logging
from pathlib import Path

from nbgrader.api import MissingEntry
from nbgrader.converters import GenerateAssignment
from nbgrader.converters.base import NbGraderException
from nbgrader.coursedir import CourseDirectory

import brakecourse
from brakecourse.classroom.attempts import module_of
from brakecourse.classroom.engine.database import database_url, gradebook_trouble
from brakecourse.classroom.engine.ledger import Ledger, make_gradebook
from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.nbgrader_config import release_config, write_nbgrader_config
from brakecourse.errors import CourseError

SOLUTIONS = Path(brakecourse.__file__).resolve().parents[2] / "solutions"


def prepare_assignment(cls: ClassFolder, module: str) -> Path:
    """Make a module ready to hand out. Giving it again is safe.

    Once work has come in the notebook stays as this class was set it, even when the course has a newer one.
    Only the notebook is taken from the course's solutions: whatever else lies in nbgrader's source folder
    would be handed out, and would replace the students' own files when they are graded.

    Args:
        cls: the class.
        module: the module's name.

    Returns:
        The notebook that students get.

    Raises:
        CourseError: there is no such module, or the class folder can't be written or has an unfit name.
    """
    source = _solution(module_of(module))
    if glob.escape(str(cls.root)) != str(cls.root):
        raise CourseError(
            f"The path of the class folder {cls.root} holds one of the signs * ? [ which nbgrader takes for "
            "wildcards; give the folder another name or place."
        )
    write_nbgrader_config(cls)
    with reporting_disk_trouble(f"make the assignment {module}"), gradebook_trouble(cls):
        make_gradebook(cls)
        if not _stays(cls, module, source):
            write_bytes_whole(cls.source_notebook(module), source)
            _generate(cls, module)
        _set_due(cls, module)
    return cls.release_notebook(module)


def _solution(module: str) -> bytes:
    path = SOLUTIONS / module / f"{module}.ipynb"
    try:
        return path.read_bytes()
    except OSError as error:
        raise CourseError(
            f"The course has no instructor's notebook for module '{module}' ({path} was expected); "
            "check the module's name, or fetch the course again."
        ) from error


def _stays(cls: ClassFolder, module: str, source: bytes) -> bool:
    """Tell whether the assignment is there, made of this very notebook or with work that came in for it."""
    kept = cls.source_notebook(module)
    if not (kept.is_file() and cls.release_notebook(module).is_file()):
        return False
    with Ledger(cls) as ledger, ledger.reading() as book:
        try:
            assignment = book.find_assignment(module)
        except MissingEntry:
            return False
        if not assignment.notebooks:
            return False
        came_in = bool(assignment.submissions) or any((cls.root / "submitted").glob(f"*/{module}/*.ipynb"))
        return came_in or kept.read_bytes() == source


def _generate(cls: ClassFolder, module: str) -> None:
    """Let nbgrader make the handed-out notebook and enter its cells in the gradebook."""
    said = _Said()
    course = CourseDirectory(
        config=release_config(),
        root=str(cls.root),
        assignment_id=module,
        db_url=database_url(cls).render_as_string(hide_password=False),
    )
    converter = GenerateAssignment(coursedir=course, config=release_config())
    converter.log = said.logger
    converter.force = True
    try:
        converter.start()
    except NbGraderException as error:
        raise CourseError(f"nbgrader could not make the assignment {module}: {said.last or error}") from error


def _set_due(cls: ClassFolder, module: str) -> None:
    """Enter the due time in nbgrader's table, where its form grader shows it."""
    due = cls.settings.due_utc(module)
    with Ledger(cls) as ledger, ledger.transaction() as book:
        book.find_assignment(module).duedate = due.replace(tzinfo=None) if due else None


class _Said(logging.Handler):
    """Keeps nbgrader's messages off the screen, and its last complaint for the one sentence."""

    def __init__(self) -> None:
        super().__init__(logging.ERROR)
        self.last = ""
        self.logger = logging.getLogger("brakecourse.nbgrader")
        self.logger.handlers = [self]
        self.logger.propagate = False

    def emit(self, record: logging.LogRecord) -> None:
        """Keep an error's last line."""
        self.last = record.getMessage().strip().split("\n")[-1]
