"""What is asked in each module, read from the course's tables.

The wording that a student sees stands in the notebook and in these tables; how an answer is
marked stands in :mod:`brakecourse.marking.judge` and the module's own file.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import cast, get_args

from brakecourse.errors import CourseError
from brakecourse.marking.sealed import Kind
from brakecourse.tables import read_table


@dataclass(frozen=True)
class Choice:
    """One choice of words.

    Attributes:
        key: its short name in the tables.
        text: the words that a student picks.
        action: what the sentence would do, empty when the choice is only a word.
        reason: the check that the sentence rests on, empty for a reason that is never sound.
        mistake: the named mistake that picking it shows, or None.
    """

    key: str
    text: str
    action: str = ""
    reason: str = ""
    mistake: str | None = None


@dataclass(frozen=True)
class Question:
    """One question of a module, as every student of the class gets it.

    Attributes:
        module: e.g. ``"08_rotor_measurement"``.
        id: e.g. ``"8.2"``.
        short: what is asked, in a few words.
        kind: table, number, choice, sequence; written or task (marked by hand).
        unit: unit of the answer, or empty.
        low, high: range that any answer can lie in, whatever the vehicle; None for words.
        count: how many values a table has, else None.
        points: marks for a full answer.
        competencies: one or two names of competencies.
        safety_critical: a wrong answer could put an unsafe vehicle on the road.
        lesson_part: part of the lesson that teaches it.
        carries_from: earlier questions whose answers this one is worked from.
        choices: for a choice, every choice in its order.
    """

    module: str
    id: str
    short: str
    kind: Kind
    unit: str
    low: float | None
    high: float | None
    count: int | None
    points: float
    competencies: tuple[str, ...]
    safety_critical: bool
    lesson_part: int
    carries_from: tuple[str, ...]
    choices: tuple[Choice, ...]


@cache
def modules() -> tuple[str, ...]:
    """Return the modules that have an exercise, in teaching order."""
    asked = {row["module"] for row in read_table("course/questions.csv")}
    return tuple(row["module"] for row in read_table("course/modules.csv") if row["module"] in asked)


def check_module(module: str) -> str:
    """Return the module's name if it has an exercise.

    Raises:
        CourseError: there is no exercise of that name.
    """
    known = modules()
    if module not in known:
        raise CourseError(
            f"A module with an exercise was expected ({', '.join(known)}), but '{module}' was asked for; "
            "use one of these names."
        )
    return module


@cache
def questions(module: str) -> tuple[Question, ...]:
    """Return the questions of a module in their order.

    Raises:
        CourseError: there is no exercise of that name.
    """
    check_module(module)
    return tuple(_question(row) for row in read_table("course/questions.csv") if row["module"] == module)


def question(module: str, question_id: str) -> Question:
    """Return one question.

    Raises:
        CourseError: the module has no exercise, or no such question.
    """
    for found in questions(module):
        if found.id == question_id:
            return found
    names = ", ".join(one.id for one in questions(module))
    raise CourseError(f"One of the questions {names} of {module} was expected, but found '{question_id}'.")


def title(module: str) -> str:
    """Return the module's title in words.

    Raises:
        CourseError: there is no exercise of that name.
    """
    return _titles()[check_module(module)]


@cache
def _titles() -> dict[str, str]:
    return {row["module"]: row["title"] for row in read_table("course/modules.csv")}


@cache
def lesson(module: str, part: int) -> str:
    """Return the place in the lesson to read, e.g. ``"Lesson 08, part 2: the half-millimetre line"``."""
    for row in read_table("course/lesson_parts.csv"):
        if row["module"] == module and int(row["part"]) == part:
            return f"Lesson {module.split('_')[0]}, part {part}: {row['title']}"
    raise CourseError(f"A part of the lesson {module} was expected, but it has no part {part}.")


def total_points(module: str) -> float:
    """Return the marks of the whole exercise, those given by hand included."""
    return sum(asked.points for asked in questions(module))


def _question(row: dict[str, str]) -> Question:
    kind = row["kind"]
    if kind not in get_args(Kind):
        raise CourseError(
            f"Question {row['question']} has the kind '{kind}', but {', '.join(get_args(Kind))} was expected."
        )
    return Question(
        module=row["module"],
        id=row["question"],
        short=row["short"],
        kind=cast("Kind", kind),
        unit=row["unit"],
        low=float(row["low"]) if row["low"] else None,
        high=float(row["high"]) if row["high"] else None,
        count=int(row["count"]) if row["count"] else None,
        points=float(row["points"]),
        competencies=tuple(row["competencies"].split()),
        safety_critical=row["safety_critical"] == "yes",
        lesson_part=int(row["lesson_part"]),
        carries_from=tuple(row["carries_from"].split()),
        choices=tuple(_choices(row["module"], row["question"])),
    )


def _choices(module: str, question_id: str) -> list[Choice]:
    return [
        Choice(row["choice"], row["text"], row["action"], row["reason"], row["mistake"] or None)
        for row in read_table("course/choices.csv")
        if (row["module"], row["question"]) == (module, question_id)
    ]
