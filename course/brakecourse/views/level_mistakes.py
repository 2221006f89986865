"""Wrong numbers that learners find for a level, an area or a volume, each with the sentence that names it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from brakecourse.bench.level_cases import LevelCase
from brakecourse.bench.level_sums import missing_ml
from brakecourse.bench.specification import AxleBrake
from brakecourse.trade.fluid import CaliperTravel, WheelWear, piston_area_mm2
from brakecourse.views.words import number

LESSON = "02_master_cylinder"

RADIUS = (
    "You took the bore as the radius. The bore is the diameter, right across: square it, then take a quarter "
    "of π."
)
SQUARE = "That is a square as wide as the bore. A circle is smaller: times π ÷ 4."
ROUND = "That is the way round the circle. The area is π ÷ 4 times the bore squared."
ONE_PAD = (
    "You counted one pad only. In a floating caliper the piston follows both: its own pad, and the other one "
    "by the sliding body."
)
ONE_PAD_ALONE = f"{ONE_PAD} And the rotor wears as well."
BOTH_IN_FIXED = (
    "You let each piston follow both pads. In a fixed caliper the pistons of each side follow their own pad."
)
BOTH_WITHOUT_ROTOR = f"{BOTH_IN_FIXED} And the rotor wears as well."
HALF = "That is half of it: how far each pad has moved. The piston follows both of them."
LEVEL_FALL = (
    "That is how far the level has sunk in the reservoir. The bore is not as wide as the reservoir: work out "
    "the piston's own way."
)
ONE_WHEEL = "That is one wheel of each axle. The reservoir feeds both wheels: count each axle twice."
FRONT_ONLY = "That is the front axle alone. The reservoir feeds the rear brakes too."
ONE_FRONT_WHEEL = "That is one front wheel alone. The reservoir feeds all four wheels."
PISTONS = "You counted one piston. This caliper has more: each of them takes fluid."
NO_ROTOR = "You left the rotor out. It has worn too, and the pistons follow that as well."
CUBIC_MM = "That is in cubic millimetres. 1000 mm³ make 1 mL: divide by 1000."
TO_BARE = "You let the lining wear to nothing. Worn out means worn to its minimum: take that off first."
NO_CLEARANCE = "You left the clearance out. The rule counts from pads that are fully drawn back."

ASIDE = (
    "You read too high. Look level with the fluid, and read its flat middle, not where it creeps up the wall."
)
FROM_MIN = "You counted from the MIN line. The rule's zero is at the floor of the reservoir."
FROM_MAX = "You counted down from MAX. First read how high the fluid stands above the floor."
LEFT_OVER = "That is the fluid that is left in the reservoir. What is missing lies above it, up to MAX."
ABOVE_MIN = "That is the fluid above the MIN line. What is missing lies above the surface, up to MAX."
ONLY_MM = "Those are the millimetres. Multiply them by the area of the surface to get a volume."
LINE_LOW = "You read the level one line too low. Look again at the flat of the fluid."
LINE_HIGH = "You read the level one line too high. Look again at the flat of the fluid."


def level_mistakes(case: LevelCase) -> dict[str, float]:
    """Return what usual slips make of a level, mm."""
    misread = case.rule.misreadings(case.indication_mm)
    system = case.vehicle.hydraulics
    named = {"parallax": ASIDE, "from_the_minimum": FROM_MIN}
    found = {sentence: misread[name] for name, sentence in named.items() if name in misread}
    return found | {FROM_MAX: system.reservoir_max_mm - case.reading_mm}


def missing_mistakes(case: LevelCase) -> dict[str, float]:
    """Return what usual slips make of the missing fluid, mL."""
    system, level = case.vehicle.hydraulics, case.reading_mm
    left = missing_ml(system, 0) - case.missing_ml
    found = {
        CUBIC_MM: 1000 * case.missing_ml,
        LEFT_OVER: left,
        ABOVE_MIN: missing_ml(system, system.reservoir_min_mm) - case.missing_ml,
        ONLY_MM: system.reservoir_max_mm - level,
    }
    return found | {LINE_LOW: missing_ml(system, level - 1), LINE_HIGH: missing_ml(system, level + 1)}


def area_mistakes(bore_mm: float) -> dict[str, float]:
    """Return what usual slips make of a piston's area, mm²."""
    area = piston_area_mm2(bore_mm)
    square = bore_mm * bore_mm
    return {RADIUS: piston_area_mm2(2 * bore_mm), SQUARE: square, ROUND: 4 * area / bore_mm}


def volume_mistakes(one: WheelWear | CaliperTravel) -> dict[str, float]:
    """Return what usual slips make of one caliper's volume, mL."""
    found = {RADIUS: replace(one, piston_bore_mm=2 * one.piston_bore_mm).volume_ml}
    if one.caliper == "floating":
        found[ONE_PAD] = _one_pad(one)
        found[ONE_PAD_ALONE] = _one_pad(replace(one, rotor_wear_mm=0.0))
        if one.pistons > 1:
            found[PISTONS] = replace(one, pistons=1).volume_ml
    else:
        found[BOTH_IN_FIXED] = replace(one, caliper="floating").volume_ml
    found[CUBIC_MM] = 1000 * one.volume_ml
    if isinstance(one, CaliperTravel):
        found[TO_BARE] = replace(one, lining_worn_mm=0.0).volume_ml
        found[NO_CLEARANCE] = replace(one, clearance_mm=0.0).volume_ml
    if one.rotor_wear_mm:
        found[NO_ROTOR] = replace(one, rotor_wear_mm=0.0).volume_ml
    return _apart(found, one.volume_ml)


def total_mistakes(axles: Sequence[WheelWear | CaliperTravel]) -> dict[str, float]:
    """Return what usual slips make of the volume of all four wheels, mL.

    Args:
        axles: one caliper of each axle, the front first; both wheels of an axle are alike.
    """
    front, rear = axles
    total = 2 * (front.volume_ml + rear.volume_ml)
    found = {ONE_WHEEL: total / 2, FRONT_ONLY: 2 * front.volume_ml, ONE_FRONT_WHEEL: front.volume_ml}
    for slip in (RADIUS, ONE_PAD, BOTH_IN_FIXED, PISTONS, TO_BARE, NO_ROTOR):
        wrong = [volume_mistakes(one).get(slip, one.volume_ml) for one in axles]
        found[slip] = 2 * sum(wrong)
    return _apart(found, total)


def travel_mistakes(brake: AxleBrake, pad_wear_mm: float, rotor_wear_mm: float) -> dict[str, float]:
    """Return what usual slips make of the way that a piston has come out, mm."""
    both = 2 * pad_wear_mm + rotor_wear_mm
    if brake.caliper.kind == "fixed":
        return {BOTH_IN_FIXED: both, BOTH_WITHOUT_ROTOR: 2 * pad_wear_mm, NO_ROTOR: pad_wear_mm}
    one = {ONE_PAD_ALONE: pad_wear_mm, ONE_PAD: pad_wear_mm + rotor_wear_mm}
    return one | {HALF: both / 2, NO_ROTOR: 2 * pad_wear_mm}


def tidy(mistakes: Mapping[str, float], expected: float, apart: float) -> dict[str, float]:
    """Leave out what lies so near the right value that nobody could tell which slip it was.

    Args:
        mistakes: the wrong value of each slip.
        expected: the right one.
        apart: how far off a wrong value must lie.
    """
    return {sentence: wrong for sentence, wrong in mistakes.items() if abs(wrong - expected) > apart}


def _one_pad(one: WheelWear | CaliperTravel) -> float:
    if isinstance(one, WheelWear):
        return replace(one, lining_wear_mm=one.lining_wear_mm / 2).volume_ml
    per_pad = one.lining_new_mm - one.lining_worn_mm + one.clearance_mm
    return WheelWear(one.piston_bore_mm, one.pistons, per_pad / 2, one.rotor_wear_mm, one.caliper).volume_ml


def _apart(mistakes: dict[str, float], expected: float) -> dict[str, float]:
    return tidy(mistakes, expected, 0.012 * expected)


def mm_words(value: float) -> str:
    """Write a length for a sum on paper: as short as it may be, without its unit."""
    return number(value, 0) if float(value).is_integer() else number(value, 1)
