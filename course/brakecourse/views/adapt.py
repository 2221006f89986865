"""How practice adapts to the learner: what went wrong comes more often. Pure functions.

The rule is simple enough to be told in one sentence, and the learner may overrule it at any time.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from brakecourse.bench.draw import Draw

LET_THE_COURSE_CHOOSE = "let the course choose"
RULE = "A topic that you got wrong comes twice as often, until you have it right twice running."
RECENT = 6
"""How many of the latest results a topic's record keeps."""

_WEAK = 2.0
_RIGHT_RUNNING = 2


def is_weak(results: Sequence[bool]) -> bool:
    """Return whether a topic needs more practice: once wrong, and not right twice running since.

    Args:
        results: whether each answer was right, the latest last.

    >>> is_weak([]), is_weak([False, True]), is_weak([False, True, True])
    (False, True, False)
    """
    return False in results and not all(results[-_RIGHT_RUNNING:])


def shares(record_by_topic: Mapping[str, Sequence[bool]]) -> dict[str, float]:
    """Return how often each topic comes, as shares of one.

    Args:
        record_by_topic: every topic with its results, the latest last; empty for one not tried yet.

    Returns:
        The share of each topic, in the same order. A topic never vanishes, however well it goes.

    Raises:
        ValueError: there is no topic.

    Source:
        The course's own rule (``RULE``), no source.

    >>> shares({"hose": [True], "boot": [False]})["boot"]
    0.6666666666666666
    """
    if not record_by_topic:
        raise ValueError("At least one topic was expected to share out, but there is none.")
    weights = {topic: _WEAK if is_weak(results) else 1.0 for topic, results in record_by_topic.items()}
    total = sum(weights.values())
    return {topic: weight / total for topic, weight in weights.items()}


def next_topic(record_by_topic: Mapping[str, Sequence[bool]], draw: Draw) -> str:
    """Draw the next topic, each as often as its share says."""
    return draw.weighted(shares(record_by_topic))


def why(record_by_topic: Mapping[str, Sequence[bool]]) -> str:
    """Say what comes more often next, and why.

    >>> why({"hose": [True], "boot": [False, True]})
    'Next: more likely boot, because you got it wrong and have not had it right twice running since.'
    """
    weak = [topic for topic, results in record_by_topic.items() if is_weak(results)]
    if not weak:
        return "Next: each topic is equally likely."
    if len(weak) == len(record_by_topic) > 1:
        return "Next: each topic is equally likely, because each one needs more practice."
    named = weak[0] if len(weak) == 1 else f"{', '.join(weak[:-1])} or {weak[-1]}"
    them = "it" if len(weak) == 1 else "them"
    return (
        f"Next: more likely {named}, because you got {them} wrong "
        f"and have not had {them} right twice running since."
    )
