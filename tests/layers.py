"""The course's checks, the quick ones first: what ``run.py test`` runs in the course's environment.

``python tests/layers.py`` runs them all, ``--fast`` only those of the code; any other words go to pytest and
leave the checks that are not pytest's out (``-k rotor``, ``tests/trade``).
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
NO_TEST_FOUND = 5  # pytest's exit code


@dataclass(frozen=True)
class Layer:
    """One check: a program, and whether its closing line is pytest's."""

    name: str
    argv: tuple[str, ...]
    is_pytest: bool = True


@dataclass(frozen=True)
class Outcome:
    """How one check ended."""

    name: str
    passed: int
    failed: int
    skipped: int
    seconds: float = 0.0

    def line(self) -> str:
        verdict = "failed" if self.failed else "passed" if self.passed else "nothing to run"
        return (
            f"  {verdict:14} {self.seconds:6.1f} s  {self.name}: "
            f"{self.passed} passed, {self.failed} failed, {self.skipped} skipped"
        )


CODE = (
    Layer("style (ruff)", (sys.executable, "-m", "ruff", "check", "."), False),
    Layer("the rooms' arrows (import-linter)", ("lint-imports", "--no-logo"), False),
    Layer("types (mypy)", (sys.executable, "-m", "mypy"), False),
)
PYTEST = (sys.executable, "-m", "pytest")
# A file, or a notebook, is never split over two workers; the files come in the order that tests/conftest.py
# gives them, the long ones first. Benchmarks are for `pytest tests/benchmarks` alone.
TOGETHER = ("-n", "2", "--dist", "loadfile", "--no-loadscope-reorder", "--benchmark-disable")


def unit_layer(chosen: str) -> Layer:
    """Return the bulk of the tests, of which ``chosen`` is a marker expression."""
    targets = ("--doctest-modules", "tests", "course/brakecourse")
    return Layer(
        "unit and property tests, examples in the code",
        # Without the notebooks' plugin each process starts more than a second sooner.
        (*PYTEST, *TOGETHER, "-p", "no:nbval", "-m", chosen, *targets),
    )


NOTEBOOKS = Layer(
    "notebooks show what they compute (nbval)",
    (
        *(*PYTEST, *TOGETHER, "-p", "tests.notebooks.nbval_sockets", "--nbval", "--nbval-current-env"),
        *("--nbval-cell-timeout=60", "--nbval-sanitize-with", "tests/notebooks/sanitize.cfg"),
        *("course/lessons", "course/desks", "solutions"),
    ),
)
# An exercise has no answers yet, so only that each cell runs, and says so in a sentence, is looked at here.
UNSOLVED = Layer(
    "exercises run unsolved",
    (
        *(*PYTEST, *TOGETHER, "-p", "tests.notebooks.nbval_sockets", "--nbval-lax", "--nbval-current-env"),
        *("--nbval-cell-timeout=60", "exercises"),
    ),
)
# Waiting takes most of their time, so that two at once are quicker although each has only one core.
BROWSER = Layer("lessons in a real browser", (*PYTEST, *TOGETHER, "-m", "browser", "tests/browser"))


def layers(words: Sequence[str]) -> list[Layer]:
    """Return the checks in their order.

    Args:
        words: the command's words; those after ``--fast`` are pytest's own, and choose among its tests.
    """
    extra = tuple(word for word in words if word != "--fast")
    if any((ROOT / word.split("::")[0]).exists() for word in extra if not word.startswith("-")):
        return [Layer("the tests named", (*PYTEST, *extra))]
    if "--fast" in words:
        chosen = [unit_layer("not browser and not sandbox and not slow")]
    else:
        chosen = [unit_layer("not browser"), NOTEBOOKS, UNSOLVED, BROWSER]
    if not extra:
        return [*CODE, *chosen]
    return [Layer(layer.name, (*layer.argv, *extra)) for layer in chosen]


def run_shown(argv: Sequence[str]) -> tuple[int, str]:
    """Run a check in this window; return its exit code and its last words."""
    program = shutil.which(argv[0]) or argv[0]
    kept = b""
    # What is compiled once then serves every process of every check.
    environ = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    with subprocess.Popen(
        [program, *argv[1:]],
        cwd=ROOT,
        env=environ,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    ) as process:
        assert process.stdout is not None
        try:
            while chunk := os.read(process.stdout.fileno(), 65536):
                sys.stdout.buffer.write(chunk)
                sys.stdout.buffer.flush()
                kept = (kept + chunk)[-4000:]
        except BaseException:
            process.terminate()
            raise
    return process.returncode, kept.decode("utf-8", "replace")


def read_outcome(layer: Layer, code: int, words: str, choosing: bool = False) -> Outcome:
    """Read how a check ended.

    Args:
        layer: the check.
        code: its exit code.
        words: the last it printed.
        choosing: whether the person chose among the tests, so that finding none here is no fault.
    """
    if not layer.is_pytest:
        return Outcome(layer.name, int(code == 0), int(code != 0), 0)
    plain = re.sub(r"\x1b\[[0-9;]*m", "", words)
    closing = re.findall(r"^=* ?(\d+ .* in [\d.]+s)", plain, re.MULTILINE)
    words_counted = r"(\d+) (passed|failed|error|skipped|xfailed|xpassed)"
    numbers = re.findall(words_counted, closing[-1] if closing else "")
    counts = {word: int(number) for number, word in numbers}
    failed = counts.get("failed", 0) + counts.get("error", 0)
    if code and not failed and not (code == NO_TEST_FOUND and choosing):
        failed = 1  # it broke before it could count
    passed = counts.get("passed", 0) + counts.get("xpassed", 0)
    return Outcome(layer.name, passed, failed, counts.get("skipped", 0) + counts.get("xfailed", 0))


def main(words: Sequence[str], run: Callable[[Sequence[str]], tuple[int, str]] = run_shown) -> int:
    """Run the checks, print how each ended, and return 0 only if something ran and nothing failed."""
    choosing = any(word != "--fast" for word in words)
    outcomes = []
    for layer in layers(words):
        print(f"\n== {layer.name}", flush=True)
        begun = time.monotonic()
        code, last = run(layer.argv)
        one = read_outcome(layer, code, last, choosing)
        outcomes.append(Outcome(one.name, one.passed, one.failed, one.skipped, time.monotonic() - begun))
    print("\nThe checks, one by one:", *(one.line() for one in outcomes), sep="\n")
    passed, failed = sum(one.passed for one in outcomes), sum(one.failed for one in outcomes)
    print(f"\n{passed} passed, {failed} failed, {sum(one.skipped for one in outcomes)} skipped", flush=True)
    return 0 if passed and not failed else 1


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # the check that runs must end too
    sys.exit(main(sys.argv[1:]))
