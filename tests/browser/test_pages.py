"""The other ways to a lesson: not run yet, in the plain Notebook, and the start page."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from playwright.sync_api import expect


def test_a_lesson_that_was_not_run_shows_every_picture(lab: Any, pictures: Path) -> None:
    """A fresh copy is not trusted yet: JupyterLab cleans its outputs, and the pictures must survive that."""
    lab.open("08_rotor_measurement.ipynb")
    figures = lab.page.locator(".jp-OutputArea-output figure img")
    expect(figures).to_have_count(15)
    for figure in figures.all():
        figure.scroll_into_view_if_needed()
        figure.evaluate("image => image.decode()")
        assert figure.evaluate(
            "image => image.naturalWidth > 100 && image.getBoundingClientRect().width > 300"
        )
    expect(lab.page.get_by_text("Run this cell to use it.")).to_have_count(10)
    lab.page.screenshot(path=pictures / "not_run.png")


def test_the_plain_notebook_works_too(lab: Any) -> None:
    """There the notebook takes the arrow keys first, so this is where the helper matters most."""
    lab.open("08_rotor_measurement.ipynb", view="notebooks")
    lab.run_all()
    box, cells = lab.activity("Turn the rotor under the dial"), lab.cells()
    box.get_by_role("slider", name="Turn the rotor, in degrees").focus()
    for key in ("ArrowRight", "ArrowRight", "d", "d", "x"):
        lab.page.keyboard.press(key)
    expect(box.locator(".bc-caption")).to_have_text(re.compile("turned 2°"))
    assert lab.cells() == cells


def test_the_start_page_takes_an_answer_and_shows_progress(lab: Any, pictures: Path) -> None:
    lab.open("00_start_here.ipynb")
    lab.run_all()
    replies = lab.page.locator(".jp-OutputArea-output", has_text="0.1 is still empty")
    expect(replies).to_have_count(1)
    lab.page.evaluate(
        """() => {
          const cells = jupyterapp.shell.currentWidget.content.model.cells;
          for (let i = 0; i < cells.length; i++) {
            const source = cells.get(i).sharedModel;
            if (source.getSource().startsWith('reading_mm = None')) source.setSource('reading_mm = 7.32');
          }
        }"""
    )
    lab.run_all()
    handed = lab.page.locator(".jp-OutputArea-output", has_text="0.1 is handed in: 7.32 mm")
    expect(handed).to_have_count(1)

    tour = lab.activity("Set a micrometer")
    tour.get_by_role("button", name="Check", exact=True).click()
    expect(tour.locator(".bc-reply p")).to_have_text(re.compile("^Not yet"))
    mine = lab.activity("My progress")
    mine.get_by_role("button", name="Erase my progress").click()
    expect(mine.locator(".bc-reply p")).to_have_text(re.compile("cannot be undone"))
    mine.get_by_role("button", name="Yes, erase it").click()
    expect(mine.locator(".bc-reply p")).to_have_text("Your progress is erased.")
    expect(mine.locator(".bc-caption")).to_have_text(re.compile("Nothing is recorded yet"))
    assert not (lab.server.root / "progress.json").exists()
    mine.screenshot(path=pictures / "my_progress.png")
