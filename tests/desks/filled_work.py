"""Work that invented students hand in, filled in and not run: the quick farm reads the plain values."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import nbformat
from brakecourse.classroom.assign import read_case
from brakecourse.classroom.folder import ClassFolder
from brakecourse.demo.homework import as_typed, fill_in

LETTER = "The rotor is worn below the limit. We fit a new one, and you can drive home tonight."


def hand_in_work(
    cls: ClassFolder, module: str, students: Mapping[str, Mapping[str, object]], inbox: Path
) -> Path:
    """Put notebooks with all the right answers into a folder, changed as wanted.

    Args:
        cls: the class, which was set the module.
        module: which exercise.
        students: for each id, the answers that differ from the right ones.
        inbox: where to; it is made.
    """
    inbox.mkdir()
    for student, own in students.items():
        case = read_case(cls, module, student)
        answers: dict[str, object] = {
            one.id: list(one.expected) if isinstance(one.expected, tuple) else one.expected
            for one in case.questions
            if one.kind != "task"
        }
        answers |= {one.id: LETTER for one in case.questions if one.kind == "written"}
        notebook = nbformat.read(cls.release_notebook(module), as_version=4)
        fill_in(notebook, as_typed(case, answers | dict(own)))
        nbformat.write(notebook, inbox / f"{module}-{student}.ipynb")
    return inbox
