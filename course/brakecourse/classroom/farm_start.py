"""What the process loads that grading's worker processes are copied from: once for all of them.

The library that checks notebooks' form looks for further ones, to check web addresses with. One of them,
which comes with JupyterLab, builds a grammar as it is loaded; that takes seconds, and no notebook needs it.
"""

from __future__ import annotations

import sys

_SLOW = "rfc3987_syntax"


def load() -> None:
    """Load all that a worker needs, without the slow one."""
    hidden = _SLOW not in sys.modules
    if hidden:
        sys.modules[_SLOW] = None  # type: ignore[assignment]  # means: not to be had
    try:
        import brakecourse.classroom.engine.farm  # noqa: F401
    finally:
        if hidden:
            del sys.modules[_SLOW]


load()
