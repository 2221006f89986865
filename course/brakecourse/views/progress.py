"""Remember, between sessions, what the learner has practised.

Progress is a help, never a gate: whatever goes wrong with the file, the lesson goes on and says so once.
"""

from __future__ import annotations

import contextlib
import csv
import io
import json
import os
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

FILE_NAME = "progress.json"
_FORMAT = 1


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
        """Add one answer. Returns a sentence when it could not be saved, else an empty string."""
        tallies, trouble = self._load()
        old = tallies.get((lesson, activity))
        tries, rights = (old.tries, old.right) if old else (0, 0)
        tallies[lesson, activity] = Tally(lesson, activity, title, tries + 1, rights + int(right))
        return self._save(tallies, set_aside=bool(trouble)) or trouble

    def tallies(self) -> list[Tally]:
        """Return every activity tried so far, in lesson order."""
        return sorted(self._load()[0].values(), key=lambda tally: (tally.lesson, tally.activity))

    def trouble(self) -> str:
        """Return a sentence when the file is there but cannot be used, else an empty string."""
        return self._load()[1]

    def erase(self) -> str:
        """Remove the record. Returns a sentence when that failed, else an empty string."""
        try:
            self.path.unlink(missing_ok=True)
        except OSError as error:
            return f"The progress file {self.path.name} could not be erased ({_why(error)}); delete it by hand."
        return ""

    def as_csv(self) -> str:
        """Return the record as a table that any spreadsheet opens."""
        text = io.StringIO()
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(["lesson", "activity", "title", "tries", "right"])
        for tally in self.tallies():
            writer.writerow([tally.lesson, tally.activity, tally.title, tally.tries, tally.right])
        return text.getvalue()

    def _load(self) -> tuple[dict[tuple[str, str], Tally], str]:
        try:
            stored = json.loads(self.path.read_text(encoding="utf-8"))
            return {(tally.lesson, tally.activity): tally for tally in _tallies(stored)}, ""
        except FileNotFoundError:
            return {}, ""
        except OSError as error:
            return {}, f"Your progress file {self.path.name} could not be opened ({_why(error)}); the lesson goes on without it."
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            return {}, (
                f"Your progress file {self.path.name} is damaged; the lesson goes on, a new record begins, "
                f"and the old file is kept as {self._aside().name}."
            )

    def _save(self, tallies: dict[tuple[str, str], Tally], *, set_aside: bool) -> str:
        content = {"format": _FORMAT, "activities": [vars(tally) for tally in tallies.values()]}
        try:
            if set_aside:
                os.replace(self.path, self._aside())
            _write_whole(self.path, json.dumps(content, indent=1, ensure_ascii=False) + "\n")
        except OSError as error:
            return f"Your progress could not be saved in {self.path.parent} ({_why(error)}); the lesson goes on."
        return ""

    def _aside(self) -> Path:
        return self.path.with_name(f"{self.path.stem}_damaged{self.path.suffix}")


def _tallies(stored: dict[str, Any]) -> list[Tally]:
    if stored["format"] != _FORMAT:
        raise ValueError(f"format {_FORMAT} was expected, got {stored['format']!r}")
    return [Tally(**{key: row[key] for key in ("lesson", "activity", "title", "tries", "right")}) for row in stored["activities"]]


def _write_whole(path: Path, text: str) -> None:
    """Write beside the target, then swap: a full disk or a power cut never leaves half a file."""
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
