"""12.4 to 12.8: the energy of a braking, the heat in one rotor, cooling, and the plan."""

from __future__ import annotations

from collections.abc import Callable

from brakecourse.marking import basis, slips
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m12_pedal_and_burnish.truth import LN_2, PLACES_OF_PLAN, BurnishTruth
from brakecourse.published import convert
from brakecourse.trade.burnish import wait_for_c
from brakecourse.trade.conformity import combine
from brakecourse.views.units import both
from brakecourse.views.words import number

slip = slips.slip

WHOLE, TENTH, HUNDREDTH = 0.5, 0.05, 0.005
"""How far rounding to so many decimal places moves a value."""


def stop_energy(truth: BurnishTruth, _given: Given) -> Basis:
    """12.4: energy of one stop, kJ."""
    mass, mph = truth.heat.mass_kg, truth.low_mph
    v, kmh = convert(mph, "mph", "m/s"), convert(mph, "mph", "km/h")
    right, near = truth.stop_kj, _stop_tolerance(truth)
    return basis.number(
        right,
        near,
        (
            slip("mph_as_ms", mass / 2 * mph**2 / 1000, WHOLE),
            slip("kmh_as_ms", mass / 2 * kmh**2 / 1000, mass * kmh * TENTH / 1000 + WHOLE),
            slip("speed_not_squared", mass / 2 * v / 1000, WHOLE),
            slip("half_left_out", 2 * right, 2 * near),
            slip("joules_for_kilojoules", 1000 * right, 1000 * near),
            *slips.decimal_point(right, near),
        ),
        how=(
            f"{mph:g} mph is {number(v)} m/s. ½ × {mass:.0f} × {number(v)}² = {1000 * right:.0f} J, that is "
            f"{both(right, 'kJ')}."
        ),
        places=0,
    )


def _stop_tolerance(truth: BurnishTruth) -> float:
    """Return the tolerance of a stop's energy, kJ: the answer's rounding, and a speed with two decimals.

    Energy goes with the square of the speed, so it is off by twice the speed's own share.
    """
    v = convert(truth.low_mph, "mph", "m/s")
    return combine(WHOLE, truth.stop_kj * 2 * HUNDREDTH / v)


def ratio(truth: BurnishTruth, _given: Given) -> Basis:
    """12.5: energy of a slowdown over that of a stop."""
    low, high, right = truth.low_mph, truth.high_mph, truth.ratio
    apart = (high - low) / low
    # From 20 to 40 the two give the same; then the likelier one is told.
    squared = [slip("difference_squared", apart**2, HUNDREDTH)] if apart != 1 else []
    return basis.number(
        right,
        _ratio_tolerance(truth),
        (
            slip("speed_not_squared", apart, HUNDREDTH),
            *squared,
            slip("whole_stop", (high / low) ** 2, HUNDREDTH),
            slip("ratio_turned", 1 / right, HUNDREDTH),
        ),
        how=(
            f"Mass and unit cancel. {high:g}² − {low:g}² is {high**2 - low**2:g}, and {low:g}² is "
            f"{low**2:g}. {high**2 - low**2:g} ÷ {low**2:g} = {number(right)}."
        ),
        places=2,
    )


def _ratio_tolerance(truth: BurnishTruth) -> float:
    """Return the tolerance of the ratio: its own rounding, and two energies in whole kJ to divide."""
    stop, slowdown = truth.stop_kj, truth.stop_kj * truth.ratio
    return combine(HUNDREDTH, truth.ratio * combine(WHOLE / stop, WHOLE / slowdown))


def rise(truth: BurnishTruth, given: Given) -> Basis:
    """12.6: by how much one slowdown warms one front rotor, °C."""
    stop, times, heat = given.number("12.4"), given.number("12.5"), truth.heat
    kj, share = stop * times, heat.front_share
    right = truth.rise_c(kj)
    shared = combine(_stop_tolerance(truth) / truth.stop_kj, _ratio_tolerance(truth) / truth.ratio)
    # Whoever goes on with unrounded values is off by what rounding took from the two answers before; and the
    # energy of the slowdown may be written in whole kJ on the way.
    own = combine(TENTH, right * combine(WHOLE / kj, WHOLE / stop, HUNDREDTH / times))
    return basis.number(
        right,
        combine(own, abs(right) * shared),
        (
            slip("all_heat_in_one_rotor", truth.rise_c(kj, 1.0), 2 * own),
            slip("axle_heat_in_one_rotor", truth.rise_c(kj, share), 2 * own),
            slip("shared_evenly", truth.rise_c(kj, 0.25), own),
            slip("rotor_mass_left_out", right * heat.rotor_kg, own * heat.rotor_kg),
            slip("stop_for_slowdown", truth.rise_c(stop), own),
            slip("fahrenheit_rise", convert(right, "delta_degC", "delta_degF"), 2 * own),
            *slips.decimal_point(right, own),
        ),
        how=(
            f"One slowdown brings {number(stop, 0)} × {number(times)} = {both(kj, 'kJ')}. One front rotor "
            f"takes {number(100 * share, 0)} % ÷ 2 of it: {number(kj, 0)} × {number(share)} ÷ 2 ÷ "
            f"({number(heat.rotor_kg, 1)} × {heat.iron_kj:g}) = {both(right, '°C rise', 1)}."
        ),
        places=1,
        carried=own,
    )


def wait(truth: BurnishTruth, _given: Given) -> Basis:
    """12.7: how long to drive on before the next braking, minutes."""
    heat, shown, next_c = truth.heat, truth.hat.reading, truth.next_c
    half, air = heat.half_min, heat.air_c

    def minutes(from_c: float, air_c: float = air) -> float:
        return wait_for_c(from_c, next_c, air_c, half / LN_2)

    right = minutes(shown)
    halves = right / half
    # How many minutes one degree makes at either end: the display and the next start are whole degrees.
    degree = half / LN_2 * combine(truth.hat.division / (shown - air), WHOLE / (next_c - air))
    return basis.number(
        right,
        combine(TENTH, degree),
        (
            slip("bright_face_believed", minutes(truth.face.reading), degree),
            slip("temperature_halved", minutes(shown, 0.0), degree),
            slip("one_half_time", half, TENTH),
            slip("half_times_for_minutes", halves, TENTH),
            *slips.decimal_point(right, degree),
        ),
        how=(
            f"The dull hat counts: {both(shown, '°C')}. Its difference to the air is "
            f"{number(shown - air, 0)} °C; when the next braking begins, {number(next_c - air, 0)} °C. That "
            f"takes {number(halves, 1)} half-times of {number(half, 1)} minutes: {number(right, 1)} minutes."
        ),
        places=1,
    )


def plan(truth: BurnishTruth, given: Given) -> Basis:
    """12.8: the rotor before and after each round, °C."""
    one = given.number("12.6")
    rounds, start, air = truth.round_count, truth.start_c, truth.heat.air_c
    right = truth.plan_c(one)
    wrong = {
        "no_cooling": _rows(start, rounds * one, lambda hot: hot),
        "temperature_halved": _rows(start, rounds * one, lambda hot: hot / 2),
        "cooled_to_air": _rows(start, rounds * one, lambda _hot: air),
        "one_braking_only": truth.model_copy(update={"round_count": 1}).plan_c(one),
        "rise_alone": truth.model_copy(update={"start_c": 0.0}).plan_c(one),
        "started_at_air": truth.model_copy(update={"start_c": air}).plan_c(one),
    }
    found = [
        slip(name, value, WHOLE).model_copy(update={"place": place})
        for name, row in wrong.items()
        for place, value in enumerate(row, start=1)
    ]
    # Each value may be rounded to whole degrees and worked on with: half of the error before goes on.
    own = [WHOLE]
    while len(own) < PLACES_OF_PLAN:
        own += [combine(WHOLE, own[-1] / 2), combine(WHOLE, own[-1] / 2, WHOLE)]

    def allowed(rise_near: float) -> tuple[float, ...]:
        pairs = zip(own, RISES, strict=True)
        return tuple(combine(each, share * rounds * rise_near) for each, share in pairs)

    how = _plan_words(truth, one, right)
    return basis.table(right, allowed(_rise_near(truth)), found, how=how, places=0, carried=allowed(TENTH))


RISES = (1.0, 0.5, 1.5, 0.75, 1.75)
"""How often the rise of a round stands in each value of the plan: each pause halves what came before."""


def _rise_near(truth: BurnishTruth) -> float:
    """Return how far an honest rise is off, °C: it is asked to a tenth."""
    right = truth.rise_c(truth.stop_kj * truth.ratio)
    shared = combine(_stop_tolerance(truth) / truth.stop_kj, _ratio_tolerance(truth) / truth.ratio)
    return combine(TENTH, right * shared)


def _rows(start: float, rise_c: float, cool: Callable[[float], float]) -> list[float]:
    """Return the plan's row with another kind of cooling."""
    row = [start + rise_c]
    while len(row) < PLACES_OF_PLAN:
        cooled = cool(row[-1])
        row += [cooled, cooled + rise_c]
    return row


def _plan_words(truth: BurnishTruth, one: float, right: tuple[float, ...]) -> str:
    heat, hottest = truth.heat, max(right)
    verdict = (
        "It overheats"
        if hottest > heat.limit_c
        else "It passes"
        if hottest >= heat.working_c
        else "It stays too cool"
    )
    row = ", ".join(number(value, 0) for value in right)
    return (
        f"A round of {truth.round_count} slowdowns brings {truth.round_count} × {number(one, 1)} = "
        f"{both(truth.round_count * one, '°C rise')}. In each pause half of the difference to the air of "
        f"{both(heat.air_c, '°C')} goes. From {number(truth.start_c, 0)} °C on: {row} °C. {verdict}: "
        f"the hottest is {both(hottest, '°C')}, wanted are {both(heat.working_c, '°C')} to "
        f"{both(heat.limit_c, '°C')}."
    )
