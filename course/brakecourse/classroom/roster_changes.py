"""A class list that changed: what would become of the roster, shown before it is done."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import NamedTuple

from brakecourse.classroom.class_list import ClassList
from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.folder import ClassFolder, open_class
from brakecourse.classroom.oneroster import package_bytes
from brakecourse.classroom.roster import RosterEntry, roster_bytes


class Change(NamedTuple):
    """One student as they stood and as they will stand."""

    before: RosterEntry
    after: RosterEntry


@dataclass(frozen=True)
class RosterChanges:
    """What a new class list would change, each in the order of its list.

    Attributes:
        joined: those who were never in the class.
        back: those who had left and are there again, as they will stand.
        left: those who are on the list no longer. They keep all their work.
        renamed: those whose first or last name is another.
        email_changed: those whose email address is another.
        linked: those whom the school's own id is now known of, or is another.
        unchanged: those of whom everything stays.
    """

    joined: tuple[RosterEntry, ...]
    back: tuple[RosterEntry, ...]
    left: tuple[RosterEntry, ...]
    renamed: tuple[Change, ...]
    email_changed: tuple[Change, ...]
    linked: tuple[Change, ...]
    unchanged: tuple[RosterEntry, ...]

    @property
    def anything(self) -> bool:
        """Whether anything would change at all."""
        parts = (self.joined, self.back, self.left, self.renamed, self.email_changed, self.linked)
        return any(parts)


def roster_changes(old: Sequence[RosterEntry], new: Sequence[RosterEntry]) -> RosterChanges:
    """Compare two class lists; students are told by their ids.

    Args:
        old: everyone who is or was in the class; those who left bear the day.
        new: everyone who is in the class by the new list.

    >>> amara, bruno = RosterEntry("s01", "Amara", "Quillstone"), RosterEntry("s02", "Bruno", "Fennimoor")
    >>> found = roster_changes([amara], [bruno])
    >>> [one.student_id for one in found.joined], [one.student_id for one in found.left], found.anything
    (['s02'], ['s01'], True)
    """
    before = {entry.student_id: entry for entry in old}
    stays = [Change(before[one.student_id], one) for one in new if one.student_id in before]
    still = {one.student_id for one in new}
    return RosterChanges(
        joined=tuple(one for one in new if one.student_id not in before),
        back=tuple(pair.after for pair in stays if pair.before.left),
        left=tuple(one for one in old if one.student_id not in still and not one.left),
        renamed=tuple(pair for pair in stays if _name(pair.before) != _name(pair.after)),
        email_changed=tuple(pair for pair in stays if pair.before.email != pair.after.email),
        linked=tuple(pair for pair in stays if pair.before.lms_user_id != pair.after.lms_user_id),
        unchanged=tuple(pair.after for pair in stays if pair.before == pair.after),
    )


def updated_roster(
    old: Sequence[RosterEntry], new: Sequence[RosterEntry], today: date
) -> tuple[RosterEntry, ...]:
    """Return the roster with a new class list in it. Nobody is taken out of it, so that no id is given twice.

    Args:
        old: everyone who is or was in the class.
        new: everyone who is in the class by the new list.
        today: the day that stands beside those who left by this list.

    Returns:
        The new list in its order, then those who left.
    """
    still = {one.student_id for one in new}
    gone = (one for one in old if one.student_id not in still)
    return (*new, *(one if one.left else replace(one, left=today.isoformat()) for one in gone))


def change_roster(cls: ClassFolder, found: ClassList, today: date) -> ClassFolder:
    """Put a new class list into a class. What anybody handed in stays where it is.

    Args:
        cls: the class.
        found: the list, read with the class's own roster in mind.
        today: the day that stands beside those who left by this list.

    Raises:
        CourseError: the class folder can't be written; then the old roster holds.
    """
    entries = updated_roster(cls.everyone, with_school_ids(cls.everyone, found.entries), today)
    with reporting_disk_trouble(f"write {cls.roster_file}"):
        if found.package is not None:
            content = package_bytes(found.package.version, found.package.values())
            write_bytes_whole(cls.oneroster_file, content)
        write_bytes_whole(cls.roster_file, roster_bytes(entries))
    return open_class(cls.root)


def with_school_ids(old: Sequence[RosterEntry], new: Sequence[RosterEntry]) -> tuple[RosterEntry, ...]:
    """Return a list in which those keep the school's own id who had one; a plain list does not know of it."""
    known = {entry.student_id: entry.lms_user_id for entry in old}
    return tuple(replace(one, lms_user_id=one.lms_user_id or known.get(one.student_id, "")) for one in new)


def _name(entry: RosterEntry) -> tuple[str, str]:
    return entry.first_name, entry.last_name


def in_words(changes: RosterChanges) -> Iterator[tuple[str, str, str]]:
    """Say each change: the student's id, the name, what changes."""
    for one in changes.joined:
        yield one.student_id, _full_name(one), "joins"
    for one in changes.back:
        yield one.student_id, _full_name(one), "is back"
    for one in changes.left:
        yield one.student_id, _full_name(one), "leaves; all work is kept"
    for before, after in changes.renamed:
        yield after.student_id, _full_name(after), f"was {_full_name(before)}"
    for before, after in changes.email_changed:
        what = f"email {after.email or 'none'}, was {before.email or 'none'}"
        yield after.student_id, _full_name(after), what
    for before, after in changes.linked:
        was = f", was {before.lms_user_id}" if before.lms_user_id else ""
        yield after.student_id, _full_name(after), f"is {after.lms_user_id} in the school's system{was}"


def _full_name(entry: RosterEntry) -> str:
    return f"{entry.first_name} {entry.last_name}"
