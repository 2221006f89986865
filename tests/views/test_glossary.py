"""The glossary: sound terms, a page that is up to date, and links where a lesson first uses a word."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse.views.glossary import Term, cells, first_use, link_first_uses, terms
from brakecourse.views.plan import START, lessons

ROOT = Path(__file__).resolve().parents[2]
LESSONS = ROOT / "course" / "lessons"
PRESENT = [LESSONS / f"{lesson}.ipynb" for lesson in lessons() if (LESSONS / f"{lesson}.ipynb").is_file()]
TERMS = {one.term: one for one in terms()}
RUN_OUT, TOTAL = TERMS["run-out"], TERMS["total indicated run-out"]


def maker() -> Any:
    spec = importlib.util.spec_from_file_location("make_pages", ROOT / "tests/notebooks/make_pages.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_there_are_terms_of_the_whole_job() -> None:
    assert len(terms()) >= 60 and len(TERMS) == len(terms())
    assert {lesson for one in terms() for lesson in one.lessons} == set(lessons()) - {START}
    assert [one.term for one in terms()] == sorted(TERMS)


@pytest.mark.parametrize("one", terms(), ids=lambda one: one.term)
def test_a_term_has_an_anchor_that_is_the_same_everywhere_and_a_short_meaning(one: Term) -> None:
    assert re.fullmatch(r"[a-z][a-z0-9-]*( [a-z0-9-]+)*", one.term)
    assert one.meaning[0].isupper() and one.meaning.endswith(".")
    assert len(one.meaning) <= 240 and len(re.findall(r"[.?!](?= |$)", one.meaning)) <= 2
    assert set(one.see_also) <= set(TERMS) - {one.term}
    assert one.lessons and set(one.lessons) <= set(lessons())


def test_the_page_is_up_to_date() -> None:
    stored = nbformat.read(LESSONS / "glossary.ipynb", as_version=4)
    assert [(cell.id, cell.source) for cell in stored.cells] == list(cells()), (
        "Run tests/notebooks/make_pages.py: the glossary's table has changed."
    )
    assert stored == maker().glossary()


def test_the_start_page_lists_the_lessons_that_are_there() -> None:
    notebook = nbformat.read(LESSONS / f"{START}.ipynb", as_version=4)
    (listed,) = (cell.source for cell in notebook.cells if cell.id == "next")
    assert listed == maker().lesson_list(), "Run tests/notebooks/make_pages.py: a lesson was added."
    linked = set(re.findall(r"\]\((\w+)\.ipynb\)", listed))
    assert linked == {path.stem for path in PRESENT} - {START} | {"glossary"}


def test_the_page_has_an_anchor_for_each_term_and_links_that_lead_to_one() -> None:
    text = "\n".join(text for _, text in cells())
    anchors = [heading.replace(" ", "-") for heading in re.findall(r"^### (.+)$", text, re.MULTILINE)]
    assert anchors == [one.anchor for one in terms()]
    assert set(re.findall(r"\]\(#([^)]+)\)", text)) == set(anchors)


@pytest.mark.parametrize("path", PRESENT, ids=lambda path: path.stem)
def test_a_lessons_words_are_linked_at_their_first_use(path: Path) -> None:
    texts = [cell.source for cell in maker().linkable(nbformat.read(path, as_version=4))]
    own = [one for one in terms() if path.stem in one.lessons]
    bare = [one.term for one in own if first_use(one, texts)]
    assert bare == [], f"Run tests/notebooks/make_pages.py {path}: these words have no link: {bare}"
    assert not own or any(f"]({one.address})" in text for one in own for text in texts)


@pytest.mark.parametrize("path", PRESENT, ids=lambda path: path.stem)
def test_a_lessons_links_lead_to_terms(path: Path) -> None:
    text = "\n".join(cell.source for cell in nbformat.read(path, as_version=4).cells)
    assert set(re.findall(r"\]\(glossary\.ipynb#([^)]*)\)", text)) <= {one.anchor for one in terms()}


@pytest.mark.parametrize(
    ("texts", "place"),
    [
        (["The run-out is small."], (0, 4, 11)),
        (["Nothing.", "Run-outs differ."], (1, 0, 8)),
        (["# Run-out\n\nThe run-out"], (0, 15, 22)),
        (["The [run-out](glossary.ipynb#run-out), and run-out again."], None),
        (["The run-out before the [run-out](glossary.ipynb#run-out)."], (0, 4, 11)),
        (["[total indicated run-out](glossary.ipynb#total-indicated-run-out) and run-out"], (0, 70, 77)),
        (["`run-out` in code, $run-out$ and a run-outer or pre-run-out"], None),
        (["No such word."], None),
    ],
)
def test_a_first_use_is_found_in_prose_only(texts: list[str], place: tuple[int, int, int] | None) -> None:
    assert first_use(RUN_OUT, texts) == place


def test_links_are_put_at_first_uses_once_and_longer_terms_are_not_torn() -> None:
    texts = ["Total indicated run-out is the whole run-out.", "Run-out again."]
    linked = link_first_uses("08_rotor_measurement", texts)
    assert linked == [
        f"[Total indicated run-out]({TOTAL.address}) is the whole [run-out]({RUN_OUT.address}).",
        "Run-out again.",
    ]
    assert link_first_uses("08_rotor_measurement", linked) == linked
    assert link_first_uses("01_job_order", texts) == texts
