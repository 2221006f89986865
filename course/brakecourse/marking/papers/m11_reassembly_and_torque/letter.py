"""What a simulated student writes to a workmate. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m11_reassembly_and_torque.truth import TorqueTruth
from brakecourse.views.torque_words import nm

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes the full explanation, or at least what is to be done and why."""


def workmate_words(case: TorqueTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    bolt = case.bolt
    renewed = given.picked("11.9").startswith("new")
    done = (
        f"I have laid the {bolt.name} aside: a new one of class {bolt.property_class} goes in."
        if renewed
        else f"I have taken the {bolt.name} out to clean it; it can go back."
    )
    if ability < SHORT_FROM:
        return done
    found = (
        f"You left the wrench set to {nm(given.number('11.2'))}, with the extension on and oil on the "
        f"threads. The {bolt.name} carried about {given.number('11.7'):.0f} % of its proof load that way."
    )
    if ability < FULL_FROM:
        return f"{found} {done}"
    why = (
        "The extension changes the lever, and the wrench does not know it. The oil lets more of the torque "
        "become pull. The click tells neither of the two."
    )
    again = (
        f"Next time clean and dry the threads, and set {nm(given.number('11.3'))} with this extension. "
        "Stop at the first click, and turn the wrench back to its low end."
    )
    last = "The wheel nuts come last, across and across, in steps, with the tyre on the ground."
    return f"{found} {why} {done} {again} {last}"
