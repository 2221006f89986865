"""Replies to what a learner finds on a practice rotor."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean
from typing import Literal

from brakecourse.published import convert
from brakecourse.trade.rotor import (
    RotorFinding,
    RotorSpec,
    harmonics,
    machining_allowance_mm,
    run_out_mm,
    smallest_mm,
    thickness_variation_mm,
)
from brakecourse.views.replies import Reply, near, value_reply
from brakecourse.views.words import mm, number

Shape = Literal["one hill", "several hills"]


def run_out_reply(answer_mm: float, seated_mm: Sequence[float], loose_mm: Sequence[float]) -> Reply:
    """Judge a total run-out.

    One line of the dial either way is let pass, for the eye between two lines. So is the total of the
    eight places alone, which can miss a little between them; the reply says so.

    Args:
        answer_mm: what the learner typed.
        seated_mm: the dial's readings at every degree of one turn, wheel nuts fitted.
        loose_mm: the same with the rotor hanging loose.
    """
    expected, at_places = run_out_mm(seated_mm), run_out_mm(seated_mm[:: len(seated_mm) // 8])
    tolerance = 0.01 if at_places >= 0.04 else 0.005
    if not near(answer_mm, expected, tolerance) and near(answer_mm, at_places, tolerance):
        return Reply(
            True,
            f"Right for the eight places: {mm(at_places)}. "
            f"Between two places the needle goes a little farther: the whole turn gives {mm(expected)}.",
        )
    return value_reply(
        answer_mm,
        expected,
        {
            "half_of_total": expected / 2,
            "nuts_not_seated": run_out_mm(loose_mm),
            "highest_alone": max(seated_mm),
            "ten_times": 10 * expected,
            "inches_for_millimetres": convert(expected, "mm", "in"),
        },
        because=(
            f"Highest reading {number(max(seated_mm))}, lowest {number(min(seated_mm))}: "
            "the total is the distance between them."
        ),
        hint="Are all wheel nuts fitted? Note the highest and the lowest reading, and subtract.",
        tolerance_mm=tolerance,
    )


def curve_shape(readings_mm: Sequence[float]) -> Shape | None:
    """Return the shape of a turn's dial readings: one hill, several, or None when it is neither clearly.

    Source:
        A tilted disc gives one wave a turn (geometry). How much larger one wave must be than the others
        to be seen as the shape is the course's own choice.

    >>> curve_shape([0.0, 0.03, 0.05, 0.03, 0.0, -0.03, -0.05, -0.03])
    'one hill'
    >>> curve_shape([0.0, 0.05, 0.0, -0.05, 0.0, 0.05, 0.0, -0.05])
    'several hills'
    """
    first, *others = (wave.amplitude for wave in harmonics(readings_mm))
    if first > 2 * max(others):
        return "one hill"
    return "several hills" if max(others) > 1.3 * first else None


def shape_reply(chosen: Shape, readings_mm: Sequence[float]) -> Reply:
    """Judge the shape that a learner sees in a curve, and say what it means for the rotor."""
    shape = curve_shape(readings_mm)
    if shape == "one hill":
        if chosen != shape:
            return Reply(False, "Not yet. Follow the curve once round: it rises once and falls once.")
        high, low = (readings_mm.index(end) + 1 for end in (max(readings_mm), min(readings_mm)))
        return Reply(
            True,
            f"Right: one hill, at place {high}, and one valley, at place {low}. The rotor sits tilted. "
            "Take it off, clean rust and dirt from its seat, and measure again before you cut anything.",
        )
    if chosen != "several hills":
        return Reply(False, "Not yet. Follow the curve once round: it rises more than once.")
    return Reply(
        True,
        "Right: several hills in one turn. The face itself is uneven, so cleaning the seat will not cure it.",
    )


def ridge_reply(answer_mm: float, ridge_mm: float, track_mm: float) -> Reply:
    """Judge by how much a reading on the ridge is larger than one on the track."""
    hidden = round(ridge_mm - track_mm, 4)
    return value_reply(
        answer_mm,
        hidden,
        {"one_face_only": hidden / 2, "wrong_sign": -hidden},
        because=(
            f"The ridge reads {number(ridge_mm)}, the track {number(track_mm)}. "
            "Whoever measures on the ridge keeps worn rotors."
        ),
        hint="Move the anvils to both places, note both readings, and subtract.",
    )


def smallest_reply(answer_mm: float, readings_mm: Sequence[float], ridge_mm: float) -> Reply:
    """Judge the smallest of the thickness readings."""
    smallest = smallest_mm(readings_mm)
    return value_reply(
        answer_mm,
        smallest,
        {
            "largest_for_smallest": max(readings_mm),
            "mean_for_minimum": round(fmean(readings_mm), 2),
            "on_the_ridge": ridge_mm,
            "inches_for_millimetres": convert(smallest, "mm", "in"),
        },
        because=f"Place {readings_mm.index(smallest) + 1} is the thinnest, and the thinnest place decides.",
        hint="Look for the smallest of the eight readings.",
    )


def variation_reply(answer_mm: float, readings_mm: Sequence[float]) -> Reply:
    """Judge the thickness variation."""
    variation = thickness_variation_mm(readings_mm)
    return value_reply(
        answer_mm,
        variation,
        {
            "half_of_total": variation / 2,
            "ten_times": 10 * variation,
            "inches_for_millimetres": convert(variation, "mm", "in"),
        },
        because=f"Largest {number(max(readings_mm))} minus smallest {number(min(readings_mm))}.",
        hint="Subtract the smallest of the eight readings from the largest.",
        tolerance_mm=0.002,
    )


def allowance_reply(answer_mm: float, readings_mm: Sequence[float], spec: RotorSpec) -> Reply:
    """Judge how much metal may come off."""
    allowance = machining_allowance_mm(readings_mm, spec.machine_to_mm)
    smallest = smallest_mm(readings_mm)
    return value_reply(
        answer_mm,
        allowance,
        {
            "discard_for_machine_to": smallest - spec.discard_mm,
            "mean_for_minimum": round(fmean(readings_mm) - spec.machine_to_mm, 2),
            "largest_for_smallest": max(readings_mm) - spec.machine_to_mm,
            "one_face_only": allowance / 2,
        },
        because=(
            f"Smallest thickness {number(smallest)} minus machine-to thickness {number(spec.machine_to_mm)}, "
            "both faces together."
            if allowance
            else "The rotor is already at the machine-to thickness or below it: nothing may come off."
        ),
        hint="Subtract the machine-to thickness from the smallest thickness. Below zero counts as 0.",
    )


def left_reply(answer_mm: float, finding: RotorFinding) -> Reply:
    """Judge how thick a rotor would be after a cut that trues it."""
    machining = next(reason for reason in finding.reasons if reason.check == "machining")
    smallest, variation, run_out = finding.smallest_mm, finding.variation_mm, finding.run_out_mm
    return value_reply(
        answer_mm,
        machining.measured_mm,
        {
            "run_out_forgotten": smallest - variation,
            "variation_forgotten": smallest - run_out,
            "one_face_only": smallest - (variation + run_out) / 2,
        },
        because=(
            f"{number(smallest)} minus variation {number(variation)} minus run-out {number(run_out)}. "
            f"{machining.words}"
        ),
        hint="Take the smallest thickness, subtract the variation, then subtract the run-out.",
    )
