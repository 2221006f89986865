"""A wheel's two pads as a learner sees them: pictures, readings in a table, what hands and eyes find."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from brakecourse.bench.condition import WheelCondition
from brakecourse.bench.pad_cases import CORNERS, PadCase
from brakecourse.views.drawings import pad_measured_svg, pads_at_rotor_svg
from brakecourse.views.drawings._pad_shape import DrawnPad
from brakecourse.views.drawings._pad_words import face_words
from brakecourse.views.units import both
from brakecourse.views.words import mm

Which = Literal["inner pad", "outer pad"]
WHICH: tuple[Which, ...] = ("inner pad", "outer pad")

# A pad that has lost this share of its friction to glaze shows hair cracks, too. Assumption, no source.
CRACKED_FROM = 0.3
_NOT_NOTED = "not noted yet"


def drawn_pad(case: PadCase, which: Which) -> DrawnPad:
    """Return one pad of a case, as the drawings need it."""
    pad, pads, rotor = case.brake.pad, case.condition.pads, case.condition.rotor
    inner = which == "inner pad"
    looks: tuple[str, ...] = pads.inner_surface if inner else pads.outer_surface
    if "glazed" in looks and pads.friction < (1 - CRACKED_FROM) * pad.friction:
        looks = (*looks, "cracked")
    groove_mm = rotor.rotor.groove_depth_mm if "grooved" in rotor.looks else 0.0
    return DrawnPad(
        pads.inner if inner else pads.outer,
        length_mm=pad.length_mm,
        height_mm=pad.height_mm,
        new_mm=pad.lining_new_mm,
        plate_mm=case.gauge.plate_mm,
        looks=(*looks, "grooved") if groove_mm else looks,
        groove_mm=groove_mm,
    )


def faces_words(case: PadCase) -> str:
    """Say how both faces look, in one sentence."""
    inner, outer = (face_words(drawn_pad(case, which)) for which in WHICH)
    if inner == outer:
        return f"Each pad's face {inner}."
    return f"The inner pad's face {inner}; the outer pad's face {outer}."


def wheel_picture(case: PadCase, uid: str) -> str:
    """Draw both pads beside their rotor."""
    fit = case.condition.rotor
    return pads_at_rotor_svg(
        drawn_pad(case, "inner pad"),
        drawn_pad(case, "outer pad"),
        rotor_mm=fit.smallest_mm,
        ridge_mm=fit.ridge_mm,
        uid=uid,
        title=f"Both pads of the {case.vehicle.name}, {case.wheel} wheel",
    )


def gauge_picture(case: PadCase, which: Which, seen_from: str, corner: int, uid: str) -> str:
    """Draw one pad with the depth gauge at a corner."""
    end, edge = (words.split()[0] for words in CORNERS[corner].split(", "))
    shown = (case.inner_mm if which == "inner pad" else case.outer_mm)[corner]
    return pad_measured_svg(
        drawn_pad(case, which),
        seen_from,
        end,
        edge,
        max(0.0, shown),
        which=which,
        uid=uid,
        title=f"The {which} of the {case.vehicle.name}, {case.wheel} wheel",
    )


def wheel_words(case: PadCase) -> str:
    """Say which pads these are."""
    return (
        f"These pads come from the {case.vehicle.name}, {case.vehicle.fleet_number}, {case.wheel} wheel. "
        f"They have gone {both(case.km, 'km')}."
    )


def readings_table(
    case: PadCase, noted: Mapping[tuple[Which, int], float] | None = None
) -> list[tuple[str, ...]]:
    """Return the corners' readings beside the limits, as rows to show, the heads first.

    Args:
        case: the pads.
        noted: only these readings are shown; all when None.
    """
    rows: list[tuple[str, ...]] = [("Lining, without the plate", "Inner pad", "Outer pad")]
    for place, corner in enumerate(CORNERS):
        cells = []
        for which, pad in zip(WHICH, (case.inner, case.outer), strict=True):
            shown = noted is None or (which, place) in noted
            cells.append(mm(pad.corners_mm[place], 1) if shown else _NOT_NOTED)
        rows.append((corner[0].upper() + corner[1:], *cells))
    if noted is None:
        rows.append(("Step at the outer edge", mm(case.inner.step_mm, 1), mm(case.outer.step_mm, 1)))
    return rows


def limits_table(case: PadCase) -> list[tuple[str, ...]]:
    """Return the limits of a pair of pads, as rows to show, the heads first."""
    limits = case.limits
    return [
        ("Limit (invented)", "Value"),
        ("Least lining", mm(limits.minimum_mm, 1)),
        ("Largest taper", mm(limits.max_taper_mm, 1)),
        ("Largest difference, inner to outer pad", mm(limits.max_pair_difference_mm, 1)),
        ("Largest step", mm(limits.max_step_mm, 1)),
    ]


def sheet_table(case: PadCase) -> tuple[tuple[str, ...], ...]:
    """Return readings and limits in one table, as rows to show, the heads first."""
    limits = [(f"Limit: {name[0].lower()}{name[1:]}", value, value) for name, value in limits_table(case)[1:]]
    return (*readings_table(case), *limits)


def hands_table(case: PadCase) -> tuple[tuple[str, ...], ...]:
    """Return what hands and eyes find at the wheel, beside the axle's other wheel; the heads first."""
    here, other = case.condition, case.other
    rows: list[tuple[str, ...]] = [
        ("What was found", f"This wheel ({here.wheel})", f"Other wheel ({other.wheel})")
    ]

    def pair(values: tuple[float, float] | None) -> str:
        if values is None:
            return "has none: fixed caliper"
        return " and ".join(newtons(one) for one in values)

    one, two = here.caliper, other.caliper
    rows += [
        ("Force that slides each pin, leading and trailing", pair(one.pin_slide_n), pair(two.pin_slide_n)),
        (
            "Force that moves the outer pad in its clips, leading and trailing end",
            pair(one.pad_grip_n),
            pair(two.pad_grip_n),
        ),
        (
            "Force that pushes the pistons back",
            newtons(one.piston_push_back_n),
            newtons(two.piston_push_back_n),
        ),
        (
            f"{'Caliper' if one.pin_slide_n is None else 'Bracket'}'s bolts, looser one",
            bolts(here),
            bolts(other),
        ),
        ("Where brake fluid has leaked", _places(here.wet_places), _places(other.wet_places)),
        ("What the rotor shows", ", ".join(here.rotor.looks), ", ".join(other.rotor.looks)),
    ]
    return tuple(rows)


def bolts(wheel: WheelCondition) -> str:
    """Return the torque found at the looser bracket bolt of a wheel, in words."""
    return both(5 * round(min(wheel.bracket_bolts.torques_nm) / 5), "N·m")


def newtons(force_n: float) -> str:
    """Write a force as a hand's spring gauge tells it: to 5 N.

    >>> newtons(23.4).replace(chr(160), " ")
    '25 N (5.6 lbf)'
    """
    return both(5 * round(force_n / 5), "N")


def _places(places: tuple[str, ...]) -> str:
    return ", ".join(places) if places else "nowhere"
