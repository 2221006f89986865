"""Make the exercises from the solutions: ``python -m brakecourse.classroom.release``.

For each module it

1. draws the instructor's example case and the practice case (neither is a student's, and neither is secret),
2. writes the example's readings into the solved notebook, runs it, and stores its outputs,
3. lets nbgrader make the release, and puts it with the practice work order into ``exercises``.

Names of modules after it build only those. With ``--check`` nothing is written; it only tells whether
everything is up to date.
"""

from __future__ import annotations

import json
import logging
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError
from nbgrader.preprocessors import (
    CheckCellMetadata,
    ClearHiddenTests,
    ClearMarkScheme,
    ClearOutput,
    ClearSolutions,
    ComputeChecksums,
    LockCells,
)
from traitlets.config import Config

import brakecourse
from brakecourse import marking
from brakecourse.classroom.files import reporting_disk_trouble, write_text_whole
from brakecourse.classroom.filling import fill_in
from brakecourse.classroom.nbgrader_config import release_config
from brakecourse.errors import CourseError
from brakecourse.marking import SealedCase
from brakecourse.marking.worked import worked_letters, worked_values

ROOT = Path(brakecourse.__file__).resolve().parents[2]
SOLUTIONS, EXERCISES = "solutions", "exercises"
WORK_ORDER, CASE = "work_order.json", "case.json"

# Anyone may know these: the example is for instructors, the practice vehicle is for whoever looks around.
EXAMPLE_SECRET = b"The example case is no secret: 25"
PRACTICE_SECRET = b"The practice case is no secret: 18"

# Another name draws another vehicle: for a module whose first one shows too little of what it teaches.
PICKED_EXAMPLES: dict[str, str] = {}
PICKED_PRACTICE: dict[str, str] = {"08_rotor_measurement": "practice 2"}  # enough metal left to machine it

# nbgrader's own chain for a release, without the steps that enter the cells in a gradebook.
RELEASE_STEPS = (
    LockCells,
    ClearSolutions,
    ClearOutput,
    CheckCellMetadata,
    ComputeChecksums,
    ClearHiddenTests,
    ClearMarkScheme,
    ComputeChecksums,
    CheckCellMetadata,
)


def example_case(module: str) -> SealedCase:
    """Return the case that the solved notebook works through."""
    return marking.draw_sealed_case(module, PICKED_EXAMPLES.get(module, "example"), EXAMPLE_SECRET)


def practice_case(module: str) -> SealedCase:
    """Return the case of whoever opens the notebook in ``exercises``, in nobody's class."""
    return marking.draw_sealed_case(module, PICKED_PRACTICE.get(module, "practice"), PRACTICE_SECRET)


def build(module: str, root: Path = ROOT) -> dict[Path, str]:
    """Return every file that belongs to a module's exercise, by its path, with the text it should have.

    Args:
        module: the module's name.
        root: the course's folder.

    Raises:
        CourseError: there is no solved notebook, or it does not run through.
    """
    solutions, exercises = root / SOLUTIONS / module, root / EXERCISES / module
    example, practice = example_case(module), practice_case(module)
    solved = fill_in(
        read_notebook(solutions / f"{module}.ipynb"), worked_values(example), worked_letters(example)
    )
    run(solved, example.work_order())
    return {
        solutions / WORK_ORDER: as_json(example.work_order()),
        solutions / CASE: as_json(example.model_dump(mode="json", exclude={"order"})),
        solutions / f"{module}.ipynb": as_text(solved),
        exercises / f"{module}.ipynb": as_text(released(solved)),
        exercises / WORK_ORDER: as_json(practice.work_order()),
    }


def read_notebook(path: Path) -> Any:
    """Read a notebook.

    Raises:
        CourseError: it is not there, or it is no notebook.
    """
    try:
        return nbformat.read(path, as_version=4)
    except FileNotFoundError:
        raise CourseError(f"A solved notebook was expected at {path}, but there is none.") from None
    except Exception as error:  # nbformat raises many kinds
        raise CourseError(f"A notebook was expected at {path}, but it cannot be read ({error}).") from None


def run(solved: Any, order: Mapping[str, Any]) -> None:
    """Run the solved notebook beside its work order, and keep its outputs.

    Raises:
        CourseError: a cell ends in an error.
    """
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / WORK_ORDER).write_text(as_json(order), encoding="utf-8")
        client = NotebookClient(
            solved,
            timeout=120,
            kernel_name="python3",
            config=_wires(folder),
            resources={"metadata": {"path": folder}},
        )
        try:
            client.execute()
        except CellExecutionError as error:
            last = str(error).strip().splitlines()[-1]
            raise CourseError(f"The solved notebook should run through, but a cell ended in {last}") from None
    for cell in solved.cells:
        cell.metadata.pop("execution", None)  # times differ from run to run
    solved.metadata["language_info"] = {"name": "python"}  # no version: it differs from machine to machine


def _wires(folder: str) -> Config:
    # Files in place of network ports where there are such: nothing listens, and no warning is printed.
    config = Config()
    if sys.platform != "win32":
        config.KernelManager.transport = "ipc"
        config.KernelManager.ip = str(Path(folder) / "k")
    return config


def released(solved: Any) -> Any:
    """Return the notebook that students get, made by nbgrader's own preprocessors."""
    config = release_config()
    notebook = nbformat.reads(as_text(solved), as_version=4)
    resources: dict[str, Any] = {"nbgrader": {}}
    for step in RELEASE_STEPS:
        preprocessor = step(config=config)
        preprocessor.log = logging.getLogger("brakecourse.nbgrader")
        notebook, resources = preprocessor.preprocess(notebook, resources)
    return notebook


def as_text(notebook: Any) -> str:
    """Write a notebook as the text of its file."""
    return str(nbformat.writes(notebook)) + "\n"


def as_json(data: Any) -> str:
    """Write plain data as the text of its file."""
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def stale(built: Mapping[Path, str]) -> list[Path]:
    """Return the files that are not there, or not as they should be."""
    return [
        path for path, text in built.items() if not path.is_file() or path.read_text(encoding="utf-8") != text
    ]


def main(arguments: list[str]) -> int:
    """Build or check the exercises of the modules named, or of every module."""
    check = "--check" in arguments
    modules = [one for one in arguments if one != "--check"] or list(marking.MODULES)
    if any(module not in marking.MODULES for module in modules):
        print(
            "Give names of modules (left out: all) to write their exercises, "
            "and --check to look whether they are up to date."
        )
        return 2
    try:
        old = [path for module in modules for path in _build_one(module, write=not check)]
    except CourseError as problem:
        print(problem)
        return 1
    if check and old:
        print("Out of date: " + ", ".join(str(path.relative_to(ROOT)) for path in old))
        print("Run 'python -m brakecourse.classroom.release' and look at what has changed.")
        return 1
    print("Every exercise is up to date.")
    return 0


def _build_one(module: str, write: bool) -> list[Path]:
    built = build(module)
    old = stale(built)
    if write:
        for path in old:
            with reporting_disk_trouble(f"write {path}"):
                write_text_whole(path, built[path])
            print(f"Written: {path.relative_to(ROOT)}")
    return old


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
