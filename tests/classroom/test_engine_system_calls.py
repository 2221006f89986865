"""Calls to the system that lead out of a sandbox are refused, and those that Python needs are not.

Outside checks: the numbers stand in the Linux kernel's own headers, where a machine has them (Debian's
package linux-libc-dev); the kernel itself says in /proc whether a filter is at work, and answers each call.
"""

from __future__ import annotations

import json
import platform
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from brakecourse.classroom.engine import system_calls
from brakecourse.classroom.engine.execute import NotebookRun
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.sandbox import protection
from brakecourse.classroom.engine.system_calls import MACHINES, NAMESPACES, OTHERS, REFUSED
from brakecourse.classroom.engine.warm import WarmRun, WarmServers
from nbformat.v4 import new_code_cell, new_notebook

HEADERS = Path("/usr/include")
NUMBERS = {
    "x86_64": HEADERS / "x86_64-linux-gnu" / "asm" / "unistd_64.h",
    "aarch64": HEADERS / "asm-generic" / "unistd.h",
}
ALL = REFUSED | OTHERS
on_linux = pytest.mark.skipif(
    not sys.platform.startswith("linux") or platform.machine() not in MACHINES, reason="a filter of Linux's"
)


def defined(header: Path, pattern: str) -> dict[str, int]:
    if not header.is_file():
        pytest.skip(f"the kernel's header {header} is not on this machine")
    found = re.findall(rf"^#define\s+{pattern}\s+(0x[0-9a-fA-F]+|[0-9]+)\b", header.read_text(), re.MULTILINE)
    return {name: int(value, 0) for name, value in found}


@pytest.mark.parametrize("machine", MACHINES)
def test_the_numbers_are_those_of_the_kernels_headers(machine: str) -> None:
    theirs = defined(NUMBERS[machine], r"__NR(?:3264)?_(\w+)")
    column = MACHINES[machine][0]
    assert {name: numbers[column] for name, numbers in ALL.items()} == {name: theirs[name] for name in ALL}


def test_the_kinds_of_namespaces_are_those_of_the_kernels_header() -> None:
    theirs = defined(HEADERS / "linux" / "sched.h", r"CLONE_NEW(\w+)")
    # A new view of time lies where clone has its signal: only unshare can ask for it.
    assert sum(value for name, value in theirs.items() if name != "TIME") == NAMESPACES


def test_the_signs_of_the_machines_are_those_of_the_kernels_headers() -> None:
    kinds = defined(HEADERS / "linux" / "elf-em.h", r"EM_(\w+)")
    bits = defined(HEADERS / "linux" / "audit.h", r"__AUDIT_ARCH_(\w+)")
    ours = {name: sign for name, (_, sign) in MACHINES.items()}
    own = {"x86_64": kinds["X86_64"], "aarch64": kinds["AARCH64"]}
    assert ours == {name: value | bits["64BIT"] | bits["LE"] for name, value in own.items()}


def test_a_machine_that_is_not_known_gets_no_filter() -> None:
    assert system_calls.program("riscv64", (1,)) == b""
    assert {len(system_calls.program(machine, (1, 2))) % 8 for machine in MACHINES} == {0}


TRIED = """
import ctypes, errno, json, os, socket, subprocess, sys, threading
{first}
system = ctypes.CDLL(None, use_errno=True)
state = {state}
told = {{"state": state, "unix": socket.socket(socket.AF_UNIX).fileno() > 0}}
if state == 2:  # never without: some of the calls would do something
    for name, number in {numbers}.items():
        ctypes.set_errno(0)
        code = system.syscall(number, *[ctypes.c_ulong({arguments}.get(name, 0))] * 6)
        told[name] = errno.errorcode.get(ctypes.get_errno(), 0) if code == -1 else "did it"
    thread = threading.Thread(target=lambda: told.update(thread=True))
    thread.start()
    thread.join()
    told["program"] = subprocess.run([sys.executable, "-c", "print(7)"], capture_output=True).stdout.decode()
    pid = os.fork()
    if pid == 0:
        os._exit(5)
    told["fork"] = os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
print(json.dumps(told))
"""
STATE = "int(open('/proc/self/status').read().split('Seccomp:')[1].split()[0])"
EXPECTED = {
    **dict.fromkeys(REFUSED, "EPERM"),
    "clone": "EPERM",
    "clone3": "ENOSYS",
    "socket": "EAFNOSUPPORT",
    "state": 2,
    "unix": True,
    "thread": True,
    "program": "7\n",
    "fork": 5,
}


def tried(first: str, state: str) -> str:
    column = MACHINES[platform.machine()][0]
    numbers = {name: numbers[column] for name, numbers in ALL.items()}
    # Namespaces of users, and sockets of the kind that listens to all that goes over the wire.
    asked = {"clone": 0x10000000, "socket": 17}
    return TRIED.format(first=first, state=state, numbers=numbers, arguments=asked)


@on_linux
def test_each_is_refused_and_ordinary_programs_go_on() -> None:
    first = f"sys.path.insert(0, {str(Path(system_calls.__file__).parent)!r})\n"
    code = tried(first + "import system_calls\nassert system_calls.refuse()", STATE)
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert json.loads(done.stdout) == EXPECTED


def in_a_kernel(*sources: str) -> Any:
    notebook = new_notebook(cells=[new_code_cell(source) for source in sources])
    NotebookRun({}, protection(), Limits(cell_s=30, total_s=60)).preprocess(notebook)
    return notebook.cells


@pytest.fixture(scope="module")
def warm() -> Iterator[Callable[..., Any]]:
    tool = protection().tool
    assert tool is not None
    servers = WarmServers(tool, ())

    def in_a_child(*sources: str) -> Any:
        notebook = new_notebook(cells=[new_code_cell(source) for source in sources])
        WarmRun(servers.one, {}, Limits(cell_s=30, total_s=60)).preprocess(notebook)
        return notebook.cells

    yield in_a_child
    servers.end()


@on_linux
@pytest.mark.sandbox
@pytest.mark.slow
def test_a_notebook_is_refused_them_too(warm: Callable[..., Any]) -> None:
    # In there is no /proc to look into; that mounting is refused was seen before the rest is tried.
    mount = REFUSED["mount"][MACHINES[platform.machine()][0]]
    state = f"2 if system.syscall({mount}, 0, 0, 0, 0, 0) == -1 and ctypes.get_errno() == errno.EPERM else 0"
    for run in (in_a_kernel, warm):
        (cell,) = run(tried("", state))
        (said,) = [output.text for output in cell.outputs if output.get("name") == "stdout"]
        assert json.loads(said) == EXPECTED, run
