"""May a used bolt go back? What the maker's sheet says, and what the bolt itself shows."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.quiz import Task
from brakecourse.views.torque_sums import Bolt, all_bolts
from brakecourse.views.torque_words import LONGER, NECKED, RUSTED, SOUND, nm, plain, thread

RENEW = "fit a new one of the same class"
CLEAN = "clean it and use it again"
LESS = "use it again, at a little less torque"
LOCK = "use it again, with thread-locking paste to be safe"
STRONGER = "fit a used one of the same thread from the box"

_SPOILT = {
    NECKED: "A bolt that has got thinner was stretched for good: it may break at any time.",
    RUSTED: "Torn threads and deep rust change the friction, so that no torque tells the pull.",
    LONGER: "A bolt that has got longer was pulled beyond its proof load: it will not clamp as before.",
}


def reuse_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return the question whether a bolt may go back.

    Args:
        topic: the quiz's topic.
        difficulty: easy bolts are told by the sheet alone; hard ones may be allowed and spoilt.
        draw: chance.
    """
    once = draw.child("once").uniform() < 0.4
    pool = [one for one in all_bolts() if one.where and one.fastener.reusable != once]
    bolt = draw.child("bolt").choice(pool)
    spoilt_share = {"easy": 0.0, "normal": 0.35, "hard": 0.6}[difficulty]
    state = SOUND
    if not once and draw.child("state").uniform() < spoilt_share:
        state = draw.child("which").choice(tuple(_SPOILT))
    right = CLEAN if not once and state == SOUND else RENEW
    why = _why(bolt, state)
    reasons = {
        RENEW: why if right == RENEW else f"It need not be renewed. {why}",
        CLEAN: why if right == CLEAN else f"It must not go back. {why}",
        LESS: f"A torque of your own clamps too little, and nobody can say how little. {why}",
        LOCK: (
            f"Paste cures no tired bolt, and it changes the friction. {why}"
            if right == RENEW
            else f"Paste that the maker does not ask for changes the friction. {why}"
        ),
    }
    if difficulty == "hard":
        reasons[STRONGER] = "Nobody knows what a bolt from the box has been through, nor its class. " + why
    evidence = [
        ("What", "Value"),
        ("Bolt", f"{bolt.name}, {thread(bolt.fastener)}, class {bolt.fastener.property_class}"),
        ("Torque of the sheet", nm(bolt.fastener.torque_nm)),
        ("The sheet says", "use once, then renew" if once else "may be used again"),
    ]
    if difficulty != "easy":
        evidence.append(("The bolt itself", state))
    if difficulty == "normal":
        evidence.append(("Share of the proof load", plain(100 * bolt.fastener.proof_share)))
    question = f"A {bolt.name} of the {bolt.vehicle.name} lies on the bench. What do you do with it?"
    choices = tuple(draw.child("choices").shuffled(list(reasons)))
    return Task(topic, question, choices, right, reasons, tuple(evidence), bolt)


def _why(bolt: Bolt, state: str) -> str:
    share = plain(100 * bolt.fastener.proof_share)
    if not bolt.fastener.reusable:
        return (
            f"The sheet says: use once. Its torque takes it to {share} of its proof load, close to its end."
        )
    if state != SOUND:
        return f"The sheet allows it, but not a spoilt one. {_SPOILT[state]}"
    return (
        f"The sheet allows it, the bolt is sound, and its torque takes it to only {share} of its proof load."
    )
