"""What the course replies to answers about flakes, radii and positions: pure functions, words out."""

from __future__ import annotations

from collections.abc import Mapping

from brakecourse.trade.hub_fit import RunOut, best_index, debris_run_out_mm, stack_run_out_mm
from brakecourse.views.drawings.rotor_index import studs_on
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.words import mm, number

TOLERANCE_MM = 0.006
"""A little more than half a line of the dial."""


def flake_reply(answer_mm: float, flake_mm: float, seat_mm: float, radius_mm: float) -> Reply:
    """Judge the run-out that a flake makes at the track.

    Args:
        answer_mm: what was typed.
        flake_mm: thickness of the flake.
        seat_mm, radius_mm: seat radius and measuring radius.

    >>> flake_reply(0.05, 0.05, 66, 116).words[:41]
    'Not yet. That is the thickness of the fla'
    """
    right = debris_run_out_mm(flake_mm, seat_mm, radius_mm)
    ratio = f"{radius_mm:g} ÷ {seat_mm:g} = {number(radius_mm / seat_mm)}"
    slips = {
        "That is the thickness of the flake. The track lies further out than the seat, so the face "
        f"swings more there. Multiply by r ÷ s: {ratio}.": flake_mm,
        "That is half of it. Either you divided by the seat's diameter, and the sum wants its radius; or "
        "you took half of the swing, and run-out is the whole swing.": right / 2,
        "That is twice as much. You took the diameter of the dial's circle. The sum wants both radii.": 2
        * right,
        "You divided the wrong way round. The track lies further out, so the run-out is larger than the "
        f"flake. Multiply by r ÷ s: {ratio}.": flake_mm * seat_mm / radius_mm,
    }
    return length_reply(
        answer_mm,
        right,
        slips,
        because=flake_sum(flake_mm, seat_mm, radius_mm),
        hint=f"Multiply the flake's thickness by r ÷ s: {ratio}.",
    )


def length_reply(
    answer_mm: float,
    right_mm: float,
    slips: Mapping[str, float],
    *,
    because: str,
    hint: str,
    tolerance_mm: float = TOLERANCE_MM,
) -> Reply:
    """Judge a small length. Of several slips that come near, the nearest is named.

    Args:
        answer_mm: what was typed.
        right_mm: the right value.
        slips: for each slip's sentence, the value that it would have given.
        because: how the right value comes about.
        hint: where to look again.
        tolerance_mm: how far off still counts as right.
    """
    nearest_first = dict(sorted(slips.items(), key=lambda slip: abs(slip[1] - answer_mm)))
    return number_reply(
        answer_mm,
        right_mm,
        nearest_first,
        unit="mm",
        tolerance=tolerance_mm if right_mm else 0.001,
        because=because,
        hint=hint,
    )


def flake_sum(flake_mm: float, seat_mm: float, radius_mm: float) -> str:
    """Write the sum out.

    >>> flake_sum(0.05, 66, 116)
    'The flake times r ÷ s: 0.05 × 116 ÷ 66 = 0.088 mm.'
    """
    right = debris_run_out_mm(flake_mm, seat_mm, radius_mm)
    return f"The flake times r ÷ s: {number(flake_mm)} × {radius_mm:g} ÷ {seat_mm:g} = {number(right, 3)} mm."


def position_reply(answer: float, hub: RunOut, rotor: RunOut, studs: int) -> Reply:
    """Judge which position is best.

    Args:
        answer: how many studs the learner turns the rotor on.
        hub, rotor: their run-outs at the track.
        studs: how many positions there are.
    """
    best, least, table = best_index(hub, rotor, studs)
    if answer != int(answer) or not 0 <= answer < studs:
        return Reply(
            False,
            f"Not yet. The rotor can be turned on by 0 to {studs - 1} whole studs; "
            f"by {studs} it stands where it began.",
        )
    index = int(answer)
    here = stack_run_out_mm(hub, rotor, index, studs)
    if here <= least + 1e-9:
        return Reply(
            True,
            f"Right: {studs_on(best)}. There the arrows of hub and rotor work most against each other, and "
            f"{mm(least)} is left. Without turning it was {mm(table[0])}.",
        )
    if index == (studs - best) % studs:
        return Reply(False, "Not yet. You counted the other way round. Count as the numbers of the studs go.")
    if here >= max(table) - 1e-9:
        return Reply(
            False,
            "Not yet. That is the worst position: the two arrows help each other there, and make "
            f"{mm(here)}.",
        )
    return Reply(
        False, f"Not yet. There the two make {mm(here)}. Another position leaves less: try each of them."
    )
