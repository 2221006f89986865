"""Values in both systems of units, as facts and workings print them: ``"1945 N (437 lbf)"``."""

from __future__ import annotations

from brakecourse.published import convert
from brakecourse.views.words import number

_NO_BREAK = "\N{NO-BREAK SPACE}"
_FEW = 50
"""Below so many of the last place, the US value gets one place more: small values keep their figures."""


def newtons(force_n: float) -> str:
    """Write a force, to 1 N.

    >>> newtons(1945).replace(chr(160), " "), newtons(45).replace(chr(160), " ")
    ('1945 N (437 lbf)', '45 N (10.1 lbf)')
    """
    return _both(force_n, "N", 0, ("lbf", "lbf", 0))


def newton_metres(torque_nm: float) -> str:
    """Write a torque, to 1 N·m.

    >>> newton_metres(110).replace(chr(160), " ")
    '110 N·m (81 lbf·ft)'
    """
    return _both(torque_nm, "N·m", 0, ("lbf*ft", "lbf·ft", 0))


def kilometres(distance_km: float) -> str:
    """Write a distance, to 1 km; the miles to the nearest ten.

    >>> kilometres(24100).replace(chr(160), " ")
    '24100 km (14980 miles)'
    """
    miles = 10 * round(convert(distance_km, "km", "mile") / 10)
    return f"{number(distance_km, 0)}{_NO_BREAK}km ({miles}{_NO_BREAK}miles)"


def millilitres(volume_ml: float, places: int = 2) -> str:
    """Write a small volume, with the cubic inches.

    >>> millilitres(0.975, 3).replace(chr(160), " ")
    '0.975 mL (0.0595 in³)'
    """
    us = number(convert(volume_ml, "mL", "in**3"), 4)
    return f"{number(volume_ml, places)}{_NO_BREAK}mL ({us}{_NO_BREAK}in³)"


def megapascals(pressure_mpa: float) -> str:
    """Write a pressure, to 0.1 MPa.

    >>> megapascals(1.5).replace(chr(160), " ")
    '1.5 MPa (218 psi)'
    """
    return (
        f"{number(pressure_mpa, 1)}{_NO_BREAK}MPa ({convert(pressure_mpa, 'MPa', 'psi'):.0f}{_NO_BREAK}psi)"
    )


def _both(value: float, unit: str, places: int, us: tuple[str, str, int]) -> str:
    name, symbol, usual = us
    there = convert(value, _PINT[unit], name)
    us_places = usual + (1 if 0 < abs(there) < _FEW * 10**-usual else 0)
    return f"{number(value, places)}{_NO_BREAK}{unit} ({number(there, us_places)}{_NO_BREAK}{symbol})"


_PINT = {"N": "N", "N·m": "N*m"}


def to_miles(distance_km: float) -> float:
    """Return a distance in miles.

    >>> round(to_miles(100), 1)
    62.1
    """
    return convert(distance_km, "km", "mile")
