"""A coordinator's day by pressing the desk's buttons: no browser, no command line.

What the desk shows is compared with nbgrader's own gradebook, with the files' own bytes, and with the rooms.
"""

from __future__ import annotations

import csv
import hashlib
import io
import re
import shutil
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from brakecourse.classroom import export_log
from brakecourse.classroom.folder import open_class
from brakecourse.desks import coordinator_desk
from brakecourse.desks.coordinator_classes import graded_words
from brakecourse.desks.coordinator_competencies import MARKS
from brakecourse.desks.file_peek import peek
from brakecourse.desks.plain import without_tags
from brakecourse.desks.shell import Desk
from brakecourse.exports.badge_key import KEY_NAME
from brakecourse.exports.desk import KINDS, SAME
from brakecourse.exports.kinds import OutFile
from brakecourse.exports.pictures import Picture
from nbgrader.api import Gradebook

from tests.exports.small_class import ABLE, ABSENT, MODULES, WAITING, WEAK, small_class


def press(part: Any) -> None:
    part.button.click()
    part.wait()


def rows_of(html: str) -> list[list[str]]:
    """Return the cells of every body row of the tables in a piece of HTML."""
    return [
        [
            unescape(re.sub(r"<[^>]*>", "", cell))
            for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL)
        ]
        for row in re.findall(r"<tr>(.*?)</tr>", html, re.DOTALL)
        if "<td" in row
    ]


@pytest.fixture(scope="module")
def _base(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two classes of two terms beside the notebook; the second is of the same people."""
    base = tmp_path_factory.mktemp("coordinator")
    made = small_class(base)
    (base / "classes").mkdir()
    shutil.move(made.root, base / "classes" / "autumn")
    shutil.copytree(base / "classes" / "autumn", base / "classes" / "spring")
    for name, term in (("autumn", "Autumn 2026"), ("spring", "Spring 2027")):
        settings = base / "classes" / name / "class.toml"
        text = settings.read_text(encoding="utf-8")
        text = text.replace("Big evening class (invented)", f"{name.title()} class <b>").replace(
            'term = ""', f'term = "{term}"'
        )
        settings.write_text(text, encoding="utf-8")
    return base


def opened(base: Path, *ticked: str) -> Desk:
    desk = coordinator_desk(base)
    page: Any = desk.page("Classes")
    for folder, box in page.ticks.items():
        box.value = folder.name in ticked
    press(page.job)
    return desk


@pytest.fixture
def desk(_base: Path, tmp_path: Path) -> Desk:
    shutil.copytree(_base / "classes", tmp_path / "classes")
    return opened(tmp_path, "autumn")


@pytest.fixture(scope="module")
def both(_base: Path) -> Desk:
    return opened(_base, "autumn", "spring")


def test_classes_are_listed_with_how_far_they_are(both: Desk) -> None:
    page: Any = both.page("Classes")
    rows = rows_of(page.table.value)
    assert [row[:4] for row in rows] == [
        ["Autumn class <b>", "Autumn 2026", "4", "2"],
        ["Spring class <b>", "Spring 2027", "4", "2"],
    ]
    # Of eight pieces of work s003 handed in none of two, s004 waits for one, and one more is not there.
    expected = graded_words(both.state.chosen[0])
    assert rows[0][4] == expected and re.fullmatch(r"50 % \(4 of 8 pieces of work\)", expected)
    assert "<b>" not in page.table.value and "&lt;b&gt;" in page.table.value


def test_grades_are_what_nbgrader_adds_up_and_can_be_narrowed(both: Desk) -> None:
    """Source of the scores: nbgrader's own gradebook; nobody here but the late has a penalty."""
    both.show("Grades")
    page: Any = both.page("Grades")
    for field in (page.of_class, page.term, page.module, page.status):
        field.value = "all"
    assert len(rows_of(page.table.value)) == 2 * 4 * 2
    page.term.value = "Spring 2027"
    page.module.value = MODULES[0]
    shown = rows_of(page.table.value)
    assert [row[0] for row in shown] == [ABLE, WEAK, ABSENT, WAITING]
    cls = open_class(both.state.chosen[1].cls.root)
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as book:
        for row in shown:
            if row[4] == "not handed in":
                assert row[0] == ABSENT and row[5] == ""
                continue
            theirs = book.find_submission(MODULES[0], row[0]).score
            assert float(row[5]) + float(row[7] or 0) == pytest.approx(theirs, abs=0.005)
    page.status.value = "not handed in"
    assert [row[0] for row in rows_of(page.table.value)] == [ABSENT]


def test_completion_over_time_is_a_picture_a_sentence_and_a_table(both: Desk) -> None:
    both.show("Grades")
    page: Any = both.page("Grades")
    page.when_module.value = MODULES[1]
    page.show_over_time()
    found = page.over_time.value
    assert 'src="data:image/png;base64,' in found and "2 of 4 handed in" in found
    assert re.search(r'<img [^>]*alt="[^"]*2 of 4 handed in', found)
    page.when_module.value = "all"
    page.show_over_time()
    assert [row[:3] for row in rows_of(page.over_time.value)] == [
        [MODULES[0], "4", "3"],
        [MODULES[1], "4", "2"],
    ]


def test_competencies_of_class_and_student_have_words_and_marks(both: Desk) -> None:
    both.show("Competencies")
    page: Any = both.page("Competencies")
    page.show()
    assert "Most are not there yet with" in page.picture.value and "<img" in page.picture.value
    page.student.value = ABLE
    page.show()
    rows = rows_of(page.picture.value)
    assert len(rows) == 24 and {row[2] for row in rows} <= set(MARKS.values())
    assert sum(row[2] == "✓ mastered" for row in rows) == 2
    page.student.value = 1
    page.show()
    assert "4 students, a cell each competency" in page.picture.value


def test_what_is_shown_beforehand_is_what_is_written(desk: Desk) -> None:
    desk.show("Exports")
    page: Any = desk.page("Exports")
    cls = desk.state.chosen[0].cls
    for name, box in page.kinds.items():
        box.value = name not in ("pictures", "case")
        assert KINDS[name].purpose in box.description
    press(page.look)
    shown = {
        row[0]: row
        for row in rows_of(page.found.value)
        if re.fullmatch(r"[0-9a-f]{16}", row[5:6][0] if len(row) > 5 else "")
    }
    assert {"grades.csv", "grades.xlsx", "oneroster.zip", f"records/{ABLE}.pdf"} <= set(shown)
    assert "no key to sign badges" in page.found.value and "use the page ‘Badges’" in page.found.value
    assert "The work is not handed in." in page.found.value
    assert not list(cls.exports.iterdir()) and "Nothing is written yet" in desk.message
    press(page.write)
    there = {
        path.relative_to(cls.exports).as_posix(): path for path in cls.exports.rglob("*") if path.is_file()
    }
    assert set(there) == set(shown) | {"log.csv"}
    for name, row in shown.items():
        content = there[name].read_bytes()
        assert hashlib.sha256(content).hexdigest().startswith(row[5]) and str(len(content)) == row[4]
    assert len(rows_of(page.log_table.value)) == len(export_log.lines(cls)) == len(shown)
    press(page.look)
    assert "the same bytes as before" in page.found.value
    press(page.write)
    assert f"{len(shown)} of them have the same bytes as before" in desk.message
    assert [line[5] for line in export_log.lines(cls)][-len(shown) :] == [SAME] * len(shown)


def test_drawing_can_be_stopped_and_goes_on_where_it_was(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    desk.show("Exports")
    page: Any = desk.page("Exports")
    asked: list[str] = []

    def draw(picture: Picture) -> bytes:
        asked.append(picture.name)
        if len(asked) == 3:
            page.look.stop()
        return b"a picture"

    monkeypatch.setattr(Picture, "png", draw)
    for name, box in page.kinds.items():
        box.value = name == "pictures"
    press(page.look)
    assert page.look.words.startswith("Stopped.") and len(asked) == 3
    press(page.look)
    assert page.look.words.startswith("Done")
    drawn = [file.name for file in page._drafts[0].draft.files if file.content == b"a picture"]
    assert len(asked) == len(set(asked)) == len(drawn) == 4 * len(MODULES) + 2


def test_nothing_is_written_of_a_class_that_is_not_ticked(_base: Path, tmp_path: Path) -> None:
    shutil.copytree(_base / "classes", tmp_path / "classes")
    desk = opened(tmp_path, "autumn", "spring")
    desk.show("Exports")
    page: Any = desk.page("Exports")
    for name, box in page.kinds.items():
        box.value = name == "results"
    page.classes[tmp_path / "classes" / "spring"].value = False
    press(page.look)
    press(page.write)
    assert (tmp_path / "classes" / "autumn" / "exports" / "results.csv").is_file()
    assert not list((tmp_path / "classes" / "spring" / "exports").iterdir())
    page.classes[tmp_path / "classes" / "autumn"].value = False
    page.look.button.click()
    assert "At least one class was expected" in desk.message


def test_a_look_into_each_sort_of_file(desk: Desk) -> None:
    desk.show("Exports")
    page: Any = desk.page("Exports")
    for name, box in page.kinds.items():
        box.value = name in ("grades", "oneroster", "case", "records")
    press(page.look)
    inside = {}
    for words, file in page.which.options:
        page.which.value = file
        page.look_into()
        inside[words.partition(": ")[2]] = page.inside.value
    assert rows_of(inside["grades.csv"])[0][0] == ABLE
    assert [row[1] for row in rows_of(inside["grades.xlsx"])][:2] == ["Final scores", "Grades"]
    zipped = {row[0]: row[1] for row in rows_of(inside["oneroster.zip"])}
    assert zipped["results.csv"] == "8" and zipped["lineItems.csv"] == "2" and "manifest.csv" in zipped
    assert "CFDocument" in inside["competency_framework_case.json"]
    assert "a page of PDF" in inside[f"records/{ABLE}.pdf"]


def test_nothing_in_a_file_is_run(desk: Desk) -> None:
    cell = '<img src=x onerror="alert(1)">'
    text = io.StringIO(newline="")
    csv.writer(text).writerows([["a", cell], [cell, cell]])
    for name in ("x.csv", "x.json"):
        assert "<img" not in peek(OutFile(name, text.getvalue().encode(), 1, (), (cell,)))


def test_badges_from_key_to_verdict(desk: Desk, tmp_path: Path) -> None:
    desk.show("Badges")
    page: Any = desk.page("Badges")
    cls = desk.state.chosen[0].cls
    assert "no key yet" in page.key.value and not (cls.root / KEY_NAME).exists()
    page.make_key()
    did = re.search(r"did:key:z\w+", page.key.value)
    assert did is not None and page.make.layout.display == "none"
    assert (cls.root / KEY_NAME).stat().st_mode & 0o077 == 0
    press(page.standings)
    assert [row[0] for row in rows_of(page.earned.value)[:2]] == [ABLE, ABLE]
    desk.show("Exports")
    exports: Any = desk.page("Exports")
    for name, box in exports.kinds.items():
        box.value = name == "badges"
    press(exports.look)
    press(exports.write)
    badge = cls.exports / "badges" / ABLE / f"{MODULES[0]}.json"
    desk.show("Badges")
    page.source.typed.value, page.issuer.value = str(badge), did[0]
    page.verify()
    assert "Genuine" in desk.message and f"It is the badge of {ABLE}." in page.verdict.value
    forged = tmp_path / "forged.json"
    forged.write_bytes(badge.read_bytes().replace(b"module 7", b"module 8"))
    page.source.typed.value = str(forged)
    page.verify()
    assert "Not genuine" in desk.message
    page.source.typed.value, page.issuer.value = str(badge), did[0][:-1] + ("a" if did[0][-1] != "a" else "b")
    page.verify()
    assert "Not from this school" in desk.message


def test_the_rules_are_the_class_s_own(desk: Desk, tmp_path: Path) -> None:
    settings = tmp_path / "classes" / "autumn" / "class.toml"
    text = settings.read_text(encoding="utf-8")
    text = text.replace('attempts_count = "best"', 'attempts_count = "average"').replace(
        "late_penalty_percent_per_day = 10.0", "late_penalty_percent_per_day = 7.5"
    )
    settings.write_text(text, encoding="utf-8")
    desk.state.again()
    desk.show("Rules of grades")
    rules: Any = desk.page("Rules of grades")
    told = {row[0]: row[1] for row in rows_of(rules.rules.value)}
    assert "The mean of all graded attempts" in told["Several attempts"]
    assert told["Late work"].startswith("7.5 %") and "at most 50 %" in told["Late work"]
    assert "never turned into a 0" in told["Missing work"] and MODULES[0] in told["Due times"]


def test_one_student_is_forgotten_when_asked_twice(desk: Desk) -> None:
    desk.show("Privacy")
    page: Any = desk.page("Privacy")
    cls = desk.state.chosen[0].cls
    page.student.value = WEAK
    page.show_plan()
    assert {"roster.csv", "submitted/"} <= {row[0] for row in rows_of(page.plan.value)}
    assert page._second.layout.display == "none"
    page.ask_again()
    page.typed.value = ABLE
    page.twice.click()
    assert "Nothing was changed" in desk.message and WEAK in open_class(cls.root).student_ids
    page.typed.value = WEAK
    page.twice.click()
    assert f"{WEAK} is forgotten" in desk.message
    assert open_class(cls.root).student_ids == (ABLE, ABSENT, WAITING)
    assert not list(cls.root.glob(f"submitted/{WEAK}"))
    page.twice.click()
    assert "A look at what goes is expected" in desk.message


def test_the_anonymous_copy_has_no_names(desk: Desk, tmp_path: Path) -> None:
    desk.show("Privacy")
    page: Any = desk.page("Privacy")
    page.copy_name.value = "../elsewhere"
    page.make_copy_button.click()
    assert "A folder's name was expected" in desk.message
    page.copy_name.value = "for-discussion"
    page.make_copy_button.click()
    made = open_class(tmp_path / "classes" / "for-discussion")
    assert len(made.roster) == 4 and "Quillstone" not in made.roster_file.read_text(encoding="utf-8")


def test_a_class_that_is_damaged_is_told_and_left_out(_base: Path, tmp_path: Path) -> None:
    shutil.copytree(_base / "classes" / "autumn", tmp_path / "classes" / "autumn")
    (tmp_path / "classes" / "broken").mkdir()
    (tmp_path / "classes" / "broken" / "class.toml").write_text("name = ", encoding="utf-8")
    desk = coordinator_desk(tmp_path)
    page: Any = desk.page("Classes")
    assert "broken is left out" in without_tags(page.trouble.value)
    assert [folder.name for folder in page.ticks] == ["autumn"]
    desk.show("Grades")
    assert not desk.state.words


def test_without_any_class_it_says_where_they_should_be(tmp_path: Path) -> None:
    page: Any = coordinator_desk(tmp_path).page("Classes")
    assert "No class folder was found" in page.trouble.value


@pytest.fixture(autouse=True)
def _no_trouble_files() -> Iterator[None]:
    """An error that nobody foresaw would leave a file with its details."""
    import tempfile

    before = set(Path(tempfile.gettempdir()).glob("brakecourse-trouble-*"))
    yield
    new = set(Path(tempfile.gettempdir()).glob("brakecourse-trouble-*")) - before
    assert not new, [path.read_text(encoding="utf-8")[-2000:] for path in new]
