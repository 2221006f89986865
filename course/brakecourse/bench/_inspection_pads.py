"""Checks of the pads with the wheels off, the calipers still on."""

from __future__ import annotations

from statistics import fmean

from brakecourse.bench._inspection_base import Seen, ShopCheck, band, first_noticed, judged, shop_check
from brakecourse.bench.draw import Draw
from brakecourse.trade.pads import PadReading

# How surely an eye judges, and from where it counts. All assumptions, no source.
THROUGH_WINDOW_MM = 0.25
UNLIKE_MM, NEAR_MINIMUM_MM = 0.7, 1.5
TAPER_SD_MM, TAPERED_MM = 0.2, 0.7
RUST_SPREAD, RUST_MM = 0.25, 0.26


def _mean_mm(pad: PadReading) -> float:
    return fmean(pad.corners_mm)


def _pair(seen: Seen, draw: Draw) -> str:
    apart = [
        _mean_mm(one.pads.inner) - _mean_mm(one.pads.outer) + draw.normal(0.0, THROUGH_WINDOW_MM)
        for one in seen.condition.wheels
    ]
    most = max(apart, key=abs)
    if abs(most) < UNLIKE_MM:
        return "alike"
    return "inner_thinner" if most < 0 else "outer_thinner"


_PAIR = {
    "alike": "Inner and outer pad of each wheel are about as thick",
    "inner_thinner": "At one wheel the inner pad is clearly thinner than the outer one",
    "outer_thinner": "At one wheel the outer pad is clearly thinner than the inner one",
}


def _lining(seen: Seen, draw: Draw) -> str:
    left = [
        min(*one.pads.inner.corners_mm, *one.pads.outer.corners_mm)
        - brake.pad.minimum_mm
        + draw.normal(0.0, THROUGH_WINDOW_MM)
        for brake, one in zip(seen.brakes, seen.condition.wheels, strict=True)
    ]
    return band(min(left), (0.0, NEAR_MINIMUM_MM), ("below", "near", "enough"))


_LINING = {
    "enough": "Every lining is well above its minimum",
    "near": "The thinnest lining is close to its minimum",
    "below": "The thinnest lining is below its minimum",
}


def _tapers_mm(pad: PadReading) -> tuple[float, float]:
    """How much thicker a lining is at its leading end, and at its inner edge."""
    along = pad.leading_outer_mm + pad.leading_inner_mm - pad.trailing_outer_mm - pad.trailing_inner_mm
    across = pad.leading_inner_mm + pad.trailing_inner_mm - pad.leading_outer_mm - pad.trailing_outer_mm
    return along / 2, across / 2


def _taper(seen: Seen, draw: Draw) -> str:
    outers, inners, acrosses = [], [], []
    for one in seen.condition.wheels:
        outer, inner = _tapers_mm(one.pads.outer), _tapers_mm(one.pads.inner)
        outers.append(outer[0] + draw.normal(0.0, TAPER_SD_MM))
        inners.append(inner[0] + draw.normal(0.0, TAPER_SD_MM))
        acrosses.append(max(outer[1], inner[1]) + draw.normal(0.0, TAPER_SD_MM))
    worst = max(range(len(outers)), key=lambda place: abs(outers[place]))
    if abs(outers[worst]) >= TAPERED_MM:
        opposite = outers[worst] * inners[worst] < 0 and abs(inners[worst]) >= TAPERED_MM / 2
        return "opposite" if opposite else "outer_only"
    return "across" if max(acrosses) >= TAPERED_MM else "even"


_TAPER = {
    "even": "Every lining is about as thick all over",
    "opposite": "At one wheel both linings are thinner at one end, the two at opposite ends",
    "outer_only": "At one wheel the outer lining alone is thinner at one end",
    "across": "At one wheel the linings are thinner along one long edge",
}


def _soil(seen: Seen, draw: Draw) -> str:
    faces = {
        look for one in seen.condition.wheels for look in (*one.pads.inner_surface, *one.pads.outer_surface)
    }
    there = (
        ("greasy", "contaminated with grease" in faces),
        ("wet", "contaminated with brake fluid" in faces),
    )
    return first_noticed(there, draw, "clean")


_SOIL = {
    "clean": "The edges of the pads are dry and clean",
    "greasy": "The edges of the pads of one wheel are greasy",
    "wet": "The edge of a pad is wet with brake fluid",
}


def _seats(seen: Seen, draw: Draw) -> str:
    rust = [
        judged(rust_mm, RUST_SPREAD, draw)
        for one in seen.condition.wheels
        for rust_mm in one.caliper.clip_rust_mm
    ]
    return band(max(rust), (RUST_MM,), tuple(_SEATS))


_SEATS = {
    "clean": "The pads' clips lie flat on their brackets",
    "rusty": "Rust has lifted a clip off its bracket",
}

PADS: tuple[ShopCheck, ...] = (
    shop_check("pad_pair", "Through the caliper's window: compare inner and outer pad", 6, _PAIR, _pair),
    shop_check("pad_lining", "Through the caliper's window: judge the thinnest lining", 4, _LINING, _lining),
    shop_check("pad_taper", "Look along the pads' edges: are the linings even?", 6, _TAPER, _taper),
    shop_check("pad_soil", "Look at the edges of the pads for grease and fluid", 4, _SOIL, _soil),
    shop_check("pad_seats", "Look at the clips that the pads sit in", 5, _SEATS, _seats),
)
"""Checks of the pads, the calipers on."""
