"""What rows owe to each other: no id twice, every reference leads somewhere, and what they say agrees."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from brakecourse.classroom.oneroster.columns import Column
from brakecourse.classroom.oneroster.rows import Row, items
from brakecourse.classroom.oneroster.trouble import PackageError, shown

Tables = Mapping[str, Sequence[Row]]


def check_sourced_ids(rows: Sequence[Row], package: str, file: str) -> None:
    """Refuse an id that stands on two rows of a file.

    Raises:
        PackageError: it does.
    """
    seen: dict[str, int] = {}
    for row in rows:
        first = seen.setdefault(row.sourced_id, row.number)
        if first != row.number:
            raise PackageError(
                package,
                f"{shown(row.sourced_id)} stands on row {first} too; each row needs its own id",
                file=file,
                row=row.number,
                field="sourcedId",
            )


def check_together(tables: Tables, columns: Mapping[str, Sequence[Column]], package: str) -> None:
    """Check what the rows of all files owe to each other.

    Args:
        tables: the rows of each file that was read. A reference into a file that was not read (a user's
            profile, a book) is not followed.
        columns: the columns of each file.
        package: what a sentence calls the package.

    Raises:
        PackageError: a reference leads nowhere, a class lies in no school, a session ends before it begins,
            or subjects and their codes do not pair.
    """
    ids = {file: {row.sourced_id for row in tables.get(file, ())} for file in columns}
    for file, rows in tables.items():
        references = [one for one in columns[file] if one.kind in ("reference", "references")]
        for row in rows:
            for column in references:
                for target in items(row[column.name]):
                    if target not in ids[column.of]:
                        raise PackageError(
                            package,
                            f"{shown(target)} was expected in {column.of}.csv, but is not there",
                            file=f"{file}.csv",
                            row=row.number,
                            field=column.name,
                        )
    _check_schools(tables, package)
    _check_sessions(tables, package)
    _check_subjects(tables, package)
    _check_line_items(tables, package)


def _check_schools(tables: Tables, package: str) -> None:
    schools = {row.sourced_id for row in tables.get("orgs", ()) if row["type"] == "school"}
    for row in tables.get("classes", ()):
        if row["schoolSourcedId"] not in schools:
            raise PackageError(
                package,
                f"{shown(row['schoolSourcedId'])} must be of type 'school' in orgs.csv, but is not",
                file="classes.csv",
                row=row.number,
                field="schoolSourcedId",
            )


def _check_sessions(tables: Tables, package: str) -> None:
    for row in tables.get("academicSessions", ()):
        if row["endDate"] <= row["startDate"]:
            raise PackageError(
                package,
                f"a day after startDate was expected, but {shown(row['endDate'])} was found",
                file="academicSessions.csv",
                row=row.number,
                field="endDate",
            )


def _check_subjects(tables: Tables, package: str) -> None:
    for file in ("courses", "classes"):
        for row in tables.get(file, ()):
            subjects, codes = items(row["subjects"]), items(row["subjectCodes"])
            if subjects and codes and len(subjects) != len(codes):
                raise PackageError(
                    package,
                    f"{len(subjects)} codes were expected, one a subject, but {len(codes)} found",
                    file=f"{file}.csv",
                    row=row.number,
                    field="subjectCodes",
                )


def _check_line_items(tables: Tables, package: str) -> None:
    types = {row.sourced_id: row["type"] for row in tables.get("academicSessions", ())}
    for row in tables.get("lineItems", ()):
        if types[row["academicSessionSourcedId"]] == "schoolYear":
            raise PackageError(
                package,
                "a session that is no schoolYear was expected",
                file="lineItems.csv",
                row=row.number,
                field="academicSessionSourcedId",
            )
        low, high = row["resultValueMin"], row["resultValueMax"]
        if low and high and float(low) > float(high):
            raise PackageError(
                package,
                f"at least {low} was expected, but {shown(high)} was found",
                file="lineItems.csv",
                row=row.number,
                field="resultValueMax",
            )
