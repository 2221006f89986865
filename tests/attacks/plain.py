"""An ordinary nbgrader exercise of 17 points, as a teacher without this course would write it.

Its questions and names are those of module 08, so that the attacks fit it: four questions earn points, the
others none. The answers are invented numbers; the tests run in the student's own kernel, as nbgrader's
documentation shows it.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import nbformat
from nbformat import NotebookNode
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook
from nbgrader.api import Gradebook

from tests.attacks.registry import Attack, Exercise, Surroundings
from tests.classroom.engine_class import MODULE

ASSIGNMENT = MODULE
POINTS = {"8.2": 3.0, "8.3": 4.0, "8.4": 6.0, "8.6": 4.0}
RIGHT = {
    "8.1": ("readings_mm", [23.41, 23.45]),
    "8.2": ("smallest_mm", 23.41),
    "8.3": ("variation_mm", 0.04),
    "8.4": ("run_out_mm", 0.07),
    "8.5": ("decision", "within"),
    "8.6": ("allowance_mm", 1.2),
    "8.7": ("next_step", "refit"),
    "8.8": ("advice", "Measure again."),
}
WRONG = 9.99
TESTS = {
    "8.1": "assert len(readings_mm) == 2, 'the readings'",
    "8.2": "assert smallest_mm == 23.41, 'the smallest'",
    "8.3": "assert abs(variation_mm - 0.04) < 0.005, 'the variation'",
    "8.4": "assert round(run_out_mm, 2) == 0.07, 'the run-out'",
    "8.5": "assert decision == 'within', 'the decision'",
    "8.6": "import math\nassert math.isclose(allowance_mm, 1.2, abs_tol=0.01), 'the allowance'",
    "8.7": "assert next_step == 'refit', 'the next step'",
    "8.8": "assert advice.startswith('Measure'), 'the advice'",
}


def source_notebook() -> NotebookNode:
    """The teacher's notebook."""
    cells = []
    hidden = "### BEGIN HIDDEN TESTS\n{}\n### END HIDDEN TESTS"
    for question, (name, value) in RIGHT.items():
        own = "q" + question.replace(".", "_")
        answer = f"{name} = None\n### BEGIN SOLUTION\n{name} = {value!r}\n### END SOLUTION"
        marks = {"schema_version": 3, "locked": False, "points": 0, "task": False}
        cells += [
            new_code_cell(answer, id=f"{own}_answer", metadata={
                "nbgrader": {**marks, "grade_id": f"{own}_answer", "grade": False, "solution": True}
            }),
            new_code_cell(hidden.format(TESTS[question]), id=own, metadata={
                "nbgrader": {**marks, "grade_id": own, "grade": True, "solution": False, "locked": True,
                             "points": POINTS.get(question, 0)}
            }),
        ]  # fmt: skip
    by_hand = {"schema_version": 3, "grade_id": "q8_9", "grade": True, "solution": True, "locked": False,
               "points": 0, "task": False}  # fmt: skip
    cells.append(new_markdown_cell("A letter.", id="q8_9", metadata={"nbgrader": by_hand}))
    spec = {"name": "python3", "display_name": "Python 3 (ipykernel)", "language": "python"}
    return new_notebook(cells=cells, metadata={"kernelspec": spec})


def make_course(folder: Path) -> Path:
    """An nbgrader course folder that was set the exercise."""
    folder.mkdir()
    (folder / "nbgrader_config.py").write_text("c = get_config()\nc.CourseDirectory.course_id = 'plain'\n")
    source = folder / "source" / ASSIGNMENT / f"{ASSIGNMENT}.ipynb"
    source.parent.mkdir(parents=True)
    nbformat.write(source_notebook(), source)
    done = nbgrader(folder, "generate_assignment", ASSIGNMENT)
    assert done.returncode == 0, done.stderr
    return folder


def nbgrader(course: Path, *command: str) -> subprocess.CompletedProcess[str]:
    """Give a stock nbgrader command in a course folder."""
    program = Path(sys.executable).with_name("nbgrader")
    environment = {"PATH": f"{program.parent}:/usr/bin:/bin", "HOME": str(course), "LANG": "C.UTF-8"}
    return subprocess.run(
        [program, *command], cwd=course, capture_output=True, text=True, env=environment, check=False
    )


def exercise_of(course: Path, right: bool = False) -> Exercise:
    """The released notebook, every answer filled in."""
    path = course / "release" / ASSIGNMENT / f"{ASSIGNMENT}.ipynb"
    exercise = Exercise(nbformat.read(path, as_version=4), dict(POINTS))
    for question, (_, value) in RIGHT.items():
        exercise.answer_with(question, repr(value if right else WRONG))
    return exercise


def hand_in(course: Path, student: str, exercise: Exercise) -> None:
    """Put a notebook where nbgrader grades it."""
    path = course / "submitted" / student / ASSIGNMENT / f"{ASSIGNMENT}.ipynb"
    path.parent.mkdir(parents=True)
    path.write_text(json.dumps(exercise.notebook), encoding="utf-8")


def attack_plainly(course: Path, attack: Attack, student: str) -> None:
    """Hand an attack in."""
    exercise = exercise_of(course)
    attack.do(exercise, Surroundings(course, "honest_right", course.parent))
    hand_in(course, student, exercise)


def points(course: Path) -> dict[str, float]:
    """What nbgrader's gradebook holds, by student."""
    with Gradebook(f"sqlite:///{course / 'gradebook.db'}", course_id="plain") as book:
        return {one.student.id: one.score for one in book.assignment_submissions(ASSIGNMENT)}
