"""A sinking pedal, looked at half way: what is to be done next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.jobs import (
    AT_THE_PEDAL,
    CLEAR,
    IN_THE_MASTER,
    LEAKS,
    WET_OUTSIDE,
    Job,
    draw_job,
    is_clear,
    shares,
)
from brakecourse.trade.leaks import next_checks

STATES: Mapping[str, float] = {"dry outside": 0.45, "not looked yet": 0.3, "seen wet": 0.25}
"""How often each state is drawn."""

RIGHT = {"dry outside": "look-behind", "not looked yet": "look-wheels", "seen wet": "put-right"}

_CAUSES: Mapping[str, Sequence[str]] = {
    "dry outside": IN_THE_MASTER,
    "not looked yet": LEAKS,
    "seen wet": WET_OUTSIDE,
}
_CHECKS: Mapping[str, Sequence[str]] = {
    "dry outside": (*AT_THE_PEDAL, "fluid_level", "wet_wheels"),
    "not looked yet": (*AT_THE_PEDAL, "fluid_level"),
    "seen wet": (*AT_THE_PEDAL, "fluid_level", "wet_wheels"),
}
TELLS_MORE = 1.3
"""The right check tells at least so many times as much a minute as the others on offer. Assumption, no
source."""
_OFFERED = ("wet_wheels", "wet_master", "piston_push")
_MOST_TRIES = 200

WHY = {
    "dry outside": "Fluid leaves, and it does not show at the wheels. Behind the master cylinder nobody has "
    "looked yet; fluid that leaves there runs into the booster and never reaches the floor. No other check "
    "on offer tells as much a minute.",
    "not looked yet": "Fluid leaves, and where it goes, nobody has looked yet. A look at hoses, fittings and "
    "calipers costs 6 minutes and takes nothing off, so it comes before the master cylinder is loosened.",
    "seen wet": "The leak has been seen, and nothing speaks against it. So put it right. Then hold the pedal "
    "again before the vehicle moves: a second leak may hide behind the first.",
}


def draw_halfway(draw: Draw, difficulty: Difficulty, pool: Sequence[Vehicle]) -> tuple[str, Job]:
    """Draw a state, and a sheet that is clearly in it."""
    state = draw.child("state").weighted(STATES)
    for again in range(_MOST_TRIES):
        turn = draw.child(f"sheet {again}")
        job = draw_job(turn, _CAUSES[state], difficulty, pool, _CHECKS[state]).job
        if is_clear_state(state, job):
            return state, job
    raise RuntimeError(f"No sheet that shows '{state}' clearly was found; please report this.")


def is_clear_state(state: str, job: Job) -> bool:
    """Tell whether what is to be done next follows clearly from the sheet."""
    found = job.found
    if state == "seen wet":
        return is_clear(job)
    if state == "dry outside" and (
        found["wet_wheels"] != "dry" or max(shares(job.findings).values()) >= CLEAR
    ):
        return False
    worth = {one.check: one.bits_per_minute for one in next_checks(found) if one.check in _OFFERED}
    best = worth.pop("wet_wheels" if state == "not looked yet" else "wet_master")
    return best >= TELLS_MORE * max(worth.values())


def next_basis(question: str, state: str, job: Job, given: Given) -> Basis:
    """Return what is to be done next, with its reason, and what the other answers show."""
    told = f"{' '.join(f'{words}.' for words in job.words())} {WHY[state]}"
    again = [("asked_again", key) for key in ("look-wheels", "look-behind")]
    pairs = {
        "dry outside": [again[0], ("stopped_at_first_finding", "put-right")],
        "not looked yet": [
            ("apart_before_looking", "look-behind"),
            ("stopped_at_first_finding", "put-right"),
        ],
        "seen wet": again,
    }[state]
    return given.choice(question, (RIGHT[state],), pairs, how=told)
