"""13.13 to 13.15: the torques, the order, and the heat of the bedding-in."""

from __future__ import annotations

from brakecourse.bench.reference import SPECIFIC_HEAT_J_KGK
from brakecourse.marking import basis, slips
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m13_whole_job import steps
from brakecourse.marking.papers.m13_whole_job.truth import Bedding, JobTruth
from brakecourse.marking.sealed import SealedMistake
from brakecourse.published import convert
from brakecourse.trade import fasteners
from brakecourse.trade.burnish import rotor_share, stop_energy_j, temperature_rise_c
from brakecourse.trade.conformity import combine, expanded, rectangular
from brakecourse.views.units import both
from brakecourse.views.words import number

LESSON_FACTOR = 1.356
"""Newton metres of a pound-foot as the lesson on torque rounds them."""

HALF_PLACE = 0.05
"""Both tables are asked to one decimal place, so rounding moves an answer by up to half of that."""

LOW_MPH, HIGH_MPH = 20.0, 40.0
SPEED_ROUNDING_MS = 0.005
"""A speed in m/s is printed to two places."""

ENERGY_ROUNDING_KJ = 0.5
"""An energy may be written down in between to 1 kJ."""


def torques(truth: JobTruth, _given: Given) -> Basis:
    """13.13: wheel nuts and bolts in N·m, and what to set with the extension."""
    one = truth.torques
    nut, bolt = (convert(value, "lbf*ft", "N*m") for value in (one.nut_lbfft, one.bolt_lbfft))
    lever = one.wrench_mm + one.extension_mm
    right = (nut, bolt, fasteners.wrench_setting_nm(bolt, one.wrench_mm, one.extension_mm))
    share, other = one.wrench_mm / lever, one.wrench_mm / (one.wrench_mm - one.extension_mm)
    factor = LESSON_FACTOR / convert(1, "lbf*ft", "N*m") - 1
    near = (
        _near(nut * factor),
        _near(bolt * factor),
        _near(right[2] * factor, HALF_PLACE * share),  # the bolt's torque rounded once on the way
    )
    named = (
        _units(one.nut_lbfft, 1.0),
        _units(one.bolt_lbfft, 1.0),
        (
            ("extension_ignored", bolt),
            ("extension_inverted", bolt / share),
            ("extension_other_way", bolt * other),
            ("extension_for_lever", bolt * one.extension_mm / lever),
            *_units(one.bolt_lbfft, share),
        ),
    )
    found = [
        _at(place, name, value, max(HALF_PLACE, near[place - 1] * abs(value) / right[place - 1]))
        for place, pairs in enumerate(named, start=1)
        for name, value in pairs
    ]
    return basis.table(
        right,
        near,
        found,
        how=f"Wheel nuts: {number(one.nut_lbfft, 0)} lbf·ft × {LESSON_FACTOR} = {number(nut, 1)} N·m. The "
        f"{one.bolt}s: {number(one.bolt_lbfft, 0)} lbf·ft × {LESSON_FACTOR} = {number(bolt, 1)} N·m. The "
        f"whole lever is {one.wrench_mm:g} + {one.extension_mm:g} = {lever:g} mm. {number(bolt, 1)} × "
        f"{one.wrench_mm:g} ÷ {lever:g} = {number(right[2], 1)} N·m.",
        places=1,
    )


def _units(lbfft: float, share: float) -> tuple[tuple[str, float], ...]:
    """Return what mistakes with the units make of a torque."""
    right = convert(lbfft, "lbf*ft", "N*m")
    return (
        ("torque_not_converted", lbfft * share),
        ("torque_unit_wrong_way", convert(lbfft, "N*m", "lbf*ft") * share),
        ("lbfin_for_lbfft", convert(lbfft, "lbf*in", "N*m") * share),
        ("ten_times", 10 * right * share),
        ("ten_times", right * share / 10),
    )


def _near(*bounds: float) -> float:
    """Return the expanded uncertainty (k = 2) of everything that was rounded on the way.

    Source:
        JCGM 100:2008 (GUM), 4.3.7 for a rounded value and 5.1.2 for independent ones.
    """
    return expanded(combine(*(rectangular(abs(bound)) for bound in (HALF_PLACE, *bounds))))


def energies_j(plan: Bedding) -> tuple[float, float]:
    """Return the energy of a stop from 20 mph and of a slowdown from 40 to 20 mph, J."""
    low, high = (convert(mph, "mph", "km/h") for mph in (LOW_MPH, HIGH_MPH))
    return stop_energy_j(plan.mass_kg, low), stop_energy_j(plan.mass_kg, high, low)


def rise_c(plan: Bedding, energy_j: float, share: float | None = None) -> float:
    """Return how much warmer a front rotor gets.

    Args:
        plan: the numbers of the vehicle.
        energy_j: of the braking.
        share: which part of it goes into the rotor; left out: half of the front axle's.
    """
    part = rotor_share(plan.front_percent / 100) if share is None else share
    return temperature_rise_c(energy_j * part, plan.rotor_kg, SPECIFIC_HEAT_J_KGK)


def bedding(truth: JobTruth, _given: Given) -> Basis:
    """13.15: a stop's rise, a slowdown's rise, the rotor after the last slowdown, and after the drive."""
    plan = truth.bedding
    stop, slow = energies_j(plan)
    rises = rise_c(plan, stop), rise_c(plan, slow)
    hot, left = plan.start_c + rises[1], 0.5**plan.half_times
    end = plan.air_c + (hot - plan.air_c) * left
    low_ms, high_ms = (convert(mph, "mph", "m/s") for mph in (LOW_MPH, HIGH_MPH))
    off = rise_c(plan, 1000 * ENERGY_ROUNDING_KJ)
    # Energy goes with the squares of both speeds; a rounding of each moves it by m v dv.
    speeds = [rise_c(plan, plan.mass_kg * speed * SPEED_ROUNDING_MS) for speed in (low_ms, high_ms)]
    near = (_near(off, speeds[0]), _near(off, *speeds), _near(off, *speeds, HALF_PLACE))
    right = (*rises, hot, end)
    cooled = _near(*(bound * left for bound in (off, *speeds, HALF_PLACE)), HALF_PLACE)
    whole, axle = 1.0, plan.front_percent / 100
    fast = (low_ms / LOW_MPH) ** -2
    pairs = (
        *((1, *one) for one in _heat(plan, stop, whole, axle, fast)),
        (1, "speed_not_squared", rise_c(plan, plan.mass_kg / 2 * low_ms)),
        (2, "difference_squared", rises[0]),
        (2, "end_speed_left_out", rise_c(plan, stop + slow)),
        *((2, *one) for one in _heat(plan, slow, whole, axle, fast)),
        *((3, name, plan.start_c + value) for name, value in _heat(plan, slow, whole, axle, fast)),
        (3, "difference_squared", plan.start_c + rises[0]),
        (3, "rise_for_temperature", rises[1]),
        (4, "temperature_halved", hot * left),
        (4, "cooling_left_out", hot),
        (4, "air_left_out", (hot - plan.air_c) * left),
        (4, "half_times_miscounted", plan.air_c + (hot - plan.air_c) * (left / 2 if left == 0.5 else 0.5)),
        (4, "difference_squared", plan.air_c + (plan.start_c + rises[0] - plan.air_c) * left),
        *(
            (4, name, plan.air_c + (plan.start_c + value - plan.air_c) * left)
            for name, value in _heat(plan, slow, whole, axle, fast)
        ),
    )
    return basis.table(
        right,
        (*near, cooled),
        [_at(place, name, value, max(HALF_PLACE, near[0])) for place, name, value in pairs],
        how=f"A stop brings {both(stop / 1000, 'kJ')}, a slowdown {both(slow / 1000, 'kJ')}. One front rotor "
        f"takes {number(plan.front_percent, 0)} % ÷ 2 of it: it gets {both(rises[0], '°C rise', 1, 1)} and "
        f"{both(rises[1], '°C rise', 1, 1)} warmer. {number(plan.start_c, 0)} + {number(rises[1], 1)} = "
        f"{both(hot, '°C', 1, 1)}. {_half_times(plan)} later {number(hot - plan.air_c, 1)} × {left:g} = "
        f"{number(end - plan.air_c, 1)} °C are left above the air: {both(end, '°C', 1, 1)}.",
        places=1,
    )


def _heat(
    plan: Bedding, energy_j: float, whole: float, axle: float, fast: float
) -> tuple[tuple[str, float], ...]:
    """Return what mistakes with the heat make of a rise."""
    return (
        ("all_heat_in_one_rotor", rise_c(plan, energy_j, whole)),
        ("axle_heat_in_one_rotor", rise_c(plan, energy_j, axle)),
        ("mph_as_ms", rise_c(plan, energy_j * fast)),
    )


def _half_times(plan: Bedding) -> str:
    return "One half-time" if plan.half_times == 1 else "Two half-times"


def _at(place: int, name: str, value: float, near: float) -> SealedMistake:
    return slips.slip(name, value, near).model_copy(update={"place": place})


KEY: dict[str, Answer] = {"13.13": torques, "13.14": steps.order, "13.15": bedding}
