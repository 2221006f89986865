"""Lessons on paper: HTML that asks nothing of anybody, PDF where there is a browser, words where not."""

from __future__ import annotations

import json
import re
import shutil
from html.parser import HTMLParser
from pathlib import Path

import nbformat
import pytest
from brakecourse.cli import main, printing
from brakecourse.cli.printing import LESSONS, find_browser, notebooks, printed
from brakecourse.views.printing import LIVE, for_paper, save_page, sheet_of

PAGES = sorted(LESSONS.glob("*.ipynb"))


class Page(HTMLParser):
    """What a browser would fetch or run, and the words it would show."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.fetched: list[str] = []
        self.tags: list[str] = []
        self.words = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.fetched += [value or "" for name, value in attrs if name in ("src", "srcset", "data")]
        if tag == "link":
            self.fetched += [value or "" for name, value in attrs if name == "href"]

    def handle_data(self, data: str) -> None:
        self.words += data


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_every_lesson_becomes_a_page_that_needs_nothing(path: Path) -> None:
    paper = printed(path)
    page = Page(paper)
    assert all(one.startswith("data:image/svg+xml") for one in page.fetched)
    assert not {"script", "iframe", "link", "object"} & set(page.tags)
    assert LIVE not in page.words and ".ipynb" not in paper.replace(" .ipynb", "")
    drawn = sum(
        "image/svg+xml" in output.get("data", {})
        for cell in nbformat.read(path, 4).cells
        for output in cell.get("outputs", [])
    )
    pictures = page.tags.count("img") + page.tags.count("svg")
    assert pictures >= drawn
    if path.stem.startswith("08"):
        assert drawn > 8 and "Thickness and run-out" in page.words.replace("thickness", "Thickness")


def test_the_job_sheet_is_its_one_drawing() -> None:
    page = Page(printed(LESSONS / "job_sheet.ipynb"))
    assert page.tags.count("svg") == 1 and "h2" not in page.tags
    assert "Discard thickness of the rotor" in page.words


def test_what_is_stored_is_not_changed_and_live_controls_are_left_out() -> None:
    stored = {
        "cells": [
            {"cell_type": "markdown", "source": ["[x](08_a.ipynb#y)"]},
            {
                "cell_type": "code",
                "source": "",
                "outputs": [
                    {"data": {"application/vnd.jupyter.widget-view+json": {}, "text/html": f"A. {LIVE}"}}
                ],
            },
        ]
    }
    before = json.dumps(stored)
    made = for_paper(stored)
    assert json.dumps(stored) == before
    assert made["cells"][0]["source"] == "[x](08_a.html#y)"
    assert made["cells"][1]["outputs"][0]["data"] == {"text/html": "A."}
    with pytest.raises(ValueError, match="shows no drawing yet"):
        sheet_of({"cells": []})


def test_the_command_writes_pages_and_says_what_to_do_next(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["print", "08_rotor_measurement", "job_sheet", "--into", str(tmp_path / "out")]) == 0
    said = capsys.readouterr().out
    assert "2 pages as HTML" in said and "Next: open a page in your browser" in said
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == [
        "08_rotor_measurement.html",
        "job_sheet.html",
    ]


@pytest.mark.slow
@pytest.mark.skipif(
    not any(map(shutil.which, printing._BROWSERS)), reason="no Chromium on this machine to write a PDF"
)
def test_the_job_sheet_fits_one_page_of_a_pdf(tmp_path: Path) -> None:
    assert main(["print", "job_sheet", "--to", "pdf", "--into", str(tmp_path)]) == 0
    pdf = (tmp_path / "job_sheet.pdf").read_bytes()
    assert pdf.startswith(b"%PDF") and len(re.findall(rb"/Type\s*/Page\b[^s]", pdf)) == 1
    assert [path.name for path in tmp_path.iterdir()] == ["job_sheet.pdf"]


def test_all_means_every_page_once() -> None:
    assert notebooks(["all", "08_rotor_measurement"]) == PAGES


def test_trouble_is_told_in_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    broken, here = tmp_path / "broken.ipynb", tmp_path / "a_file"
    broken.write_text("{not a notebook", encoding="utf-8")
    here.write_text("x", encoding="utf-8")
    monkeypatch.setattr(printing, "_BROWSERS", ("no-such-browser",))
    for arguments, words in (
        (["no_such_lesson"], "There is no lesson 'no_such_lesson'"),
        (["job_sheet", "--to", "paper"], "--to must be html or pdf"),
        ([str(broken)], "cannot be read as a notebook"),
        (["job_sheet", "--into", str(here)], "is a file, not a folder"),
        (["job_sheet", "--to", "pdf"], "A PDF needs the Chromium browser"),
    ):
        assert main(["print", *arguments, *([] if "--into" in arguments else ["--into", str(tmp_path)])]) == 1
        said = capsys.readouterr().err
        assert words in said and said.count("\n") == 1 and "Traceback" not in said
    with pytest.raises(Exception, match="A PDF needs"):
        find_browser()


def test_a_browser_that_writes_nothing_leaves_the_old_pdf(tmp_path: Path) -> None:
    old = tmp_path / "job_sheet.pdf"
    old.write_bytes(b"%PDF old")
    nothing = shutil.which("true")
    assert nothing
    with pytest.raises(Exception, match="wrote no PDF"):
        printing.write_pdf("<p>x</p>", old, nothing)
    assert old.read_bytes() == b"%PDF old"


def test_a_saved_page_never_covers_another(tmp_path: Path) -> None:
    assert "page.html" in save_page(tmp_path, "page", "one")
    assert "page_2.html" in save_page(tmp_path, "page", "two")
    assert (tmp_path / "page.html").read_text("utf-8") == "one"
    assert save_page(tmp_path / "gone", "page", "x").startswith("The page was not saved")
