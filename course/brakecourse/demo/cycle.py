"""One class, one module, from the roster to the exported grades, with simulated students."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import stat
import time
import zipfile
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

import nbformat

from brakecourse.bench.draw import Draw
from brakecourse.classroom import engine
from brakecourse.classroom.assign import assign, read_case
from brakecourse.classroom.collect import CollectReport, collect
from brakecourse.classroom.feedback import give_back
from brakecourse.classroom.files import reporting_disk_trouble
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.classroom.kit import exercise_name
from brakecourse.classroom.records import GradeRecord, grade_records
from brakecourse.cli.screen import progress_bar
from brakecourse.demo import story
from brakecourse.demo.handing_in import hand_in
from brakecourse.demo.homework import fill_in, run_notebooks
from brakecourse.demo.people import people
from brakecourse.errors import CourseError
from brakecourse.exports.mistakes import MistakeCount
from brakecourse.exports.tables import class_mistakes, export_all
from brakecourse.tables import table_path

MODULE = "08_rotor_measurement"
WRITTEN = "8.9"
DUE = datetime(2025, 12, 5, 18, 0, tzinfo=UTC)
MARKER = "made_by_the_demo.txt"


@dataclass(frozen=True)
class DemoResult:
    """What a run of the demo ended with."""

    cls: ClassFolder
    collected: CollectReport
    records: tuple[GradeRecord, ...]
    mistakes: tuple[MistakeCount, ...]
    files: tuple[Path, ...]
    seconds: float


def run_demo(out: Path, seed: int = 1, keep: bool = False) -> DemoResult:
    """Run the whole cycle and print it as it goes.

    Args:
        out: where everything goes. A folder that an earlier demo made is made anew; no other is touched.
        seed: another number gives another class: other vehicles, other slips of the students.
        keep: leave an earlier demo as it is, and put this one beside it.

    Raises:
        CourseError: the folder holds something else, or can't be written.
    """
    started = time.monotonic()
    out = _beside(out.absolute()) if keep else out.absolute()
    story.opening(out)
    _make_room(out)
    with reporting_disk_trouble(f"write the demo's folder {out}"):
        cls = _hand_out(out, seed)
        _do_homework(cls, out, seed)
        collected = _take_in(cls, out)
        _grade(cls)
        pages = give_back(cls, MODULE)
        story.given_back(cls, pages)
        exported = export_all(cls)
    records, mistakes = tuple(grade_records(cls, MODULE)), tuple(class_mistakes(cls))
    result = DemoResult(cls, collected, records, mistakes, exported.files, time.monotonic() - started)
    story.ending(result, out)
    return result


def _beside(out: Path) -> Path:
    places = (out if n == 1 else out.with_name(f"{out.name}-{n}") for n in count(1))
    return next(place for place in places if not place.exists())


def _make_room(out: Path) -> None:
    if out.exists() and not out.is_dir():
        raise CourseError(f"{out} is a file; name a folder for the demo with --out.")
    if out.is_dir() and any(out.iterdir()):
        if not (out / MARKER).is_file():
            raise CourseError(
                f"The folder {out} holds something that the demo did not make; name another one with --out."
            )
        story.say("An earlier demo lies there; it is made anew.")
        with reporting_disk_trouble(f"remove the earlier demo {out}"):
            _remove(out)
    with reporting_disk_trouble(f"make the demo's folder {out}"):
        out.mkdir(parents=True, exist_ok=True)
        (out / MARKER).write_text("'brakecourse demo' may remove this folder.\n", encoding="utf-8")


def _remove(folder: Path) -> None:
    # What was handed in is kept read-only, and Windows does not remove a read-only file. The mark goes last:
    # a removal that was cut short must not leave a folder that nobody may remove.
    for path in folder.rglob("*"):
        if not path.is_symlink():
            path.chmod(path.stat().st_mode | stat.S_IWUSR)
    for path in sorted(folder.iterdir(), key=lambda path: path.name == MARKER):
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        else:
            path.unlink()


def _hand_out(out: Path, seed: int) -> ClassFolder:
    cls = new_class(
        out / "class",
        table_path("demo_class/roster.csv"),
        name="Larkmoor Technical Institute, evening class (demo)",
        term="Autumn 2025",
        cell_timeout_s=3,
        # A class's secret is drawn at random; the demo's is fixed, so that it shows the same each time.
        secret=hashlib.sha256(f"demo {seed}".encode()).digest(),
    )
    with progress_bar("Packing kits") as told:
        kits = assign(cls, MODULE, due=DUE, progress=told)
    story.handed_out(cls, MODULE, kits)
    for kit in kits:
        with zipfile.ZipFile(kit) as archive:
            archive.extractall(out / "students" / kit.stem)
    return open_class(cls.root)  # with the due time


def _notebook_of(out: Path, student_id: str) -> Path:
    return out / "students" / student_id / f"{MODULE}-{student_id}" / exercise_name(MODULE, student_id)


def _do_homework(cls: ClassFolder, out: Path, seed: int) -> None:
    class_draw = Draw(seed)
    paths = []
    for person in people():
        path = _notebook_of(out, person.student_id)
        notebook = nbformat.read(path, as_version=4)
        case = read_case(cls, MODULE, person.student_id)
        fill_in(notebook, person.student.answers(case, class_draw.child(person.student_id)))
        nbformat.write(notebook, path)
        paths.append(path)
    with progress_bar("Students at work") as told:
        run_notebooks(paths, told)
    story.worked(out / "students")


def _take_in(cls: ClassFolder, out: Path) -> CollectReport:
    inbox = out / "handed_in"
    inbox.mkdir()
    for number, person in enumerate(people(), start=1):
        hand_in(person, _notebook_of(out, person.student_id), inbox, DUE, number)
    with progress_bar("Taking in") as told:
        report = collect(cls, MODULE, inbox, progress=told)
    story.taken_in(report, inbox)
    return report


def _grade(cls: ClassFolder) -> None:
    with progress_bar("Grading") as told:
        # These notebooks are the demo's own, so they may run even where this computer can't shut them in.
        report = engine.grade(cls, MODULE, trust_files=True, progress=told, workers=os.cpu_count() or 2)
    story.graded(report)
    waiting = [record.student_id for record in grade_records(cls, MODULE) if record.waiting_questions]
    # The last one is left, so that the table shows what waiting looks like.
    for student_id in waiting[:-1]:
        points, comment = demo_points(written_answer(cls, student_id))
        engine.set_hand_mark(cls, MODULE, student_id, WRITTEN, points, comment=comment)
    story.hand_marked(waiting)


def written_answer(cls: ClassFolder, student_id: str) -> str:
    """Return what a student wrote to the customer, as it was handed in; empty when nothing was written."""
    handed_in, handed_out = (
        _written_in(path)
        for path in (cls.submitted_notebook(MODULE, student_id), cls.release_notebook(MODULE))
    )
    return "" if handed_in == handed_out else handed_in


def _written_in(path: Path) -> str:
    grade_id = "q" + WRITTEN.replace(".", "_")
    cells = nbformat.reads(path.read_text(encoding="utf-8"), as_version=4).cells
    return next((c.source for c in cells if c.metadata.get("nbgrader", {}).get("grade_id") == grade_id), "")


def demo_points(text: str) -> tuple[float, str]:
    """Mark a simulated student's words by the demo's rule: a point a sentence, at most four.

    A real class needs a person here, and the marking scheme in the instructor's notebook.

    >>> demo_points("It is 23.10 mm (0.909 in) thick. It has to be replaced.")
    (2.0, "Marked by the demo's rule: a point a sentence, at most four.")
    """
    sentences = len(re.findall(r"[.!?](?=\s|$)", text))
    return float(min(4, sentences)), "Marked by the demo's rule: a point a sentence, at most four."
