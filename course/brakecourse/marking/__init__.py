"""The instructor's side: a student's case, the right answers, the named mistakes, the verdict."""

from __future__ import annotations

from brakecourse.marking.catalogue import Question, modules, questions, total_points
from brakecourse.marking.draw import draw_sealed_case
from brakecourse.marking.judge import judge, judge_all, right_places
from brakecourse.marking.marks import Mark, Status
from brakecourse.marking.mistakes import mistake_words
from brakecourse.marking.sealed import SealedCase

MODULES: tuple[str, ...] = modules()
"""The modules that have an exercise, in teaching order."""

__all__ = [
    "MODULES",
    "Mark",
    "Question",
    "SealedCase",
    "Status",
    "draw_sealed_case",
    "judge",
    "judge_all",
    "mistake_words",
    "questions",
    "right_places",
    "total_points",
]
