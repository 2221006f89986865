"""Add and subtract readings as the decimal numbers they are.

A gauge shows 24.03 and 24.00. As binary fractions their difference is 0.030000000000001137, which
would be "over" a limit of 0.03. Done in decimal, as a person does it on paper, it is 0.03.
"""

from __future__ import annotations

from decimal import Decimal


def difference(larger: float, smaller: float) -> float:
    """Return ``larger - smaller`` as done on paper.

    >>> difference(24.03, 24.00)
    0.03
    """
    return float(Decimal(repr(larger)) - Decimal(repr(smaller)))


def total(first: float, second: float) -> float:
    """Return ``first + second`` as done on paper.

    >>> total(0.1, 0.2)
    0.3
    """
    return float(Decimal(repr(first)) + Decimal(repr(second)))
