"""An instructor's whole day by clicking in JupyterLab: from the class list to what to teach again.

Three invented students and module 08. Grading is the real one, in the sandbox.
"""

from __future__ import annotations

import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import axe_playwright_python
import pytest
from brakecourse.classroom.folder import open_class
from nbgrader.api import Gradebook
from playwright.sync_api import Browser, Locator, Route, expect

from tests.browser.conftest import Lab, Pictures, Server
from tests.conftest import needed
from tests.desks.filled_work import LETTER, hand_in_work

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
DESK = Path(__file__).resolve().parents[2] / "course" / "desks" / "instructor.ipynb"
MODULE = "08_rotor_measurement"
ROSTER = """student_id,first_name,last_name,email
s01,Amara,Quillstone,s01@class.example
s02,Bruno,Fennimoor,s02@class.example
s03,Chiyo,Larkenfield,s03@class.example
"""
LONG_MS = 120_000

pytestmark = [pytest.mark.sandbox, pytest.mark.slow, pytest.mark.timeout(600)]


@pytest.fixture(scope="module")
def desks(server: Server) -> Path:
    """A folder with the desk's notebook and a class list, in the server's own folder."""
    folder = server.root / "desks"
    folder.mkdir()
    shutil.copy(DESK, folder)
    (folder / "autumn.csv").write_text(ROSTER, encoding="utf-8")
    return folder


@pytest.fixture
def lab(chromium: Browser, server: Server) -> Iterator[Lab]:
    """A window of its own, which reaches nothing beyond this computer."""
    context = chromium.new_context(viewport={"width": 1400, "height": 1000}, accept_downloads=True)
    context.set_default_timeout(30_000)
    abroad: list[str] = []

    def at_home(route: Route) -> None:
        if urlsplit(route.request.url).hostname in {None, "127.0.0.1"}:
            route.continue_()
            return
        abroad.append(route.request.url)
        route.abort()

    context.route("**/*", at_home)
    lab = Lab(context.new_page(), server)
    yield lab
    lab.turn_page()
    context.close()
    assert not abroad, abroad


class Desk:
    """What a person does at the desk, as short verbs."""

    def __init__(self, lab: Lab, pictures: Pictures) -> None:
        self.lab, self.pictures = lab, pictures
        self.box = lab.page.locator(".bc-desk")

    def turn_to(self, name: str) -> None:
        """Open a page with the keyboard."""
        button = self.box.get_by_role("navigation").get_by_role("button", name=name, exact=True)
        button.focus()
        button.press("Enter")
        expect(button).to_have_attribute("aria-current", "page")
        expect(self.page.locator(".bc-page-title")).to_have_text(name, timeout=LONG_MS)

    @property
    def page(self) -> Locator:
        return self.box.locator(".bc-page")

    def press(self, name: str, nth: int = 0) -> None:
        self.page.get_by_role("button", name=name, exact=True).nth(nth).click()

    def fill(self, name: str, value: str) -> None:
        field = self.page.get_by_label(name, exact=True).filter(visible=True).first
        field.fill(value)
        field.press("Tab")

    def choose(self, name: str, words: str) -> None:
        self.page.get_by_label(name, exact=True).filter(visible=True).first.select_option(label=words)

    def hears(self, words: str) -> None:
        """See words in the message line, where a screen reader announces them."""
        line = self.box.locator(".bc-reply")
        expect(line.get_by_role("status")).to_contain_text(words, timeout=LONG_MS)

    def looks_right(self, name: str) -> None:
        """Take a picture, and let the accessibility checker look at the page."""
        page = self.lab.page
        if self.pictures.folder is not None:
            before = page.viewport_size or {"width": 1400, "height": 1000}
            page.set_viewport_size({**before, "height": 3400})  # the whole page in one picture
            page.wait_for_timeout(300)
            self.pictures.take(self.box, name)
            page.set_viewport_size(before)
        page.evaluate(AXE)
        found = page.evaluate("axe.run({include: ['.bc-desk']}).then(one => one.violations)")
        told = [(one["id"], [node["html"][:160] for node in one["nodes"][:3]]) for one in found]
        assert not told, told


def test_a_day_at_the_desk(lab: Lab, desks: Path, pictures: Pictures, tmp_path: Path) -> None:
    needed("sandbox")
    lab.open("desks/instructor.ipynb")
    cells = lab.cells()
    lab.run_all()
    desk = Desk(lab, pictures)
    made_class(desk)
    cls = open_class(desks / "classes" / "autumn-evening-class")
    handed_out(desk, tmp_path)
    inbox = hand_in_work(open_class(cls.root), MODULE, {"s01": {}}, desks / "inbox")
    upload = hand_in_work(open_class(cls.root), MODULE, {"s02": {"8.3": 99.0}}, tmp_path / "s02")
    taken_in(desk, inbox, next(upload.glob("*.ipynb")))
    graded(desk)
    marked_by_hand(desk)
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as book:
        assert book.find_grade("q8_9", MODULE, MODULE, "s01").manual_score == 2.5
    seen_on_the_floor(desk)
    assert "13.17" in (cls.root / "observations" / "s01.csv").read_text(encoding="utf-8")
    given_back(desk, tmp_path)
    taught_again(desk)
    assert lab.cells() == cells  # no key that was pressed edited the notebook


def made_class(desk: Desk) -> None:
    desk.press("Make a class: show")
    desk.press("Make the class")
    desk.hears("A class name was expected")
    desk.fill("Class name", "Autumn evening class")
    desk.choose("Class list, found here", "autumn.csv")
    desk.looks_right("1-class-new")
    desk.press("Make the class")
    desk.hears("is made, with 3 students")
    desk.press("Make a class: hide")
    desk.looks_right("1-class")


def handed_out(desk: Desk, folder: Path) -> None:
    desk.turn_to("Hand out")
    desk.page.get_by_label("08 Thickness and run-out").check()
    desk.page.get_by_label("13 ").first.check()
    desk.fill("Due on", "2026-01-09")
    desk.press("Hand out")
    desk.hears("Packed: 6 kits")
    desk.choose("Kits of", MODULE)
    with desk.lab.page.expect_download() as coming:
        desk.press("Save all its kits as one zip")
    path = folder / "kits.zip"
    coming.value.save_as(path)
    with zipfile.ZipFile(path) as archive:
        assert archive.namelist() == [f"{MODULE}-s0{n}.zip" for n in (1, 2, 3)]
    desk.looks_right("2-hand-out")


def taken_in(desk: Desk, inbox: Path, upload: Path) -> None:
    desk.turn_to("Take in")
    desk.choose("Module", MODULE)
    desk.choose("Folder or zip, found here", f"{inbox.name}/")
    desk.press("Take in")
    desk.hears("New: 1 notebook")
    with desk.lab.page.expect_file_chooser() as asked:
        desk.page.get_by_role("button", name="or upload from your computer").click()
    asked.value.set_files(upload)
    expect(desk.page.get_by_text("Chosen:")).to_contain_text(upload.name)
    desk.press("Take in")
    desk.hears("New: 1 notebook")
    expect(desk.page.locator("table")).to_contain_text("2 of 3 handed in")
    desk.looks_right("3-take-in")


def graded(desk: Desk) -> None:
    desk.turn_to("Grade")
    expect(desk.page).to_contain_text("shut in by bubblewrap")
    desk.choose("Module", MODULE)
    desk.press("Grade")
    desk.hears("Graded now: 2 notebooks. Waiting for you: 2 answers")
    desk.looks_right("4-grade")


def marked_by_hand(desk: Desk) -> None:
    desk.turn_to("Who is where")
    expect(desk.page.locator("table").first).to_contain_text("not handed in, overdue")
    desk.choose("Student", "s01 Amara Quillstone")
    desk.choose("Module", MODULE)
    expect(desk.page).to_contain_text(LETTER)
    with desk.lab.page.expect_popup() as opened:
        desk.press("Open it in nbgrader's grading page")
    page = opened.value
    page.wait_for_url("**/formgrader/submissions/**")
    expect(page.locator("#q8_9")).to_be_visible()
    expect(page.locator("body")).to_contain_text(LETTER)
    # The page waits for this before it chooses the first field, and has it without any network.
    page.wait_for_function("window.MathJax && MathJax.loaded")
    page.close()
    desk.fill("Points, of 4", "2.5")
    desk.fill("Comment for the student", "Clear and honest.")
    desk.press("Save the mark")
    desk.hears("s01, question 8.9: 2.5 points are in the gradebook")
    desk.looks_right("5-who-is-where")
    desk.press("Drawings of this work order: show")
    expect(desk.page.locator("figure svg").first).to_be_visible()
    desk.looks_right("5-drawings")


def seen_on_the_floor(desk: Desk) -> None:
    page = desk.lab.page
    desk.turn_to("Shop floor")
    page.set_viewport_size({"width": 820, "height": 1100})
    desk.fill("Observer's initials", "AQ")
    button = desk.page.get_by_role("button", name="1. Ground and chocks: not yet")
    assert (button.bounding_box() or {})["height"] >= 44  # a finger's width, by WCAG 2.1, criterion 2.5.5
    button.click()
    expect(desk.page.get_by_role("button", name="1. Ground and chocks: seen")).to_have_attribute(
        "aria-pressed", "true"
    )
    desk.press("Save what was seen")
    desk.hears("s01: saved.")
    desk.looks_right("6-shop-floor")
    page.set_viewport_size({"width": 1400, "height": 1000})


def given_back(desk: Desk, folder: Path) -> None:
    desk.turn_to("Give back")
    desk.choose("Module", MODULE)
    desk.press("Write the pages")
    desk.hears("Written: 2 pages")
    desk.choose("Page of", f"s01 Amara Quillstone, {MODULE}")
    with desk.lab.page.expect_popup() as opened:
        desk.press("Open the page")
    expect(opened.value.locator("body")).to_contain_text("Clear and honest.")
    opened.value.close()
    desk.looks_right("7-give-back")


def taught_again(desk: Desk) -> None:
    desk.turn_to("What to teach again")
    desk.choose("Module", MODULE)
    desk.press("Show")
    desk.hears("Here it is.")
    expect(desk.page.get_by_role("img")).to_have_count(4)
    desk.looks_right("8-what-to-teach-again")
