"""Find and read the course's data tables.

The tables live in the repository's ``datasets`` folder. A student's kit carries the few
that the learner's side needs inside the package, so the package's own copy is looked at first.
"""

from __future__ import annotations

import csv
from pathlib import Path

from brakecourse.errors import CourseError

_INSIDE = Path(__file__).resolve().parent / "data"
_REPOSITORY = Path(__file__).resolve().parents[2] / "datasets"


def table_path(name: str) -> Path:
    """Return where a data table lies.

    Args:
        name: path inside the data folder, with forward slashes, e.g. ``"motor_pool/vehicles.csv"``.

    Raises:
        CourseError: there is no such table in the package or the repository.
    """
    for folder in (_INSIDE, _REPOSITORY):
        path = folder.joinpath(*name.split("/"))
        if path.is_file():
            return path
    raise CourseError(
        f"The data table '{name}' was expected in the course's datasets folder, but it is not there; "
        "fetch the course again so that its files are complete."
    )


def read_table(name: str) -> list[dict[str, str]]:
    """Read a CSV data table as a list of rows, each a dict from column name to text.

    Raises:
        CourseError: there is no such table.
    """
    with table_path(name).open(encoding="utf-8", newline="") as handle:
        return list(csv.DictReader(handle))
