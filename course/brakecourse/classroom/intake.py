"""Read what students handed in, from a folder or a zip, without trusting any of it.

Nothing is unpacked to disk and nothing in the source is changed: each file is read into memory,
within limits, or refused with one sentence.
"""

from __future__ import annotations

import io
import os
import stat
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from brakecourse.classroom.intake_rules import (
    JUNK_FOLDERS,
    FoundNotebook,
    Limits,
    Refusal,
    foreign,
    kind_of,
    leads_out,
    names_in,
    plain,
    readable,
    too_large,
)
from brakecourse.errors import CourseError

__all__ = ["FoundNotebook", "Limits", "Refusal", "Source"]


@dataclass
class Source:
    """A folder, a zip or a single notebook to take in; iterate over `read()` once."""

    path: Path
    zone: ZoneInfo
    limits: Limits = field(default_factory=Limits)
    left_out: int = 0

    def read(self) -> Iterator[FoundNotebook | Refusal]:
        """Yield each notebook, and each refusal, in a fixed order.

        Raises:
            CourseError: the source itself is missing or not readable.
        """
        try:
            mode = self.path.stat().st_mode
        except OSError as error:
            raise CourseError(
                f"There is nothing to collect at {self.path} ({error.strerror}); "
                "name the folder or zip that holds the students' work."
            ) from error
        if stat.S_ISDIR(mode):
            yield from self._folder(self.path, ())
        elif stat.S_ISREG(mode) and self.path.suffix.lower() in {".zip", ".ipynb"}:
            yield from self._file(self.path, (readable(self.path.name),), outermost=True)
        else:
            raise CourseError(f"{self.path} is neither a folder nor a zip nor a notebook; name one of these.")

    def _folder(self, folder: Path, parts: tuple[str, ...]) -> Iterator[FoundNotebook | Refusal]:
        if len(parts) > self.limits.depth:
            where = "/".join(parts[:3]) + "/…"
            yield Refusal(
                where, f"it lies more than {self.limits.depth} folders deep; hand in the file itself."
            )
            return
        try:
            entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
        except OSError as error:
            yield Refusal("/".join(parts) or str(folder), f"the folder can't be opened: {error.strerror}.")
            return
        for entry in entries:
            inner = (*parts, readable(entry.name))
            if entry.is_symlink():
                yield Refusal("/".join(inner), "it is a link to another place; hand in the file itself.")
            elif entry.is_dir():
                if entry.name.lower() in JUNK_FOLDERS or entry.name.lower() == "wheels":
                    self.left_out += 1
                else:
                    yield from self._folder(Path(entry.path), inner)
            elif entry.is_file():
                yield from self._file(Path(entry.path), inner)
            else:
                yield Refusal("/".join(inner), "it is no ordinary file.")

    def _file(
        self, path: Path, parts: tuple[str, ...], outermost: bool = False
    ) -> Iterator[FoundNotebook | Refusal]:
        where = "/".join(parts)
        kind = kind_of(parts)
        if kind == "skip":
            self.left_out += 1
            return
        if kind == "foreign":
            yield foreign(where)
            return
        # The class's download of everyone may be large; it is read piece by piece, never whole.
        if outermost and kind == "zip":
            yield from self._zip(path, where, ())
            return
        most = self.limits.archive_bytes if kind == "zip" else self.limits.notebook_bytes
        try:
            content, changed = _read(path, most)
        except OSError as error:
            yield Refusal(where, f"it can't be read: {error.strerror}.")
            return
        if content is None:
            yield too_large(where, path.stat().st_size, most)
        elif kind == "zip":
            yield from self._zip(io.BytesIO(content), where, (*parts[:-1], path.stem))
        else:
            yield FoundNotebook(where, parts, datetime.fromtimestamp(changed, UTC), content)

    def _zip(
        self, archive: Path | io.BytesIO, where: str, parts: tuple[str, ...], level: int = 0
    ) -> Iterator[FoundNotebook | Refusal]:
        try:
            opened = zipfile.ZipFile(archive)
        except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError) as error:
            yield Refusal(where, f"it is no readable zip ({plain(error)}); hand it in again.")
            return
        with opened:
            entries = opened.infolist()
            if len(entries) > self.limits.archive_entries:
                yield Refusal(
                    where,
                    f"it holds {len(entries)} files; at most {self.limits.archive_entries} are looked at.",
                )
                return
            names = Counter(names_in(entry.filename) for entry in entries)
            unpacked = 0
            for entry in entries:
                if entry.is_dir():
                    continue
                # The class's own download may be large; what one student sends may not.
                if unpacked > self.limits.archive_bytes and not isinstance(archive, Path):
                    most = self.limits.archive_bytes // 1_000_000
                    yield Refusal(where, f"it unpacks to more than {most} MB; hand in the notebook only.")
                    return
                for item in self._zip_entry(opened, entry, where, parts, level, names):
                    unpacked += len(item.content) if isinstance(item, FoundNotebook) else 0
                    yield item

    def _zip_entry(
        self,
        archive: zipfile.ZipFile,
        entry: zipfile.ZipInfo,
        where: str,
        parts: tuple[str, ...],
        level: int,
        names: Counter[tuple[str, ...]],
    ) -> Iterator[FoundNotebook | Refusal]:
        own = names_in(entry.filename)
        inner = (*parts, *own)
        here = f"{where} > {entry.filename}"
        wrong = self._wrong_with(entry, own, names)
        if wrong:
            yield Refusal(here, wrong)
            return
        kind = kind_of(own)
        if kind == "skip":
            self.left_out += 1
            return
        if kind == "foreign" or (kind == "zip" and level > 0):
            yield (
                foreign(here)
                if kind == "foreign"
                else Refusal(here, "it is a zip in a zip in a zip; unpack it first.")
            )
            return
        most = self.limits.archive_bytes if kind == "zip" else self.limits.notebook_bytes
        content = self._unpack(archive, entry, most, here)
        if isinstance(content, Refusal):
            yield content
        elif kind == "zip":
            stem = Path(own[-1]).stem
            yield from self._zip(io.BytesIO(content), here, (*parts, *own[:-1], stem), level + 1)
        else:
            yield FoundNotebook(here, inner, _zip_time(entry, self.zone), content)

    def _wrong_with(
        self, entry: zipfile.ZipInfo, own: tuple[str, ...], names: Counter[tuple[str, ...]]
    ) -> str | None:
        if leads_out(entry.filename):
            return "its path leads out of the archive; it was not touched."
        if stat.S_ISLNK(entry.external_attr >> 16):
            return "it is a link to another place; hand in the file itself."
        if names[own] > 1 and kind_of(own) != "skip":
            return "the archive holds two files of this name, so it is unclear which one counts; hand in one."
        return None

    def _unpack(
        self, archive: zipfile.ZipFile, entry: zipfile.ZipInfo, most: int, here: str
    ) -> bytes | Refusal:
        if entry.flag_bits & 0x1:
            return Refusal(here, "it is protected with a password; hand it in without one.")
        if entry.file_size > most:
            return too_large(here, entry.file_size, most)
        if entry.file_size > self.limits.ratio_from_bytes and entry.file_size > self.limits.ratio * max(
            1, entry.compress_size
        ):
            return Refusal(
                here,
                f"it unpacks to more than {self.limits.ratio} times its size, "
                "as a file made to fill a disk does; clear the outputs, save it and hand it in again.",
            )
        try:
            with archive.open(entry) as stream:
                # The size in the header is only a claim, so the reading stops by itself.
                content = stream.read(most + 1)
        except (
            zipfile.BadZipFile,
            zlib.error,
            EOFError,
            OSError,
            NotImplementedError,
            RuntimeError,
        ) as error:
            return Refusal(here, f"it is damaged ({plain(error)}); hand it in again.")
        return too_large(here, len(content), most) if len(content) > most else content


def _read(path: Path, most: int) -> tuple[bytes | None, float]:
    """Read a file up to a limit; None when it is larger. A link put there meanwhile is not followed."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as stream:
        content = stream.read(most + 1)
        return (content if len(content) <= most else None), os.fstat(stream.fileno()).st_mtime


def _zip_time(entry: zipfile.ZipInfo, zone: ZoneInfo) -> datetime:
    try:
        return datetime(*entry.date_time, tzinfo=zone).astimezone(UTC)
    except ValueError:  # some programs write month 0
        return datetime(1980, 1, 1, tzinfo=UTC)
