"""What is to be seen in a plain nbgrader course after an attack."""

from __future__ import annotations

import contextlib
import hashlib
import json
import re
import sqlite3
import subprocess
from dataclasses import dataclass
from pathlib import Path

from tests.attacks.plain import ASSIGNMENT, TESTS
from tests.attacks.registry import MARK


@dataclass(frozen=True)
class Outcome:
    """What an attack came to.

    Attributes:
        points: what the attacker got; None when nothing was graded.
        honest_points: what the honest student got; None when not graded.
        changed: files that were there before and are changed or gone, but the attacker's own.
        laid: new files where neither nbgrader nor the attacker's folder has one.
        by_hand: grades in the gradebook that say a teacher gave them; None when it can't be read.
        triggers: triggers in the gradebook.
        secret: whether a secret file's text is in what the attacker gets back.
        tests: whether hidden tests were printed into what the attacker gets back.
        opened: whether it said that it had opened other processes' memory.
    """

    points: float | None
    honest_points: float | None
    changed: tuple[str, ...]
    laid: tuple[str, ...]
    by_hand: int | None
    triggers: int | None
    secret: bool
    tests: bool
    opened: bool


def fingerprints(folder: Path) -> dict[str, str]:
    """Every file in reach of the attack, not deeper than a course folder goes."""
    # find goes on where Python's walk gives up in a hole of folders.
    found = subprocess.run(
        ["find", str(folder), "-maxdepth", "7", "(", "-type", "f", "-o", "-type", "l", ")", "-print0"],
        capture_output=True, check=True,
    ).stdout.decode(errors="surrogateescape").split("\0")  # fmt: skip
    prints = {}
    for path in map(Path, filter(None, found)):
        content = str(path.readlink()).encode() if path.is_symlink() else path.read_bytes()
        prints[str(path.relative_to(folder))] = hashlib.sha256(content).hexdigest()
    return prints


def outcome_of(
    folder: Path, course: Path, students: tuple[str, str], before: dict[str, str], canary: str
) -> Outcome:
    """Look at everything."""
    attacker, honest = students
    after = fingerprints(folder)
    nbgraders = (
        "said.txt", "one.sock", "course/gradebook.db", "course/autograded/", "course/downloaded/",
        "course/submitted/", "course/.nbgrader", "home/",
    )  # fmt: skip
    theirs = (f"course/submitted/{attacker}/", f"course/downloaded/{ASSIGNMENT}/archive/{attacker}/")
    changed = [
        name for name, print_ in before.items()
        if after.get(name) != print_ and not name.startswith((*theirs, "course/gradebook.db"))
    ]  # fmt: skip
    laid = [
        name for name in after
        if name not in before and not name.startswith((*theirs, f"course/autograded/{attacker}/"))
        and (MARK in name or not name.startswith(nbgraders))
    ]  # fmt: skip
    texts = what_came_back(course, attacker)
    return Outcome(
        points_of(course, attacker), points_of(course, honest), tuple(changed), tuple(laid),
        ask(course, "SELECT count(*) FROM grade WHERE manual_score IS NOT NULL"),
        ask(course, "SELECT count(*) FROM sqlite_master WHERE type = 'trigger'"),
        canary in texts, any(one.partition("\n")[0] in texts for one in TESTS.values()),
        bool(re.search(r"^opened \d+$", texts, re.MULTILINE)),
    )  # fmt: skip


def ask(course: Path, question: str, *words: str) -> int | None:
    """One number from the gradebook; None when it can't be read."""
    path = f"file:{course / 'gradebook.db'}?mode=ro"
    try:
        with contextlib.closing(sqlite3.connect(path, uri=True)) as book:
            return int(book.execute(question, words).fetchone()[0] or 0)
    except sqlite3.Error:
        return None


def points_of(course: Path, student: str) -> float | None:
    """A student's points, as nbgrader adds them up; None when nbgrader left no graded notebook."""
    if not (course / "autograded" / student / ASSIGNMENT / f"{ASSIGNMENT}.ipynb").exists():
        return None
    adds = (
        "SELECT sum(coalesce(grade.manual_score, grade.auto_score, 0) + coalesce(grade.extra_credit, 0)) "
        "FROM grade JOIN submitted_notebook ON grade.notebook_id = submitted_notebook.id "
        "JOIN submitted_assignment ON submitted_notebook.assignment_id = submitted_assignment.id "
        "WHERE submitted_assignment.student_id = ?"
    )
    return ask(course, adds, student)


def what_came_back(course: Path, student: str) -> str:
    """What the student's own code put out, in the graded notebook; errors name the tests to everybody."""
    path = course / "autograded" / student / ASSIGNMENT / f"{ASSIGNMENT}.ipynb"
    try:
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    except (OSError, ValueError):
        return ""
    said = [out for cell in cells for out in cell.get("outputs", ()) if out["output_type"] != "error"]
    texts = [text for out in said for text in (out.get("text", ""), *out.get("data", {}).values())]
    return "\n".join("".join(text) if isinstance(text, list) else str(text) for text in texts)
