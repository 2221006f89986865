"""The launcher and the list of checks as modules, and the project's own files."""

from __future__ import annotations

import fnmatch
import importlib.util
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]


def load(path: Path) -> ModuleType:
    """Return a program of the project as a module, without starting it."""
    spec = importlib.util.spec_from_file_location(f"house_{path.stem}", path)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # dataclasses look their module up there
    spec.loader.exec_module(module)
    return module


def own_files(folder: Path, ignored: tuple[str, ...]) -> Iterator[Path]:
    """Yield the files of the project; what .gitignore names is not the project's."""
    for path in sorted(folder.iterdir()):
        if any(fnmatch.fnmatch(path.name, pattern) for pattern in ignored):
            continue
        if path.is_dir():
            yield from own_files(path, ignored)
        else:
            yield path


@pytest.fixture(scope="session")
def root() -> Path:
    return ROOT


@pytest.fixture(scope="session")
def launcher() -> ModuleType:
    return load(ROOT / "run.py")


@pytest.fixture(scope="session")
def checks() -> ModuleType:
    return load(ROOT / "tests" / "layers.py")


@pytest.fixture(scope="session")
def files() -> list[Path]:
    patterns = (ROOT / ".gitignore").read_text(encoding="utf-8").split()
    return list(own_files(ROOT, (".git", *(pattern.rstrip("/") for pattern in patterns))))
