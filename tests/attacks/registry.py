"""What an attack is, and the list of all of them.

Each attack starts from a notebook whose answers all earn nothing and adds its trick. It says in one sentence
what it tries; what plain nbgrader gives for it was measured and is stored beside this module.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from nbformat import NotebookNode
from nbformat.v4 import new_code_cell

from tests.attacks.plain_results import plain_results
from tests.classroom.engine_class import answer_cell, cell_of

MARK = "zz_attack_of_the_tests"
"""Stands in the name of every file that an attack tries to leave somewhere."""

MIME = "application/vnd.brakecourse.answer+json"
PLAIN_POINTS = 17


@dataclass(frozen=True)
class Surroundings:
    """What an attacker knows: where the class lies, another student's work, and who listens outside.

    Attributes:
        root: the class folder.
        victim: an honest student's id.
        outside: a folder beside the class, with files in it that must stay as they are.
        secrets: files that hold a canary.
        tcp, udp: ports of this machine on which somebody listens.
        unix: paths of sockets on which somebody listens; one that begins with @ has no file.
    """

    root: Path
    victim: str
    outside: Path
    secrets: tuple[Path, ...] = ()
    tcp: int = 0
    udp: int = 0
    unix: tuple[str, ...] = ()


@dataclass(frozen=True)
class Exercise:
    """An exercise notebook with wrong answers, to be tampered with.

    Attributes:
        notebook: the notebook.
        points: what each question that a machine marks is worth.
    """

    notebook: NotebookNode
    points: dict[str, float]

    def graded(self) -> list[tuple[str, NotebookNode]]:
        """The locked cells that earn the points, by question."""
        return [
            (question, cell_of(self.notebook, "q" + question.replace(".", "_"))) for question in self.points
        ]

    def answer(self, question: str) -> NotebookNode:
        """The cell that a question is answered in."""
        return answer_cell(self.notebook, question)

    def variable(self, question: str) -> str:
        """The name that a question's answer is given to."""
        return str(self.answer(question).source.split(" =")[0].strip())

    def first(self, code: str) -> None:
        """Run code before everything else."""
        self.notebook.cells.insert(0, new_code_cell(textwrap.dedent(code)))

    def after(self, question: str, code: str) -> None:
        """Run code right after a question was answered, before it is handed in."""
        self.answer(question).source += "\n" + textwrap.dedent(code)

    def answer_with(self, question: str, code: str) -> None:
        """Answer a question with an expression."""
        self.answer(question).source = f"{self.variable(question)} = {code}"


Kind = Literal["notebook", "file", "inbox", "submitted"]


@dataclass(frozen=True)
class Attack:
    """One attack.

    Attributes:
        name: what it is called.
        group: what it is on.
        tries: what it tries, in one sentence.
        measured: points of 17 that plain nbgrader gives in `test_plain_nbgrader.py`, which measures some of
            the attacks again; None for the others.
        ours: what happens here, in words.
        status: the status that the submission ends in.
        said: words that the instructor reads about it.
        kind: whether it changes the notebook, makes the file's bytes, lays files into the inbox, or puts
            something in the place of the copy that is graded.
        do: the attack itself.
    """

    name: str
    group: str
    tries: str
    measured: float | None
    ours: str
    status: str
    said: str
    kind: Kind
    do: Callable[..., Any]

    @property
    def plain(self) -> str:
        """What plain nbgrader gives, in words."""
        found = plain_results().get(self.name)
        return found.words if found else "to be measured: python -m tests.attacks.plain_study"


ATTACKS: dict[str, Attack] = {}


def attack(
    tries: str,
    *,
    measured: float | None = None,
    ours: str = "0 points",
    status: str = "graded",
    said: str = "",
    kind: Kind = "notebook",
) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Enter a function into the list of attacks; the first words of its module's docstring name the group."""

    def enter(function: Callable[..., Any]) -> Callable[..., Any]:
        group = str(function.__globals__["__doc__"]).partition(":")[0]
        made = Attack(
            function.__name__, group, tries, measured, ours, status, said, kind, function
        )  # fmt: skip
        assert made.name not in ATTACKS
        ATTACKS[made.name] = made
        return function

    return enter


def tried(code: str) -> str:
    """Code that goes on whatever happens to it."""
    inside = textwrap.indent(textwrap.dedent(code), "    ")
    return f"try:\n{inside}\nexcept BaseException as failed:\n    print(type(failed), failed)\n"
