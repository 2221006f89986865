"""Tasks about the energy of one braking, or of two beside each other: pure functions over the bench."""

from __future__ import annotations

from collections.abc import Iterable

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.published import convert
from brakecourse.trade.burnish import stop_energy_j
from brakecourse.views.quiz import NumberTask
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number

STOP, SLOWDOWN, TIMES = "energy of a stop", "energy of a slowdown", "how many times as much"
NEAR = 0.025
"""How far off, as a share of the right value, an answer may be: what rounding on paper costs."""

_MPH = "That takes mph as if it were metres per second. Turn the speed into m/s first: mph × 0.447."
_KMH = "That takes km/h as if it were metres per second. Divide km/h by 3.6 first."
_NOT_SQUARED = "The speed is not squared. Energy grows with the speed times itself."
_NO_HALF = "The half in front is missing: ½ × mass × speed × speed."
_JOULES = "That is in joules. 1000 J are 1 kJ."
_DIFFERENCE = "You squared the difference of the speeds. Square each speed first, then subtract."
_WHOLE_STOP = "That is a stop to standstill. Subtract what the vehicle still has at the lower speed."


def energy_task(topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
    """Return a task about the energy of one braking, or of two beside each other.

    Args:
        topic: one of ``STOP``, ``SLOWDOWN``, ``TIMES``.
        difficulty: easy gives the speeds in m/s, too; hard ones are not round.
        draw: chance.
    """
    vehicle = draw.choice(list(motor_pool().values()))
    low, high = speeds_mph(difficulty, draw)
    if topic == TIMES:
        return _times(vehicle, low, high, difficulty, draw)
    end = low if topic == SLOWDOWN else 0
    joules = energy_j(vehicle, high, end)
    evidence = [
        fact_vehicle(vehicle),
        ("Mass", both(vehicle.mass_kg, "kg")),
        ("Speed at the start", _speed(high, difficulty)),
    ]
    evidence.append(("Speed at the end", _speed(end, difficulty) if end else "standstill"))

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            joules / 1000,
            _energy_mistakes(vehicle.mass_kg, high, end),
            unit="kJ",
            tolerance=NEAR * joules / 1000,
            because="Half the mass, times the square of each speed in m/s, subtracted.",
            hint="Take the speeds in m/s: ½ × mass × (speed² at the start − speed² at the end), then ÷ 1000.",
        )

    verb = "slow it down" if end else "stop it"
    question = f"What must the brakes of the {vehicle.name} take up to {verb}?"
    answer = f"{both(joules / 1000, 'kJ')}: half the mass times the speeds' squares in m/s."
    return NumberTask(topic, question, "Energy", "kJ", rule, answer, facts_table(evidence), ((high, end),))


def _energy_mistakes(mass_kg: float, high: float, end: float) -> dict[str, float]:
    v, w = (convert(mph, "mph", "m/s") for mph in (high, end))
    right = mass_kg / 2 * (v**2 - w**2)
    kmh = right * 3.6**2
    raw_mph = mass_kg / 2 * (high**2 - end**2)
    wrong = {
        _MPH: raw_mph,
        _KMH: kmh,
        _NOT_SQUARED: mass_kg / 2 * (v - w),
        _NO_HALF: 2 * right,
        _JOULES: 1000 * right,
    }
    if end:
        wrong |= {_DIFFERENCE: mass_kg / 2 * (v - w) ** 2, _WHOLE_STOP: mass_kg / 2 * v**2}
    return {words: joules / 1000 for words, joules in wrong.items()}


def _times(vehicle: Vehicle, low: int, high: int, difficulty: Difficulty, draw: Draw) -> NumberTask:
    end = low if difficulty != "easy" else draw.choice((0, low))
    first = low
    ratio = energy_j(vehicle, high, end) / energy_j(vehicle, first, 0)
    evidence = (
        fact_vehicle(vehicle),
        ("First braking", f"from {_speed(first, 'normal')} to standstill"),
        (
            "Second braking",
            f"from {_speed(high, 'normal')} to {_speed(end, 'normal') if end else 'standstill'}",
        ),
    )
    wrong = {
        _NOT_SQUARED: (high - end) / first,
        "You have it the other way round: divide the second by the first.": 1 / ratio,
    }
    if end:
        wrong |= {_DIFFERENCE: (high - end) ** 2 / first**2, _WHOLE_STOP: high**2 / first**2}

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            ratio,
            wrong,
            unit="plain",
            tolerance=NEAR * ratio,
            because=(
                f"({high}² − {end}²) ÷ {first}² = {number(ratio, 2)}. Mass and unit cancel, so mph will do."
            ),
            hint="Square the speeds. Second braking: start squared minus end squared. Divide by the first.",
        )

    question = "How many times the energy of the first braking does the second take?"
    answer = f"{number(ratio, 2)} times."
    return NumberTask(
        TIMES,
        question,
        "How many times",
        "plain",
        rule,
        answer,
        facts_table(evidence),
        ((first, 0), (high, end)),
    )


def energy_j(vehicle: Vehicle, start_mph: float, end_mph: float) -> float:
    """Return the energy of one braking between two speeds, J."""
    return stop_energy_j(vehicle.mass_kg, convert(start_mph, "mph", "km/h"), convert(end_mph, "mph", "km/h"))


def speeds_mph(difficulty: Difficulty, draw: Draw) -> tuple[int, int]:
    """Return a lower and a higher speed, mph."""
    if difficulty == "hard":
        low = draw.integer(11, 29)
        return low, low + draw.integer(9, 26)
    low = draw.choice((15, 20, 25, 30))
    return low, low + draw.choice((15, 20, 25))


def _speed(mph: float, difficulty: Difficulty) -> str:
    told = f"{mph:.0f} mph ({convert(mph, 'mph', 'km/h'):.0f} km/h)"
    return f"{told}, that is {convert(mph, 'mph', 'm/s'):.2f} m/s" if difficulty == "easy" else told


def fact_vehicle(vehicle: Vehicle) -> tuple[str, str]:
    """Return the row that names the vehicle."""
    return "Vehicle", f"{vehicle.name}, {vehicle.fleet_number} (invented)"


def facts_table(rows: Iterable[tuple[str, str]]) -> tuple[tuple[str, ...], ...]:
    """Return rows under their heads."""
    return (("Fact", "Value"), *rows)
