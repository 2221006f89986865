"""The job sheet's numbers held against its own limits: pure functions over the trade.

The course carries no limit of any real vehicle. What is checked against is what was typed from the
vehicle's own service information.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from brakecourse.trade.conformity import combine, rectangular
from brakecourse.trade.pads import PadLimits, PadReading, WearFinding, classify_wear
from brakecourse.trade.rotor import Instruments, RotorFinding, RotorSpec, verdict
from brakecourse.views.job_sheet_fields import (
    CORNERS,
    FIELD,
    FIELDS,
    LEAST_PLACES,
    MOST_PLACES,
    WHEELS,
    Units,
    typed,
)
from brakecourse.views.job_sheet_nuts import fluid, nuts
from brakecourse.views.job_sheet_values import SheetFinding, Values, has, number_of, row_of
from brakecourse.views.words import ACTION_WORDS, mm

NO_LIMIT_MM = 1000.0  # stands for a limit that the sheet does not give; its check is not told
_THIN, _THICK = 0.3, 1.3  # a rotor outside these shares of its new thickness is a slip of the pen
_MOST_DIAL_MM = 3.0
_PAD_WORDS = {
    "keep": "the pads may stay",
    "measure again": "measure the pads again, or with a finer gauge",
    "find the cause": "uneven wear: find the part behind it",
    "replace": "new pads at both wheels of the axle",
}


@dataclass(frozen=True)
class Checked:
    """A checked sheet.

    Attributes:
        findings: what the readings say.
        problems: what could not be read, each in a sentence.
        missing: labels of the needed boxes that are still empty.
    """

    findings: tuple[SheetFinding, ...]
    problems: tuple[str, ...]
    missing: tuple[str, ...]


def check_sheet(texts: Mapping[str, str], units: Units) -> Checked:
    """Check what was typed from a job sheet.

    Args:
        texts: what stands in each box, by the field's id; a box left out is empty.
        units: what a number without a unit is taken for.

    Returns:
        All that can be said with what is there. A wheel is judged when its own numbers are complete.

    Source:
        The decisions of :mod:`brakecourse.trade.rotor`, ``pads``, ``fasteners`` and ``conformity``. That a
        gauge's largest error counts in full in every reading: assumption, no source, on the careful side.
    """
    values: dict[str, float | tuple[float, ...] | str] = {}
    problems: list[str] = []
    for field in FIELDS:
        try:
            value = typed(field, texts.get(field.id, ""), units)
        except ValueError as problem:
            problems.append(str(problem))
            continue
        if value is not None:
            values[field.id] = value
    findings: list[SheetFinding] = []
    for wheel in WHEELS:
        for judge in (_rotor, _pads):
            try:
                findings += judge(wheel, values)
            except ValueError as problem:
                problems.append(f"{wheel} wheel: {problem}")
    for other in (nuts, fluid):
        try:
            findings += other(values)
        except ValueError as problem:
            problems.append(str(problem))
    missing = tuple(field.label for field in FIELDS if field.needed and not texts.get(field.id, "").strip())
    return Checked(tuple(findings), tuple(dict.fromkeys(problems)), missing)


def gauge_u_mm(line_mm: float, error_mm: float) -> tuple[float, float]:
    """Return the standard uncertainty of a reading, and of the difference of two, from a gauge's data.

    Args:
        line_mm: its smallest line, mm, above 0.
        error_mm: its largest error by its certificate, mm, 0 or more.

    Source:
        Rectangular and combined uncertainties after JCGM 100. The error is not taken to cancel in a
        difference: assumption, no source, on the careful side.

    >>> [round(one, 4) for one in gauge_u_mm(0.01, 0.004)]
    [0.0037, 0.0047]
    """
    line, error = rectangular(line_mm / 2), rectangular(error_mm)
    return combine(line, error), combine(error, math.sqrt(2) * line)


def _rotor(wheel: str, values: Values) -> list[SheetFinding]:
    side = wheel.lower()
    ids = ("rotor_new", "discard", "variation", "run_out", f"{side}_thickness", f"{side}_dial")
    gauges = ("micrometer_line", "micrometer_error", "dial_line", "dial_error")
    if not has(values, *ids, *gauges):
        return []
    new = number_of(values, "rotor_new")
    thickness, dial = row_of(values, ids[4]), row_of(values, ids[5])
    for what, readings in ((FIELD[ids[4]].label, thickness), (FIELD[ids[5]].label, dial)):
        if not LEAST_PLACES <= len(readings) <= MOST_PLACES:
            raise ValueError(
                f"“{what}” needs {LEAST_PLACES} to {MOST_PLACES} readings, but it holds {len(readings)}; "
                "eight are usual."
            )
    for one in thickness:
        if not _THIN * new <= one <= _THICK * new:
            raise ValueError(
                f"a rotor that was {mm(new)} when new cannot be {mm(one)} now; look at the decimal point and "
                "the unit."
            )
    if max(map(abs, dial)) > _MOST_DIAL_MM:
        raise ValueError(
            f"a dial reading beyond {mm(_MOST_DIAL_MM)} is no run-out; look at the decimal point and "
            "the unit."
        )
    # A maker who gives no thickness after machining allows no machining.
    nothing = math.nextafter(new, 0.0)
    machine_to = number_of(values, "machine_to") if "machine_to" in values else nothing
    spec = RotorSpec(
        new,
        machine_to,
        number_of(values, "discard"),
        number_of(values, "variation"),
        number_of(values, "run_out"),
    )
    one_u, two_u = gauge_u_mm(number_of(values, "micrometer_line"), number_of(values, "micrometer_error"))
    _, dial_u = gauge_u_mm(number_of(values, "dial_line"), number_of(values, "dial_error"))
    found = verdict(thickness, dial, spec, Instruments(one_u, two_u, dial_u))
    return [SheetFinding(f"{wheel} rotor", _rotor_short(found), _rotor_words(found, "machine_to" in values))]


def _rotor_short(found: RotorFinding) -> str:
    seen = (
        f"smallest {mm(found.smallest_mm)}, variation {mm(found.variation_mm)}, "
        f"run-out {mm(found.run_out_mm)}"
    )
    return f"{ACTION_WORDS[found.action].lower()} ({seen})"


def _rotor_words(found: RotorFinding, may_cut: bool) -> str:
    told = found.deciding.words
    if found.deciding.check == "machining":
        unproven = next(one for one in found.reasons if one.decision.verdict != "within")
        if not may_cut:
            return f"{unproven.words} The sheet gives no thickness after machining, so nothing may be cut."
        return f"{unproven.words} {told}"
    tail = " Before a cut, make sure that hub and seat are clean." if found.action == "machine" else ""
    return told + tail


def _pads(wheel: str, values: Values) -> list[SheetFinding]:
    side = wheel.lower()
    rows = (f"{side}_inner", f"{side}_outer")
    if not has(values, "lining", "depth_line", "depth_error", *rows):
        return []
    for row in rows:
        if len(row_of(values, row)) != CORNERS:
            raise ValueError(
                f"“{FIELD[row].label}” needs {CORNERS} readings, but it holds {len(row_of(values, row))}; "
                "leading end first, outer edge before inner edge."
            )
    one_u, two_u = gauge_u_mm(number_of(values, "depth_line"), number_of(values, "depth_error"))

    def limit(id: str) -> float:
        return number_of(values, id) if id in values else NO_LIMIT_MM

    limits = PadLimits(number_of(values, "lining"), limit("taper"), limit("pair"), NO_LIMIT_MM, one_u, two_u)
    inner, outer = (PadReading(*row_of(values, row)) for row in rows)
    found = classify_wear(inner, outer, limits)
    return [SheetFinding(f"{wheel} pads", _pads_short(found), _pads_words(found))]


def _pads_short(found: WearFinding) -> str:
    thin = min(one.measured_mm for one in found.evidence if one.check == "thickness")
    return f"{_PAD_WORDS[found.action]} (thinnest lining {mm(thin)})"


def _pads_words(found: WearFinding) -> str:
    told = [one for one in found.evidence if one.limit_mm < NO_LIMIT_MM]
    not_within = [one for one in told if one.decision.verdict != "within"]
    shown = not_within or [min(told, key=lambda one: one.decision.margin)]
    causes = " First to look at: " + found.causes[0] + "." if found.causes and not_within else ""
    return " ".join(one.words for one in shown) + causes
