"""The launcher: what it makes, what it uses again, and the one sentence it ends with when it can't go on."""

from __future__ import annotations

import ast
import errno
import json
import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from types import ModuleType, SimpleNamespace

import jinja2
import pytest

ENVIRON = {"PATH": "", "HOME": os.environ.get("HOME", "")}


class Installer:
    """Stands in for every program that the set-up starts, and remembers what was asked of it."""

    def __init__(self, launcher: ModuleType, says: str = "", code: int = 0) -> None:
        self.launcher, self.says, self.code = launcher, says, code
        self.calls: list[Sequence[str]] = []

    def __call__(
        self, argv: Sequence[str], environ: object, log: Path, each_line: Callable[[str], None]
    ) -> int:
        self.calls.append(argv)
        if "venv" in argv:
            python = self.launcher.House(Path(), Path(argv[-1]), Path(), None).python
            python.parent.mkdir(parents=True)
            python.touch()
            (Path(argv[-1]) / "pyvenv.cfg").touch()
            return 0
        with log.open("a", encoding="utf-8") as handle:
            handle.write(f"\n$ {' '.join(argv)}\n{self.says}\n")
        return self.code

    def did(self) -> list[str]:
        """Name each call by what tells it from the others."""
        marks = ("venv", "-r", "-e", "--force-reinstall")
        return [next(mark for mark in marks if mark in argv) for argv in self.calls]


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A small stand-in for a copy of the project."""
    root = tmp_path / "course folder"  # with a blank, as people have it
    root.mkdir()
    (root / "requirements.txt").write_text("pint==0.25\n", encoding="utf-8")
    (root / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    return root


@pytest.fixture
def kit(tmp_path: Path) -> Path:
    """A small stand-in for a student's kit, unpacked."""
    root = tmp_path / "08_rotor_measurement-s03"
    (root / "wheels").mkdir(parents=True)
    (root / "wheels" / "brakecourse_learner-0.1.0-py3-none-any.whl").write_bytes(b"wheel")
    (root / "requirements.txt").write_text("pint==0.25\n", encoding="utf-8")
    (root / "08_rotor_measurement-s03.ipynb").write_text("{}", encoding="utf-8")
    return root


@pytest.fixture(autouse=True)
def easy_machine(
    launcher: ModuleType, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> None:
    """There is room on the disk, and a stand-in's Python, no real one, starts if its file is there."""
    if "real" not in request.keywords:
        monkeypatch.setattr(launcher, "starts", lambda house, environ: house.python.is_file())
    monkeypatch.setattr(launcher.shutil, "disk_usage", lambda path: SimpleNamespace(free=100e9))


def house_of(launcher: ModuleType, root: Path, **environ: str):
    return launcher.find_house(root, environ)


def prepare(launcher: ModuleType, root: Path, installer: Installer | None = None) -> list[str]:
    """Set the stand-in up and return what was done."""
    installer = installer or Installer(launcher)
    house = house_of(launcher, root)
    launcher.prepare(house, house.environ(ENVIRON), installer)
    return installer.did()


# ------------------------------------------------------------ old Pythons


def test_an_old_python_can_read_the_file(root: Path) -> None:
    """Outside source: Python's own parser, asked for the oldest grammar it still knows."""
    text = (root / "run.py").read_text(encoding="utf-8")
    ast.parse(text, feature_version=(3, 7))
    # New in 3.7 but no matter of grammar, so the parser can't tell.
    assert "from __future__" not in text


@pytest.mark.parametrize("version", [(3, 6, 15), (3, 10, 13)])
def test_an_old_python_is_told_in_one_sentence(root: Path, version: tuple[int, ...]) -> None:
    start = f"runpy.run_path({str(root / 'run.py')!r}, run_name='__main__')"
    pretend = f"import runpy, sys; sys.version_info = {version}; {start}"
    ended = subprocess.run(
        [sys.executable, "-c", pretend, "demo"], capture_output=True, text=True, check=False
    )
    assert ended.returncode == 1
    assert ended.stdout == ""
    assert ended.stderr == (
        f"This course needs Python 3.11 or newer, but this is Python {version[0]}.{version[1]}; "
        "install a newer Python and start run.py with it.\n"
    )


# ------------------------------------------------------------ making and using again


def test_the_first_time_makes_everything_and_the_second_nothing(launcher: ModuleType, project: Path) -> None:
    assert prepare(launcher, project) == ["venv", "-r", "-e"]
    assert prepare(launcher, project) == []


@pytest.mark.parametrize("changed", ["requirements.txt", "pyproject.toml"])
def test_a_changed_list_is_installed_into_what_is_there(
    launcher: ModuleType, project: Path, changed: str
) -> None:
    prepare(launcher, project)
    with (project / changed).open("a", encoding="utf-8") as handle:
        handle.write("# newer\n")
    assert prepare(launcher, project) == ["-r", "-e"]
    assert prepare(launcher, project) == []


def test_an_update_that_failed_is_tried_again(launcher: ModuleType, project: Path) -> None:
    prepare(launcher, project)
    before = (project / "requirements.txt").read_text(encoding="utf-8")
    (project / "requirements.txt").write_text("pint==0.26\n", encoding="utf-8")
    with pytest.raises(launcher.Trouble):
        prepare(launcher, project, Installer(launcher, "broken", 1))
    # Even with the old list back: nobody knows what the failed update left behind.
    (project / "requirements.txt").write_text(before, encoding="utf-8")
    assert prepare(launcher, project) == ["-r", "-e"]


def test_a_half_made_environment_is_made_again(launcher: ModuleType, project: Path) -> None:
    with pytest.raises(launcher.Trouble):
        prepare(launcher, project, Installer(launcher, "broken", 1))
    (project / ".venv" / "left over").touch()
    assert prepare(launcher, project) == ["venv", "-r", "-e"]
    assert not (project / ".venv" / "left over").exists()


def test_an_environment_killed_before_it_had_a_python_is_made_again(
    launcher: ModuleType, project: Path
) -> None:
    def killed(argv: Sequence[str], *rest: object) -> int:
        raise KeyboardInterrupt

    house = house_of(launcher, project)
    with pytest.raises(KeyboardInterrupt):
        launcher.prepare(house, house.environ(ENVIRON), killed)
    assert prepare(launcher, project) == ["venv", "-r", "-e"]


def test_an_environment_without_its_python_is_made_again(launcher: ModuleType, project: Path) -> None:
    prepare(launcher, project)
    house_of(launcher, project).python.unlink()
    assert prepare(launcher, project) == ["venv", "-r", "-e"]


def test_a_cut_off_stamp_means_half_made(launcher: ModuleType, project: Path) -> None:
    prepare(launcher, project)
    (project / ".venv" / launcher.STAMP).write_text('{"folder": "', encoding="utf-8")
    assert prepare(launcher, project) == ["venv", "-r", "-e"]


def test_a_moved_environment_is_made_again(launcher: ModuleType, project: Path) -> None:
    prepare(launcher, project)
    moved = project.with_name("elsewhere")
    project.rename(moved)
    assert prepare(launcher, moved) == ["venv", "-r", "-e"]


def test_an_empty_folder_is_taken(launcher: ModuleType, project: Path) -> None:
    (project / ".venv").mkdir()
    assert prepare(launcher, project) == ["venv", "-r", "-e"]


def test_an_environment_made_by_hand_is_kept(launcher: ModuleType, project: Path) -> None:
    Installer(launcher)([sys.executable, "-m", "venv", str(project / ".venv")], {}, Path(), print)
    (project / ".venv" / "mine").touch()
    assert prepare(launcher, project) == ["-r", "-e"]
    assert (project / ".venv" / "mine").exists()


def test_a_broken_environment_made_by_hand_is_left_alone(launcher: ModuleType, project: Path) -> None:
    (project / ".venv").mkdir()
    (project / ".venv" / "pyvenv.cfg").touch()
    with pytest.raises(launcher.Trouble, match="something else is there"):
        prepare(launcher, project)
    assert [path.name for path in (project / ".venv").iterdir()] == ["pyvenv.cfg"]


def test_a_folder_with_something_else_is_left_alone(launcher: ModuleType, project: Path) -> None:
    (project / ".venv").mkdir()
    (project / ".venv" / "thesis.txt").write_text("mine", encoding="utf-8")
    installer = Installer(launcher)
    with pytest.raises(launcher.Trouble, match=r"something else is there .* BRAKECOURSE_VENV\.$"):
        prepare(launcher, project, installer)
    assert installer.calls == []
    assert (project / ".venv" / "thesis.txt").read_text(encoding="utf-8") == "mine"


def test_the_environment_may_lie_elsewhere(launcher: ModuleType, project: Path, tmp_path: Path) -> None:
    house = house_of(launcher, project, BRAKECOURSE_VENV=str(tmp_path / "big disk" / "env"))
    launcher.prepare(house, house.environ(ENVIRON), Installer(launcher))
    assert (tmp_path / "big disk" / "env" / launcher.STAMP).is_file()
    assert not (project / ".venv").exists()


def test_uv_is_used_where_it_is_and_pip_where_uv_fails(
    launcher: ModuleType, project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(launcher.shutil, "which", lambda name, path: "/somewhere/uv")
    quick = Installer(launcher)
    prepare(launcher, project, quick)
    assert [argv[0] for argv in quick.calls[1:]] == ["/somewhere/uv"] * 2

    class NoUv(Installer):
        def __call__(self, argv: Sequence[str], *rest: object) -> int:
            return super().__call__(argv, *rest) or argv[0].endswith("uv")

    (project / "requirements.txt").write_text("pint==0.26\n", encoding="utf-8")
    slow = NoUv(launcher)
    assert prepare(launcher, project, slow) == ["-r", "-r", "-e"]
    assert [argv[0].endswith("uv") for argv in slow.calls] == [True, False, False]


def test_its_programs_come_first_on_the_path(launcher: ModuleType, project: Path) -> None:
    house = house_of(launcher, project)
    inside = house.environ({"PATH": "/somewhere", "PYTHONHOME": "/old"})
    assert inside["PATH"].split(os.pathsep) == [str(house.bin), "/somewhere"]
    assert "PYTHONHOME" not in inside


def test_a_person_can_follow_the_count(
    launcher: ModuleType, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    listed = tmp_path / "requirements.txt"
    listed.write_text("".join(f"lib{n}==1.0\n    # via pint\n" for n in range(50)), encoding="utf-8")
    counter = launcher.Counter(listed)
    for n in range(50):
        for _ in range(2):  # pip names a library again whenever another asks for it
            counter(f"Collecting lib{n}==1.0 (from -r {listed} (line {2 * n + 1}))")
    counter("Installing collected packages: lib0, lib1")
    assert capsys.readouterr().out.splitlines() == [
        "  20 of about 50 libraries found, lib19 the latest",
        "  40 of about 50 libraries found, lib39 the latest",
        "  all fetched; unpacking them takes about a minute",
    ]


# ------------------------------------------------------------ a student's kit


def test_a_kit_installs_its_own_wheel(launcher: ModuleType, kit: Path) -> None:
    installer = Installer(launcher)
    assert prepare(launcher, kit, installer) == ["venv", "-r", "--force-reinstall"]
    assert installer.calls[1][-3:] == [str(kit / "requirements.txt"), "--find-links", str(kit / "wheels")]
    assert installer.calls[2][-1] == str(kit / "wheels" / "brakecourse_learner-0.1.0-py3-none-any.whl")


def test_a_kit_with_a_newer_wheel_is_brought_up_to_date(launcher: ModuleType, kit: Path) -> None:
    prepare(launcher, kit)
    next((kit / "wheels").iterdir()).write_bytes(b"newer wheel")
    assert prepare(launcher, kit) == ["-r", "--force-reinstall"]


@pytest.mark.parametrize("number", [0, 2])
def test_a_kit_holds_the_course_once(launcher: ModuleType, kit: Path, number: int) -> None:
    next((kit / "wheels").iterdir()).unlink()
    for n in range(number):
        (kit / "wheels" / f"brakecourse_learner-0.{n}.0-py3-none-any.whl").touch()
    with pytest.raises(launcher.Trouble, match=f"holds it {number} times; unpack the kit's zip again"):
        house_of(launcher, kit)


def opened(
    launcher: ModuleType, monkeypatch: pytest.MonkeyPatch, root: Path, *words: str
) -> tuple[list, dict]:
    """Start a command and return the program it would run, and with which variables."""
    calls = []

    def note(argv: list[str], environ: dict[str, str], folder: Path) -> int:
        calls.append((argv, environ))
        return 0

    monkeypatch.setattr(launcher, "run_here", note)
    monkeypatch.setattr(launcher, "prepare", lambda house, environ: None)
    assert launcher.main(words, {"PATH": "/somewhere"}, root) == 0
    ((argv, environ),) = calls
    return argv, environ


def test_a_kit_opens_its_exercise(launcher: ModuleType, kit: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    argv, _ = opened(launcher, monkeypatch, kit, "student", "--no-browser")
    assert argv[1:3] == ["-m", "jupyterlab"]
    assert "--LabApp.default_url=/lab/tree/08_rotor_measurement-s03.ipynb" in argv
    assert f"--ServerApp.root_dir={kit}" in argv
    assert argv[-1] == "--no-browser"


def test_in_the_project_a_student_sees_the_lessons_without_the_instructors_panels(
    launcher: ModuleType, project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    argv, environ = opened(launcher, monkeypatch, project, "student")
    lessons = project / "course" / "lessons"
    assert "--LabApp.default_url=/lab/tree/00_start_here.ipynb" in argv
    assert f"--ServerApp.root_dir={lessons}" in argv
    assert environ["JUPYTER_CONFIG_PATH"] == str(project / ".venv" / launcher.STUDENT_CONFIG)


def test_jupyter_is_told_what_to_leave_out(launcher: ModuleType, project: Path) -> None:
    prepare(launcher, project)
    venv = project / ".venv"
    page = json.loads(
        (venv / launcher.STUDENT_CONFIG / "labconfig" / "page_config.json").read_text(encoding="utf-8")
    )
    assert page == {"disabledExtensions": {"@jupyter/nbgrader": True}}
    asks = json.loads((venv / "share/jupyter/lab/settings/overrides.json").read_text(encoding="utf-8"))
    assert asks["@jupyterlab/apputils-extension:notification"]["fetchNews"] == "false"
    assert asks["@jupyterlab/apputils-extension:kernels-settings"] == {"commsOverSubshells": "disabled"}
    for name in ("formgrade", "feedback"):
        page_part = venv / "share/jupyter/nbconvert/templates" / name / "mathjax.html.j2"
        made = jinja2.Template(page_part.read_text(encoding="utf-8") + "{{ mathjax() }}").render()
        assert "MathJax = " in made and "//" not in made  # the page finds its MathJax, and fetches none


def test_an_instructor_sees_the_whole_project(
    launcher: ModuleType, project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    argv, environ = opened(launcher, monkeypatch, project, "lab")
    assert f"--ServerApp.root_dir={project}" in argv
    assert "JUPYTER_CONFIG_PATH" not in environ


@pytest.mark.parametrize(("user", "allowed"), [(0, True), (1000, False)])
def test_jupyter_may_run_as_root_only_where_it_must(
    launcher: ModuleType, project: Path, monkeypatch: pytest.MonkeyPatch, user: int, allowed: bool
) -> None:
    monkeypatch.setattr(launcher.os, "geteuid", lambda: user, raising=False)
    monkeypatch.setattr(launcher, "WINDOWS", False)
    argv, _ = opened(launcher, monkeypatch, project, "lab")
    assert ("--allow-root" in argv) == allowed


@pytest.mark.parametrize(
    ("words", "program"),
    [
        (["demo", "--out", "x"], ["-m", "brakecourse.demo", "--out", "x"]),
        (["test", "-k", "rotor"], ["{root}/tests/layers.py", "-k", "rotor"]),
    ],
)
def test_more_words_are_handed_on(
    launcher: ModuleType, project: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], program: list[str]
) -> None:
    argv, _ = opened(launcher, monkeypatch, project, *words)
    assert [Path(word).as_posix() for word in argv[1:]] == [
        word.format(root=project.as_posix()) for word in program
    ]


# ------------------------------------------------------------ one sentence


def told(launcher: ModuleType, capsys: pytest.CaptureFixture[str], root: Path, *words: str) -> str:
    """Start a command that can't go on, and return what it says."""
    assert launcher.main(words, ENVIRON, root) == 1
    said = capsys.readouterr().err
    assert "Traceback" not in said
    assert said.startswith("run.py: ")
    return said


def test_an_unknown_command(launcher: ModuleType, project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert told(launcher, capsys, project, "tset") == (
        "run.py: Here run.py knows the commands demo, test, lab, student, help, "
        "but found 'tset'; did you mean test?\n"
    )


@pytest.mark.parametrize("word", ["demo", "test", "lab"])
def test_a_kit_only_opens_the_exercise(
    launcher: ModuleType, kit: Path, capsys: pytest.CaptureFixture[str], word: str
) -> None:
    assert told(launcher, capsys, kit, word) == (
        f"run.py: In a student's kit run.py knows the commands student, help, but found '{word}'.\n"
    )


@pytest.mark.parametrize("name", ["requirements.txt", "pyproject.toml"])
def test_a_file_is_missing(
    launcher: ModuleType, project: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    (project / name).unlink()
    assert f"needs the file {name} beside it" in told(launcher, capsys, project, "demo")


@pytest.mark.parametrize("part", ["venv", "ensurepip"])
def test_python_lacks_a_part(
    launcher: ModuleType,
    project: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    part: str,
) -> None:
    monkeypatch.setattr(launcher.importlib.util, "find_spec", lambda name: None if name == part else object())
    said = told(launcher, capsys, project, "demo")
    assert f"part '{part}' is needed" in said
    assert "apt install python3-venv" in said
    assert not (project / ".venv").exists()


@pytest.mark.parametrize(
    ("number", "expected"),
    [
        (errno.ENOSPC, "The disk is full"),
        (errno.EACCES, "is not allowed"),
        (errno.EROFS, "is not allowed"),
        (errno.EIO, "could not be used"),
    ],
)
def test_the_folder_cannot_be_written(
    launcher: ModuleType,
    project: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    number: int,
    expected: str,
) -> None:
    def refuse(self: Path, *args: object, **more: object) -> None:
        raise OSError(number, os.strerror(number), str(self))

    monkeypatch.setattr(launcher.Path, "mkdir", refuse)
    said = told(launcher, capsys, project, "demo")
    assert expected in said
    assert str(project / ".venv") in said
    assert said.count("\n") == 1


@pytest.mark.parametrize("fixture", ["project", "kit"])
def test_there_is_too_little_room(
    launcher: ModuleType,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    request: pytest.FixtureRequest,
    fixture: str,
) -> None:
    folder = request.getfixturevalue(fixture)
    needed_gb = 1.5 if fixture == "project" else 0.5
    monkeypatch.setattr(
        launcher.shutil, "disk_usage", lambda path: SimpleNamespace(free=(needed_gb - 0.1) * 1e9)
    )
    said = told(launcher, capsys, folder, "student")
    assert f"need about {needed_gb} GB" in said
    assert f"only {needed_gb - 0.1:.1f} GB is free" in said
    assert list((folder / ".venv").iterdir()) == []


LAST_WORDS = {
    "ERROR: Could not install packages: [Errno 28] No space left on device": "The disk is full",
    "ERROR: Could not install packages: [Errno 13] Permission denied: 'x'": "is not allowed",
    "WARNING: Retrying after connection broken by NewConnectionError\n"
    "ERROR: No matching distribution found for pint==0.25": "server could not be reached",
    "ERROR: No matching distribution found for pint==0.25": "is not to be had for this system",
    "error: subprocess-exited-with-error": "the last lines below say why",
}


@pytest.mark.parametrize(("words", "expected"), LAST_WORDS.items())
def test_the_installer_fails(
    launcher: ModuleType,
    project: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    words: str,
    expected: str,
) -> None:
    whole = launcher.prepare
    installer = Installer(launcher, words, 1)
    monkeypatch.setattr(launcher, "prepare", lambda house, environ: whole(house, environ, installer))
    said = told(launcher, capsys, project, "demo")
    first, *rest = said.splitlines()
    assert expected in first
    assert f"    {words.splitlines()[-1]}" in rest
    assert rest[-1] == f"The whole log: {project / '.venv' / launcher.LOG}"


def test_only_the_last_programs_words_count(launcher: ModuleType, project: Path) -> None:
    """A log grows over the runs: an old fault in it is not today's."""
    house = house_of(launcher, project)
    log = project / "setup.log"
    log.write_text(
        "$ pip install\n[Errno 28] No space left on device\n$ pip install\nsomething else\n", encoding="utf-8"
    )
    assert "could not be set up" in str(launcher.explain(house, log))


def test_no_words_at_all_shows_the_commands(
    launcher: ModuleType, project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert launcher.main([], ENVIRON, project) == 2
    short = capsys.readouterr().out
    assert launcher.main(["help"], ENVIRON, project) == 0
    assert capsys.readouterr().out == short
    assert all(f"  {name} " in short for name in ("demo", "test", "lab", "student"))


# ------------------------------------------------------------ with the real programs


@pytest.fixture(scope="module")
def real_venv(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A Python environment with pip and nothing else, made by Python itself."""
    folder = tmp_path_factory.mktemp("real") / "env"
    subprocess.run([sys.executable, "-m", "venv", str(folder)], check=True, capture_output=True)
    return folder


@pytest.mark.real
@pytest.mark.slow
def test_a_real_environment_is_told_from_a_broken_one(
    launcher: ModuleType, project: Path, real_venv: Path
) -> None:
    there = launcher.House(project, real_venv, project / "requirements.txt", None)
    missing = launcher.House(project, project / "none", project / "requirements.txt", None)
    assert launcher.starts(there, os.environ)
    assert not launcher.starts(missing, os.environ)


@pytest.mark.real
@pytest.mark.slow
@pytest.mark.parametrize(
    ("index", "expected"),
    [
        ({"PIP_NO_INDEX": "1"}, "is not to be had for this system"),
        ({"PIP_INDEX_URL": "http://127.0.0.1:9/none", "PIP_RETRIES": "1"}, "server could not be reached"),
    ],
)
def test_pips_own_words_are_understood(
    launcher: ModuleType,
    project: Path,
    real_venv: Path,
    capsys: pytest.CaptureFixture[str],
    index: dict[str, str],
    expected: str,
) -> None:
    """Outside source: pip itself, with no place to fetch from, and with one that does not answer."""
    (project / "requirements.txt").write_text("no-such-library-of-ours==1.0\n", encoding="utf-8")
    plain = {k: v for k, v in os.environ.items() if not k.startswith("PIP_")}
    outside = {
        **plain,
        "PATH": "",
        "PIP_CONFIG_FILE": os.devnull,
        "BRAKECOURSE_VENV": str(real_venv),
        **index,
    }
    assert launcher.main(["demo"], outside, project) == 1
    said = capsys.readouterr().err
    assert expected in said.splitlines()[0]
    assert "Traceback" not in said


@pytest.mark.skipif(os.name == "nt", reason="Windows has no SIGTERM to answer")
def test_what_it_started_ends_with_it(root: Path, tmp_path: Path) -> None:
    noted = tmp_path / "pid"
    sleeper = (
        f"import os, pathlib, time; pathlib.Path({str(noted)!r}).write_text(str(os.getpid())); time.sleep(60)"
    )
    starter = (
        f"import runpy, signal; it = runpy.run_path({str(root / 'run.py')!r}); "
        "signal.signal(signal.SIGTERM, it['stop']); "
        f"it['run_here']([{sys.executable!r}, '-c', {sleeper!r}], {{}}, '.')"
    )
    with subprocess.Popen([sys.executable, "-c", starter]) as process:
        until(lambda: noted.exists() and noted.read_text(encoding="utf-8"))
        process.terminate()
        assert process.wait(20) == 143
    child = int(noted.read_text(encoding="utf-8"))
    with pytest.raises(ProcessLookupError):
        os.kill(child, 0)


def until(true: Callable[[], object], seconds: float = 20) -> None:
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "waited too long"
        time.sleep(0.05)
