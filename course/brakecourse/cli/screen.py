"""What the commands print with: tables, a progress bar, and the line that says what to do next."""

from __future__ import annotations

import math
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date

import typer
from rich.console import Console
from rich.progress import (
    BarColumn,
    MofNCompleteColumn,
    Progress,
    ProgressColumn,
    Task,
    TextColumn,
    TimeElapsedColumn,
    TimeRemainingColumn,
)
from rich.table import Table
from rich.text import Text

from brakecourse.classroom.folder import Progress as Told


def printable(text: str) -> str:
    """Return a text that can't steer the terminal: a file's name may hold anything.

    >>> printable("a\\x1b[2Jb")
    'a?[2Jb'
    """
    return "".join(c if c.isprintable() else "?" for c in text)


def count_of(number: int, one: str, many: str = "") -> str:
    """Say how many there are of something.

    >>> count_of(1, "page"), count_of(2, "page")
    ('1 page', '2 pages')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"


def a_number(text: str) -> float:
    """Read a number that was typed.

    Raises:
        typer.BadParameter: it is none, or not a finite one.
    """
    try:
        value = float(text)
        if not math.isfinite(value):
            raise ValueError
    except ValueError as error:
        raise typer.BadParameter(f"a number such as 2.5 was expected, but '{text}' was found") from error
    return value


def a_day(text: str | None) -> date | None:
    """Read a day that was typed; None stays None.

    Raises:
        typer.BadParameter: it is none.
    """
    try:
        return None if text is None else date.fromisoformat(text)
    except ValueError as error:
        raise typer.BadParameter(f"a day such as 2026-09-01 was expected, but '{text}' was found") from error


def out() -> Console:
    """The standard output. Where it is no terminal, it is wide enough to keep a table's lines whole."""
    console = Console(highlight=False, soft_wrap=False)
    return console if console.is_terminal else Console(highlight=False, width=140)


def say(text: str) -> None:
    """Print one line of plain words."""
    out().print(Text(printable(text)), soft_wrap=True)


def pace(number: int, seconds: float) -> str:
    """Say how long something took, and how many pieces that is in a second.

    >>> pace(390, 12.5)
    'in 12.5 s, 31.2 a second'
    """
    return f"in {seconds:.1f} s, {number / max(seconds, 0.05):.1f} a second"


def next_step(text: str) -> None:
    """Print what to do next, as the command's last line."""
    out().print(Text.assemble(("Next: ", "bold"), printable(text)), soft_wrap=True)


def complain(text: str) -> int:
    """Print one sentence on the error output and return the exit code that goes with it."""
    line = printable(" ".join(text.split()))
    sys.stderr.write(line if line.endswith((".", "?", "!")) else line + ".")
    sys.stderr.write("\n")
    return 1


def table(title: str, headings: Sequence[str], rows: Sequence[Sequence[object]]) -> None:
    """Print a table; a heading that starts with '>' is for numbers, set to the right."""
    drawn = Table(title=Text(printable(title)), title_justify="left", header_style="bold", expand=False)
    for heading in headings:
        drawn.add_column(heading.lstrip(">"), justify="right" if heading.startswith(">") else "left")
    for row in rows:
        drawn.add_row(*(Text("" if cell is None else printable(str(cell))) for cell in row))
    out().print(drawn)


class _Speed(ProgressColumn):
    """How many pieces are done in a second."""

    def render(self, task: Task) -> Text:
        """Return it in words; nothing before it is known."""
        speed = task.finished_speed or task.speed
        return Text(f"{speed:.1f} a second" if speed else "")


@contextmanager
def progress_bar(what: str) -> Iterator[Told]:
    """Show a bar on the error output while work goes on, with the speed and the time left.

    Nothing is shown where that is no terminal.
    """
    console = Console(stderr=True)
    with Progress(
        TextColumn("{task.description}", markup=False),
        BarColumn(),
        MofNCompleteColumn(),
        TextColumn("{task.fields[item]}", markup=False),
        TimeElapsedColumn(),
        _Speed(),
        TextColumn("left:"),
        TimeRemainingColumn(compact=True),
        console=console,
        transient=True,
        disable=not console.is_terminal,
    ) as bar:
        task = bar.add_task(what, total=None, item="")

        def told(done: int, total: int, item: str) -> None:
            bar.update(task, completed=done, total=total, item=printable(item))

        yield told
