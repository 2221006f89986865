"""The right answers, how they follow, and the mistakes that each question invites."""

from __future__ import annotations

from brakecourse.marking.given import Answer
from brakecourse.marking.papers.m10_hub_and_rotor_fit import decisions, dial, sums

KEY: dict[str, Answer] = {
    "10.1": dial.readings,
    "10.2": dial.total_found,
    "10.3": dial.high_place,
    "10.4": decisions.way_off,
    "10.5": sums.flake,
    "10.6": dial.total_clean,
    "10.7": sums.positions,
    "10.8": sums.best,
    "10.9": decisions.action,
}
