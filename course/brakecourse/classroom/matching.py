"""Tell whose notebook it is, and whether it is the one that was asked for, from names."""

from __future__ import annotations

import json
import re
from collections import Counter, defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache, lru_cache
from pathlib import PurePosixPath

from brakecourse.classroom.attempts import SAID, attempt_of, attempt_said

# A name this like the module's is taken for it: "rotor measurment", "08 rotor - final".
CLOSE_ENOUGH = 0.6

_COPY_MARKS = re.compile(r"(\s*\(\d+\)|[\s_-]*\bcopy\b(\s*\d+)?|[\s_-]*kopie\b)", re.IGNORECASE)
# What follows the bracket is only looked at, so that the next one may begin in it.
_HANDING_IN = re.compile(r"""hand_in\((?=\s*['"]([^'"]+)['"])""")
# Where capitals don't count, `re` takes these four for letters of ASCII too. Source: its documentation.
_AS_ASCII = str.maketrans({"\u0130": "i", "\u0131": "i", "\u017f": "s", "\u212a": "k"})


@dataclass(frozen=True)
class Whose:
    """Whose file it is: one student's, or nobody's with the reason."""

    student_id: str | None
    why_not: str = ""


class Students:
    """The ids of a class, to be looked for in names. What a name costs does not grow with the class.

    Args:
        ids: everyone in the class.
    """

    def __init__(self, ids: Iterable[str]) -> None:
        runs = {one: _runs(one) for one in ids}
        often = Counter(run for found in runs.values() for run in found)
        # In a name that holds an id each run of the id stands whole, so its rarest one leads to it.
        self._by_run: dict[str, list[str]] = defaultdict(list)
        self._by_id: dict[str, set[str]] = defaultdict(set)
        for one, found in runs.items():
            self._by_run[min(found, key=often.__getitem__)].append(one)
            self._by_id[one.casefold()].add(one)

    def whose(self, parts: tuple[str, ...], module: str, outer: str = "") -> Whose:
        """Find the student in the names of the folders, the archives and the file.

        Only names are looked at: what a notebook says about itself is the student's own word.

        Args:
            parts: folder and archive names, outermost first, then the file's name.
            module: its name is struck out first, because "08" may be somebody's id.
            outer: the name of the whole hand-in; it counts only when nothing inside tells and it is just
                an id.

        >>> two = Students(["s03", "s04"])
        >>> two.whose(("hand-in", "s03", "notebook.ipynb"), "08_rotor_measurement").student_id
        's03'
        >>> two.whose(("s03", "final_s04.ipynb"), "08_rotor_measurement").why_not
        'its names point to more than one student (s03, s04)'
        """
        stems = (*parts[:-1], PurePosixPath(parts[-1]).stem)
        found = {student for stem in stems for student in self._ids_in(stem, module)}
        if not found:
            bare = _plain_stem(outer, module).strip(" ._-").casefold()
            found = self._by_id.get(bare, set())
        if len(found) == 1:
            return Whose(next(iter(found)))
        if found:
            return Whose(None, f"its names point to more than one student ({', '.join(sorted(found))})")
        return Whose(None, "no student's id stands in its name or in the name of its folder")

    def _ids_in(self, stem: str, module: str) -> set[str]:
        stem = _plain_stem(stem, module)
        ids = {one for run in _runs(stem) for one in self._by_run.get(run, ())}
        spans = [(m.start(), m.end(), i) for i in ids for m in _token(i).finditer(stem)]
        # "ab" also stands as a token inside "ab-1": the longer id counts.
        longest = {
            i for a, b, i in spans if not any(c <= a and b <= d and d - c > b - a for c, d, _ in spans)
        }
        # Of a module's name that was misspelt, "08" is left over: that is no student, unless it stands alone.
        doubtful = _words(module).split()
        return {i for i in longest if i.casefold() not in doubtful or i.casefold() == stem.strip().casefold()}


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
    return _alike(_words(name), module)


@lru_cache(maxsize=1024)  # most of a class call a file the same, and comparing takes long
def _alike(words: str, module: str) -> float:
    wanted = _words(module)
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


@dataclass(frozen=True)
class HandsIn:
    """What a notebook hands in.

    Attributes:
        questions: what its cells hand in, up to the one that settles it.
        otherwise: whether it is an exercise when none of those is asked for; None: not readable.
    """

    questions: frozenset[str]
    otherwise: bool | None

    def any_of(self, questions: Collection[str]) -> bool | None:
        """Tell a module's exercise from a lesson: its cells hand in its questions. None: not readable.

        Args:
            questions: the module's question ids.
        """
        return self.otherwise if self.questions.isdisjoint(questions) else True


def hands_in(content: bytes) -> HandsIn:
    """Look into a notebook for what its cells hand in.

    >>> page = hands_in(b'{"cells": [{"source": "8.1"}, {"source": ["hand_in(", "\\'8.2\\')"]}]}')
    >>> page.any_of(["8.2"]), page.any_of(["8.1"]), hands_in(b"{}").any_of(["8.1"])
    (True, False, None)
    """
    found: set[str] = set()
    try:
        for cell in json.loads(content)["cells"]:
            if "nbgrader" in cell.get("metadata", {}):
                return HandsIn(frozenset(found), True)
            found.update(_HANDING_IN.findall("".join(cell.get("source", ""))))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return HandsIn(frozenset(found), None)
    return HandsIn(frozenset(found), False)


@cache
def _token(student_id: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![A-Za-z0-9]){re.escape(student_id)}(?![A-Za-z0-9])", re.IGNORECASE)


def _plain_stem(stem: str, module: str) -> str:
    bare = re.sub(re.escape(module), " ", _COPY_MARKS.sub(" ", stem), flags=re.IGNORECASE)
    return SAID.sub(" ", bare)


def _runs(text: str) -> list[str]:
    return re.findall(r"[a-z0-9]+", text.translate(_AS_ASCII).lower())


def _words(text: str) -> str:
    return " ".join(re.findall(r"[a-z0-9]+", text.casefold()))
