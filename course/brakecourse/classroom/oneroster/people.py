"""Who is in a class, by a package: the classes it offers, the students of one, the part that tells of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from brakecourse.classroom.oneroster.columns import COLUMNS
from brakecourse.classroom.oneroster.package import Package
from brakecourse.classroom.oneroster.references import check_together
from brakecourse.classroom.oneroster.rows import Row, items
from brakecourse.classroom.oneroster.trouble import PackageError

_MOST_NAMED = 6  # classes that a sentence names
_STAFF = ("administrator", "proctor", "teacher")
# What is not kept of a person or a class: other people, and what is nobody's business here.
_NOT_KEPT = ("password", "agentSourcedIds", "userProfileSourcedId")


@dataclass(frozen=True)
class OfferedClass:
    """One class of a package, as a person chooses it.

    Attributes:
        sourced_id: its id there.
        title, code: what the school calls it.
        students: how many are enrolled.
    """

    sourced_id: str
    title: str
    code: str
    students: int


class SeveralClasses(PackageError):
    """The package holds more than one class, and none of them was chosen.

    Attributes:
        offers: the classes.
    """

    def __init__(self, package: str, problem: str, offers: tuple[OfferedClass, ...]) -> None:
        super().__init__(package, problem)
        self.offers = offers


@dataclass(frozen=True)
class Person:
    """One student of a class, as the school's list has them."""

    sourced_id: str
    username: str
    first_name: str
    last_name: str
    email: str


def combined(before: Package | None, new: Package) -> Package:
    """Return what holds after a package has come in.

    Args:
        before: what held until now, of this class; None when nothing is known.
        new: all rows there are, or the changes since.

    Raises:
        PackageError: it holds changes only and nothing is known that they could change.
    """
    if new.whole:
        return new
    if before is None:
        raise PackageError(
            new.name,
            "it holds only changes (delta) to a list that was never given to this class; "
            "have a whole one (bulk) exported",
        )
    if before.version != new.version:
        raise PackageError(
            new.name,
            f"its changes are of version {new.version}, but the class's list is of {before.version}; "
            "have a whole one (bulk) exported",
        )
    tables = {}
    for file in COLUMNS[new.version]:
        rows = {row.sourced_id: row for row in before.rows(file)} if new.modes.get(file) != "bulk" else {}
        rows |= {row.sourced_id: row for row in new.rows(file)}
        if rows:
            tables[file] = tuple(rows.values())
    return replace(new, tables=tables)


def offered_classes(package: Package, today: date) -> tuple[OfferedClass, ...]:
    """Return the classes of a package, in its order."""
    enrolled = _enrolled(package, today)
    return tuple(
        OfferedClass(row.sourced_id, row["title"], row["classCode"], len(enrolled.get(row.sourced_id, ())))
        for row in package.rows("classes")
        if not row.deleted
    )


def chosen_class(package: Package, wanted: str | None, today: date) -> OfferedClass:
    """Return the class that was asked for, or the only one there is.

    Args:
        package: what the school gave.
        wanted: a class's id, code or title; None when nobody has chosen.
        today: enrolments that have ended by then don't count.

    Raises:
        SeveralClasses: there is a choice, and it was not made or is not plain.
        PackageError: there is no class at all.
    """
    offers = offered_classes(package, today)
    if not offers:
        raise PackageError(package.name, "no class is in it; have one exported with its class")
    found = offers
    if wanted is not None:
        same_id = [one for one in offers if one.sourced_id == wanted]
        found = tuple(same_id or [one for one in offers if wanted in (one.code, one.title)])
    if len(found) == 1:
        return found[0]
    named = found or offers
    names = ", ".join(f"{one.sourced_id} ({one.title})" for one in named[:_MOST_NAMED])
    if len(named) > _MOST_NAMED:
        names += f" and {len(named) - _MOST_NAMED} more"
    asked = "" if wanted is None else f" and '{wanted}' is {'more than one' if found else 'none'} of them"
    raise SeveralClasses(
        package.name,
        f"it holds {len(offers)} {'class' if len(offers) == 1 else 'classes'}{asked}; choose one by its id "
        f"with --class: {names}",
        tuple(named),
    )


def people_of(package: Package, class_id: str, today: date) -> tuple[Person, ...]:
    """Return the students of a class, by last name, first name and id.

    Left out are those whose account is shut, whose enrolment has ended, or who are to be deleted.
    """
    users = {row.sourced_id: row for row in package.rows("users")}
    people = [_person(users[user]) for user in _enrolled(package, today).get(class_id, ())]
    return tuple(sorted(people, key=lambda one: (one.last_name, one.first_name, one.sourced_id)))


def narrowed(package: Package, class_id: str, today: date) -> Package:
    """Return the part of a package that tells of one class: itself, its people, and what these refer to.

    Passwords and references to people outside the class are left out.

    Raises:
        PackageError: something that the part refers to is not in the package.
    """
    students = set(_enrolled(package, today).get(class_id, ()))
    columns = COLUMNS[package.version]
    rows = {file: {row.sourced_id: row for row in package.rows(file) if not row.deleted} for file in columns}
    classes = {class_id: rows["classes"][class_id]}
    enrollments = {
        key: row
        for key, row in rows["enrollments"].items()
        if row["classSourcedId"] == class_id
        and not _ended(row, today)
        and (row["userSourcedId"] in students if row["role"] == "student" else row["role"] in _STAFF)
    }
    users = _picked(rows["users"], (row["userSourcedId"] for row in enrollments.values()))
    enrollments = {key: row for key, row in enrollments.items() if row["userSourcedId"] in users}
    roles = {key: row for key, row in rows.get("roles", {}).items() if row["userSourcedId"] in users}
    courses = _picked(rows["courses"], (row["courseSourcedId"] for row in classes.values()))
    named = {
        "classes": classes,
        "enrollments": enrollments,
        "users": users,
        "roles": roles,
        "courses": courses,
    }
    sessions, orgs = (_targets(named, package, file) for file in ("academicSessions", "orgs"))
    part = {
        **named,
        "academicSessions": _with_parents(rows["academicSessions"], sessions),
        "orgs": _with_parents(rows["orgs"], orgs),
    }
    tables = {file: tuple(_kept(part[file][key]) for key in sorted(part[file])) for file in sorted(part)}
    tables = {file: found for file, found in tables.items() if found}
    check_together(tables, columns, package.name)
    return replace(package, modes=dict.fromkeys(tables, "bulk"), tables=tables, unread=())


def _enrolled(package: Package, today: date) -> dict[str, tuple[str, ...]]:
    """Return the ids of each class's students, by the class's id."""
    able = {
        row.sourced_id for row in package.rows("users") if row["enabledUser"] == "true" and not row.deleted
    }
    found: dict[str, dict[str, None]] = {}
    for row in package.rows("enrollments"):
        here = row["role"] == "student" and row["userSourcedId"] in able
        if here and not row.deleted and not _ended(row, today):
            found.setdefault(row["classSourcedId"], {})[row["userSourcedId"]] = None
    return {class_id: tuple(users) for class_id, users in found.items()}


def _ended(row: Row, today: date) -> bool:
    # The last day is not in it: an enrolment that ends today has ended.
    return bool(row["endDate"]) and date.fromisoformat(row["endDate"]) <= today


def _person(user: Row) -> Person:
    def name(part: str) -> str:
        return user.values.get(f"preferred{part[0].upper()}{part[1:]}") or user[part]

    return Person(user.sourced_id, user["username"], name("givenName"), name("familyName"), user["email"])


def _picked(rows: Mapping[str, Row], ids: Iterable[str]) -> dict[str, Row]:
    return {one: rows[one] for one in sorted(set(ids)) if one in rows}


def _targets(named: Mapping[str, Mapping[str, Row]], package: Package, file: str) -> list[str]:
    """Return the ids of a file's rows that other rows refer to."""
    return [
        target
        for source, rows in named.items()
        for column in COLUMNS[package.version].get(source, ())
        if column.of == file
        for row in rows.values()
        for target in items(row[column.name])
    ]


def _with_parents(rows: Mapping[str, Row], ids: Sequence[str]) -> dict[str, Row]:
    found: dict[str, Row] = {}
    waiting = list(ids)
    while waiting:
        one = waiting.pop()
        if one in rows and one not in found:
            found[one] = rows[one]
            waiting.extend(items(rows[one]["parentSourcedId"]))
    return found


def _kept(row: Row) -> Row:
    changed = {name: "" for name in _NOT_KEPT if name in row.values}
    return Row(row.number, {**row.values, **changed, "status": "", "dateLastModified": ""})
