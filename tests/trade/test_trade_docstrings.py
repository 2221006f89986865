"""Every public function tells what it does, in which units and whence, and shows an example that runs."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import re
from types import ModuleType
from typing import Any

import brakecourse.published
import brakecourse.trade
import pytest

from tests.trade.refusals import parameters, public_functions

MODULES = [
    importlib.import_module(f"brakecourse.trade.{info.name}")
    for info in pkgutil.iter_modules(brakecourse.trade.__path__)
] + [brakecourse.published]
PUBLISHED = {
    f"published.{name}": member
    for name, member in vars(brakecourse.published).items()
    if inspect.isfunction(inspect.unwrap(member))
    and name[0] != "_"
    and member.__module__ == "brakecourse.published"
}
DOCUMENTED = public_functions() | PUBLISHED

UNITS = {
    "_mm": "mm",
    "_mm2": "mm²|mm2",
    "_m": "m",
    "_km": "km",
    "_nm": "N·m",
    "_n": "N",
    "_mpa": "MPa",
    "_kg": "kg",
    "_kmh": "km/h",
    "_ms2": "m/s²",
    "_s": "s",
    "_c": "°C",
    "_for_c": "s",  # how long to wait for a temperature
    "_j": "J",
    "_ml": "mL",
    "_deg": "degrees",
    "_percent": "percent",
    "_mm_per_min": "mm a minute",
    "_ml_per_min": "mL a minute",
}
"""How a name's ending reads in the text beside it."""


def unit_of(name: str) -> str | None:
    """The unit that a name ends in, as a pattern of the words for it; the longest ending counts."""
    endings = [ending for ending in UNITS if name.endswith(ending)]
    return UNITS[max(endings, key=len)] if endings else None


def tells_unit(name: str, words: str) -> bool:
    unit = unit_of(name)
    if unit is None:
        return True
    words = words.replace("Percent", "percent").replace("Degrees", "degrees")  # at the start of a line
    return re.search(rf"(?<![\w/])(?:{unit})(?![\w²/])", words) is not None


def sections(text: str) -> dict[str, str]:
    """The parts of a docstring by their headings."""
    parts = re.split(r"^(Args|Returns|Raises|Source|Example):\n", text, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def told(part: str) -> dict[str, str]:
    """What the part on the arguments tells of each."""
    found = re.findall(r"^    \*?(\w+): (.*(?:\n     .*)*)", part, flags=re.MULTILINE)
    return dict(found)


@pytest.mark.parametrize("name", DOCUMENTED)
def test_a_public_function_says_what_it_does_and_where_it_comes_from(name: str) -> None:
    function: Any = inspect.unwrap(DOCUMENTED[name])
    text = inspect.getdoc(function) or ""
    assert re.match(r"[A-Z][^\n]*\.$", text.partition("\n")[0])
    found = sections(text)
    takes = parameters(function)
    assert ({"Args", "Raises"} if takes else set()) | {"Returns", "Source", "Example"} <= set(found)
    assert all(part.strip() for part in found.values())
    if takes:
        assert re.search(r"^    \w+: \S", found["Raises"], re.MULTILINE), "what is raised, and when"
    assert ">>> " in found["Example"]
    arguments = told(found.get("Args", ""))
    assert list(arguments) == takes
    silent = [argument for argument, words in arguments.items() if not tells_unit(argument, words)]
    assert silent == [], "these arguments do not tell their unit"
    assert tells_unit(name, found["Returns"]), "the result does not tell its unit"


@pytest.mark.parametrize(
    ("name", "words", "fine"),
    [
        ("drag_n", "friction, N, 0 or more", True),
        ("torque_nm", "torque, N, above 0", False),
        ("area_mm2", "area, mm, above 0", False),
        ("depth_mm", "depth, mm², above 0", False),
        ("speed_kmh", "speed, km, above 0", False),
        ("studs", "how many", True),
    ],
)
def test_the_rule_on_units_can_fail(name: str, words: str, fine: bool) -> None:
    assert tells_unit(name, words) is fine


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_the_examples_in_the_docstrings_run(module: ModuleType) -> None:
    failed, _ = doctest.testmod(module, raise_on_error=False)
    assert failed == 0


def test_there_are_examples_to_run() -> None:
    tried = {module.__name__: doctest.testmod(module).attempted for module in MODULES}
    assert tried["brakecourse.trade.conformity"] >= 10
    assert tried["brakecourse.trade.rotor"] >= 6
    assert tried["brakecourse.published"] >= 5
    assert len(DOCUMENTED) > 60  # the walk found the trade
