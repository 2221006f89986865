"""What the bleeder must be at each moment, and why: common practice, no source.

The maker's procedure for the vehicle comes first, and so does local law.
"""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.situations import Difficulty

BEFORE, DURING, AFTER = "before you push", "while you push", "when it is home"
TOPICS = (BEFORE, DURING, AFTER)
OPEN, SHUT, BARE = "open, with its hose in the bottle", "shut", "open, with nothing on it"
CHOICES = (OPEN, SHUT, BARE)

_BARE_WET = "Nothing on it lets fluid run over caliper and floor. It harms eyes, skin and paint."
_BARE_AIR = "Nothing on it lets air in as soon as the fluid stands still."


@dataclass(frozen=True)
class Moment:
    """One moment of the work.

    Attributes:
        topic: one of :data:`TOPICS`.
        seen: what is going on, a sentence or two that do not judge.
        share: how far the piston has gone back, 0 to 1.
        press: the press stands.
        right: the right one of :data:`CHOICES`.
        why: why that is right, a sentence.
        wrong: for each other choice, why it is not.
        levels: the difficulties that bring it.
        hose: the clear hose is on the bleeder.
        new_pads: new pads are in.
        full: the bottle is nearly full.
    """

    topic: str
    seen: str
    share: float
    press: bool
    right: str
    why: str
    wrong: tuple[tuple[str, str], ...]
    levels: tuple[Difficulty, ...] = ("easy", "normal", "hard")
    hose: bool = True
    new_pads: bool = False
    full: bool = False


MOMENTS: tuple[Moment, ...] = (
    Moment(
        BEFORE,
        "The dust is wetted and wiped off. You take the clear hose to push it onto the bleeder.",
        0.0,
        False,
        SHUT,
        "Fit the hose first, and put its end under the fluid in the bottle. Open the bleeder only then.",
        (
            (
                OPEN,
                "The hose is not in the bottle yet: fluid would run out of its end, and air would get in.",
            ),
            (BARE, _BARE_WET),
        ),
        ("normal", "hard"),
        hose=False,
    ),
    Moment(
        BEFORE,
        "The hose is on, its end under the fluid in the bottle. The press stands. You take its handle.",
        0.0,
        True,
        OPEN,
        "Open it before the first turn, so that the old fluid has a short way out.",
        (
            (SHUT, "Shut, the first turn already sends old fluid and dirt back into the ABS unit."),
            (BARE, _BARE_WET),
        ),
    ),
    Moment(
        BEFORE,
        "The wheel is off. You look for wet places. Nothing has been wiped off yet.",
        0.0,
        False,
        SHUT,
        "Look first, then clean round the bleeder. Dirt round an open bleeder would get into the fluid.",
        (
            (OPEN, "Dirt round the bleeder would get into the fluid. Clean first, then open."),
            (BARE, "It would wet the place that you are looking at, and let dirt and air in."),
        ),
        ("normal", "hard"),
        hose=False,
    ),
    Moment(
        DURING,
        "The piston is on its way. Old fluid comes through the clear hose.",
        0.45,
        True,
        OPEN,
        "It stays open as long as the piston moves. All that comes out is the oldest fluid.",
        (
            (SHUT, "Shut half-way, the rest of the old fluid is pushed back into the ABS unit."),
            (BARE, _BARE_WET),
        ),
    ),
    Moment(
        DURING,
        "The bottle is nearly full. You must stop half-way and empty it. The press holds the piston.",
        0.55,
        True,
        SHUT,
        "Shut it before you take the hose out. The press holds, so nothing moves meanwhile.",
        (
            (OPEN, "When the hose leaves the fluid, it sucks air back as it drains. Shut the bleeder first."),
            (BARE, _BARE_AIR),
        ),
        ("normal", "hard"),
        full=True,
    ),
    Moment(
        DURING,
        "Half-way, the clear hose slips off the bleeder. You stop; the press holds the piston.",
        0.5,
        True,
        SHUT,
        "Shut it at once, wash the fluid off with water, fit the hose again, and only then go on.",
        (
            (OPEN, "The hose is off: it cannot be open with its hose in the bottle. Shut it first."),
            (BARE, _BARE_WET),
        ),
        ("hard",),
        hose=False,
    ),
    Moment(
        DURING,
        "The press turns hard and the piston hardly moves. The bleeder's hose is clear, nothing blocks it.",
        0.12,
        True,
        OPEN,
        "Leave it open, stop, and find out why the piston sticks. Force would only bend or tear something.",
        (
            (
                SHUT,
                "Shut, the press would push against the whole system. The cause is the piston in its bore.",
            ),
            (BARE, "That does not help a piston that sticks, and fluid runs over the floor."),
        ),
        ("normal", "hard"),
    ),
    Moment(
        AFTER,
        "The piston is home. The press still holds it.",
        1.0,
        True,
        SHUT,
        "Now is the moment: while the press holds, nothing can move, and no air comes in.",
        (
            (OPEN, "If the press goes first, the seal springs the piston out a little and draws air in."),
            (BARE, _BARE_AIR),
        ),
    ),
    Moment(
        AFTER,
        "The bleeder was shut and the press taken off. You pull the clear hose off and fit the dust cap.",
        1.0,
        False,
        SHUT,
        "It stays shut from now on. Wipe it dry: a wet bleeder later tells that it leaks.",
        (
            (OPEN, "Open without the press, fluid runs out and air comes in behind it."),
            (BARE, _BARE_AIR),
        ),
        hose=False,
    ),
    Moment(
        AFTER,
        "New pads are in and the caliper is bolted on. Somebody is about to pump the pedal.",
        1.0,
        False,
        SHUT,
        "A stroke with the bleeder open lets fluid out and air in, and the pedal never gets firm.",
        (
            (OPEN, "The stroke would go into the bottle, and the piston would not come out to the pads."),
            (BARE, "The stroke would spray fluid. It harms eyes, skin and paint."),
        ),
        ("normal", "hard"),
        hose=False,
        new_pads=True,
    ),
    Moment(
        AFTER,
        "The piston is home and the press holds it. The fluid in the clear hose shows bubbles.",
        1.0,
        True,
        SHUT,
        "Shut it while the press holds. The bubbles tell of air: bleed this caliper later.",
        (
            (
                OPEN,
                "Waiting lets no bubbles out; taking the press off would draw more air in. Shut it first.",
            ),
            (BARE, _BARE_AIR),
        ),
        ("hard",),
    ),
)
"""Every moment that the practice asks about."""
