"""What opening a desk and each export cost with a class of 200 students and all modules, in new processes.

The limits are for two free processors. They are held in processor time, so that a busy machine changes
little: what is done by one process alone, and half of what its helpers share out between them.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from brakecourse.classroom.folder import ClassFolder
from brakecourse.exports.badge_key import make_key
from brakecourse.exports.desk import KINDS

from tests.exports.big_class import make_big_class

STUDENTS = 200
DESK_S, EXPORT_S = 3.0, 10.0

MEASURED = """
import json, resource, time
began = time.perf_counter()
{work}
own, helpers = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
print(json.dumps({{
    "own": own.ru_utime + own.ru_stime,
    "helpers": helpers.ru_utime + helpers.ru_stime,
    "wall": time.perf_counter() - began,
    "files": files,
}}))
"""
DESK = """
from brakecourse.desks import {name}_desk
desk, files = {name}_desk({folder!r}), 0
"""
EXPORT = """
from pathlib import Path
from brakecourse.classroom.folder import open_class
from brakecourse.exports.desk import preview, write
cls = open_class(Path({folder!r}))
files = len(write(cls, preview(cls, {name!r})))
"""


@pytest.fixture(scope="module")
def cls(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    made = make_big_class(tmp_path_factory.mktemp("export speed") / "classes", STUDENTS)
    make_key(made)
    return made


def measured(work: str, name: str, folder: Path) -> tuple[float, str]:
    """Return the seconds that some work takes on two free processors, and all figures in words."""
    code = MEASURED.format(work=work.format(name=name, folder=str(folder)))
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=600)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout.splitlines()[-1])
    seconds = found["own"] + found["helpers"] / 2
    helped = f" and {found['helpers']:.1f} s of helpers" if found["helpers"] >= 0.1 else ""
    return seconds, f"{found['own']:.1f} s of processor{helped}, {found['wall']:.1f} s by the clock"


@pytest.mark.parametrize("name", ["instructor", "coordinator"])
def test_opening_a_desk(name: str, cls: ClassFolder, timed: Any, tell: Callable[[str], None]) -> None:
    found: list[tuple[float, str]] = []
    timed.pedantic(lambda: found.append(measured(DESK, name, cls.root.parent.parent)), rounds=1)
    ((seconds, words),) = found
    timed.extra_info["seconds"] = seconds
    tell(f"opening the {name}'s desk: {words} (limit: {DESK_S:g} s)")
    assert seconds < DESK_S


@pytest.mark.timeout(900)
@pytest.mark.parametrize("name", list(KINDS))
def test_an_export(name: str, cls: ClassFolder, timed: Any, tell: Callable[[str], None]) -> None:
    found: list[tuple[float, str]] = []
    timed.pedantic(lambda: found.append(measured(EXPORT, name, cls.root)), rounds=1)
    ((seconds, words),) = found
    timed.extra_info["seconds"] = seconds
    tell(f"exporting {name} of {STUDENTS} students: {words} (limit: {EXPORT_S:g} s)")
    assert seconds < EXPORT_S
