"""Grading: bytes of a submitted notebook in, judged answers in the gradebook out.

Four steps, each in its own module: `plan` (what the module asks, read once), `work` (heal and run a
submission, shut in, no database), `judging` (answers to points, in the trusted process) and `write` (one
transaction a submission). `preprocessors` offers the same steps to plain nbgrader commands.
"""

from __future__ import annotations

from brakecourse.classroom.engine.grading import GradeReport, GradeRow, grade, grade_modules
from brakecourse.classroom.engine.hand import end_excuse, excuse, set_hand_mark, take_back_hand_mark
from brakecourse.classroom.engine.prepare import prepare_assignment
from brakecourse.classroom.engine.preview import CHANGED_SINCE, Change, Preview, accept, preview
from brakecourse.classroom.engine.sandbox import Protection, protection

__all__ = [
    "CHANGED_SINCE",
    "Change",
    "GradeReport",
    "GradeRow",
    "Preview",
    "Protection",
    "accept",
    "end_excuse",
    "excuse",
    "grade",
    "grade_modules",
    "prepare_assignment",
    "preview",
    "protection",
    "set_hand_mark",
    "take_back_hand_mark",
]
