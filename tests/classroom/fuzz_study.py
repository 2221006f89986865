"""Grade spoilt submissions: each gets a status, and none of them is changed.

    python -m tests.classroom.fuzz_study 1000

prints the statuses. Each student of a class hands in one submission that was spoilt by another seed.
"""

from __future__ import annotations

import json
import shutil
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from brakecourse.classroom.engine import grade
from brakecourse.classroom.engine.farm import Farm
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.records import grade_records

from tests.classroom.engine_class import MODULE, filled, hand_in, make_class, released, right_answers
from tests.classroom.meaning import fingerprints, meaning
from tests.classroom.mutated import mutated

STATUSES = ("graded", "waiting for hand-grading", "could not be graded")


@dataclass
class Found:
    """What became of the spoilt submissions."""

    statuses: Counter[str] = field(default_factory=Counter)
    unforeseen: list[str] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)
    seconds: float = 0.0


def study(folder: Path, many: int, seed: int = 0, farm: Farm | None = None) -> Found:
    """Grade a class of which every student hands in a submission spoilt by another seed."""
    cls = make_class(folder, many)
    for number, student in enumerate(cls.student_ids):
        notebook = filled(released(cls), right_answers(cls, student), "The rotor is worn.")
        hand_in(cls, student, mutated(json.dumps(notebook).encode(), seed + number))
    before = fingerprints(cls.root / "submitted")
    started = time.monotonic()
    report = grade(cls, MODULE, limits=Limits(cell_s=10, total_s=60), farm=farm)
    found = Found(seconds=time.monotonic() - started)
    found.statuses.update(record.status for record in grade_records(cls, MODULE))
    found.unforeseen = [
        f"{row.student_id} (seed {seed + int(row.student_id[1:]) - 1}): {row.why}"
        for row in report.rows
        if "unforeseen" in row.why or "did not start" in row.why or "ended of itself" in row.why
    ]
    after = fingerprints(cls.root / "submitted")
    found.changed = [name for name in before if after.get(name) != before[name]]
    meaning(cls.gradebook_file)
    return found


def main() -> None:
    """Print what became of as many submissions as the first argument says."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    folder = Path(tempfile.mkdtemp(prefix="fuzz-study-"))
    try:
        found = study(folder, many)
        print(f"{sum(found.statuses.values())} statuses in {found.seconds:.0f} s: {dict(found.statuses)}")
        print(f"Unforeseen: {found.unforeseen or 'none'}. Submissions changed: {found.changed or 'none'}.")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    main()
