"""Keep the fluid or renew it: one rule over what the tests find, and the reason in words. Pure functions.

The rule: fluid stays only if its boiling point is proven, by the guard band, to lie above the wet limit of
the maker's grade and above the hottest fluid of the vehicle's day. A fluid that stays apart from water, or
swollen rubber, means a fluid that does not belong. Common practice, no source; the maker's interval for
renewing comes on top.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_faults import OldFluid, VehicleFault, WrongFluid
from brakecourse.trade.conformity import Decision, decide
from brakecourse.views.fluid_samples import Sample, draw_sample, fact_vehicle, water_tester
from brakecourse.views.quiz import Task
from brakecourse.views.units import both
from brakecourse.views.words import number

OLD, CLOSE, KIND = "old fluid", "close to a limit", "a wrong fluid"
TOPICS = (OLD, CLOSE, KIND)
KEEP = "keep it, and write the readings down"
RENEW = "renew all of it"
STOP = "do not drive it: find out which fluid is in"
CHOICES = (KEEP, RENEW, STOP)

SWOLLEN_SHARE = 0.15
"""From here on the rubber is seen to be swollen. Assumption, no source."""
_CLOSE_GUARDS = 2.5  # a case is close when it lies within so many guard bands
_KEEP_SHARE = 0.4  # how often there is no fault, so that keeping it is a real answer
_TRIES = 600


@dataclass(frozen=True)
class Verdict:
    """What to do, and why.

    Attributes:
        action: one of ``CHOICES``.
        why: the reason, from the findings.
    """

    action: str
    why: str


def apart(sample: Sample) -> bool:
    """Return whether a drop of the fluid stays apart from water."""
    return sample.case.condition.fluid.present in ("DOT 5", "mineral oil")


def swollen(sample: Sample) -> bool:
    """Return whether the rubber of the cap is seen to be swollen."""
    return sample.case.condition.fluid.seals_swollen >= SWOLLEN_SHARE


def needed_c(sample: Sample) -> float:
    """Return what the fluid's boiling point must be proven above: the higher of the two limits."""
    return max(sample.wet_c, sample.hottest_c)


def decision(sample: Sample) -> Decision:
    """Return what the boiling-point reading proves about the higher limit."""
    return decide(sample.boiling_c, needed_c(sample), "minimum", sample.boiling_u_c)


def whole_guard_c(sample: Sample) -> int:
    """Return from how many degrees on a reading decides: the tester shows whole degrees."""
    return math.ceil(sample.guard_c)


def verdict(sample: Sample) -> Verdict:
    """Return what to do with the fluid."""
    if swollen(sample):
        return Verdict(
            STOP,
            "The rubber of the cap is swollen and the fluid stays apart from water: that is the work of "
            "mineral oil. Every seal and hose may have to be renewed; the maker says which.",
        )
    if apart(sample):
        return Verdict(
            STOP,
            "The fluid stays apart from water, so it is silicone-based or an oil, and this system is made "
            f"for glycol-based fluid. A drop of water in it boils at {both(100, '°C')}.",
        )
    found = decision(sample)
    which = limit_words(sample)
    sums = (
        f"It boils at {both(sample.boiling_c, '°C')}; the higher limit is {which}. It is "
        f"{both(abs(found.margin), '°C rise')} {'above' if found.margin >= 0 else 'below'}; a "
        f"reading decides from {both(whole_guard_c(sample), '°C rise')} on."
    )
    return {
        "within": Verdict(KEEP, f"{sums} Both limits are proven to be kept. Test again at the next visit."),
        "outside": Verdict(RENEW, f"{sums} It is too low."),
        "too close to call": Verdict(
            RENEW, f"{sums} That is too close to call. Not proven is not good enough: fluid is cheap."
        ),
    }[found.verdict]


def limit_words(sample: Sample) -> str:
    """Name the higher of the two limits."""
    if sample.hottest_c > sample.wet_c:
        return f"the hottest fluid, {both(sample.hottest_c, '°C')}"
    return f"the wet limit of {sample.grade}, {both(sample.wet_c, '°C')}"


def reasons(sample: Sample) -> dict[str, str]:
    """Return for each choice why it is right or wrong here."""
    told = verdict(sample)
    wrong = {
        (STOP, KEEP): f"That is dangerous. {told.why}",
        (STOP, RENEW): f"New fluid alone does not undo it, and nobody knows what is in the lines. {told.why}",
        (RENEW, KEEP): f"The fluid is not proven good. {told.why}",
        (
            RENEW,
            STOP,
        ): f"It mixes with water and the rubber is sound: nothing says that it is no glycol-based "
        f"fluid. {told.why}",
        (KEEP, RENEW): f"Nothing found here asks for that. {told.why}",
        (KEEP, STOP): f"It mixes with water and the rubber is sound. {told.why}",
    }
    return {one: told.why if one == told.action else wrong[told.action, one] for one in CHOICES}


def evidence(sample: Sample) -> tuple[tuple[str, str], ...]:
    """Return what the tests find, as a table."""
    return (
        ("Test", "What it finds"),
        fact_vehicle(sample.vehicle),
        ("The maker's grade, glycol-based", sample.grade),
        ("Its wet limit", both(sample.wet_c, "°C")),
        ("Hottest fluid on the long hill", both(sample.hottest_c, "°C")),
        ("Water tester", _water(sample)),
        ("A boiling-point reading decides from", f"{both(whole_guard_c(sample), '°C rise')} above a limit"),
        ("A drop of the fluid in water", "stays apart" if apart(sample) else "mixes"),
        ("Rubber of the reservoir's cap", "swollen and soft" if swollen(sample) else "sound"),
    )


def renew_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return a vehicle whose fluid was tested.

    Args:
        topic: one of :data:`TOPICS`.
        difficulty: of the bench.
        draw: chance.
    """
    sample = draw_tested(topic, difficulty, draw)
    question = (
        f"The fluid of the {sample.vehicle.name} ({sample.vehicle.fleet_number}) has been tested. The "
        "picture shows its boiling point. What do you do?"
    )
    told = reasons(sample)
    return Task(topic, question, CHOICES, verdict(sample).action, told, evidence(sample), sample)


def draw_tested(topic: str, difficulty: Difficulty, draw: Draw) -> Sample:
    """Return a tested fluid that fits a topic."""
    kinds: tuple[type[VehicleFault], ...] = (WrongFluid,) if topic == KIND else (OldFluid,)
    sound = topic != CLOSE and draw.child("sound").uniform() < _KEEP_SHARE
    for number_ in range(_TRIES):
        one = draw.child(f"vehicle {number_}")
        found = draw_sample(one, "normal" if topic == CLOSE else difficulty, 0 if sound else 1, kinds)
        if topic == CLOSE and abs(decision(found).margin) > _CLOSE_GUARDS * found.guard_c:
            continue
        return found
    raise AssertionError("unreachable")


def _water(sample: Sample) -> str:
    if sample.water_percent >= water_tester().scale.end:
        return f"at the end of its scale, {number(water_tester().scale.end, 1)} % or more"
    return f"{number(sample.water_percent, 1)} %, give or take {number(water_tester().error_limit, 1)} %"
