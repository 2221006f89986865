"""The one error that is meant to be read by a person."""

from __future__ import annotations


class CourseError(Exception):
    """Something a person can put right.

    The message is one sentence: what was expected, what was found, what to do.
    The command line prints it and ends with exit code 1.
    """
