"""Read what students handed in, from a folder or a zip, without trusting any of it.

Nothing is unpacked to disk and nothing in the source is changed: each file is read into memory,
within limits, or refused with one sentence.
"""

from __future__ import annotations

import io
import os
import re
import stat
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from brakecourse.errors import CourseError

# What a computer leaves beside the files, and what a kit makes on the student's own computer.
_JUNK_FOLDERS = {"__macosx", ".ipynb_checkpoints", "__pycache__", ".venv", ".virtual_documents", ".git"}
_JUNK_FILES = {"thumbs.db", "desktop.ini", ".ds_store"}
# A student may hand in the whole kit; the class has its own copies of these.
_KIT_FILES = {
    "00_practice_order.json",
    "progress.json",
    "requirements.txt",
    "run.py",
    "start_here.html",
    "work_order.json",
}


@dataclass(frozen=True)
class Limits:
    """How much is taken in. The figures are roomy for honest work: a filled-in notebook is under 1 MB."""

    notebook_bytes: int = 20_000_000
    archive_bytes: int = 200_000_000
    archive_entries: int = 50_000
    all_bytes: int = 1_000_000_000
    ratio: int = 200
    ratio_from_bytes: int = 1_000_000


@dataclass(frozen=True)
class FoundNotebook:
    """One notebook that was found.

    Attributes:
        where: its place, as a person would look for it.
        parts: the names of the folders and archives it lies in, outermost first, then its own name.
        modified: the file's own time, in UTC.
        content: the file, byte for byte.
    """

    where: str
    parts: tuple[str, ...]
    modified: datetime
    content: bytes


@dataclass(frozen=True)
class Refusal:
    """One thing that was not taken in, and why."""

    where: str
    why: str


@dataclass
class Source:
    """A folder, a zip or a single notebook to take in; iterate over `read()` once."""

    path: Path
    zone: ZoneInfo
    limits: Limits = field(default_factory=Limits)
    left_out: int = 0
    _taken_bytes: int = 0

    def read(self) -> Iterator[FoundNotebook | Refusal]:
        """Yield each notebook, and each refusal, in a fixed order.

        Raises:
            CourseError: the source itself is missing or not readable, or holds too much in all.
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
            yield from self._file(self.path, (self.path.name,), outermost=True)
        else:
            raise CourseError(f"{self.path} is neither a folder nor a zip nor a notebook; name one of these.")

    def _folder(self, folder: Path, parts: tuple[str, ...]) -> Iterator[FoundNotebook | Refusal]:
        try:
            entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
        except OSError as error:
            yield Refusal("/".join(parts) or str(folder), f"the folder can't be opened: {error.strerror}.")
            return
        for entry in entries:
            inner = (*parts, entry.name)
            if entry.is_symlink():
                yield Refusal("/".join(inner), "it is a link to another place; hand in the file itself.")
            elif entry.is_dir():
                if entry.name.lower() in _JUNK_FOLDERS or entry.name.lower() == "wheels":
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
        kind = self._kind(parts)
        if kind == "skip":
            self.left_out += 1
            return
        if kind == "foreign":
            yield _foreign(where)
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
            yield _too_large(where, path.stat().st_size, most)
        elif kind == "zip":
            yield from self._zip(io.BytesIO(content), where, (*parts[:-1], path.stem))
        else:
            yield self._notebook(where, parts, datetime.fromtimestamp(changed, UTC), content)

    def _zip(
        self, archive: Path | io.BytesIO, where: str, parts: tuple[str, ...], level: int = 0
    ) -> Iterator[FoundNotebook | Refusal]:
        try:
            opened = zipfile.ZipFile(archive)
        except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError) as error:
            yield Refusal(where, f"it is no readable zip ({_plain(error)}); hand it in again.")
            return
        with opened:
            entries = opened.infolist()
            if len(entries) > self.limits.archive_entries:
                yield Refusal(
                    where,
                    f"it holds {len(entries)} files; at most {self.limits.archive_entries} are looked at.",
                )
                return
            names = Counter(_names(entry.filename) for entry in entries)
            for entry in entries:
                if not entry.is_dir():
                    yield from self._zip_entry(opened, entry, where, parts, level, names)

    def _zip_entry(
        self,
        archive: zipfile.ZipFile,
        entry: zipfile.ZipInfo,
        where: str,
        parts: tuple[str, ...],
        level: int,
        names: Counter[tuple[str, ...]],
    ) -> Iterator[FoundNotebook | Refusal]:
        own = _names(entry.filename)
        inner = (*parts, *own)
        here = f"{where} > {entry.filename}"
        wrong = self._wrong_with(entry, own, names)
        if wrong:
            yield Refusal(here, wrong)
            return
        kind = self._kind(own)
        if kind == "skip":
            self.left_out += 1
            return
        if kind == "foreign" or (kind == "zip" and level > 0):
            yield (
                _foreign(here)
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
            yield self._notebook(here, inner, _zip_time(entry, self.zone), content)

    def _wrong_with(
        self, entry: zipfile.ZipInfo, own: tuple[str, ...], names: Counter[tuple[str, ...]]
    ) -> str | None:
        if leads_out(entry.filename):
            return "its path leads out of the archive; it was not touched."
        if stat.S_ISLNK(entry.external_attr >> 16):
            return "it is a link to another place; hand in the file itself."
        if names[own] > 1 and self._kind(own) != "skip":
            return "the archive holds two files of this name, so it is unclear which one counts; hand in one."
        return None

    def _unpack(
        self, archive: zipfile.ZipFile, entry: zipfile.ZipInfo, most: int, here: str
    ) -> bytes | Refusal:
        if entry.flag_bits & 0x1:
            return Refusal(here, "it is protected with a password; hand it in without one.")
        if entry.file_size > most:
            return _too_large(here, entry.file_size, most)
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
            return Refusal(here, f"it is damaged ({_plain(error)}); hand it in again.")
        return _too_large(here, len(content), most) if len(content) > most else content

    def _notebook(
        self, where: str, parts: tuple[str, ...], modified: datetime, content: bytes
    ) -> FoundNotebook:
        self._taken_bytes += len(content)
        if self._taken_bytes > self.limits.all_bytes:
            raise CourseError(
                f"{self.path} holds more than {self.limits.all_bytes // 1_000_000} MB of notebooks; "
                "collect it in smaller parts."
            )
        return FoundNotebook(where, parts, modified, content)

    def _kind(self, parts: tuple[str, ...]) -> str:
        """Sort a file by its name alone: "notebook", "zip", "skip" or "foreign"."""
        name = parts[-1].lower()
        folders = {part.lower() for part in parts[:-1]}
        if folders & _JUNK_FOLDERS or name in _JUNK_FILES or name.startswith("._"):
            return "skip"
        if name in _KIT_FILES or name.endswith(".whl"):
            return "skip"
        if name.endswith(".ipynb"):
            return "notebook"
        return "zip" if name.endswith(".zip") else "foreign"


def leads_out(name: str) -> bool:
    """Tell whether a path inside an archive points outside it.

    >>> [leads_out(name) for name in ("a/b.ipynb", "../b.ipynb", "/etc/b.ipynb", "C:/b.ipynb")]
    [False, True, True, True]
    """
    plain = name.replace("\\", "/")
    return plain.startswith("/") or bool(re.match(r"[A-Za-z]:", plain)) or ".." in plain.split("/")


def _names(filename: str) -> tuple[str, ...]:
    return tuple(part for part in filename.replace("\\", "/").split("/") if part not in {"", "."}) or ("",)


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


def _foreign(where: str) -> Refusal:
    kind = Path(where).suffix or "no ending"
    return Refusal(
        where, f"a notebook (.ipynb) or a zip was expected, but this is '{kind}'; hand in the notebook."
    )


def _too_large(where: str, size: int, most: int) -> Refusal:
    return Refusal(
        where,
        f"it is larger than {most // 1_000_000} MB ({size / 1e6:.0f} MB found); "
        "clear the notebook's outputs, save it and hand it in again.",
    )


def _plain(error: BaseException) -> str:
    return " ".join(str(error).split()).rstrip(".") or type(error).__name__
