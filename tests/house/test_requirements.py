"""The pinned lists are what pyproject.toml asks for; checked without a network.

Outside source: the library ``packaging`` reads names, ranges and markers as the packaging standards say
(PEP 440, PEP 508).
"""

from __future__ import annotations

import ast
import sys
import tomllib
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

OURS = "brakecourse"
LISTS = {"requirements.txt": "test", "requirements-student.txt": "lab"}
# What a learner's computer is spared.
HEAVY = {
    "nbgrader",
    "pandas",
    "numpy",
    "matplotlib",
    "scipy",
    "sqlalchemy",
    "pydantic",
    "pytest",
    "playwright",
    "mypy",
}


def pins(path: Path) -> dict[str, set[Version]]:
    """Return the versions to which each library is pinned (more than one only where markers divide them)."""
    found: dict[str, set[Version]] = defaultdict(set)
    for line in path.read_text(encoding="utf-8").splitlines():
        words = line.split("#")[0].strip()
        if words:
            requirement = Requirement(words)
            (range_,) = requirement.specifier
            assert range_.operator == "==" and "*" not in range_.version, f"{line} is no exact version"
            found[canonicalize_name(requirement.name)].add(Version(range_.version))
    return found


def asked_for(project: dict, extra: str | None) -> Iterator[Requirement]:
    """Yield what the project and one of its extras ask for, extras inside extras followed."""
    for text in project["dependencies"]:
        yield Requirement(text)
    for text in project["optional-dependencies"][extra] if extra else []:
        requirement = Requirement(text)
        if requirement.name == OURS:
            for inner in requirement.extras:
                yield from asked_for(project, inner)
        else:
            yield requirement


@pytest.fixture(scope="module")
def project(root: Path) -> dict:
    return tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["project"]


@pytest.mark.parametrize(("name", "extra"), LISTS.items())
def test_every_library_asked_for_is_pinned_inside_its_range(
    root: Path, project: dict, name: str, extra: str
) -> None:
    pinned = pins(root / name)
    wrong = [
        f"{requirement} (pinned: {sorted(map(str, versions)) or 'not at all'})"
        for requirement in asked_for(project, extra)
        for versions in [pinned.get(canonicalize_name(requirement.name), set())]
        if not versions or not all(requirement.specifier.contains(version) for version in versions)
    ]
    assert wrong == []


def test_a_student_gets_the_versions_that_were_tested(root: Path) -> None:
    tested = pins(root / "requirements.txt")
    student = pins(root / "requirements-student.txt")
    assert {name: versions for name, versions in student.items() if tested.get(name) != versions} == {}


def test_a_students_list_is_light(root: Path) -> None:
    student = pins(root / "requirements-student.txt")
    assert "jupyterlab" in student
    assert HEAVY & set(student) == set()
    assert len(student) < len(pins(root / "requirements.txt")) * 0.7


@pytest.mark.parametrize("name", LISTS)
def test_a_list_says_how_it_was_made(root: Path, name: str) -> None:
    head = (root / name).read_text(encoding="utf-8").split("\n\n")[0]
    assert "uv pip compile pyproject.toml" in head
    assert f"-o {name}" in head


makers_of_modules = cache(packages_distributions)  # it looks at every file of every library


@cache
def libraries_used(path: Path) -> tuple[str, ...]:
    """Return the top names of the modules that a file imports, or asks pytest to import if they are there."""
    return tuple(_libraries(path))


def _libraries(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        match node:
            case ast.Import(names=names):
                yield from (alias.name.split(".")[0] for alias in names)
            case ast.ImportFrom(module=str(module), level=0):
                yield module.split(".")[0]
            case ast.Call(
                func=ast.Attribute(attr="importorskip"), args=[ast.Constant(value=str(module)), *_]
            ):
                yield module.split(".")[0]


LEARNERS_ROOMS = ("*.py", "trade/**/*.py", "bench/**/*.py", "views/**/*.py", "workorder/**/*.py")


@pytest.mark.parametrize(
    ("folder", "patterns", "extras"),
    [
        ("course/brakecourse", LEARNERS_ROOMS, ()),
        ("course/brakecourse", ("**/*.py",), ("class", "farm", "postgresql")),
        ("tests", ("**/*.py",), ("test",)),
    ],
    ids=["learner", "instructor", "tests"],
)
def test_every_library_used_is_asked_for(
    root: Path, project: dict, folder: str, patterns: tuple[str, ...], extras: tuple[str, ...]
) -> None:
    """A library that is there only by chance, or for another one's sake, is missed on another machine."""
    asked = {
        canonicalize_name(requirement.name)
        for extra in extras or (None,)
        for requirement in asked_for(project, extra)
    }
    makers = makers_of_modules()
    own = {OURS, "tests", *sys.stdlib_module_names}
    paths = sorted({path for pattern in patterns for path in (root / folder).glob(pattern)})
    missing = [
        f"{path.relative_to(root)}: {module}"
        for path in paths
        for module in libraries_used(path)
        # In the sandbox some files lie side by side, outside the package.
        if module not in own and not path.with_name(f"{module}.py").is_file()
        and not asked & {canonicalize_name(name) for name in makers.get(module, [module])}
    ]
    assert missing == []
    assert len(paths) > 10


def test_an_unpinned_line_is_refused(tmp_path: Path) -> None:
    listed = tmp_path / "requirements.txt"
    listed.write_text("pint>=0.24\n", encoding="utf-8")
    with pytest.raises(AssertionError, match="no exact version"):
        pins(listed)
