"""What the customer says follows from what can be felt, and gives nothing away."""

from __future__ import annotations

import re

import pytest
from brakecourse.bench import complaints, motor_pool
from brakecourse.bench.cases import draw_case
from brakecourse.bench.complaints import complaint
from brakecourse.bench.draw import Draw
from brakecourse.bench.faults import (
    EvenWear,
    Fault,
    Grooves,
    HeatSpots,
    HubRunOut,
    VariationFromRunOut,
    apply,
)
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.published import convert, value

VAN = motor_pool()["library_van"]
NEW = RotorCondition(
    nominal_mm=28.0, outer_radius_mm=145, inner_radius_mm=92, measuring_radius_mm=118.5, studs=5
)

EVERY = {complaints._PULSES, complaints._SHUDDERS, complaints._SHAKES, complaints._SCRAPES}


def said(*faults: Fault) -> set[str]:
    condition = apply(NEW, faults)
    return {complaint(VAN, faults, condition, Draw(seed)) for seed in range(60)}


def test_what_is_felt_starts_where_the_published_figure_says() -> None:
    # Source: a rotor maker's technical article (row dtv_judder_high, read).
    row = value("dtv_judder_high")
    assert row.how_known == "read"
    assert convert(row.value, row.unit, "mm") == pytest.approx(complaints.FELT_VARIATION_MM)


@pytest.mark.parametrize(
    ("faults", "ways"),
    [
        ((HubRunOut(0.05, 74, 0), VariationFromRunOut(15_000)), (complaints._PULSES, complaints._SHAKES)),
        ((HeatSpots(4, 0.05, 0),), (complaints._SHUDDERS,)),
        ((HubRunOut(0.08, 74, 0),), (complaints._SHAKES,)),
        ((Grooves(0.3, 0.2),), (complaints._SCRAPES,)),
    ],
)
def test_each_fault_is_told_as_it_is_felt(
    faults: tuple[Fault, ...], ways: tuple[tuple[str, ...], ...]
) -> None:
    for text in said(EvenWear(1.0), *faults):
        assert all(any(way in text for way in known) for known in ways)
        others = EVERY - set(ways)
        assert not any(way in text for known in others for way in known)


def test_what_cannot_be_felt_is_not_told() -> None:
    for text in said(EvenWear(1.0), HubRunOut(0.01, 74, 0), VariationFromRunOut(2000)):
        assert text.endswith("Its driver has noticed nothing.")


def test_there_is_more_than_one_way_to_say_it() -> None:
    assert len(said(EvenWear(1.0))) == len(complaints._REASONS)


def test_no_complaint_gives_away_a_cause_or_an_answer() -> None:
    told = r"run-out|variation|thick|\bthin|discard|machine|replace|keep\b|hub|spot|groove|ridge|mm\b"
    for seed in range(150):
        case = draw_case(seed)
        text = case.complaint
        assert case.vehicle.name in text and case.vehicle.fleet_number in text
        assert not re.search(told, text.replace(case.vehicle.name, ""))
        assert 1 <= text.count(". ") + text.endswith(".") <= 2
