"""The student's side of an exercise: open the work order, look at the drawings, hand in an answer."""

from __future__ import annotations

from brakecourse.workorder.desk import hand_in, open_work_order, show

__all__ = ["hand_in", "open_work_order", "show"]
