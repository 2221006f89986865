"""10.5, 10.7 and 10.8: the flake at the track, the run-out in each position, the best position."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from brakecourse.marking import basis, slips
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m10_hub_and_rotor_fit.truth import ASKED_STUDS, FitTruth
from brakecourse.trade.conformity import combine
from brakecourse.trade.hub_fit import RunOut, debris_run_out_mm
from brakecourse.views.words import mm, number

slip = slips.slip

ROUNDING_MM = 0.005
"""An answer to 0.01 mm is off by up to half of that. The hub's run-out at the track may be rounded alike on
the way to a position, as the lesson does."""

TOLD_APART_MM = 0.001
"""Two mistakes that come nearer than this at most places are told as the likelier one."""

RATIO_ROUNDING = 0.005
"""The ratio of the two radii may be written with two decimal places."""


def flake(truth: FitTruth, _given: Given) -> Basis:
    """10.5: what the flake alone makes at the track."""
    thick, seat, track = truth.flake_mm, truth.seat_mm, truth.track_mm
    right = debris_run_out_mm(thick, seat, track)
    how = f"{_radii(truth)} The flake times r ÷ s: {number(thick)} × {track:g} ÷ {seat:g} = {mm(right)}."
    return basis.number(
        right,
        combine(ROUNDING_MM, RATIO_ROUNDING * thick),
        (
            slip("flake_for_run_out", thick, ROUNDING_MM / 2),
            slip("diameter_for_radius", right * _mixed(truth), ROUNDING_MM),
            slip("radii_inverted", thick * seat / track, ROUNDING_MM),
            slip("radii_inverted", thick * seat / track / _mixed(truth), ROUNDING_MM),
            *slips.of_any_length(right, ROUNDING_MM),
        ),
        how=how,
    )


def positions(truth: FitTruth, _given: Given) -> Basis:
    """10.7: hub and rotor together, turned on by 1, 2 and 3 studs."""
    right = [truth.together_mm(truth.hub, index) for index in ASKED_STUDS]
    found = [
        slip(name, value, ROUNDING_MM).model_copy(update={"place": place})
        for name, row in _told_apart(_position_slips(truth)).items()
        for place, value in enumerate(row, start=1)
    ]
    # The hub's run-out at the track may be rounded on the way, and arrows may be drawn to scale and measured.
    near = combine(ROUNDING_MM, ROUNDING_MM)
    return basis.table(right, near, found, how=_positions_how(truth, right), places=3)


def _position_slips(truth: FitTruth) -> dict[str, tuple[float, ...]]:
    """Return the row that each mistake gives, the likeliest first."""
    hub, seat, track = truth.hub, truth.at_seat, truth.track_mm / truth.seat_mm
    other = {
        "hub_at_seat": seat,
        "diameter_for_radius": RunOut(hub.total_mm * _mixed(truth), hub.high_deg),
        "radii_inverted": RunOut(seat.total_mm / track, hub.high_deg),
    }
    one_value = {
        "rotor_not_turned": truth.together_mm(hub, 0),
        "sizes_added": hub.total_mm + truth.rotor_mm,
        "sizes_subtracted": abs(hub.total_mm - truth.rotor_mm),
    }
    return {
        **{
            name: tuple(truth.together_mm(arrow, index) for index in ASKED_STUDS)
            for name, arrow in other.items()
        },
        "turned_other_way": tuple(truth.together_mm(hub, -index) for index in ASKED_STUDS),
        **{name: (value,) * len(ASKED_STUDS) for name, value in one_value.items()},
    }


def _told_apart(rows: Mapping[str, tuple[float, ...]]) -> dict[str, tuple[float, ...]]:
    """Leave out a mistake that gives, at most places, what a likelier one gives."""
    kept: dict[str, tuple[float, ...]] = {}
    for name, row in rows.items():
        alike = [
            sum(abs(one - other) <= TOLD_APART_MM for one, other in zip(row, sooner, strict=True))
            for sooner in kept.values()
        ]
        if all(2 * count < len(row) for count in alike):
            kept[name] = row
    return kept


def best(truth: FitTruth, given: Given) -> Basis:
    """10.8: how many studs the rotor is turned on for the least run-out."""
    table = truth.positions_mm(given.number("10.6"), given.row("10.7"))
    index = least_at(table)
    worst = max(range(truth.studs), key=lambda place: table[place])
    told = ", ".join(f"{place}: {number(value)} mm" for place, value in enumerate(table))
    return basis.number(
        float(index),
        0.0,
        (
            slip("worst_position", float(worst), 0.0),
            slip("turned_other_way", float(-index % truth.studs), 0.0),
            slip("counted_from_one", index + 1.0, 0.0),
            slip("run_out_for_studs", table[index], ROUNDING_MM),
        ),
        how=f"By studs turned on: {told}. The least is {mm(table[index])}, turned on by {index}.",
        places=0,
        reach=float(truth.studs),
    )


def least_at(table_mm: Sequence[float]) -> int:
    """Return the position with the least run-out; of equals the one with the fewest studs."""
    return min(range(len(table_mm)), key=lambda place: (round(table_mm[place], 6), place))


def _mixed(truth: FitTruth) -> float:
    """Return by how much an answer is off when the diameter that is given is taken for a radius."""
    return 0.5 if truth.seat_as == "diameter" else 2.0


def _radii(truth: FitTruth) -> str:
    """Say how the radius comes from the diameter that is given."""
    name, radius = ("s", truth.seat_mm) if truth.seat_as == "diameter" else ("r", truth.track_mm)
    return f"One of the two is given as a diameter: {name} = {2 * radius:g} ÷ 2 = {mm(radius, 1)}."


def _positions_how(truth: FitTruth, right: Sequence[float]) -> str:
    hub, rotor, step = truth.hub, truth.rotor, 360 / truth.studs
    told = [
        f"{_radii(truth)} The hub at the track: {number(truth.flange_mm, 3)} × {truth.track_mm:g} ÷ "
        f"{truth.seat_mm:g} = {mm(hub.total_mm, 3)}, at {hub.high_deg:.0f}°. From stud to stud the rotor's "
        f"arrow of {mm(rotor.total_mm)} turns on by 360° ÷ {truth.studs} = {step:g}°."
    ]
    for index, value in zip(ASKED_STUDS, right, strict=True):
        points = (rotor.high_deg + index * step) % 360
        apart = abs((points - hub.high_deg + 180) % 360 - 180)
        told.append(
            f"{index}: it points at {points:.0f}°, {apart:.0f}° from the hub's, and together they make "
            f"{mm(value, 3)}."
        )
    return " ".join(told)
