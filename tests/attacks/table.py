"""Print the attacks as a table: what each tries, what plain nbgrader gives for it, and what happens here.

`python -m tests.attacks.table`
"""

from __future__ import annotations

from rich.console import Console
from rich.table import Table

from tests.attacks import attacked  # noqa: F401 (enters the attacks into the list)
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
    measured = sum(one.measured is not None for one in ATTACKS.values())
    console.print(
        f"Measured: {measured}, by tests/attacks/test_plain_nbgrader.py with the installed nbgrader, on an "
        "exercise of 17 points whose tests run in the student's kernel. The design's table was measured "
        "once, on another exercise; it is quoted, not tested.",
        markup=False,
    )


if __name__ == "__main__":
    main()
