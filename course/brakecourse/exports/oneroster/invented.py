"""A school, a term, a course and a class for those whose class list is plain: made from the class's settings.

OneRoster wants all of them before it takes a result. What the settings don't say has a default, and whoever
exports is told of it. The ids stay the same from export to export.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from uuid import UUID

from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.roster import RosterEntry
from brakecourse.errors import CourseError
from brakecourse.exports.ids import class_uuid, course_uuid, student_uuid, uuid_of

Values = Mapping[str, str]

SCHOOL = "Training school"
COURSE_TITLE = "The disc-brake job"
COURSE_CODE = "brakecourse"


@dataclass(frozen=True)
class Days:
    """The first and the last day of a class."""

    first: date
    last: date


def days_of(cls: ClassFolder) -> tuple[Days, tuple[str, ...]]:
    """Return a class's first and last day, and a sentence for each that was not set.

    The first is by default the 1 August on or before the first due time, when many school years begin; the
    last is by default a year later (common practice, no source).

    Raises:
        CourseError: nothing tells when the class runs.
    """
    settings = cls.settings
    due = [when.astimezone(settings.zone).date() for name in settings.due if (when := settings.due_utc(name))]
    said = []
    first = settings.begins
    if first is None:
        if not due:
            raise CourseError(
                f"OneRoster needs the class's first day, but neither that nor a due time is set; write a "
                f"line such as 'begins = 2026-09-01' above [due] in {cls.settings_file}."
            )
        first = date(min(due).year - (min(due).month < 8), 8, 1)
        said.append(f"First day: {first}, because 'begins' is not set in class.toml.")
    last = settings.ends
    if last is None:
        last = max([first + timedelta(days=364), *due])
        said.append(f"Last day: {last}, because 'ends' is not set in class.toml.")
    if last < first:
        raise CourseError(
            f"The class's last day was expected after its first ({first}), but it is {last}; "
            f"set 'begins' and 'ends' in {cls.settings_file}."
        )
    return Days(first, last), tuple(said)


def class_tables(cls: ClassFolder) -> tuple[dict[str, list[Values]], tuple[str, ...]]:
    """Return the rows of a school, a term, a course and the class, and a sentence for each default."""
    days, said = days_of(cls)
    class_id, settings = class_uuid(cls), cls.settings
    school_id = uuid_of("school", settings.school) if settings.school else uuid_of("school", str(class_id))
    term_id = uuid_of("term", str(class_id))
    if not settings.school:
        said = (f"School: '{SCHOOL}', because 'school' is not set in class.toml.", *said)
    tables: dict[str, list[Values]] = {
        "orgs": [{"sourcedId": str(school_id), "name": settings.school or SCHOOL, "type": "school"}],
        "academicSessions": [
            {
                "sourcedId": str(term_id),
                "title": settings.term or settings.name,
                "type": "term",
                "startDate": days.first.isoformat(),
                # The last day is not in it, by the standard.
                "endDate": (days.last + timedelta(days=1)).isoformat(),
                "schoolYear": str(days.last.year),
            }
        ],
        "courses": [
            {
                "sourcedId": str(course_uuid()),
                "title": COURSE_TITLE,
                "courseCode": COURSE_CODE,
                "orgSourcedId": str(school_id),
            }
        ],
        "classes": [
            {
                "sourcedId": str(class_id),
                "title": settings.name,
                "courseSourcedId": str(course_uuid()),
                "classType": "scheduled",
                "schoolSourcedId": str(school_id),
                "termSourcedIds": str(term_id),
            }
        ],
    }
    return tables, said


def user_row(class_id: UUID, entry: RosterEntry, school_id: str) -> Values:
    """Return the row of a student whom the school's package does not know. There is never a password."""
    return {
        "sourcedId": str(student_uuid(class_id, entry.student_id)),
        "enabledUser": "true",
        "username": entry.student_id,
        "givenName": entry.first_name,
        "familyName": entry.last_name,
        "email": entry.email,
        "primaryOrgSourcedId": school_id,
    }


def role_row(user_id: str, role: str, school_id: str, kind: str = "primary") -> Values:
    """Return the row of somebody's role at a school."""
    return {
        "sourcedId": str(uuid_of("role", user_id, role, school_id)),
        "userSourcedId": user_id,
        "roleType": kind,
        "role": role,
        "orgSourcedId": school_id,
    }


def enrolment_row(user_id: str, class_id: str, school_id: str) -> Values:
    """Return the row that says that a student is in a class."""
    return {
        "sourcedId": str(uuid_of("enrolment", user_id, class_id)),
        "classSourcedId": class_id,
        "schoolSourcedId": school_id,
        "userSourcedId": user_id,
        "role": "student",
    }
