"""The rooms of the house are where the guide says, and nothing of one machine has got into them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

TOP = {
    "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "requirements.txt", "requirements-student.txt",
    "run.py", "course", "datasets", "exercises", "solutions", "tests", ".ci", ".gitignore",
}  # fmt: skip
ROOMS = {
    "__init__.py", "py.typed", "errors.py", "tables.py", "published.py", "trade", "bench", "views",
    "workorder", "marking", "classroom", "exports", "cli", "demo", "desks",
}  # fmt: skip
# Each pattern is spelt so that it does not find itself.
MACHINE_PATH = re.compile(
    r"(?<![\w.~-])/(?:w[o]rk|r[o]ot|h[o]me/\w+|U[s]ers/\w+)/|\b[A-Z]:\\+Users\\", re.IGNORECASE
)
REGISTRY_HOST = re.compile(
    r"pypi[.]org|python[h]osted|registry[.]npmjs|npmjs[.]com|deb[.]debian|anaconda[.]org", re.IGNORECASE
)


def first_parts(files: list[Path], folder: Path) -> set[str]:
    return {path.relative_to(folder).parts[0] for path in files if path.is_relative_to(folder)}


def test_the_top_level_holds_what_the_guide_names_and_no_more(files: list[Path], root: Path) -> None:
    assert first_parts(files, root) == TOP


def test_the_package_has_its_rooms_and_no_more(files: list[Path], root: Path) -> None:
    found = first_parts(files, root / "course" / "brakecourse")
    # Small rooms may be one module.
    assert {name if name in ROOMS else name.removesuffix(".py") for name in found} == ROOMS


@pytest.fixture(scope="module")
def texts(files: list[Path]) -> list[tuple[Path, str]]:
    found = []
    for path in files:
        try:
            found.append((path, path.read_text(encoding="utf-8")))
        except UnicodeDecodeError:
            continue  # a picture or an archive
    return found


@pytest.mark.parametrize("unwanted", [MACHINE_PATH, REGISTRY_HOST], ids=["machine paths", "registry hosts"])
def test_no_text_names_one_machine(
    texts: list[tuple[Path, str]], root: Path, unwanted: re.Pattern[str]
) -> None:
    found = [
        f"{path.relative_to(root)}:{number}: {match[0]}"
        for path, text in texts
        if unwanted.search(text)
        for number, line in enumerate(text.splitlines(), 1)
        if (match := unwanted.search(line))
    ]
    assert found == []


@pytest.mark.parametrize(
    ("unwanted", "text"),
    [
        (MACHINE_PATH, "/".join(["", "work", "main"])),
        (MACHINE_PATH, "open('" + "/".join(["", "home", "ann", "x'"])),
        (MACHINE_PATH, "\\".join(["C:", "Users", "ann"])),
        (REGISTRY_HOST, "https://" + ".".join(["pypi", "org"])),
    ],
)
def test_the_scan_finds_what_it_looks_for(unwanted: re.Pattern[str], text: str) -> None:
    assert unwanted.search(text)


@pytest.mark.parametrize("text", ["homework/one", "a/work/b", "../root/x", "pypi organises"])
def test_the_scan_leaves_plain_words_alone(text: str) -> None:
    assert not MACHINE_PATH.search(text)
    assert not REGISTRY_HOST.search(text)


def test_the_scan_sees_the_launcher_and_a_notebook(texts: list[tuple[Path, str]], root: Path) -> None:
    seen = {path for path, _ in texts}
    assert root / "run.py" in seen
    assert any(path.suffix == ".ipynb" for path in seen)
