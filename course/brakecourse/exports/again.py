"""What to teach again in a module: the questions that earned least, and the mistakes behind them."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from brakecourse import marking
from brakecourse.classroom.attempts import module_of
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import QuestionRecord, question_records
from brakecourse.exports.mistakes import MistakeCount, count_mistakes
from brakecourse.marking.catalogue import lesson
from brakecourse.marking.mistakes import mistakes


@dataclass(frozen=True)
class QuestionAgain:
    """How one question fared: its marks in percent, over the students whose answer was marked."""

    question: str
    short: str
    percent: float
    students: int
    lesson: str


@dataclass(frozen=True)
class ModuleAgain:
    """What to teach again in one module.

    Attributes:
        module: the module or its later attempt.
        graded: how many students' work was marked.
        questions: the question that earned least first.
        sentences: each named mistake in a sentence, the one of most students first.
    """

    module: str
    graded: int
    questions: tuple[QuestionAgain, ...]
    sentences: tuple[str, ...]


def module_again(cls: ClassFolder, module: str) -> ModuleAgain:
    """Return what to teach again in a module.

    Raises:
        CourseError: the module is unknown or was not handed out, or the gradebook can't be read.
    """
    records = question_records(cls, module)
    graded = len({record.student_id for record in records})
    by_question: dict[str, list[QuestionRecord]] = defaultdict(list)
    for record in records:
        if record.points is not None:
            by_question[record.question_id].append(record)
    asked = [
        _question(one, by_question[one.id])
        for one in marking.questions(module_of(module))
        if by_question[one.id]
    ]
    asked.sort(key=lambda one: one.percent)
    counts = count_mistakes(module, records)
    return ModuleAgain(module, graded, tuple(asked), tuple(_sentence(one, graded, module) for one in counts))


def _question(asked: marking.Question, records: list[QuestionRecord]) -> QuestionAgain:
    earned, out_of = sum(one.points or 0.0 for one in records), sum(one.out_of for one in records)
    place = lesson(asked.module, asked.lesson_part)
    return QuestionAgain(asked.id, asked.short, 100 * earned / out_of, len(records), place)


def _sentence(count: MistakeCount, graded: int, module: str) -> str:
    """Say how many made a mistake, what it is, and where it is taught."""
    name = count.mistake.replace("_", " ")
    known = mistakes().get(count.mistake)
    where = "" if known is None else f" {_place(known.lesson, count, module)}."
    likely = "" if known is None else f" {known.likely}"
    return f"{count.students} of {graded}: {name} ({', '.join(count.questions)}).{likely}{where}"


def _place(usual: str, count: MistakeCount, module: str) -> str:
    """Return the lesson part: the mistake's own in its module, the question's in another one."""
    known = mistakes()[count.mistake]
    if known.module == module_of(module):
        return usual
    asked = next(one for one in marking.questions(module_of(module)) if one.id == count.questions[0])
    return lesson(asked.module, asked.lesson_part)
