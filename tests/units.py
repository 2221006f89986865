"""The units of a library from outside the project (pint), read once for all tests of a process."""

from __future__ import annotations

from functools import cache
from typing import Any

import pint


@cache
def pints_units() -> pint.UnitRegistry[Any]:
    """Return pint's own registry, as it comes: no test may change it."""
    return pint.UnitRegistry()
