"""The command line: plain help, one sentence for every error, and the next step at the end."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest
from brakecourse import cli
from brakecourse.classroom import folder as folder_room
from brakecourse.cli import main
from brakecourse.cli.screen import complain, printable
from brakecourse.errors import CourseError

MODULE = "08_rotor_measurement"
COMMANDS = ("class", "assign", "collect", "grade", "hand-mark", "excuse", "feedback", "export-grades", "demo")


@pytest.fixture
def roster(tmp_path: Path) -> Path:
    path = tmp_path / "roster.csv"
    path.write_text(
        "student_id;first_name;last_name\ns01;Amara;Quillstone\ns02;Bruno;Fennimoor\n", encoding="utf-8"
    )
    return path


@pytest.fixture
def made(tmp_path: Path, roster: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["class", "new", str(tmp_path / "c"), "--roster", str(roster), "--name", "Evening"]) == 0
    capsys.readouterr()
    return tmp_path / "c"


def refused(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """Run a command that must fail, and return its one sentence."""
    assert main(arguments) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1 and said.err.endswith((".\n", "?\n"))
    assert "Traceback" not in said.err
    return said.err


def test_a_class_is_made_and_the_next_step_told(
    tmp_path: Path, roster: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = ["class", "new", str(tmp_path / "c"), "--roster", str(roster), "--name", "Evening"]
    assert main([*arguments, "--timezone", "Europe/Paris", "--late-per-day", "5"]) == 0
    out = capsys.readouterr().out
    assert "Roster: 2 students, columns separated by semicolons." in out
    assert out.splitlines()[-1].startswith("Next: hand out a module: brakecourse assign")
    settings = folder_room.open_class(tmp_path / "c").settings
    assert (settings.timezone, settings.late_penalty_percent_per_day) == ("Europe/Paris", 5.0)
    assert main(["class", "show", str(tmp_path / "c")]) == 0
    out = capsys.readouterr().out
    assert "Evening: 2 students" in out and "Lateness takes off 5 % for each day begun, at most 50 %." in out
    assert "no module was handed out yet" in out.splitlines()[-1]


def test_no_students_name_is_printed(made: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["class", "show", str(made)])
    said = capsys.readouterr()
    assert "Quillstone" not in said.out + said.err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["class", "show", "{tmp}"], "is not a class folder"),
        (["class", "new", "{tmp}/d", "--roster", "{tmp}/none.csv", "--name", "E"], "can't be read"),
        (["class", "new", "{tmp}", "--roster", "{tmp}/roster.csv", "--name", "E"], "already holds something"),
        (
            ["class", "new", "{tmp}/d", "--roster", "{tmp}/roster.csv", "--name", "E", "--timezone", "X"],
            "no time zone",
        ),
        (
            [
                "class",
                "new",
                "{tmp}/d",
                "--roster",
                "{tmp}/roster.csv",
                "--name",
                "E",
                "--late-per-day",
                "nan",
            ],
            "but 'nan' was found",
        ),
        (
            ["class", "new", "{tmp}/d", "--roster", "{tmp}/roster.csv", "--name", "E", "--late-per-day", "x"],
            "'x'",
        ),
        (["assign", "{made}", "99_none"], "No module '99_none' is in this course"),
        (["assign", "{made}", MODULE, "--due", "soon"], "A time such as '2026-12-04 18:00' was expected"),
        (["assign", "{tmp}", MODULE], "is not a class folder"),
        (["collect", "{made}", MODULE, "{tmp}"], "was not handed out to this class yet"),
        (["collect", "{made}", "99_none", "{tmp}"], "No module '99_none'"),
        (["grade", "{made}", MODULE], "was not handed out to this class yet"),
        (["grade", "{made}", "99_none"], "No module '99_none'"),
        (["hand-mark", "{made}", MODULE, "s01", "8.9", "3"], "was not handed out to this class yet"),
        (
            ["hand-mark", "{made}", MODULE, "s01", "8.9", "three"],
            "a number such as 2.5 was expected, but 'three' was found",
        ),
        (["excuse", "{made}", MODULE, "s01"], "was not handed out to this class yet"),
        (["feedback", "{made}", MODULE], "was not handed out to this class yet"),
        (["export-grades", "{made}"], "no module was handed out"),
        (["export-grades"], "Missing argument 'DIR'"),
        (["class", "nex"], "No such command 'nex'; did you mean 'new'"),
        (["colect"], "No such command 'colect'; did you mean 'collect'"),
        (["grade", "a", "b", "--agian"], "No such option: --agian"),
        (["demo", "--out", "{tmp}"], "holds something that the demo did not make"),
        (["demo", "--out", "{tmp}/roster.csv"], "is a file; name a folder"),
    ],
)
def test_each_error_is_one_sentence_and_a_code(
    tmp_path: Path, made: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], words: str
) -> None:
    filled = [argument.format(tmp=tmp_path, made=made) for argument in arguments]
    before = sorted(tmp_path.rglob("*"))
    if arguments[0] == "demo":
        assert main(filled) == 1
        error = capsys.readouterr().err
        assert error.count("\n") == 1
    else:
        error = refused(filled, capsys)
    assert words in error
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("command", [[], *([name] for name in COMMANDS), ["class", "new"], ["class", "show"]])
def test_every_command_has_help_with_an_example(
    command: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*command, "--help"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "Usage: brakecourse" in out
    if command != ["class"]:
        assert " ".join(["brakecourse", *command]) in out.split("Usage:", 1)[1].split(" ", 3)[-1]
    if command and command != ["class"]:
        assert "Example" in out


def test_help_lists_the_commands_in_the_order_of_use(capsys: pytest.CaptureFixture[str]) -> None:
    main(["--help"])
    table = capsys.readouterr().out.split("Commands", 1)[1]
    places = [table.index(f" {name} ") for name in COMMANDS]
    assert places == sorted(places)


def test_without_words_the_help_is_shown(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 1
    said = capsys.readouterr()
    assert "Usage: brakecourse" in said.out + said.err


@pytest.mark.parametrize(
    ("error", "code", "words"),
    [
        (
            OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), "grades.csv"),
            1,
            "(grades.csv): No space left on device",
        ),
        (KeyboardInterrupt(), 130, "Stopped."),
        (CourseError("Two lines\nbecome one"), 1, "Two lines become one."),
        (KeyError("surprise"), 1, "did not foresee (KeyError)"),
    ],
)
def test_whatever_goes_wrong_is_a_sentence(
    made: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    error: BaseException,
    code: int,
    words: str,
) -> None:
    def fail(*args: object) -> None:
        raise error

    monkeypatch.setattr(cli.tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr("brakecourse.cli.classes.open_class", fail)
    assert main(["class", "show", str(made)]) == code
    said = capsys.readouterr().err
    assert words in said and said.count("\n") == 1 and "Traceback" not in said
    details = list(tmp_path.glob("brakecourse-trouble-*.txt"))
    assert len(details) == isinstance(error, KeyError)
    if details:
        assert "KeyError: 'surprise'" in details[0].read_text(encoding="utf-8")
        assert str(details[0]) in said


def test_a_name_cannot_steer_the_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    assert printable("a\x1b[31mb\rc\u202ed") == "a?[31mb?c?d"
    assert complain("bad \x1b]0;title\x07 name") == 1
    assert capsys.readouterr().err == "bad ?]0;title? name.\n"


def test_the_installed_program_and_the_module_end_with_the_code(tmp_path: Path) -> None:
    module = [sys.executable, "-m", "brakecourse.cli", "class", "show", str(tmp_path)]
    done = subprocess.run(module, capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 1 and done.stdout == "" and "is not a class folder" in done.stderr
    program = Path(sys.executable).with_name("brakecourse.exe" if os.name == "nt" else "brakecourse")
    if program.exists():
        done = subprocess.run([program, "--help"], capture_output=True, text=True, timeout=60, check=False)
        assert done.returncode == 0 and "Usage: brakecourse" in done.stdout
