"""The page that goes back to a student, in a real browser: an accessibility checker, a phone, a printer."""

from __future__ import annotations

from pathlib import Path

import pytest
from brakecourse.classroom.engine import set_hand_mark
from brakecourse.classroom.feedback import give_back
from playwright.sync_api import Browser

from tests.browser.checker import look
from tests.classroom.engine_class import MODULE, graded_class

pytestmark = pytest.mark.sandbox
PHONE_PX = 400


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The pages of a class by the sort of submission."""
    cls, who = graded_class(tmp_path_factory.mktemp("pages"))
    set_hand_mark(cls, MODULE, who["some wrong"], "8.9", 1, "Say what the driver should do.")
    give_back(cls, MODULE)
    return {sort: cls.feedback_page(MODULE, student) for sort, student in who.items()}


@pytest.mark.parametrize("sort", ["right", "some wrong", "empty", "broken"])
def test_an_accessibility_checker_finds_nothing(chromium: Browser, pages: dict[str, Path], sort: str) -> None:
    page = chromium.new_page(bypass_csp=True)
    page.goto(pages[sort].as_uri())
    looked = look(page)
    page.close()
    assert looked.wrong == []
    assert looked.passed


def test_it_fits_a_phone_and_loads_nothing(chromium: Browser, pages: dict[str, Path]) -> None:
    page = chromium.new_page(viewport={"width": PHONE_PX, "height": 800})
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.goto(pages["some wrong"].as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE_PX
    assert asked == [pages["some wrong"].as_uri()]
    assert complaints == []
    page.close()


def test_it_prints_on_few_sheets(chromium: Browser, pages: dict[str, Path]) -> None:
    page = chromium.new_page()
    page.goto(pages["some wrong"].as_uri())
    printed = page.pdf(format="A4", prefer_css_page_size=True)
    page.close()
    assert 2 <= printed.count(b"/Type /Page\n") + printed.count(b"/Type /Page ") <= 8
