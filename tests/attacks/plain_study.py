"""Measure what plain nbgrader gives for every attack, each in a course folder of its own, in a box.

`python -m tests.attacks.plain_study [NAME ...]` goes on where it was broken off; with names, these attacks
are measured again. It takes about an hour. An honest student is graded after the attacker, so that harm
shows.
"""

from __future__ import annotations

import datetime
import os
import shutil
import subprocess
import sys
import tempfile
from importlib.metadata import version
from pathlib import Path
from unittest import mock

from tests.attacks import attacked  # noqa: F401 (enters the attacks into the list)
from tests.attacks.plain import ASSIGNMENT, exercise_of, hand_in, make_course
from tests.attacks.plain_box import Ended, run_in_the_box
from tests.attacks.plain_inside import TCP, UDP
from tests.attacks.plain_outcome import Outcome, fingerprints, outcome_of
from tests.attacks.plain_results import PlainResult, plain_results, write_results
from tests.attacks.plain_words import words_of
from tests.attacks.registry import ATTACKS, MARK, PLAIN_POINTS, Attack, Surroundings

ATTACKER, HONEST = "attacker", "honest_right"
CANARY = "c0ffee" * 8
NOTEBOOK = f"{ASSIGNMENT}.ipynb"
PATTERN = r".*/extracted/(?P<student_id>[^/]+)/(?:.*/)?(?P<file_id>[^/]+)"
"""nbgrader leaves it to the teacher how a file's path names its student: here each student has a folder."""
NOTHING = Attack(
    "nothing", "", "Answers wrongly.", None, "", "graded", "", "notebook", lambda *_: None
)  # fmt: skip


def main() -> None:
    """Measure what is not measured yet, or what is named."""
    named = sys.argv[1:]
    results = {name: one for name, one in plain_results().items() if name in ATTACKS}
    with tempfile.TemporaryDirectory(prefix="plain_") as made:
        os.chmod(made, 0o755)
        model = make_course(Path(made) / "model")
        with (model / "nbgrader_config.py").open("a") as settings:
            settings.write(f"c.FileNameCollectorPlugin.named_regexp = {PATTERN!r}\n")
        honest = measure(NOTHING, model, Path(made) / "one")
        print(f"nobody attacks: {honest}", flush=True)
        assert (honest.points, honest.honest_points) == ("0", str(PLAIN_POINTS))
        for number, attack in enumerate(ATTACKS.values(), 1):
            if attack.name not in named if named else attack.name in results:
                continue
            results[attack.name] = measure(attack, model, Path(made) / "one")
            write_results({name: results[name] for name in ATTACKS if name in results})
            print(f"{number}/{len(ATTACKS)} {attack.name}: {results[attack.name].words}", flush=True)


def measure(attack: Attack, model: Path, folder: Path) -> PlainResult:
    """Hand one attack in, grade, and look at what came of it."""
    course = folder / "course"
    try:
        shutil.copytree(model, course)
        where = surroundings(folder)
        zipped = attack.kind == "inbox"
        lay_out(attack, course, where, zipped)
        before = fingerprints(folder)
        collect = [["zip_collect", ASSIGNMENT, "--force"]] if zipped else []
        commands = [*collect, ["autograde", ASSIGNMENT, "--create"]]
        ended = run_in_the_box(folder, folder / "home", course, where.unix, commands, CANARY)
        outcome = outcome_of(folder, course, (ATTACKER, HONEST), before, CANARY)
        return result(attack, ended, outcome)
    finally:
        # rm goes deeper than Python's own tidying up, which an attack digs a hole for.
        subprocess.run(["rm", "-rf", str(folder)], check=True)


def surroundings(folder: Path) -> Surroundings:
    """Lay the files beside the course that nobody has any business with."""
    course, outside, home = folder / "course", folder / "outside", folder / "home"
    places = (outside / "password.txt", course / "cases" / "password.txt", home / f".{MARK}")
    for place in (*places, course / ".secret", course / "received" / HONEST):
        place.parent.mkdir(exist_ok=True)
        place.write_text(CANARY, encoding="utf-8")
    unix = (f"@{MARK}", str(folder / "one.sock"))
    return Surroundings(course, HONEST, outside, places, TCP, UDP, unix)


def lay_out(attack: Attack, course: Path, where: Surroundings, zipped: bool) -> None:
    """Hand the attack in, and the honest student's work."""
    hand_in(course, HONEST, exercise_of(course, right=True))
    exercise = exercise_of(course)
    with mock.patch.dict(os.environ, HOME=str(course.parent / "home")):
        if zipped:
            archive = course / "downloaded" / ASSIGNMENT / "archive"
            (archive / ATTACKER).mkdir(parents=True)
            shutil.move(course / "submitted" / HONEST / ASSIGNMENT, archive / HONEST)
            attack.do(archive / ATTACKER, exercise, where)
        elif attack.kind == "submitted":
            attack.do(course / "submitted" / ATTACKER / ASSIGNMENT / NOTEBOOK, exercise, where)
        else:
            content = attack.do(exercise, where)
            hand_in(course, ATTACKER, exercise)
            if attack.kind == "file":
                (course / "submitted" / ATTACKER / ASSIGNMENT / NOTEBOOK).write_bytes(content)


def result(attack: Attack, ended: Ended, outcome: Outcome) -> PlainResult:
    """The row of one attack."""
    ended_well = ended.how == "by itself" and ended.told
    own = f"{outcome.points:g}" if ended_well and outcome.points is not None else ""
    honest = "" if outcome.honest_points is None else f"{outcome.honest_points:g}"
    return PlainResult(
        attack.name, own, honest, f"{ended.seconds:.0f}", f"{ended.memory / 1e6:.0f}",
        words_of(attack.name, attack.kind, ended, outcome),
        f"measured {datetime.date.today()} with nbgrader {version('nbgrader')}",
    )  # fmt: skip


if __name__ == "__main__":
    main()
