"""A browser or a sandbox that is not there: skipped on a person's machine, a failure where it must be."""

from __future__ import annotations

from pathlib import Path
from types import ModuleType

import pytest

from tests.house.conftest import load


@pytest.fixture
def shared(root: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """The shared fixtures' module, on a machine that has neither."""
    module = load(root / "tests" / "conftest.py")
    monkeypatch.setattr(module.shutil, "which", lambda name: None)
    return module


@pytest.mark.parametrize("what", ["browser", "sandbox"])
@pytest.mark.parametrize("required", ["", "browser,sandbox"])
def test_what_is_missing_is_skipped_or_fails(
    shared: ModuleType, monkeypatch: pytest.MonkeyPatch, what: str, required: str
) -> None:
    monkeypatch.setenv("BRAKECOURSE_REQUIRE", required)
    ending = pytest.fail.Exception if required else pytest.skip.Exception
    with pytest.raises(ending, match="but the machine has none; install it"):
        shared.needed(what)


def test_only_what_is_named_must_be_there(shared: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BRAKECOURSE_REQUIRE", "browser")
    with pytest.raises(pytest.skip.Exception):
        shared.needed("sandbox")


def test_a_bubblewrap_that_cannot_make_a_sandbox_counts_as_none(
    shared: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shared.shutil, "which", lambda name: "/bin/false")
    assert shared.find_bwrap() is None


@pytest.mark.sandbox
def test_the_sandbox_that_is_found_runs(bwrap_path: str) -> None:
    assert Path(bwrap_path).name == "bwrap"
