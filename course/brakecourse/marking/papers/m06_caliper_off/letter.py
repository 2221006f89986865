"""What a simulated student notes for the colleague. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m06_caliper_off.truth import CaliperTruth
from brakecourse.views.drawings.caliper_hung import Held

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes everything, or at least how the caliper hangs."""

_HANGS: dict[Held, str] = {
    "hook": "The caliper hangs from a hook, and its hose is in an easy bend, not twisted. It may stay so.",
    "strap": "The caliper hangs from a strap, and its hose is in an easy bend, not twisted. It may stay so.",
    "hose": "The caliper hangs on its hose alone. Put it on a hook at once: the hose's tube can tear inside.",
    "arm": "The caliper only lies on the arm. Put it on a hook: one knock, and it falls into its hose.",
    "twisted": "The stripe winds round the hose. Turn the caliper back, so that its hose is not twisted.",
    "taut": "The hook is too far away: the hose is taut. Hang the caliper nearer, its hose in an easy bend.",
}
_HOSE = {
    "keep": "The hose may stay: it is dry, no cords show, and it lets the pressure go.",
    "cords": "The hose must be renewed, for its cords show.",
    "lump": "The hose must be renewed, for it has a lump.",
    "wet": "The hose must be renewed, for it is wet.",
    "collapsed": "The hose must be renewed: the wheel comes free only when the bleeder is opened.",
}
_CALIPER = {
    "keep": "Boots, bore and fitting are in order: whole, dry, and the pistons go back easily.",
    "pin": "One pin's boot is torn: renew it, and clean and grease its pin.",
    "torn": "The caliper must be overhauled or renewed, for the piston's boot is torn.",
    "leaks": "The caliper must be overhauled or renewed, for it is wet at the piston's boot.",
    "sticks": "The caliper must be overhauled or renewed, for its pistons are too hard to push back.",
    "washers": "The banjo bolt is wet and needs new washers.",
}
_LOOK_AGAIN = "Look at hose, boots and fitting once more before anything goes back on."
_PEDAL = (
    "Nobody touches the pedal while the caliper is off, for the piston would come out. The bleeder is shut, "
    "and the old fluid goes to the collection."
)


def note(truth: CaliperTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    hangs = _HANGS[truth.held]
    if ability < SHORT_FROM:
        return hangs
    hose, caliper = given.picked("6.7"), given.picked("6.8")
    found = f"{_HOSE.get(hose, _LOOK_AGAIN)} {_CALIPER.get(caliper, _LOOK_AGAIN)}"
    if ability < FULL_FROM:
        return f"{hangs} {found}"
    return f"{hangs} {found} {_PEDAL}"
