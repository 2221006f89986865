"""How each right answer follows, question by question."""

from __future__ import annotations

from brakecourse.marking.given import Answer
from brakecourse.marking.papers.m09_bracket_and_pins import decisions, sums

KEY: dict[str, Answer] = {
    "9.1": sums.pulls,
    "9.2": sums.outer_force,
    "9.3": sums.ratio,
    "9.4": sums.free_volume,
    "9.5": sums.most_grease,
    "9.6": sums.gap,
    "9.7": decisions.fault,
    "9.8": decisions.remedy,
    "9.9": decisions.order,
}
