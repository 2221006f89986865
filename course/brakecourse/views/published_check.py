"""Hold a number that the course computes against a published one, and say where that comes from."""

from __future__ import annotations

from decimal import Decimal

from brakecourse.published import PublishedValue, value
from brakecourse.views.shown import Shown, table
from brakecourse.views.words import number

_HOW_KNOWN = {
    "read": "read in the source, or in a copy of it",
    "memory": "from memory; not read in the source",
    "run": "returned by a general-purpose library",
}

# What a column of units says, in a learner's words. A plain number, a count, or a yes told as 1, has none.
_UNIT_WORDS = {
    **dict.fromkeys(("1", "boolean", "count", "dimensionless", "ratio", "unit"), ""),
    "1/week": "a week",
    "degC": "°C",
    "delta_degC": "°C",
    "degF": "°F",
    "percent": "%",
    "um": "µm",
}

_YES_OR_NO = {"1": "yes", "0": "no"}
_YES_TOLD = "; 1 = yes"  # how a row of the tables says what its 1 means


def unit_words(unit: str) -> str:
    """Return how a learner writes a unit of the tables.

    >>> unit_words("m/s**2"), unit_words("lbf in"), unit_words("um"), unit_words("ratio")
    ('m/s²', 'lbf·in', 'µm', '')
    """
    written = unit.replace("**2", "²").replace("**3", "³").replace("*", "·").replace(" ", "·")
    return _UNIT_WORDS.get(unit, written)


def agrees(id: str, computed: float) -> Shown:
    """Show a computed number beside the published one that it must equal, to the published decimals.

    Args:
        id: the published value's id.
        computed: what the course computes, in the published unit.

    Raises:
        ValueError: the two do not agree.
    """
    one = value(id)
    places = _decimals(one.value)
    if round(computed, places) != round(one.value, places):
        raise ValueError(_disagreement(one, computed, "the same to its last decimal"))
    return _shown(one, number(computed, places), "they agree")


def comes_close(id: str, computed: float, within: float) -> Shown:
    """Show a computed number beside a measured one that it must come close to.

    Args:
        id: the published value's id.
        computed: what the course computes, in the published unit.
        within: how far apart the two may be, in that unit.

    Raises:
        ValueError: they are further apart.
    """
    one = value(id)
    apart = abs(computed - one.value)
    if not apart <= within:
        raise ValueError(_disagreement(one, computed, f"within {within:g} of it"))
    places = _decimals(one.value)
    unit = f" {unit_words(one.unit)}".rstrip()
    outcome = f"{number(apart, places)}{unit} apart; no more than {number(within, places)}{unit} was allowed"
    return _shown(one, number(computed, places), outcome)


def stays_below(id: str, computed: float) -> Shown:
    """Show a computed number beside the published bound that it must stay below.

    Args and raises: as :func:`agrees`.
    """
    one = value(id)
    if not computed < one.value:
        raise ValueError(_disagreement(one, computed, "below it"))
    return _shown(one, number(computed, _decimals(one.value) + 1), "it stays below")


def _decimals(published: float) -> int:
    exponent = Decimal(repr(published)).normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def _amount(written: str, unit: str) -> str:
    """Write a value with its unit, and a yes or no in words."""
    if unit == "boolean":
        return _YES_OR_NO[written]
    return f"{written} {unit_words(unit)}".rstrip()


def _disagreement(one: PublishedValue, computed: float, wanted: str) -> str:
    return (
        f"The published value '{one.id}' is {one.value} {one.unit}, and the course's own number must be "
        f"{wanted}, but it is {computed}; please report this."
    )


def _shown(one: PublishedValue, computed: str, outcome: str) -> Shown:
    place = f", {one.section}" if one.section else ""
    rows = [
        ("Check", "Value"),
        (
            "What",
            f"{one.quantity[:1].upper()}{one.quantity[1:]}".removesuffix(_YES_TOLD)
            + (f" ({one.condition})" if one.condition else ""),
        ),
        ("Published", _amount(f"{one.value:g}", one.unit)),
        ("This course computes", f"{_amount(computed, one.unit)}: {outcome}"),
        ("Source", f"{one.source}{place}"),
        ("How it is known", _HOW_KNOWN[one.how_known]),
    ]
    return Shown("\n".join(": ".join(row) for row in rows[1:]), table(rows))
