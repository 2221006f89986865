"""The page that goes back: all that belongs on it is there, and nothing a student wrote is live HTML.

An HTML parser of the general kind (Beautiful Soup) reads the page as a browser would.
"""

from __future__ import annotations

import errno
import json
import re
from pathlib import Path
from typing import Any

import pytest
from brakecourse.classroom import files
from brakecourse.classroom.collect import collect
from brakecourse.classroom.engine import excuse, grade, set_hand_mark
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.feedback import give_back
from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError
from bs4 import BeautifulSoup

from tests.classroom.engine_class import (
    HANDED_IN,
    MODULE,
    answer_cell,
    case_of,
    cell_of,
    filled,
    fresh_class,
    graded_class,
    hand_in,
    released,
    right_answers,
)
from tests.classroom.shared_farm import shared_farm

pytestmark = pytest.mark.sandbox
EVIL = "<script>alert(1)</script><img src=x onerror=alert(2)>\" onload='x' {{ 7*7 }}"


def page_of(cls: ClassFolder, student: str) -> BeautifulSoup:
    return BeautifulSoup(cls.feedback_page(MODULE, student).read_text(encoding="utf-8"), "html.parser")


def words(soup: Any) -> str:
    return " ".join(soup.get_text(" ").split())


@pytest.fixture(scope="module")
def given_back(tmp_path_factory: pytest.TempPathFactory) -> tuple[ClassFolder, dict[str, str]]:
    """A class whose pages were written; no test changes it."""
    cls, who = graded_class(tmp_path_factory.mktemp("pages"))
    cls = cls.with_due(MODULE, HANDED_IN.replace(hour=1))
    set_hand_mark(cls, MODULE, who["copied"], "8.9", 1, f"Say more. {EVIL}")
    excuse(cls, MODULE, who["empty"])
    told: list[tuple[int, int, str]] = []
    pages = give_back(cls, MODULE, progress=lambda *news: told.append(news))
    assert [path.parent.name for path in pages] == [
        who[s] for s in ("right", "some wrong", "broken", "loop", "deleted", "copied")
    ]
    assert told[-1] == (6, 6, who["copied"])
    return cls, who


def test_each_answer_is_there_with_what_was_expected(given_back: tuple[ClassFolder, dict[str, str]]) -> None:
    cls, who = given_back
    soup = page_of(cls, who["some wrong"])
    assert [article["id"] for article in soup.find_all("article")] == [f"q8.{n}" for n in range(1, 10)]
    case = case_of(cls, who["some wrong"])
    run_out = case.question("8.4")
    section = words(soup.find(id="q8.4"))
    assert "Partly right, 3 of 6 points" in section
    assert f"{run_out.expected:.2f} mm" in section and "It may be off by" in section
    assert "half of the total" in section  # the named mistake, in words
    assert "How it follows." in section and "Read again. Lesson 08, part 5" in section
    readings = soup.find(id="q8.1")
    assert len(readings.select("li.off")) == 4
    expected = case.question("8.1").expected
    for place, item in enumerate(readings.select("ul.drawings > li")[:8]):
        text = words(item)
        assert f"Place {place + 1}," in text
        if place < 4:
            assert f"You gave {expected[place] + 0.5:.6g} mm" in text
            assert f"The gauge shows {expected[place]:.2f} mm" in text


def test_the_students_own_drawings_stand_at_their_question(
    given_back: tuple[ClassFolder, dict[str, str]],
) -> None:
    cls, who = given_back
    soup = page_of(cls, who["right"])
    order = case_of(cls, who["right"]).work_order()
    for question in order["questions"]:
        captions = [
            figure.figcaption.get_text() for figure in soup.find(id=f"q{question['id']}").find_all("figure")
        ]
        assert sorted(captions) == sorted(order["drawings"][name]["caption"] for name in question["drawings"])
    other = case_of(cls, who["loop"]).work_order()["drawings"]["m1"]["svg"]
    html = cls.feedback_page(MODULE, who["right"]).read_text(encoding="utf-8")
    assert order["drawings"]["m1"]["svg"] in html and other not in html


def test_names_in_the_page_are_unique_and_links_lead_somewhere(
    given_back: tuple[ClassFolder, dict[str, str]],
) -> None:
    cls, who = given_back
    soup = page_of(cls, who["some wrong"])
    ids = [tag["id"] for tag in soup.find_all(id=True)]
    assert len(ids) == len(set(ids))
    for tag in soup.find_all(attrs={"aria-labelledby": True}):
        assert set(tag["aria-labelledby"].split()) <= set(ids)
    assert {link["href"].removeprefix("#") for link in soup.find_all("a")} <= set(ids)


def test_totals_lateness_and_waiting_are_said(given_back: tuple[ClassFolder, dict[str, str]]) -> None:
    cls, who = given_back
    waiting = words(page_of(cls, who["right"]).header) + words(
        page_of(cls, who["right"]).find(class_="notes")
    )
    assert "36 points so far" in waiting and "4 of 40 still to be marked" in waiting
    assert "Question 8.9 is marked by a person. You handed in 1 day late" in waiting
    late = words(page_of(cls, who["deleted"]).header)
    assert "32.4 of 40 points" in late and "Points for your answers 36" in late and "1 day late −3.6" in late
    assert "Handed in 2 March 2026, 09:00; due 2 March 2026, 01:00 (UTC)." in words(
        page_of(cls, who["right"]).footer
    )


def test_what_was_put_right_and_what_went_wrong_are_said(
    given_back: tuple[ClassFolder, dict[str, str]],
) -> None:
    cls, who = given_back
    assert "The hand-in cell of question 8.4 was missing; it was put back." in words(
        page_of(cls, who["deleted"])
    )
    assert "was stopped after 2 seconds" in words(page_of(cls, who["loop"]).find(class_="notes"))
    broken = words(page_of(cls, who["broken"]))
    assert "This could not be graded" in broken and "can't be read as a notebook" in broken
    assert not page_of(cls, who["broken"]).find_all("article")


def test_each_healed_fault_is_listed_for_the_student(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    copied, renamed, other = (filled(released(cls), right_answers(cls, who)) for who in cls.student_ids)
    copied.cells.append({**answer_cell(copied, "8.2"), "id": "copy"})
    copied.cells.remove(cell_of(copied, "q8_4"))
    other.metadata["kernelspec"] = {"name": "julia-1.9", "display_name": "Julia", "language": "julia"}
    inbox = tmp_path / "inbox"
    names = ("s01/08_rotor_measurement.ipynb", "s02/homework <b>final<b>.ipynb", "s03.ipynb")
    for name, notebook in zip(names, (copied, renamed, other), strict=True):
        (inbox / name).parent.mkdir(parents=True, exist_ok=True)
        (inbox / name).write_text(json.dumps(notebook), encoding="utf-8")
    collect(cls, MODULE, inbox, received_at=HANDED_IN)
    grade(cls, MODULE, farm=shared_farm())
    give_back(cls, MODULE)
    listed = {
        who: [item.get_text() for item in page_of(cls, who).select(".note li")] for who in cls.student_ids
    }
    assert listed == {
        "s01": [
            "The answer cell of question 8.2 was there more than once; the last one filled in counts.",
            "The hand-in cell of question 8.4 was missing; it was put back.",
        ],
        "s02": ["The notebook was called 'homework <b>final<b>.ipynb'; it was taken as the exercise."],
        "s03": ["The notebook asked for the kernel 'julia-1.9'; it was run with the course's Python 3."],
    }
    assert "Put right before it was marked" in words(page_of(cls, "s02"))
    # None of them costs a point.
    assert all("36 of 40 points" in words(page_of(cls, who).header) for who in cls.student_ids)


def test_a_comment_given_by_hand_is_shown_as_text(given_back: tuple[ClassFolder, dict[str, str]]) -> None:
    cls, who = given_back
    hand = page_of(cls, who["copied"]).find(id="q8.9").find(class_="hand")
    assert "Your instructor gave 1 of 4 points. Say more." in words(hand)
    assert EVIL in hand.get_text()
    assert hand.find("script") is None


def test_nothing_a_student_wrote_is_live(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    notebook = filled(
        released(cls), {"8.8": EVIL, "8.5": ["<b>", EVIL], "8.1": [EVIL] * 8, "8.4": f"={EVIL!r}"}, EVIL
    )
    answer_cell(notebook, "8.6").source = f"while True: pass  # {EVIL}"
    hand_in(cls, "s01", notebook, name=f"{MODULE} <img src=x>")
    grade(cls, MODULE, limits=Limits(cell_s=2), farm=shared_farm())
    html = give_back(cls, MODULE)[0].read_text(encoding="utf-8")
    soup = BeautifulSoup(html, "html.parser")
    assert not soup.find_all(["script", "img", "iframe", "object", "embed", "form", "base", "link"])
    for tag in soup.find_all(True):
        assert not [name for name in tag.attrs if name.lower().startswith("on")], tag
    assert "alert(1)" in soup.get_text() and "{{ 7*7 }}" in soup.get_text()
    assert "default-src 'none'" in soup.find("meta", attrs={"http-equiv": True})["content"]
    assert not re.search(r"""(href|src)=["'](?!#)""", html)


def test_a_right_answer_in_words_is_shown_whole(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    answers = right_answers(cls, "s01")
    hand_in(cls, "s01", filled(released(cls), answers))
    grade(cls, MODULE, farm=shared_farm())
    give_back(cls, MODULE)
    assert words(page_of(cls, "s01").find(id="q8.8")).count(answers["8.8"]) >= 2  # given, and expected


def test_nothing_graded_and_no_room_are_one_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cls = fresh_class(tmp_path)
    hand_in(cls, "s01", b"junk")
    with pytest.raises(CourseError, match="No work of module 08_rotor_measurement was graded yet"):
        give_back(cls, MODULE)
    grade(cls, MODULE, farm=shared_farm())

    def full(*_: Any) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(files.os, "fsync", full)
    with pytest.raises(CourseError, match="No space left on device"):
        give_back(cls, MODULE)
    assert not list((cls.root / "feedback").rglob("*.html"))


def test_a_lost_case_costs_the_drawings_and_not_the_page(tmp_path: Path) -> None:
    cls, who = graded_class(tmp_path)
    cls.case_file(MODULE, who["right"]).write_text("{}")
    give_back(cls, MODULE)
    soup = page_of(cls, who["right"])
    assert len(soup.find_all("article")) == 9 and not soup.find_all("figure")
    assert "8 of 8 points" in words(soup.find(id="q8.1"))
