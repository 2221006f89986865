"""The records of a diagnosis table: causes, checks, findings, counts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import TypeVar

from brakecourse.trade import _checks
from brakecourse.trade._counts import whole

MOST_SEEN = 10**12
"""No table counts more vehicles: assumption, no source."""

Record = TypeVar("Record")


@dataclass(frozen=True)
class Finding:
    """One thing that a check can show.

    Attributes:
        id: short name.
        words: what a learner reads, e.g. ``"The pedal sinks while held"``.

    Raises:
        ValueError: a text is empty.
    """

    id: str
    words: str

    def __post_init__(self) -> None:
        text(self.id, "id of a finding")
        text(self.words, "words of a finding")


@dataclass(frozen=True, slots=True)
class Count:
    """How often one finding was seen.

    Attributes:
        cause: id of the cause that those vehicles had.
        severity: how strong it was in them, in a word. A cause may have one severity or several.
        check: id of the check.
        finding: id of what it showed.
        count: number of vehicles.

    Raises:
        ValueError: a text is empty, or the count is no whole number of 0 or more.
    """

    cause: str
    severity: str
    check: str
    finding: str
    count: int

    def __post_init__(self) -> None:
        text(self.cause, "cause of a count")
        text(self.severity, "severity of a count")
        text(self.check, "check of a count")
        text(self.finding, "finding of a count")
        whole(self.count, "number of vehicles", 0, MOST_SEEN)

    @property
    def place(self) -> tuple[str, str, str, str]:
        """Where in the table it stands: cause, severity, check, finding."""
        return self.cause, self.severity, self.check, self.finding


@dataclass(frozen=True)
class Cause:
    """Something that can be wrong with a vehicle.

    Attributes:
        id: short name.
        words: what a learner reads.
        prior: its share among the vehicles that come in, above 0, below 1.

    Raises:
        ValueError: a text is empty, or the share is out of its range.
    """

    id: str
    words: str
    prior: float

    def __post_init__(self) -> None:
        text(self.id, "id of a cause")
        text(self.words, "words of a cause")
        if _checks.positive(self.prior, f"share of the cause '{self.id}'") >= 1:
            raise _checks._refuse(f"share of the cause '{self.id}'", "below 1", self.prior)


@dataclass(frozen=True)
class Check:
    """Something that a technician can look at, measure or try.

    Attributes:
        id: short name.
        words: what a learner reads.
        minutes: what it costs, min, above 0.
        cheap: whether it belongs to those that are done first.
        findings: what it can show, two or more, one of which it always shows.

    Raises:
        ValueError: a text is empty, the minutes are not above 0, or there are too few or like findings.
    """

    id: str
    words: str
    minutes: float
    cheap: bool
    findings: tuple[Finding, ...]

    def __post_init__(self) -> None:
        text(self.id, "id of a check")
        text(self.words, "words of a check")
        _checks.positive(self.minutes, f"minutes of the check '{self.id}'")
        if not isinstance(self.cheap, bool):
            raise _checks._refuse(f"cheap of the check '{self.id}'", "True or False", self.cheap)
        findings = records(self.findings, Finding, f"findings of the check '{self.id}'", 2)
        unlike([one.id for one in findings], f"findings of the check '{self.id}'")
        object.__setattr__(self, "findings", findings)


def text(value: object, quantity: str) -> None:
    """Refuse what is no text, or an empty one.

    Raises:
        ValueError: it is none.
    """
    if not isinstance(value, str) or not value.strip():
        raise _checks._refuse(quantity, "a text that is not empty", value)


def records(values: object, kind: type[Record], quantity: str, at_least: int) -> tuple[Record, ...]:
    """Return a row of records as a tuple, or refuse it.

    Raises:
        ValueError: no row, too few members, or a member of another kind (its place is told).
    """
    expected = f"given as a row of at least {at_least} {kind.__name__} record{'s' if at_least > 1 else ''}"
    unordered = isinstance(values, (str, bytes, bytearray, Mapping, AbstractSet))
    if unordered or not hasattr(values, "__len__") or not hasattr(values, "__iter__"):
        raise _checks._refuse(quantity, expected, values)
    found: list[Record] = []
    for place, one in enumerate(values, start=1):
        if not isinstance(one, kind):
            raise _checks._refuse(f"{quantity}, place {place},", f"a {kind.__name__} record", one)
        found.append(one)
    if len(found) < at_least:
        raise _checks._refuse(quantity, expected, values)
    return tuple(found)


def unlike(ids: Sequence[str], quantity: str) -> None:
    """Refuse a row in which an id stands twice.

    Raises:
        ValueError: one does.
    """
    for place, id in enumerate(ids):
        if id in ids[:place]:
            raise ValueError(f"{quantity} must each have an id of their own, but '{id}' stood twice.")
