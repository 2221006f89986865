"""Write a OneRoster package whose bytes depend on what it says alone.

Source of the rules: 1EdTech OneRoster 1.1 and 1.2, CSV binding, as the project's design notes restate them.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

from brakecourse.classroom.oneroster.columns import COLUMNS, FILES
from brakecourse.classroom.zips import steady_zip

Values = Mapping[str, str]


def package_bytes(version: str, tables: Mapping[str, Iterable[Values]], system: str = "") -> bytes:
    """Return a bulk package.

    Args:
        version: "1.1" or "1.2".
        tables: the rows of each file; columns that are left out stay empty. A file without rows is absent.
        system: the name of the system that it comes from.

    Returns:
        The zip. Rows stand by their sourcedId, entries by their name, and no time is in it.

    Raises:
        ValueError: a file or a column is not one of the standard's.
    """
    sorted_rows = {file: sorted(rows, key=lambda row: row["sourcedId"]) for file, rows in tables.items()}
    unknown = set(sorted_rows) - set(COLUMNS[version])
    if unknown:
        raise ValueError(f"OneRoster {version} has no file {', '.join(sorted(unknown))}.")
    files = {
        f"{file}.csv": _csv([column.name for column in COLUMNS[version][file]], rows)
        for file, rows in sorted_rows.items()
        if rows
    }
    files["manifest.csv"] = _csv(("propertyName", "value"), _manifest(version, files, system))
    return steady_zip(files)


def one_line(text: str) -> str:
    """Return a text without line breaks and without signs that can't be shown, as a field must be.

    Nothing else is changed: a package is read by programs, and a name that starts with "=" stays as it is.

    >>> one_line("=a\\nb")
    '=a b'
    """
    if not text.isprintable():  # looking at each sign takes most of the time
        text = "".join(c for c in text if c.isprintable() or c.isspace())
    return " ".join(text.split())


def _manifest(version: str, files: Mapping[str, bytes], system: str) -> list[Values]:
    said = {
        "manifest.version": "1.0",
        "oneroster.version": version,
        **{f"file.{file}": "bulk" if f"{file}.csv" in files else "absent" for file in FILES[version]},
        **({"source.systemName": system} if system else {}),
    }
    return [{"propertyName": name, "value": value} for name, value in said.items()]


def _csv(names: Sequence[str], rows: Sequence[Values]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, names, restval="", lineterminator="\r\n", extrasaction="raise")
    writer.writeheader()
    writer.writerows({name: one_line(value) for name, value in row.items()} for row in rows)
    return text.getvalue().encode("utf-8")
