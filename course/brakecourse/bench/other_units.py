"""The second ring of a gauge: each shop unit built from the exact definitions of yard, pound and degree.

A gauge's ring is part of the gauge, so the bench needs no unit registry for it.
"""

from __future__ import annotations

# Exact by definition: the international yard and pound, and the standard gravity. From memory; the units
# that follow are held against the published rows and a unit library.
YARD_MM = 914.4
POUND_KG = 0.45359237
STANDARD_GRAVITY_MS2 = 9.80665

POUND_FORCE_N = POUND_KG * STANDARD_GRAVITY_MS2
INCHES_PER_FOOT = 12
INCH_MM = YARD_MM / (3 * INCHES_PER_FOOT)


def psi_from_mpa(pressure_mpa: float) -> float:
    """Return a pressure in pounds-force per square inch; it comes in MPa, which is N/mm².

    >>> round(psi_from_mpa(7.0))
    1015
    """
    return pressure_mpa * INCH_MM**2 / POUND_FORCE_N


def lbf_from_n(force_n: float) -> float:
    """Return a force in pounds-force.

    >>> round(lbf_from_n(100.0), 1)
    22.5
    """
    return force_n / POUND_FORCE_N


def lbfft_from_nm(torque_nm: float) -> float:
    """Return a torque in pounds-force times feet.

    >>> round(lbfft_from_nm(110.0), 1)
    81.1
    """
    return torque_nm / nm_from_lbfft(1.0)


def nm_from_lbfft(torque_lbfft: float) -> float:
    """Return a torque in N·m; it comes in pounds-force times feet.

    >>> round(nm_from_lbfft(81.1), 1)
    110.0
    """
    return torque_lbfft * POUND_FORCE_N * INCHES_PER_FOOT * INCH_MM / 1000


def fahrenheit_from_celsius(temperature_c: float) -> float:
    """Return a temperature in °F.

    >>> fahrenheit_from_celsius(180.0)
    356.0
    """
    return temperature_c * 9 / 5 + 32
