"""The exercises are what nbgrader itself would release, though the course runs a shorter chain."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

import nbformat
import pytest
from brakecourse import marking
from brakecourse.classroom import release
from brakecourse.classroom.nbgrader_config import release_config
from nbgrader.converters import GenerateAssignment
from nbgrader.coursedir import CourseDirectory

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.slow
def test_nbgrader_itself_makes_the_same_releases(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`nbgrader generate_assignment` in a folder of its own, every module's notebook in one assignment."""
    monkeypatch.setenv("PATH", str(Path(sys.executable).parent), prepend=os.pathsep)
    source = tmp_path / "source" / "all"
    source.mkdir(parents=True)
    for module in marking.MODULES:
        shutil.copy(ROOT / "solutions" / module / f"{module}.ipynb", source)
    course = CourseDirectory(config=release_config(), root=str(tmp_path), assignment_id="all")
    GenerateAssignment(coursedir=course, config=release_config()).start()
    for module in marking.MODULES:
        made = nbformat.read(tmp_path / "release" / "all" / f"{module}.ipynb", as_version=4)
        ours = nbformat.read(ROOT / "exercises" / module / f"{module}.ipynb", as_version=4)
        assert made.cells == ours.cells
        assert made.metadata == ours.metadata


@pytest.mark.slow
def test_a_changed_solution_is_told(tmp_path: Path) -> None:
    module = "08_rotor_measurement"
    for part in ("solutions", "exercises"):
        shutil.copytree(ROOT / part / module, tmp_path / part / module)
    path = tmp_path / "solutions" / module / f"{module}.ipynb"
    notebook = nbformat.read(path, as_version=4)
    notebook.cells[0].source += "\n\nOne more word."
    nbformat.write(notebook, path)
    stale = release.stale(release.build(module, tmp_path))
    assert [found.relative_to(tmp_path).parts[0] for found in stale] == ["exercises"]
