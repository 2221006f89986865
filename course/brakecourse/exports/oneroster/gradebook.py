"""The gradebook's rows: one category, a line item for each module, one result for each student in each.

A second attempt has no line item of its own: what counts of all attempts, by the class's rule, is the result.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from uuid import UUID

from brakecourse import marking
from brakecourse.classroom.attempts import module_of
from brakecourse.classroom.counting import Counted
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import GradeRecord, Status
from brakecourse.exports.cells import rounded
from brakecourse.exports.ids import class_uuid, competency_uuid, line_item_uuid, result_uuid, urn, uuid_of
from brakecourse.exports.mastery import Evidence, mastery, rules
from brakecourse.exports.oneroster.basis import Basis, Values
from brakecourse.marking.catalogue import title

CATEGORY = "Exercises"

SCORE_STATUS: Mapping[Status, str] = {
    "graded": "fully graded",
    "waiting for hand-grading": "partially graded",
    "could not be graded": "submitted",
    "not handed in": "not submitted",
    "excused": "exempt",
}
"""What the standard calls each status."""


def category_id(class_id: UUID) -> str:
    """Return the id of a class's one category."""
    return str(uuid_of("category", str(class_id)))


def gradebook_tables(
    cls: ClassFolder, basis: Basis, counted: Sequence[Counted], evidence: Mapping[str, Sequence[Evidence]]
) -> dict[str, list[Values]]:
    """Return the rows of the gradebook's files.

    Args:
        cls: the class.
        basis: what they rest on.
        counted: what counts of every enrolled student's work in every module.
        evidence: every student's answers, by competency.

    Raises:
        CourseError: a score is no number.
    """
    class_id = class_uuid(cls)
    modules = sorted({module_of(name) for name in cls.assigned})
    out_of = {one.record.module: one.record.max_score for one in counted}
    due = {module: _due(cls, basis, module) for module in modules}
    return {
        "categories": [{"sourcedId": category_id(class_id), "title": CATEGORY, "weight": "100"}],
        "lineItems": [_line_item(class_id, basis, one, due[one], out_of[one]) for one in modules],
        "results": [_result(cls, class_id, basis, one, due[one.record.module]) for one in counted],
        "lineItemLearningObjectiveIds": [row for one in modules for row in _objectives(class_id, one)],
        "resultLearningObjectiveIds": list(_mastery_rows(class_id, counted, evidence)),
    }


def _due(cls: ClassFolder, basis: Basis, module: str) -> date:
    when = cls.settings.due_utc(module)
    return when.astimezone(cls.settings.zone).date() if when is not None else basis.days.last


def _line_item(class_id: UUID, basis: Basis, module: str, due: date, out_of: float) -> Values:
    return {
        "sourcedId": str(line_item_uuid(class_id, module)),
        "title": f"{module.partition('_')[0]} {title(module)}",
        # The day of handing out is not kept; the session's first day is before it.
        "assignDate": min(basis.days.first, due).isoformat(),
        "dueDate": due.isoformat(),
        "classSourcedId": basis.class_id,
        "categorySourcedId": category_id(class_id),
        "academicSessionSourcedId": basis.session_id,
        "resultValueMin": "0",
        "resultValueMax": str(rounded(out_of)),
        "schoolSourcedId": basis.school_id,
    }


def _result(cls: ClassFolder, class_id: UUID, basis: Basis, counted: Counted, due: date) -> Values:
    record = counted.record
    day = due if record.handed_in_at is None else record.handed_in_at.astimezone(cls.settings.zone).date()
    score = rounded(record.final_score)  # there is none before all is graded
    return {
        "sourcedId": str(result_uuid(class_id, record.module, record.student_id)),
        "lineItemSourcedId": str(line_item_uuid(class_id, record.module)),
        "studentSourcedId": basis.users[record.student_id],
        "scoreStatus": SCORE_STATUS[record.status],
        "score": "" if score is None else str(score),
        "scoreDate": day.isoformat(),
        "comment": _comment(counted),
        "classSourcedId": basis.class_id,
        "late": _said(record.handed_in_at is not None and record.days_late > 0),
        "missing": _said(record.status == "not handed in"),
    }


def _comment(counted: Counted) -> str:
    """Say what went into the score. The reason of an excuse stays in the class: it may be about health."""
    record = counted.record
    return " ".join(filter(None, [_late_words(record), counted.why]))


def _late_words(record: GradeRecord) -> str:
    if record.status != "graded" or not record.late_penalty:
        return ""
    return (
        f"{rounded(record.raw_score)} before {rounded(record.late_penalty)} was taken off for being late "
        f"(days: {record.days_late})."
    )


def _said(value: bool) -> str:
    return "true" if value else "false"


def _competencies(module: str) -> list[str]:
    return sorted({name for one in marking.questions(module) for name in one.competencies})


def _objectives(class_id: UUID, module: str) -> Iterable[Values]:
    for name in _competencies(module):
        yield {
            "sourcedId": str(uuid_of("line item's objective", str(class_id), module, name)),
            "lineItemSourcedId": str(line_item_uuid(class_id, module)),
            "source": "case",
            "learningObjectiveId": urn(competency_uuid(name)),
        }


def _mastery_rows(
    class_id: UUID, counted: Sequence[Counted], evidence: Mapping[str, Sequence[Evidence]]
) -> Iterable[Values]:
    """Yield, for each result and competency, the marks in percent there, and the state over all modules.

    A competency that nothing in the module was marked for has no row.
    """
    state: dict[tuple[str, str], str] = {}
    marks: dict[tuple[str, str, str], tuple[float, float]] = {}
    for rule in rules():
        by_student: dict[str, list[Evidence]] = {}
        for one in evidence.get(rule.competency, ()):
            by_student.setdefault(one.student_id, []).append(one)
            key = (one.module, one.student_id, rule.competency)
            earned, out_of = marks.get(key, (0.0, 0.0))
            marks[key] = (earned + one.points, out_of + one.out_of)
        for student, own in by_student.items():
            state[student, rule.competency] = mastery(rule, student, own).state
    present = {(one.record.module, one.record.student_id) for one in counted}
    for (module, student, name), (earned, out_of) in marks.items():
        if (module, student) in present and out_of:
            yield {
                "sourcedId": str(uuid_of("result's objective", str(class_id), module, student, name)),
                "resultSourcedId": str(result_uuid(class_id, module, student)),
                "source": "case",
                "learningObjectiveId": urn(competency_uuid(name)),
                "score": str(rounded(100 * earned / out_of)),
                "textScore": state[student, name],
            }
