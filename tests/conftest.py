"""What every room's tests share: the machine's browser and sandbox, and steady property tests."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from hypothesis import settings

# The same examples in every run: a red check means a changed course, not another throw of the dice.
settings.register_profile("course", deadline=None, derandomize=True)
settings.load_profile("course")


# How many quick tests one with a mark takes as long as, roughly.
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
    weights = Counter[Path]()
    for item in items:
        weights[item.path] += 1 + sum(
            weight for mark, weight in WEIGHTS.items() if item.get_closest_marker(mark)
        )
    items.sort(key=lambda item: (-weights[item.path], item.path))


def pytest_runtest_setup(item: pytest.Item) -> None:
    for what in NEEDS:
        if item.get_closest_marker(what):
            needed(what)


@pytest.fixture(scope="session")
def chromium_path() -> str:
    """The path of the machine's Chromium."""
    return needed("browser")


@pytest.fixture(scope="session")
def bwrap_path() -> str:
    """The path of a bubblewrap that works here."""
    return needed("sandbox")
