"""A work order to try: a small one, with a question of every kind, none from a real module."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from brakecourse.workorder import desk
from brakecourse.workorder.order import Question, parse

SVG = '<svg xmlns="http://www.w3.org/2000/svg" role="img"><title>A gauge</title></svg>'


def _asked(name: str, kind: str, **more: Any) -> dict[str, Any]:
    empty = {
        "unit": "",
        "low": None,
        "high": None,
        "count": None,
        "labels": [],
        "choices": [],
        "drawings": [],
    }
    return {"id": name, "kind": kind, "short": f"thing {name}", **empty, "points": 2, **more}


def plain_order() -> dict[str, Any]:
    """Return the work order as plain data, new each time."""
    places = [f"place {place}" for place in range(1, 4)]
    mm = {"unit": "mm", "low": 0, "high": 60}
    return {
        "format": 1,
        "course_version": "0.0.0",
        "module": "00_try",
        "title": "A try",
        "student": "s01",
        "attempt": 1,
        "vehicle": {"name": "milk float", "fleet_number": "LM-99", "facts": [["Width & height", "2 < 3 mm"]]},
        "complaint": "It says <b>moo</b> & stops.",
        "notes": ["Invented."],
        "drawings": {f"m{place}": {"svg": SVG, "caption": f"Place {place} <here>"} for place in range(1, 4)},
        "questions": [
            _asked("0.1", "table", count=3, labels=places, drawings=["m1", "m2", "m3"], **mm),
            _asked("0.2", "number", **mm),
            _asked("0.3", "choice", choices=["within", "outside", "too close to call"]),
            _asked("0.4", "choice", choices=[f"Do it because of reason {name}." for name in "abcdef"]),
            _asked("0.5", "number", unit="%", low=0, high=100, points=1),
            _asked("0.6", "written"),
            _asked("0.7", "sequence", choices=["Lower it.", "Lift it <safely>.", "Work on it."]),
        ],
    }


@pytest.fixture
def order_data() -> dict[str, Any]:
    return plain_order()


@pytest.fixture(scope="session")
def questions() -> dict[str, Question]:
    return parse(plain_order()).questions


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, Any]]:
    """Whatever a call of the notebook displays."""
    bundles: list[dict[str, Any]] = []

    def display(bundle: dict[str, Any], raw: bool) -> None:
        assert raw
        bundles.append(bundle)

    monkeypatch.setattr(desk, "display", display)
    monkeypatch.setattr(desk, "_open", None)
    return bundles


@pytest.fixture
def beside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[object], Path]:
    """Puts a work order beside the notebook: plain data, or a text as it is."""
    monkeypatch.chdir(tmp_path)

    def put(content: object) -> Path:
        path = tmp_path / "work_order.json"
        text = content if isinstance(content, str) else json.dumps(content)
        path.write_text(text, encoding="utf-8", errors="surrogatepass")
        return path

    return put
