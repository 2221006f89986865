"""What is kept of a judged notebook can't act on the screen of whoever opens it in nbgrader's own pages.

nbconvert and nbgrader's own templates make the pages; Beautiful Soup reads them as a browser would.
"""

from __future__ import annotations

import base64
import struct
import zlib
from pathlib import Path
from typing import Any

import nbgrader
import pytest
from brakecourse.classroom.engine.harmless import MOST_PIXELS, fenced, make_harmless
from brakecourse.classroom.engine.healing import TemplateCell
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st
from nbconvert import HTMLExporter
from nbconvert.filters import markdown2html
from nbformat import NotebookNode, from_dict, validate
from nbformat.v4 import new_code_cell, new_markdown_cell, new_output, new_raw_cell
from traitlets.config import Config

from tests.attacks.on_the_screen import ACT, EVIL, MARKDOWN

TEMPLATES = Path(nbgrader.__file__).parent / "server_extensions" / "formgrader" / "templates"
MARKS = {"schema_version": 3, "grade_id": "q8_9", "grade": True, "solution": True, "locked": False}
TEMPLATE = (TemplateCell("markdown", "*Write here.*", "q8_9", "q8_9", {}, graded=True, answer=True),)


def picture(width: int, height: int) -> str:
    """A real PNG by its specification: signature, header, data, end."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = zlib.compress(b"\x00" * 8)
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0))
    png = b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
    return base64.b64encode(png).decode("ascii")


def new_notebook(cells: list[NotebookNode]) -> NotebookNode:
    """A notebook that nobody has checked."""
    return from_dict({"cells": cells, "metadata": {}, "nbformat": 4, "nbformat_minor": 5})


def harmless(*cells: NotebookNode) -> NotebookNode:
    notebook = new_notebook(cells=list(cells))
    make_harmless(notebook, TEMPLATE)
    return notebook


def graded(text: str) -> NotebookNode:
    return new_markdown_cell(
        text, metadata={"nbgrader": {**MARKS, "points": 4, "task": False, "score": 0, "comment": ""}}
    )


@pytest.fixture(scope="module", params=["formgrade", "feedback"])
def exporter(request: pytest.FixtureRequest) -> HTMLExporter:
    """nbgrader's own page for the teacher, and its page for the student."""
    config = Config()
    config.HTMLExporter.template_name = request.param
    config.HTMLExporter.extra_template_basedirs = [str(TEMPLATES)]
    styles = TEMPLATES.parent / "static" / "node_modules" / "bootstrap" / "dist" / "css"
    config.HTMLExporter.extra_template_paths = [str(styles)]
    return HTMLExporter(config=config)


def page(exporter: HTMLExporter, notebook: NotebookNode) -> BeautifulSoup:
    resources = {
        "assignment_id": "a", "notebook_id": "n", "submission_id": "s", "index": 0, "total": 1,
        "base_url": "", "student": "s01", "last_name": "Q", "first_name": "A", "notebook_path": "n.ipynb",
        "nbgrader": {"score": 0, "max_score": 4, "late_penalty": 0, "notebook": "n"},
    }  # fmt: skip
    html, _ = exporter.from_notebook_node(notebook, resources=resources)
    return BeautifulSoup(html, "html.parser")


def acting(soup: BeautifulSoup) -> list[str]:
    """Everything that could run or load something."""
    found = [str(tag)[:200] for tag in soup.find_all(True) if ACT in str(tag.attrs)]
    for tag in soup.select("#notebook, #notebook-container, body"):
        kinds = "script, iframe, object, embed, form, base, link, meta, svg, style"
        found += [str(one)[:200] for one in tag.select(kinds) if "attacked" in str(one)]
        found += [str(one)[:200] for one in tag.select("a[href^='javascript:'], img[src^=http]")]
    return found


def hostile_cells() -> list[NotebookNode]:
    data: Any = {"text/html": EVIL, "image/svg+xml": EVIL, "application/javascript": ACT, "text/plain": EVIL}
    outputs = [
        new_output("display_data", data=data, metadata={"text/html": {"isolated": True}}),
        new_output("display_data", data={"text/markdown": MARKDOWN, "text/latex": EVIL}),
        new_output("display_data", data={"image/png": f'"><script>{ACT}</script>'}),
        new_output("stream", text=EVIL + "\x1b[31m"),
        new_output("error", ename=EVIL, evalue=EVIL, traceback=[EVIL]),
    ]
    code = new_code_cell(f"# {EVIL}", outputs=outputs)
    return [code, graded(MARKDOWN), new_markdown_cell(MARKDOWN), new_raw_cell(EVIL), new_raw_cell(EVIL)]


def test_the_pages_would_be_live_without_it(exporter: HTMLExporter) -> None:
    assert acting(page(exporter, new_notebook(cells=hostile_cells())))


def test_nothing_acts_on_nbgraders_own_pages(exporter: HTMLExporter) -> None:
    soup = page(exporter, harmless(*hostile_cells()))
    assert acting(soup) == []
    # The scripts are exactly those of the page itself.
    plain = page(exporter, harmless(new_code_cell("1"), graded("*Write here.*")))
    assert [str(tag) for tag in soup.find_all("script")] == [str(tag) for tag in plain.find_all("script")]


def test_the_letter_stays_readable(exporter: HTMLExporter) -> None:
    letter = "Dear Ms Quillstone,\n\nthe rotor is <b>23.1 mm</b> & costs $5, not $6.\n  - keep `it`\n"
    soup = page(exporter, harmless(graded(letter)))
    assert soup.select_one(".text_cell_render pre code").get_text().rstrip("\n") == letter.rstrip("\n")


def test_what_the_course_wrote_stays_as_it_is() -> None:
    own = TemplateCell("markdown", "## 8.1 <b>Read</b>", "q8_1_prompt", "p", {}, graded=False, answer=False)
    cell = new_markdown_cell(own.source, metadata={"nbgrader": {"grade_id": "q8_1_prompt"}})
    empty = graded("*Write here.*")
    notebook = new_notebook(cells=[cell, empty])
    make_harmless(notebook, (*TEMPLATE, own))
    assert [one.source for one in notebook.cells] == ["## 8.1 <b>Read</b>", "*Write here.*"]


def test_real_pictures_stay_and_others_go() -> None:
    real, huge = picture(8, 8), picture(60_000, 60_000)
    outputs = [
        new_output("display_data", data={"image/png": one}) for one in (real, huge, "AAAA", "no", real[:8])
    ]
    (cell,) = harmless(new_code_cell("1", outputs=outputs)).cells
    assert [one["data"] for one in cell.outputs] == [{"image/png": real}]
    assert 8 * 8 < MOST_PIXELS < 60_000**2


def test_half_characters_do_not_stop_the_notebook_from_being_written() -> None:
    half = "a\ud800\x00b"
    outputs = [
        new_output("stream", text=half),
        new_output("error", ename=half, evalue=half, traceback=[half]),
        new_output("display_data", data={"text/plain": half}),
    ]
    notebook = harmless(new_code_cell("1", outputs=outputs))
    validate(notebook)
    assert "a?b" in str(notebook).encode("utf-8").decode() and half not in str(notebook)


@pytest.mark.parametrize(
    ("count", "kept"), [(3, 3), (None, None), (EVIL, None), (True, None), (-1, None), (1e9, None)]
)
def test_a_cells_number_is_a_number(count: Any, kept: int | None) -> None:
    cell = new_code_cell("1")
    cell["execution_count"] = count
    assert harmless(cell).cells[0].execution_count == kept


@given(st.text(alphabet=st.sampled_from("`~<>&/$\\[]()!*_# \n\t=-ab\"'"), max_size=60) | st.text(max_size=30))
def test_any_text_in_a_fence_is_one_block_of_that_text(text: str) -> None:
    soup = BeautifulSoup(markdown2html(fenced(text)), "html.parser")
    tags = [tag.name for tag in soup.find_all(True)]
    assert tags == ["pre", "code"] or (
        tags and tags[:2] == ["div", "pre"] and set(tags) <= {"div", "pre", "span"}
    )
