"""Where nothing is forked and nothing shuts code in (Windows, macOS) the same grading runs, and says what is
missing. The points are held against those of the sandboxed run, and read by nbgrader's own library."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from brakecourse.classroom.engine import grade, sandbox
from brakecourse.classroom.engine.farm import Done, Job, LocalFarm, do
from brakecourse.classroom.engine.sandbox import MISSING_WITHOUT_SANDBOX
from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError

from tests.classroom.engine_class import (
    MODULE,
    filled,
    fresh_class,
    hand_in,
    points_in_gradebook,
    released,
    right_answers,
)
from tests.classroom.shared_farm import shared_farm

pytestmark = [pytest.mark.sandbox, pytest.mark.slow]


class HereAndNow(LocalFarm):
    """Does the jobs in this very process, so that what a test has changed here holds for them."""

    def run(self, jobs: Iterable[Job]) -> Iterator[Done]:
        return map(do, jobs)


def handed_in(folder: Path) -> ClassFolder:
    cls = fresh_class(folder)
    hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01"), "A letter."))
    wrong = right_answers(cls, "s02")
    hand_in(cls, "s02", filled(released(cls), wrong | {"8.4": wrong["8.4"] / 2, "8.2": "=1/0"}))
    hand_in(cls, "s03", b"{")
    return cls


def test_the_same_points_without_fork_and_without_namespaces(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("shut", "open"):
        (tmp_path / name).mkdir()
    shut = handed_in(tmp_path / "shut")
    before = grade(shut, MODULE, farm=shared_farm())
    assert before.protection.missing == ()

    cls = handed_in(tmp_path / "open")
    monkeypatch.setattr(sandbox, "_working_bubblewrap", lambda: None)
    # As on Windows: whoever asks for fork is told that there is none.
    monkeypatch.delattr("os.fork")
    with pytest.raises(CourseError, match="--i-trust-these-files") as refused:
        grade(cls, MODULE, farm=HereAndNow())
    assert all(sentence in str(refused.value) for sentence in MISSING_WITHOUT_SANDBOX)
    assert points_in_gradebook(cls) == {}

    told: list[str] = []
    report = grade(
        cls, MODULE, trust_files=True, farm=HereAndNow(), progress=lambda *news: told.append(news[2])
    )
    assert report.protection.missing == MISSING_WITHOUT_SANDBOX
    assert told[0].startswith("NO PROTECTION") and all(words in told[0] for words in MISSING_WITHOUT_SANDBOX)
    assert [row.status for row in report.rows] == [row.status for row in before.rows]
    assert points_in_gradebook(cls) == points_in_gradebook(shut)
    assert sum(points is not None for points in points_in_gradebook(cls).values()) == 17, sys.platform
