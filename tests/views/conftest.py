"""What the tests of the views share: controls that cost little."""

from __future__ import annotations

import ipywidgets as widgets
import pytest


@pytest.fixture
def somebody_listens() -> None:
    """Let controls tell a page of themselves: for tests of what they tell, and of how long it all takes."""


@pytest.fixture(autouse=True)
def nobody_listens(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Make controls that do not tell a page of themselves, which takes most of the time that they take.

    What they tell is written out where every control of every activity is used
    (`test_every_activity.py`), and again where a browser shows the lessons.
    """
    if "somebody_listens" not in request.fixturenames:
        monkeypatch.setattr(widgets.Widget, "open", lambda _: None)
