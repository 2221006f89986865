"""What counts of a student's attempts at a module: the best, the last, or the mean of all.

Nothing is stored: it follows from the attempts' own records and the class's setting, each time anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from brakecourse.classroom.attempts import attempt_of, module_of
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import GradeRecord, grade_records
from brakecourse.classroom.settings import AttemptsCount


@dataclass(frozen=True)
class Counted:
    """What counts of one student's work in one module.

    Attributes:
        record: of the attempt that counts; with the mean scores where the mean counts. Its module is the
            module's own name.
        attempts: the attempts that it was chosen from, 1 the first.
        counts: the attempts that count.
        why: how it was chosen, in words; empty where there was one attempt only.
    """

    record: GradeRecord
    attempts: tuple[int, ...]
    counts: tuple[int, ...]
    why: str


def counted(cls: ClassFolder) -> list[Counted]:
    """Return what counts of everyone's work, by module and in the roster's order.

    Raises:
        CourseError: the gradebook can't be read.
    """
    return count(grade_records(cls), cls.settings.attempts_count)


def count(records: Iterable[GradeRecord], rule: AttemptsCount) -> list[Counted]:
    """Choose among the attempts of each student at each module.

    An attempt that is not graded yet, or never came in, counts only when there is no graded one. An attempt
    that is still to be marked is never taken for a bad one: as long as one waits, nothing is final.

    Args:
        records: of every attempt.
        rule: what counts.
    """
    groups: dict[tuple[str, str], list[GradeRecord]] = {}
    for record in records:
        groups.setdefault((module_of(record.module), record.student_id), []).append(record)
    return [_one(module, sorted(own, key=_attempt), rule) for (module, _), own in groups.items()]


def _attempt(record: GradeRecord) -> int:
    return attempt_of(record.module)


def _one(module: str, attempts: Sequence[GradeRecord], rule: AttemptsCount) -> Counted:
    numbers = tuple(_attempt(record) for record in attempts)
    named = [replace(record, module=module) for record in attempts]
    if len(named) == 1:
        return Counted(named[0], numbers, numbers, "")
    graded = [(number, one) for number, one in zip(numbers, named, strict=True) if one.status == "graded"]
    open_ones = [
        (number, one)
        for number, one in zip(numbers, named, strict=True)
        if one.status in ("waiting for hand-grading", "could not be graded")
    ]
    if open_ones:
        number, one = open_ones[-1]
        return Counted(one, numbers, (number,), f"Attempt {number} is not settled yet.")
    if not graded:
        return Counted(named[-1], numbers, numbers[-1:], "No attempt was graded.")
    if rule == "average":
        return _mean(numbers, graded)
    number, one = graded[-1] if rule == "last" else max(graded, key=lambda pair: pair[1].final_score or 0.0)
    return Counted(one, numbers, (number,), f"The {rule} of {len(graded)} graded attempts counts.")


def _mean(numbers: tuple[int, ...], graded: Sequence[tuple[int, GradeRecord]]) -> Counted:
    newest = graded[-1][1]
    records = [record for _, record in graded]

    def mean(values: Iterable[float | None]) -> float:
        known = [value or 0.0 for value in values]
        return round(sum(known) / len(known), 6)  # the dust of binary fractions, and no more

    record = replace(
        newest,
        auto_points=mean(one.auto_points for one in records),
        hand_points=mean(one.hand_points for one in records),
        raw_score=mean(one.raw_score for one in records),
        late_penalty=mean(one.late_penalty for one in records),
        final_score=mean(one.final_score for one in records),
    )
    chosen = tuple(number for number, _ in graded)
    return Counted(record, numbers, chosen, f"The mean of {len(graded)} graded attempts counts.")
