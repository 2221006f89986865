"""What is wrong with a OneRoster package, in one sentence: which file, row and field, and what was there."""

from __future__ import annotations

from brakecourse.errors import CourseError

# What tells who somebody is never stands in a sentence that may end up in a log.
PRIVATE = frozenset(
    (
        "username", "userIds", "givenName", "familyName", "middleName", "identifier", "email", "sms", "phone",
        "password", "userMasterIdentifier", "preferredGivenName", "preferredMiddleName",
        "preferredFamilyName", "pronouns",
    )
)  # fmt: skip
_LONGEST = 60


class PackageError(CourseError):
    """A OneRoster package that can't be used as it is.

    Attributes:
        file: which file of the package, or "" for the package as a whole.
        row: which row, the header being row 1; 0 when it is none in particular.
        field: which field, or "".
    """

    def __init__(self, package: str, problem: str, *, file: str = "", row: int = 0, field: str = "") -> None:
        places = (file, f"row {row}" if row else "", f"field '{field}'" if field else "")
        place = ", ".join(filter(None, (f"The class list {package}", *places)))
        super().__init__(f"{place}: {problem}.")
        self.file, self.row, self.field = file, row, field


def shown(value: str, field: str = "") -> str:
    """Return a value as a sentence quotes it: short, on one line, and not at all when it names a person.

    >>> shown("yes"), shown("Amara", "givenName")
    ("'yes'", 'something else (not shown, because it is personal)')
    """
    if not value:
        return "nothing"
    if field in PRIVATE:
        return "something else (not shown, because it is personal)"
    line = "".join(c if c.isprintable() else "?" for c in value)
    return f"'{line}'" if len(line) <= _LONGEST else f"'{line[:_LONGEST]}…'"
