"""What an attack on plain nbgrader came to, in short words."""

from __future__ import annotations

from tests.attacks.plain_box import FILE_BYTES, PROCESS_BYTES, PROCESSES, WALL_S, Ended
from tests.attacks.plain_outcome import Outcome
from tests.attacks.registry import PLAIN_POINTS

BOXED = {
    "fork_bomb": f"{PROCESSES} processes",
    "thread_bomb": f"{PROCESSES} threads",
    "memory_bomb": f"{PROCESS_BYTES // 10**9} GB a process",
    "disk_filler": f"{FILE_BYTES // 10**6} MB a file",
}
"""Attacks that only a limit of the study's own box ended."""

MUCH_MB = 500
"""An ordinary run holds about 160 MB."""

NOTES = {
    "draw_the_case_again": "it draws no cases",
    "speak_to_the_grader_itself": "it varies: of three runs, some end with an error and some hang",
}


def words_of(name: str, kind: str, ended: Ended, outcome: Outcome) -> str:
    """Say what came of it."""
    said = [what_the_attacker_got(ended, outcome), *what_the_honest_got(outcome), *what_it_reached(outcome)]
    if ended.told.get("heard"):
        said.append("called out over " + " and ".join(map(str, ended.told["heard"])))
    if ended.told.get("left"):
        said.append("left a process behind that goes on")
    if ended.memory > MUCH_MB * 10**6:
        said.append(f"took {ended.memory / 1e6:.0f} MB")
    if name in BOXED:
        said.append(f"only this study's limit of {BOXED[name]} held it: plain nbgrader sets none")
    if name in NOTES:
        said.append(NOTES[name])
    return "; ".join(said)


def what_the_attacker_got(ended: Ended, outcome: Outcome) -> str:
    """The points, or why there are none."""
    if ended.how == "time":
        return f"the command did not end within {WALL_S} s"
    if ended.how == "memory":
        return "the study ended the command, which took too much memory"
    if not ended.told:
        return "the attack killed the command"
    if outcome.points is not None:
        return f"{outcome.points:g} of {PLAIN_POINTS} points"
    *collected, graded = ended.told["codes"]
    if any(collected):
        return "not taken in: zip_collect ended with an error"
    return "not graded: the command ended with an error" if graded else "not taken in"


def what_the_honest_got(outcome: Outcome) -> list[str]:
    """Whether another student was harmed."""
    if outcome.honest_points is None:
        return ["an honest student was not graded"]
    if outcome.honest_points != PLAIN_POINTS:
        return [f"an honest student got {outcome.honest_points:g}"]
    return []


def what_it_reached(outcome: Outcome) -> list[str]:
    """What was read and changed."""
    said = []
    if outcome.changed:
        said.append(f"changed {counted(outcome.changed)} not its own")
    if outcome.laid:
        said.append(f"laid {counted(outcome.laid)} elsewhere")
    if outcome.by_hand is None:
        said.append("the gradebook is gone")
    if outcome.by_hand:
        said.append(f"wrote {outcome.by_hand} scores into the gradebook")
    if outcome.triggers:
        said.append("left a trigger in the gradebook")
    if outcome.secret:
        said.append("got a secret file back")
    if outcome.tests:
        said.append("got the hidden tests back")
    if outcome.opened:
        said.append("opened the memory of other processes for writing")
    return said


def counted(names: tuple[str, ...]) -> str:
    """How many files."""
    return "a file" if len(names) == 1 else f"{len(names)} files"
