"""Keep what came in: `received/` only ever grows, `submitted/` holds the newest, the copy that is graded."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from brakecourse.classroom.files import write_bytes_whole, write_text_whole
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.intake import FoundNotebook
from brakecourse.errors import CourseError

_STAMP = "%Y%m%dT%H%M%SZ"


@dataclass(frozen=True)
class Received:
    """One thing that came in and was kept; its name is the one it came under."""

    folder: Path
    received_at: datetime
    taken_in_at: datetime
    sha256: str
    name: str = ""

    def holds(self, content: bytes) -> bool:
        """Tell whether this hand-in is, byte for byte, the given file."""
        return hashlib.sha256(content).hexdigest() == self.sha256


def everything_received(cls: ClassFolder, module: str, student_id: str) -> list[Received]:
    """List what a student handed in for a module, oldest first.

    Raises:
        CourseError: a note beside a hand-in is damaged.
    """
    # A stamp starts with a digit; a draft that a power cut left behind does not.
    notes = cls.received_folder(module, student_id).glob("[0-9]*/received.json")
    return in_order(map(_read_note, notes))


def in_order(received: Iterable[Received]) -> list[Received]:
    """Return hand-ins in the order in which they count, the one that counts last."""
    return sorted(received, key=lambda item: (item.received_at, item.taken_in_at))


def _read_note(note: Path) -> Received:
    try:
        values = json.loads(note.read_text(encoding="utf-8"))
        came, taken_in = (datetime.fromisoformat(values[key]) for key in ("received_at", "taken_in_at"))
        return Received(note.parent, came, taken_in, str(values["sha256"]), str(values.get("name", "")))
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise CourseError(
            f"The note {note} should tell when a hand-in came, but it is damaged; put it back from a copy, "
            "or move its folder away and collect the work again."
        ) from error


def keep(
    cls: ClassFolder,
    module: str,
    student: str,
    item: FoundNotebook,
    when: datetime,
    time_from: str,
) -> Received:
    """Add one hand-in to `received/`, whole or not at all. Nothing there is ever changed afterwards."""
    folder = cls.received_folder(module, student)
    folder.mkdir(parents=True, exist_ok=True)
    digest = hashlib.sha256(item.content).hexdigest()
    kept = folder / f"{when.strftime(_STAMP)}-{digest[:12]}"
    now = datetime.now(UTC)
    note = {
        "name": item.parts[-1],
        "received_at": when.isoformat(),
        "sha256": digest,
        "taken_in_at": now.isoformat(),
        "time_from": time_from,
    }
    draft = Path(tempfile.mkdtemp(prefix=".part-", dir=folder))
    try:
        write_bytes_whole(draft / f"{module}.ipynb", item.content, mode=0o444)
        write_text_whole(
            draft / "received.json", json.dumps(note, indent=1, ensure_ascii=False) + "\n", mode=0o444
        )
        os.chmod(draft, 0o755)
        draft.rename(kept)
    except BaseException:
        shutil.rmtree(draft, ignore_errors=True)
        raise
    return Received(kept, when, now, digest, item.parts[-1])


def refresh_working_copy(cls: ClassFolder, module: str, student: str, newest: Received, force: bool) -> None:
    """Make `submitted/` hold the newest hand-in. Its time, written last, tells that the copy is whole."""
    notebook = cls.submitted_notebook(module, student)
    stamp = notebook.with_name("timestamp.txt")
    text = newest.received_at.strftime("%Y-%m-%d %H:%M:%S.%f UTC") + "\n"
    if force or not notebook.is_file() or not stamp.is_file() or stamp.read_text(encoding="utf-8") != text:
        write_bytes_whole(notebook, (newest.folder / f"{module}.ipynb").read_bytes())
        write_text_whole(stamp, text)
