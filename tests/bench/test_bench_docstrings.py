"""The bench's examples run, its public parts are described, and it loads lightly."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import subprocess
import sys
from functools import cache
from types import ModuleType

import brakecourse.bench
import pytest

MODULES = [
    importlib.import_module(f"brakecourse.bench.{info.name}")
    for info in pkgutil.iter_modules(brakecourse.bench.__path__)
]


@cache
def ran(module: ModuleType) -> doctest.TestResults:
    """How a module's examples went, run once."""
    return doctest.testmod(module)


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_the_examples_in_the_docstrings_run(module: ModuleType) -> None:
    assert ran(module).failed == 0


def test_there_are_examples_to_run() -> None:
    assert sum(ran(module).attempted for module in MODULES) >= 12


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_every_public_part_is_described(module: object) -> None:
    assert inspect.getdoc(module)
    for name, member in vars(module).items():
        if name.startswith("_") or getattr(member, "__module__", None) != module.__name__:  # type: ignore[attr-defined]
            continue
        if inspect.isfunction(member) or inspect.isclass(member):
            assert (inspect.getdoc(member) or "").splitlines()[0].endswith((".", ":")), name
        for method, inner in vars(member).items() if inspect.isclass(member) else ():
            if not method.startswith("_") and (inspect.isfunction(inner) or isinstance(inner, property)):
                assert inspect.getdoc(inner), f"{name}.{method}"


def test_the_bench_loads_without_any_array_library_widget_or_unit_registry() -> None:
    code = (
        "import sys, brakecourse.bench.cases, brakecourse.bench.misreading\n"
        "brakecourse.bench.cases.draw_case(1)\n"
        "heavy = {'numpy', 'scipy', 'pint', 'pandas', 'IPython', 'ipywidgets', 'nbgrader'}\n"
        "print(sorted(heavy & set(sys.modules)))"
    )
    shown = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    assert shown.stdout.strip() == "[]"
