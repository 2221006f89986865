"""What the demo prints: each step in a line, then the grades, the named mistakes, and what to do next."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from brakecourse.classroom.collect import CollectReport
from brakecourse.classroom.engine.write import COULD_NOT
from brakecourse.classroom.folder import ClassFolder
from brakecourse.cli.results import print_grades
from brakecourse.cli.screen import count_of, next_step, say, table
from brakecourse.cli.teach import print_again
from brakecourse.exports.again import module_again

if TYPE_CHECKING:
    from brakecourse.classroom.engine.grading import GradeReport
    from brakecourse.demo.cycle import DemoResult

__all__ = ["say"]

_FILES = {
    "grades.csv": "Grades as CSV",
    "results.csv": "What counts of several attempts",
    "competencies.csv": "Competencies of each student",
    "class_competencies.csv": "Competencies of the class",
    "grades.xlsx": "All of these as XLSX",
}


def opening(out: Path, modules: Sequence[str]) -> None:
    """Say what will happen."""
    what = "one module" if len(modules) == 1 else f"{len(modules)} modules"
    say(f"A class of 12 simulated students does {what}. People, vehicles and marks are invented.")
    say(f"Everything goes into {out}.")


def handed_out(cls: ClassFolder, module: str, kits: Sequence[Path]) -> None:
    """After handing out."""
    say(f"1. Handed out {module}: {len(kits)} kits, each with a vehicle of its own.")


def worked(folder: Path) -> None:
    """After the students' work."""
    say("2. The simulated students read their drawings, with the slips and habits of people, and ran their")
    say(f"   notebooks ({folder}).")


def taken_in(report: CollectReport, inbox: Path) -> None:
    """After collecting."""
    missing = report.with_state("not handed in")
    late = [row.student_id for row in report.rows if row.late]
    say(
        f"3. Took in {len(report.rows) - len(missing)} hand-ins from {inbox.name}/; "
        f"late: {', '.join(late) or 'none'}; missing: {', '.join(missing) or 'none'}."
    )
    for item in report.refused:
        say(f"   Not taken in: {item.where}: {item.why}")


def graded(report: GradeReport) -> None:
    """After grading."""
    failed = [row for row in report.rows if row.status == COULD_NOT]
    graded = report.fresh - len(failed)
    say(f"4. Graded {graded} notebooks in {report.seconds:.1f} s. {report.protection.words}")
    for row in failed:
        say(f"   Could not grade {row.student_id}: {row.why}")


def hand_marked(waiting: Sequence[object]) -> None:
    """After the written answers were marked, all but one."""
    if not waiting:
        say("5. No answer in words waits for a person.")
        return
    marked = count_of(len(waiting) - 1, "written answer")
    say(f"5. Marked {marked} by the demo's rule: a point a sentence, at most the question's.")
    say("   In a real class a person reads them, with the marking scheme.")
    say("   One is left waiting, to show what that looks like.")


def given_back(cls: ClassFolder, pages: Sequence[Path]) -> None:
    """After giving back."""
    say(f"6. Gave back {len(pages)} feedback pages.")


def ending(result: DemoResult, out: Path, modules: Sequence[str]) -> None:
    """Print the results, where they lie, and what to do next."""
    say("")
    for module in modules:
        own = [record for record in result.records if record.module == module]
        print_grades(f"Grade table of {module} (simulated)", own)
    if len(modules) > 1:
        for module in modules:
            print_again(module_again(result.cls, module))
    else:
        rows = [
            (count.mistake.replace("_", " "), count.students, count.answers, ", ".join(count.questions))
            for count in result.mistakes
        ]
        table("Named mistakes (simulated)", ["Mistake", ">Students", ">Answers", "Questions"], rows)
    _where(result, out)
    say(f"Done in {result.seconds:.0f} s.")
    module = result.records[0].module
    graded = next((record.student_id for record in result.records if record.status == "graded"), "STUDENT")
    next_step(f"look at a feedback page in a browser: {_short(result.cls.feedback_page(module, graded))}")
    mark = f"brakecourse hand-mark {_short(result.cls.root)} {module} {_waiting(result)} POINTS"
    say(f"      Mark the answer that waits: {mark}")
    say("      Start a class of your own: brakecourse class new --help")


def _where(result: DemoResult, out: Path) -> None:
    root = result.cls.root
    rows = [
        ("The class folder", root),
        ("Kits, one zip a student", root / "kits"),
        ("The students' own computers (simulated)", out / "students"),
        ("What they handed in", out / "handed_in"),
        ("Feedback pages", root / "feedback"),
        ("Gradebook", root / "gradebook.db"),
        *((_FILES[path.name], path) for path in result.files),
    ]
    table("Where it lies", ["What", "Where"], [(what, _short(path)) for what, path in rows])


def _waiting(result: DemoResult) -> str:
    for record in result.records:
        if record.waiting_questions:
            return f"{record.student_id} {record.waiting_questions[0]}"
    return "STUDENT QUESTION"


def _short(path: Path) -> str:
    here = Path.cwd()
    return str(path.relative_to(here)) if path.is_relative_to(here) else str(path)
