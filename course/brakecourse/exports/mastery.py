"""What each student can do, and the class: the course's competencies, by the rule that stands in its table.

A competency is mastered when the questions that bear its tag earned at least so many percent of their marks,
over so many questions from so many modules, and no safety-critical one among them was missed. Each number
stands in ``datasets/course/competencies.csv``. Fewer questions than the rule asks tell nothing either way.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from brakecourse.classroom.attempts import assignment_name
from brakecourse.classroom.counting import count
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import ModuleRecords, QuestionRecord, class_records
from brakecourse.marking.catalogue import question
from brakecourse.tables import read_table

State = Literal["mastered", "not yet", "too little to tell"]


@dataclass(frozen=True)
class Rule:
    """One competency and when it counts as mastered.

    Attributes:
        competency: its short name.
        statement: what somebody can do, beginning with "can".
        percent: least share of the marks.
        questions: least number of questions.
        modules: least number of modules they come from.
    """

    competency: str
    statement: str
    percent: float
    questions: int
    modules: int


@dataclass(frozen=True)
class Evidence:
    """One marked answer, as far as competencies are concerned."""

    student_id: str
    module: str
    question_id: str
    points: float
    out_of: float
    safety_critical: bool


@dataclass(frozen=True)
class Mastery:
    """How far one student is with one competency.

    Attributes:
        student_id, competency: whose, and which.
        earned, out_of: marks of the questions that bear its tag.
        questions: how many those are.
        modules: how many modules they come from.
        safety_missed: safety-critical ones among them without full marks.
        state: mastered; not yet; too little to tell.
        why: in words.
    """

    student_id: str
    competency: str
    earned: float
    out_of: float
    questions: int
    modules: int
    safety_missed: tuple[str, ...]
    state: State
    why: str

    @property
    def percent(self) -> float | None:
        """Share of the marks, or None without a question."""
        return 100 * self.earned / self.out_of if self.out_of else None


@dataclass(frozen=True)
class ClassMastery:
    """How far the class is with one competency: how many students are in each state, and the marks of all."""

    competency: str
    mastered: int
    not_yet: int
    too_little: int
    percent: float | None


def rules() -> tuple[Rule, ...]:
    """Return the competencies with their rules, from the course's table."""
    return tuple(
        Rule(
            row["competency"],
            row["statement"],
            float(row["mastery_percent"]),
            int(row["mastery_questions"]),
            int(row["mastery_modules"]),
        )
        for row in read_table("course/competencies.csv")
    )


def class_evidence(
    cls: ClassFolder, records: Sequence[ModuleRecords] | None = None
) -> dict[str, list[Evidence]]:
    """Return the evidence for each competency, from the attempts that count. Answers that wait are left out.

    Args:
        cls: the class.
        records: everyone's results where they were read already; None reads them.

    Raises:
        CourseError: the gradebook can't be read.
    """
    known = class_records(cls) if records is None else records
    grades = [one for module in known for one in module.grades]
    wanted = {
        (assignment_name(one.record.module, attempt), one.record.student_id): one.record.module
        for one in count(grades, cls.settings.attempts_count)
        if one.record.status != "excused"
        for attempt in one.counts
    }
    found: dict[str, list[Evidence]] = defaultdict(list)
    for module in known:
        for record in module.questions:
            name = wanted.get((module.module, record.student_id))
            if name is not None and record.points is not None:
                _add(found, name, record)
    return found


def _add(found: dict[str, list[Evidence]], module: str, record: QuestionRecord) -> None:
    asked = question(module, record.question_id)
    for competency in asked.competencies:
        found[competency].append(
            Evidence(
                record.student_id,
                module,
                record.question_id,
                record.points or 0.0,
                record.out_of,
                asked.safety_critical,
            )
        )


def mastery(rule: Rule, student_id: str, evidence: Iterable[Evidence]) -> Mastery:
    """Return how far a student is with a competency.

    Args:
        rule: the competency.
        student_id: whose.
        evidence: every student's answers to the questions that bear its tag.
    """
    own = [one for one in evidence if one.student_id == student_id]
    earned, out_of = sum(one.points for one in own), sum(one.out_of for one in own)
    modules = len({one.module for one in own})
    questions = len({one.question_id for one in own})
    missed = tuple(
        sorted({one.question_id for one in own if one.safety_critical and one.points < one.out_of})
    )
    state, why = _judged(rule, questions, modules, 100 * earned / out_of if out_of else 0.0, missed)
    return Mastery(student_id, rule.competency, earned, out_of, questions, modules, missed, state, why)


def _judged(
    rule: Rule, questions: int, modules: int, percent: float, missed: Sequence[str]
) -> tuple[State, str]:
    if questions < rule.questions or modules < rule.modules:
        return "too little to tell", (
            f"It rests on {_count(questions, 'question')} from {_count(modules, 'module')}; "
            f"{rule.questions} from {rule.modules} are asked for."
        )
    if missed:
        return "not yet", f"A safety-critical question was missed: {', '.join(missed)}."
    if percent < rule.percent:
        return "not yet", f"{percent:.0f} % of the marks; {rule.percent:g} % are asked for."
    return "mastered", f"{percent:.0f} % of the marks over {questions} questions."


def class_mastery(rule: Rule, everyone: Sequence[Mastery]) -> ClassMastery:
    """Return how far the class is with a competency."""
    own = [one for one in everyone if one.competency == rule.competency]
    out_of = sum(one.out_of for one in own)
    return ClassMastery(
        rule.competency,
        sum(one.state == "mastered" for one in own),
        sum(one.state == "not yet" for one in own),
        sum(one.state == "too little to tell" for one in own),
        100 * sum(one.earned for one in own) / out_of if out_of else None,
    )


def everyones_mastery(cls: ClassFolder, records: Sequence[ModuleRecords] | None = None) -> list[Mastery]:
    """Return how far each student of the roster is with each competency, in the table's order.

    Args:
        cls: the class.
        records: everyone's results where they were read already; None reads them.

    Raises:
        CourseError: the gradebook can't be read.
    """
    own: dict[tuple[str, str], list[Evidence]] = defaultdict(list)
    for competency, evidence in class_evidence(cls, records).items():
        for one in evidence:
            own[competency, one.student_id].append(one)
    known = rules()
    return [
        mastery(rule, student, own.get((rule.competency, student), ()))
        for student in cls.student_ids
        for rule in known
    ]


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
