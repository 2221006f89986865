"""How each right answer follows, question by question."""

from __future__ import annotations

from brakecourse.marking.given import Answer
from brakecourse.marking.papers.m07_pad_wear import corners, decisions

KEY: dict[str, Answer] = {
    "7.1": corners.readings,
    "7.2": corners.smallest,
    "7.3": corners.tapers,
    "7.4": corners.difference,
    "7.5": decisions.against_minimum,
    "7.6": decisions.pattern,
    "7.7": decisions.cause,
    "7.8": decisions.distance,
    "7.9": decisions.action,
}
