"""Grading against plain nbgrader, on the course's own exercises: wall time, processor time, memory, points.

All figures are of one run. Plain nbgrader is what a user has today: one `nbgrader autograde` a module, a new
kernel a notebook. The floor is the processor time of the notebooks' cells alone, one after the other in one
IPython that has loaded everything: no fork, no walls, no reading, no judging, no storing.
"""

from __future__ import annotations

import json
import os
import resource
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse.classroom.assign import assign, read_case
from brakecourse.classroom.collect import collect_all
from brakecourse.classroom.engine import grade_modules
from brakecourse.classroom.engine.farm import LocalFarm
from brakecourse.classroom.folder import ClassFolder, open_class
from nbgrader.api import Gradebook

from tests.benchmarks.whole_program import cpu_s, do_homework, make_class, memory_mb

MODULES = ("01_job_order", "08_rotor_measurement", "12_pedal_and_burnish")
STUDENTS, OF_PLAIN = 40, 4
"""Plain nbgrader gets the first few only; its cost a submission does not depend on their number."""

FASTER, LESS_CPU, OVER_FLOOR, MOST_MB = 15.0, 8.0, 2.5, 400.0

FLOOR = """
import contextlib, io, json, os, sys, time
from IPython.core.interactiveshell import InteractiveShell
from traitlets.config import Config
config = Config()
config.HistoryManager.enabled = False
shell = InteractiveShell.instance(config=config)
shell.display_pub.publish = lambda *rest, **more: None
books = json.load(open(sys.argv[1]))
def run(book):
    os.chdir(book["folder"])
    with contextlib.redirect_stdout(io.StringIO()):
        for source in book["cells"]:
            shell.run_cell(source, store_history=True)
for book in books[::7]:
    run(book)
began = time.process_time()
for book in books:
    run(book)
print((time.process_time() - began) / len(books))
"""


@dataclass(frozen=True)
class Cost:
    """What one submission cost, in seconds."""

    wall: float
    cpu: float


@pytest.fixture(scope="module")
def cls(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    folder = tmp_path_factory.mktemp("speed")
    made = make_class(folder / "class", STUDENTS)
    for module in MODULES:
        assign(made, module)
        made = open_class(made.root)
        do_homework(made, module, folder / "inbox")
    collect_all(made, folder / "inbox")
    return made


def copy_for_nbgrader(cls: ClassFolder, to: Path, stock: bool) -> ClassFolder:
    """A copy of the class with few students, for plain nbgrader with or without the class's settings."""
    copy = open_class(Path(shutil.copytree(cls.root, to)))
    for student in copy.student_ids[OF_PLAIN:]:
        shutil.rmtree(to / "submitted" / student)
    for student in copy.student_ids[:OF_PLAIN] if stock else ():
        for module in MODULES:
            order = read_case(copy, module, student).work_order()
            (to / "submitted" / student / module / "work_order.json").write_text(json.dumps(order))
    if stock:
        copy.nbgrader_config_file.unlink()
    return copy


def plain_nbgrader(cls: ClassFolder, modules: tuple[str, ...]) -> Cost:
    began, before = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
    for module in modules:
        program = [sys.executable, "-m", "nbgrader", "autograde", module, "--create"]
        done = subprocess.run(program, cwd=cls.root, capture_output=True, text=True, env=dict(os.environ))
        assert done.returncode == 0, done.stderr
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    many = OF_PLAIN * len(modules)
    return Cost((time.perf_counter() - began) / many, cpu / many)


def ours(cls: ClassFolder) -> tuple[Cost, Cost, float]:
    """What grading costs here with the start of all processes, again without it, and the most memory held."""
    most, base = 0.0, memory_mb()
    count = 0

    def look(*_: Any) -> None:
        nonlocal most, count
        count += 1
        if count % 25 == 0:
            most = max(most, memory_mb() - base)

    began, before = time.perf_counter(), cpu_s()
    with LocalFarm(2) as farm:
        reports = grade_modules(cls, MODULES, farm=farm, progress=look)
        wall, cpu = time.perf_counter() - began, cpu_s() - before
        began, before = time.perf_counter(), cpu_s()
        grade_modules(cls, MODULES, farm=farm, force=True)
        again = Cost(time.perf_counter() - began, cpu_s() - before)
    assert [report.fresh for report in reports] == [STUDENTS] * len(MODULES)
    assert not [row.why for report in reports for row in report.rows if row.why]
    many = STUDENTS * len(MODULES)
    return Cost(wall / many, cpu / many), Cost(again.wall / many, again.cpu / many), most


def floor_cpu(cls: ClassFolder, folder: Path) -> float:
    books = []
    for module in MODULES:
        for student in cls.student_ids:
            place = folder / module / student
            place.mkdir(parents=True)
            order = json.dumps(read_case(cls, module, student).work_order(), ensure_ascii=False)
            (place / "work_order.json").write_text(order, encoding="utf-8")
            notebook = nbformat.read(cls.submitted_notebook(module, student), as_version=4)
            cells = [cell.source for cell in notebook.cells if cell.cell_type == "code"]
            books.append({"folder": str(place), "cells": cells})
    (folder / "books.json").write_text(json.dumps(books))
    command = [sys.executable, "-c", FLOOR, str(folder / "books.json")]
    environment = {**os.environ, "IPYTHONDIR": str(folder / "ipython")}
    done = subprocess.run(command, capture_output=True, text=True, check=True, env=environment)
    return float(done.stdout.split()[-1])


def points(cls: ClassFolder, module: str) -> dict[tuple[str, str], float | None]:
    """What nbgrader's own library reads, of the students that plain nbgrader had."""
    few = set(cls.student_ids[:OF_PLAIN])
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as book:
        return {
            (submission.student.id, grade.name): grade.auto_score
            for submission in book.assignment_submissions(module)
            if submission.student.id in few
            for notebook in submission.notebooks
            for grade in notebook.grades
        }


@pytest.mark.timeout(1800)
def test_grading_against_plain_nbgrader(
    cls: ClassFolder, timed: Any, tell: Callable[[str], None], tmp_path: Path
) -> None:
    with_settings = copy_for_nbgrader(cls, tmp_path / "with settings", stock=False)
    stock = plain_nbgrader(copy_for_nbgrader(cls, tmp_path / "stock", stock=True), MODULES)
    settings = plain_nbgrader(with_settings, MODULES)
    found: list[tuple[Cost, Cost, float]] = []
    timed.pedantic(lambda: found.append(ours(cls)), rounds=1)
    (own, warm, memory), floor = found[0], floor_cpu(cls, tmp_path / "floor")
    for module in MODULES:
        theirs = points(with_settings, module)
        assert theirs and points(cls, module) == theirs
    ratios = {
        "faster": stock.wall / own.wall,
        "less cpu": stock.cpu / own.cpu,
        "over floor": warm.cpu / floor,
        "mb": memory,
    }
    timed.extra_info.update(ratios)
    tell(
        f"a submission: stock nbgrader {stock.wall:.2f} s ({stock.cpu:.2f} of processor), with the class's "
        f"settings {settings.wall:.2f} s ({settings.cpu:.2f}); ours {1000 * own.wall:.0f} ms "
        f"({1000 * own.cpu:.0f}), once all is started {1000 * warm.wall:.0f} ms ({1000 * warm.cpu:.0f}); "
        f"the cells alone {1000 * floor:.0f} ms"
    )
    tell(
        f"{ratios['faster']:.0f} times the submissions a second (wished: {FASTER:g}), "
        f"{ratios['less cpu']:.0f} times less processor time (wished: {LESS_CPU:g}), "
        f"{ratios['over floor']:.2f} times the floor (wished: below {OVER_FLOOR:g}); "
        f"{settings.wall / own.wall:.0f} and {settings.cpu / own.cpu:.0f} times against the class's settings"
    )
    tell(f"memory of two workers with all that they start: {memory:.0f} MB (wished: below {MOST_MB:g})")
    assert ratios["faster"] >= FASTER
    assert ratios["less cpu"] >= LESS_CPU
    assert ratios["mb"] < MOST_MB
