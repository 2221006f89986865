"""A coordinator's day by clicking in JupyterLab: two classes, from grades to a class without people."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from brakecourse.classroom import export_log
from brakecourse.classroom.folder import open_class
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Lab, Pictures, Server, visit
from tests.browser.test_desk_instructor import Desk
from tests.exports.small_class import ABLE, MODULES, WEAK, small_class

NOTEBOOK = Path(__file__).resolve().parents[2] / "course" / "desks" / "coordinator.ipynb"

pytestmark = [pytest.mark.slow, pytest.mark.timeout(420)]


@pytest.fixture(scope="module")
def folder(server: Server, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the desk's notebook and two classes of four invented students, for the server."""
    place = server.root / "coordinator"
    (place / "classes").mkdir(parents=True)
    shutil.copy(NOTEBOOK, place)
    made = small_class(tmp_path_factory.mktemp("coordinator"))
    for name, term in (("autumn", "Autumn 2026"), ("spring", "Spring 2027")):
        settings = Path(shutil.copytree(made.root, place / "classes" / name)) / "class.toml"
        text = settings.read_text(encoding="utf-8")
        text = text.replace("Big evening class (invented)", f"{name.title()} evening class")
        settings.write_text(text.replace('term = ""', f'term = "{term}"'), encoding="utf-8")
    return place


@pytest.fixture
def lab(chromium: Browser, server: Server) -> Iterator[Lab]:
    with visit(chromium, server) as opened:
        opened.page.set_viewport_size({"width": 1400, "height": 1000})
        yield opened


def test_a_coordinators_day(lab: Lab, folder: Path, pictures: Pictures) -> None:
    lab.open("coordinator/coordinator.ipynb")
    lab.page.set_viewport_size({"width": 1400, "height": 1000})
    cells = lab.cells()
    lab.run_all()
    desk = Desk(lab, pictures)
    chose_classes(desk)
    looked_at_grades(desk)
    looked_at_competencies(desk)
    made_a_key(desk)
    exported(desk, folder / "classes" / "autumn")
    verified(desk, folder / "classes" / "autumn")
    read_the_rules(desk)
    forgot_one(desk, folder / "classes" / "spring")
    assert lab.cells() == cells  # no key that was pressed edited the notebook


def chose_classes(desk: Desk) -> None:
    desk.press("Look at the ticked classes")
    desk.hears("The results are read")
    expect(desk.page.locator("table")).to_contain_text("Spring 2027")
    expect(desk.page.locator("table")).to_contain_text("50 % (4 of 8 pieces of work)")
    desk.looks_right("1-classes")


def looked_at_grades(desk: Desk) -> None:
    desk.turn_to("Grades")
    desk.choose("Term", "Spring 2027")
    desk.choose("Status", "not handed in")
    expect(desk.page.locator("tbody tr")).to_have_count(3)
    desk.choose("Status", "all")
    expect(desk.page.locator("tbody tr")).to_have_count(8)
    desk.page.get_by_label("Module", exact=True).nth(1).select_option(label=MODULES[0])
    desk.press("Show")
    expect(desk.page.get_by_role("img")).to_have_count(1)
    desk.looks_right("2-grades")


def looked_at_competencies(desk: Desk) -> None:
    desk.turn_to("Competencies")
    desk.choose("Who", "every student")
    desk.press("Show")
    expect(desk.page.get_by_role("img")).to_have_count(1)
    desk.looks_right("3-competencies-everyone")
    desk.choose("Who", f"{ABLE} Amara001 Quillstone")
    desk.press("Show")
    expect(desk.page.locator("table").first).to_contain_text("✓ mastered")
    desk.looks_right("3-competencies-one")


def made_a_key(desk: Desk) -> None:
    desk.turn_to("Badges")
    desk.press("Make the signing key")
    desk.hears("The key is made")
    expect(desk.page).to_contain_text("did:key:z")
    desk.press("Show who has earned what")
    expect(desk.page.locator("table").first).to_contain_text("module 7 of the disc-brake course")


def exported(desk: Desk, root: Path) -> None:
    desk.turn_to("Exports")
    desk.page.get_by_label("OneRoster package.").check()
    desk.page.get_by_label("Badges.").check()
    desk.page.get_by_label("Spring evening class").uncheck()
    desk.press("Show what would be written")
    desk.hears("Nothing is written yet")
    assert not list((root / "exports").iterdir())
    desk.choose("Look into", "autumn: oneroster.zip")
    desk.press("Look into it")
    expect(desk.page).to_contain_text("lineItems.csv")
    desk.looks_right("4-exports-before")
    desk.press("Write these files")
    desk.hears("0 of them have the same bytes as before")
    expect(desk.page.locator("table").last).to_contain_text("oneroster.zip")
    desk.looks_right("4-exports-after")
    written = {line[2] for line in export_log.lines(open_class(root))}
    assert {"grades.xlsx", "oneroster.zip", f"badges/{ABLE}/{MODULES[0]}.json"} <= written


def verified(desk: Desk, root: Path) -> None:
    desk.turn_to("Badges")
    badge = root / "exports" / "badges" / ABLE / f"{MODULES[0]}.json"
    with desk.lab.page.expect_file_chooser() as asked:
        desk.page.get_by_role("button", name="or upload from your computer").click()
    asked.value.set_files(badge)
    expect(desk.page.get_by_text("Chosen:")).to_contain_text(badge.name)
    desk.press("Is it genuine?")
    desk.hears("Genuine: the badge is unchanged")
    expect(desk.page).to_contain_text(f"It is the badge of {ABLE}.")
    desk.looks_right("5-badges")


def read_the_rules(desk: Desk) -> None:
    desk.turn_to("Rules of grades")
    expect(desk.page.locator("table").first).to_contain_text("The best graded attempt counts.")
    desk.looks_right("6-rules")


def forgot_one(desk: Desk, root: Path) -> None:
    desk.turn_to("Privacy")
    desk.choose("Class", "Spring evening class (Spring 2027)")
    desk.choose("Student", f"{WEAK} Amara002 Quillstone")
    desk.press("Show what tells of this student")
    expect(desk.page.locator("table")).to_contain_text("roster.csv")
    desk.press("Forget this student …")
    desk.fill("Type the student's id", WEAK)
    desk.looks_right("7-privacy")
    assert WEAK in open_class(root).student_ids
    desk.press("Yes, forget this student for good")
    desk.hears(f"{WEAK} is forgotten")
    assert WEAK not in open_class(root).student_ids
    desk.fill("Name of the copy's folder", "for-discussion")
    desk.press("Make the anonymous copy")
    desk.hears("3 students with new ids and no names")
    assert len(open_class(root.parent / "for-discussion").roster) == 3
