"""Checks to be put in order: which come first whatever the vehicle, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

from brakecourse.bench.draw import Draw
from brakecourse.marking import basis
from brakecourse.marking.basis import Basis
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.jobs import CHECK
from brakecourse.marking.sealed import SealedRule
from brakecourse.trade.leaks import NextCheck, next_checks

ALWAYS = ("pedal_feel", "pedal_hold", "wet_wheels", "fluid_level", "wet_master")
DRIVES = ("drive_stop", "drive_pull", "drive_pulse", "drive_heat")
DEAR = ("piston_push", "pins_drawn", "pad_faces", "hub_face")
BITS_PLACES = 2

_SAID: Mapping[str, str] = {
    "pedal_feel": "Engine off: press the pedal slowly and feel it",
    "pedal_hold": "Engine running: hold the pedal down for a minute",
}


@cache
def worth() -> Mapping[str, NextCheck]:
    """Return what each check is worth while nothing is known yet."""
    return {one.check: one for one in next_checks({})}


def bits(check: str) -> float:
    """Return what a check is expected to tell while nothing is known, as printed, bit."""
    return round(worth()[check].information_bits, BITS_PLACES)


def words(check: str) -> str:
    """Return what a check is called in the list, with its minutes.

    >>> words("pedal_hold")
    'Engine running: hold the pedal down for a minute (2 min)'
    """
    return f"{_SAID.get(check, CHECK[check].words)} ({CHECK[check].minutes:g} min)"


def chosen(draw: Draw) -> tuple[str, ...]:
    """Draw the checks, in one right order."""
    feel, hold, *rest = ALWAYS
    drive, dear = draw.child("drive").choice(DRIVES), draw.child("dear").choice(DEAR)
    return feel, hold, *rest[:2], drive, rest[2], dear


def listed(checks: Sequence[str], draw: Draw) -> tuple[str, ...]:
    """Return the checks as the work order lists them: never in a right order."""
    order = draw.shuffled(checks)
    while order.index("pedal_feel") < order.index("pedal_hold") < order.index("wet_master"):
        order = draw.shuffled(checks)
    return tuple(order)


def sequence(checks: Sequence[str]) -> Basis:
    """Return the basis of the order of the checks."""
    drive, dear = (next(one for one in checks if one in some) for some in (DRIVES, DEAR))
    rules = [
        *(_drive_rule(before, drive) for before in ("pedal_hold", "pedal_feel")),
        SealedRule(
            before=words("pedal_feel"),
            after=words("pedal_hold"),
            reason="The first press is done with the engine off, so that no booster multiplies the foot.",
            mistake="engine_on_first",
        ),
        *(_worth_rule(*pair) for pair in _BY_WORTH),
        *(_apart_rule(before, "wet_master") for before in ("wet_wheels", "fluid_level")),
        *(_apart_rule(before, dear) for before in ("wet_wheels", "fluid_level", drive)),
    ]
    how = (
        "The pedal comes before the road. Engine off comes before engine on. In the bay, a check that costs "
        "less and tells more comes before one that costs more and tells less. Look before you take parts "
        "off. Every order that keeps these rules is right."
    )
    return basis.by_rules([words(one) for one in checks], rules, how=how)


_BY_WORTH = (("pedal_hold", "wet_wheels"), ("pedal_hold", "fluid_level"), ("wet_wheels", "fluid_level"))
"""Pairs of which the first costs less and tells more, nothing being known: clear, whatever the vehicle."""


def _drive_rule(before: str, drive: str) -> SealedRule:
    proof = "stayed while it was held" if before == "pedal_hold" else "proven firm"
    return SealedRule(
        before=words(before),
        after=words(drive),
        reason=f"No vehicle goes on the road before its pedal has {proof}.",
        critical=True,
        mistake="drove_before_pedal",
    )


def _worth_rule(before: str, after: str) -> SealedRule:
    first, then = CHECK[before].minutes, CHECK[after].minutes
    return SealedRule(
        before=words(before),
        after=words(after),
        reason=f"It costs {first:g} minutes and is expected to tell {bits(before):.2f} bit; the other costs "
        f"{then:g} minutes and tells {bits(after):.2f} bit.",
        mistake="dear_before_cheap",
    )


def _apart_rule(before: str, after: str) -> SealedRule:
    return SealedRule(
        before=words(before),
        after=words(after),
        reason=f"It takes nothing off and costs {CHECK[before].minutes:g} minutes; the other takes parts off "
        f"and costs {CHECK[after].minutes:g} minutes.",
        mistake="apart_before_looking",
    )
