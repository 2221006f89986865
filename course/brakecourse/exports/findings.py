"""What to teach again, a sentence each: who made which mistake, and the lesson part that treats it.

What comes first (common practice, no source):

1. what many did comes before what few did: one student, or fewer than one in ten, is told so in person;
2. then a safety-critical question comes before any other;
3. then what more students did, then what cost the class more marks;
4. then a mistake that has a name, because the lesson has words for it; then the order of the questions.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from brakecourse.classroom.records import QuestionRecord
from brakecourse.exports.item_analysis import EMPTY, Asked
from brakecourse.exports.mistakes import MistakeCount, count_mistakes, question_order
from brakecourse.marking.mistakes import Mistake

Kind = Literal["named mistake", "left empty", "could not be read", "no named mistake"]

_KINDS: dict[Kind, str] = {
    "named mistake": "",
    "left empty": "left empty",
    "could not be read": "an answer of the wrong kind, which could not be read",
    "no named mistake": "marks lost without a named mistake",
}
FEW_SHARE = 10
"""Fewer than one student in so many are few."""


@dataclass(frozen=True)
class Finding:
    """One thing that went wrong, and for whom.

    Attributes:
        kind: how it is known.
        name: the mistake's name in words, or what happened.
        likely: what those students likely did; empty where nobody knows.
        questions: where it showed.
        asked: what the first of these asks.
        who: the students' ids.
        graded: how many students' work was marked.
        lost: marks that it cost the class.
        safety_critical: whether one of these questions is.
        lesson: the part of the lesson that treats it; empty where none is known.
    """

    kind: Kind
    name: str
    likely: str
    questions: tuple[str, ...]
    asked: str
    who: tuple[str, ...]
    graded: int
    lost: float
    safety_critical: bool
    lesson: str

    @property
    def students(self) -> int:
        """How many students it concerns."""
        return len(self.who)

    @property
    def few(self) -> bool:
        """Whether it is better told in person than taught to everyone again."""
        return self.students == 1 or FEW_SHARE * self.students < self.graded

    @property
    def sentence(self) -> str:
        """The finding in one sentence."""
        where = ", ".join(self.questions)
        if self.kind != "named mistake":
            where = f"{where}, {self.asked}"
        if self.safety_critical:
            where += "; safety-critical"
        parts = [f"{self.students} of {self.graded}: {self.name} ({where})", self.likely, self.lesson]
        told = " – ".join(part for part in parts if part)
        # Some parts of a lesson are called by a question.
        return told if told.endswith("?") else f"{told}."


def findings(
    module: str,
    asked: Sequence[Asked],
    records: Iterable[QuestionRecord],
    known: Callable[[str], Mistake | None],
) -> tuple[Finding, ...]:
    """Return what went wrong, what to teach first at the top.

    Args:
        module: the module's name.
        asked: its questions.
        records: everyone's answers; those that wait for a person say nothing yet.
        known: gives a named mistake's words, or None for a name of an older course.
    """
    by_question = {one.id: one for one in asked}
    marked = [one for one in records if one.points is not None and one.question_id in by_question]
    graded = len({one.student_id for one in marked})
    named = [
        _named(count, by_question, marked, graded, known(count.mistake))
        for count in count_mistakes(module, marked)
    ]
    return tuple(sorted([*named, *_nameless(by_question, marked, graded)], key=_what_first))


def _what_first(one: Finding) -> tuple[object, ...]:
    named = one.kind == "named mistake"
    order = question_order(one.questions[0])
    return (one.few, not one.safety_critical, -one.students, -one.lost, not named, order, one.kind, one.name)


def _named(
    count: MistakeCount,
    asked: dict[str, Asked],
    marked: Sequence[QuestionRecord],
    graded: int,
    known: Mistake | None,
) -> Finding:
    first = asked[count.questions[0]]
    # A mistake is treated where its own module says; in another module the question's own part is nearer.
    own = known is not None and known.lesson.split(",")[0] == first.lesson.split(",")[0]
    return Finding(
        kind="named mistake",
        name=count.mistake.replace("_", " "),
        likely="" if known is None else _first_sentence(known.likely),
        questions=count.questions,
        asked=first.short,
        who=count.who,
        graded=graded,
        lost=_lost(one for one in marked if one.mistake == count.mistake),
        safety_critical=any(asked[name].safety_critical for name in count.questions),
        lesson=known.lesson if own and known is not None else first.lesson,
    )


def _nameless(asked: dict[str, Asked], marked: Sequence[QuestionRecord], graded: int) -> list[Finding]:
    """Return the lost marks that no named mistake explains, by question and by what happened."""
    groups: dict[tuple[str, Kind], list[QuestionRecord]] = defaultdict(list)
    for one in marked:
        if not one.mistake and (one.points or 0.0) < one.out_of:
            groups[one.question_id, _kind(one)].append(one)
    return [
        Finding(
            kind=kind,
            name=_KINDS[kind],
            likely="",
            questions=(question,),
            asked=asked[question].short,
            who=tuple(sorted({one.student_id for one in found})),
            graded=graded,
            lost=_lost(found),
            safety_critical=asked[question].safety_critical,
            lesson=asked[question].lesson,
        )
        for (question, kind), found in groups.items()
    ]


def _kind(one: QuestionRecord) -> Kind:
    if one.status == EMPTY:
        return "left empty"
    return "could not be read" if one.status == "not readable" else "no named mistake"


def _lost(records: Iterable[QuestionRecord]) -> float:
    return round(sum(one.out_of - (one.points or 0.0) for one in records), 2)


def _first_sentence(text: str) -> str:
    """Return a text's first sentence, to stand inside another one.

    >>> _first_sentence("This is half of it. The dial turns once.")
    'this is half of it'
    >>> _first_sentence("DOT 5 is no such fluid.")
    'DOT 5 is no such fluid'
    """
    first = text.split(". ")[0].rstrip(".")
    return first if first[1:2].isupper() else first[:1].lower() + first[1:]
