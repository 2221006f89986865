"""What of an answer may stay in an anonymous copy: numbers and words that the question itself offered.

Anything else could be a name, a greeting or a turn of phrase by which somebody is known.
"""

from __future__ import annotations

import math
from collections.abc import Collection

from brakecourse import marking

REMOVED = "(text removed)"


def words_of_the_course(case: marking.SealedCase | None, question_id: str) -> frozenset[str]:
    """Return the words that a question offered to choose from or to put in order."""
    sealed = case.question(question_id) if case is not None else None
    if case is None or sealed is None or sealed.kind not in ("choice", "sequence"):
        return frozenset()
    own = [choice for choice in case.choices if choice.question == question_id]
    offered = {text for choice in own for text in (choice.key, choice.text)}
    return frozenset(offered | set(sealed.accepted) | set(sealed.steps) | {"", *"abcdefghijklmnopqrstuvwxyz"})


def may_stay(answer: object, offered: Collection[str]) -> bool:
    """Tell whether nothing of a person can be in an answer.

    Args:
        answer: as the gradebook holds it.
        offered: the words that the question offered.

    >>> may_stay([12.3, None], ()), may_stay("12.3", ()), may_stay("b", ("a", "b")), may_stay("Amara", ())
    (True, True, True, False)
    """
    if answer is None or isinstance(answer, bool | int | float):
        return True
    if isinstance(answer, str):
        return answer in offered or _is_number(answer)
    if isinstance(answer, list):
        return all(may_stay(one, offered) for one in answer)
    return False


def _is_number(text: str) -> bool:
    try:
        return math.isfinite(float(text.replace(",", ".")))
    except ValueError:
        return False
