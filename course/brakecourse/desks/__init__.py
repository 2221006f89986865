"""The desks: the classroom's and the exports' work with buttons, for people who use no command line.

A notebook holds one call. What stands on a page is put together here; everything that is done or worked out
is done by the rooms behind it.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from brakecourse.desks.shell import Desk

__all__ = ["coordinator_desk", "instructor_desk"]


def instructor_desk(folder: Path | str | None = None) -> Desk:
    """Return the instructor's desk: a class from its list to what to teach again.

    Args:
        folder: where the class folders are looked for, in its folder ``classes``; by default the notebook's.
    """
    from brakecourse.desks.instructor import build

    return build(Path(folder) if folder is not None else Path.cwd())


def coordinator_desk(folder: Path | str | None = None) -> Desk:
    """Return the coordinator's desk: grades, competencies, exports and privacy of several classes.

    Args:
        folder: where the class folders are looked for, in its folder ``classes``; by default the notebook's.
    """
    from brakecourse.desks.coordinator import build

    return build(Path(folder) if folder is not None else Path.cwd())
