"""Grade under one progress bar, and say how fast it went."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from brakecourse.classroom.folder import ClassFolder
from brakecourse.cli.history import say_what_is_held
from brakecourse.cli.screen import count_of, pace, progress_bar, say

if TYPE_CHECKING:
    from brakecourse.classroom.engine.farm import Farm


def grade_with_a_bar(
    folder: Path,
    cls: ClassFolder,
    modules: Sequence[str],
    students: Sequence[str] | None = None,
    trust: bool = False,
    farm: Farm | None = None,
) -> int:
    """Grade modules in one go; return how many submissions were graded.

    Args:
        folder: the class folder, as it was typed.
        cls: the class.
        modules: which ones.
        students: only these; None for everybody.
        trust: run notebooks even where nothing shuts them in.
        farm: where they run; None for this computer.

    Raises:
        CourseError: as for `engine.grade_modules`.
    """
    from brakecourse.classroom import engine

    what = modules[0] if len(modules) == 1 else count_of(len(modules), "module")
    with progress_bar(f"Grading {what}") as told:
        reports = engine.grade_modules(
            cls, modules, students=students, trust_files=trust, progress=told, farm=farm
        )
    for report in reports:
        say_what_is_held(folder, report.module, report.held)
    fresh = sum(report.fresh for report in reports)
    if fresh:
        say(f"Graded: {count_of(fresh, 'notebook')} {pace(fresh, reports[0].seconds)}.")
    return fresh
