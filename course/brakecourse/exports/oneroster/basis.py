"""What results rest on: the school's own rows as they came in, or rows made for a class with a plain list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError
from brakecourse.exports.ids import class_uuid, uuid_of
from brakecourse.exports.oneroster.invented import (
    Days,
    class_tables,
    enrolment_row,
    role_row,
    user_row,
)

if TYPE_CHECKING:
    from brakecourse.classroom.oneroster import Package

Values = Mapping[str, str]
Tables = dict[str, list[Values]]

# What version 1.2 calls a role that 1.1, or an enrolment, calls otherwise.
_ROLE = {"administrator": "siteAdministrator"}


@dataclass(frozen=True)
class Basis:
    """The rows that results rest on.

    Attributes:
        tables: the rows of orgs, academicSessions, courses, classes, users, roles and enrollments.
        class_id, school_id, session_id: the class, its school, and the session its results are of.
        days: the session's first and last day.
        users: each enrolled student's id in the package, by the student's id in the class.
        said: a sentence for each thing that had to be made up.
    """

    tables: Tables
    class_id: str
    school_id: str
    session_id: str
    days: Days
    users: Mapping[str, str]
    said: tuple[str, ...]


def basis_of(cls: ClassFolder) -> Basis:
    """Return the rows that a class's results rest on.

    Raises:
        CourseError: the roster leaves out a student who is enrolled by the school's list, or it is not known
            when the class runs.
    """
    package = cls.oneroster
    said: tuple[str, ...] = ()
    if package is None:
        tables, said = class_tables(cls)
    else:
        tables = _echoed(cls, package)
    (row,) = tables["classes"]
    class_id, school_id = row["sourcedId"], row["schoolSourcedId"]
    users = _with_the_rest(cls, tables, class_id, school_id)
    session = _session(tables, row)
    first, end = (date.fromisoformat(session[name]) for name in ("startDate", "endDate"))
    days = Days(first, end - timedelta(days=1))
    return Basis(tables, class_id, school_id, session["sourcedId"], days, users, said)


def _echoed(cls: ClassFolder, package: Package) -> Tables:
    """Return the school's rows in the form of version 1.2, without those who left."""
    tables: Tables = {file: list(rows) for file, rows in package.values().items()}
    gone = {entry.lms_user_id for entry in cls.left if entry.lms_user_id}
    _refuse_left_out(cls, tables, gone)
    tables["enrollments"] = [row for row in tables["enrollments"] if row["userSourcedId"] not in gone]
    tables["users"] = [row for row in tables["users"] if row["sourcedId"] not in gone]
    roles = [row for row in tables.get("roles", ()) if row["userSourcedId"] not in gone]
    if package.version == "1.1":
        roles = [role for user in tables["users"] for role in _roles(user)]
        tables["users"] = [_newer(user) for user in tables["users"]]
    known = {row["userSourcedId"] for row in roles}
    roles += [
        role_row(row["userSourcedId"], _ROLE.get(row["role"], row["role"]), row["schoolSourcedId"])
        for row in {row["userSourcedId"]: row for row in tables["enrollments"]}.values()
        if row["userSourcedId"] not in known
    ]
    tables["roles"] = roles
    return tables


def _refuse_left_out(cls: ClassFolder, tables: Tables, gone: set[str]) -> None:
    here = {entry.lms_user_id for entry in cls.roster} | gone
    enrolled = {row["userSourcedId"] for row in tables["enrollments"] if row["role"] == "student"}
    if enrolled - here:
        raise CourseError(
            f"A bulk package is the whole truth, but the roster {cls.roster_file} leaves out "
            f"{len(enrolled - here)} of the {len(enrolled)} students who are enrolled by the school's list; "
            f"give 'brakecourse class roster {cls.root} FILE' with the school's newest list first."
        )


def _roles(user: Values) -> list[Values]:
    """Return the roles of a user of version 1.1, who had one role in several places."""
    role = _ROLE.get(user["role"], user["role"])
    places = dict.fromkeys(place.strip() for place in user["orgSourcedIds"].split(",") if place.strip())
    return [
        role_row(user["sourcedId"], role, place, "secondary" if number else "primary")
        for number, place in enumerate(places)
    ]


def _newer(user: Values) -> Values:
    place = user["orgSourcedIds"].split(",")[0].strip()
    kept = {name: value for name, value in user.items() if name not in ("orgSourcedIds", "role")}
    return {**kept, "primaryOrgSourcedId": place}


def _with_the_rest(cls: ClassFolder, tables: Tables, class_id: str, school_id: str) -> dict[str, str]:
    """Add the students whom the school's rows don't know, and return every student's id in the package."""
    for file in ("users", "roles", "enrollments"):
        tables.setdefault(file, [])
    known = {row["userSourcedId"] for row in tables["enrollments"] if row["role"] == "student"}
    users = {}
    for entry in cls.roster:
        if entry.lms_user_id in known:
            users[entry.student_id] = entry.lms_user_id
            continue
        user = user_row(class_uuid(cls), entry, school_id)
        users[entry.student_id] = user["sourcedId"]
        tables["users"].append(user)
        tables["roles"].append(role_row(user["sourcedId"], "student", school_id))
        tables["enrollments"].append(enrolment_row(user["sourcedId"], class_id, school_id))
    return users


def _session(tables: Tables, row: Values) -> Values:
    """Return the session that the class's results are of. By the standard it may be no whole school year."""
    sessions = {one["sourcedId"]: one for one in tables["academicSessions"]}
    own = [sessions[one.strip()] for one in row["termSourcedIds"].split(",") if one.strip()]
    shorter = [one for one in own if one["type"] != "schoolYear"]
    if shorter:
        return shorter[0]
    year = own[0]
    period = {
        **year,
        "sourcedId": str(uuid_of("grading period", row["sourcedId"], year["sourcedId"])),
        "type": "gradingPeriod",
        "parentSourcedId": year["sourcedId"],
    }
    tables["academicSessions"].append(period)
    return period
