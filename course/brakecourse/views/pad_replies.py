"""What the course replies to numbers about pads: pure functions, words out."""

from __future__ import annotations

from typing import Literal

from brakecourse.bench.pad_cases import PadCase
from brakecourse.published import convert
from brakecourse.trade.pads import (
    PadReading,
    RemainingDistance,
    mean_lining_mm,
    pair_difference_mm,
    remaining_km,
    smallest_lining_mm,
    taper_mm,
)
from brakecourse.views.pad_view import Which
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.words import mm, number

_READING_WORDS = {
    "backing_plate_included": "That counts the backing plate as well. Only the lining is wear left.",
    "half_millimetre_line": "You are half a millimetre out: the middle line between two numbers is 0.5.",
    "parallax": "You are two lines out. Look square at the dial, not from the side.",
}
_INCHES = "That is in inches. The answer was asked in millimetres."
_KM_SHARE = 0.03  # a remaining distance within this share of the right one is right


def corner_reply(answer_mm: float, indication_mm: float, case: PadCase) -> Reply:
    """Judge a reading of the depth gauge."""
    right = case.gauge.reading(indication_mm)
    found = case.gauge.misreadings(indication_mm)
    mistakes = {_READING_WORDS[id]: value for id, value in found.items() if id in _READING_WORDS}
    return number_reply(
        answer_mm,
        right,
        mistakes | {_INCHES: convert(right, "mm", "in")},
        unit="mm",
        tolerance=0.051,
        because="Lining alone, without the plate.",
        hint="Read the number before the needle, then count the small lines: each is 0.1 mm.",
        places=1,
    )


def how_measured(indication_mm: float, case: PadCase) -> str:
    """Say how this position of the needle is read.

    >>> from brakecourse.bench.pad_cases import draw_pad_case
    >>> how_measured(6.31, draw_pad_case(1, "sound")).split(":")[0]
    'The needle is past 6, at small line 3'
    """
    right = case.gauge.reading(indication_mm)
    whole, lines = divmod(round(right * 10), 10)
    at = f"at small line {lines}" if lines else "at the number itself"
    return f"The needle is past {whole}, {at}: {whole} + {number(lines / 10, 1)} = {mm(right, 1)}."


def smallest_reply(answer_mm: float, case: PadCase) -> Reply:
    """Judge the lining that counts: the smallest of all eight corners."""
    pads = {"inner": case.inner, "outer": case.outer}
    right = min(map(smallest_lining_mm, pads.values()))
    thin = min(pads, key=lambda name: smallest_lining_mm(pads[name]))
    thick = "outer" if thin == "inner" else "inner"
    corners = [*case.inner.corners_mm, *case.outer.corners_mm]
    mistakes = {
        f"That is the thinnest corner of the {thick} pad. The {thin} pad is thinner.": smallest_lining_mm(
            pads[thick]
        ),
        "You used the mean. The thinnest corner decides.": mean_lining_mm(pads[thin]),
        "You used the best corner. The thinnest corner decides.": max(corners),
        f"You used the best corner of the {thin} pad. The thinnest corner decides.": max(
            pads[thin].corners_mm
        ),
        "That is the mean of all eight corners. The thinnest corner decides.": sum(corners) / 8,
        _READING_WORDS["backing_plate_included"]: right + case.gauge.plate_mm,
        _INCHES: convert(right, "mm", "in"),
    }
    return number_reply(
        answer_mm,
        right,
        mistakes,
        unit="mm",
        tolerance=0.04,
        because=f"The thinnest of the eight corners; it is on the {thin} pad.",
        hint="Look through all eight readings for the thinnest.",
        places=1,
    )


def pair_reply(answer_mm: float, case: PadCase) -> Reply:
    """Judge the difference of the two pads' means."""
    inner, outer = mean_lining_mm(case.inner), mean_lining_mm(case.outer)
    right = pair_difference_mm(case.inner, case.outer)
    smallest = abs(smallest_lining_mm(case.inner) - smallest_lining_mm(case.outer))
    best = abs(max(case.inner.corners_mm) - max(case.outer.corners_mm))
    mistakes = {
        "You added the two means. Subtract them.": inner + outer,
        "That is the mean of the inner pad. Subtract the smaller mean from the larger.": inner,
        "That is the mean of the outer pad. Subtract the smaller mean from the larger.": outer,
        "You compared only the thinnest corners. Take the mean of all four corners of each pad.": smallest,
        "You used the best corner of each pad. Take the mean of all four corners of each pad.": best,
        "You added the four differences. Divide by four.": 4 * right,
        _INCHES: convert(right, "mm", "in"),
    }
    return number_reply(
        answer_mm,
        right,
        mistakes,
        unit="mm",
        tolerance=0.03,
        because=f"The means are {number(inner)} and {number(outer)} mm.",
        hint="Add the four corners of a pad and divide by four. Do so for both pads. Subtract.",
    )


def taper_reply(answer_mm: float, pad: PadReading, along: Literal["length", "height"]) -> Reply:
    """Judge the taper of one pad, ``"length"`` or ``"height"``."""
    lengthwise = along == "length"
    right = taper_mm(pad, along)
    across = taper_mm(pad, "height" if lengthwise else "length")
    one, two = _differences(pad, lengthwise)
    other = "in height" if lengthwise else "lengthwise"
    corners = pad.corners_mm
    mistakes = {
        f"That is the taper {other}. This one was asked the other way.": across,
        "That is the smaller of the two differences. The larger one counts.": min(abs(one), abs(two)),
        "That is the mean of the two differences. The larger one counts.": (abs(one) + abs(two)) / 2,
        "You added the two differences. The larger one counts.": abs(one) + abs(two),
        "You went from corner to corner across the pad. Stay on one edge, or at one end.": max(corners)
        - min(corners),
        "That is the thinnest corner. A taper is a difference.": min(corners),
        "That is the thickest corner. A taper is a difference.": max(corners),
        _INCHES: convert(right, "mm", "in"),
    }
    where = ("outer edge", "inner edge") if lengthwise else ("leading end", "trailing end")
    return number_reply(
        answer_mm,
        right,
        mistakes,
        unit="mm",
        tolerance=0.04,
        because=f"{number(abs(one), 1)} mm at the {where[0]} and {number(abs(two), 1)} mm at the {where[1]}: "
        "the larger counts.",
        hint=f"Subtract along the {where[0]}, then along the {where[1]}, and take the larger difference.",
        places=1,
    )


def _differences(pad: PadReading, lengthwise: bool) -> tuple[float, float]:
    leading_outer, leading_inner, trailing_outer, trailing_inner = pad.corners_mm
    if lengthwise:
        return leading_outer - trailing_outer, leading_inner - trailing_inner
    return leading_outer - leading_inner, trailing_outer - trailing_inner


def life_of(case: PadCase, which: Which = "inner pad") -> RemainingDistance:
    """Return how far a pad of a case still goes, by its thinnest corner."""
    pad, spec = case.inner if which == "inner pad" else case.outer, case.brake.pad
    return remaining_km(
        spec.lining_new_mm, smallest_lining_mm(pad), spec.minimum_mm, case.km, case.gauge.standard_uncertainty
    )


def distance_reply(answer_km: float, case: PadCase, which: Which = "inner pad") -> Reply:
    """Judge how far a pad still goes."""
    pad, spec = case.inner if which == "inner pad" else case.outer, case.brake.pad
    now, best, plate = smallest_lining_mm(pad), max(pad.corners_mm), case.gauge.plate_mm
    right = life_of(case, which).likely_km
    rate = (spec.lining_new_mm - now) / case.km

    def to_go(lining: float) -> float:
        worn = spec.lining_new_mm - lining
        return case.km * max(0.0, lining - spec.minimum_mm) / worn if worn > 0 else 0.0

    mistakes = {
        "You ran the lining down to bare steel. Stop at the minimum.": now / rate,
        "You used the best corner. The thinnest corner reaches the minimum first.": to_go(best),
        "You counted the backing plate as lining.": (now + plate - spec.minimum_mm) / rate,
        "That is how far the pads have gone already.": case.km,
        "That is the whole life of the pads. Subtract what they have gone already.": right + case.km,
        "That is in miles. The answer was asked in kilometres.": convert(right, "km", "mi"),
    }
    return number_reply(
        answer_km,
        right,
        mistakes,
        unit="km",
        tolerance=max(100.0, _KM_SHARE * right),
        because=f"{number(now - spec.minimum_mm, 1)} mm are left, and each 1000 km take "
        f"{number(1000 * rate, 3)} mm.",
        hint="Divide what is left above the minimum by what each 1000 km take, times 1000.",
    )


def corners_words(pad: PadReading) -> str:
    """Return the four corners in one line.

    >>> corners_words(PadReading(6.2, 6.0, 5.0, 4.8))
    '6.2, 6.0, 5.0 and 4.8 mm'
    """
    *first, last = (number(one, 1) for one in pad.corners_mm)
    return f"{', '.join(first)} and {last} mm"


def interval_words(life: RemainingDistance) -> str:
    """Say how far, and between which bounds.

    >>> interval_words(RemainingDistance(24000.0, 21400.0, 26800.0)).replace(chr(160), " ")
    'About 24000 km (14900 miles); 95 times in 100 between 21400 km (13300 miles) and 26800 km (16700 miles).'
    """
    if life.high_km == float("inf"):
        return "Too little has worn off to tell."
    likely, low, high = map(_hundreds, life)
    return f"About {likely}; 95 times in 100 between {low} and {high}."


def _hundreds(distance_km: float) -> str:
    """Write a distance to the nearest hundred, in km and in miles: the gauge promises no more."""
    km, miles = (100 * round(one / 100) for one in (distance_km, convert(distance_km, "km", "mi")))
    return f"{km}\N{NO-BREAK SPACE}km ({miles}\N{NO-BREAK SPACE}miles)"
