"""Open a package's zip without trusting it. Nothing is unpacked to disk."""

from __future__ import annotations

import io
import stat
import zipfile
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from brakecourse.classroom.intake_rules import leads_out
from brakecourse.classroom.oneroster.columns import FILES
from brakecourse.classroom.oneroster.trouble import PackageError, shown

MANIFEST = "manifest.csv"
_NEVER_READ = frozenset(("demographics.csv", "userProfiles.csv"))


@dataclass(frozen=True)
class PackageLimits:
    """How large a package may be. A school of 2000 with its enrolments takes a few MB."""

    zip_bytes: int = 20_000_000
    all_bytes: int = 60_000_000
    ratio: int = 200
    ratio_from_bytes: int = 1_000_000


def contents_of(source: Path | bytes, name: str, limits: PackageLimits) -> dict[str, bytes]:
    """Return each file's bytes.

    Args:
        source: the zip, or its bytes.
        name: what a sentence calls it.
        limits: how large it may be.

    Raises:
        PackageError: it is no zip, too large, locked, or holds something that no package may hold.
    """
    return _contents(_zip_bytes(source, name, limits), name, limits)


def _zip_bytes(source: Path | bytes, name: str, limits: PackageLimits) -> bytes:
    try:
        size = source.stat().st_size if isinstance(source, Path) else len(source)
        if size > limits.zip_bytes:
            raise PackageError(
                name,
                f"at most {limits.zip_bytes // 1_000_000} MB were expected, but {size / 1e6:.0f} MB found; "
                "have only this class exported",
            )
        return source.read_bytes() if isinstance(source, Path) else source
    except OSError as error:
        raise PackageError(name, f"it can't be read ({error.strerror}); check the path") from error


def _contents(content: bytes, name: str, limits: PackageLimits) -> dict[str, bytes]:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            entries = archive.infolist()
            _refuse_strange_names([entry.filename for entry in entries], name)
            _refuse_strange_entries(entries, name, limits)
            return {entry.filename: _inflated(archive, entry) for entry in entries}
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as error:
        raise PackageError(name, "a zip was expected, but it is damaged or none; fetch it again") from error


def _inflated(archive: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    if entry.filename in _NEVER_READ:
        return b""
    # No more than the declared size is ever made, and that was held to the limits.
    with archive.open(entry) as stream:
        return stream.read(entry.file_size)


def _refuse_strange_names(entries: Sequence[str], name: str) -> None:
    known = {f"{file}.csv" for files in FILES.values() for file in files} | {MANIFEST}
    seen: dict[str, str] = {}
    for entry in entries:
        if leads_out(entry):
            raise PackageError(name, f"the path {shown(entry)} leads out of the package; don't open it")
        if "/" in entry or "\\" in entry:
            raise PackageError(
                name,
                f"all files must lie at the top of the zip, but {shown(entry)} lies in a folder; "
                "zip the files, not the folder",
            )
        twin = seen.get(entry.casefold())
        if twin is not None:
            raise PackageError(name, f"{shown(entry)} is in it twice (also as {shown(twin)}); keep one")
        seen[entry.casefold()] = entry
        if entry not in known:
            raise PackageError(
                name, f"{shown(entry)} is no file of OneRoster (capitals count); take it out or rename it"
            )


def _refuse_strange_entries(entries: Sequence[zipfile.ZipInfo], name: str, limits: PackageLimits) -> None:
    for entry in entries:
        if entry.flag_bits & 0x1:
            raise PackageError(
                name, "it is locked with a password; export it without one", file=entry.filename
            )
        if stat.S_ISLNK(entry.external_attr >> 16):
            raise PackageError(name, "it is a link to another place; don't open it", file=entry.filename)
        if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise PackageError(name, "it is packed in an unusual way; zip it again", file=entry.filename)
        swollen = entry.file_size > limits.ratio * max(entry.compress_size, 1)
        if entry.file_size > limits.ratio_from_bytes and swollen:
            raise PackageError(
                name,
                f"it grows to {entry.file_size / 1e6:.0f} MB out of {entry.compress_size} bytes, as a trap "
                "does; don't open it",
                file=entry.filename,
            )
    total = sum(entry.file_size for entry in entries)
    if total > limits.all_bytes:
        raise PackageError(
            name,
            f"at most {limits.all_bytes // 1_000_000} MB were expected unpacked, but it says "
            f"{total / 1e6:.0f} MB; have only this class exported",
        )
