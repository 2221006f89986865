#!/usr/bin/env python3
"""Sets the course up in a folder of its own and starts it: python3 run.py demo | test | lab | student.

Needs nothing but Python 3.11 or newer. The same file starts the course from a copy of the whole
project and from a student's kit (then a folder "wheels" lies beside it).
"""

import sys

# This must be readable by an old Python, so the whole file keeps to the grammar of Python 3.6.
if sys.version_info < (3, 11):
    sys.exit(
        "This course needs Python 3.11 or newer, but this is Python {}.{}; "
        "install a newer Python and start run.py with it.".format(*sys.version_info[:2])
    )

import difflib
import errno
import hashlib
import importlib.util
import json
import os
import re
import shutil
import signal
import subprocess
import urllib.parse
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).resolve().parent
WINDOWS = os.name == "nt"
STAMP = "brakecourse-setup.json"  # lies in the environment's folder and says what the environment holds
LOG = "brakecourse-setup.log"
STUDENT_CONFIG = "student-config"

Environ = Mapping[str, str]
Runner = Callable[[Sequence[str], Environ, Path, Callable[[str], None]], int]


class Trouble(Exception):
    """Something a person can put right: one sentence, and the lines of a log that show it."""

    def __init__(self, sentence: str, log: Path | None = None) -> None:
        super().__init__(sentence)
        self.log = log


def say(text: str) -> None:
    print(text, flush=True)


# ---------------------------------------------------------------- where things are


@dataclass(frozen=True)
class House:
    """Where this copy of the course lies, and where its Python environment is or will be."""

    root: Path
    venv: Path
    requirements: Path
    wheel: Path | None  # in a student's kit: the course as a wheel

    @property
    def room_gb(self) -> float:
        """What the environment takes on the disk, roughly."""
        return 0.5 if self.wheel else 1.5

    @property
    def bin(self) -> Path:
        return self.venv / ("Scripts" if WINDOWS else "bin")

    @property
    def python(self) -> Path:
        return self.bin / ("python.exe" if WINDOWS else "python")

    def wanted(self) -> str:
        """Return a fingerprint of all that decides what the environment must hold."""
        digest = hashlib.sha256(f"{self.root}\n{sys.version_info[:2]}\n{WITHOUT_MATHJAX}".encode())
        for path in (self.requirements, self.wheel or self.root / "pyproject.toml"):
            digest.update(path.read_bytes())
        return digest.hexdigest()

    def environ(self, environ: Environ) -> dict[str, str]:
        """Return the environment variables for whatever runs in the environment.

        Its programs come first on PATH: nbgrader calls one of them by its bare name.
        """
        changed = {
            "PATH": os.pathsep.join([str(self.bin), environ.get("PATH", os.defpath)]),
            "VIRTUAL_ENV": str(self.venv),
            "PYTHONUTF8": "1",
            "PIP_USER": "0",
        }
        return {**{k: v for k, v in environ.items() if k != "PYTHONHOME"}, **changed}


def find_house(root: Path, environ: Environ) -> House:
    """Tell a student's kit from the whole project, and find the files the set-up needs."""
    venv = Path(environ.get("BRAKECOURSE_VENV") or root / ".venv").expanduser().absolute()
    wheel = None
    if (root / "wheels").is_dir():
        wheels = sorted((root / "wheels").glob("brakecourse*.whl"))
        if len(wheels) != 1:
            raise Trouble(
                f"The kit's folder 'wheels' should hold the course once, but holds it {len(wheels)} times; "
                "unpack the kit's zip again into an empty folder."
            )
        wheel = wheels[0]
    for name in ["requirements.txt"] if wheel else ["requirements.txt", "pyproject.toml"]:
        if not (root / name).is_file():
            raise Trouble(
                f"run.py needs the file {name} beside it in {root}, but it is not there; "
                "unpack or fetch the course again."
            )
    return House(root, venv, root / "requirements.txt", wheel)


# ---------------------------------------------------------------- running programs


def run_logged(argv: Sequence[str], environ: Environ, log: Path, each_line: Callable[[str], None]) -> int:
    """Run a program, its words into a log file and line by line to ``each_line``; return its exit code."""
    with log.open("a", encoding="utf-8") as handle:
        handle.write("$ " + " ".join(argv) + "\n")
        handle.flush()
        with subprocess.Popen(
            argv,
            env=dict(environ),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
        ) as process:
            assert process.stdout is not None
            for line in process.stdout:
                handle.write(line)
                handle.flush()
                each_line(line.rstrip())
    return process.returncode


def run_here(argv: Sequence[str], environ: Environ, folder: Path) -> int:
    """Run a program in this window until it ends; Ctrl-C is the program's to answer."""
    with subprocess.Popen(argv, env=dict(environ), cwd=folder) as process:
        while True:
            try:
                return process.wait()
            except KeyboardInterrupt:
                continue
            except SystemExit:
                process.terminate()
                raise


# ---------------------------------------------------------------- setting up


class Counter:
    """Turns the installer's lines into a count that a person can follow."""

    def __init__(self, requirements: Path) -> None:
        self.lines = requirements.read_text(encoding="utf-8").splitlines()
        self.total = sum("==" in line for line in self.lines)
        self.seen: set[int] = set()

    def __call__(self, line: str) -> None:
        found = re.search(r"\(from -r .* \(line (\d+)\)\)$", line)
        if found and int(found[1]) not in self.seen:
            self.seen.add(int(found[1]))
            if len(self.seen) % 20 == 0:
                name = self.lines[int(found[1]) - 1].split("==")[0]
                say(f"  {len(self.seen)} of about {self.total} libraries found, {name} the latest")
        elif line.startswith("Installing collected packages"):
            say("  all fetched; unpacking them takes about a minute")


# What the installer's last words mean, the surest sign first.
FAULTS = (
    (
        r"No space left|Errno 28\b|not enough space on the disk|Disk quota exceeded",
        "The disk is full: the course's libraries need about {room_gb} GB in {venv}; "
        "make room there and run this again.",
    ),
    (
        r"Permission denied|Errno 13\b|Access is denied|Read-only file system",
        "The course's libraries go into {venv}, but writing there is not allowed; "
        "put the course in a folder of your own, or name one in the variable BRAKECOURSE_VENV.",
    ),
    (
        r"NewConnectionError|NameResolutionError|name resolution|getaddrinfo|Max retries exceeded|timed out"
        r"|ConnectTimeout|ProxyError|SSLError|Connection (?:refused|reset|aborted)|Network is unreachable"
        r"|dns error|error sending request",
        "The course's libraries must be fetched once from the internet, but their server could not be "
        "reached; check the connection and run this again.",
    ),
    (
        r"No matching distribution|Could not find a version|No solution found",
        "A library that {requirements} names is not to be had for this system and Python {python}; "
        "try Python 3.11, 3.12 or 3.13.",
    ),
    (
        r"ensurepip",
        "Python could not make an environment because its part 'ensurepip' is missing or broken; install it "
        "(on Debian or Ubuntu: sudo apt install python3-venv) and run this again.",
    ),
)


def explain(house: House, log: Path) -> Trouble:
    """Return, in one sentence, what the last lines of the set-up's log tell."""
    last_run = log.read_text(encoding="utf-8", errors="replace").rsplit("\n$ ", 1)[-1]
    facts = {
        "venv": house.venv,
        "room_gb": house.room_gb,
        "requirements": house.requirements.name,
        "python": "{}.{}".format(*sys.version_info[:2]),
    }
    for sign, sentence in FAULTS:
        if re.search(sign, last_run, re.IGNORECASE):
            return Trouble(sentence.format(**facts), log)
    return Trouble("The course could not be set up; the last lines below say why.", log)


def read_stamp(house: House) -> dict[str, str] | None:
    """Return what the environment says of itself; None where it is not this course's work."""
    path = house.venv / STAMP
    if not path.is_file():
        return None
    try:
        stamp = json.loads(path.read_text(encoding="utf-8"))
        return {key: str(stamp[key]) for key in ("folder", "holds")}
    except (ValueError, KeyError, TypeError):
        return {"folder": "", "holds": ""}  # cut off while it was written


def write_stamp(house: House, holds: str) -> None:
    fresh = house.venv / (STAMP + ".new")
    fresh.write_text(json.dumps({"folder": str(house.venv), "holds": holds}), encoding="utf-8")
    fresh.replace(house.venv / STAMP)


def starts(house: House, environ: Environ) -> bool:
    """Return whether the environment has a Python of the same version as this one that runs, with pip."""
    asks = f"import pip, sys; sys.exit(sys.version_info[:2] != {tuple(sys.version_info[:2])})"
    try:
        return not subprocess.run(
            [str(house.python), "-c", asks], env=dict(environ), capture_output=True, check=False
        ).returncode
    except OSError:
        return False


def state_of(house: House, environ: Environ) -> str:
    """Return what must be done with the environment: "make", "remake", "update" or nothing ("ready").

    Only a folder that carries this course's stamp is ever emptied.
    """
    if not house.venv.exists() or (house.venv.is_dir() and not any(house.venv.iterdir())):
        return "make"
    stamp = read_stamp(house)
    usable = starts(house, environ)
    if stamp is None:
        if usable and (house.venv / "pyvenv.cfg").is_file():
            return "update"  # somebody made it by hand: keep it, and add what is missing
        raise Trouble(
            f"The course's Python environment goes into {house.venv}, but something else is there that this "
            "course did not make; move it away, or name another folder in the variable BRAKECOURSE_VENV."
        )
    # Programs in an environment know its folder by name: one that was moved or copied is of no use.
    if not usable or not stamp["holds"] or stamp["folder"] != str(house.venv):
        return "remake"
    return "ready" if stamp["holds"] == house.wanted() else "update"


def make_venv(house: House, environ: Environ, run: Runner) -> None:
    for part in ("venv", "ensurepip"):
        if importlib.util.find_spec(part) is None:
            raise Trouble(
                f"Python's own part '{part}' is needed to set the course up, but this Python lacks it; "
                "install it (on Debian or Ubuntu: sudo apt install python3-venv) and run this again."
            )
    say(f"Making a Python environment for the course in {house.venv}")
    house.venv.mkdir(parents=True, exist_ok=True)
    free_gb = shutil.disk_usage(house.venv).free / 1e9
    if free_gb < house.room_gb:
        raise Trouble(
            f"The course's libraries need about {house.room_gb} GB in {house.venv}, but only {free_gb:.1f} "
            "GB is free there; make room and run this again."
        )
    write_stamp(house, holds="")  # from here on it is known to be ours, and half-made
    log = house.venv / LOG
    if run([sys.executable, "-m", "venv", str(house.venv)], environ, log, lambda line: None):
        raise explain(house, log)


def install(house: House, environ: Environ, run: Runner) -> None:
    """Install the pinned libraries, then the course itself."""
    log = house.venv / LOG
    pip = [str(house.python), "-m", "pip", "install", "--disable-pip-version-check", "--no-input"]
    installers = [[*pip, "--progress-bar", "off"]]
    quick = shutil.which("uv", path=environ["PATH"])
    if quick:
        installers.insert(0, [quick, "pip", "install", "--python", str(house.python)])
    libraries = ["-r", str(house.requirements)]
    if house.wheel:
        libraries += ["--find-links", str(house.wheel.parent)]
        course = ["--no-deps", "--force-reinstall", str(house.wheel)]
    else:
        course = ["--no-deps", "--no-build-isolation", "-e", str(house.root)]
    for number, installer in enumerate(installers, 1):
        say(f"Installing the libraries that {house.requirements.name} names; at first this takes minutes")
        failed = run([*installer, *libraries], environ, log, Counter(house.requirements))
        if not failed:
            say("Installing the course itself")
            failed = run([*installer, *course], environ, log, lambda line: None)
        if not failed:
            return
        if number == len(installers):
            raise explain(house, log)
        say("  uv could not do it; trying again with pip")


# nbgrader's grading page fetches MathJax from the internet, and neither scrolls nor chooses a field before it
# came. Here formulas stay text, nothing is fetched, and the page goes on at once.
WITHOUT_MATHJAX = """{%- macro mathjax(url="") -%}
<script>
window.MathJax = {Hub: {Startup: {signal: {Interest: function (told) { setTimeout(told, 0, "End"); }}}}};
</script>
{%- endmacro -%}
"""


def settle_jupyter(house: House) -> None:
    """Keep JupyterLab and nbgrader off the internet, and a student from the instructor's panels."""
    server = {
        f"nbgrader.server_extensions.{name}": False
        for name in ("formgrader", "assignment_list", "course_list", "validate_assignment")
    }
    files = {
        "share/jupyter/lab/settings/overrides.json": {
            "@jupyterlab/apputils-extension:notification": {"fetchNews": "false", "checkForUpdates": False},
            # What is chosen and what is pressed after it must reach the kernel in that order.
            "@jupyterlab/apputils-extension:kernels-settings": {"commsOverSubshells": "disabled"},
        },
        f"{STUDENT_CONFIG}/jupyter_server_config.json": {"ServerApp": {"jpserver_extensions": server}},
        f"{STUDENT_CONFIG}/labconfig/page_config.json": {"disabledExtensions": {"@jupyter/nbgrader": True}},
    }
    shared = "share/jupyter/nbconvert/templates"
    pages = {f"{shared}/{name}/mathjax.html.j2" for name in ("formgrade", "feedback")}
    texts = {name: json.dumps(content, indent=1) for name, content in files.items()}
    for name, text in (texts | dict.fromkeys(pages, WITHOUT_MATHJAX)).items():
        path = house.venv / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


def prepare(house: House, environ: Environ, run: Runner = run_logged) -> None:
    """Bring the environment to what this copy of the course needs, with as little work as possible."""
    state = state_of(house, environ)
    if state == "ready":
        return
    if state == "remake":
        say(f"The Python environment in {house.venv} is half-made or was moved: making it again")
        if Path(sys.prefix).resolve() == house.venv.resolve():
            raise Trouble(
                "run.py was started with the very Python that it must make again; start it with the "
                "system's Python instead (python3 run.py)."
            )
        shutil.rmtree(house.venv)
    if state in ("make", "remake"):
        make_venv(house, environ, run)
    elif read_stamp(house):
        write_stamp(house, holds="out of date")
    install(house, environ, run)
    settle_jupyter(house)
    write_stamp(house, holds=house.wanted())
    say("The course is set up.")


# ---------------------------------------------------------------- the commands


def demo(house: House, environ: Environ, extra: list[str]) -> int:
    return run_here([str(house.python), "-m", "brakecourse.demo", *extra], environ, house.root)


def test(house: House, environ: Environ, extra: list[str]) -> int:
    return run_here([str(house.python), str(house.root / "tests" / "layers.py"), *extra], environ, house.root)


def jupyter(house: House, environ: Environ, folder: Path, page: Path | None, extra: list[str]) -> int:
    """Open JupyterLab on ``folder``, and in it ``page``, if given, which lies in that folder."""
    flags = [
        f"--ServerApp.root_dir={folder}",
        "--ServerApp.ip=127.0.0.1",
        "--LabApp.news_url=None",
        "--LabApp.check_for_updates_class=jupyterlab.handlers.announcements.NeverCheckForUpdate",
        "--LabApp.extension_manager=readonly",
        "--ServerApp.log_level=WARN",
        "--LabApp.log_level=WARN",
    ]
    if not WINDOWS and os.geteuid() == 0:
        flags.append("--allow-root")
    say("Opening JupyterLab in your web browser. To stop it, press Ctrl-C twice in this window.")
    if page:
        flags.append("--LabApp.default_url=/lab/tree/" + urllib.parse.quote(page.name))
    return run_here([str(house.python), "-m", "jupyterlab", *flags, *extra], environ, folder)


def lab(house: House, environ: Environ, extra: list[str]) -> int:
    return jupyter(house, environ, house.root, None, extra)


def student(house: House, environ: Environ, extra: list[str]) -> int:
    """Open the kit's exercise, or the lessons, without the instructor's panels."""
    paths = [str(house.venv / STUDENT_CONFIG), *filter(None, [environ.get("JUPYTER_CONFIG_PATH")])]
    environ = {**environ, "JUPYTER_CONFIG_PATH": os.pathsep.join(paths)}
    if house.wheel:
        folder, page = house.root, next(iter(sorted(house.root.glob("*.ipynb"))), None)
    else:
        folder = house.root / "course" / "lessons"
        page = folder / "00_start_here.ipynb"
    return jupyter(house, environ, folder, page, extra)


# ---------------------------------------------------------------- the command line

COMMANDS: dict[str, tuple[Callable[[House, Environ, list[str]], int], str]] = {
    "demo": (demo, "run a whole class of simulated students, from hand-out to exported grades"),
    "test": (test, "run every check of the course (add --fast for the quick ones only)"),
    "lab": (lab, "open JupyterLab on the whole project, for an instructor"),
    "student": (student, "open the lessons, or a kit's exercise, for a learner"),
}


def usage() -> str:
    rows = "\n".join(f"  {name:8} {what}" for name, (_, what) in COMMANDS.items())
    return (
        f"Use: python3 run.py COMMAND [more words for the command]\n\n{rows}\n  help     show this\n\n"
        "The first command makes a Python environment in the folder .venv beside run.py (or in the folder\n"
        "that the variable BRAKECOURSE_VENV names); later ones use it again."
    )


def command_named(word: str, kit: bool) -> Callable[[House, Environ, list[str]], int]:
    known = ["student"] if kit else list(COMMANDS)
    if word in known:
        return COMMANDS[word][0]
    near = difflib.get_close_matches(word, known, 1)
    hint = f"; did you mean {near[0]}?" if near else "."
    place = "In a student's kit" if kit else "Here"
    names = ", ".join([*known, "help"])
    raise Trouble(f"{place} run.py knows the commands {names}, but found '{word}'{hint}")


def trouble_with_files(error: OSError, house_root: Path) -> str:
    where = error.filename or house_root
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return f"The disk is full at {where}; make room there and run this again."
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return (
            f"Writing to {where} is not allowed; put the course in a folder of your own, "
            "or name one in the variable BRAKECOURSE_VENV."
        )
    return f"{where} could not be used ({error.strerror or error}); put that right and run this again."


def main(words: Sequence[str], environ: Environ, root: Path = HERE) -> int:
    """Carry out one command; return the exit code."""
    try:
        if not words or words[0] in ("help", "-h", "--help"):
            say(usage())
            return 0 if words else 2
        command = command_named(words[0], (root / "wheels").is_dir())
        house = find_house(root, environ)
        inside = house.environ(environ)
        prepare(house, inside)
        return command(house, inside, list(words[1:]))
    except Trouble as trouble:
        print(f"run.py: {trouble}", file=sys.stderr)
        if trouble.log:
            lines = trouble.log.read_text(encoding="utf-8", errors="replace").splitlines()
            print("\n".join(["", *(f"    {line[:200]}" for line in lines[-8:])]), file=sys.stderr)
            print(f"\nThe whole log: {trouble.log}", file=sys.stderr)
    except OSError as error:
        print(f"run.py: {trouble_with_files(error, root)}", file=sys.stderr)
    except KeyboardInterrupt:
        print("run.py: stopped.", file=sys.stderr)
        return 130
    return 1


def stop(*_: object) -> None:
    """Answer a request to end: whatever run.py started must end too."""
    sys.exit(143)


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, stop)
    sys.exit(main(sys.argv[1:], os.environ))
