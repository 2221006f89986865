"""The other ways to a lesson: not run yet, and the start page."""

from __future__ import annotations

import re
import shutil
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

LESSONS = Path(__file__).resolve().parents[2] / "course" / "lessons"


def test_a_lesson_that_was_not_run_shows_every_picture(window: Any, pictures: Any) -> None:
    """A fresh copy is not trusted yet: JupyterLab cleans its outputs, and the pictures must survive that."""
    shutil.copy(LESSONS / "08_rotor_measurement.ipynb", window.server.root / "not_run.ipynb")
    window.open_next("not_run.ipynb")
    figures = window.page.locator(".jp-OutputArea-output figure img")
    expect(figures).to_have_count(15)
    for figure in figures.all():
        figure.scroll_into_view_if_needed()
        figure.evaluate("image => image.decode()")
        assert figure.evaluate(
            "image => image.naturalWidth > 100 && image.getBoundingClientRect().width > 300"
        )
    expect(window.page.get_by_text("Run this cell to use it.")).to_have_count(10)
    pictures.take(window.page.locator(".jp-Notebook"), "not_run")
    window.run_all()  # over the outputs that were stored
    expect(window.page.get_by_text("Run this cell to use it.")).to_have_count(0)
    expect(window.page.locator(".bc-activity")).to_have_count(10)


def test_the_start_page_takes_an_answer_and_shows_progress(window: Any, pictures: Any) -> None:
    window.open_next("00_start_here.ipynb")
    window.run_all()
    replies = window.page.locator(".jp-OutputArea-output", has_text="0.1 is still empty")
    expect(replies).to_have_count(1)
    window.page.evaluate(
        """() => {
          const cells = jupyterapp.shell.currentWidget.content.model.cells;
          for (let i = 0; i < cells.length; i++) {
            const source = cells.get(i).sharedModel;
            if (source.getSource().startsWith('reading_mm = None')) source.setSource('reading_mm = 7.32');
          }
        }"""
    )
    window.run_all()
    handed = window.page.locator(".jp-OutputArea-output", has_text="0.1 is handed in: 7.32 mm")
    expect(handed).to_have_count(1)

    tour = window.activity("Set a micrometer")
    tour.get_by_role("button", name="Check", exact=True).click()
    expect(tour.locator(".bc-reply p")).to_have_text(re.compile("^Not yet"))
    mine = window.activity("My progress")
    mine.get_by_role("button", name="Erase my progress").click()
    expect(mine.locator(".bc-reply p")).to_have_text(re.compile("cannot be undone"))
    mine.get_by_role("button", name="Yes, erase it").click()
    expect(mine.locator(".bc-reply p")).to_have_text("Your progress is erased.")
    expect(mine.locator(".bc-caption")).to_have_text(re.compile("Nothing is recorded yet"))
    assert not (window.server.root / "progress.json").exists()
    pictures.take(mine, "my_progress")
