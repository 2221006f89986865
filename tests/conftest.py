"""What every room's tests share: the machine's browser and sandbox, and steady property tests."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any

import brakecourse.classroom  # noqa: F401 (first of all: what loads nbgrader then takes far less time)
import pytest
from hypothesis import settings

# The same examples in every run: a red check means a changed course, not another throw of the dice.
settings.register_profile("course", deadline=None, derandomize=True)
settings.load_profile("course")


# The files that take longest, as measured, the longest first.
LONG = (
    "classroom/test_engine_killed.py",
    "attacks/test_plain_nbgrader.py",
    "views/test_every_activity.py",
    "classroom/test_engine_dask.py",
    "classroom/test_engine_execute.py",
    "attacks/test_attacks.py",
    "classroom/test_engine_grading.py",
    "classroom/test_engine_postgresql.py",
    "classroom/test_engine_warm.py",
    "demo/test_demo.py",
    "kit/test_kit.py",
    "notebooks/test_release_chain.py",
    "classroom/test_engine_farm.py",
    "classroom/test_engine_gradebook.py",
    "classroom/test_engine_tasks.py",
    "browser/test_every_lesson.py",
    "browser/test_every_exercise.py",
    "browser/test_desk_instructor.py",
    "browser/test_hostile_pages.py",
)

# How many quick tests one with a mark takes as long as, roughly: the order of all other files.
WEIGHTS = {"slow": 300, "sandbox": 100}


@cache
def find_chromium() -> str | None:
    """Return the path of the machine's own Chromium, if it has one."""
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)


@cache
def find_bwrap() -> str | None:
    """Return the path of bubblewrap, if the machine has it and lets it make a sandbox."""
    path = shutil.which("bwrap")
    if path is None:
        return None
    tried = subprocess.run(
        [path, "--unshare-all", "--ro-bind", "/", "/", "true"], capture_output=True, check=False, timeout=30
    )
    return path if tried.returncode == 0 else None


@cache
def find_postgresql() -> str | None:
    """Return the folder of PostgreSQL's server programs, if the machine has them."""
    debian = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: int(path.parts[-3]))
    found = str(debian[-1]) if debian else shutil.which("initdb")
    return str(Path(found).parent) if found else None


NEEDS = {
    "browser": (find_chromium, "Chromium (the system's package 'chromium')"),
    "sandbox": (find_bwrap, "a bubblewrap that works (the system's package 'bubblewrap')"),
    "postgresql": (find_postgresql, "a PostgreSQL server (the system's package 'postgresql')"),
}


def needed(what: str) -> str:
    """Return the path of what a test needs; else skip the test, or fail it where the machine must have it.

    The variable BRAKECOURSE_REQUIRE names what must be there, with commas: ``browser,sandbox``.
    """
    find, words = NEEDS[what]
    path = find()
    if path is None:
        sentence = f"This test needs {words}, but the machine has none; install it."
        if what in os.environ.get("BRAKECOURSE_REQUIRE", "").split(","):
            pytest.fail(sentence, pytrace=False)
        pytest.skip(sentence)
    return path


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the files that take longest first, so that at the end no worker waits long for another."""
    place_of = {Path(__file__).parent / name: place for place, name in enumerate(LONG)}
    weights = Counter[Path]()
    for item in items:
        weights[item.path] += 1 + sum(
            weight for mark, weight in WEIGHTS.items() if item.get_closest_marker(mark)
        )
    items.sort(key=lambda item: (place_of.get(item.path, len(LONG)), -weights[item.path], item.path))


def pytest_runtest_setup(item: pytest.Item) -> None:
    for what in NEEDS:
        if item.get_closest_marker(what):
            needed(what)


@pytest.fixture(scope="session", autouse=True)
def nobody_waits_for_the_disk() -> Iterator[None]:
    """Leave it to the system when it writes. Whoever looks finds what was written; no test cuts the power.

    The waiting is all that is left out. A test in which a write fails puts its own failure in its place.
    """
    from sqlalchemy import Engine, event

    def leave_it(connection: Any, _: object) -> None:
        if isinstance(connection, sqlite3.Connection):
            with suppress(sqlite3.Error):  # a gradebook that is none says so to whoever uses it
                connection.execute("PRAGMA synchronous = OFF").close()

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "fsync", lambda _: None)
        event.listen(Engine, "connect", leave_it)
        yield
        event.remove(Engine, "connect", leave_it)


@pytest.fixture(scope="session")
def chromium_path() -> str:
    """The path of the machine's Chromium."""
    return needed("browser")


@pytest.fixture(scope="session")
def bwrap_path() -> str:
    """The path of a bubblewrap that works here."""
    return needed("sandbox")
