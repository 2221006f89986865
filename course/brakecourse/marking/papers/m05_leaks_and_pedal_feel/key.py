"""The right answers, how they follow, and the mistakes that they invite."""

from __future__ import annotations

from brakecourse.marking.given import Answer
from brakecourse.marking.papers.m05_leaks_and_pedal_feel import order, sums
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.causes import cause
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.halfway import next_basis

KEY: dict[str, Answer] = {
    "5.1": sums.held_readings,
    "5.2": sums.leak,
    "5.3": lambda truth, given: cause("5.3", truth.jobs[0], given),
    "5.4": lambda truth, given: cause("5.4", truth.jobs[1], given),
    "5.5": lambda truth, given: cause("5.5", truth.jobs[2], given),
    "5.6": lambda truth, given: next_basis("5.6", truth.half_state, truth.half, given),
    "5.7": lambda truth, _given: order.sequence(truth.checks),
    "5.8": sums.soft_reading,
    "5.9": sums.air,
}
