"""Say in words what a decision against a limit means."""

from __future__ import annotations

from brakecourse.trade.conformity import Decision
from brakecourse.views.words import VERDICT_SENTENCES, mm, percent


def decision_words(decision: Decision) -> str:
    """Say what a limit decision means: verdict, margin, guard band, probability.

    >>> from brakecourse.trade.conformity import decide
    >>> decision_words(decide(22.03, 22.0, "minimum", 0.01)).split(".")[0]
    'Within'
    """
    return (
        f"{decision.verdict.capitalize()}. {VERDICT_SENTENCES[decision.verdict]} {_place(decision.margin)} "
        f"The guard band is {mm(decision.guard_band, 4)}. "
        f"Probability that the limit is kept: {probability_words(decision.probability_conforming)}."
    )


def probability_words(probability: float) -> str:
    """Write a probability so that it never claims to be certain.

    >>> probability_words(0.99997), probability_words(0.5).replace(chr(160), " ")
    ('more than 99.9\xa0%', '50.0 %')
    """
    if probability > 0.999:
        return f"more than {percent(0.999, 1)}"
    if probability < 0.001:
        return f"less than {percent(0.001, 1)}"
    return percent(probability, 1)


def _place(margin_mm: float) -> str:
    distance = abs(margin_mm)
    if distance < 1e-9:
        return "The value lies exactly on the limit."
    places = 2 if f"{distance:.3f}".endswith("0") else 3
    side = "good" if margin_mm > 0 else "bad"
    return f"The value lies {mm(distance, places)} on the {side} side of the limit."
