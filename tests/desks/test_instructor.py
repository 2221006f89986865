"""A term from the instructor's desk, by pressing its buttons: no browser, no command line.

What the desk says is compared with what the gradebook holds by nbgrader's own library, and with the rooms.
"""

from __future__ import annotations

import io
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse.classroom import results
from brakecourse.classroom.assign import read_case
from brakecourse.classroom.folder import open_class
from brakecourse.desks import instructor_desk
from brakecourse.desks.save_file import File
from brakecourse.desks.shell import Desk
from brakecourse.desks.source import keep_uploads
from brakecourse.marking import questions
from nbgrader.api import Gradebook

from tests.classroom.quick_farm import QuickFarm
from tests.desks.filled_work import LETTER, hand_in_work

MODULE = "08_rotor_measurement"
ROSTER = """student_id,first_name,last_name,email
s01,Amara,Quillstone,s01@class.example
s02,Bruno,<b>Fennimoor</b>,s02@class.example
s03,Chiyo,Larkenfield,s03@class.example
"""


def press(part: Any) -> None:
    """Press a job's button and wait until the work has ended."""
    part.button.click()
    part.wait()


def make_class(base: Path) -> Desk:
    (base / "autumn list.csv").write_text(ROSTER, encoding="utf-8")
    desk = instructor_desk(base)
    desk.state.farm = QuickFarm()
    page = desk.page("Class")
    page.name.value, page.term.value = "Autumn evening class", "Autumn 2026"
    page.source.listed.value = base / "autumn list.csv"
    page.zone.value = "Europe/Paris"
    page.make_class()
    return desk


def hand_out(desk: Desk, module: str = MODULE) -> None:
    desk.show("Hand out")
    page = desk.page("Hand out")
    page.tick_all(False)
    page.ticks[module].value = True
    page.day.value = date(2026, 1, 9)
    press(page.job)


def take_in(desk: Desk, inbox: Path) -> None:
    desk.show("Take in")
    page = desk.page("Take in")
    page.source.typed.value = str(inbox)
    page.when.value = "2026-01-09 17:00"
    press(page.job)


def grade(desk: Desk) -> None:
    desk.show("Grade")
    press(desk.page("Grade").job)


@pytest.fixture(scope="module")
def _term(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class whose work was taken in and graded: s01 all right, s02 two wrong answers, s03 nothing."""
    base = tmp_path_factory.mktemp("desk")
    desk = make_class(base)
    hand_out(desk)
    wrong = {"8.7": "much", "8.3": 99.0}
    take_in(desk, hand_in_work(desk.state.cls, MODULE, {"s01": {}, "s02": wrong}, base / "inbox"))
    grade(desk)
    return base


@pytest.fixture
def desk(_term: Path, tmp_path: Path) -> Iterator[Desk]:
    """The desk on a copy of that class, for one test."""
    base = tmp_path / "desk"
    shutil.copytree(_term, base)
    made = instructor_desk(base)
    made.state.farm = QuickFarm()
    page = made.page("Class")
    assert page.folders.value == base / "classes" / "autumn-evening-class"  # found beside the notebook
    page.open_class()
    yield made


def points(desk: Desk, student: str, question: str, module: str = MODULE) -> tuple[float | None, bool]:
    """What nbgrader's own library reads: the points by hand, and whether a person is waited for."""
    with Gradebook(f"sqlite:///{desk.state.cls.gradebook_file}") as book:
        grade = book.find_grade("q" + question.replace(".", "_"), module, module, student)
        return grade.manual_score, bool(grade.needs_manual_grade)


def read_all(desk: Desk) -> Any:
    desk.show("Who is where")
    page = desk.page("Who is where")
    page.job.wait()
    return page


def test_a_class_is_made_and_found(tmp_path: Path) -> None:
    desk = make_class(tmp_path)
    cls = open_class(tmp_path / "classes" / "autumn-evening-class")
    assert cls.settings.name == "Autumn evening class" and cls.settings.timezone == "Europe/Paris"
    assert cls.student_ids == ("s01", "s02", "s03")
    assert "3 students" in desk.message
    shown = desk.page("Class").roster.value
    assert "&lt;b&gt;Fennimoor" in shown and "<b>Fennimoor" not in shown  # a name is never markup
    again = instructor_desk(tmp_path)
    again.page("Class").open_class()
    assert again.state.words.startswith("Autumn evening class, Autumn 2026: 3 students")


def test_nothing_chosen_is_one_sentence_and_no_class(tmp_path: Path) -> None:
    desk = instructor_desk(tmp_path)
    page = desk.page("Class")
    button = next(one for one in page.children if getattr(one, "description", "") == "Open the class")
    button.click()
    assert "none was chosen" in desk.message and "Traceback" not in desk.message
    desk.show("Grade")
    assert "Open a class first" in desk._area.children[0].value
    assert not (tmp_path / "classes").exists()  # looking makes no folders


def test_what_nobody_foresaw_is_a_sentence_with_the_details_in_a_file(tmp_path: Path) -> None:
    desk = instructor_desk(tmp_path)

    def broken() -> None:
        raise RuntimeError("secret details")

    desk.button("Do it", broken).click()
    assert "did not foresee (RuntimeError)" in desk.message and "secret" not in desk.message
    details = Path(desk.message.rsplit(" in ", 1)[1].rstrip("."))
    assert "secret details" in details.read_text(encoding="utf-8")
    details.unlink()


def test_a_new_list_is_shown_before_it_is_taken_over(desk: Desk) -> None:
    new = ROSTER.replace("s03,Chiyo,Larkenfield", "s04,Dafydd,Ottermarsh").replace("Amara", "Amaya")
    (desk.state.base / "new.csv").write_text(new, encoding="utf-8")
    page = desk.page("Class")
    desk.show("Class")
    page.new_list.listed.value = desk.state.base / "new.csv"
    page.show_changes()
    for words in ("joins", "leaves; all work is kept", "was Amara Quillstone", "Unchanged: 1 "):
        assert words in page.what_changes.value
    assert desk.state.cls.student_ids == ("s01", "s02", "s03")
    page.take_over.click()
    assert desk.state.cls.student_ids == ("s01", "s02", "s04")
    assert desk.state.cls.has_case(MODULE, "s03")


def test_a_school_s_file_with_several_classes_asks_which(tmp_path: Path) -> None:
    from tests.classroom.oneroster_packages import files_1_2, packed

    package = tmp_path / "school.zip"
    package.write_bytes(packed(files_1_2()))
    desk = instructor_desk(tmp_path)
    page = desk.page("Class")
    page.name.value = "School class"
    page.source.listed.value = package
    with desk.trying():
        page.make_class()
    assert "holds" in desk.message and not desk.state.words
    page.offers.value = page.offers.options[1][1]
    page.make_class()
    assert desk.state.cls.roster


def test_kits_of_a_module_come_in_one_zip(desk: Desk) -> None:
    desk.show("Hand out")
    page = desk.page("Hand out")
    page.saved.value = MODULE
    found = page.kits_zip()
    with zipfile.ZipFile(io.BytesIO(found.content)) as archive:
        assert archive.namelist() == [f"{MODULE}-{one}.zip" for one in ("s01", "s02", "s03")]
        kit = zipfile.ZipFile(io.BytesIO(archive.read(f"{MODULE}-s02.zip")))
    assert any(name.endswith("START_HERE.html") for name in kit.namelist())
    assert "Friday 9 January 2026, 18:00" in page.states.value


def test_a_file_goes_to_the_browser_whole_and_in_parts(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    page = desk.page("Hand out")
    sent: list[tuple[dict[str, Any], list[bytes]]] = []
    monkeypatch.setattr(page.save, "send", lambda content, buffers=None: sent.append((content, buffers)))
    content = bytes(range(256)) * 40_000  # ten megabytes: three parts
    monkeypatch.setattr(page.save, "_get", lambda: File("kits.zip", content))
    page.save.press()
    assert [about["last"] for about, _ in sent] == [False, False, True]
    assert b"".join(part for _, parts in sent for part in parts) == content
    sent.clear()
    monkeypatch.setattr(page.save, "_get", lambda: (_ for _ in ()).throw(OSError(28, "No space left")))
    page.save.press()
    assert sent == [({"trouble": True}, [])] and "No space left" in desk.message


def test_a_refused_file_is_named_with_its_reason(desk: Desk, tmp_path: Path) -> None:
    inbox = tmp_path / "more"
    inbox.mkdir()
    (inbox / "<i>nobody.ipynb").write_text("{}")
    take_in(desk, inbox)
    report = desk.page("Take in").report.value
    assert "&lt;i&gt;nobody.ipynb" in report and "Not taken in" in report
    assert "1 file was not taken in" in desk.message


def test_uploaded_files_keep_their_bytes_and_never_leave_their_folder(tmp_path: Path) -> None:
    when = datetime(2026, 1, 9, 16, 0, tzinfo=UTC)
    evil = {"name": "../../evil.csv", "content": memoryview(b"a,b"), "last_modified": when}
    one = keep_uploads([evil], tmp_path)
    assert (
        one == tmp_path / "evil.csv"
        and one.read_bytes() == b"a,b"
        and one.stat().st_mtime == when.timestamp()
    )
    many = tmp_path / "many"
    many.mkdir()
    two = keep_uploads([{"name": "x.ipynb", "content": memoryview(b"1")}] * 2, many)
    assert sorted(path.read_bytes() for path in two.rglob("*.ipynb")) == [b"1", b"1"]


def test_an_upload_is_taken_in_and_its_folder_goes(desk: Desk) -> None:
    desk.show("Take in")
    page = desk.page("Take in")
    file = desk.state.base / "inbox" / f"{MODULE}-s01.ipynb"
    late = {
        "name": f"{MODULE}-s03.ipynb",
        "type": "",
        "size": file.stat().st_size,
        "content": file.read_bytes(),
    }
    page.source._chosen = (late,)
    press(page.job)
    assert "New: 1 notebook" in desk.message and page.source._uploads is None
    assert not page._from.exists() and desk.state.cls.submitted_notebook(MODULE, "s03").is_file()


def test_who_is_where_says_each_status_and_who_is_stuck(desk: Desk) -> None:
    page = read_all(desk)
    assert page.overview.value.count("waits for you") == 2  # s01 and s02 wrote a letter
    assert "not handed in, overdue" in page.overview.value  # s03, and the due time is over
    assert "Nothing came in, and the due time is over." in page.needs.value
    assert page.needs.value.index("s03") < page.needs.value.index("s01")  # who is stuck comes first


def test_the_key_beside_the_answers_is_the_sealed_one(desk: Desk) -> None:
    page = read_all(desk)
    page.student.value, page.module.value = "s02", MODULE
    case = read_case(desk.state.cls, MODULE, "s02")
    variation = case.question("8.3")
    assert (
        variation is not None
        and f"{variation.expected:.{variation.places}f} {variation.unit}" in page.story.value
    )
    assert "99" in page.story.value
    assert page.drawings.value.count("<svg") == len(case.order["drawings"])


def test_a_mark_by_hand_reaches_the_gradebook_and_comes_back(desk: Desk) -> None:
    page = read_all(desk)
    page.student.value, page.module.value = "s01", MODULE
    assert page.question.value == "8.9"  # what waits comes first
    assert LETTER in page.answer.value
    page.points.value, page.comment.value = 2.5, "Clear."
    page.save_mark()
    assert points(desk, "s01", "8.9") == (2.5, False)
    worth = {one.id: one.points for one in questions(MODULE)}
    assert f"graded {sum(worth.values()) - worth['8.9'] + 2.5:g} of" in page.overview.value
    page.question.value = "8.9"
    page.take_back()
    assert points(desk, "s01", "8.9") == (None, True)
    page.next_waiting()
    assert page.student.value == "s01"


def test_an_excused_student_counts_again_when_told(desk: Desk) -> None:
    page = read_all(desk)
    page.student.value, page.module.value, page.why.value = "s03", MODULE, "Ill."
    page.excuse()
    assert "excused" in page.overview.value and "s03" not in page.needs.value
    assert "Ill." in page.history.value
    page.end_excuse()
    assert "not handed in, overdue" in page.overview.value


def test_the_link_to_nbgrader_s_page_names_the_submission_nbgrader_knows(desk: Desk) -> None:
    page = read_all(desk)
    page.student.value, page.module.value, page.question.value = "s02", MODULE, "8.9"
    first, second = page.grading_page().addresses
    with Gradebook(f"sqlite:///{desk.state.cls.gradebook_file}") as book:
        submission = book.find_submission_notebook(MODULE, MODULE, "s02").id
    assert second.startswith(f"formgrader/submissions/{submission}/?index=") and second.endswith("#q8_9")
    assert first.startswith("formgrader?path=%2F") and "autumn-evening-class" in first


def test_grading_again_shows_before_and_after_and_writes_only_when_told(desk: Desk) -> None:
    cls = desk.state.cls
    path = cls.submitted_notebook(MODULE, "s02")
    notebook = nbformat.read(path, as_version=4)
    right = read_case(cls, MODULE, "s02").question("8.3")
    assert right is not None
    cell = next(one for one in notebook.cells if "= 99.0" in one.source)
    cell.source = cell.source.replace("99.0", repr(right.expected))
    nbformat.write(notebook, path)
    desk.show("Grade")
    page = desk.page("Grade")
    page.again_module.value = MODULE
    press(page.look)
    assert "8.3" in page.changes.value and "before and after" in page.changes.value

    def total() -> float:
        desk.state.forget()
        result = next(one for one in desk.state.results(MODULE) if one.record.student_id == "s02")
        return result.record.raw_score or 0.0

    before = total()
    page.leave_it()
    assert total() == before and page.changes.value == ""
    press(page.look)
    press(page.write)
    assert total() > before and "are written" in desk.message


def test_stop_keeps_what_was_graded_and_pressing_again_goes_on(desk: Desk) -> None:
    cls = desk.state.cls
    for student in ("s01", "s02"):
        path = cls.submitted_notebook(MODULE, student)
        path.write_bytes(path.read_bytes().replace(b'"nbformat_minor"', b' "nbformat_minor"'))
    page = desk.page("Grade")
    desk.show("Grade")
    first, again = QuickFarm(lambda _: page.job.stop()), QuickFarm()
    desk.state.farm = first
    press(page.job)
    assert page.job.words.startswith("Stopped.") and len(first.graded) == 1
    assert not page.job.button.disabled
    desk.state.farm = again
    press(page.job)
    assert page.job.words.startswith("Done")
    assert first.graded != again.graded and len(again.graded) == 1


def test_pages_go_back_and_say_who_has_none(desk: Desk) -> None:
    desk.show("Give back")
    page = desk.page("Give back")
    assert not page.save.able
    press(page.job)
    assert "Written: 2 pages" in desk.message
    assert (
        page.table.value.index("s03") < page.table.value.index("s01") and "not handed in" in page.table.value
    )
    with zipfile.ZipFile(io.BytesIO(page.all_pages().content)) as archive:
        assert archive.namelist() == [f"s01/{MODULE}.html", f"s02/{MODULE}.html"]
    assert b"Quillstone" in page.one_page().content


def test_what_to_teach_again_has_pictures_with_their_words(desk: Desk) -> None:
    desk.show("What to teach again")
    page = desk.page("What to teach again")
    page.module.value = MODULE
    press(page.job)
    figures = [one.value for one in page.pictures.children if hasattr(one, "value")]
    assert len(figures) == 4
    assert all('src="data:image/png;base64,iVBOR' in one and 'alt="' in one for one in figures)
    assert 'alt=""' not in "".join(figures)
    assert "count heads" in page.words.value  # a class of two tells nothing in percent


def test_words_of_commands_become_names_of_pages(desk: Desk) -> None:
    desk.page("Give back")
    path = desk.state.cls.submitted_notebook(MODULE, "s01")
    path.write_bytes(path.read_bytes() + b" ")
    page = read_all(desk)
    page.student.value, page.module.value = "s01", MODULE
    desk.state.forget()
    page.show_student()
    assert "use the page ‘Grade’ again" in page.story.value and "brakecourse grade" not in page.story.value


def test_a_class_opens_before_anything_heavy_is_loaded(_term: Path) -> None:
    """What takes seconds (the gradebook's library, the charts') is loaded while the class is looked at."""
    code = (
        "import sys\n"
        "from brakecourse.desks import shell\n"
        "shell.Desk._load = lambda self: None\n"
        "from brakecourse.desks import instructor_desk\n"
        f"desk = instructor_desk({str(_term)!r})\n"
        "desk.page('Class').open_class()\n"
        "heavy = 'nbgrader', 'sqlalchemy', 'matplotlib'\n"
        "print(desk.state.words, [one for one in heavy if one in sys.modules])"
    )
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=120
    )
    assert told.stdout.startswith("Autumn evening class") and told.stdout.rstrip().endswith("[]")


def test_opening_reads_no_gradebook_and_a_page_reads_each_module_once(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []
    real = results.student_results
    monkeypatch.setattr(
        results, "student_results", lambda cls, module: (asked.append(module), real(cls, module))[1]
    )
    desk.page("Class").open_class()
    for name in ("Hand out", "Take in", "Grade"):
        desk.show(name)
    assert asked == []
    page = read_all(desk)
    page.student.value, page.module.value = "s01", MODULE
    desk.show("Give back")
    read_all(desk)
    assert asked == [MODULE]


def test_the_notebook_stores_what_the_desk_says_where_no_kernel_runs(tmp_path: Path) -> None:
    path = Path(__file__).resolve().parents[2] / "course" / "desks" / "instructor.ipynb"
    cells = nbformat.read(path, as_version=4).cells
    code = [cell for cell in cells if cell.cell_type == "code"]
    assert [cell.execution_count for cell in code] == [1] and [cell.id for cell in cells] == ["text", "desk"]
    bundle = instructor_desk(tmp_path)._repr_mimebundle_()
    stored = code[0].outputs[0]["data"]
    assert stored == {kind: bundle[kind] for kind in ("text/plain", "text/html")}
