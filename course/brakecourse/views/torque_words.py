"""How torques, threads and clamp loads are written in the lesson on torque."""

from __future__ import annotations

from brakecourse.bench.parts import Fastener
from brakecourse.bench.shop_gauges import TorqueWrench
from brakecourse.published import convert
from brakecourse.trade._bolts import Finish
from brakecourse.views.torque_sums import lbfft, lbfin, turn_nm
from brakecourse.views.units import both
from brakecourse.views.words import number

_NO_BREAK = "\N{NO-BREAK SPACE}"

SOUND, NECKED, RUSTED, LONGER = (
    "straight, threads clean and whole",
    "thinner in one place of the thread, seen against the light",
    "two threads torn, deep rust",
    "0.8 mm (0.03 in) longer than a new one",
)
"""How a used bolt may look."""

FINISH_WORDS: dict[Finish, str] = {
    "plain": "plain steel, dry",
    "zinc": "zinc plated, dry",
    "lubricated": "oiled",
    "cadmium": "cadmium plated",
    "antiseize": "anti-seize paste",
    "locking_grip": "self-locking nut",
}


def nm(torque_nm: float) -> str:
    """Write a torque with its pound-feet: as many places as keep three figures.

    >>> nm(115).replace(_NO_BREAK, " "), nm(26.4).replace(_NO_BREAK, " ")
    ('115 N·m (85 lbf·ft)', '26.4 N·m (19.5 lbf·ft)')
    """
    places = places_of(torque_nm)
    us = lbfft(torque_nm)
    feet = number(us, 0 if us >= 60 else 1)
    return f"{number(torque_nm, places)}{_NO_BREAK}N·m ({feet}{_NO_BREAK}lbf·ft)"


def nm_to_a_tenth(torque_nm: float) -> str:
    """Write a torque and its pound-feet with one decimal place each, as a tester shows it."""
    return f"{number(torque_nm, 1)}{_NO_BREAK}N·m ({number(lbfft(torque_nm), 1)}{_NO_BREAK}lbf·ft)"


def nm_range(low_nm: float, high_nm: float) -> str:
    """Write from where to where a torque may lie, in both units.

    >>> nm_range(115.2, 124.8).replace(_NO_BREAK, " ")
    '115.2 to 124.8 N·m (85.0 to 92.0 lbf·ft)'
    """
    si, us = (
        f"{number(low, 1)} to {number(high, 1)}"
        for low, high in ((low_nm, high_nm), (lbfft(low_nm), lbfft(high_nm)))
    )
    return f"{si}{_NO_BREAK}N·m ({us}{_NO_BREAK}lbf·ft)"


def places_of(torque_nm: float) -> int:
    """Return with how many decimal places a torque is written: none when it is whole."""
    return 0 if abs(torque_nm - round(torque_nm)) < 0.05 or torque_nm >= 200 else 1


def feet(torque_nm: float) -> str:
    """Write a torque in pound-feet alone."""
    us = lbfft(torque_nm)
    return f"{number(us, 0 if us >= 60 else 1)}{_NO_BREAK}lbf·ft"


def inch_pounds(torque_nm: float) -> str:
    """Write a torque in pound-inches alone."""
    return f"{number(lbfin(torque_nm), 0)}{_NO_BREAK}lbf·in"


def kn(force_n: float) -> str:
    """Write a force in kilonewtons with its pounds."""
    pounds = number(round(convert(force_n, "N", "lbf"), -1), 0)
    return f"{number(force_n / 1000, 1)}{_NO_BREAK}kN ({pounds}{_NO_BREAK}lbf)"


def mm_of(value_mm: float) -> str:
    """Write a lever's length: millimetres to a tenth where they are not whole, inches to a tenth."""
    inches = number(convert(value_mm, "mm", "in"), 1)
    places = 0 if abs(value_mm - round(value_mm)) < 0.05 else 1
    return f"{number(value_mm, places)}{_NO_BREAK}mm ({inches}{_NO_BREAK}in)"


def thread(one: Fastener) -> str:
    """Write a thread as the trade does.

    >>> from brakecourse.bench.vehicles import motor_pool
    >>> thread(motor_pool()["minibus"].wheel_nut)
    'M14 × 1.5'
    """
    return f"M{one.diameter_mm:g} × {one.pitch_mm:g}"


def wrench_name(wrench: TorqueWrench) -> str:
    """Write a wrench by its range, in N·m and lbf·ft."""
    low, high = wrench.scale.start, wrench.scale.end
    return f"{low:g} to {high:g} N·m ({number(lbfft(low), 0)} to {number(lbfft(high), 0)} lbf·ft)"


def grip_words(wrench: TorqueWrench) -> str:
    """Tell what a turn and a line of the grip are worth."""
    return f"One turn of the grip is {both(turn_nm(wrench), 'N·m')}, one line {wrench.scale.line:g} N·m."


def plain(percent: float) -> str:
    """Write a percentage that is already one."""
    return f"{number(percent, 0)}{_NO_BREAK}%"
