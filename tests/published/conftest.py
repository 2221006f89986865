"""The comparison that these tests share, and the table that ends a run of them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.published.comparison import PROPERTY, Compare, Row, table

HERE = Path(__file__).resolve().parent


@pytest.fixture
def compare(request: pytest.FixtureRequest) -> Compare:
    """What a test compares with; its rows travel with the test's report, also from another process."""
    return Compare(request.node.user_properties)


def asked_for(words: list[str], start: Path) -> bool:
    """Whether a run names this folder, or something in it: only then is the table printed."""
    paths = [(start / word.split("::")[0]).resolve() for word in words]
    return any(path == HERE or HERE in path.parents for path in paths)


def pytest_terminal_summary(terminalreporter: Any, config: pytest.Config) -> None:
    reports = [report for state in ("passed", "failed") for report in terminalreporter.stats.get(state, ())]
    kept = [value for report in reports for name, value in report.user_properties if name == PROPERTY]
    if kept and asked_for(list(config.args), config.invocation_params.dir):
        rows = sorted((Row(**value) for value in kept), key=lambda row: (row.function, row.quantity))
        terminalreporter.section(f"the course's numbers beside published ones: {len(rows)}")
        for line in table(rows):
            terminalreporter.write_line(line)
