"""`brakecourse in-one-go`: take in, grade, give feedback and export, with the figures of each stage."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Annotated

import typer

from brakecourse.classroom.folder import open_class
from brakecourse.cli.classes import ALL, Folder, Modules, handed_out
from brakecourse.cli.grading import grade_with_a_bar
from brakecourse.cli.screen import count_of, next_step, progress_bar, say, table


def in_one_go(
    folder: Folder,
    module: Modules,
    source: Annotated[
        Path,
        typer.Argument(
            metavar="FROM",
            help="A folder or a zip with the students' notebooks or zips, as for 'collect'.",
            show_default=False,
        ),
    ],
    trust: Annotated[
        bool,
        typer.Option(
            "--i-trust-these-files",
            help="Run the notebooks even where this computer can't shut them in. Only for work of your own.",
        ),
    ] = False,
) -> None:
    """Take in what students handed in, grade it, write the feedback pages and export the grades.

    Give it again whenever more has come in: what was graded and has not changed is left as it is.

    Examples:

    brakecourse in-one-go autumn all inbox

    brakecourse in-one-go autumn 08_rotor_measurement download.zip
    """
    from brakecourse.classroom import collect, engine
    from brakecourse.classroom.feedback import give_back
    from brakecourse.exports.tables import export_all

    cls = open_class(folder)
    modules = handed_out(cls, module)
    say(engine.protection().words)
    stages: list[tuple[str, int, float]] = []

    started = time.monotonic()
    with progress_bar("Taking in") as told:
        if module == ALL:
            reports = collect.collect_all(cls, source, progress=told)
        else:
            reports = [collect.collect(cls, module, source, progress=told)]
    refused = {item.where: item.why for report in reports for item in report.refused}
    if refused:
        table("Not taken in", ["Where", "Why"], list(refused.items()))
    came = sum(len(report.rows) - len(report.with_state("not handed in")) for report in reports)
    stages.append(("Handed in", came, time.monotonic() - started))

    started = time.monotonic()
    graded = grade_with_a_bar(folder, cls, modules, trust=trust)
    stages.append(("Graded", graded, time.monotonic() - started))

    started = time.monotonic()
    pages = 0
    for one in modules:
        with progress_bar(f"Feedback for {one}") as told:
            pages += len(give_back(cls, one, told))
    stages.append(("Feedback pages", pages, time.monotonic() - started))

    started = time.monotonic()
    files = export_all(cls).files
    stages.append(("Exported files", len(files), time.monotonic() - started))

    rows = [(name, many, f"{took:.1f}", f"{many / max(took, 0.05):.1f}") for name, many, took in stages]
    table("In one go", ["", ">How many", ">Seconds", ">A second"], rows)
    say(f"{count_of(len(files), 'file')} in {cls.exports}.")
    next_step("open the workbook there, check the rows that are not 'graded', then pass it on")
