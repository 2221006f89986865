"""Why a level tells what it tells, and what to do next: reasons from the case's own numbers."""

from __future__ import annotations

from brakecourse.bench.level_cases import VERDICTS, LevelCase
from brakecourse.trade.fluid import LEAST_LEAK_ML, LevelVerdict
from brakecourse.views.level_mistakes import mm_words
from brakecourse.views.units import both

MEANING: dict[LevelVerdict, str] = {
    "wear explains it": f"a loss of {both(LEAST_LEAK_ML, 'mL', 0)} or more can be ruled out.",
    "suspect a leak": "more is missing than the wear asks for, by more than the guard band.",
    "fluid was added": "less is missing than the wear asks for, by more than the guard band.",
    "too close to call": (
        f"a leak is not proven, and a loss of {both(LEAST_LEAK_ML, 'mL', 0)} cannot be ruled out either."
    ),
}
"""What each verdict says."""

TOP_UP = "Top it up to MAX first. Then inspect."
GO_ON = "Go on with the job, and look for wet places as on every job."
FIND_LEAK = "Find the leak before the vehicle moves."
LOOK_ANYWAY = "Look for a leak as if there were one: the level proves nothing."
ASK_WHO = "Ask who added fluid, look for a leak, and draw some out before the pistons go back."
ACTIONS: dict[LevelVerdict, str] = {
    "wear explains it": GO_ON,
    "suspect a leak": FIND_LEAK,
    "too close to call": LOOK_ANYWAY,
    "fluid was added": ASK_WHO,
}
"""What to do after each verdict. Common practice, no source."""


def sums(case: LevelCase) -> str:
    """Tell the numbers of a case: what is missing, what the wear asks for, the gap and the guard band."""
    system, found = case.vehicle.hydraulics, case.finding
    most, level = system.reservoir_max_mm, case.reading_mm
    side = "more" if found.unexplained_ml >= 0 else "less"
    return (
        f"Missing: {mm_words(most)} − {mm_words(level)} = {mm_words(most - level)} mm, "
        f"{both(case.missing_ml, 'mL')}. The wear asks for {both(found.expected_ml, 'mL')}. That is "
        f"{both(abs(found.unexplained_ml), 'mL')} {side}, and the guard band is {both(case.guard_ml, 'mL')}."
    )


def verdict_reasons(case: LevelCase) -> dict[str, str]:
    """Return for each verdict why it is right or wrong for this case."""
    return {verdict: f"{sums(case)} {_verdict_reason(verdict, case)}" for verdict in VERDICTS}


def _verdict_reason(chosen: LevelVerdict, case: LevelCase) -> str:
    found, guard = case.finding, case.guard_ml
    if chosen == found.verdict:
        return f"So {MEANING[chosen]}"
    if chosen == "wear explains it":
        if found.verdict == "too close to call":
            could = found.unexplained_ml + guard
            return (
                f"As much as {both(could, 'mL')} could have gone. To say that wear explains it, that must be "
                f"no more than {both(LEAST_LEAK_ML, 'mL', 0)}."
            )
        return f"The gap is wider than the guard band: {MEANING[found.verdict]}"
    if chosen == "suspect a leak":
        if found.unexplained_ml < 0:
            return "No more is missing than the wear asks for."
        return "The gap is narrower than the guard band, so a leak is not proven."
    if chosen == "fluid was added":
        if found.unexplained_ml > 0:
            return "Fluid that was added would leave less missing than the wear asks for, not more."
        return "The gap is narrower than the guard band, so nothing is proven."
    return f"It is clear enough: {MEANING[found.verdict]}"


def action_reasons(case: LevelCase) -> dict[str, str]:
    """Return for each action why it is right or wrong for this case."""
    verdict = case.finding.verdict
    reasons = {action: _action_reason(one, case) for one, action in ACTIONS.items()}
    right = f"{sums(case)} {verdict.capitalize()}: {MEANING[verdict]} {_WHY_RIGHT[verdict]}"
    return reasons | {TOP_UP: top_up_words(case), ACTIONS[verdict]: right}


_WHY_RIGHT: dict[LevelVerdict, str] = {
    "wear explains it": "New pads push the fluid back up.",
    "suspect a leak": "Brakes that lose fluid can fail at the next stop.",
    "too close to call": "A level that proves nothing does not prove the system tight.",
    "fluid was added": "Added fluid hides what has leaked.",
}


def _action_reason(meant: LevelVerdict, case: LevelCase) -> str:
    """Say why what would follow from another verdict is wrong here."""
    found = case.finding
    if meant == "wear explains it":
        return f"{sums(case)} The wear does not explain the level: {MEANING[found.verdict]}"
    if meant == "suspect a leak":
        return f"{sums(case)} A leak is not proven: {MEANING[found.verdict]}"
    if meant == "too close to call":
        return f"{sums(case)} The level does prove something: {MEANING[found.verdict]}"
    return f"{sums(case)} Nothing shows that fluid was added."


def top_up_words(case: LevelCase) -> str:
    """Say what topping up before the inspection would do to this vehicle."""
    hidden = case.missing_ml
    hides = (
        f"Topping up hides the evidence: {both(hidden, 'mL')} would no longer be seen to be missing."
        if hidden > 0
        else "It stands at MAX or above it already."
    )
    return (
        f"{hides} And when new pads push the pistons back, {both(case.finding.expected_ml, 'mL')} come back: "
        f"the level would rise to {both(case.back_mm, 'mm', 1)} above MAX, or run over onto the paint."
    )
