"""The warm interpreter: a notebook runs as in an ordinary kernel, and nothing of it reaches the next one.

Outside checks: an ordinary ipykernel runs the same notebooks; Linux's own interfaces (prctl, shmget,
process_vm_readv, numbers from memory of its header files) are called from inside.
"""

from __future__ import annotations

import contextlib
import json
import re
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import nbformat
import psutil
import pytest
from brakecourse import marking
from brakecourse.classroom.engine import sandbox, warm_server
from brakecourse.classroom.engine.execute import NotebookRun
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.outputs import ANSWER_MIME
from brakecourse.classroom.engine.prepare import SOLUTIONS
from brakecourse.classroom.engine.sandbox import protection
from brakecourse.classroom.engine.warm import NotWarm, WarmRun, WarmServer, WarmServers
from nbformat import NotebookNode
from nbformat.v4 import new_code_cell, new_notebook

pytestmark = pytest.mark.sandbox

QUICK = Limits(cell_s=2, total_s=60)
PATIENT = Limits(cell_s=30, total_s=120)


@pytest.fixture(scope="module")
def servers() -> Iterator[WarmServers]:
    tool = protection().tool
    assert tool is not None
    found = WarmServers(tool, ())
    assert found.why_not is None
    yield found
    found.end()


def run(
    servers: WarmServers, *sources: str, limits: Limits = PATIENT, files: dict[str, bytes] | None = None
) -> tuple[NotebookNode, list[str]]:
    notebook = new_notebook(cells=[new_code_cell(source) for source in sources])
    runner = WarmRun(servers.one, files or {"work_order.json": b'{"mine": 1}'}, limits)
    runner.preprocess(notebook)
    return notebook, runner.notes


def text(cell: NotebookNode) -> str:
    return "".join(output.get("text", "") for output in cell.outputs)


def printed(cell: NotebookNode) -> Any:
    assert text(cell), cell.outputs
    return json.loads(text(cell))


def solved(module: str) -> tuple[NotebookNode, dict[str, bytes]]:
    notebook = nbformat.read(SOLUTIONS / module / f"{module}.ipynb", as_version=4)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs = []
    case = marking.draw_sealed_case(module, "s01", bytes(range(32)))
    return notebook, {"work_order.json": json.dumps(case.work_order()).encode()}


def plain(cell: NotebookNode) -> list[dict[str, Any]]:
    """A cell's outputs without what differs between any two runs: paths, colours, numbers of addresses."""
    found: list[dict[str, Any]] = []
    for output in cell.get("outputs", ()):
        shown = json.loads(json.dumps(output))
        if "traceback" in shown:
            # How many of a library's own lines it shows differs; the last line says it all.
            shown["traceback"] = [re.sub("\x1b\\[[0-9;]*m", "", line) for line in shown["traceback"][-1:]]
        last = found[-1] if found else {}
        if shown["output_type"] == last.get("output_type") == "stream" and shown["name"] == last["name"]:
            last["text"] += shown["text"]  # in how many pieces a text arrives is chance
        else:
            found.append(shown)
    return found


def both_ways(
    servers: WarmServers, notebook: NotebookNode, files: dict[str, bytes]
) -> tuple[NotebookNode, NotebookNode]:
    one, other = (nbformat.from_dict(json.loads(json.dumps(notebook))) for _ in range(2))
    kernel = NotebookRun(files, protection(), PATIENT)
    kernel.preprocess(one)
    runner = WarmRun(servers.one, files, PATIENT)
    runner.preprocess(other)
    assert (kernel.notes, runner.notes) == ([], [])
    return one, other


def same_outputs(one: NotebookNode, other: NotebookNode) -> int:
    """Compare all outputs of two runs; return how many answers there were."""
    answers = 0
    for theirs, ours in zip(one.cells, other.cells, strict=True):
        assert plain(ours) == plain(theirs), ours.source
        if ours.cell_type == "code":
            assert ours.execution_count == theirs.execution_count
            answers += sum(ANSWER_MIME in output.get("data", {}) for output in ours.outputs)
    return answers


NAME_OF_A_CELLS_FILE = r"(/tmp/ipykernel_\d+/)?\d+\.py|<ipython-input-[\w-]+>"
SAID = [
    "print('out'); import sys; print('err', file=sys.stderr); 'value'",
    "def f():\n    return 1 / 0\nf()",
    "x = [1, 2]\nx",
    "from IPython.display import display, HTML\ndisplay(x, HTML('<b>x</b>'))",
    "display({'text/plain': 'p'}, raw=True)",
    "_ + [3], In[1][:5], Out[3]",
    "%matplotlib inline\nimport matplotlib.pyplot as plt\nplt.plot([1, 2, 3]);",
    "fig, ax = plt.subplots(figsize=(2, 2)); ax.plot([3, 1]); plt.show()",
    "def broken(:",
    "undefined_name",
    "import warnings; warnings.warn('look')",
    "!echo from the shell",
    "%%capture held\nprint('kept back')",
    "held.stdout",
    "await __import__('asyncio').sleep(0, 'awaited')",
    "raise SystemExit(3)",
    "try:\n    input('who? ')\nexcept Exception as error:\n    print(type(error).__name__, error)",
    "from brakecourse.published import convert\nconvert(1, 'inch', 'mm')",
]  # fmt: skip


def test_whatever_cells_put_out_is_the_same_as_in_a_kernel(servers: WarmServers) -> None:
    notebook = new_notebook(cells=[new_code_cell(source) for source in SAID])
    one, other = both_ways(servers, notebook, {})
    # A path of a cell's own temporary file stands in a warning, and an error names each file's place.
    for book in (one, other):
        for cell in book.cells:
            for output in cell.outputs:
                for name in ("text", "evalue"):
                    if name in output:
                        output[name] = re.sub(NAME_OF_A_CELLS_FILE, "CELL", output[name])
    same_outputs(one, other)
    pictures = [o for cell in other.cells for o in cell.outputs if "image/png" in o.get("data", {})]
    assert len(pictures) == 2


@pytest.mark.parametrize("module", ["08_rotor_measurement"])
def test_a_solved_exercise_puts_out_the_same_as_in_a_kernel(servers: WarmServers, module: str) -> None:
    assert same_outputs(*both_ways(servers, *solved(module))) >= 8


@pytest.mark.slow
@pytest.mark.parametrize("module", [one for one in marking.MODULES if one != "08_rotor_measurement"])
def test_every_solved_exercise_puts_out_the_same_as_in_a_kernel(servers: WarmServers, module: str) -> None:
    assert same_outputs(*both_ways(servers, *solved(module))) >= 6


def test_a_solved_exercise_loads_nothing_that_is_not_loaded_already(servers: WarmServers) -> None:
    count = "import sys\nprint(len(sys.modules))"
    for module in marking.MODULES:
        notebook, files = solved(module)
        sources = [cell.source for cell in notebook.cells if cell.cell_type == "code"]
        done, _ = run(servers, count, *sources, count, files=files)
        assert printed(done.cells[0]) == printed(done.cells[-1]), module


def test_cells_run_in_order_and_an_endless_loop_is_stopped(servers: WarmServers) -> None:
    notebook, notes = run(servers, "a = 1", "while True: pass", "print(a)", limits=QUICK)
    assert text(notebook.cells[2]) == "1\n"
    assert notes == ["The cell that begins “while True: pass” was stopped after 2 seconds."]
    assert notebook.cells[1].outputs[0].ename == "KeyboardInterrupt"


@pytest.mark.parametrize(
    ("source", "words"),
    [
        ("exit()", "ended the program that runs the notebook"),
        ("import os\nos.kill(os.getpid(), 9)", "ended the program that runs the notebook"),
        ("import re\nre.match('(a+)+$', 'a' * 40 + 'b')", "was stopped after 2 seconds"),
        ("import ctypes\nctypes.string_at(0)", "ended the program that runs the notebook"),
        (
            "import signal\nsignal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGINT])\nwhile True: pass",
            "could not be interrupted",
        ),
    ],
)
def test_a_cell_that_ends_its_child_is_left_out(servers: WarmServers, source: str, words: str) -> None:
    before = servers.one()
    notebook, notes = run(servers, "a = 1\nprint('once')", source, "print(a + 1)", limits=QUICK)
    assert text(notebook.cells[0]) == "once\n"
    assert text(notebook.cells[2]) == "2\n"
    assert len(notes) == 1 and words in notes[0], notes
    assert servers.one() is before  # nobody else notices


def test_three_lives_are_enough_for_anyone(servers: WarmServers) -> None:
    notebook, notes = run(servers, *["import os\nos._exit(1)"] * 3, "print('never')")
    assert text(notebook.cells[3]) == ""
    assert notes[-1] == "The last code cell did not run: too many cells had to be ended."


def test_a_flood_of_output_is_dropped_and_an_answer_after_it_is_not(servers: WarmServers) -> None:
    before = psutil.Process().memory_info().rss
    show = (
        f"from IPython.display import display\ndisplay({{{ANSWER_MIME!r}: {{'question': '8.2'}}}}, raw=True)"
    )
    flood = "while True: print('x' * 1000)"
    raw = (
        "import warm_child\nwhile True:\n    warm_child._channel._said = 0\n"
        "    warm_child._say('stream', {'name': 'stdout', 'text': 'x' * 9000})"
    )
    notebook, notes = run(
        servers, flood, f"for n in range(3000): print('y' * 1000)\n{show}", raw, limits=QUICK
    )
    for cell in notebook.cells:
        assert 0 < len(text(cell)) <= QUICK.output_bytes
    assert [o for o in notebook.cells[1].outputs if ANSWER_MIME in o.get("data", {})]
    assert len(notes) == 2
    assert psutil.Process().memory_info().rss - before < 100_000_000


BOMBS = {
    "memory": (
        "a = []\nwhile True: a.append(bytearray(50_000_000))",
        Limits(5, 60, memory_bytes=600_000_000),
    ),
    "processes": (
        "import subprocess, time\nfor n in range(60): subprocess.Popen(['sleep', '30'])\ntime.sleep(20)",
        Limits(15, 60, processes=20),
    ),
    "forks": ("import os\nwhile True:\n    try: os.fork()\n    except OSError: pass", Limits(5, 60)),
    "threads": (
        "import threading, time\n"
        "for n in range(2000): threading.Thread(target=time.sleep, args=(60,)).start()",
        QUICK,
    ),
    "disk": ("for n in range(50): open(f'/tmp/{n}', 'wb').write(bytes(30_000_000))", QUICK),
}  # fmt: skip


def living() -> set[psutil.Process]:
    found = set()
    for one in psutil.Process().children(recursive=True):
        with contextlib.suppress(psutil.NoSuchProcess):
            if one.status() != psutil.STATUS_ZOMBIE:
                found.add(one)
    return found


def warm_ones(processes: set[psutil.Process]) -> set[psutil.Process]:
    return {one for one in processes if any(word.endswith("warm_start.py") for word in one.cmdline())}


@pytest.mark.slow
@pytest.mark.parametrize("name", BOMBS)
def test_bombs_go_off_inside_and_leave_nothing(servers: WarmServers, name: str) -> None:
    source, limits = BOMBS[name]
    servers.one()
    before = living()
    notebook, notes = run(servers, "print('before')", source, "print('after')", limits=limits)
    assert text(notebook.cells[0]) == "before\n"
    assert text(notebook.cells[2]) == "after\n"
    if name == "processes":
        assert "was ended because it started more than 20 processes" in notes[0]
    after = living()
    # Bubblewrap and the server, of this file's and of whatever other tests share.
    assert len(warm_ones(after)) == len(warm_ones(before)) >= 2
    assert after - warm_ones(after) <= before


LEAVE = """
import os, sys, builtins, random, ctypes, subprocess, signal
for place in ("/tmp/left", "left", "/dev/shm/left"):
    open(place, "w").write("x")
if os.fork() == 0:
    os.setsid()
    if os.fork() == 0:
        import time
        for _ in range(100):
            time.sleep(0.1)
            open("/tmp/late", "w").write("x")
    os._exit(0)
subprocess.Popen(["sleep", "60"], start_new_session=True)
os.environ["LEFT"] = builtins.left = sys.left = "x"
ctypes.CDLL(None).shmget(4711, 4096, 0o1666)  # with IPC_CREAT, from memory of <sys/ipc.h>
import brakecourse.workorder.desk as desk
desk._open = "mine"
"""

LOOK = """
import os, sys, builtins, ctypes, json
import brakecourse.workorder.desk as desk
found = [name for name in ("/tmp/left", "left", "/dev/shm/left", "/tmp/late") if os.path.exists(name)]
found += [name for name in ("LEFT",) if name in os.environ]
found += [name for name in ("left",) if hasattr(sys, name) or hasattr(builtins, name)]
found += ["shm"] if ctypes.CDLL(None).shmget(4711, 4096, 0o666) != -1 else []
found += ["desk"] if desk._open is not None else []
for number in range(2, os.getpid() + 100):
    try:
        os.kill(number, 0)
        found += [number] if number != os.getpid() else []
    except OSError:
        pass
print(json.dumps(found))
"""


def test_nothing_reaches_the_next_notebook(servers: WarmServers) -> None:
    first = servers.one()
    notebook, _ = run(servers, LEAVE, LOOK)
    assert servers.one() is first  # it has cleaned up itself, and was not ended for it
    here = printed(notebook.cells[1])
    assert {"/tmp/left", "left", "/dev/shm/left", "LEFT", "shm", "desk"} <= set(here)  # the look can see
    assert [one for one in here if isinstance(one, int)]
    server = servers.one()
    notebook, _ = run(servers, LOOK)
    assert printed(notebook.cells[0]) == []
    assert servers.one() is server


def test_every_child_has_a_chance_of_its_own(servers: WarmServers) -> None:
    code = "import random, tempfile, json\nprint(json.dumps([random.random(), tempfile.mktemp()]))"
    seen = [printed(run(servers, code)[0].cells[0]) for _ in range(3)]
    assert len({number for number, _ in seen}) == len({name for _, name in seen}) == 3


TRY = """
import ctypes, json, os, socket
libc = ctypes.CDLL(None, use_errno=True)
def errno_of(done): return ctypes.get_errno() if done == -1 else 0
def open_of(path):
    try:
        return bool(open(path, "rb"))
    except OSError as error:
        return type(error).__name__
found = {
    "mount": errno_of(libc.mount(b"tmpfs", b"/tmp", b"tmpfs", 0, None)),
    "umount": errno_of(libc.umount2(b"/bench", 2)),
    "trace the server": errno_of(libc.ptrace(16, 1, None, None)),
    "stop the server": errno_of(libc.kill(1, 19)),
    "proc": open_of("/proc/1/mem"), "bench": open_of("/bench/proc/1/mem"),
}
buffer = ctypes.create_string_buffer(8)
class Part(ctypes.Structure):
    _fields_ = [("base", ctypes.c_void_p), ("length", ctypes.c_size_t)]
ours = Part(ctypes.addressof(buffer), 8)
theirs = Part(id(json), 8)
parts = (1, ctypes.byref(ours), 1, ctypes.byref(theirs), 1, 0)
found["read the server"] = errno_of(libc.process_vm_readv(*parts))
found["write the server"] = errno_of(libc.process_vm_writev(*parts))
found["parent"] = os.getppid()
def kind(number):
    try:
        return oct(os.fstat(number).st_mode)[2:4]
    except OSError:
        return ""
found["files"] = [number for number in range(3, 256) if kind(number)]
found["sockets"] = [number for number in range(256) if kind(number) == "14"]
found["rooms"] = os.listdir("/")
print(json.dumps(found))
"""


def test_a_child_has_no_power_over_the_server_and_no_way_to_it(servers: WarmServers) -> None:
    found = printed(run(servers, TRY)[0].cells[0])
    refused = {1, 3, 22}  # EPERM, ESRCH, EINVAL: from memory of <errno.h>
    for what in ("mount", "umount", "trace the server", "read the server", "write the server"):
        assert found[what] in refused, (what, found)
    assert found["stop the server"] == 0  # the system takes the signal and drops it
    assert (found["proc"], found["bench"]) == ("FileNotFoundError", "FileNotFoundError")
    assert found["parent"] == 1
    assert len(found["sockets"]) == 1  # its own
    assert len(found["files"]) <= 4
    assert not {"home", "mnt", "proc", "run", "var"} & set(found["rooms"])
    assert text(run(servers, "print('still there')")[0].cells[0]) == "still there\n"


FORGE = """
import os, stat
for number in range(3, 256):
    try:
        if stat.S_ISSOCK(os.fstat(number).st_mode):
            os.write(number, {junk})
    except OSError:
        pass
"""


@pytest.mark.parametrize(
    "junk",
    [
        'b"\\xff\\xff\\xff\\xff"',
        'b"\\x00\\x00\\x00\\x03abc"',
        "(len(deep := b'[' * 100_000)).to_bytes(4, 'big') + deep",
        "b'\\x00\\x00\\x00\\x01' + b'7'",
        "(len(many := b'9' * 90_000)).to_bytes(4, 'big') + many",
    ],
)
def test_what_is_no_message_ends_only_its_own_life(servers: WarmServers, junk: str) -> None:
    before = servers.one()
    notebook, notes = run(servers, "print('before')", FORGE.format(junk=junk), "print('after')", limits=QUICK)
    assert text(notebook.cells[0]) == "before\n"
    assert text(notebook.cells[2]) == "after\n"
    assert len(notes) == 1 and "upset the program that runs the notebook" in notes[0]
    assert servers.one() is before


def test_odd_messages_change_nothing(servers: WarmServers) -> None:
    odd = (
        "import warm_child\n"
        "for content in ('x', 7, None, ['a'], {'data': 5}, {'name': 'stdout'}, {'text': '\\ud800'}):\n"
        "    for kind in ('stream', 'display_data', 'execute_result', 'error', 'begun', 'odd', None, 5):\n"
        "        warm_child._say(kind, content)\n"
    )
    notebook, notes = run(servers, "print('before')", odd, "print('after')")
    assert [text(notebook.cells[n]) for n in (0, 2)] == ["before\n", "after\n"]
    assert notes == []


def test_a_server_that_ended_is_started_again(servers: WarmServers) -> None:
    run(servers, "1")
    ended = servers.one()
    ended._process.kill()
    ended._process.wait(60)
    notebook, notes = run(servers, "print('here')")
    assert (text(notebook.cells[0]), notes) == ("here\n", [])
    assert servers.one() is not ended


def test_a_server_ends_with_the_one_who_started_it() -> None:
    server = WarmServer(protection().tool or "", ())
    (own,) = [one for one in psutil.Process().children() if one.pid == server._process.pid]
    inside = own.children(recursive=True)
    server.control.close()
    _, alive = psutil.wait_procs(inside, timeout=10)
    assert inside and not alive
    server.end()


def test_one_thread_and_one_shelter_are_checked_before_anything_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    real = sandbox.warm_command

    def without_its_own_proc(tool: str, hidden: tuple[Path, ...]) -> list[str]:
        command = real(tool, hidden)
        place = command.index("--proc")
        return [*command[:place], "--dir", *command[place + 1 :]]

    monkeypatch.setattr(warm_server, "warm_command", without_its_own_proc)
    with pytest.raises(NotWarm):
        WarmServer(protection().tool or "", ())
    found = WarmServers(protection().tool or "", ())
    assert found.why_not


def test_a_child_is_quick(servers: WarmServers) -> None:
    """No promise of speed, but a hang of seconds between notebooks would show."""
    run(servers, "1")
    started = time.monotonic()
    for _ in range(20):
        run(servers, "1")
    assert time.monotonic() - started < 20
