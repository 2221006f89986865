"""A module that is handed out a second time is an assignment of its own, with another vehicle for everyone.

The first attempt is called as the module is; a later one has its number behind the name. Everything that
keeps, grades and gives back goes by that name; only what is asked comes from the module.
"""

from __future__ import annotations

import re

from brakecourse import marking
from brakecourse.errors import CourseError

MOST_ATTEMPTS = 9
_LATER = re.compile(r"(?P<module>.+)-attempt-(?P<number>[2-9])")
SAID = re.compile(r"[\s_-]*\battempt[\s_-]*(\d+)\b", re.IGNORECASE)
"""How a file's name tells which attempt it is."""


def assignment_name(module: str, attempt: int = 1) -> str:
    """Return what an attempt at a module is called.

    Raises:
        CourseError: there is no such module, or no such attempt.

    >>> assignment_name("08_rotor_measurement", 2)
    '08_rotor_measurement-attempt-2'
    """
    if module not in marking.MODULES:
        raise CourseError(
            f"No module '{module}' is in this course; "
            f"the modules with an exercise are {', '.join(marking.MODULES)}."
        )
    if not 1 <= attempt <= MOST_ATTEMPTS:
        raise CourseError(f"An attempt from 1 to {MOST_ATTEMPTS} was expected, but found {attempt}.")
    return module if attempt == 1 else f"{module}-attempt-{attempt}"


def module_of(assignment: str) -> str:
    """Return the module of an assignment.

    >>> module_of("08_rotor_measurement-attempt-2")
    '08_rotor_measurement'
    """
    found = _LATER.fullmatch(assignment)
    return found["module"] if found else assignment


def attempt_of(assignment: str) -> int:
    """Return which attempt an assignment is, 1 for the first.

    >>> attempt_of("08_rotor_measurement"), attempt_of("08_rotor_measurement-attempt-2")
    (1, 2)
    """
    found = _LATER.fullmatch(assignment)
    return int(found["number"]) if found else 1


def attempt_said(file_name: str) -> int | None:
    """Return the attempt that a file's name tells of, or None when it tells of none.

    >>> attempt_said("08_rotor_measurement-attempt-2-s03.ipynb"), attempt_said("rotor.ipynb")
    (2, None)
    """
    found = SAID.search(file_name)
    return int(found[1]) if found and len(found[1]) < 3 else None
