"""Tell whose notebook it is, and whether it is the one that was asked for, from names."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import PurePosixPath

from brakecourse.classroom.attempts import SAID, attempt_of, attempt_said

# A name this like the module's is taken for it: "rotor measurment", "08 rotor - final".
CLOSE_ENOUGH = 0.6

_COPY_MARKS = re.compile(r"(\s*\(\d+\)|[\s_-]*\bcopy\b(\s*\d+)?|[\s_-]*kopie\b)", re.IGNORECASE)


@dataclass(frozen=True)
class Whose:
    """Whose file it is: one student's, or nobody's with the reason."""

    student_id: str | None
    why_not: str = ""


def whose(parts: tuple[str, ...], student_ids: Iterable[str], module: str, outer: str = "") -> Whose:
    """Find the student in the names of the folders, the archives and the file.

    Only names are looked at: what a notebook says about itself is the student's own word.

    Args:
        parts: folder and archive names, outermost first, then the file's name.
        student_ids: everyone in the class.
        module: its name is struck out first, because "08" may be somebody's id.
        outer: the name of the whole hand-in; it counts only when nothing inside tells and it is just an id.

    >>> whose(("hand-in", "s03", "notebook.ipynb"), ["s03", "s04"], "08_rotor_measurement").student_id
    's03'
    >>> whose(("s03", "final_s04.ipynb"), ["s03", "s04"], "08_rotor_measurement").why_not
    'its names point to more than one student (s03, s04)'
    """
    ids = list(student_ids)
    stems = (*parts[:-1], PurePosixPath(parts[-1]).stem)
    found = {student for stem in stems for student in _ids_in(stem, ids, module)}
    if not found:
        bare = _plain_stem(outer, module).strip(" ._-").casefold()
        found = {student for student in ids if student.casefold() == bare}
    if len(found) == 1:
        return Whose(found.pop())
    if found:
        return Whose(None, f"its names point to more than one student ({', '.join(sorted(found))})")
    return Whose(None, "no student's id stands in its name or in the name of its folder")


def closeness(file_name: str, module: str, student_id: str = "") -> float:
    """How alike a notebook's name is to a module's, from 0 to 1.

    >>> closeness("Rotor_Measurement-s03 (1).ipynb", "08_rotor_measurement", "s03")
    1.0
    >>> closeness("holiday.ipynb", "08_rotor_measurement") < CLOSE_ENOUGH
    True
    """
    name = _COPY_MARKS.sub("", PurePosixPath(file_name).stem)
    said = attempt_said(name)
    if said is not None and said != attempt_of(module):
        return 0.0
    if student_id:
        name = _token(student_id).sub(" ", name)
    words, wanted = _words(name), _words(module)
    title = " ".join(w for w in wanted.split() if not w.isdigit())
    if title and title in words:
        return 1.0
    return max(SequenceMatcher(None, words, wanted).ratio(), SequenceMatcher(None, words, title).ratio())


def is_usual_name(file_name: str, module: str, student_id: str) -> bool:
    """Tell whether a notebook is called like the module, or just by the student's id.

    >>> [is_usual_name(name, "08_rotor_measurement", "s03") for name in ("s03.ipynb", "homework.ipynb")]
    [True, False]
    """
    by_id = file_name.casefold() == f"{student_id}.ipynb".casefold()
    return by_id or closeness(file_name, module, student_id) == 1.0


def is_an_exercise(content: bytes, questions: Iterable[str]) -> bool | None:
    """Tell a module's exercise from a lesson: it has cells that hand in its questions. None: not readable.

    Args:
        content: the notebook.
        questions: the module's question ids.
    """
    handing_in = re.compile(rf"hand_in\(\s*['\"](?:{'|'.join(map(re.escape, questions))})['\"]")
    try:
        cells = json.loads(content)["cells"]
        return any(
            "nbgrader" in cell.get("metadata", {}) or handing_in.search("".join(cell.get("source", "")))
            for cell in cells
        )
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None


def _ids_in(stem: str, ids: list[str], module: str) -> set[str]:
    stem = _plain_stem(stem, module)
    spans = [(m.start(), m.end(), i) for i in ids for m in _token(i).finditer(stem)]
    # "ab" also stands as a token inside "ab-1": the longer id counts.
    longest = {i for a, b, i in spans if not any(c <= a and b <= d and d - c > b - a for c, d, _ in spans)}
    # Of a module's name that was misspelt, "08" is left over: that is no student, unless it stands alone.
    doubtful = set(_words(module).split())
    return {i for i in longest if i.casefold() not in doubtful or i.casefold() == stem.strip().casefold()}


def _token(student_id: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![A-Za-z0-9]){re.escape(student_id)}(?![A-Za-z0-9])", re.IGNORECASE)


def _plain_stem(stem: str, module: str) -> str:
    bare = re.sub(re.escape(module), " ", _COPY_MARKS.sub(" ", stem), flags=re.IGNORECASE)
    return SAID.sub(" ", bare)


def _words(text: str) -> str:
    return " ".join(re.findall(r"[a-z0-9]+", text.casefold()))
