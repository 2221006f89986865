"""Keep what came in: `received/` only ever grows, `submitted/` holds the newest as the copy that is graded."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from brakecourse.classroom.files import write_bytes_whole, write_text_whole
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.intake import FoundNotebook

_STAMP = "%Y%m%dT%H%M%SZ"


@dataclass(frozen=True)
class Received:
    """One thing that came in and was kept."""

    folder: Path
    received_at: datetime
    taken_in_at: datetime
    sha256: str


def everything_received(cls: ClassFolder, module: str, student_id: str) -> list[Received]:
    """List what a student handed in for a module, oldest first."""
    found = []
    for note in sorted(cls.received_folder(module, student_id).glob("*/received.json")):
        values = json.loads(note.read_text(encoding="utf-8"))
        found.append(
            Received(
                note.parent,
                datetime.fromisoformat(values["received_at"]),
                datetime.fromisoformat(values["taken_in_at"]),
                values["sha256"],
            )
        )
    return sorted(found, key=lambda item: (item.received_at, item.taken_in_at))


def keep(
    cls: ClassFolder,
    module: str,
    student: str,
    item: FoundNotebook,
    digest: str,
    when: datetime,
    time_from: str,
) -> None:
    """Add one hand-in to `received/`, whole or not at all. Nothing there is ever changed afterwards."""
    folder = cls.received_folder(module, student)
    folder.mkdir(parents=True, exist_ok=True)
    note = {
        "name": item.parts[-1],
        "received_at": when.isoformat(),
        "sha256": digest,
        "taken_in_at": datetime.now(UTC).isoformat(),
        "time_from": time_from,
    }
    draft = Path(tempfile.mkdtemp(prefix=".part-", dir=folder))
    try:
        write_bytes_whole(draft / f"{module}.ipynb", item.content, mode=0o444)
        write_text_whole(
            draft / "received.json", json.dumps(note, indent=1, ensure_ascii=False) + "\n", mode=0o444
        )
        os.chmod(draft, 0o755)
        draft.rename(folder / f"{when.strftime(_STAMP)}-{digest[:12]}")
    except BaseException:
        shutil.rmtree(draft, ignore_errors=True)
        raise


def refresh_working_copy(cls: ClassFolder, module: str, student: str, newest: Received, force: bool) -> None:
    """Make `submitted/` hold the newest hand-in. Its time is written last: it tells that the copy is whole."""
    notebook = cls.submitted_notebook(module, student)
    stamp = notebook.with_name("timestamp.txt")
    text = newest.received_at.strftime("%Y-%m-%d %H:%M:%S.%f UTC") + "\n"
    if force or not notebook.is_file() or not stamp.is_file() or stamp.read_text(encoding="utf-8") != text:
        write_bytes_whole(notebook, (newest.folder / f"{module}.ipynb").read_bytes())
        write_text_whole(stamp, text)
