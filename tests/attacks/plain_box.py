"""A box for commands that run attacks: what happens in it can't harm this machine.

It has no network but its own, sees programs and this checkout to read, and can write to one folder and to a
small /tmp. It runs as a user without rights, with limits, and is ended from outside.
"""

from __future__ import annotations

import contextlib
import json
import os
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import psutil

WALL_S = 90
PROCESSES, PROCESS_BYTES, FILE_BYTES, CPU_S = 200, 2_000_000_000, 600_000_000, 60
TMP_BYTES = 200_000_000
ALL_BYTES = 3_000_000_000
NOBODY = 60000 + os.getpid() % 5000
"""A user of this run's own: the limit on processes counts a user's processes in all boxes."""

CHECKOUT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True)
class Ended:
    """How the commands in the box ended.

    Attributes:
        how: "by itself", "time" or "memory".
        told: what the program inside said of it; empty when it was killed before.
        seconds: how long it took.
        memory: the most bytes that all processes held together.
    """

    how: str
    told: dict[str, list[object]]
    seconds: float
    memory: int


def walls(folder: Path, home: Path, start: Path) -> list[str]:
    """The command that puts what follows it into the box."""
    apart = ["--unshare-all"]
    lower: list[str] = []
    if os.geteuid() == 0:
        # The limit on processes does not bind root, and a new user namespace would leave root behind it.
        apart = [f"--unshare-{name}" for name in ("ipc", "pid", "net", "uts")]
        user = [f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups"]
        lower = ["setpriv", *user, "--inh-caps=-all", "--bounding-set=-all", "--no-new-privs"]
    seen = ["/usr", "/bin", "/lib", "/lib64", "/etc", sys.base_prefix, sys.prefix, str(CHECKOUT)]
    binds = [word for path in seen for word in (*open_above(path), "--ro-bind-try", path, path)]
    places = ["--proc", "/proc", "--dev", "/dev"]
    for place in ("/tmp", "/dev/shm"):
        places += ["--perms", "1777", "--size", str(TMP_BYTES), "--tmpfs", place]
    variables = {
        "PATH": f"{sys.prefix}/bin:/usr/bin:/bin", "HOME": str(home), "LANG": "C.UTF-8",
        "PYTHONDONTWRITEBYTECODE": "1",
    }  # fmt: skip
    environment = [word for name, value in variables.items() for word in ("--setenv", name, value)]
    limits = [
        f"--nproc={PROCESSES}", f"--as={PROCESS_BYTES}", f"--fsize={FILE_BYTES}", f"--cpu={CPU_S}", "--core=0"
    ]  # fmt: skip
    return [
        "bwrap", "--die-with-parent", "--new-session", *apart, *binds, *places,
        *open_above(str(folder)), "--bind", str(folder), str(folder), "--clearenv", *environment,
        "--chdir", str(start), "--", *lower, "prlimit", *limits,
    ]  # fmt: skip


def open_above(path: str) -> list[str]:
    """Let everybody pass the folders above a path, which would be root's alone else."""
    above = [one for one in reversed(Path(path).parents) if one.parts[1:2] not in ((), ("usr",))]
    return [word for one in above if str(one) != "/tmp" for word in ("--perms", "0755", "--dir", str(one))]


def run_in_the_box(
    folder: Path, home: Path, course: Path, unix: Sequence[str], commands: Sequence[Sequence[str]],
    secret: str,
) -> Ended:  # fmt: skip
    """Give nbgrader commands in the box, in a course folder inside the folder that may be written to."""
    inside = Path(__file__).with_name("plain_inside.py")
    words = [str(folder / "said.txt"), json.dumps(list(unix)), json.dumps([list(one) for one in commands])]
    line = [*walls(folder, home, course), "env", f"TEACHERS_PASSWORD={secret}", sys.executable, str(inside)]
    if os.geteuid() == 0:
        subprocess.run(["chown", "-hR", f"{NOBODY}:{NOBODY}", str(folder)], check=True)
    begun = time.monotonic()
    most, how = 0, "by itself"
    with subprocess.Popen(
        [*line, *words], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as box:
        while box.poll() is None:
            most = max(most, held(box.pid))
            over = most > ALL_BYTES
            if over or time.monotonic() - begun > WALL_S:
                how = "memory" if over else "time"
                box.kill()
            time.sleep(0.2)
        said = box.stdout.read() if box.stdout else ""
    told = json.loads(said) if said.startswith('{"codes"') else {}
    return Ended(how, told, time.monotonic() - begun, most)


def held(pid: int) -> int:
    """Bytes that a process and its children hold, each shared page counted once."""
    total = 0
    with contextlib.suppress(psutil.Error):
        for one in psutil.Process(pid).children(recursive=True):
            with contextlib.suppress(psutil.Error):
                total += one.memory_full_info().pss
    return total
