"""Ids for students whom a school's system names in its own way: each names a folder, and stays for good."""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections import Counter
from collections.abc import Sequence

from brakecourse.classroom.oneroster import Person
from brakecourse.classroom.roster import RosterEntry, check_student_id

_LONGEST = 40
_SPELT = str.maketrans({"ß": "ss", "æ": "ae", "Æ": "AE", "ø": "o", "Ø": "O", "ł": "l", "Ł": "L", "đ": "d"})


def readable_id(username: str, sourced_id: str) -> str:
    """Return an id that can name a folder, as like the username as may be.

    Args:
        username: what the student signs in with; of an email address, the part before the "@" is taken.
        sourced_id: the school's own id, used where nothing is left of the username.

    >>> [readable_id(name, "u-1") for name in ("Zoë.Müller@larkmoor.example", "../..", "con")]
    ['Zoe.Muller', 'student-a24a7f', 'student-a24a7f']
    """
    plain = unicodedata.normalize("NFKD", username.partition("@")[0].translate(_SPELT))
    ascii_only = "".join(c for c in plain if not unicodedata.combining(c))
    text = re.sub(r"[^A-Za-z0-9._-]+", "-", ascii_only)
    text = re.sub(r"\.{2,}", ".", text)[:_LONGEST].strip("._-")
    return text if text and check_student_id(text) is None else f"student-{_short(sourced_id)}"


def with_lasting_ids(people: Sequence[Person], known: Sequence[RosterEntry]) -> tuple[RosterEntry, ...]:
    """Give each student the id they have, or a new one that nobody ever had.

    A student is known by the school's id. One who is known without it (the class was made from a plain list)
    is told by the same id or, where only one has it, by the same email address.

    Args:
        people: the students of the school's list.
        known: everyone who is or ever was in the class.

    Returns:
        The students with their ids, in the same order.
    """
    ids = _known_ids(people, known)
    taken = {entry.student_id.casefold() for entry in known}
    new = [one for one in people if one.sourced_id not in ids]
    wishes = {one.sourced_id: readable_id(one.username, one.sourced_id) for one in new}
    often = Counter(wish.casefold() for wish in wishes.values())
    for one in new:
        wish = wishes[one.sourced_id]
        # Two who would get the same id both get a longer one: whoever comes first should not matter.
        alone = often[wish.casefold()] == 1 and wish.casefold() not in taken
        ids[one.sourced_id] = wish if alone else f"{wish}-{_short(one.sourced_id)}"
    return tuple(
        RosterEntry(ids[one.sourced_id], one.first_name, one.last_name, one.email, one.sourced_id)
        for one in people
    )


def _known_ids(people: Sequence[Person], known: Sequence[RosterEntry]) -> dict[str, str]:
    by_school = {entry.lms_user_id: entry.student_id for entry in known if entry.lms_user_id}
    ids = {one.sourced_id: by_school[one.sourced_id] for one in people if one.sourced_id in by_school}
    plain = [entry for entry in known if not entry.lms_user_id]
    by_id = {entry.student_id.casefold(): entry.student_id for entry in plain}
    here, there = (Counter(one.email.casefold() for one in some) for some in (plain, people))
    by_email = {
        entry.email.casefold(): entry.student_id
        for entry in plain
        if here[entry.email.casefold()] == there[entry.email.casefold()] == 1
    }
    for one in people:
        found = by_id.get(readable_id(one.username, one.sourced_id).casefold())
        found = found or (by_email.get(one.email.casefold()) if one.email else None)
        if found is not None and one.sourced_id not in ids and found not in ids.values():
            ids[one.sourced_id] = found
    return ids


def _short(sourced_id: str) -> str:
    return hashlib.sha256(sourced_id.encode()).hexdigest()[:6]
