"""Running: endless loops, ended kernels, floods and bombs cost a student that cell, and no more."""

from __future__ import annotations

import contextlib
import resource
import threading
import time
from typing import Any

import psutil
import pytest
from brakecourse.classroom.engine.execute import ANSWER_MIME, NotebookRun
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.sandbox import protection
from nbformat import NotebookNode
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook

pytestmark = pytest.mark.sandbox

QUICK = Limits(cell_s=2, total_s=60)


def run(
    *sources: str, limits: Limits = QUICK, stop: threading.Event | None = None
) -> tuple[NotebookNode, list[str]]:
    notebook = new_notebook(cells=[new_code_cell(source) for source in sources])
    runner = NotebookRun({}, protection(), limits, (), stop)
    runner.preprocess(notebook)
    return notebook, runner.notes


def text(cell: NotebookNode) -> str:
    return "".join(output.get("text", "") for output in cell.outputs)


def kernels() -> list[psutil.Process]:
    """The ordinary kernels that live. A warm interpreter that other tests share is none."""
    return [one for one in psutil.Process().children(recursive=True) if is_kernel(one)]


def is_kernel(process: psutil.Process) -> bool:
    with contextlib.suppress(psutil.NoSuchProcess):
        started_by = any(word.endswith("start_kernel.py") for word in process.cmdline())
        return started_by and process.status() != psutil.STATUS_ZOMBIE
    return False


def test_cells_run_in_order_and_an_error_does_not_stop_them() -> None:
    notebook, notes = run("a = 1", "1/0", "print(a)")
    assert notebook.cells[1].outputs[0].ename == "ZeroDivisionError"
    assert text(notebook.cells[2]) == "1\n"
    assert notes == []
    assert kernels() == []


def test_an_endless_loop_is_stopped_and_the_rest_goes_on() -> None:
    notebook, notes = run("a = 1", "while True: pass", "print(a)")
    assert text(notebook.cells[2]) == "1\n"
    assert notes == ["The cell that begins “while True: pass” was stopped after 2 seconds."]


@pytest.mark.parametrize(
    ("source", "words"),
    [
        ("exit()", "ended the program that runs the notebook"),
        ("import os\nos.kill(os.getpid(), 9)", "ended the program that runs the notebook"),
        ("import re\nre.match('(a+)+$', 'a' * 40 + 'b')", "could not be interrupted"),
    ],
)
@pytest.mark.slow
def test_a_cell_that_ends_the_kernel_is_left_out(source: str, words: str) -> None:
    notebook, notes = run("a = 1\nprint('once')", source, "print(a + 1)")
    assert text(notebook.cells[0]) == "once\n"
    assert text(notebook.cells[2]) == "2\n"
    assert len(notes) == 1 and words in notes[0], notes
    assert kernels() == []


@pytest.mark.slow
def test_three_kernels_are_enough_for_anyone() -> None:
    notebook, notes = run(*["import os\nos._exit(1)"] * 3, "print('never')", "print('never')")
    assert text(notebook.cells[4]) == ""
    assert notes[-1] == "The last 2 code cells did not run: too many cells had to be ended."


def test_the_notebook_as_a_whole_has_its_time() -> None:
    limits = Limits(cell_s=2, total_s=3)
    started = time.monotonic()
    notebook, notes = run(
        "while True: pass", "while True: pass", "while True: pass", "print('late')", limits=limits
    )
    assert time.monotonic() - started < 25
    assert text(notebook.cells[3]) == ""
    assert "did not run: the notebook took longer than 3 seconds." in notes[-1]


@pytest.mark.slow
def test_a_flood_of_output_is_dropped_and_an_answer_after_it_is_not() -> None:
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    bundle = {ANSWER_MIME: {"question": "8.2", "answer": 1.0}}
    show = f"from IPython.display import display\ndisplay({bundle!r}, raw=True)"
    notebook, _ = run("while True: print('x' * 1000)", f"for n in range(3000): print('y' * 1000)\n{show}")
    kept = sum(len(text(cell)) for cell in notebook.cells)
    assert kept <= 2 * QUICK.output_bytes
    assert [o for o in notebook.cells[1].outputs if ANSWER_MIME in o.get("data", {})]
    # Kilobytes: the flood itself is hundreds of megabytes.
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 250_000


BOMBS = {
    "memory": (
        "a = []\nwhile True: a.append(bytearray(50_000_000))",
        Limits(2, 60, memory_bytes=600_000_000),
    ),
    "processes": (
        "import subprocess, time\nfor n in range(60): subprocess.Popen(['sleep', '30'])\ntime.sleep(20)",
        Limits(15, 60, processes=20),
    ),
    "daemon": (
        "import os, time\nif os.fork() == 0:\n    os.setsid()\n"
        "    if os.fork() == 0:\n        time.sleep(60)\n    os._exit(0)",
        QUICK,
    ),
    "threads": (
        "import threading, time\n"
        "for n in range(2000): threading.Thread(target=time.sleep, args=(60,)).start()",
        QUICK,
    ),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", BOMBS)
def test_bombs_go_off_inside_and_leave_nothing(name: str) -> None:
    source, limits = BOMBS[name]
    notebook, notes = run("print('before')", source, "print('after')", limits=limits)
    assert text(notebook.cells[0]) == "before\n"
    assert text(notebook.cells[2]) == "after\n"
    if name == "processes":
        assert "was ended because it started more than 20 processes" in notes[0]
    assert kernels() == []


def test_what_acts_on_a_teachers_screen_is_not_kept() -> None:
    notebook, _ = run(
        "from IPython.display import display, HTML, Javascript, SVG\n"
        "display(HTML('<script>1</script>'), Javascript('1'), SVG('<svg onload=\"1\"/>'), {'text/x': 1})\n"
        "display({'application/javascript': '1', 'text/html': '<b>', 'text/plain': 'plain'}, raw=True)"
    )
    kinds = {kind for output in notebook.cells[0].outputs for kind in output.data}
    assert kinds == {"text/plain"}


def test_a_cell_can_not_reach_into_another_ones_outputs() -> None:
    answer: dict[str, Any] = {ANSWER_MIME: {"question": "8.2", "answer": 1.0}}
    later: dict[str, Any] = {ANSWER_MIME: {"question": "8.2", "answer": 2.0}}
    notebook, _ = run(
        "from IPython.display import display, clear_output\n"
        f"shown = display({answer!r}, raw=True, display_id='a')",
        f"display({later!r}, raw=True, display_id='a', update=True)\nclear_output()",
    )
    (output,) = notebook.cells[0].outputs
    assert output.data[ANSWER_MIME]["answer"] == 1.0
    assert notebook.cells[1].outputs == []


def test_messages_that_are_none_end_only_their_own_run() -> None:
    forge = (
        "from IPython import get_ipython\nkernel = get_ipython().kernel\n"
        "parent = kernel.get_parent()\n"
        "for content in ('x', 7, None, ['a'], {'data': 5}, {'name': 'stdout'}):\n"
        "    for kind in ('stream', 'display_data', 'execute_result', 'error', 'status', 'comm_open'):\n"
        "        kernel.session.send(kernel.iopub_socket, kind, content, parent=parent)\n"
    )
    notebook, _ = run("print('before')", forge, "print('after')")
    assert text(notebook.cells[0]) == "before\n"
    assert text(notebook.cells[2]) == "after\n"


def test_grading_that_is_stopped_leaves_no_kernel(monkeypatch: pytest.MonkeyPatch) -> None:
    stop = threading.Event()
    real = NotebookRun.execute_cell

    def execute_cell(self: NotebookRun, *rest: Any, **more: Any) -> Any:
        threading.Timer(0.5, stop.set).start()
        return real(self, *rest, **more)

    monkeypatch.setattr(NotebookRun, "execute_cell", execute_cell)
    started = time.monotonic()
    _, notes = run("import time\ntime.sleep(40)", "1", limits=Limits(cell_s=50, total_s=60), stop=stop)
    assert time.monotonic() - started < 25
    assert "was ended because grading was stopped" in notes[0]
    assert kernels() == []


def test_only_code_is_run() -> None:
    notebook = new_notebook(
        cells=[new_markdown_cell("print(1)"), new_code_cell(" \n"), new_code_cell("print(2)")]
    )
    NotebookRun({}, protection(), QUICK).preprocess(notebook)
    assert text(notebook.cells[2]) == "2\n"
    assert notebook.cells[1].outputs == []
