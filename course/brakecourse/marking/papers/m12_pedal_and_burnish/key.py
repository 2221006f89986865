"""The right answers, how they follow, and the mistakes that each question invites."""

from __future__ import annotations

from brakecourse.marking.given import Answer
from brakecourse.marking.papers.m12_pedal_and_burnish import heat, pedal, road

KEY: dict[str, Answer] = {
    "12.1": pedal.strokes,
    "12.2": pedal.proven,
    "12.3": pedal.final_level,
    "12.4": heat.stop_energy,
    "12.5": heat.ratio,
    "12.6": heat.rise,
    "12.7": heat.wait,
    "12.8": heat.plan,
    "12.9": road.what_now,
}
