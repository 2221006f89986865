"""Remember, between sessions, what the learner has practised.

Progress is a help, never a gate: whatever goes wrong with the file, the lesson goes on and says so once.
"""

from __future__ import annotations

import contextlib
import csv
import errno
import io
import itertools
import json
import os
import stat
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

FILE_NAME = "progress.json"
_FORMAT = 1
_COLUMNS = ("lesson", "activity", "title", "tries", "right")


@dataclass(frozen=True)
class Tally:
    """How often one activity was answered, and how often rightly."""

    lesson: str
    activity: str
    title: str
    tries: int
    right: int

    def __post_init__(self) -> None:
        counts = (self.tries, self.right)
        if any(isinstance(count, bool) or not isinstance(count, int) for count in counts):
            raise ValueError(f"tries and right must be whole numbers, got {self.tries!r} and {self.right!r}")
        if not 0 <= self.right <= self.tries:
            raise ValueError(f"right must lie from 0 to tries ({self.tries}), got {self.right}")


class Progress:
    """The learner's own record, a small JSON file beside the notebooks.

    Args:
        path: the file; by default ``progress.json`` in the folder that the notebook runs in.

    >>> import tempfile, pathlib
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> mine = Progress(folder / "progress.json")
    >>> mine.record("08_rotor_measurement", "set-micrometer", "Set the micrometer", right=True)
    ''
    >>> mine.tallies()[0].right
    1
    """

    def __init__(self, path: Path | None = None) -> None:
        self.path = Path(path) if path is not None else Path.cwd() / FILE_NAME

    def record(self, lesson: str, activity: str, title: str, *, right: bool) -> str:
        """Add one answer. Returns a sentence if the file made trouble, else an empty string."""
        told = ""
        try:
            try:
                tallies = self._load()
            except _DamagedError as error:
                told, tallies = str(error), {}
                os.replace(self.path, self._aside())
            old = tallies.get((lesson, activity))
            tries, rights = (old.tries, old.right) if old else (0, 0)
            tallies[lesson, activity] = Tally(lesson, activity, title, tries + 1, rights + int(right))
            self._save(tallies)
        except OSError as error:
            return (
                f"Your progress could not be saved in {self.path.name} ({_why(error)}); "
                "the lesson goes on without it."
            )
        return told

    def tallies(self) -> list[Tally]:
        """Return every activity tried so far, in lesson order; nothing when the file cannot be used."""
        try:
            return sorted(self._load().values(), key=lambda tally: (tally.lesson, tally.activity))
        except (OSError, _DamagedError):
            return []

    def trouble(self) -> str:
        """Return a sentence when the file is there but cannot be used, else an empty string."""
        try:
            self._load()
        except OSError as error:
            return (
                f"Your progress file {self.path.name} could not be opened ({_why(error)}); "
                "the lesson goes on without it."
            )
        except _DamagedError as error:
            return str(error)
        return ""

    def erase(self) -> str:
        """Remove the record. Returns a sentence when that failed, else an empty string."""
        try:
            self.path.unlink(missing_ok=True)
        except OSError as error:
            return (
                f"The progress file {self.path.name} could not be erased ({_why(error)}); delete it by hand."
            )
        return ""

    def as_csv(self) -> str:
        """Return the record as a table that any spreadsheet opens."""
        text = io.StringIO()
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(_COLUMNS)
        for tally in self.tallies():
            writer.writerow([getattr(tally, name) for name in _COLUMNS])
        return text.getvalue()

    def _load(self) -> dict[tuple[str, str], Tally]:
        try:
            text = self.path.read_bytes()
        except FileNotFoundError:
            return {}
        try:
            return {(tally.lesson, tally.activity): tally for tally in _tallies(json.loads(text))}
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            raise _DamagedError(
                f"Your progress file {self.path.name} is damaged; it is kept as {self._aside().name}, "
                "a new record begins, and the lesson goes on."
            ) from None

    def _save(self, tallies: dict[tuple[str, str], Tally]) -> None:
        content = {"format": _FORMAT, "activities": [vars(tally) for tally in tallies.values()]}
        _write_whole(self.path, json.dumps(content, indent=1, ensure_ascii=False) + "\n")

    def _aside(self) -> Path:
        """Return a free name to keep a damaged file under."""
        names = (f"{self.path.stem}_damaged{number or ''}{self.path.suffix}" for number in itertools.count())
        return next(path for path in map(self.path.with_name, names) if not path.exists())


class _DamagedError(Exception):
    """The file is there but is no progress record."""


def _tallies(stored: dict[str, Any]) -> list[Tally]:
    if stored["format"] != _FORMAT:
        raise ValueError(f"format {_FORMAT} was expected, got {stored['format']!r}")
    return [Tally(*(row[name] for name in _COLUMNS)) for row in stored["activities"]]


def _write_whole(path: Path, text: str) -> None:
    """Write beside the target, then swap: a full disk or a power cut never leaves half a file."""
    if path.exists() and not path.stat().st_mode & stat.S_IWUSR:
        # A swap would get round the protection that somebody has put on the file.
        raise PermissionError(errno.EACCES, "the file is set to read-only")
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.stem, suffix=".part")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as part:
            part.write(text)
            part.flush()
            os.fsync(part.fileno())
        os.replace(name, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise


def _why(error: OSError) -> str:
    return (error.strerror or type(error).__name__).lower()
