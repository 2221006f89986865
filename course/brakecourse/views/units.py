"""The units that answers are asked in: how people write them, and what else they may type.

A typed number may carry its unit. The asked unit in any usual spelling is read as it stands. Another unit
of the same kind is converted when its spelling can mean one thing only, and the reply says so; anything
else is refused in one sentence.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

from brakecourse.published import convert
from brakecourse.views.unit_spellings import SPELLINGS
from brakecourse.views.words import number

_NO_BREAK = "\N{NO-BREAK SPACE}"


@dataclass(frozen=True)
class Unit:
    """A unit that an answer can be asked in.

    Attributes:
        symbol: as it is written after a number.
        kind: what it measures; units of one kind convert into each other.
        pint: its name for :func:`brakecourse.published.convert`.
        asked: what to type, in words.
        example: a number that could be an answer.
        places: decimal places that a value is written with.
        us: name, symbol and decimal places of the unit to put beside it; None for none.
        below: how large a typed number must not become.
    """

    symbol: str
    kind: str
    pint: str
    asked: str
    example: str
    places: int
    us: tuple[str, str, int] | None = None
    below: float = 1_000_000

    @property
    def after(self) -> str:
        """The symbol as it follows a number: with a space that does not break, none before a degree sign."""
        return self.symbol if self.symbol == "°" or not self.symbol else f"{_NO_BREAK}{self.symbol}"


_ASKED = (
    Unit("mm", "length", "mm", "a number of millimetres", "12.34", 2, ("in", "in", 3), 1000),
    Unit("m", "length", "m", "a number of metres", "42.5", 1, ("ft", "ft", 0)),
    Unit("km", "length", "km", "a number of kilometres", "18000", 0, ("mile", "miles", 0)),
    Unit("mL", "volume", "mL", "a number of millilitres", "15.2", 1, ("in**3", "in³", 2)),
    Unit("mm²", "area", "mm**2", "a number of square millimetres", "2290", 0, ("in**2", "in²", 2)),
    Unit("°C", "temperature", "degC", "a temperature in degrees Celsius", "180", 0, ("degF", "°F", 0)),
    Unit("MPa", "pressure", "MPa", "a number of megapascals", "4.25", 2, ("psi", "psi", 0)),
    Unit("N", "force", "N", "a number of newtons", "450", 0, ("lbf", "lbf", 0)),
    Unit("kN", "force", "kN", "a number of kilonewtons", "14.2", 1, ("lbf", "lbf", 0)),
    Unit("N·m", "torque", "N*m", "a number of newton metres", "110", 0, ("lbf*ft", "lbf·ft", 0)),
    Unit("%", "ratio", "percent", "a number of percent", "62", 0),
    Unit("", "ratio", "dimensionless", "a plain number", "3.2", 2),
    Unit("°", "angle", "degree", "a number of degrees", "45", 0),
    Unit("km/h", "speed", "km/hour", "a number of kilometres per hour", "60", 0, ("mph", "mph", 0)),
    Unit("m/s", "speed", "m/s", "a number of metres per second", "16.7", 1, ("ft/s", "ft/s", 0)),
    Unit("m/s²", "acceleration", "m/s**2", "a number of metres per second squared", "5.8", 1,
         ("ft/s**2", "ft/s²", 1)),
    Unit("s", "time", "s", "a number of seconds", "30", 0),
    Unit("minutes", "time", "minute", "a number of minutes", "12", 0),
    Unit("kg", "mass", "kg", "a number of kilograms", "1500", 0, ("lb", "lb", 0)),
    Unit("kJ", "energy", "kJ", "a number of kilojoules", "210", 0, ("BTU", "Btu", 0)),
    Unit("mL/min", "flow", "mL/minute", "a number of millilitres per minute", "1.5", 1,
         ("in**3/minute", "in³/min", 3)),
)  # fmt: skip
_BY_SYMBOL = {unit.symbol: unit for unit in _ASKED}
UNITS: dict[str, Unit] = _BY_SYMBOL | {
    "plain": _BY_SYMBOL[""],
    # Symbols that stand for something else as well.
    "°C rise": Unit("°C", "rise", "delta_degC", "a number of degrees Celsius", "25", 0,
                    ("delta_degF", "°F", 0)),
    "mm run-out": replace(_BY_SYMBOL["mm"], example="0.06"),
    "mm wear": replace(_BY_SYMBOL["mm"], example="2.5"),
    "mm travel": replace(_BY_SYMBOL["mm"], example="17"),
}  # fmt: skip
"""Every unit that an answer can be asked in, by its symbol; a number without one is ``plain``.

A difference of two temperatures is a ``°C rise``, whichever way it goes. The example of ``mm`` is a
thickness; other lengths have examples of their own.
"""

_NUMBER = re.compile(
    r"""(?P<sign>[-+−]?)\s*
        (?: (?:(?P<whole>\d+)\s+)? (?P<over>\d+)/(?P<under>[1-9]\d*)        # 3/32, 1 3/8
          | (?P<digits>\d{1,3}(?:[\s\u00a0\u2009\u202f]\d{3})+(?:[.,]\d+)? # 18 000
              | \d+(?:[.,]\d*)? | [.,]\d+)(?P<power>e[-+−]?\d+)? )
        \s*(?P<unit>(?!/|.*\s\d)[^\d\s.,+−-].*)?""",
    re.VERBOSE | re.IGNORECASE | re.DOTALL,
)


@dataclass(frozen=True)
class Typed:
    """A number that a person has typed, in the asked unit, and what to say about it.

    Attributes:
        number: the value in the asked unit.
        note: a sentence when it was converted, else empty.
    """

    number: float
    note: str = ""


def asked_unit(unit: str) -> Unit:
    """Return a unit by its symbol.

    Raises:
        ValueError: an activity asks in a unit that is not in the table.
    """
    if unit not in UNITS:
        raise ValueError(
            f"An answer can be asked in {', '.join(filter(None, UNITS))}, but the unit was {unit!r}."
        )
    return UNITS[unit]


def read_typed(text: str, unit: str = "mm") -> Typed:
    """Read what a person types into an answer box.

    Args:
        text: a number with or without a unit: ``23.87``, ``23,87 mm``, ``3/32 in``, ``18 000``.
        unit: the symbol of the unit that is asked for, one of :data:`UNITS`.

    Returns:
        The number in the asked unit. When another unit was typed, ``note`` says what it came to.

    Raises:
        ValueError: with the sentence to show: empty, no number, too large, a unit that measures something
            else or can mean two things, or a comma that could be a point or a thousand.

    >>> read_typed("81 lbf·ft", "N·m").note.replace(chr(160), " ")
    'You typed 81 lbf·ft: that is 110 N·m.'
    """
    asked = asked_unit(unit)
    typed = text.strip()
    found = typed if len(typed) <= 40 else f"{typed[:40]}…"
    if not typed:
        raise ValueError(
            f"The box is still empty: type {asked.asked}, for example {asked.example}{asked.after}."
        )
    match = _NUMBER.fullmatch(typed) if len(typed) <= 60 else None
    if match is None:
        raise ValueError(
            f"{_begin(asked.asked)} was expected, for example {asked.example}{asked.after}, "
            f"but the box holds “{found}”; type one number."
        )
    value = _value(match, found)
    spelling = match["unit"]
    source = _source(spelling, asked, found) if spelling else asked.pint
    converted = value if source == asked.pint else convert(value, source, asked.pint)
    if abs(converted) >= asked.below:
        raise ValueError(
            f"{_begin(asked.asked)} below {asked.below:.0f}{asked.after} was expected, "
            f"but the box holds “{found}”; type it again."
        )
    if source == asked.pint:
        return Typed(value)
    places = asked.places if abs(converted) >= 10**-asked.places or not converted else asked.places + 2
    return Typed(converted, f"You typed {found}: that is {number(converted, places)}{asked.after}.")


def both(value: float, unit: str, places: int | None = None, us_places: int | None = None) -> str:
    """Write a value with its US unit beside it, where there is one.

    Args:
        value: in the unit.
        unit: the symbol, one of :data:`UNITS`.
        places: decimal places of the value; by default those of the unit.
        us_places: decimal places of the US value; by default as many as suit those of the value.

    >>> both(110, "N·m").replace(chr(160), " "), both(180, "°C").replace(chr(160), " ")
    ('110 N·m (81 lbf·ft)', '180 °C (356 °F)')
    """
    asked = asked_unit(unit)
    own = asked.places if places is None else places
    written = f"{number(value, own)}{asked.after}"
    if asked.us is None:
        return written
    name, symbol, usual = asked.us
    us = convert(float(value), asked.pint, name)
    if us_places is None:
        # More places asked for in the one means more places in the other; a small value keeps its figures.
        small = 1 if us and abs(us) < 10**-usual * 50 else 0
        us_places = min(6, usual + max(0, own - asked.places) + small)
        if own < asked.places:
            us_places = min(us_places, _telling_places(10.0**-own, asked.pint, name))
    return f"{written} ({number(us, us_places)}{_NO_BREAK}{symbol})"


def _telling_places(step: float, unit: str, us_unit: str) -> int:
    """Return the decimal places, one or more, that tell steps apart in a US unit: 1 mm is 0.04 in, so 2."""
    us_step = convert(step, unit, us_unit) - convert(0.0, unit, us_unit)
    return max(1, math.ceil(-math.log10(us_step)))


def _value(match: re.Match[str], found: str) -> float:
    sign = -1.0 if match["sign"] in ("-", "−") else 1.0
    if match["over"]:
        return sign * (int(match["whole"] or 0) + int(match["over"]) / int(match["under"]))
    digits = re.sub(r"\s", "", match["digits"])
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", digits):
        plain = digits.replace(",", "")
        raise ValueError(
            f"“{found}” can be read in two ways: type {plain} for the thousands, "
            f"or {digits.replace(',', '.')} with a point."
        )
    return sign * float(digits.replace(",", ".") + (match["power"] or "").replace("−", "-"))


def _source(spelling: str, asked: Unit, found: str) -> str:
    """Return the unit that was typed; raise the sentence to show when it is none or no fitting one."""
    plain = _plain(spelling)
    fitting = [name for name, spelt in SPELLINGS[asked.kind].items() if plain in spelt.split()]
    if asked.pint in fitting:
        return asked.pint
    if len(fitting) == 1:
        return fitting[0]
    known = any(plain in spelt.split() for names in SPELLINGS.values() for spelt in names.values())
    if fitting:
        trouble = "that unit can mean two things"
    elif known:
        trouble = "that unit measures something else"
    else:
        trouble = "that unit is not known here"
    raise ValueError(
        f"{_begin(asked.asked)} was expected, for example {asked.example}{asked.after}, "
        f"but the box holds “{found}”: {trouble}."
    )


def _plain(spelling: str) -> str:
    plain = re.sub(r"[\s.·⋅*^–-]", "", spelling.lower())
    return plain.translate(str.maketrans("²³µμº″“”", '23uu°"""')).replace("''", '"')


def _begin(phrase: str) -> str:
    return phrase[0].upper() + phrase[1:]
