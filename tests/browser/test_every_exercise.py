"""Each exercise as its student meets it: opened beside its work order in JupyterLab, run, and answered.

The exercises are found, not listed. How an answer is marked is the business of the marking's tests.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from brakecourse import marking
from playwright.sync_api import expect

from tests.browser.checker import look

EXERCISES = Path(__file__).resolve().parents[2] / "exercises"
OURS = {"include": [".jp-OutputArea-output"], "exclude": [".jp-InputArea"]}
RULES = ["image-alt", "svg-img-alt", "link-name", "td-headers-attr", "list", "listitem"]
_TOO_WIDE = """() => [...document.querySelectorAll(".jp-OutputArea-output")]
  .filter(one => one.scrollWidth > one.clientWidth + 1).map(one => one.textContent.slice(0, 80))"""
_NAMELESS = """() => [...document.querySelectorAll(".jp-OutputArea-output svg")]
  .filter(one => !one.querySelector("title")?.textContent).length"""


@pytest.mark.parametrize("module", marking.MODULES)
def test_an_exercise_runs_reads_well_and_takes_an_answer(
    module: str, window: Any, server: Any, pictures: Any
) -> None:
    folder = server.root / f"exercise-{module}"
    shutil.copytree(EXERCISES / module, folder, dirs_exist_ok=True)
    window.open_next(f"{folder.name}/{module}.ipynb")
    window.run_all()
    page = window.page
    machine = [one for one in marking.questions(module) if one.kind not in ("written", "task")]

    # Every hand-in cell answers in a sentence, and the work order and the drawings are on the page.
    expect(page.get_by_text("is still empty: fill in the cell above")).to_have_count(len(machine))
    expect(page.get_by_text(f"Work order: {marking.catalogue.title(module)}")).to_have_count(1)
    assert look(page, OURS, RULES).wrong == []
    assert page.evaluate(_TOO_WIDE) == []
    assert page.evaluate(_NAMELESS) == 0
    pictures.take_each(page.locator(".jp-OutputArea-output"), module)

    # A number typed in the place of None is understood and handed in, or told what it should be.
    asked = next(one for one in machine if one.kind == "number")
    cell = page.locator(f".jp-CodeCell:has-text('hand_in(\"{asked.id}\"')")
    answer = page.locator(".jp-CodeCell", has_text="= None").nth([one.id for one in machine].index(asked.id))
    name = answer.locator(".cm-line", has_text="= None").first.inner_text().split(" = ")[0]
    answer.locator(".cm-content").click()
    page.keyboard.press("Control+A")
    page.keyboard.type(f"{name} = {asked.low:g}")
    page.keyboard.press("Shift+Enter")
    cell.locator(".cm-content").click()
    page.keyboard.press("Shift+Enter")
    expect(cell.get_by_text(f"{asked.id} is handed in: ")).to_have_count(1)
