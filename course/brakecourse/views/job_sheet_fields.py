"""What stands on the shop's job sheet: one axle, both wheels. The limits are those of the real vehicle."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from brakecourse.views.units import read_typed

Kind = Literal["words", "length", "lengths", "torque", "temperature", "count"]
Units = Mapping[str, str]
"""What a number without a unit is taken for: ``{"length": "mm", "torque": "N·m", "temperature": "°C"}``."""

METRIC: Units = {"length": "mm", "torque": "N·m", "temperature": "°C"}
US: Units = {"length": "in", "torque": "lbf·ft", "temperature": "°F"}
WHEELS = ("Left", "Right")
CORNERS = 4
LEAST_PLACES, MOST_PLACES = 3, 24
_ASKED = {"length": "mm", "lengths": "mm", "torque": "N·m", "temperature": "°C", "count": ""}


@dataclass(frozen=True)
class Field:
    """One box of the sheet.

    Attributes:
        id: its name.
        section: the heading that it stands under.
        label: what is to be written, also for a screen reader; unlike every other label.
        kind: words, one number, or a row of lengths.
        needed: whether a check cannot do without it.
    """

    id: str
    section: str
    label: str
    kind: Kind
    needed: bool = False


JOB, LIMITS, GAUGES = "The job", "Limits, from this vehicle's own service information", "The gauges used"
READINGS, END = "Readings", "Nuts and fluid"

FIELDS: tuple[Field, ...] = (
    Field("vehicle", JOB, "Vehicle", "words"),
    Field("axle", JOB, "Axle", "words"),
    Field("distance", JOB, "On the clock", "words"),
    Field("date", JOB, "Date", "words"),
    Field("person", JOB, "Measured by", "words"),
    Field("complaint", JOB, "What the customer says", "words"),
    Field("rotor_new", LIMITS, "Rotor thickness when new", "length", True),
    Field("discard", LIMITS, "Discard thickness of the rotor", "length", True),
    Field("machine_to", LIMITS, "Least thickness after machining", "length"),
    Field("variation", LIMITS, "Most thickness variation", "length", True),
    Field("run_out", LIMITS, "Most run-out", "length", True),
    Field("lining", LIMITS, "Least lining of a pad", "length", True),
    Field("taper", LIMITS, "Most taper of a pad", "length"),
    Field("pair", LIMITS, "Most difference, inner to outer pad", "length"),
    Field("nut_torque", LIMITS, "Torque of the wheel nuts", "torque"),
    Field("boiling_limit", LIMITS, "Least boiling point of the fluid", "temperature"),
    Field("micrometer_line", GAUGES, "Micrometer, smallest line", "length", True),
    Field("micrometer_error", GAUGES, "Micrometer, largest error", "length", True),
    Field("dial_line", GAUGES, "Dial indicator, smallest line", "length", True),
    Field("dial_error", GAUGES, "Dial indicator, largest error", "length", True),
    Field("depth_line", GAUGES, "Lining gauge, smallest line", "length", True),
    Field("depth_error", GAUGES, "Lining gauge, largest error", "length", True),
    *(
        Field(f"{wheel.lower()}_{id}", READINGS, f"{wheel} wheel: {label}", "lengths", True)
        for wheel in WHEELS
        for id, label in (
            ("thickness", "rotor thickness, each place"),
            ("dial", "dial, each place"),
            ("inner", "inner pad, four corners"),
            ("outer", "outer pad, four corners"),
        )
    ),
    Field("nuts", END, "Wheel nuts of one wheel, how many", "count"),
    Field("wrench", END, "Torque set on the wrench", "torque"),
    Field("boiling", END, "Boiling point of the fluid, measured", "temperature"),
    Field("boiling_error", END, "Fluid tester, largest error", "temperature"),
)
"""Every box, in the order of the sheet."""

FIELD: Mapping[str, Field] = {one.id: one for one in FIELDS}


def typed(field: Field, text: str, units: Units) -> float | tuple[float, ...] | str | None:
    """Return what a box holds: words, a number in mm, N·m or °C, or a row of lengths in mm.

    Args:
        field: the box.
        text: what was typed; None comes back for an empty one.
        units: what a number without a unit is taken for.

    Raises:
        ValueError: with the sentence to show.

    >>> typed(FIELD["left_dial"], "0 0.02 -0,01 mm", METRIC)
    (0.0, 0.02, -0.01)
    >>> round(typed(FIELD["discard"], "0.866", US), 2)
    22.0
    """
    if not text.strip():
        return None
    if field.kind == "words":
        return text.strip()
    if field.kind != "lengths":
        return _one(field, text, units)
    return tuple(_one(field, one, units) for one in tokens(text))


def tokens(text: str) -> list[str]:
    """Split a row of numbers; a unit that stands alone belongs to the number before it."""
    found: list[str] = []
    for one in re.split(r"[;\s]+|,\s+", text.strip().rstrip(",;")):
        if found and re.fullmatch(r"[^\d.,+−-]+", one):
            found[-1] += f" {one}"
        else:
            found.append(one)
    return found


def _one(field: Field, text: str, units: Units) -> float:
    unit = units.get(field.kind.removesuffix("s"), "")
    bare = bool(re.fullmatch(r"[\d\s.,/+−-]+", text))
    try:
        if field.id == "boiling_error":
            # An error of a temperature is a difference: a degree Fahrenheit is five ninths.
            return _difference(text, unit)
        return read_typed(f"{text} {unit}" if bare else text, _ASKED[field.kind]).number
    except ValueError as problem:
        raise ValueError(f"{field.label}: {problem}") from None


def _difference(text: str, unit: str) -> float:
    fahrenheit = "F" in text.upper() or (unit == "°F" and "C" not in text.upper())
    plain = read_typed(re.sub(r"[°\s]*[cCfF]?\s*$", "", text.strip()), "").number
    return plain * 5 / 9 if fahrenheit else plain
