"""Shut a kernel in: no network, nothing of the class in sight, one small place to write.

On Linux this is bubblewrap. Where it is missing the kernel runs as an ordinary process, and what
protection that lacks is said in words before anything is run.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import brakecourse
from brakecourse.classroom import learner_side
from brakecourse.classroom.engine import kernel_start, system_calls
from brakecourse.errors import CourseError

_SYSTEM = ("/usr", "/lib", "/lib32", "/lib64", "/bin", "/sbin")
_SYSTEM_FILES = ("/etc/ld.so.cache", "/etc/alternatives", "/etc/localtime", "/etc/fonts")
_SCRATCH_BYTES = 128_000_000
_WARM_FILES = ("warm_start", "warm_child", "warm_walls", "kernel_start", "system_calls")

MISSING_WITHOUT_SANDBOX = (
    "A student's code can read and change every file that you can, the class folder too.",
    "It can use the network.",
    "It can see your other programs, and leave one running.",
)


@dataclass(frozen=True)
class Protection:
    """What stands between a student's code and this machine.

    Attributes:
        tool: path of bubblewrap, or None when kernels run as ordinary processes.
        missing: what could happen, a sentence each; empty when nothing is missing.
    """

    tool: str | None
    missing: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """What to tell a person before grading starts."""
        if not self.missing:
            return "Every notebook runs shut in by bubblewrap: no network, no file of the class in sight."
        return "NO PROTECTION: bubblewrap is not at work on this machine. " + " ".join(self.missing)


@dataclass(frozen=True)
class Scratch:
    """The only folders that a kernel may write to, and the files that are laid out for it."""

    root: Path

    @property
    def sockets(self) -> Path:
        """Where the kernel's sockets lie. The path is short: a socket's address holds about 100 letters."""
        return self.root / "s"

    @property
    def work(self) -> Path:
        """The kernel's working folder."""
        return self.root / "w"

    @property
    def files(self) -> Path:
        """Files that are laid out in the working folder and can't be changed there."""
        return self.root / "f"

    @property
    def start(self) -> Path:
        """The script that starts the kernel, a copy: the grading side itself is not in sight."""
        return self.root / "start_kernel.py"

    @property
    def calls(self) -> Path:
        """What that script loads to refuse calls to the system, a copy too."""
        return self.root / "system_calls.py"

    @property
    def log(self) -> Path:
        """What the kernel's process says for itself."""
        return self.root / "kernel.log"


def protection() -> Protection:
    """Find out how kernels can be shut in on this machine."""
    tool = _working_bubblewrap()
    return Protection(tool) if tool else Protection(None, MISSING_WITHOUT_SANDBOX)


def require_protection(trust_files: bool) -> Protection:
    """Return the protection there is, or refuse to run strangers' code without any.

    Raises:
        CourseError: nothing shuts the code in, and the files are not said to be trusted.
    """
    found = protection()
    if found.missing and not trust_files:
        raise CourseError(
            "Notebooks that were handed in are other people's programs, and this machine can't shut them in "
            "because bubblewrap is not at work here; install bubblewrap (Linux), or give "
            "--i-trust-these-files if you know every file. " + " ".join(found.missing)
        )
    return found


@contextmanager
def scratch(files: Mapping[str, bytes]) -> Iterator[Scratch]:
    """Make a private scratch folder and remove it, with everything in it, at the end.

    Args:
        files: what is laid out in the working folder, by plain file name.
    """
    # The system's own folder for temporary files can have a path too long for a socket.
    short = Path("/tmp")
    root = Path(tempfile.mkdtemp(prefix="bk-", dir=short if short.is_dir() else None))
    place = Scratch(root)
    try:
        for folder in (place.sockets, place.work, place.files):
            folder.mkdir()
        for name, content in files.items():
            (place.files / name).write_bytes(content)
            (place.work / name).write_bytes(content)
        shutil.copyfile(kernel_start.__file__, place.start)
        shutil.copyfile(system_calls.__file__, place.calls)
        yield place
    finally:
        shutil.rmtree(root, ignore_errors=True)


def wrapped(command: Sequence[str], place: Scratch, shut_in: Protection, hidden: Sequence[Path]) -> list[str]:
    """Return the command that runs another one shut in.

    Args:
        command: what to run.
        place: where it may write.
        shut_in: how to shut it in; without a tool the command comes back as it is.
        hidden: folders that must not be seen, wherever they lie.
    """
    if shut_in.tool is None:
        return list(command)
    return [
        *_walls(shut_in.tool, hidden),
        *("--bind", str(place.sockets), str(place.sockets)),
        *("--size", str(_SCRATCH_BYTES), "--tmpfs", str(place.work)),
        *_read_only(sorted(place.files.iterdir()), place.work),
        *_read_only((place.start, place.calls), place.root),
        *("--remount-ro", "/", "--chdir", str(place.work)),
        *command,
    ]


def warm_command(tool: str, hidden: Sequence[Path]) -> list[str]:
    """Return the command that starts the warm interpreter shut in; it shuts each of its children in further.

    Args:
        tool: path of bubblewrap.
        hidden: folders that must not be seen, wherever they lie.
    """
    own = [Path(kernel_start.__file__).with_name(f"{name}.py") for name in _WARM_FILES]
    return [
        *_walls(tool, hidden),
        *("--dir", "/bench/old", "--proc", "/bench/proc"),
        *_read_only(own, Path("/bench")),
        *("--remount-ro", "/", "--chdir", "/", "--as-pid-1"),
        *(sys.executable, "/bench/warm_start.py"),
    ]


def shown_in_tmp() -> list[str]:
    """Return the folders in /tmp that notebooks have to see: the course or the interpreter can lie there."""
    folders = (Path(brakecourse.__file__).parents[2], Path(sys.base_prefix), Path(sys.prefix))
    return [str(path) for path in dict.fromkeys(folders) if path.is_relative_to("/tmp")]


def _walls(tool: str, hidden: Sequence[Path]) -> list[str]:
    """Return bubblewrap and the options that are the same for whatever runs in it."""
    return [
        tool,
        *("--unshare-all", "--die-with-parent", "--new-session", "--cap-drop", "ALL"),
        # In there the grader's process number means nothing; bubblewrap ends the kernel with the grader.
        *("--uid", "65534", "--gid", "65534", "--hostname", "bench", "--unsetenv", "JPY_PARENT_PID"),
        # First of all: the course itself can lie in there.
        *("--size", str(_SCRATCH_BYTES), "--tmpfs", "/tmp"),
        *_libraries(),
        *_course(),
        *_covers(hidden),
        *("--dev", "/dev", "--size", str(_SCRATCH_BYTES), "--tmpfs", "/dev/shm", "--remount-ro", "/dev"),
    ]


def environment(home: Path) -> dict[str, str]:
    """Return a notebook's environment. Nothing of the grader's own comes along: it can hold passwords.

    Args:
        home: the working folder.
    """
    quiet = {name: "1" for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")}
    return {
        **quiet,
        "PATH": "/usr/bin:/bin",
        "HOME": str(home),
        "IPYTHONDIR": str(home / ".ipython"),
        "JUPYTER_CONFIG_DIR": str(home / ".jupyter"),
        "LANG": "C.UTF-8",
        "TZ": "UTC",
        "MPLBACKEND": "module://matplotlib_inline.backend_inline",
        "PYTHONDONTWRITEBYTECODE": "1",
        "PYTHONNOUSERSITE": "1",
        "NBGRADER_EXECUTION": "autograde",
        **(_windows_needs() if sys.platform == "win32" else {}),
    }


@cache
def _working_bubblewrap() -> str | None:
    tool = shutil.which("bwrap")
    if tool is None or not sys.platform.startswith("linux"):
        return None
    # Installed is not enough: some machines forbid the namespaces it is made of.
    probe = [tool, "--unshare-all", "--die-with-parent", "--tmpfs", "/tmp", *_libraries(), "--dev", "/dev"]
    try:
        done = subprocess.run(
            [*probe, sys.executable, "-c", ""], capture_output=True, timeout=30, check=False
        )
    except (OSError, subprocess.TimeoutExpired):
        return None
    return tool if done.returncode == 0 else None


def _libraries() -> list[str]:
    """Return the options that show the interpreter and its libraries, read-only."""
    options: list[str] = []
    for name in _SYSTEM:
        path = Path(name)
        if path.is_symlink():
            options += ["--symlink", str(path.readlink()), name]
        elif path.is_dir():
            options += ["--ro-bind", name, name]
    for name in _SYSTEM_FILES:
        options += ["--ro-bind-try", name, name]
    for prefix in dict.fromkeys((sys.base_prefix, sys.prefix)):
        if not Path(prefix).is_relative_to("/usr"):
            options += ["--ro-bind", prefix, prefix]
    return options


def _course() -> list[str]:
    """Return the options that show the learner's side of the course and cover the rest of it."""
    package = Path(brakecourse.__file__).resolve().parent
    tables = package.parents[1] / "datasets"
    # An installed wheel has its tables inside, in "data".
    shown = [package / name for name in (*learner_side.MODULES, *learner_side.ROOMS, "data")]
    shown += [tables / name for name in learner_side.TABLES]
    options = ["--tmpfs", str(package)]
    for path in shown:
        if path.exists():
            options += ["--ro-bind", str(path), str(path)]
    return [*options, "--remount-ro", str(package)]


def _covers(hidden: Sequence[Path]) -> list[str]:
    """Return the options that lay an empty folder over whatever must not be seen but lies in a shown one."""
    shown = [Path(name) for name in (*_SYSTEM, sys.base_prefix, sys.prefix)]
    options: list[str] = []
    for path in {folder.resolve() for folder in hidden}:
        if path.is_dir() and any(path.is_relative_to(other.resolve()) for other in shown if other.exists()):
            options += ["--tmpfs", str(path), "--remount-ro", str(path)]
    return options


def _read_only(files: Sequence[Path], folder: Path) -> list[str]:
    return [option for path in files for option in ("--ro-bind", str(path), str(folder / path.name))]


def _windows_needs() -> dict[str, str]:
    return {name: os.environ[name] for name in ("SYSTEMROOT", "PATH", "TEMP") if name in os.environ}
