"""Shutting in: what a kernel sees and writes, and that strangers' code is refused where nothing does it."""

from __future__ import annotations

import json
import os
import shutil
import socket
import sys
from pathlib import Path
from typing import Any

import brakecourse
import pytest
from brakecourse.classroom import learner_side
from brakecourse.classroom.engine import sandbox
from brakecourse.classroom.engine.execute import KernelTrouble, NotebookRun
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.sandbox import Protection, protection, require_protection
from brakecourse.errors import CourseError
from nbformat import NotebookNode
from nbformat.v4 import new_code_cell, new_notebook

QUICK = Limits(cell_s=10, total_s=60)


def run(
    *sources: str, limits: Limits = QUICK, shut_in: Protection | None = None, hidden: tuple[Path, ...] = ()
) -> tuple[NotebookNode, list[str]]:
    notebook = new_notebook(cells=[new_code_cell(source) for source in sources])
    runner = NotebookRun({"work_order.json": b'{"mine": 1}'}, shut_in or protection(), limits, hidden)
    runner.preprocess(notebook)
    return notebook, runner.notes


def printed(cell: NotebookNode) -> Any:
    text = "".join(output.get("text", "") for output in cell.outputs)
    assert text, cell.outputs
    return json.loads(text)


LOOK = """
import json, os
def try_to(do, *args):
    try:
        return str(do(*args))[:40]
    except Exception as error:
        return type(error).__name__
"""


@pytest.mark.sandbox
def test_a_kernel_sees_the_learners_side_and_nothing_of_the_class(tmp_path: Path) -> None:
    secret = tmp_path / "class" / ".secret"
    secret.parent.mkdir()
    secret.write_text("canary")
    package = Path(brakecourse.__file__).parent
    looks = {
        "secret": f"open({str(secret)!r}).read()",
        "marking": "__import__('brakecourse.marking')",
        "grading": "__import__('brakecourse.classroom.engine')",
        "judge": f"open({str(package / 'marking' / 'judge.py')!r}).read()",
        "solutions": f"os.listdir({str(package.parents[1] / 'solutions')!r})",
        "tests": f"os.listdir({str(package.parents[1] / 'tests')!r})",
        "question table": f"open({str(package.parents[1] / 'datasets/course/mistakes.csv')!r}).read()",
        "passwords": "open('/etc/passwd').read()",
        "processes": "os.listdir('/proc')",
        "home": "os.listdir('/home') + os.listdir('/mnt')",
        "rooms": "sorted(os.listdir(os.path.dirname(__import__('brakecourse').__file__)))",
        "work order": "json.load(open('work_order.json'))['mine']",
        "workorder": "bool(__import__('brakecourse.workorder'))",
    }
    lines = "\n".join(f"found[{name!r}] = try_to(lambda: {look})" for name, look in looks.items())
    notebook, _ = run(LOOK + f"\nfound = {{}}\n{lines}\nprint(json.dumps(found))", hidden=(secret.parent,))
    found = printed(notebook.cells[0])
    assert (found.pop("work order"), found.pop("workorder")) == ("1", "True")
    rooms = found.pop("rooms")
    assert "bench" in rooms and "marking" not in rooms and "classroom" not in rooms
    assert set(found.values()) <= {"FileNotFoundError", "ModuleNotFoundError"}, found


@pytest.mark.sandbox
def test_the_only_places_to_write_are_its_own_and_small(tmp_path: Path) -> None:
    site = Path(json.__file__).parent
    places = [
        "/x",
        "/usr/x",
        "/dev/x",
        "/etc/x",
        "/run/x",
        str(tmp_path / "x"),
        str(site / "x"),
        "work_order.json",
    ]
    code = (
        LOOK
        + f"""
found = {{place: try_to(open, place, "w") for place in {places!r}}}
found["own"] = try_to(lambda: open("note.txt", "w").write("abc"))
def fill():
    for number in range(20):
        with open(f"/tmp/fill-{{number}}", "wb") as stream:
            stream.write(bytes(10_000_000))
found["full"] = try_to(fill)
found["one big file"] = try_to(lambda: open("big", "wb").write(bytes(40_000_000)))
print(json.dumps(found))
"""
    )
    notebook, _ = run(code)
    found = printed(notebook.cells[0])
    assert found.pop("own") == "3"
    assert set(found.values()) <= {"OSError", "FileNotFoundError", "PermissionError"}, found
    assert list(tmp_path.iterdir()) == []


@pytest.mark.sandbox
def test_there_is_no_network_not_even_to_this_machine() -> None:
    with socket.socket() as listening:
        listening.bind(("127.0.0.1", 0))
        listening.listen()
        port = listening.getsockname()[1]
        code = f"import socket\nsocket.create_connection(('127.0.0.1', {port}), 2)"
        notebook, _ = run(code)
    assert notebook.cells[0].outputs[0].ename in ("ConnectionRefusedError", "OSError")
    assert (
        "refused" in notebook.cells[0].outputs[0].evalue
        or "unreachable" in notebook.cells[0].outputs[0].evalue
    )


@pytest.mark.sandbox
def test_the_graders_environment_stays_outside(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SCHOOL_PASSWORD", "canary")
    notebook, _ = run("import json, os\nprint(json.dumps([dict(os.environ), os.getpid(), os.getppid()]))")
    environment, own, parent = printed(notebook.cells[0])
    assert "canary" not in str(environment)
    assert "JPY_PARENT_PID" not in environment
    assert own < 10 and parent < 10  # its own numbering of processes


@pytest.mark.sandbox
def test_a_class_folder_inside_a_shown_folder_is_covered(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    # As if the class lay in the folder of the Python installation, which is shown.
    secret = tmp_path / "class" / ".secret"
    secret.parent.mkdir()
    secret.write_text("canary")
    shown = sandbox._libraries()
    monkeypatch.setattr(sandbox, "_libraries", lambda: [*shown, "--ro-bind", str(tmp_path), str(tmp_path)])
    monkeypatch.setattr(sandbox.sys, "prefix", str(tmp_path))
    code = f"print(open({str(secret)!r}).read())"
    assert run(code)[0].cells[0].outputs[0].get("text") == "canary\n"
    assert run(code, hidden=(secret.parent,))[0].cells[0].outputs[0].get("ename") == "FileNotFoundError"


def test_without_bubblewrap_strangers_code_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sandbox, "_working_bubblewrap", lambda: None)
    with pytest.raises(CourseError, match="--i-trust-these-files") as refused:
        require_protection(trust_files=False)
    assert "can read and change every file" in str(refused.value)
    found = require_protection(trust_files=True)
    assert found.tool is None
    assert found.words.startswith("NO PROTECTION") and "It can use the network." in found.words


def test_a_bubblewrap_that_is_there_but_does_not_work_counts_as_none(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    broken = tmp_path / "bwrap"
    broken.write_text("#!/bin/sh\nexit 1\n")
    broken.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}{os.environ['PATH']}")
    sandbox._working_bubblewrap.cache_clear()
    try:
        assert protection().missing
    finally:
        sandbox._working_bubblewrap.cache_clear()


@pytest.mark.slow
def test_trusted_files_run_without_bubblewrap_within_limits() -> None:
    code = (
        "import json, os, resource\n"
        "print(json.dumps([resource.getrlimit(resource.RLIMIT_FSIZE), os.getcwd()]))"
    )
    notebook, notes = run(code, shut_in=Protection(None, ("nothing shuts it in",)))
    limit, folder = printed(notebook.cells[0])
    assert limit == [QUICK.file_bytes] * 2
    assert notes == []
    assert not Path(folder).exists()  # the scratch folder is gone


@pytest.mark.slow
def test_a_kernel_that_can_not_start_is_this_machines_trouble(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "executable", shutil.which("false"))
    with pytest.raises(KernelTrouble):
        run("1", shut_in=Protection(None, ("nothing",)))


@pytest.mark.sandbox
def test_a_kernel_without_the_course_never_starts(monkeypatch: pytest.MonkeyPatch) -> None:
    # It would find no answer anywhere, and a whole class would be graded 0.
    rooms = tuple(room for room in learner_side.ROOMS if room != "workorder")
    monkeypatch.setattr(learner_side, "ROOMS", rooms)
    with pytest.raises(KernelTrouble, match="workorder"):
        run("1")


def test_no_scratch_folder_is_left(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    before = set(Path("/tmp").glob("bk-*"))
    with sandbox.scratch({"work_order.json": b"{}"}) as place:
        (place.work / "deep").mkdir()
        (place.work / "deep" / "link").symlink_to(tmp_path)
        (tmp_path / "kept").write_text("x")
    assert set(Path("/tmp").glob("bk-*")) <= before | {place.root}
    assert not place.root.exists()
    assert (tmp_path / "kept").exists()
