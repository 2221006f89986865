"""What is true of the wheel behind a case, and how it is drawn: its pads, reservoir, hose, boots and bore."""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from brakecourse.bench.draw import Draw
from brakecourse.bench.hose_cases import ALIKE, GOOD_SKINS, STICKS, HoseCase, Skin, draw_hose_case
from brakecourse.bench.level_sums import rule_of
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import Wheel, axle_of
from brakecourse.marking.papers.job_steps import listed
from brakecourse.marking.papers.m06_caliper_off.looks import LOOKS, SHARES, Look
from brakecourse.marking.papers.m06_caliper_off.moments import draw_moments
from brakecourse.marking.readings import SealedReading, seal_reading
from brakecourse.marking.sealed import Finite, Record, Truth
from brakecourse.trade.fluid import level_drop_mm, wear_volume_ml
from brakecourse.trade.job_order import sub_job
from brakecourse.trade.pads import mean_lining_mm
from brakecourse.views.drawings.caliper_hung import Held

MODULE = "06_caliper_off"
PART = "retract the piston"


LEAST_TRAVEL_MM = 6.0
"""Pads that have worn less together are not renewed yet."""

FILLED: Mapping[str, float] = {"not": 0.35, "up to MAX": 0.35, "too far": 0.3}
"""How often somebody has topped up the reservoir, and how far. Assumption, no source."""

POURED, BELOW_LID_MM = (0.4, 1.1), (3.0, 8.0)
"""By which share of what was missing below MAX; filled too far, how much is left to the lid. As above."""

CLEAR_MM = 2.0
"""After the push the level lies so far from MAX and from the lid at least: one division of the rule for its
reading, and the rest for the rounding of the volume and of the rise."""

LEAST_LEVEL_MM = 3.0
"""The fluid stands so high at least, so that there is something to read."""

_MOST_TRIES = 2000


class Pair(Record):
    """A value at this wheel, and at the axle's other wheel."""

    here: Finite
    other: Finite


class CaliperTruth(Truth):
    """The wheel behind a case.

    Attributes:
        wheel: which one.
        bore_mm, pistons: of its floating caliper.
        new_mm, least_mm: lining of a new pad, and the least that it may have.
        inner_mm, outer_mm: mean lining of the old pads.
        pad_height_mm, rotor_mm: for the drawing.
        area_mm2, min_mm, max_mm, lid_mm: surface, marks and lid of the reservoir.
        level: the rule at the reservoir's wall.
        skin: what the hose's cover looks like.
        wet_hose, wet_fitting, wet_boot: where fluid stands.
        piston_torn, pin_torn: which boot has a tear.
        drag_nm, fitting_nm, bleeder_nm: torque that turns the wheel: as found, with the fitting above the
            hose open, with the bleeder open.
        push_n: force that pushes the pistons back.
        slides_n: force that slides each of the two pins.
        moments: the moments at which the bleeder is asked for.
        steps: the steps of the part, as they are listed.
        held: how a colleague has left the caliper.
    """

    wheel: Wheel
    bore_mm: Finite
    pistons: int
    new_mm: Finite
    least_mm: Finite
    inner_mm: Finite
    outer_mm: Finite
    pad_height_mm: Finite
    rotor_mm: Finite
    area_mm2: Finite
    min_mm: Finite
    max_mm: Finite
    lid_mm: Finite
    level: SealedReading
    skin: Skin
    wet_hose: bool
    wet_fitting: bool
    wet_boot: bool
    piston_torn: bool
    pin_torn: bool
    drag_nm: Pair
    fitting_nm: Pair
    bleeder_nm: Pair
    push_n: Pair
    slides_n: tuple[Pair, Pair]
    moments: tuple[int, int, int, int, int]
    steps: tuple[str, ...]
    held: Held

    @property
    def travel_mm(self) -> float:
        """How far the pistons go back: what both pads have worn together."""
        return round(2 * self.new_mm - self.inner_mm - self.outer_mm, 1)

    @property
    def rise_mm(self) -> float:
        """How far the level rises when the pistons of both wheels go home with the bleeders shut."""
        both_ml = 2 * wear_volume_ml(self.bore_mm, self.pistons, self.travel_mm / 2)
        return level_drop_mm(both_ml, self.area_mm2)

    @property
    def push_ratio(self) -> float:
        """How many times as hard as at the other wheel the pistons go back."""
        return self.push_n.here / self.push_n.other


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> CaliperTruth:
    """Draw a wheel with a floating caliper and worn pads, of which every finding speaks plainly."""
    root = Draw(seed)
    wanted = situation or root.child("situation").weighted(SHARES)
    for again in range(_MOST_TRIES):
        here = root.child(f"wheel {again}")
        case = draw_hose_case(LOOKS[wanted].part, difficulty, here.child("case"))
        if not _fits(case, LOOKS[wanted]):
            continue
        truth = _truth(case, wanted, here)
        if _is_clear(truth):
            return truth
    raise RuntimeError(f"No wheel with {wanted!r} was found for seed {seed}; please report this.")


def _fits(case: HoseCase, look: Look) -> bool:
    caliper = case.vehicle.vehicle.axle(axle_of(case.wheel)).caliper
    good = case.skin in GOOD_SKINS
    return caliper.kind == "floating" and case.kind is look.kind and good == look.good_skin


def _is_clear(truth: CaliperTruth) -> bool:
    top_mm = truth.level.reading + truth.rise_mm
    return (
        truth.travel_mm >= LEAST_TRAVEL_MM
        and truth.level.reading >= LEAST_LEVEL_MM
        and min(abs(top_mm - truth.max_mm), abs(top_mm - truth.lid_mm)) >= CLEAR_MM
        and not ALIKE < truth.push_ratio < STICKS
    )


def _truth(case: HoseCase, wanted: str, draw: Draw) -> CaliperTruth:
    car, here, other = case.vehicle, case.there, case.partner
    brake, system, wet = car.vehicle.axle(axle_of(case.wheel)), car.vehicle.hydraulics, here.wet_places
    slides = zip(here.caliper.pin_slide_n or (), other.caliper.pin_slide_n or (), strict=True)
    one, two = (_pair(first, second, 0) for first, second in slides)
    root = draw.child("asked")
    inner, outer = (round(mean_lining_mm(pad), 1) for pad in (here.pads.inner, here.pads.outer))
    return CaliperTruth(
        situation=wanted,
        vehicle=car.vehicle.name,
        fleet_number=car.vehicle.fleet_number,
        complaint=car.complaint,
        wheel=case.wheel,
        bore_mm=brake.caliper.piston_bore_mm,
        pistons=brake.caliper.pistons,
        new_mm=brake.pad.lining_new_mm,
        least_mm=brake.pad.minimum_mm,
        inner_mm=inner,
        outer_mm=outer,
        pad_height_mm=brake.pad.height_mm,
        rotor_mm=brake.rotor.nominal_mm,
        area_mm2=system.reservoir_area_mm2,
        min_mm=system.reservoir_min_mm,
        max_mm=system.reservoir_max_mm,
        lid_mm=rule_of(car.vehicle).scale.end,
        level=_level(case, draw.child("level")),
        skin=case.skin,
        wet_hose="hose" in wet,
        wet_fitting="fitting at the caliper" in wet,
        wet_boot="caliper piston's boot" in wet,
        piston_torn=here.caliper.piston_boot_torn,
        pin_torn=here.caliper.pin_boot_torn,
        drag_nm=_pair(here.drag.torque_nm, other.drag.torque_nm, 1),
        fitting_nm=_pair(here.drag.fitting_opened_nm, other.drag.fitting_opened_nm, 1),
        bleeder_nm=_pair(here.drag.bleeder_opened_nm, other.drag.bleeder_opened_nm, 1),
        push_n=_pair(here.caliper.piston_push_back_n, other.caliper.piston_push_back_n, 0),
        slides_n=(one, two),
        moments=draw_moments(root.child("moments")),
        steps=listed(sub_job(PART).ids, root.child("list")),
        held=root.child("held").choice(get_args(Held)),
    )


def _level(case: HoseCase, draw: Draw) -> SealedReading:
    """Read the reservoir as it stands, whether or not somebody has topped it up."""
    rule, true_mm = rule_of(case.vehicle.vehicle), case.vehicle.condition.fluid.level_mm
    filled, poured = draw.child("filled").weighted(FILLED), draw.child("poured")
    if filled == "up to MAX":
        most_mm = case.vehicle.vehicle.hydraulics.reservoir_max_mm
        true_mm += poured.between(*POURED) * max(0.0, most_mm - true_mm)
    elif filled == "too far":
        true_mm = rule.scale.end - poured.between(*BELOW_LID_MM)
    return seal_reading(rule, rule.indicate_clear(max(0.0, true_mm), draw.child("rule")))


def _pair(here: float, other: float, places: int) -> Pair:
    return Pair(here=round(here, places), other=round(other, places))
