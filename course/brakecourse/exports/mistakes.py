"""How often each named mistake was made, for a teacher who plans the next evening."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from brakecourse.classroom.records import QuestionRecord


@dataclass(frozen=True)
class MistakeCount:
    """One named mistake in one module.

    Attributes:
        students: how many students made it at least once.
        answers: how many answers showed it.
        questions: the questions it showed in.
        who: the ids of those students, in order.
    """

    module: str
    mistake: str
    students: int
    answers: int
    questions: tuple[str, ...]
    who: tuple[str, ...] = ()


def count_mistakes(module: str, records: Iterable[QuestionRecord]) -> list[MistakeCount]:
    """Count the named mistakes of a module, the most frequent first."""
    seen: dict[str, list[QuestionRecord]] = defaultdict(list)
    for record in records:
        if record.mistake:
            seen[record.mistake].append(record)
    counts = [
        MistakeCount(
            module,
            mistake,
            len({record.student_id for record in found}),
            len(found),
            tuple(sorted({record.question_id for record in found}, key=question_order)),
            tuple(sorted({record.student_id for record in found})),
        )
        for mistake, found in seen.items()
    ]
    return sorted(counts, key=lambda count: (-count.students, -count.answers, count.mistake))


def question_order(question: str) -> tuple[int, ...]:
    """Return what questions are sorted by, so that the tenth comes behind the ninth.

    >>> sorted(["13.10", "13.9"], key=question_order)
    ['13.9', '13.10']
    """
    return tuple(int(part) if part.isdigit() else 0 for part in question.split("."))
