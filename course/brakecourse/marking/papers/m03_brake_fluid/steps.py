"""The steps of renewing the fluid, and what must come before what.

Common practice, no source; the maker's procedure comes first.
"""

from __future__ import annotations

from brakecourse.marking.sealed import SealedRule

STEPS: dict[str, str] = {
    "look up": "Look up the order of the bleeders, and whether the ABS unit needs a procedure of its own",
    "draw out": "Draw the old fluid out of the reservoir with a clean syringe",
    "fill": "Fill the reservoir with fresh fluid from a sealed bottle",
    "hose": "Push the clear hose onto the first bleeder, its end under fluid in the waste bottle",
    "open": "Open the bleeder; a helper presses the pedal slowly, half the way down",
    "shut": "Shut the bleeder while the pedal is still held down",
    "top up": "Let the pedal come up, and top the reservoir up long before it is at MIN",
    "others": "Do the same at the other wheels, in the maker's order",
    "firm": "Prove the pedal firm, look for wet places, and set the level at MAX",
}
"""The steps in a right order, by short names."""

# What must come first, why, whether the wrong order can hurt someone, and the mistake that it shows.
_RULES: tuple[tuple[str, str, str, bool, str | None], ...] = (
    ("look up", "draw out", "Some ABS units are bled with a tool: the book says so.", False, None),
    (
        "draw out",
        "fill",
        "Old fluid and the dirt in it would spoil the fresh fluid.",
        False,
        "dirt_through_abs",
    ),
    (
        "fill",
        "open",
        "What stands in the reservoir goes through the ABS unit next.",
        True,
        "dirt_through_abs",
    ),
    ("look up", "hose", "The order of the bleeders differs from vehicle to vehicle.", False, None),
    ("hose", "open", "Without the hose fluid runs out over caliper, floor and skin.", True, None),
    ("open", "shut", "A bleeder that was not open lets nothing out.", False, None),
    (
        "shut",
        "top up",
        "With the bleeder open, the pedal that comes up draws air in.",
        True,
        "bleeder_open_as_pedal_rises",
    ),
    (
        "top up",
        "others",
        "An empty reservoir sends air into the ABS unit, and there it is hard to get out again.",
        True,
        "reservoir_run_empty",
    ),
    (
        "others",
        "firm",
        "Old fluid and perhaps air still stand in the lines of the other wheels.",
        True,
        "pedal_not_proved",
    ),
)

RULES = tuple(
    SealedRule(before=STEPS[before], after=STEPS[after], reason=reason, critical=critical, mistake=mistake)
    for before, after, reason, critical, mistake in _RULES
)
"""The rules, by the words of the steps. Together they leave the hose some freedom, and nothing else."""
