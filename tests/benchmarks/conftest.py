"""Benchmarks run only when their folder is asked for: ``pytest tests/benchmarks``. Each prints its ratio."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).resolve().parent
PROPERTY = "benchmark sentence"


def _asked_for(config: pytest.Config) -> bool:
    start = config.invocation_params.dir
    paths = [(start / word.split("::")[0]).resolve() for word in config.args]
    return any(path == HERE or HERE in path.parents for path in paths)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    timed = [item for item in items if "benchmark" in getattr(item, "fixturenames", ())]
    if timed and not _asked_for(config):
        config.hook.pytest_deselected(items=timed)
        items[:] = [item for item in items if item not in timed]


@pytest.fixture
def timed(benchmark: Any) -> Any:
    """The benchmark, where there is a clock: not beside other workers."""
    if benchmark.disabled:
        pytest.skip("Benchmarks are timed in one process only: pytest tests/benchmarks")
    return benchmark


@pytest.fixture
def tell(request: pytest.FixtureRequest) -> Callable[[str], None]:
    """Keep a sentence for the end of the run."""

    def keep(sentence: str) -> None:
        request.node.user_properties.append((PROPERTY, sentence))

    return keep


def pytest_terminal_summary(terminalreporter: Any) -> None:
    reports = [report for state in ("passed", "failed") for report in terminalreporter.stats.get(state, ())]
    told = [words for report in reports for name, words in report.user_properties if name == PROPERTY]
    if told:
        terminalreporter.section("ratios, from this one run")
        for words in told:
            terminalreporter.write_line(words)
