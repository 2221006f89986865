"""The course's own diagnosis table, read from its files."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache

from brakecourse.errors import CourseError
from brakecourse.trade import _checks
from brakecourse.trade._diagnosis_records import Cause, Check, Count, Finding
from brakecourse.trade._diagnosis_table import DiagnosisTable


@cache
def diagnosis_table() -> DiagnosisTable:
    """Return the course's own table, estimated from simulated vehicles. It is read once and kept.

    Returns:
        The table under ``datasets/diagnosis``.

    Raises:
        CourseError: a file of it is missing, or a row of it cannot be read.

    Source:
        Seeded simulation of invented vehicles. It tells how causes show themselves in this course, not how
        often anything breaks on the road.

    Example:
        >>> diagnosis_table() is diagnosis_table()
        True
    """
    from brakecourse.tables import read_table

    names = ("causes", "checks", "findings", "counts", "settings")
    rows = {name: read_table(f"diagnosis/{name}.csv") for name in names}
    try:
        return table_from_rows(
            rows["causes"], rows["checks"], rows["findings"], rows["counts"], rows["settings"]
        )
    except (KeyError, TypeError, ValueError) as problem:
        raise CourseError(
            f"The tables in datasets/diagnosis do not fit together ({problem}); put them right or fetch the "
            "course again."
        ) from None


def table_from_rows(
    causes: Iterable[Mapping[str, str]],
    checks: Iterable[Mapping[str, str]],
    findings: Iterable[Mapping[str, str]],
    counts: Iterable[Mapping[str, str]],
    settings: Iterable[Mapping[str, str]] = (),
) -> DiagnosisTable:
    """Return the table that is written in rows of text, column name to cell.

    Raises:
        KeyError, TypeError, ValueError: a column is missing, or a cell cannot be read.
    """
    shown: dict[str, list[Finding]] = {}
    for row in findings:
        shown.setdefault(row["check"], []).append(Finding(row["finding"], row["words"]))
    told = {row["name"]: row["value"] for row in settings}
    table = DiagnosisTable(
        causes=tuple(Cause(row["id"], row["words"], float(row["prior"])) for row in causes),
        checks=tuple(
            Check(
                row["id"],
                row["words"],
                float(row["minutes"]),
                _checks.one_of(row["cheap"], "cheap", ("yes", "no")) == "yes",
                tuple(shown.pop(row["id"], ())),
            )
            for row in checks
        ),
        counts=tuple(
            Count(row["cause"], row["severity"], row["check"], row["finding"], int(row["count"]))
            for row in counts
        ),
        sharpness=float(told.get("sharpness", "1")),
    )
    if shown:
        raise ValueError(f"findings must be of known checks, but there were some of '{next(iter(shown))}'.")
    return table
