"""What every check of a vehicle rests on: what it may see, and how a person's senses and gauges err."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from brakecourse.bench.condition import VehicleCondition, live
from brakecourse.bench.draw import Draw
from brakecourse.bench.roots import sound_roots
from brakecourse.bench.shop_gauge_base import ShopGauge
from brakecourse.bench.specification import WHEELS, AxleBrake, axle_of
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.leaks import Check, Finding

# How often a person overlooks what is there to see or hear, and believes to see what is not. Assumptions,
# no source.
OVERLOOKED, IMAGINED = 0.06, 0.015


@dataclass(frozen=True)
class Seen:
    """What a check may look at: the vehicle, and what is true of it. Never what caused it.

    Attributes:
        vehicle: which one, with the maker's limits.
        condition: what is true of it.
    """

    vehicle: Vehicle
    condition: VehicleCondition

    @cached_property
    def usual(self) -> VehicleCondition:
        """What a new vehicle of this kind is like: a technician knows it from its sisters."""
        return _new(self.vehicle)

    @cached_property
    def brakes(self) -> tuple[AxleBrake, ...]:
        """The brake of each wheel, in the order of ``WHEELS``."""
        return tuple(self.vehicle.axle(axle_of(wheel)) for wheel in WHEELS)


@lru_cache(maxsize=64)
def _new(vehicle: Vehicle) -> VehicleCondition:
    return live(vehicle, sound_roots(vehicle.hydraulics.fluid_grade), 0.0)


Look = Callable[[Seen, Draw], str]


@dataclass(frozen=True)
class ShopCheck:
    """One check of the trade: its record, and what does it.

    Attributes:
        check: what a learner reads of it.
        look: from what there is to see, and chance, to the id of a finding.
    """

    check: Check
    look: Look


def shop_check(
    id: str, words: str, minutes: float, findings: Mapping[str, str], look: Look, *, cheap: bool = True
) -> ShopCheck:
    """Return a check. Its minutes: common practice, no source.

    Args:
        id: its name.
        words: what a learner reads.
        minutes: what it costs, min.
        findings: what it can show, and the learner's sentence for it; what is in order stands first.
        look: what does it.
        cheap: done without taking a caliper off, in ten minutes or less.
    """
    told = tuple(Finding(finding, sentence) for finding, sentence in findings.items())
    return ShopCheck(Check(id, words, minutes, cheap, told), look)


def judged(value: float, spread: float, draw: Draw) -> float:
    """Return what a hand, an eye or a foot makes of a size.

    Args:
        value: the true one, 0 or more.
        spread: standard deviation of its logarithm: 0.25 is a quarter, either way.
        draw: where the chance comes from.
    """
    return value * math.exp(draw.normal(0.0, spread))


def read(gauge: ShopGauge, true: float, draw: Draw) -> float:
    """Return a reading: the true value, off by the gauge's standard uncertainty, at the nearest line.

    Args:
        gauge: what it is read from.
        true: the true value; at an end of the scale the reading stays there.
        draw: where the chance comes from.
    """
    held = gauge.scale.held(true)
    return gauge.scale.nearest(held + draw.normal(0.0, gauge.standard_uncertainty_at(held)))


def noticed(there: bool, draw: Draw, overlooked: float = OVERLOOKED, imagined: float = IMAGINED) -> bool:
    """Tell whether a person sees, or hears, what is there or not.

    Args:
        there: whether it is.
        draw: where the chance comes from.
        overlooked: how often what is there is missed.
        imagined: how often what is not there is believed to be.
    """
    return draw.uniform() < (1 - overlooked if there else imagined)


def first_noticed(there: Iterable[tuple[str, bool]], draw: Draw, nothing: str) -> str:
    """Return the first thing that a person notices, or the word for nothing.

    Args:
        there: each thing, and whether it is there; what strikes most stands first.
        draw: where the chance comes from; each thing takes its own, whatever is there.
        nothing: what is told when nothing is noticed.
    """
    seen = [name for name, is_there in there if noticed(is_there, draw)]
    return seen[0] if seen else nothing


def band(value: float, limits: Sequence[float], names: Sequence[str]) -> str:
    """Return the name of the band that a value falls into; on a limit, the upper one's.

    Args:
        value: what was judged or read.
        limits: where bands meet, from low to high.
        names: one more than limits.

    >>> band(1.2, (1.1, 1.3), ("usual", "longer", "much longer"))
    'longer'
    """
    return names[sum(value >= limit for limit in limits)]
