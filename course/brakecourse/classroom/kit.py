"""Pack a student's kit: one zip with the lesson, the exercise, the work order and what opens them.

The same inputs give the same bytes. Nothing of marking, of the class or of another student is inside.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

import brakecourse
from brakecourse.classroom.attempts import module_of
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.pages import page_template
from brakecourse.classroom.wheel import build_learner_wheel
from brakecourse.classroom.zips import Pressed, pressed, pressed_zip
from brakecourse.errors import CourseError

_REPOSITORY = Path(brakecourse.__file__).resolve().parents[2]


def exercise_name(module: str, student_id: str) -> str:
    """What the exercise's notebook is called in a kit: the id in it tells whose it is when it comes back.

    >>> exercise_name("08_rotor_measurement", "s03")
    '08_rotor_measurement-s03.ipynb'
    """
    return f"{module}-{student_id}.ipynb"


def shared_files(cls: ClassFolder, module: str) -> dict[str, Pressed]:
    """Read, build and press what is the same in everyone's kit.

    Returns:
        The files by their paths inside the kit. The exercise stands under the key "exercise".

    Raises:
        CourseError: a file of the course is missing.
    """
    wheel_name, wheel = build_learner_wheel()
    pages = ("00_start_here", "glossary", "job_sheet", module_of(module))
    lessons = ["00_practice_order.json", *(f"{page}.ipynb" for page in pages)]
    files = {
        "exercise": _course_file(cls.release_notebook(module)),
        "run.py": _course_file(_REPOSITORY / "run.py"),
        "requirements.txt": _course_file(_REPOSITORY / "requirements-student.txt"),
        f"wheels/{wheel_name}": wheel,
        **{f"lessons/{name}": _course_file(_REPOSITORY / "course" / "lessons" / name) for name in lessons},
    }
    return {name: pressed(content) for name, content in files.items()}


def kit_bytes(
    cls: ClassFolder,
    module: str,
    student_id: str,
    work_order: Mapping[str, Any],
    shared: Mapping[str, Pressed],
) -> bytes:
    """Return one student's kit as a zip.

    Args:
        cls: the class.
        module: the module.
        student_id: whose kit it is.
        work_order: what the student may know of the case.
        shared: what `shared_files` returned.
    """
    own = {name: file for name, file in shared.items() if name != "exercise"}
    own[exercise_name(module, student_id)] = shared["exercise"]
    order = json.dumps(work_order, indent=1, ensure_ascii=False, sort_keys=True) + "\n"
    own["work_order.json"] = pressed(order.encode("utf-8"))
    page = start_page(cls, module, student_id, str(work_order["title"]))
    own["START_HERE.html"] = pressed(page.encode("utf-8"))
    # One folder holds it all, so that unpacking spills nothing over the student's desk.
    top = f"{module}-{student_id}"
    return pressed_zip({f"{top}/{name}": file for name, file in own.items()}, programs={f"{top}/run.py"})


def start_page(cls: ClassFolder, module: str, student_id: str, title: str) -> str:
    """Return the page that tells a student what to do, where to save and what to hand in."""
    due = cls.settings.due_utc(module)
    return page_template("start_here.html.j2", tight=False).render(
        class_name=cls.settings.name,
        term=cls.settings.term,
        module=module,
        title=title,
        student_id=student_id,
        exercise=exercise_name(module, student_id),
        due=None if due is None else due_words(due.astimezone(cls.settings.zone), cls.settings.timezone),
        per_day=cls.settings.late_penalty_percent_per_day,
        cap=cls.settings.late_penalty_cap_percent,
    )


def due_words(due: datetime, zone_name: str) -> str:
    """Say a due time in words.

    >>> due_words(datetime(2026, 12, 4, 18, 0), "Europe/Paris")
    'Friday 4 December 2026, 18:00 (Europe/Paris time)'
    """
    return f"{due:%A} {due.day} {due:%B %Y, %H:%M} ({zone_name} time)"


def _course_file(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError as error:
        raise CourseError(
            f"A kit needs the file {path}, but it is not there; "
            "fetch the course again so that it is complete."
        ) from error
