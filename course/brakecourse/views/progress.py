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
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from brakecourse.views.adapt import RECENT

FILE_NAME = "progress.json"
_FORMAT = 1
_COLUMNS = ("lesson", "activity", "title", "tries", "right")
_TABLE_COLUMNS = (*_COLUMNS, "topic", "latest")


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


@dataclass
class _Record:
    """Everything that the file holds."""

    tallies: dict[tuple[str, str], Tally] = field(default_factory=dict)
    topics: dict[tuple[str, str], tuple[bool, ...]] = field(default_factory=dict)  # by lesson and topic


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

    def record(self, lesson: str, activity: str, title: str, *, right: bool, topic: str = "") -> str:
        """Add one answer, also to its topic's latest results when it has a topic.

        Returns:
            A sentence if the file made trouble, else an empty string.
        """
        told = ""
        try:
            try:
                record = self._load()
            except _DamagedError as error:
                told, record = str(error), _Record()
                os.replace(self.path, self._aside())
            old = record.tallies.get((lesson, activity))
            tries, rights = (old.tries, old.right) if old else (0, 0)
            record.tallies[lesson, activity] = Tally(lesson, activity, title, tries + 1, rights + int(right))
            if topic:
                latest = (*record.topics.get((lesson, topic), ()), bool(right))
                record.topics[lesson, topic] = latest[-RECENT:]
            self._save(record)
        except OSError as error:
            return (
                f"Your progress could not be saved in {self.path.name} ({_why(error)}); "
                "the lesson goes on without it."
            )
        return told

    def tallies(self) -> list[Tally]:
        """Return every activity tried so far, in lesson order; nothing when the file cannot be used."""
        try:
            return sorted(self._load().tallies.values(), key=lambda tally: (tally.lesson, tally.activity))
        except (OSError, _DamagedError):
            return []

    def topics(self, lesson: str) -> dict[str, tuple[bool, ...]]:
        """Return each topic's latest results in a lesson, the newest last; nothing without a usable file."""
        try:
            topics = self._load().topics
        except (OSError, _DamagedError):
            return {}
        return {topic: latest for (one, topic), latest in topics.items() if one == lesson}

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
        """Return the record as a table that any spreadsheet opens: first the activities, then the topics."""
        try:
            record = self._load()
        except (OSError, _DamagedError):
            record = _Record()
        text = io.StringIO()
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(_TABLE_COLUMNS)
        for tally in self.tallies():
            writer.writerow([*(getattr(tally, name) for name in _COLUMNS), "", ""])
        for (lesson, topic), latest in sorted(record.topics.items()):
            words = " ".join("right" if right else "wrong" for right in latest)
            writer.writerow([lesson, "", "", len(latest), sum(latest), topic, words])
        return text.getvalue()

    def _load(self) -> _Record:
        try:
            text = self.path.read_bytes()
        except FileNotFoundError:
            return _Record()
        try:
            return _read(json.loads(text))
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            raise _DamagedError(
                f"Your progress file {self.path.name} is damaged; it is kept as {self._aside().name}, "
                "a new record begins, and the lesson goes on."
            ) from None

    def _save(self, record: _Record) -> None:
        content: dict[str, Any] = {
            "format": _FORMAT,
            "activities": [vars(tally) for tally in record.tallies.values()],
        }
        if record.topics:
            content["topics"] = [
                {"lesson": lesson, "topic": topic, "latest": list(latest)}
                for (lesson, topic), latest in record.topics.items()
            ]
        _write_whole(self.path, json.dumps(content, indent=1, ensure_ascii=False) + "\n")

    def _aside(self) -> Path:
        """Return a free name to keep a damaged file under."""
        names = (f"{self.path.stem}_damaged{number or ''}{self.path.suffix}" for number in itertools.count())
        return next(path for path in map(self.path.with_name, names) if not path.exists())


class _DamagedError(Exception):
    """The file is there but is no progress record."""


def _read(stored: dict[str, Any]) -> _Record:
    if stored["format"] != _FORMAT:
        raise ValueError(f"format {_FORMAT} was expected, got {stored['format']!r}")
    tallies = [Tally(*(row[name] for name in _COLUMNS)) for row in stored["activities"]]
    record = _Record({(tally.lesson, tally.activity): tally for tally in tallies})
    for row in stored.get("topics", ()):  # files of before topics were kept have none
        latest = tuple(row["latest"])
        if not isinstance(row["topic"], str) or not all(isinstance(right, bool) for right in latest):
            raise ValueError(f"a topic with true or false for each result was expected, got {row!r}")
        record.topics[row["lesson"], row["topic"]] = latest[-RECENT:]
    return record


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
