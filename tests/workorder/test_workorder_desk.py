"""The three calls of a notebook: what they show, what they hand in, and that they never end in an error."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from brakecourse.workorder import hand_in, open_work_order, show
from brakecourse.workorder.desk import ANSWER_MIME

Shown = list[dict[str, Any]]
Beside = Callable[[object], Path]


def test_the_work_order_shows_vehicle_limits_and_questions(
    beside: Beside, shown: Shown, order_data: dict[str, Any]
) -> None:
    beside(order_data)
    open_work_order()
    (bundle,) = shown
    assert set(bundle) == {"text/plain", "text/html"}
    for words in ("Milk float", "LM-99", "Invented.", "13 marks in all", "thing 0.4"):
        assert words in bundle["text/html"]
    assert "Width & height: 2 < 3 mm" in bundle["text/plain"]


def test_words_from_the_file_cannot_become_markup(
    beside: Beside, shown: Shown, order_data: dict[str, Any]
) -> None:
    beside(order_data)
    open_work_order()
    show("0.1")
    hand_in("0.3", "<script>alert(1)</script>")
    html = "".join(bundle["text/html"] for bundle in shown)
    assert "It says &lt;b&gt;moo&lt;/b&gt; &amp; stops." in html
    assert "Place 1 &lt;here&gt;" in html
    assert "<script" not in html and "<b>moo" not in html


def test_a_question_shows_each_drawing_with_its_caption(
    beside: Beside, shown: Shown, order_data: dict[str, Any]
) -> None:
    beside(order_data)
    show("0.1")
    html = shown[0]["text/html"]
    assert html.count("<svg") == html.count("<figcaption") == 3
    assert shown[0]["text/plain"].count("drawing: Place") == 3


def test_a_choice_shows_its_numbered_sentences(
    beside: Beside, shown: Shown, order_data: dict[str, Any]
) -> None:
    beside(order_data)
    show("0.4")
    assert shown[0]["text/html"].count("<li") == 6
    assert "  6. Do it because of reason f." in shown[0]["text/plain"]


@pytest.mark.parametrize(("name", "words"), [("0.2", "One number in mm."), ("0.6", "Your own words")])
def test_other_questions_say_what_they_want(
    beside: Beside, shown: Shown, order_data: dict[str, Any], name: str, words: str
) -> None:
    beside(order_data)
    show(name)
    assert words in shown[0]["text/html"]


def test_the_same_call_shows_the_same(beside: Beside, shown: Shown, order_data: dict[str, Any]) -> None:
    beside(order_data)
    for _ in range(2):
        open_work_order()
        show("0.1")
        hand_in("0.2", 23.41)
    assert shown[:3] == shown[3:]


def test_an_answer_is_handed_in_as_one_bundle(
    beside: Beside, shown: Shown, order_data: dict[str, Any]
) -> None:
    beside(order_data)
    hand_in("0.2", 23.41)
    (bundle,) = shown
    assert list(bundle) == [ANSWER_MIME, "text/plain", "text/html"]
    assert ANSWER_MIME == "application/vnd.brakecourse.answer+json"
    assert bundle[ANSWER_MIME] == {"question": "0.2", "answer": 23.41, "problem": None}
    assert bundle["text/plain"] == "0.2 is handed in: 23.41 mm. You may change it and run both cells again."


def test_an_empty_answer_is_handed_in_as_nothing(
    beside: Beside, shown: Shown, order_data: dict[str, Any]
) -> None:
    beside(order_data)
    hand_in("0.1", None)
    assert shown[0][ANSWER_MIME] == {"question": "0.1", "answer": None, "problem": None}
    assert "0.1 is still empty" in shown[0]["text/html"]


def test_a_wrong_kind_is_handed_in_with_its_sentence(
    beside: Beside, shown: Shown, order_data: dict[str, Any]
) -> None:
    beside(order_data)
    hand_in("0.2", "thick")
    handed = shown[0][ANSWER_MIME]
    assert handed["answer"] == "thick" and "type a number" in handed["problem"]
    assert "Please look:" in shown[0]["text/html"]


@pytest.mark.parametrize("name", ["9.9", None, 0.2, ["0.2"], "0.2 ", "x" * 10_000])
def test_an_unknown_question_is_told(
    beside: Beside, shown: Shown, order_data: dict[str, Any], name: Any
) -> None:
    beside(order_data)
    show(name)
    hand_in(name, 1.0)
    assert "One of the questions 0.1, 0.2" in shown[0]["text/plain"]
    assert shown[1][ANSWER_MIME]["answer"] == 1.0
    assert "was expected, but found" in shown[1][ANSWER_MIME]["problem"]
    assert all(len(bundle["text/plain"]) < 400 for bundle in shown)


def broken_orders(good: dict[str, Any]) -> dict[str, object]:
    def but(**changed: object) -> dict[str, object]:
        return {**good, **changed}

    first = good["questions"][0]
    return {
        "no JSON": "{",
        "empty": "",
        "a list": [],
        "another format": but(format=2),
        "no questions": {key: value for key, value in good.items() if key != "questions"},
        "an unknown kind": but(questions=[{**first, "kind": "riddle"}]),
        "a table without a count": but(questions=[{**first, "count": None}]),
        "a drawing missing": but(drawings={}),
        "a drawing without a picture": but(drawings={"m1": {}}),
        "a range of text": but(questions=[{**first, "low": "low"}]),
        "an endless range": but(questions=[{**first, "high": float("inf")}]),
        "deep": "[" * 100_000,
        "no vehicle": but(vehicle=None),
        "a fact too long": but(vehicle={**good["vehicle"], "facts": [["a", "b", "c"]]}),
    }


@pytest.mark.parametrize("what", list(broken_orders({"questions": [{}], "vehicle": {}})))
def test_a_broken_work_order_is_told_and_answers_still_go_out(
    beside: Beside, shown: Shown, order_data: dict[str, Any], what: str
) -> None:
    beside(broken_orders(order_data)[what])
    open_work_order()
    show("0.1")
    hand_in("0.2", 23.41)
    for bundle in shown:
        assert "work_order.json" in bundle["text/plain"]
        assert "unpack your kit again" in bundle["text/plain"]
        assert bundle["text/plain"].count(". ") == 0, "one sentence"
    assert shown[2][ANSWER_MIME]["answer"] == 23.41


def test_a_missing_work_order_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, shown: Shown) -> None:
    monkeypatch.chdir(tmp_path)
    open_work_order()
    assert "was expected beside this notebook, but it is not there" in shown[0]["text/plain"]


def test_a_folder_in_its_place_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, shown: Shown) -> None:
    (tmp_path / "work_order.json").mkdir()
    monkeypatch.chdir(tmp_path)
    open_work_order()
    assert "cannot be read" in shown[0]["text/plain"]


def test_a_huge_file_is_not_read(
    beside: Beside, shown: Shown, order_data: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    from brakecourse.workorder import order

    monkeypatch.setattr(order, "LARGEST_BYTES", 100)
    beside(order_data)
    open_work_order()
    assert "far too large" in shown[0]["text/plain"]


def test_another_place_can_be_named(beside: Beside, shown: Shown, order_data: dict[str, Any]) -> None:
    path = beside(order_data)
    open_work_order(path)
    open_work_order(str(path.parent))
    assert shown[0] == shown[1]


def test_a_work_order_that_cannot_be_opened_leaves_no_other_one_open(
    beside: Beside, shown: Shown, order_data: dict[str, Any], tmp_path: Path
) -> None:
    beside(order_data)
    open_work_order()
    (tmp_path / "work_order.json").unlink()
    open_work_order()
    show("0.1")
    assert "not there" in shown[2]["text/plain"]


def test_the_room_is_light_and_knows_nothing_of_the_marking() -> None:
    code = (
        "import sys, json; import brakecourse.workorder;"
        "print(json.dumps([name for name in sys.modules if name.split('.')[0] in"
        " ('ipywidgets', 'anywidget', 'numpy', 'pandas', 'pydantic', 'nbgrader', 'matplotlib')"
        " or name.startswith(('brakecourse.marking', 'brakecourse.classroom'))]))"
    )
    found = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    assert json.loads(found.stdout) == []


def test_text_and_background_keep_their_contrast(
    beside: Beside, shown: Shown, order_data: dict[str, Any]
) -> None:
    """Every text sets its own colour and ground, so that a dark page changes nothing."""
    from brakecourse.views.palette import contrast

    beside(order_data)
    open_work_order()
    html = shown[0]["text/html"]
    grounds = set(re.findall(r"background:(#[0-9A-Fa-f]{6})", html))
    inks = set(re.findall(r"(?<![-\w])color:(#[0-9A-Fa-f]{6})", html))
    assert grounds and inks
    assert all(contrast(ink, ground) >= 4.5 for ink in inks for ground in grounds)


def test_listed_steps_come_with_what_to_do(beside: Beside, shown: Shown, order_data: dict[str, Any]) -> None:
    beside(order_data)
    show("0.7")
    (bundle,) = shown
    for form in ("text/plain", "text/html"):
        lead = "The steps are listed in no special order. Give their numbers in the order of work, each once."
        assert lead in bundle[form]
    assert "  2. Lift it <safely>." in bundle["text/plain"]
    assert "<ol" in bundle["text/html"] and "Lift it &lt;safely&gt;." in bundle["text/html"]
    show("0.3")
    assert "no special order" not in shown[-1]["text/html"]
