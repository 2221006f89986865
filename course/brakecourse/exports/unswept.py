"""Make many things at once without Python looking for rubbish among them again and again."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def unswept() -> Iterator[None]:
    """Put off the search for rubbish. For work whose many things all stay: a class's results, a workbook.

    The search goes through everything that is there, and takes a quarter of such work's time.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
