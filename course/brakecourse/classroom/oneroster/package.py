"""Read a OneRoster package: which files it says are in it, and the rows of those that tell of a class.

Source of the rules: 1EdTech OneRoster 1.1 and 1.2, CSV binding, as the project's design notes restate them.
Demographics are never looked at.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from brakecourse.classroom.oneroster.archive import PackageLimits, contents_of
from brakecourse.classroom.oneroster.columns import CLASS_FILES, COLUMNS, FILES
from brakecourse.classroom.oneroster.manifest import read_manifest
from brakecourse.classroom.oneroster.references import check_sourced_ids, check_together
from brakecourse.classroom.oneroster.rows import Row, read_rows
from brakecourse.classroom.oneroster.trouble import PackageError


@dataclass(frozen=True)
class Package:
    """What a package says.

    Attributes:
        name: the file's name.
        version: "1.1" or "1.2".
        modes: of each file that was read: "bulk" (all rows there are), "delta" (changes only) or "absent".
        tables: the rows of each file that was read.
        unread: files that are in the package but tell nothing of a class.
    """

    name: str
    version: str
    modes: Mapping[str, str]
    tables: Mapping[str, tuple[Row, ...]]
    unread: tuple[str, ...] = ()

    @property
    def whole(self) -> bool:
        """Whether it is the whole truth, not changes to an earlier one."""
        modes = set(self.modes.values())
        return "bulk" in modes and "delta" not in modes

    def rows(self, file: str) -> tuple[Row, ...]:
        """Return a file's rows; none when it is absent."""
        return self.tables.get(file, ())

    def values(self) -> dict[str, list[Mapping[str, str]]]:
        """Return the values of every row, as they are written."""
        return {file: [row.values for row in rows] for file, rows in self.tables.items()}


def read_package(
    source: Path | bytes,
    files: Sequence[str] = CLASS_FILES,
    limits: PackageLimits | None = None,
    name: str = "oneroster.zip",
) -> Package:
    """Read a package and check all that it says of a class.

    Args:
        source: the zip, or its bytes.
        files: which files to read.
        limits: how large it may be.
        name: what a sentence calls it, when it has no path.

    Raises:
        PackageError: it is no OneRoster 1.1 or 1.2 package, is not safe to open, contradicts itself, or a
            value is wrong. The sentence names file, row and field.
    """
    if isinstance(source, Path):
        name = source.name
    contents = contents_of(source, name, limits or PackageLimits())
    version, modes = read_manifest(contents, name)
    wanted = [file for file in FILES[version] if file in files and file in COLUMNS[version]]
    tables = {}
    for file in wanted:
        if modes[file] == "absent":
            continue
        rows = read_rows(contents[f"{file}.csv"], COLUMNS[version][file], name, f"{file}.csv")
        if modes[file] == "delta":
            _require_stamps(rows, name, f"{file}.csv")
        check_sourced_ids(rows, name, f"{file}.csv")
        tables[file] = rows
    unread = tuple(file for file in FILES[version] if file not in wanted and modes[file] != "absent")
    package = Package(name, version, {file: modes[file] for file in wanted}, tables, unread)
    if package.whole:
        check_together(package.tables, COLUMNS[version], name)
    return package


def _require_stamps(rows: Sequence[Row], name: str, file: str) -> None:
    for row in rows:
        for field in ("status", "dateLastModified"):
            if not row[field]:
                raise PackageError(
                    name,
                    "a file of changes (delta) needs a value here, but nothing was found",
                    file=file,
                    row=row.number,
                    field=field,
                )
