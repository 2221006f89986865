"""What a student has of the course, and nothing else: the same in a kit and in the grader's sandbox."""

from __future__ import annotations

ROOMS = ("bench", "trade", "views", "workorder")
MODULES = ("__init__.py", "errors.py", "published.py", "py.typed", "tables.py")
TABLES = (
    "course/activities.csv",
    "course/competencies.csv",
    "course/glossary.csv",
    "course/modules.csv",
    "diagnosis",
    "motor_pool",
    "published",
)
"""Folders and tables of ``datasets`` that the learner's side reads. What the marking reads stays behind."""
