"""The settings under which plain nbgrader commands treat a class as the course's own grading does."""

from __future__ import annotations

from pathlib import Path

from traitlets.config import Config

from brakecourse.classroom.files import reporting_disk_trouble, write_text_whole
from brakecourse.classroom.folder import ClassFolder, open_class
from brakecourse.errors import CourseError

COURSE_ID = "brakecourse"

# What stands in a handed-out answer cell in the place of the solution: nothing, so `name = None` is left.
CODE_STUB = {"python": ""}
TEXT_STUB = "*Write your answer here.*"

SANITIZE = (
    "brakecourse.classroom.engine.preprocessors.HealSubmission",
    "nbgrader.preprocessors.OverwriteKernelspec",
    "nbgrader.preprocessors.OverwriteCells",
    "nbgrader.preprocessors.CheckCellMetadata",
)
AUTOGRADE = (
    "brakecourse.classroom.engine.preprocessors.PlaceWorkOrder",
    "brakecourse.classroom.engine.preprocessors.SandboxedExecute",
    "brakecourse.classroom.engine.preprocessors.JudgeAnswers",
    "nbgrader.preprocessors.LimitOutput",
    "nbgrader.preprocessors.SaveAutoGrades",
    "nbgrader.preprocessors.CheckCellMetadata",
)

_TEXT = """\
# Settings for nbgrader, written by the course. Plain nbgrader commands given in this folder grade as
# "brakecourse grade" does: submissions are put in order, run shut in, and judged outside the kernel.
# Late days are counted when grades are listed, so nbgrader's own late penalty is left out.
from pathlib import Path

from brakecourse.classroom.nbgrader_config import gradebook_address

c = get_config()  # noqa: F821 (nbgrader provides it)

c.CourseDirectory.course_id = {course_id!r}
c.CourseDirectory.root = str(Path(__file__).resolve().parent)
# The gradebook that class.toml names. A password is never written here: PostgreSQL's own ~/.pgpass holds it.
c.CourseDirectory.db_url = gradebook_address(Path(__file__).resolve().parent)

c.ClearSolutions.code_stub = {code_stub!r}
c.ClearSolutions.text_stub = {text_stub!r}

c.Autograde.create_student = True
c.Autograde.sanitize_preprocessors = [
{sanitize}
]
c.Autograde.autograde_preprocessors = [
{autograde}
]

# Without bubblewrap nothing shuts a student's code in, and grading is refused. If you know every file:
# c.SandboxedExecute.trust_files = True
"""


def release_config() -> Config:
    """Return the settings that make a handed-out notebook from the instructor's."""
    config = Config()
    config.CourseDirectory.course_id = COURSE_ID
    config.ClearSolutions.code_stub = dict(CODE_STUB)
    config.ClearSolutions.text_stub = TEXT_STUB
    return config


def gradebook_address(root: Path) -> str:
    """Return the address of a class's gradebook, for nbgrader.

    Raises:
        SystemExit: the class's settings can't be read. nbgrader would go on without any of its settings.
    """
    # The gradebook's own modules know this one.
    from brakecourse.classroom.engine.database import database_url

    try:
        return database_url(open_class(root)).render_as_string(hide_password=False)
    except CourseError as error:
        raise SystemExit(str(error)) from error


def write_nbgrader_config(cls: ClassFolder) -> Path:
    """Write the class's `nbgrader_config.py`.

    A file that is there stays: a teacher may have changed it.

    Returns:
        Where it lies.

    Raises:
        CourseError: it can't be written, or it is an old one that does not know of the class's database.
    """
    path = cls.nbgrader_config_file
    with reporting_disk_trouble(f"write {path}"):
        if not path.exists():
            write_text_whole(path, config_text())
        elif cls.settings.gradebook_on_server and "db_url" not in path.read_text(encoding="utf-8"):
            raise CourseError(
                f"The class's gradebook is a database, but {path} does not name it, so nbgrader would use "
                "another one; move that file away, then give the same command again to have it written anew."
            )
    return path


def config_text() -> str:
    """Return the text of a class's `nbgrader_config.py`."""
    return _TEXT.format(
        course_id=COURSE_ID,
        code_stub=CODE_STUB,
        text_stub=TEXT_STUB,
        sanitize="\n".join(f'    "{name}",' for name in SANITIZE),
        autograde="\n".join(f'    "{name}",' for name in AUTOGRADE),
    )
