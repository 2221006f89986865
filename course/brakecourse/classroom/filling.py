"""Put a case's values into a solved notebook."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

from brakecourse.errors import CourseError

LETTER_ENDS = "**For the instructor"


def fill_in(solved: Any, values: Mapping[str, str], letters: Mapping[str, str]) -> Any:
    """Put a case's values into the solved notebook, in place of those of an earlier one, and return it.

    A line ``name = …`` in a solution gets the value of that name; each written answer, the cell ``q8_9`` for
    question 8.9, gets its letter.

    Raises:
        CourseError: the notebook has no line for one of the values.
    """
    missing = set(values) | set(letters)
    for cell in solved.cells:
        marks = cell.metadata.get("nbgrader", {})
        if not marks.get("solution"):
            continue
        if cell.cell_type == "markdown":
            question = marks["grade_id"].removeprefix("q").replace("_", ".")
            if question in letters:
                _, ends, scheme = cell.source.partition(LETTER_ENDS)
                cell.source = f"{letters[question]}\n\n{ends}{scheme}"
                missing.discard(question)
            continue
        for name in missing & set(values):
            line = re.compile(rf"^{name} = (?!None).*$", re.MULTILINE)
            cell.source, found = line.subn(_replacement(f"{name} = {values[name]}"), cell.source)
            if found:
                missing.discard(name)
    if missing:
        raise CourseError(f"The solved notebook should have a line for {', '.join(sorted(missing))}.")
    return solved


def _replacement(text: str) -> Callable[[re.Match[str]], str]:
    # A function, so that a backslash in the text means nothing to the pattern.
    return lambda _: text
