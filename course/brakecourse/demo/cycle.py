"""One class, one module or all, from the roster to the exported grades, with simulated students."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import stat
import time
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
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
from brakecourse.demo.homework import as_typed, fill_in, run_notebooks
from brakecourse.demo.people import people
from brakecourse.errors import CourseError
from brakecourse.exports.mistakes import MistakeCount
from brakecourse.exports.tables import class_mistakes, export_all
from brakecourse.marking import questions
from brakecourse.tables import table_path

MODULE = "08_rotor_measurement"
DUE = datetime(2025, 12, 5, 18, 0, tzinfo=UTC)
MARKER = "made_by_the_demo.txt"


@dataclass(frozen=True)
class DemoResult:
    """What a run of the demo ended with.

    Attributes:
        cls: the class.
        collected: what was taken in, a report for each module.
        records: everyone's results in every module.
        mistakes: the named mistakes of every module.
        files: the exported tables.
        seconds: how long it took.
    """

    cls: ClassFolder
    collected: tuple[CollectReport, ...]
    records: tuple[GradeRecord, ...]
    mistakes: tuple[MistakeCount, ...]
    files: tuple[Path, ...]
    seconds: float


def run_demo(out: Path, seed: int = 1, keep: bool = False, modules: Sequence[str] = (MODULE,)) -> DemoResult:
    """Run the whole cycle and print it as it goes.

    Args:
        out: where everything goes. A folder that an earlier demo made is made anew; no other is touched.
        seed: another number gives another class: other vehicles, other slips of the students.
        keep: leave an earlier demo as it is, and put this one beside it.
        modules: what the class does.

    Raises:
        CourseError: the folder holds something else, or can't be written.
    """
    started = time.monotonic()
    out = _beside(out.absolute()) if keep else out.absolute()
    story.opening(out, modules)
    _make_room(out)
    with reporting_disk_trouble(f"write the demo's folder {out}"):
        cls = _new_class(out, seed)
        collected = [_one_module(cls.root, out, seed, module) for module in modules]
        cls = open_class(cls.root)
        exported = export_all(cls)
    records, mistakes = tuple(grade_records(cls)), tuple(class_mistakes(cls))
    result = DemoResult(cls, tuple(collected), records, mistakes, exported.files, time.monotonic() - started)
    story.ending(result, out, modules)
    return result


def _one_module(root: Path, out: Path, seed: int, module: str) -> CollectReport:
    """Take the class through one module, from handing out to giving back."""
    cls = _hand_out(open_class(root), out, module)
    _do_homework(cls, out, seed, module)
    report = _take_in(cls, out, module)
    _grade(cls, module)
    story.given_back(cls, give_back(cls, module))
    return report


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


def _new_class(out: Path, seed: int) -> ClassFolder:
    return new_class(
        out / "class",
        table_path("demo_class/roster.csv"),
        name="Larkmoor Technical Institute, evening class (demo)",
        term="Autumn 2025",
        cell_timeout_s=3,
        # A class's secret is drawn at random; the demo's is fixed, so that it shows the same each time.
        secret=hashlib.sha256(f"demo {seed}".encode()).digest(),
    )


def _hand_out(cls: ClassFolder, out: Path, module: str) -> ClassFolder:
    with progress_bar("Packing kits") as told:
        kits = assign(cls, module, due=DUE, progress=told)
    story.handed_out(cls, module, kits)
    for kit in kits:
        with zipfile.ZipFile(kit) as archive:
            archive.extractall(out / "students" / kit.stem)
    return open_class(cls.root)  # with the due time


def _notebook_of(out: Path, student_id: str, module: str) -> Path:
    return out / "students" / student_id / f"{module}-{student_id}" / exercise_name(module, student_id)


def _do_homework(cls: ClassFolder, out: Path, seed: int, module: str) -> None:
    # The first module's chance is the class's own; each further one has its own, so that all differ.
    class_draw = Draw(seed) if module == MODULE else Draw(seed).child(module)
    paths = []
    for person in people():
        path = _notebook_of(out, person.student_id, module)
        notebook = nbformat.read(path, as_version=4)
        case = read_case(cls, module, person.student_id)
        answers = person.student.answers(case, class_draw.child(person.student_id))
        fill_in(notebook, as_typed(case, answers))
        nbformat.write(notebook, path)
        paths.append(path)
    with progress_bar("Students at work") as told:
        run_notebooks(paths, told)
    story.worked(out / "students")


def _take_in(cls: ClassFolder, out: Path, module: str) -> CollectReport:
    inbox = out / "handed_in" / module
    inbox.mkdir(parents=True)
    for number, person in enumerate(people(), start=1):
        # Mishaps are shown once, in the module that the small demo has; late and missing work in each.
        usual = module == MODULE or person.hands_in in ("late", "not at all")
        hand_in(
            person if usual else replace(person, hands_in="in time"),
            _notebook_of(out, person.student_id, module),
            inbox,
            DUE,
            number,
            module,
        )
    with progress_bar("Taking in") as told:
        report = collect(cls, module, inbox, progress=told)
    story.taken_in(report, inbox)
    return report


def _grade(cls: ClassFolder, module: str) -> None:
    with progress_bar("Grading") as told:
        # These notebooks are the demo's own, so they may run even where this computer can't shut them in.
        report = engine.grade(cls, module, trust_files=True, progress=told, workers=os.cpu_count() or 2)
    story.graded(report)
    words = {one.id for one in questions(module) if one.kind == "written"}
    # Work on a real vehicle is not simulated: nobody has watched it, so it waits.
    waiting = [
        (record.student_id, question)
        for record in grade_records(cls, module)
        for question in record.waiting_questions
        if question in words
    ]
    # The last one is left, so that the table shows what waiting looks like.
    for student_id, question in waiting[:-1]:
        most = next(one.points for one in questions(module) if one.id == question)
        points, comment = demo_points(written_answer(cls, module, student_id, question), most)
        engine.set_hand_mark(cls, module, student_id, question, points, comment=comment)
    story.hand_marked(waiting)


def written_answer(cls: ClassFolder, module: str, student_id: str, question: str) -> str:
    """Return what a student wrote in words, as it was handed in; empty when nothing was written."""
    handed_in, handed_out = (
        _written_in(path, question)
        for path in (cls.submitted_notebook(module, student_id), cls.release_notebook(module))
    )
    return "" if handed_in == handed_out else handed_in


def _written_in(path: Path, question: str) -> str:
    grade_id = "q" + question.replace(".", "_")
    cells = nbformat.reads(path.read_text(encoding="utf-8"), as_version=4).cells
    return next((c.source for c in cells if c.metadata.get("nbgrader", {}).get("grade_id") == grade_id), "")


def demo_points(text: str, most: float = 4.0) -> tuple[float, str]:
    """Mark a simulated student's words by the demo's rule: a point a sentence, at most the question's.

    A real class needs a person here, and the marking scheme in the instructor's notebook.

    >>> demo_points("It is 23.10 mm (0.909 in) thick. It has to be replaced.")
    (2.0, "Marked by the demo's rule: a point a sentence, at most 4.")
    """
    sentences = len(re.findall(r"[.!?](?=\s|$)", text))
    return min(most, float(sentences)), f"Marked by the demo's rule: a point a sentence, at most {most:g}."
