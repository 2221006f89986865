"""The checks of a whole vehicle: what a technician can look at, feel, try and measure, and what each shows.

Every check reads what is true of the vehicle through a gauge or through a person's senses, which err. None
looks at what was done to the vehicle. A check of several wheels reports the worst one. These checks train
the eye; on a real vehicle the maker's procedure and the local law come first.
"""

from __future__ import annotations

from collections.abc import Iterable

from brakecourse.bench._inspection_base import Look, Seen
from brakecourse.bench._inspection_drive import DRIVE
from brakecourse.bench._inspection_fluid import FLUID
from brakecourse.bench._inspection_gauges import APART, GAUGED
from brakecourse.bench._inspection_pads import PADS
from brakecourse.bench._inspection_wheels import WHEELS_OFF
from brakecourse.bench.draw import Draw
from brakecourse.bench.vehicle_cases import VehicleCase
from brakecourse.trade.leaks import Check

__all__ = ["CHEAP_CHECKS", "CHECKS", "inspect", "perform"]

_ALL = (*DRIVE, *FLUID, *WHEELS_OFF, *PADS, *GAUGED, *APART)

CHECKS: tuple[Check, ...] = tuple(one.check for one in _ALL)
"""Every check, in the order of the job: on the road, at the pedal, the fluid, wheels off, calipers off."""

CHEAP_CHECKS: tuple[str, ...] = tuple(check.id for check in CHECKS if check.cheap)
"""Ids of the checks that take no caliper off, and ten minutes or less."""

_LOOKS: dict[str, Look] = {one.check.id: one.look for one in _ALL}


def perform(check_id: str, case: VehicleCase, draw: Draw) -> str:
    """Do one check and return the id of what it shows.

    Args:
        check_id: id of one of ``CHECKS``.
        case: the vehicle. Only what is true of it is looked at, never its faults.
        draw: where the chance of hand, eye and gauge comes from; the same one gives the same finding.

    Raises:
        ValueError: there is no such check, or an argument is another thing.

    Source:
        Which checks there are, what they cost and how surely a person judges: common practice, no source,
        and assumptions, no source.

    >>> from brakecourse.bench.vehicle_cases import draw_vehicle
    >>> from brakecourse.bench.vehicle_faults import InternalBypass
    >>> case = draw_vehicle(3, kinds=(InternalBypass,))
    >>> perform("pedal_hold", case, Draw(1)), perform("wet_wheels", case, Draw(1))
    ('creeps', 'dry')
    """
    return _look(check_id)(_seen(case), _draw(draw))


def inspect(case: VehicleCase, draw: Draw, checks: Iterable[str] | None = None) -> dict[str, str]:
    """Do several checks and return what each shows, by its id.

    Each check takes a child of ``draw`` of its own, so what one shows does not hang on which others are done.

    Args:
        case: the vehicle.
        draw: where the chance comes from.
        checks: ids of the checks; all when left out.

    Raises:
        ValueError: there is no such check, or an argument is another thing.

    >>> from brakecourse.bench.vehicle_cases import draw_vehicle
    >>> inspect(draw_vehicle(3, faults=0), Draw(1), ["spin", "boots"])
    {'spin': 'free', 'boots': 'sound'}
    """
    ids = tuple(_LOOKS) if checks is None else tuple(checks)
    looks = [(id, _look(id)) for id in ids]
    seen, source = _seen(case), _draw(draw)
    return {id: look(seen, source.child(id)) for id, look in looks}


def _look(check_id: str) -> Look:
    if not isinstance(check_id, str) or check_id not in _LOOKS:
        raise ValueError(f"check must be one of {', '.join(_LOOKS)}, but it was {check_id!r}.")
    return _LOOKS[check_id]


def _seen(case: VehicleCase) -> Seen:
    if not isinstance(case, VehicleCase):
        raise ValueError(f"case must be a VehicleCase of the bench, but it was {case!r}.")
    return Seen(case.vehicle, case.condition)


def _draw(draw: Draw) -> Draw:
    if not isinstance(draw, Draw):
        raise ValueError(f"draw must be a Draw of the bench, but it was {draw!r}.")
    return draw
