"""What each subject of the trade is tested for in the same words: what it refuses, what its text tells."""

from __future__ import annotations

import inspect
import math
from collections.abc import Mapping
from types import ModuleType
from typing import Any

import pytest

NO_VALUES: list[Any] = [math.nan, math.inf, -math.inf, 1e300, True, "3", "", None, 1j, [1.0], {}, object()]
HEADINGS = ("Args:", "Returns:", "Raises:", "Source:", "Example:", ">>>")


def refused(function: Any, arguments: Mapping[str, Any]) -> str:
    """Call what must refuse, and return its one sentence."""
    with pytest.raises(ValueError, match="must be") as caught:
        function(**arguments)
    sentence = str(caught.value)
    assert sentence.endswith(".") and "\n" not in sentence and len(sentence) < 240
    return sentence


def takes_values(module: ModuleType) -> set[str]:
    """Return the public functions and records of a module that take a value they could refuse."""
    return {
        name
        for name in module.__all__
        if (inspect.isfunction(member := getattr(module, name)) and inspect.signature(member).parameters)
        or hasattr(member, "__post_init__")
    }


def check_text(function: Any, arguments: Mapping[str, Any]) -> None:
    """Assert that a docstring has every heading and names every argument."""
    text = inspect.getdoc(function) or ""
    assert all(heading in text for heading in HEADINGS)
    assert all(f"{argument}:" in text for argument in arguments)
