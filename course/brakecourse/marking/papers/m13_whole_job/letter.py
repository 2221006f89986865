"""What a simulated student writes under the record. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m13_whole_job.key_decide import named_cause
from brakecourse.marking.papers.m13_whole_job.truth import PARTS, JobTruth
from brakecourse.views.units import both
from brakecourse.views.whole_job_remedies import REMEDIES
from brakecourse.views.words import mm

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes the whole record, or at least finding and parts."""

_ONE_PART = ("brake pad", "rotor", "brake hose", "piston-and-seal set", "slide pin with its boot")
_ROTOR = {
    "keep": "The rotors stay on.",
    "machine": "Both rotors of that axle are turned true on a lathe, and there is metal enough for it.",
    "replace": "Both rotors of that axle are renewed.",
    "hub": "The rust behind the rotor is cleaned off, and the wobble is measured again.",
}


def record_words(truth: JobTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    named = REMEDIES.get(named_cause(given))
    found = named.plain if named else "We found no fault that explains it."
    means = named.means if named else ""
    counts = given.row("13.12")
    named_parts = zip(counts, PARTS, _ONE_PART, strict=True)
    new = ", ".join(f"{value:g} {one if value == 1 else name}" for value, name, one in named_parts if value)
    parts = f"New parts: {new or 'none'}."
    if ability < SHORT_FROM:
        return found
    if ability < FULL_FROM:
        return f"{found} {parts}"
    thinnest, smallest, _ = given.row("13.6")
    measured = (
        f"At the {truth.wheel} wheel the thinnest lining is {mm(thinnest, 1)}, and the rotor is "
        f"{mm(smallest)} thick at its thinnest place."
    )
    picked = given.picked("13.9")
    rotor = _ROTOR.get(next(one.action for one in given.choices("13.9") if one.key == picked), "")
    renewed = "renew" in given.picked("13.11")
    boils = both(given.number("13.2"), "°C")
    fluid = (
        f"The brake fluid boils at {boils}, {'and all of it is renewed' if renewed else 'so it may stay'}."
    )
    drive = "Please leave the vehicle with us until that is done; then brake gently for the first days."
    return " ".join(filter(None, (found, means, measured, rotor, fluid, parts, drive)))
