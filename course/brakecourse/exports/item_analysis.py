"""How each question of a module fared, from everyone's marks: how hard it was, and whether it tells apart."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from brakecourse.exports.statistics import Coefficient, Interval, item_rest, reliability, share, wilson

if TYPE_CHECKING:
    from brakecourse.classroom.records import QuestionRecord

EMPTY = "no answer"


@dataclass(frozen=True)
class Asked:
    """One question, as far as its figures need it.

    Attributes:
        id, short: which, and what it asks in a few words.
        lesson: the part of the lesson that teaches it, in words.
        safety_critical: a wrong answer could put an unsafe vehicle on the road.
    """

    id: str
    short: str
    lesson: str
    safety_critical: bool = False


@dataclass(frozen=True)
class Item:
    """How one question fared.

    Attributes:
        asked: which question.
        marked: students whose answer has its marks, those who left it empty included.
        empty: of these, who left it empty.
        waiting: students whose answer still waits for a person.
        earned, out_of: marks of all marked answers together, and the most there could be.
        full: students with all of the marks.
        interval: where the share of students with all of the marks lies; None while nothing is marked.
        discrimination: whether those who do well otherwise do well here.
    """

    asked: Asked
    marked: int
    empty: int
    waiting: int
    earned: float
    out_of: float
    full: int
    interval: Interval | None
    discrimination: Coefficient

    @property
    def question(self) -> str:
        """The question's number."""
        return self.asked.id

    @property
    def answered(self) -> int:
        """Students whose answer was marked and not empty."""
        return self.marked - self.empty

    @property
    def percent(self) -> float | None:
        """Share of the marks that the class earned: the lower, the harder. None while nothing is marked."""
        return share(self.earned, self.out_of)

    @property
    def full_percent(self) -> float | None:
        """Share of the students with all of the marks."""
        return share(self.full, self.marked)


@dataclass(frozen=True)
class ModuleItems:
    """How a module's questions fared, in the order they are asked.

    Attributes:
        module: the module or its later attempt.
        students: whose work has at least one mark.
        items: one a question, marked or not.
        reliability: how well the questions go together.
    """

    module: str
    students: int
    items: tuple[Item, ...]
    reliability: Coefficient


Marks = Mapping[str, Mapping[str, float]]
"""Each student's marks by question; what was not marked is not there."""


def module_items(module: str, asked: Sequence[Asked], records: Iterable[QuestionRecord]) -> ModuleItems:
    """Return how each question fared.

    Coefficients need rows without gaps. They rest on the questions that at least half of the class has marks
    for, and on the students who have marks for all of these: an answer that waits is neither good nor bad.

    Args:
        module: the module's name.
        asked: its questions, in order.
        records: everyone's answers.
    """
    by_question: dict[str, list[QuestionRecord]] = defaultdict(list)
    for record in records:
        by_question[record.question_id].append(record)
    marks = _marks(record for one in asked for record in by_question[one.id])
    worth = {one.id: max((r.out_of for r in by_question[one.id]), default=0.0) for one in asked}
    compared = _compared(asked, marks)
    whole = [own for own in marks.values() if all(name in own for name in compared)]
    items = tuple(
        _item(one, by_question[one.id], _discrimination(one.id, compared, whole, by_question[one.id]))
        for one in asked
    )
    rows = [[own[name] for name in compared] for own in whole]
    return ModuleItems(module, len(marks), items, reliability(rows, [worth[name] for name in compared]))


def _marks(records: Iterable[QuestionRecord]) -> Marks:
    found: dict[str, dict[str, float]] = defaultdict(dict)
    for record in records:
        if record.points is not None:
            found[record.student_id][record.question_id] = record.points
    return found


def _compared(asked: Sequence[Asked], marks: Marks) -> list[str]:
    """Return the questions that at least half of the students have marks for, and at least one of them."""
    known = Counter(name for own in marks.values() for name in own)
    return [one.id for one in asked if known[one.id] and 2 * known[one.id] >= len(marks)]


def _item(asked: Asked, records: Sequence[QuestionRecord], discrimination: Coefficient) -> Item:
    marked = [(one.points, one.out_of) for one in records if one.points is not None]
    full = sum(points >= out_of for points, out_of in marked)
    return Item(
        asked=asked,
        marked=len(marked),
        empty=sum(one.status == EMPTY for one in records if one.points is not None),
        waiting=len(records) - len(marked),
        earned=sum(points for points, _ in marked),
        out_of=sum(out_of for _, out_of in marked),
        full=full,
        interval=wilson(full, len(marked)),
        discrimination=discrimination,
    )


def _discrimination(
    question: str,
    compared: Sequence[str],
    whole: Sequence[Mapping[str, float]],
    records: Sequence[QuestionRecord],
) -> Coefficient:
    others = [name for name in compared if name != question]
    why = ""
    if question not in compared:
        why = "its answers wait to be marked by hand" if records else "nobody's answer was marked"
    elif not others:
        why = "there is no other question to compare it with"
    if why:
        return Coefficient("item-rest correlation", None, None, why, 0, len(others))
    found = item_rest([own[question] for own in whole], [sum(own[name] for name in others) for own in whole])
    return Coefficient(found.name, found.value, found.interval, found.why, found.students, len(others))
