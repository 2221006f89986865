"""What loading the trade and the bench takes: the standard library only, and a fraction of pandas's time."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from typing import Any

import pytest

ROOMS = "import brakecourse.trade, brakecourse.bench"
EVERYTHING = """
import importlib, pkgutil, brakecourse.bench as bench, brakecourse.trade as trade
for room in (trade, bench):
    for info in pkgutil.iter_modules(room.__path__, room.__name__ + '.'):
        importlib.import_module(info.name)
"""
LOADED = "\nimport sys\nprint(*sorted({name.partition('.')[0] for name in sys.modules}), sep='\\n')"


def run(code: str) -> str:
    """Run code in a fresh interpreter and return what it prints."""
    # -I keeps the environment's variables and the current folder out; the course itself is installed.
    command = [sys.executable, "-I", "-c", code]
    return subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout


def foreign(code: str) -> set[str]:
    """Top-level modules that code loads beyond the standard library and what every interpreter loads."""
    before = set(run(LOADED).split())  # also what an environment's .pth files bring in
    return set(run(code + LOADED).split()) - before - sys.stdlib_module_names


def test_trade_and_bench_load_the_standard_library_only() -> None:
    assert foreign(EVERYTHING) == {"brakecourse"}


@pytest.mark.parametrize(
    "code", ["import pint", "from brakecourse.published import convert; convert(1, 'm', 'mm')"]
)
def test_the_rule_on_loading_can_fail(code: str) -> None:
    assert "pint" in foreign(code)


def test_drawing_a_case_loads_no_unit_library_either() -> None:
    draw = "from brakecourse.bench.cases import draw_case\ndraw_case(1)"
    assert foreign(draw) == {"brakecourse"}


def seconds(code: str) -> float:
    begun = time.perf_counter()
    run(code)
    return time.perf_counter() - begun


@pytest.mark.parametrize(
    ("code", "what"), [(ROOMS, "the rooms trade and bench"), (EVERYTHING, "every module of both rooms")]
)
def test_the_cost_of_importing(code: str, what: str, timed: Any, tell: Callable[[str], None]) -> None:
    rounds = 11
    for warmed in ("import pandas", code):
        seconds(warmed)  # the files are read from disk once, before the clock starts
    theirs, bare = [], []

    def between() -> None:  # all take turns, so that a busy moment meets each
        theirs.append(seconds("import pandas"))
        bare.append(seconds("pass"))

    timed.pedantic(lambda: run(code), setup=between, rounds=rounds)
    start = statistics.median(bare)
    ours, pandas = timed.stats.stats.median - start, statistics.median(theirs) - start
    assert pandas > 0 and len(theirs) == rounds
    timed.extra_info["ratio"] = ours / pandas
    tell(f"importing {what}: {1000 * ours:.0f} ms; pandas: {1000 * pandas:.0f} ms; ratio {ours / pandas:.3f}")
