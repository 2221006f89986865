"""The worked example of the lesson on pads: one wheel, shown step by step."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.pad_cases import CORNERS, PadCase
from brakecourse.views.pad_replies import how_measured, interval_words, life_of
from brakecourse.views.pad_sums import thinner
from brakecourse.views.pad_view import (
    Which,
    gauge_picture,
    hands_table,
    limits_table,
    readings_table,
    wheel_picture,
    wheel_words,
)
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.units import both
from brakecourse.views.words import mm

ACTION_WORDS = {
    "keep": "Keep the pads",
    "measure again": "Measure again, or with a finer gauge",
    "find the cause": "Keep them for now, and put the cause right",
    "replace": "New pads at both wheels of the axle",
}


def show_wheel(case: PadCase) -> Shown:
    """Show what is known before measuring: vehicle, wheel, distance, limits."""
    spec = case.brake.pad
    rows = [
        ("Fact", "Value"),
        ("Vehicle", f"{case.vehicle.name}, {case.vehicle.fleet_number} (invented)"),
        ("Wheel", case.wheel),
        ("Caliper", case.brake.caliper.kind),
        ("Gone since the pads were new", both(case.km, "km")),
        ("Lining when new", mm(spec.lining_new_mm, 1)),
        *limits_table(case)[1:],
    ]
    return _listed("What we know before we measure", rows)


def show_gauge(case: PadCase, which: Which, corner: int, *, uid: str) -> Shown:
    """Show the depth gauge at one corner, and how it is read.

    Args:
        case: the pads.
        which: ``"inner pad"`` or ``"outer pad"``.
        corner: 1 to 4, in the order of ``CORNERS``.
        uid: a word that no other drawing on the page has.
    """
    shown = (case.inner_mm if which == "inner pad" else case.outer_mm)[corner - 1]
    view = f"{CORNERS[corner - 1].split(', ')[1]}"
    title = f"The {which}, {CORNERS[corner - 1]}"
    return _drawn(title, how_measured(shown, case), gauge_picture(case, which, view, corner - 1, uid))


def show_readings(case: PadCase, *, uid: str) -> Shown:
    """Show both pads beside the rotor with all readings."""
    svg = wheel_picture(case, uid)
    title, words = "Both pads, all eight corners", wheel_words(case)
    rows = readings_table(case)
    lines = "\n".join(" | ".join(row) for row in rows[1:])
    return Shown(f"{caption(title, words)}\n{lines}", figure(svg, title, words, table(rows)), svg)


def show_checks(case: PadCase) -> Shown:
    """Show every check of the pads in order, and what to do."""
    rows = [("Check", "What it says")]
    rows += [(f"{one.check}, {one.place}", one.words.partition(": ")[2]) for one in case.finding.evidence]
    rows.append(("Pattern", case.finding.pattern))
    rows.append(("What to do", f"{ACTION_WORDS[case.finding.action]}."))
    return _listed("The readings against the limits", rows)


def show_hands(case: PadCase) -> Shown:
    """Show what hands and eyes find at the wheel, beside the axle's other wheel."""
    return _listed("This wheel and the axle's other wheel", hands_table(case))


def show_life(case: PadCase) -> Shown:
    """Show how far the thinnest corner still goes."""
    words = interval_words(life_of(case, thinner(case)))
    return Shown(words, f"<p>{words}</p>")


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: Sequence[Sequence[str]]) -> Shown:
    lines = [" | ".join(row) for row in rows[1:]]
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")
