"""Build the wheel of the learner's side: the rooms a student needs and none of the instructor's."""

from __future__ import annotations

import shutil
import tempfile
import tomllib
from functools import cache
from pathlib import Path

import brakecourse
from brakecourse.classroom import learner_side
from brakecourse.classroom.zips import steady_zip, unpacked
from brakecourse.errors import CourseError

_PACKAGE = Path(brakecourse.__file__).resolve().parent
_REPOSITORY = _PACKAGE.parents[1]

_PROJECT = """\
[build-system]
requires = ["setuptools"]
build-backend = "setuptools.build_meta"
[project]
name = "brakecourse-learner"
version = "{version}"
description = "The learner's side of a training course for the disc-brake job."
requires-python = ">=3.11"
dependencies = {dependencies}
[tool.setuptools.packages.find]
include = ["brakecourse*"]
[tool.setuptools.package-data]
brakecourse = ["**/*"]
"""


@cache
def build_learner_wheel() -> tuple[str, bytes]:
    """Build the wheel, once in a run of the program, without a network.

    Returns:
        The wheel's file name and its bytes.

    Raises:
        CourseError: the course's source is not complete, or the build failed.
    """
    with tempfile.TemporaryDirectory(prefix="learner-wheel-") as name:
        source, out = Path(name) / "source", Path(name) / "out"
        _lay_out(source)
        return _build(source, out)


def _lay_out(source: Path) -> None:
    package = source / "brakecourse"
    package.mkdir(parents=True)
    leave_out = shutil.ignore_patterns("__pycache__", "*.pyc")
    try:
        for room in learner_side.ROOMS:
            shutil.copytree(_PACKAGE / room, package / room, ignore=leave_out)
        for module in learner_side.MODULES:
            shutil.copyfile(_PACKAGE / module, package / module)
        for table in learner_side.TABLES:
            source_table, kept = _REPOSITORY / "datasets" / table, package / "data" / table
            if table.endswith(".csv"):
                kept.parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(source_table, kept)
            else:
                shutil.copytree(source_table, kept, ignore=leave_out)
        project = tomllib.loads((_REPOSITORY / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    except (FileNotFoundError, shutil.Error) as error:
        raise CourseError(
            f"The learner's side can't be packed because the course is not complete ({error}); "
            "fetch it again."
        ) from error
    text = _PROJECT.format(version=brakecourse.__version__, dependencies=project["dependencies"])
    (source / "pyproject.toml").write_text(text, encoding="utf-8")


def _build(source: Path, out: Path) -> tuple[str, bytes]:
    from build import BuildBackendException, BuildException, ProjectBuilder
    from pyproject_hooks import quiet_subprocess_runner

    try:
        built = Path(ProjectBuilder(source, runner=quiet_subprocess_runner).build("wheel", out))
    except (BuildBackendException, BuildException) as error:
        raise CourseError(f"The learner's side could not be packed as a wheel: {error}.") from error
    return built.name, steady_zip(unpacked(built.read_bytes()))
