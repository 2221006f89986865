"""The tables behind what to teach again: one a picture, from the same figures."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.exports.again import ModuleAgain
from brakecourse.exports.cells import rounded, safe_text
from brakecourse.exports.columns import Value
from brakecourse.exports.completion import Completion
from brakecourse.exports.item_analysis import ModuleItems
from brakecourse.exports.sheets import Heading, Table
from brakecourse.exports.statistics import Coefficient, Interval

_QUESTION = (
    Heading("question", "Question", 10),
    Heading("short", "What was asked", 40),
)


def difficulty(found: ModuleItems) -> Table:
    """Return how hard each question was, in the order they are asked."""
    return Table(
        "Difficulty",
        (
            *_QUESTION,
            Heading("safety_critical", "Safety-critical", 12),
            Heading("marked", "Students with marks", 12),
            Heading("answered", "Of these, answered", 12),
            Heading("waiting", "Waiting for a person", 12),
            Heading("percent", "Marks earned, %", 12),
            Heading("full", "Students with all marks", 12),
            Heading("full_percent", "All marks, %", 12),
            Heading("full_low", "At least, %", 12),
            Heading("full_high", "At most, %", 12),
            Heading("lesson", "Where it is taught", 50),
        ),
        tuple(
            (
                one.question,
                one.asked.short,
                "yes" if one.asked.safety_critical else "no",
                one.marked,
                one.answered,
                one.waiting,
                rounded(one.percent, 1),
                one.full,
                rounded(one.full_percent, 1),
                *_ends(one.interval, 100, 1),
                one.asked.lesson,
            )
            for one in found.items
        ),
    )


def discrimination(found: ModuleItems) -> Table:
    """Return how well each question tells apart, and the reliability of all of them as the last row."""
    rows = [(one.question, one.asked.short, *_coefficient(one.discrimination)) for one in found.items]
    rows.append(("all", "do the questions go together?", *_coefficient(found.reliability)))
    return Table(
        "Discrimination",
        (
            *_QUESTION,
            Heading("coefficient", "Coefficient", 22),
            Heading("value", "Value", 8),
            Heading("low", "At least", 8),
            Heading("high", "At most", 8),
            Heading("students", "Students", 10),
            Heading("questions", "Questions", 10),
            Heading("why_not", "Why there is none", 50),
        ),
        tuple(rows),
    )


def what_went_wrong(found: ModuleAgain) -> Table:
    """Return the findings, what to teach first at the top."""
    return Table(
        "What to teach again",
        (
            Heading("order", "Order", 8),
            Heading("kind", "How it is known", 18),
            Heading("name", "What", 36),
            Heading("questions", "Questions", 14),
            Heading("safety_critical", "Safety-critical", 12),
            Heading("students", "Students", 10),
            Heading("graded", "Of", 8),
            Heading("lost", "Marks lost", 10),
            Heading("lesson", "Where it is taught", 50),
            Heading("who", "Student ids", 50),
            Heading("sentence", "In a sentence", 90),
        ),
        tuple(
            (
                number,
                one.kind,
                one.name,
                ", ".join(one.questions),
                "yes" if one.safety_critical else "no",
                one.students,
                one.graded,
                rounded(one.lost),
                one.lesson,
                safe_text(", ".join(one.who)),
                one.sentence,
            )
            for number, one in enumerate(found.findings, start=1)
        ),
    )


def completion(found: Completion) -> Table:
    """Return how much had come in by the end of each day."""
    return Table(
        "Handed in",
        (
            Heading("day", "By the end of", 14),
            Heading("handed_in", "Handed in", 10),
            Heading("graded", "Of these, graded by now", 14),
            Heading("students", "Students", 10),
        ),
        tuple((one.day.isoformat(), one.handed_in, one.graded, found.students) for one in found.days),
    )


def progress(all_of: Sequence[Completion]) -> Table:
    """Return how far the class is, a row a module."""
    return Table(
        "Progress",
        (
            Heading("module", "Module", 26),
            Heading("students", "Students", 10),
            Heading("handed_in", "Handed in", 10),
            Heading("late", "Of these, late", 10),
            Heading("graded", "Graded", 10),
            Heading("waiting", "Waiting for a person", 12),
            Heading("could_not", "Could not be graded", 12),
            Heading("missing", "Not handed in", 12),
            Heading("excused", "Excused", 10),
        ),
        tuple(
            (
                one.module,
                one.students,
                one.handed_in,
                one.late,
                one.graded,
                one.waiting,
                one.could_not,
                one.missing,
                one.excused,
            )
            for one in all_of
        ),
    )


def _coefficient(one: Coefficient) -> tuple[Value, ...]:
    ends = _ends(one.interval, 1, 2)
    return (one.name, rounded(one.value), *ends, one.students, one.questions, one.why)


def _ends(interval: Interval | None, times: float, places: int) -> tuple[Value, Value]:
    if interval is None:
        return None, None
    return rounded(times * interval.low, places), rounded(times * interval.high, places)
