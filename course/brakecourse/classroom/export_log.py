"""The log of what left the class: one line a file that was written, added at the end and never changed.

It names no person. Only forgetting a student takes lines out of it.
"""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.folder import ClassFolder

COLUMNS = ("when_utc", "kind", "file", "sha256", "rows", "remark")


def log_file(cls: ClassFolder) -> Path:
    """Return where the log lies."""
    return cls.exports / "log.csv"


def add_lines(cls: ClassFolder, lines: Iterable[Sequence[str]]) -> None:
    """Add lines to the log.

    Raises:
        CourseError: it can't be written.
    """
    path = log_file(cls)
    with reporting_disk_trouble(f"write {path}"):
        path.parent.mkdir(parents=True, exist_ok=True)
        head = [] if path.is_file() and path.stat().st_size else [COLUMNS]
        with path.open("ab") as stream:
            stream.write(_csv([*head, *lines]))
            stream.flush()
            os.fsync(stream.fileno())


def lines(cls: ClassFolder) -> list[list[str]]:
    """Return the log's lines, the heading left out."""
    path = log_file(cls)
    if not path.is_file():
        return []
    with reporting_disk_trouble(f"read {path}"):
        return list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"), newline="")))[1:]


def keep_lines(cls: ClassFolder, keeps: Callable[[Sequence[str]], bool]) -> None:
    """Take lines out of the log, for a student who is forgotten.

    Raises:
        CourseError: it can't be written.
    """
    kept = [line for line in lines(cls) if keeps(line)]
    with reporting_disk_trouble(f"write {log_file(cls)}"):
        write_bytes_whole(log_file(cls), _csv([COLUMNS, *kept]))


def _csv(rows: Iterable[Sequence[str]]) -> bytes:
    text = io.StringIO(newline="")
    csv.writer(text, quoting=csv.QUOTE_ALL, lineterminator="\r\n").writerows(rows)
    return text.getvalue().encode("utf-8")
