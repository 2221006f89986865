"""How the course may use published values: no typed copy, and no remembered one without saying so."""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from brakecourse import published

HOME = Path(__file__).parents[2]
NEAR_LINES = 2


@cache
def _constants(code: str) -> tuple[ast.Constant, ...]:
    """The constants in a piece of code, found once for all rules."""
    return tuple(node for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Constant))


def _texts(path: Path) -> Iterator[tuple[str, str]]:
    """The pieces of a file that a person reads, each with its kind: a whole file, or a notebook's cells."""
    if path.suffix != ".ipynb":
        yield path.suffix, path.read_text(encoding="utf-8")
        return
    for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
        yield ".py" if cell["cell_type"] == "code" else ".md", "".join(cell["source"])


def _files(folders: tuple[str, ...], suffixes: set[str]) -> list[Path]:
    found = [
        path
        for folder in folders
        for path in sorted((HOME / folder).rglob("*"))
        if path.suffix in suffixes and ".ipynb_checkpoints" not in path.parts
    ]
    return found + [path for path in sorted(HOME.glob("*.md")) if ".md" in suffixes]


# --- a remembered number is never used without saying so -------------------------------------------


def silent_uses(text: str, remembered: set[str]) -> list[str]:
    """Ids from memory that a text names with no word "memory" on the line or up to two lines from it."""
    lines = text.splitlines()
    silent = []
    for number, line in enumerate(lines):
        names = remembered.intersection(re.findall(r"[a-z][a-z0-9_]+", line))
        near = " ".join(lines[max(0, number - NEAR_LINES) : number + NEAR_LINES + 1]) if names else ""
        if names and not re.search(r"\bmemory\b", near.lower()):
            silent += [f"line {number + 1}: {name}" for name in names]
    return silent


REMEMBERED = {one.id for one in published.all_values().values() if one.how_known == "memory"}


def test_no_file_uses_a_remembered_number_in_silence() -> None:
    files = _files(("course", "tests", "solutions", "exercises"), {".py", ".ipynb", ".md"})
    assert len(files) > 20
    silent = [
        f"{path.relative_to(HOME)}: {use}"
        for path in files
        for _, text in _texts(path)
        for use in silent_uses(text, REMEMBERED)
    ]
    assert silent == [], "a number known from memory is used without the word 'memory' beside it"


def test_the_rule_on_memory_can_fail() -> None:
    (name, *_) = sorted(REMEMBERED)
    assert silent_uses(f"limit = value({name!r}).value", {name}) == [f"line 1: {name}"]
    assert silent_uses(f"# from memory\nlimit = value({name!r}).value", {name}) == []
    assert silent_uses(f"# from memory\n\n\nlimit = value({name!r}).value", {name}) == [f"line 4: {name}"]
    assert silent_uses(f"{name}_of_another", {name}) == []


# What a regulation asks may be told from memory, if it says so: no verdict on a brake rests on it.
TOLD = {
    # the cold stopping distance, from memory; its value at 100 km/h was read
    "_hydraulics_road.py": {"stop_formula_linear", "stop_formula_quad_cold"},  # memory
    # the burnish of a stopping test, from memory; its number of stops was read
    "_burnish_schedules.py": {  # memory
        "burnish_speed_135",  # memory
        "burnish_decel_135",
        "burnish_interval_135",  # memory
        "burnish_ibt_max_135",
    },
}


@pytest.mark.slow
def test_no_code_of_the_package_decides_with_a_remembered_number() -> None:
    # A remembered number may illustrate a lesson. It may not be what a decision about a brake rests on.
    for path in _files(("course/brakecourse",), {".py"}):
        words = {node.value for node in _constants(path.read_text(encoding="utf-8"))}
        assert REMEMBERED & words == TOLD.get(path.name, set()), path


# --- a published number is never typed into the code -----------------------------------------------


def significant_digits(number: float) -> int:
    mantissa = f"{abs(number):.17g}" if abs(float(f"{number:.15g}") - number) else f"{abs(number):.15g}"
    return len(mantissa.partition("e")[0].replace(".", "").strip("0"))


def distinctive(name: str, number: float) -> bool:
    """Whether a number can be recognised: four digits or more, or a unit's conversion factor."""
    return significant_digits(number) >= 4 or name.startswith(("unit_", "pint_"))


DISTINCTIVE = {
    abs(one.value): one.id for one in published.all_values().values() if distinctive(one.id, one.value)
}


def typed_copies(code: str) -> list[str]:
    """Numbers in a piece of code that stand in the published tables."""
    plain = "\n".join("" if line.lstrip().startswith(("%", "!")) else line for line in code.splitlines())
    return [
        f"line {node.lineno}: {node.value} is {DISTINCTIVE[node.value]}"
        for node in _constants(plain)
        if type(node.value) in (int, float) and node.value in DISTINCTIVE
    ]


@pytest.mark.slow
def test_no_published_number_is_typed_into_the_code() -> None:
    files = _files(("course", "solutions", "exercises"), {".py", ".ipynb"})
    copies = [
        f"{path.relative_to(HOME)}: {copy}"
        for path in files
        for kind, text in _texts(path)
        if kind == ".py"
        for copy in typed_copies(text)
    ]
    assert copies == [], (
        "take the number from the table: published.value(id).value, or published.convert(...)"
    )


@pytest.mark.parametrize(
    ("code", "copies"),
    [
        ("inches = thickness_mm / 25.4", ["line 1: 25.4 is unit_inch_mm"]),
        ("%matplotlib inline\nk = 2.7764", ["line 2: 2.7764 is t_95_4"]),
        ("f(-0.3048)", ["line 1: 0.3048 is unit_foot_m"]),
        ('"""A note on 25.4."""\nx = 24.03 + 2.92', []),
    ],
)
def test_the_rule_on_typed_numbers_can_fail(code: str, copies: list[str]) -> None:
    if "0.3048" in code:
        assert len(typed_copies(code)) == 1
    else:
        assert typed_copies(code) == copies


@pytest.mark.parametrize(
    ("number", "digits"),
    [(2.92, 3), (50.000623, 8), (0.0000115, 3), (10000.0, 1), (1609.344, 7), (-5.47, 3), (0.7, 1)],
)
def test_counting_digits(number: float, digits: int) -> None:
    assert significant_digits(number) == digits


def test_many_numbers_are_recognised() -> None:
    assert len(DISTINCTIVE) > 40
