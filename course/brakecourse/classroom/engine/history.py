"""Write down every change of a mark, in the transaction that makes it.

The newest row of a question says what its mark was when the course last looked. So a mark that was changed
elsewhere (nbgrader's own pages and commands, a database tool) is seen as soon as the course looks again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from nbgrader.api import Gradebook
from sqlalchemy import Row, bindparam, select

import brakecourse
from brakecourse.classroom.engine.history_table import (
    BY_HAND_ELSEWHERE,
    CHANGED_ELSEWHERE,
    EXCUSE_ENDED,
    GRADED,
    GRADED_AGAIN,
    TAKEN_BACK,
    WHOLE_WORK,
    HistoryRow,
)
from brakecourse.classroom.engine.ledger import HandMark, Ledger, Outcome, QuestionMark
from brakecourse.classroom.engine.plan import Plan
from brakecourse.classroom.engine.standing import Standing, standings

Newest = Row[Any]
"""The newest row of a question: what was done, the points, and whether a person gave them."""
Known = Mapping[str, Newest]


_COLUMNS = (HistoryRow.student_id, HistoryRow.question_id, HistoryRow.kind)
_ALL = (
    select(*_COLUMNS, HistoryRow.new_points, HistoryRow.by_hand)
    .where(HistoryRow.module == bindparam("module"))
    .order_by(HistoryRow.id)
)
_SOME = _ALL.where(HistoryRow.student_id.in_(bindparam("some", expanding=True)))


@dataclass(frozen=True)
class Key:
    """The answer key that a mark was given by: the sealed case, and the course that judged it."""

    case_version: str = ""
    course_version: str = brakecourse.__version__


@dataclass(frozen=True)
class Seen:
    """How one student's questions stand, and what the history last knew of each, by question id."""

    now: Mapping[str, Standing]
    known: Known


def look(book: Gradebook, plan: Plan, student: str) -> Seen:
    """Look how a student's questions stand."""
    now, known = standings(book, plan, [student]), last_known(book, plan, [student])
    return Seen(now.get(student, {}), known.get(student, {}))


def key_of(book: Gradebook, plan: Plan, student: str) -> Key:
    """Return the answer key that a student's stored marks were given by."""
    outcome = book.db.get(Outcome, (plan.module, student))
    return Key(outcome.case_version, outcome.course_version) if outcome is not None else Key()


def last_known(
    book: Gradebook, plan: Plan, students: Collection[str] | None = None
) -> dict[str, dict[str, Newest]]:
    """Return the newest row of each question, by student and question id."""
    book.db.flush()
    asked = {"module": plan.module} if students is None else {"module": plan.module, "some": list(students)}
    found: dict[str, dict[str, Newest]] = defaultdict(dict)
    for row in book.db.execute(_ALL if students is None else _SOME, asked):
        found[row.student_id][row.question_id] = row
    return found


def record_changes(
    book: Gradebook,
    plan: Plan,
    student: str,
    kind: str,
    why: Mapping[str, str] | str,
    key: Key,
    after: Seen | None = None,
) -> None:
    """Write down every mark of a student that is another one than the history's newest.

    Args:
        book: the gradebook, in the transaction that changed the marks.
        plan: what the module asks.
        student: whose marks.
        kind: what was done. Graded becomes graded again for a question that was marked before.
        why: in words, the same for all or by question id.
        key: the answer key they were given by.
        after: how the questions stand now, where that is known; None to look.
    """
    after = after or look(book, plan, student)
    for question in _changed(after.now, after.known):
        before = after.known.get(question)
        named = GRADED_AGAIN if kind == GRADED and before is not None else kind
        words = why if isinstance(why, str) else why[question]
        _add(book, plan, student, question, named, words, key, before, after.now[question])


def record_status(
    book: Gradebook, plan: Plan, student: str, kind: str, why: str, key: Key, known: Known | None = None
) -> None:
    """Write down what became of a student's whole work, if that is another thing than before.

    That it was graded is only written after it was not: the marks themselves tell it otherwise. What the
    history knows can be given; otherwise it is looked up.
    """
    before = (look(book, plan, student).known if known is None else known).get(WHOLE_WORK)
    was = before.kind if before is not None else GRADED
    if kind != (GRADED if was == EXCUSE_ENDED else was):
        _add(book, plan, student, WHOLE_WORK, kind, why, key, None, None)


def marked_answers(book: Gradebook, plan: Plan, student: str, found: Seen) -> dict[str, object]:
    """Return the answer that each mark by hand was given for, by question id.

    A mark that was given elsewhere was given for the answer that was there to be seen.
    """
    kept, shown = (_by_question(book, table, plan, student) for table in (HandMark, QuestionMark))
    answers = {question: mark.answer for question, mark in kept.items()}
    changed = _changed(found.now, found.known)
    for question, standing in found.now.items():
        if standing.by_hand and (question not in kept or question in changed):
            answers[question] = shown[question].answer if question in shown else None
    return answers


def something_to_notice(book: Gradebook, plan: Plan, students: Collection[str] | None = None) -> bool:
    """Tell whether a mark was changed elsewhere since the course last looked."""
    now, known = standings(book, plan, students), last_known(book, plan, students)
    return any(
        _changed(questions, known[student]) or _not_kept(book, plan, student, questions)
        for student, questions in now.items()
    )


def look_again(ledger: Ledger, plan: Plan) -> None:
    """Write down what was changed elsewhere, if anything was."""
    with ledger.reading() as book:
        changed = something_to_notice(book, plan)
    if changed:
        with ledger.transaction() as book:
            notice(book, plan)


def notice(book: Gradebook, plan: Plan, students: Collection[str] | None = None) -> None:
    """Write down what was changed elsewhere since the course last looked.

    A mark that a person gave elsewhere is kept from now on like one given here.
    """
    now, known = standings(book, plan, students), last_known(book, plan, students)
    for student, questions in now.items():
        notice_one(book, plan, student, Seen(questions, known[student]))


def notice_one(book: Gradebook, plan: Plan, student: str, found: Seen) -> Seen:
    """Write down what was changed elsewhere of one student's marks; return what is known after that."""
    changed = _changed(found.now, found.known)
    to_keep = _not_kept(book, plan, student, found.now)
    to_keep |= {question for question in changed if found.now[question].by_hand}
    if not changed and not to_keep:
        return found
    answers = marked_answers(book, plan, student, found) if to_keep else {}
    for question in sorted(to_keep):
        _keep(book, plan, student, question, answers[question])
    key = key_of(book, plan, student) if changed else Key()
    for question in changed:
        before = found.known.get(question)
        kind, why = _elsewhere(found.now[question], before)
        _add(book, plan, student, question, kind, why, key, before, found.now[question])
    return look(book, plan, student)


def _changed(now: Mapping[str, Standing], known: Known) -> list[str]:
    def mark_of(row: Newest | None) -> tuple[float | None, bool]:
        return (None, False) if row is None else (row.new_points, row.by_hand)

    return [question for question, one in now.items() if one.mark != mark_of(known.get(question))]


def _elsewhere(now: Standing, before: Newest | None) -> tuple[str, str]:
    if now.by_hand:
        return BY_HAND_ELSEWHERE, "A person gave it outside the course's commands, as on nbgrader's own page."
    if before is not None and before.by_hand and now.manual is None:
        return TAKEN_BACK, "A person took it back outside the course's commands, as on nbgrader's own page."
    return CHANGED_ELSEWHERE, "Changed outside the course's commands, as by nbgrader's own autograde."


def _not_kept(book: Gradebook, plan: Plan, student: str, now: Mapping[str, Standing]) -> set[str]:
    """Find the marks by hand of which the course does not know yet for which answer they were given."""
    by_hand = {question for question, one in now.items() if one.by_hand}
    return by_hand - set(_by_question(book, HandMark, plan, student)) if by_hand else set()


def _keep(book: Gradebook, plan: Plan, student: str, question: str, answer: object) -> None:
    old = book.db.get(HandMark, (plan.module, student, question))
    book.db.merge(
        HandMark(
            module=plan.module,
            student_id=student,
            question_id=question,
            answer=answer,
            # A comment given elsewhere stands in nbgrader's own table, and goes before this one.
            comment=old.comment if old is not None else "",
            given_at=datetime.now(UTC).replace(tzinfo=None),
        )
    )


def _add(
    book: Gradebook,
    plan: Plan,
    student: str,
    question: str,
    kind: str,
    why: str,
    key: Key,
    before: Newest | None,
    now: Standing | None,
) -> None:
    book.db.add(
        HistoryRow(
            at=datetime.now(UTC).replace(tzinfo=None),
            module=plan.module,
            student_id=student,
            question_id=question,
            kind=kind,
            case_version=key.case_version,
            course_version=key.course_version,
            old_points=before.new_points if before is not None else None,
            new_points=now.points if now is not None else None,
            by_hand=now.by_hand if now is not None else False,
            why=why,
        )
    )


def _by_question(book: Gradebook, table: type[Any], plan: Plan, student: str) -> dict[str, Any]:
    rows = book.db.scalars(select(table).where(table.module == plan.module, table.student_id == student))
    return {row.question_id: row for row in rows}
