"""Module 06: ways and volumes worked by hand, decisions read back from the drawings, a published volume."""

from __future__ import annotations

import math
from html import unescape
from typing import Any

import pint
import pytest
from brakecourse.bench.draw import Draw
from brakecourse.marking import SealedCase, judge
from brakecourse.marking.basis import ARROW
from brakecourse.marking.given import Given
from brakecourse.marking.paper import paper
from brakecourse.marking.papers.job_steps import MISTAKES, words
from brakecourse.marking.papers.m06_caliper_off.key import volume
from brakecourse.marking.papers.m06_caliper_off.sheet import sheet
from brakecourse.marking.papers.m06_caliper_off.truth import CaliperTruth, draw
from brakecourse.published import convert, value
from brakecourse.views.bleeder_table import AFTER, BEFORE, MOMENTS, OPEN, SHUT

from tests.marking.study import cases
from tests.units import pints_units

MODULE = "06_caliper_off"
PAPER = paper(MODULE)
CASES = list(cases(MODULE, 10))
each_case = pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
U: pint.UnitRegistry[Any] = pints_units()


def truth_of(case: SealedCase) -> CaliperTruth:
    return CaliperTruth.model_validate(case.truth)


def expected(case: SealedCase, question: str) -> Any:
    asked = case.question(question)
    assert asked is not None
    return asked.expected


def by_hand(truth: CaliperTruth) -> tuple[float, float, float]:
    """Way in mm, one caliper's fluid in mL and both wheels' rise in mm, in metres on the way."""
    way = (truth.new_mm - truth.inner_mm + truth.new_mm - truth.outer_mm) / 1000
    fluid = truth.pistons * math.pi * (truth.bore_mm / 2000) ** 2 * way
    return 1000 * way, 1e6 * fluid, 1000 * 2 * fluid / (truth.area_mm2 / 1e6)


def right(case: SealedCase) -> dict[str, object]:
    way, fluid, rise = by_hand(truth_of(case))
    reading = truth_of(case).level.reading
    return {"6.1": round(way, 1), "6.2": round(fluid, 1), "6.3": reading, "6.4": round(rise, 1)}


# --- ways and volumes --------------------------------------------------------------------------------


@each_case
def test_ways_and_volumes_are_those_worked_by_hand(case: SealedCase) -> None:
    for question, worked in zip(("6.1", "6.2", "6.4"), by_hand(truth_of(case)), strict=True):
        assert expected(case, question) == pytest.approx(worked, rel=1e-9)
        assert judge(case, question, round(worked, 1), right(case)).status == "right"


@each_case
def test_school_pi_and_rounded_steps_are_still_right(case: SealedCase) -> None:
    truth = truth_of(case)
    area = round(3.14 / 4 * truth.bore_mm**2)
    fluid = round(truth.pistons * area * expected(case, "6.1") / 1000, 1)
    rise = round(2 * fluid * 1000 / truth.area_mm2, 1)
    for own in ({}, right(case), {**right(case), "6.2": fluid}):
        assert judge(case, "6.2", fluid, own).status == "right"
        if own.get("6.2") == fluid or not own:
            assert judge(case, "6.4", rise, own).status == "right"


def test_a_published_volume_comes_out_of_the_same_question() -> None:
    """The published engine of eight cylinders (swept_volume in published): bore, way and number alone."""
    bore, way = (convert(value(f"swept_{one}").value, "in", "mm") for one in ("bore", "stroke"))
    truth = truth_of(CASES[0])
    engine = truth.model_copy(
        update={"bore_mm": bore, "pistons": 8, "new_mm": way, "inner_mm": way / 2, "outer_mm": way / 2}
    )
    fluid = volume(engine, Given(engine, PAPER.key, CASES[0].choices)).expected
    cubic_inches = (fluid * U.milliliter).to("inch**3").magnitude
    assert cubic_inches == pytest.approx(value("swept_volume").value, rel=2e-3)


@each_case
def test_the_level_is_the_nearest_line(case: SealedCase) -> None:
    shown = truth_of(case).level.indication
    nearest = min(range(101), key=lambda line: abs(line - shown))
    assert expected(case, "6.3") == nearest
    assert judge(case, "6.3", nearest, {}).status == "right"
    assert judge(case, "6.3", nearest + 3, {}).status == "wrong"


@each_case
def test_mistakes_worked_apart_are_named(case: SealedCase) -> None:
    truth = truth_of(case)
    way, fluid, rise = by_hand(truth)
    one_of_two = "one_piston_only" if truth.pistons == 2 else "one_pad_for_two"
    named: tuple[tuple[str, float, str, float], ...] = (
        ("6.1", truth.new_mm - truth.inner_mm, "one_pad_for_two", 0),
        ("6.1", truth.new_mm - truth.outer_mm, "one_pad_for_two", 0),
        ("6.1", truth.inner_mm + truth.outer_mm, "lining_left", 0),
        ("6.1", 2 * (truth.new_mm - truth.least_mm), "down_to_the_least", 0),
        ("6.1", 2 * truth.new_mm, "whole_lining", 0),
        ("6.2", 4 * fluid, "bore_as_radius", 0),
        ("6.2", truth.pistons * truth.bore_mm**2 * way / 1000, "square_for_circle", 0),
        ("6.2", fluid / 2, one_of_two, 0),
        ("6.2", 1000 * fluid, "cubic_millimetres", 0.5),
        ("6.4", rise / 2, "one_wheel_for_two", 0),
        ("6.4", truth.level.reading + rise, "level_for_rise", 0.5),
    )
    also = {"down_to_the_least", "lining_left", "one_pad_for_two"}  # some wheels make two of them alike
    for question, answer, name, share in named:
        mark = judge(case, question, round(answer, 1), right(case))
        if mark.status == "right":  # pads worn to the very least
            assert name in also
            continue
        assert mark.mistake == name or {mark.mistake, name} <= also, (question, name, mark)
        assert mark.points == share * mark.out_of


@each_case
def test_a_slip_is_carried_on(case: SealedCase) -> None:
    truth = truth_of(case)
    way, fluid, rise = by_hand(truth)
    own = {**right(case), "6.1": round(way / 2, 1)}
    half = round(fluid * own["6.1"] / way, 1)  # type: ignore[operator]
    mark = judge(case, "6.2", half, own)
    assert (mark.status, mark.carried_forward) == ("right", True) and "6.1" in mark.words
    own["6.2"] = half
    assert judge(case, "6.4", round(rise * half / fluid, 1), own).status == "right"


# --- what a shut bleeder does ------------------------------------------------------------------------


def _words_for(truth: CaliperTruth, top: float) -> str:
    if top > truth.lid_mm:
        return "The reservoir runs over"
    return "The level rises above MAX" if top > truth.max_mm else "The level stays below MAX"


@each_case
def test_what_the_level_does_stays_when_anything_moves_by_its_uncertainty(case: SealedCase) -> None:
    truth = truth_of(case)
    rise = by_hand(truth)[2]
    asked = case.question("6.4")
    assert asked is not None and isinstance(asked.tolerance, float)
    for level_off in (-truth.level.division, -truth.level.u, 0.0, truth.level.u, truth.level.division):
        for rise_off in (-asked.tolerance, 0.0, asked.tolerance):
            top = truth.level.reading + level_off + rise + rise_off
            assert str(expected(case, "6.5")).startswith(_words_for(truth, top))
    mark = judge(
        case,
        "6.5",
        "The level only comes back to where it was with new pads, so a shut bleeder does no harm.",
        {},
    )
    assert (mark.points, mark.mistake) == (0, "bleeder_left_shut")


@each_case
def test_each_wrong_state_of_the_bleeder_is_named(case: SealedCase) -> None:
    moments = [MOMENTS[one] for one in truth_of(case).moments]
    row = [int(one) for one in expected(case, "6.6")]
    assert row == [{OPEN: 1, SHUT: 2}[one.right] for one in moments]
    assert "The piston is home. The press still holds it." in [one.seen for one in moments]
    too_long = {BEFORE: "opened_too_soon", AFTER: "closed_late"}
    for place, one in enumerate(moments):
        other = too_long.get(one.topic, "left_open_half_way") if row[place] == 2 else "bleeder_left_shut"
        for state, name in ((3 - row[place], other), (3, "bleeder_bare")):
            mark = judge(case, "6.6", [*row[:place], state, *row[place + 1 :]], {})
            assert (mark.mistake, mark.points) == (name, 4)


# --- hose and caliper --------------------------------------------------------------------------------


def _hose_from_the_drawing(truth: CaliperTruth) -> set[str]:
    """Decide once more, from what the drawing tells and what the work order's torques show."""
    told = sheet(truth).drawings["h1"].svg
    told = unescape(told[told.index("<desc") : told.index("</desc>")])
    held = (
        truth.drag_nm.here - truth.bleeder_nm.here > 4 and truth.fitting_nm.here > truth.drag_nm.here * 0.75
    )
    found = {
        "Renew it: cords show": "Woven cords" in told,
        "Renew it: it has a lump": "lump" in told,
        "Renew it: it is wet": "fluid stand there" in told,
        "Renew it: it has collapsed": held,
    }
    return {words_ for words_, here in found.items() if here} or {"Keep it: it is dry"}


def _caliper_from_the_drawing(truth: CaliperTruth) -> set[str]:
    told = sheet(truth).drawings["b1"].svg
    told = unescape(told[told.index("<desc") : told.index("</desc>")])
    found = {
        "Overhaul or renew the caliper: the piston's boot": "The boot has a tear" in told,
        "Overhaul or renew the caliper: it is wet": "hang at its lower edge" in told,
        "Overhaul or renew the caliper: the pistons": truth.push_n.here > 1.5 * truth.push_n.other,
        "Renew the pin's boot": "The upper one is torn" in told,
        "Seal the fitting anew": "hang at the hose's fitting" in told,
    }
    return {words_ for words_, here in found.items() if here} or {"It may stay"}


@each_case
def test_hose_and_caliper_are_decided_by_what_is_to_be_seen(case: SealedCase) -> None:
    truth = truth_of(case)
    for question, starts in (
        ("6.7", _hose_from_the_drawing(truth)),
        ("6.8", _caliper_from_the_drawing(truth)),
    ):
        asked = case.question(question)
        assert asked is not None and len(asked.accepted) == len(starts)
        assert all(any(text.startswith(one) for one in starts) for text in asked.accepted), (starts, asked)


@each_case
def test_the_decisions_do_not_hang_on_a_twentieth_of_a_force(case: SealedCase) -> None:
    truth = truth_of(case)
    for factor in (0.95, 1.05):
        push = truth.push_n.model_copy(update={"here": factor * truth.push_n.here})
        drag = truth.drag_nm.model_copy(update={"here": factor * truth.drag_nm.here})
        moved = truth.model_copy(update={"push_n": push, "drag_nm": drag})
        given = Given(moved, PAPER.key, case.choices)
        for question in ("6.7", "6.8"):
            asked = case.question(question)
            assert asked is not None and given.basis(question).accepted == asked.accepted


@each_case
def test_wrong_decisions_are_named_and_half_is_for_the_right_action(case: SealedCase) -> None:
    for question, kept in (("6.7", "hose_fault_overlooked"), ("6.8", "caliper_fault_overlooked")):
        asked = case.question(question)
        assert asked is not None
        actions = {one.text: one.action for one in case.choices if one.question == question}
        for text, action in actions.items():
            mark = judge(case, question, text, {})
            if text in asked.accepted:
                assert mark.points == mark.out_of
                continue
            same = action and action in {actions[one] for one in asked.accepted}
            assert mark.points == (mark.out_of / 2 if same else 0) and mark.mistake
            assert action != "keep" or mark.mistake == kept


# --- the order, and the whole --------------------------------------------------------------------------


@each_case
def test_the_deadly_slips_fail_the_order_and_are_named(case: SealedCase) -> None:
    good = str(expected(case, "6.9")).split(ARROW)
    assert len(good) == 8
    for before, after, share in (
        ("open_bleeder", "push_piston", 0.0),
        ("push_piston", "close_bleeder", 0.0),
        ("support_caliper", "pads_out", 0.0),
        ("wet_dust", "caliper_off", 0.0),
        ("look_for_leaks", "wet_dust", 0.75),
    ):
        wrong = [step for step in good if step != words(after)]
        wrong.insert(wrong.index(words(before)), words(after))
        mark = judge(case, "6.9", wrong, {})
        assert (mark.points, mark.mistake) == (share * mark.out_of, MISTAKES[before, after])
    later = [step for step in good if step != words("close_bleeder")]
    sound = [*later, words("close_bleeder")]
    assert judge(case, "6.9", sound, {}).status == "right", "no rule of the job forbids it"


def test_each_situation_can_be_drawn_on_demand() -> None:
    for number, situation in enumerate(PAPER.shares):
        truth = draw(Draw(number).seed, "normal", situation)
        assert truth.situation == situation
        sound = _hose_from_the_drawing(truth) | _caliper_from_the_drawing(truth)
        assert (sound == {"Keep it: it is dry", "It may stay"}) == (situation == "all sound")


def test_the_mistakes_that_must_show_do_and_the_drawings_can_be_read() -> None:
    for case in CASES:
        for question, names in PAPER.must_show.items():
            asked = case.question(question)
            assert asked is not None and set(names) <= {one.mistake for one in asked.mistakes}
    for case in CASES[:3]:
        truth = truth_of(case)
        for drawn in sheet(truth).drawings.values():
            assert "<title" in drawn.svg and "<desc" in drawn.svg
            assert f"{truth.level.reading:.0f} mm" not in drawn.svg + drawn.caption
            assert f"{truth.level.indication:.3f}" not in drawn.svg
