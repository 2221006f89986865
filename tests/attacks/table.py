"""Print the attacks as a table: what each tries, what plain nbgrader gives for it, and what happens here.

`python -m tests.attacks.table`
"""

from __future__ import annotations

from collections import Counter

from rich.console import Console
from rich.table import Table

from tests.attacks import attacked  # noqa: F401 (enters the attacks into the list)
from tests.attacks.plain_results import plain_results
from tests.attacks.registry import ATTACKS


def main() -> None:
    """Print it."""
    drawn = Table(title=f"{len(ATTACKS)} attacks on grading", title_justify="left", show_lines=False)
    for heading in ("On", "Attack", "Tries", "Plain nbgrader", "Here"):
        drawn.add_column(heading, overflow="fold")
    for one in ATTACKS.values():
        here = one.ours if one.status == "graded" else f"{one.ours}; {one.status}"
        drawn.add_row(one.group, one.name.replace("_", " "), one.tries, one.plain, here)
    console = Console()
    (console if console.is_terminal else Console(width=200)).print(drawn)
    known = Counter(one.known for one in plain_results().values())
    console.print(
        f"Plain nbgrader: {'; '.join(f'{many} {words}' for words, many in known.items())}, each attack in a "
        "course of its own: an exercise of 17 points whose tests run in the student's kernel. Where no harm "
        "is named, an honest student who was graded after the attacker got 17. The study's box lets nobody "
        "write to programs, and ends a run after 90 s. The numbers, and memory and time, are in "
        "tests/attacks/plain_results.csv; python -m tests.attacks.plain_study measures them.",
        markup=False,
    )


if __name__ == "__main__":
    main()
