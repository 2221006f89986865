"""What plain nbgrader gives for some of the attacks: measured, so that the table of attacks claims no more.

Only attacks that stay inside their own kernel or the course folder are tried, in a folder of the test's.
"""

from __future__ import annotations

from pathlib import Path

import nbformat
import pytest

from tests.attacks.attacked import FULL_MARKS, make_class, wrong_exercise
from tests.attacks.on_the_screen import EVIL
from tests.attacks.on_what_is_handed_in import content_of
from tests.attacks.plain import (
    ASSIGNMENT,
    attack_plainly,
    exercise_of,
    hand_in,
    make_course,
    nbgrader,
    points,
)
from tests.attacks.registry import ATTACKS, PLAIN_POINTS, Surroundings
from tests.classroom.engine_class import MODULE, points_in_gradebook
from tests.classroom.engine_class import hand_in as hand_in_ours

pytestmark = [pytest.mark.sandbox, pytest.mark.slow, pytest.mark.timeout(400)]
MEASURED = {name: one.measured for name, one in ATTACKS.items() if one.measured is not None}


def test_plain_nbgrader_gives_what_the_table_says(tmp_path: Path) -> None:
    course = make_course(tmp_path / "plain")
    hand_in(course, "honest_right", exercise_of(course, right=True))
    hand_in(course, "honest_wrong", exercise_of(course))
    for name in MEASURED:
        attack_plainly(course, ATTACKS[name], name)
    done = nbgrader(course, "autograde", ASSIGNMENT, "--create")
    found = points(course)
    assert found["honest_right"] == PLAIN_POINTS and found["honest_wrong"] == 0, done.stderr[-2000:]
    assert {name: found[name] for name in MEASURED} == MEASURED


def test_plain_nbgrader_with_the_courses_settings_gives_nothing_for_them(tmp_path: Path) -> None:
    tricks = (
        "skip_the_hand_in_cells_by_a_tag",
        "publish_a_result_in_every_cell",
        "put_scripts_into_the_letter",
        "add_cells_that_are_live",
        "put_out_what_is_live",
    )
    cls = make_class(tmp_path, len(tricks))
    for name, student in zip(tricks, cls.student_ids, strict=True):
        exercise = wrong_exercise(cls)
        ATTACKS[name].do(exercise, Surroundings(cls.root, "s001", tmp_path))
        hand_in_ours(cls, student, content_of(exercise))
    done = nbgrader(cls.root, "autograde", MODULE)
    assert done.returncode == 0, done.stderr[-2000:]
    given = points_in_gradebook(cls)
    for student in cls.student_ids:
        assert {given[student, f"q8_{n}"] for n in range(1, 1 + len(FULL_MARKS))} == {0}
        kept = nbformat.read(cls.root / "autograded" / student / MODULE / f"{MODULE}.ipynb", as_version=4)
        assert [cell for cell in kept.cells if cell.cell_type == "raw"] == []
        texts = [cell.source for cell in kept.cells if cell.cell_type == "markdown" and EVIL in cell.source]
        assert all(text.startswith("```") for text in texts)
        kinds = {
            kind for cell in kept.cells for out in cell.get("outputs", ()) for kind in out.get("data", {})
        }
        assert kinds <= {"text/plain", "text/html"} and EVIL not in str(
            [
                out.data.get("text/html")
                for cell in kept.cells
                for out in cell.get("outputs", ())
                if "data" in out
            ]
        )
