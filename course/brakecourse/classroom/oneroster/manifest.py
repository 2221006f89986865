"""Read a package's manifest, and hold it to the files that are there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from brakecourse.classroom.oneroster.archive import MANIFEST
from brakecourse.classroom.oneroster.columns import FILES, Column
from brakecourse.classroom.oneroster.rows import Row, read_rows
from brakecourse.classroom.oneroster.trouble import PackageError, shown

_COLUMNS = (Column("propertyName", True, "text"), Column("value", False, "text"))


def read_manifest(contents: Mapping[str, bytes], name: str) -> tuple[str, dict[str, str]]:
    """Return a package's version and what it says of each file: "bulk", "delta" or "absent".

    Args:
        contents: each file's bytes.
        name: what a sentence calls the package.

    Raises:
        PackageError: the manifest is missing, says too little or twice, or disagrees with the files.
    """
    if MANIFEST not in contents:
        raise PackageError(
            name,
            "manifest.csv is missing, so it is no package of OneRoster 1.1 or 1.2; export one of these",
            file=MANIFEST,
        )
    said: dict[str, Row] = {}
    for row in read_rows(contents[MANIFEST], _COLUMNS, name, MANIFEST):
        key = row["propertyName"]
        if key in said:
            raise PackageError(
                name,
                f"'{key[:60]}' stands on row {said[key].number} too; keep one",
                file=MANIFEST,
                row=row.number,
                field="propertyName",
            )
        said[key] = row
    _value(said, "manifest.version", ("1.0",), name)
    version = _value(said, "oneroster.version", ("1.1", "1.2", "1.2.1"), name)[:3]
    modes = {file: _value(said, f"file.{file}", ("absent", "bulk", "delta"), name) for file in FILES[version]}
    _refuse_other_files(modes, said, contents, name)
    return version, modes


def _value(said: Mapping[str, Row], key: str, allowed: Sequence[str], name: str) -> str:
    row = said.get(key)
    if row is None:
        raise PackageError(name, f"the row '{key}' is missing", file=MANIFEST, field=key)
    if row["value"] not in allowed:
        raise PackageError(
            name,
            f"{' or '.join(allowed)} was expected, but {shown(row['value'])} was found",
            file=MANIFEST,
            row=row.number,
            field=key,
        )
    return row["value"]


def _refuse_other_files(
    modes: Mapping[str, str], said: Mapping[str, Row], contents: Mapping[str, bytes], name: str
) -> None:
    for file, mode in modes.items():
        if (mode != "absent") != (f"{file}.csv" in contents):
            there = "is in the zip" if mode == "absent" else "is not in the zip"
            key = f"file.{file}"
            raise PackageError(
                name,
                f"the manifest says '{mode}', but {file}.csv {there}; make the two agree",
                file=MANIFEST,
                row=said[key].number,
                field=key,
            )
    strangers = sorted(set(contents) - {f"{file}.csv" for file in modes} - {MANIFEST})
    if strangers:
        raise PackageError(
            name, "the file is none of this version of OneRoster; take it out", file=strangers[0]
        )
