"""``run.py test``: which checks it runs, and how it reads what they say.

Outside source: the closing lines are read from runs of pytest itself, not from texts typed here.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from types import ModuleType

import pytest

from tests.conftest import LONG

NAMES = ["ruff", "import-linter", "mypy", "unit", "nbval", "unsolved", "browser"]


def named(layers: list) -> list[str]:
    return [next(name for name in NAMES if name in layer.name) for layer in layers]


def test_the_quick_checks_come_first(checks: ModuleType) -> None:
    assert named(checks.layers([])) == NAMES


def test_fast_is_the_code_only(checks: ModuleType) -> None:
    quick = checks.layers(["--fast"])
    assert named(quick) == ["ruff", "import-linter", "mypy", "unit"]
    assert "not browser and not sandbox and not slow" in quick[-1].argv


def test_more_words_choose_among_the_tests(checks: ModuleType) -> None:
    chosen = checks.layers(["-k", "rotor"])
    assert named(chosen) == ["unit", "nbval", "unsolved", "browser"]
    assert all(layer.argv[-2:] == ("-k", "rotor") for layer in chosen)


@pytest.mark.parametrize("word", ["tests/house", "tests/house/test_checks.py::test_fast_is_the_code_only"])
def test_a_named_folder_or_test_is_all_that_runs(checks: ModuleType, word: str) -> None:
    (only,) = checks.layers(["-x", word])
    assert only.argv[-2:] == ("-x", word)


def test_the_browser_tests_run_once_and_two_files_at_a_time(checks: ModuleType) -> None:
    unit, *_, browser = checks.layers([])[3:]
    assert "not browser" in unit.argv
    assert "-n" in unit.argv
    assert "browser" in browser.argv
    assert {"-n", "loadfile"} <= set(browser.argv)  # the tests of a file share one page


def test_the_checks_name_files_that_are_there(checks: ModuleType, root: Path) -> None:
    words = [
        word for layer in checks.layers([]) for word in layer.argv if word.startswith(("tests/", "course/"))
    ]
    assert len(words) >= 3
    assert [word for word in words if not (root / word).exists()] == []
    plugin = checks.NOTEBOOKS.argv[checks.NOTEBOOKS.argv.index("-p") + 1]
    assert (root / (plugin.replace(".", "/") + ".py")).is_file()


def test_the_files_that_come_first_are_there(root: Path) -> None:
    assert [name for name in LONG if not (root / "tests" / name).is_file()] == []


SAMPLES = {
    "all pass": ("def test_a(): pass\ndef test_b(): pass", (2, 0, 0)),
    "one fails": ("def test_a(): pass\ndef test_b(): assert 0", (1, 1, 0)),
    "one skipped": ("import pytest\ndef test_a(): pass\ndef test_b(): pytest.skip('no')", (1, 0, 1)),
    "breaks in set-up": ("def test_a(no_such_fixture): pass", (0, 1, 0)),
    "fails and breaks": ("def test_a(none): pass\ndef test_b(none): pass\ndef test_c(): assert 0", (0, 3, 0)),
    "does not load": ("import no_such_library", (0, 1, 0)),
    "unknown option": ("def test_a(): pass", (0, 1, 0)),
}


@pytest.fixture
def bare_pytest(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a pytest inside a test start at once, without the plugins that it does not need."""
    monkeypatch.setenv("PYTEST_DISABLE_PLUGIN_AUTOLOAD", "1")


@pytest.mark.usefixtures("bare_pytest")
@pytest.mark.parametrize(("sample", "colour"), [*((one, "no") for one in SAMPLES), ("one fails", "yes")])
def test_pytests_own_closing_line_is_read(
    checks: ModuleType, tmp_path: Path, capfd: pytest.CaptureFixture[str], sample: str, colour: str
) -> None:
    code, expected = SAMPLES[sample]
    file = tmp_path / "test_sample.py"
    file.write_text(code, encoding="utf-8")
    words = ["-p", "no:cacheprovider", f"--color={colour}", f"--rootdir={tmp_path}", str(file)]
    layer = checks.Layer("sample", (sys.executable, "-m", "pytest", *words))
    if sample == "unknown option":
        layer = checks.Layer("sample", (*layer.argv, "--no-such-option"))
    one = checks.read_outcome(layer, *checks.run_shown(layer.argv))
    capfd.readouterr()
    assert (one.passed, one.failed, one.skipped) == expected


@pytest.mark.usefixtures("bare_pytest")
@pytest.mark.parametrize(("choosing", "failed"), [(False, 1), (True, 0)])
def test_finding_no_test_is_a_fault_unless_the_person_chose(
    checks: ModuleType, tmp_path: Path, choosing: bool, failed: int
) -> None:
    layer = checks.Layer("sample", (sys.executable, "-m", "pytest", f"--rootdir={tmp_path}", str(tmp_path)))
    one = checks.read_outcome(layer, *checks.run_shown(layer.argv), choosing)
    assert (one.passed, one.failed) == (0, failed)


def fake_run(codes: dict[str, tuple[int, str]]):
    def run(argv: Sequence[str]) -> tuple[int, str]:
        return next((ends for word, ends in codes.items() if word in argv), (0, "= 3 passed in 0.10s ="))

    return run


def test_the_last_line_adds_everything_up(checks: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert checks.main([], fake_run({})) == 0
    # Three checks of one each, four runs of pytest with three tests each.
    assert capsys.readouterr().out.splitlines()[-1] == "15 passed, 0 failed, 0 skipped"


@pytest.mark.parametrize(
    ("which", "ends"),
    [
        ("ruff", (1, "Found 1 error.")),
        ("lint-imports", (1, "Contracts: 12 kept, 1 broken.")),
        ("mypy", (1, "Found 1 error in 1 file")),
        ("--doctest-modules", (1, "= 1 failed, 2 passed in 0.10s =")),
        ("--nbval", (3, "INTERNALERROR>")),
        ("tests/browser", (5, "= no tests ran in 0.10s =")),
    ],
)
def test_any_check_that_fails_fails_the_whole(
    checks: ModuleType, capsys: pytest.CaptureFixture[str], which: str, ends: tuple[int, str]
) -> None:
    assert checks.main([], fake_run({which: ends})) == 1
    said = capsys.readouterr().out
    assert ", 1 failed, 0 skipped" in said.splitlines()[-1]
    assert sum("failed   " in line for line in said.splitlines()) == 1


def test_choosing_no_test_at_all_is_no_success(
    checks: ModuleType, capsys: pytest.CaptureFixture[str]
) -> None:
    nothing = (5, "= no tests ran in 0.10s =")
    assert checks.main(["-k", "no_such"], fake_run({"pytest": nothing})) == 1
    assert capsys.readouterr().out.splitlines()[-1] == "0 passed, 0 failed, 0 skipped"
