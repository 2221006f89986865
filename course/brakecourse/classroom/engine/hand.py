"""What a person decides: marks given by hand, and who need not hand in."""

from __future__ import annotations

from datetime import UTC, datetime

from nbgrader.api import Grade, Gradebook, MissingEntry
from sqlalchemy import delete

import brakecourse
from brakecourse.classroom.engine.history import key_of, notice, record_changes, record_status
from brakecourse.classroom.engine.history_table import BY_HAND, EXCUSE_ENDED, TAKEN_BACK
from brakecourse.classroom.engine.ledger import HandMark, Ledger, Outcome, QuestionMark
from brakecourse.classroom.engine.plan import Plan, PlannedQuestion, read_plan
from brakecourse.classroom.engine.write import EXCUSED
from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError

LONGEST_COMMENT_CHARACTERS = 5_000


def set_hand_mark(
    cls: ClassFolder, module: str, student: str, question: str, points: float, comment: str = ""
) -> None:
    """Give the points for one answer by hand. They count instead of the machine's, also after grading again.

    Args:
        cls: the class.
        module: the module's name.
        student: whose answer.
        question: which question, e.g. "8.9".
        points: 0 up to what the question is worth.
        comment: what to tell the student.

    Raises:
        CourseError: one of these is unknown or out of range, or the student's work was not graded yet.
    """
    plan, asked = _question(cls, module, student, question)
    if len(comment) > LONGEST_COMMENT_CHARACTERS:
        raise CourseError(
            f"The comment has {len(comment)} letters, and at most {LONGEST_COMMENT_CHARACTERS} are kept; "
            "shorten it."
        )
    given = _points(asked, points)
    with Ledger(cls) as ledger, ledger.transaction() as book:
        grade = _grade_row(cls, book, plan, student, asked)
        notice(book, plan, [student])
        grade.manual_score, grade.needs_manual_grade = given, False
        mark = book.db.get(QuestionMark, (module, student, question))
        book.db.merge(
            HandMark(
                module=module,
                student_id=student,
                question_id=question,
                answer=mark.answer if mark else None,
                comment=comment,
                given_at=datetime.now(UTC).replace(tzinfo=None),
            )
        )
        _comment(book, module, student, asked, comment or None)
        words = f"A person gave it: {comment}" if comment else "A person gave it."
        record_changes(book, plan, student, BY_HAND, words, key_of(book, plan, student))


def take_back_hand_mark(cls: ClassFolder, module: str, student: str, question: str) -> None:
    """Take a mark given by hand back, so that the machine's counts again or the answer waits again.

    Raises:
        CourseError: the module, the student or the question is unknown, or the work was not graded yet.
    """
    plan, asked = _question(cls, module, student, question)
    with Ledger(cls) as ledger, ledger.transaction() as book:
        grade = _grade_row(cls, book, plan, student, asked)
        notice(book, plan, [student])
        grade.manual_score, grade.needs_manual_grade = None, grade.auto_score is None
        book.db.execute(
            delete(HandMark).where(
                HandMark.module == module, HandMark.student_id == student, HandMark.question_id == question
            )
        )
        _comment(book, module, student, asked, None)
        words = "A person took it back."
        record_changes(book, plan, student, TAKEN_BACK, words, key_of(book, plan, student))


def excuse(cls: ClassFolder, module: str, student: str, why: str = "") -> None:
    """Excuse a student from a module: it does not count for or against them.

    Raises:
        CourseError: the module or the student is unknown.
    """
    plan = read_plan(cls, module)
    cls.student(student)
    with Ledger(cls) as ledger, ledger.transaction() as book:
        record_status(book, plan, student, EXCUSED, why, key_of(book, plan, student))
        book.db.merge(
            Outcome(
                module=plan.module,
                student_id=student,
                status=EXCUSED,
                why=why,
                healed=[],
                course_version=brakecourse.__version__,
                graded_at=datetime.now(UTC).replace(tzinfo=None),
            )
        )


def end_excuse(cls: ClassFolder, module: str, student: str) -> None:
    """Let a module count again for a student who was excused; what was handed in is graded by the next run.

    Raises:
        CourseError: the module or the student is unknown.
    """
    plan = read_plan(cls, module)
    cls.student(student)
    with Ledger(cls) as ledger, ledger.transaction() as book:
        outcome = book.db.get(Outcome, (plan.module, student))
        if outcome is None or outcome.status != EXCUSED:
            return
        key = key_of(book, plan, student)
        record_status(book, plan, student, EXCUSE_ENDED, "The module counts again.", key)
        book.db.delete(outcome)


def _question(cls: ClassFolder, module: str, student: str, question: str) -> tuple[Plan, PlannedQuestion]:
    plan = read_plan(cls, module)
    cls.student(student)
    return plan, plan.question(question)


def _points(question: PlannedQuestion, points: object) -> float:
    if isinstance(points, (int, float)) and not isinstance(points, bool) and 0 <= points <= question.points:
        return float(points)
    raise CourseError(
        f"Points from 0 to {question.points:g} were expected for question {question.id}, "
        f"but '{points}' was found."
    )


def _grade_row(
    cls: ClassFolder, book: Gradebook, plan: Plan, student: str, question: PlannedQuestion
) -> Grade:
    try:
        return book.find_grade(question.grade_id, plan.module, plan.module, student)
    except MissingEntry as error:
        raise CourseError(
            f"Nothing of student {student} was graded for module {plan.module} yet; "
            f"collect the work and give 'brakecourse grade {cls.root} {plan.module}' first."
        ) from error


def _comment(
    book: Gradebook, module: str, student: str, question: PlannedQuestion, words: str | None
) -> None:
    """Show the comment in nbgrader's form grader too, where the cell has room for one."""
    try:
        book.find_comment(question.grade_id, module, module, student).manual_comment = words
    except MissingEntry:
        return
