"""Tasks about how warm a front rotor gets, and how it cools: pure functions over the bench."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.reference import SPECIFIC_HEAT_J_KGK
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.burnish import cool_c, rotor_share, temperature_rise_c, wait_for_c
from brakecourse.views.energy_tasks import NEAR, energy_j, fact_vehicle, facts_table, speeds_mph
from brakecourse.views.quiz import NumberTask
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number, percent

RISE, WARM, PAUSE = "rise of one rotor", "how warm it gets", "two brakings and a pause"
IRON_KJ = SPECIFIC_HEAT_J_KGK / 1000
AIR_C = 20.0

_ALL_TO_ONE = "That gives all the energy to one rotor. Four rotors share it."
_AXLE_TO_ONE = "That gives the front axle's whole share to one rotor. An axle has two."
_QUARTER = "That shares evenly by four. The front axle takes more than the rear: use its share."
_NO_MASS = "The rotor's mass is missing: twice the iron warms half as much."
_RISE_ALONE = "That is the rise alone. Add it to what the thermometer shows."
_NO_COOLING = "That leaves out the cooling. In the pause the rotor loses heat to the air."
_ALL_COLD = "That lets it cool right down to the air. In one half-time only half the difference goes."
_HALF_OF_ALL = "You halved the temperature. It is the difference to the air that halves."


def rotor_task(topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
    """Return a task about how warm a front rotor gets.

    Args:
        topic: one of ``RISE``, ``WARM``, ``PAUSE``.
        difficulty: the harder, the hotter it begins and the less round the speeds.
        draw: chance.
    """
    vehicle = draw.choice(list(motor_pool().values()))
    _, high = speeds_mph(difficulty, draw)
    joules = energy_j(vehicle, high + 20, 0)
    brake = vehicle.front
    begin = float({"easy": 20, "normal": draw.integer(30, 90), "hard": draw.integer(90, 180)}[difficulty])
    evidence = [
        fact_vehicle(vehicle),
        ("Energy of the braking", both(joules / 1000, "kJ")),
        ("The front axle's share", percent(vehicle.front_share)),
        ("Mass of one front rotor", both(brake.rotor_mass_kg, "kg", 1)),
        ("1 kg of its iron, 1 °C warmer, takes", f"{IRON_KJ:g} kJ"),
    ]
    # The learner's own shares and energies are those of the table, rounded.
    share, kj = round(vehicle.front_share, 2), round(joules / 1000)
    rise = temperature_rise_c(1000 * kj * rotor_share(share), brake.rotor_mass_kg, SPECIFIC_HEAT_J_KGK)
    wrong_rise = {
        _ALL_TO_ONE: rise / share * 2,
        _AXLE_TO_ONE: 2 * rise,
        _QUARTER: rise / share / 2,
        _NO_MASS: rise * brake.rotor_mass_kg,
    }
    how = (
        f"{kj} kJ × {number(share, 2)} ÷ 2 ÷ ({brake.rotor_mass_kg:g} kg × {IRON_KJ:g}) "
        f"= {number(rise, 1)} °C of rise."
    )
    if topic == RISE:
        question = f"By how much does one front rotor of the {vehicle.name} get warmer?"
        return _degrees(RISE, question, "Warmer by", "°C rise", rise, wrong_rise, how, evidence, begin)
    if topic == WARM:
        wrong = {_RISE_ALONE: rise} | {words: begin + value for words, value in wrong_rise.items()}
        question = "The thermometer shows one front rotor before the braking. How warm is it after?"
        return _degrees(WARM, question, "After the braking", "°C", begin + rise, wrong, how, evidence, begin)
    after = begin + rise
    half_c = after_wait_c(vehicle, after, half_time_s(vehicle))
    evidence += [
        ("Air", both(AIR_C, "°C")),
        ("Half-time of this rotor while driving", both(half_time_s(vehicle) / 60, "minutes", 1)),
        ("Pause before a second braking like the first", "one half-time"),
    ]
    wrong = {
        _NO_COOLING: after + rise,
        _ALL_COLD: AIR_C + rise,
        _HALF_OF_ALL: after / 2 + rise,
        "That is before the second braking. Add its rise.": half_c,
    }
    question = (
        "The thermometer shows one front rotor before the first braking. How warm is it after the second?"
    )
    how = (
        f"{how} In the pause {after:.0f} °C falls half the way to {AIR_C:.0f} °C: {half_c:.0f} °C. "
        "Then the rise again."
    )
    return _degrees(
        PAUSE, question, "After the second braking", "°C", half_c + rise, wrong, how, evidence, begin
    )


def _degrees(
    topic: str,
    question: str,
    label: str,
    unit: str,
    right: float,
    wrong: dict[str, float],
    how: str,
    evidence: list[tuple[str, str]],
    begin: float,
) -> NumberTask:
    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            right,
            wrong,
            unit=unit,
            tolerance=max(1.0, NEAR * right),
            because=how,
            hint=f"Energy, times the front axle's share, halved, divided by mass times {IRON_KJ:g}.",
        )

    answer = f"{both(right, unit)}. {how}"
    return NumberTask(topic, question, label, unit, rule, answer, facts_table(evidence), begin)


def half_time_s(vehicle: Vehicle) -> float:
    """Return in how many seconds a front rotor loses half of its difference to the air while driving.

    >>> round(half_time_s(motor_pool()["minibus"]) / 60, 1)
    6.9
    """
    return wait_for_c(AIR_C + 100, AIR_C + 50, AIR_C, vehicle.front.cooling_time_constant_s)


def after_wait_c(vehicle: Vehicle, start_c: float, seconds: float, air_c: float = AIR_C) -> float:
    """Return how warm a front rotor is after driving on without braking, °C."""
    return cool_c(start_c, air_c, seconds, vehicle.front.cooling_time_constant_s)
