"""What the marking says about one answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Status = Literal["right", "partly right", "wrong", "no answer", "not readable"]


@dataclass(frozen=True)
class Mark:
    """The marks for one answer, and the words that go with them.

    Attributes:
        question_id: e.g. ``"8.2"``.
        points: marks earned, 0 up to ``out_of``.
        out_of: marks for a full answer.
        status: how the answer fared.
        given: the answer as it was understood.
        expected: the right answer, with its unit.
        tolerance: how far from it an answer may lie, in words.
        how: how the right answer follows from this vehicle's readings.
        mistake: the named mistake that the answer shows, or None.
        words: what to tell the learner.
        lesson: the part of the lesson to read again; empty when the answer is right.
        carried_forward: the answer was marked on the learner's own earlier answer.
    """

    question_id: str
    points: float
    out_of: float
    status: Status
    given: str
    expected: str
    tolerance: str
    how: str
    mistake: str | None
    words: str
    lesson: str
    carried_forward: bool
