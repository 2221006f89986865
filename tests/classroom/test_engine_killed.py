"""No mark can be lost: graders are killed at random moments, and the next run makes the same gradebook.

Outside checks: the system's own SIGKILL sends them off; SQLite's own check finds the gradebook whole.
`python -m tests.classroom.kill_study 100` does the same for a hundred moments.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.classroom.kill_study import Study


@pytest.mark.sandbox
@pytest.mark.slow
@pytest.mark.timeout(400)
def test_whatever_is_killed_the_resumed_gradebook_is_the_undisturbed_one(tmp_path: Path) -> None:
    found = Study(tmp_path, seed=7).kill(12, lives=4)
    assert sum(found.killed.values()) == 12
    assert found.lost == [], found.words
    assert found.left_running == [], found.words
