"""Values that a student's code sends, cut down to plain data of a sensible size."""

from __future__ import annotations

import json
import math

from brakecourse.classroom.engine.reading import plain_text

LONGEST_ANSWER_CHARACTERS = 20_000
DEEPEST_ANSWER = 4
MOST_VALUES = 1_000

NO_PLAIN_VALUE = "(not a plain value of a sensible size)"
"""Stands in for an answer that is none. The marking can't read it as any kind of answer."""


def plain_value(answer: object) -> object:
    """Return a value as it can be stored and marked, or :data:`NO_PLAIN_VALUE`.

    >>> plain_value([23.5, "a\\x00"]), plain_value(float("nan"))
    ([23.5, 'a'], '(not a plain value of a sensible size)')
    """
    if not _sensible(answer, DEEPEST_ANSWER) or len(json.dumps(answer)) > LONGEST_ANSWER_CHARACTERS:
        return NO_PLAIN_VALUE
    return _storable(answer)


def _sensible(value: object, depth: int) -> bool:
    """Tell whether a value is plain data, finite and shallow."""
    if value is None or isinstance(value, bool):
        return True
    if isinstance(value, str):
        return len(value) <= LONGEST_ANSWER_CHARACTERS
    if isinstance(value, int):
        return value.bit_length() <= 256
    if isinstance(value, float):
        return math.isfinite(value)
    if isinstance(value, list):
        return depth > 0 and len(value) <= MOST_VALUES and all(_sensible(item, depth - 1) for item in value)
    return False


def _storable(value: object) -> object:
    if isinstance(value, str):
        return plain_text(value)
    return [_storable(item) for item in value] if isinstance(value, list) else value
