"""Grade a class on a disk that is really full, with more room each time. A test gives it a small disk.

    python -m tests.classroom.full_disk CLASS DISK

prints, as JSON, for each amount of room what was said and whether anything was half-written or lost.
"""

from __future__ import annotations

import errno
import json
import os
import shutil
import sys
from pathlib import Path
from typing import Any

from brakecourse.classroom.engine import grade, set_hand_mark
from brakecourse.classroom.folder import ClassFolder, open_class
from brakecourse.errors import CourseError
from nbgrader.api import Gradebook

from tests.classroom.engine_class import MODULE
from tests.classroom.meaning import fingerprints, meaning
from tests.classroom.quick_farm import QuickFarm

ROOM_BYTES = (0, 16_384, 65_536, 131_072)


def main() -> None:
    """Try every amount of room."""
    template, disk = Path(sys.argv[1]), Path(sys.argv[2])
    whole = _copy(template, disk)
    _graded(whole)
    set_hand_mark(whole, MODULE, "s01", "8.9", 2)
    wanted = meaning(whole.gradebook_file)
    shutil.rmtree(whole.root)
    print(json.dumps([_tried(template, disk, room, wanted) for room in ROOM_BYTES]))


def _tried(template: Path, disk: Path, room: int, wanted: list[str]) -> dict[str, Any]:
    cls = _copy(template, disk)
    handed_in = fingerprints(cls.root / "submitted")
    before = fingerprints(cls.root)
    filler = disk / "filler"
    _fill(filler, room)
    free = shutil.disk_usage(disk).free
    said = ""
    try:
        _graded(cls)
    except CourseError as error:
        said = str(error)
    try:
        set_hand_mark(cls, MODULE, "s01", "8.9", 2)
        marked = True
    except CourseError:
        marked = False
    free_then = shutil.disk_usage(disk).free
    stored = _stored(cls)
    after = fingerprints(cls.root)
    filler.unlink()
    _graded(cls)
    if not marked:
        set_hand_mark(cls, MODULE, "s01", "8.9", 2)
    found = {
        "room": room,
        "free": free,
        "free_then": free_then,
        "said": said,
        "stored": stored,
        "left_over": sorted(name for name in after if "part" in name or "journal" in name),
        "untouched": after == before,
        "handed_in_kept": fingerprints(cls.root / "submitted") == handed_in,
        "whole_afterwards": meaning(cls.gradebook_file) == wanted,
    }
    shutil.rmtree(cls.root)
    return found


def _copy(template: Path, disk: Path) -> ClassFolder:
    return open_class(Path(shutil.copytree(template, disk / "class")))


def _graded(cls: ClassFolder) -> None:
    grade(cls, MODULE, trust_files=True, farm=QuickFarm())


def _fill(path: Path, room: int) -> None:
    block = b"\0" * 4_096
    with path.open("wb", buffering=0) as stream:
        try:
            while True:
                stream.write(block)
        except OSError as error:
            assert error.errno == errno.ENOSPC
        os.truncate(path, max(0, path.stat().st_size - room))


def _stored(cls: ClassFolder) -> dict[str, list[int]]:
    """How much is there of each student: graded cells with points in nbgrader's table, judged notebook."""
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as book:
        return {
            submission.student.id: [
                sum(grade.auto_score is not None for grade in submission.notebooks[0].grades),
                int((cls.root / "autograded" / submission.student.id / MODULE / f"{MODULE}.ipynb").is_file()),
            ]
            for submission in book.assignment_submissions(MODULE)
        }


if __name__ == "__main__":
    main()
