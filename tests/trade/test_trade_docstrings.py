"""Every public function says what it does, where it comes from, and shows an example that runs."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import subprocess
import sys
from types import ModuleType

import brakecourse.trade
import pytest

MODULES = [
    importlib.import_module(f"brakecourse.trade.{info.name}")
    for info in pkgutil.iter_modules(brakecourse.trade.__path__)
] + [importlib.import_module("brakecourse.published")]


def _functions(module: ModuleType) -> list[str]:
    """The functions that a module offers: its own, and those that it takes in to offer them."""
    offered = getattr(module, "__all__", ())
    return [
        name
        for name, member in vars(module).items()
        if inspect.isfunction(inspect.unwrap(member))
        and (name in offered or (member.__module__ == module.__name__ and name[0] != "_"))
    ]


DOCUMENTED = [
    pytest.param(module, name, id=f"{module.__name__}.{name}")
    for module in MODULES
    if not module.__name__.rpartition(".")[2].startswith("_")
    for name in _functions(module)
]


@pytest.mark.parametrize(("module", "name"), DOCUMENTED)
def test_a_public_function_says_what_it_does_and_where_it_comes_from(module: ModuleType, name: str) -> None:
    function = inspect.unwrap(getattr(module, name))
    text = inspect.getdoc(function) or ""
    assert text.splitlines()[0].endswith(".")
    for heading in (
        ("Returns:", "Raises:", "Source:", "Example:") if inspect.signature(function).parameters else ()
    ):
        assert heading in text, f"{name} has no '{heading}'"
    for argument in inspect.signature(function).parameters:
        assert f"{argument}:" in text, f"{name} does not tell what {argument} is"
    assert ">>>" in text


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_the_examples_in_the_docstrings_run(module: ModuleType) -> None:
    failed, _ = doctest.testmod(module, raise_on_error=False)
    assert failed == 0


def test_there_are_examples_to_run() -> None:
    tried = {module.__name__: doctest.testmod(module).attempted for module in MODULES}
    assert tried["brakecourse.trade.conformity"] >= 10
    assert tried["brakecourse.trade.rotor"] >= 6
    assert tried["brakecourse.published"] >= 5


def test_the_trade_loads_without_any_array_library_or_the_unit_registry() -> None:
    code = (
        "import sys, importlib, pkgutil, brakecourse.trade as trade\n"
        "for info in pkgutil.iter_modules(trade.__path__, 'brakecourse.trade.'):\n"
        "    importlib.import_module(info.name)\n"
        "heavy = {'numpy', 'scipy', 'pint', 'pandas', 'IPython', 'ipywidgets', 'nbgrader'}\n"
        "print(sorted(heavy & set(sys.modules)))"
    )
    shown = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    assert shown.stdout.strip() == "[]"
