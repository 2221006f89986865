"""The exercise on diagnosis: its answers and its named mistakes, worked another way.

Volumes go by the radius and a unit library here. Causes are weighed once more from the counts of the
diagnosis table's files, with Bayes' theorem written out.
"""

from __future__ import annotations

import csv
import math
import re
from collections import defaultdict
from functools import cache
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from brakecourse.marking import SealedCase, draw_sealed_case, judge
from brakecourse.marking.basis import ARROW
from brakecourse.marking.mistakes import mistake
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.jobs import speaks_against
from brakecourse.published import value
from brakecourse.trade.leaks import air_ml_from_travel, diagnosis_table, next_checks

from tests.marking.study import cases
from tests.units import pints_units

MODULE = "05_leaks_and_pedal_feel"
SECRET = bytes(range(32))
UNITS: Any = pints_units()
TABLES = Path(__file__).resolve().parents[3] / "datasets" / "diagnosis"
MANY = 16
CAUSES = {"5.3": 0, "5.4": 1, "5.5": 2}


@cache
def some() -> tuple[SealedCase, ...]:
    return tuple(cases(MODULE, MANY))


def expected(case: SealedCase, question: str) -> Any:
    found = case.question(question)
    assert found is not None
    return found.expected


def named(case: SealedCase, question: str, name: str) -> list[float]:
    found = case.question(question)
    assert found is not None
    return [float(one.value) for one in found.mistakes if one.mistake == name]


def text_of(case: SealedCase, question: str, key: str) -> str:
    return next(one.text for one in case.choices if (one.question, one.key) == (question, key))


def key_of(case: SealedCase, question: str, text: str) -> str:
    return next(one.key for one in case.choices if (one.question, one.text) == (question, text))


def swept_ml(truth: dict[str, Any], foot_mm: float, ratio: float | None = None) -> float:
    """What the master cylinder sends out while the foot goes that far."""
    radius = truth["master_bore_mm"] / 2 * UNITS.mm
    rod = foot_mm / (truth["pedal_ratio"] if ratio is None else ratio) * UNITS.mm
    return float((math.pi * radius**2 * rod).to("mL").magnitude)


def lines(truth: dict[str, Any]) -> tuple[int, int, int]:
    first, last = (round(one["indication"]) for one in truth["held"])
    return first, last, round(truth["soft"]["indication"])


def share_left(truth: dict[str, Any]) -> float:
    """Boyle's law: what is left of the air, by absolute pressures; the air round us is one atmosphere."""
    atmosphere = UNITS.Quantity(1, "atm").to("MPa").magnitude
    return float(atmosphere / (atmosphere + truth["pressure_mpa"]))


# --- the numbers, worked another way ------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(MANY))
def test_the_numbers_worked_by_hand(number: int) -> None:
    case = some()[number]
    truth = case.truth
    first, last, soft = lines(truth)
    assert expected(case, "5.1") == (first, last)
    leak = swept_ml(truth, last - first) / truth["hold_s"] * 60
    assert expected(case, "5.2") == pytest.approx(leak)
    assert expected(case, "5.8") == soft
    lost = swept_ml(truth, soft - truth["usual_mm"])
    assert expected(case, "5.9") == pytest.approx(lost / (1 - share_left(truth)))
    assert last < truth["room_mm"] and soft < truth["room_mm"], "a pedal on the floor tells nothing"


@pytest.mark.parametrize("number", range(8))
def test_each_mistake_gives_its_value(number: int) -> None:
    case = some()[number]
    truth = case.truth
    first, last, soft = lines(truth)
    leak, air = expected(case, "5.2"), expected(case, "5.9")
    per_minute = 60 / truth["hold_s"]
    sunk = last - first
    assert named(case, "5.1", "from_the_floor") == [truth["room_mm"] - first, truth["room_mm"] - last]
    aside = 10 * math.tan(math.radians(30))
    assert named(case, "5.1", "parallax") == [round(first + aside), round(last + aside)]
    assert swept_ml(truth, sunk) == pytest.approx(named(case, "5.2", "seconds_for_minute")[0])
    end = swept_ml(truth, last) * per_minute
    assert end == pytest.approx(named(case, "5.2", "last_reading_for_sinking")[0])
    assert named(case, "5.2", "sinking_for_fluid") == [pytest.approx(sunk * per_minute)]
    lost = swept_ml(truth, soft - truth["usual_mm"])
    assert named(case, "5.9", "lost_for_at_rest")[0] == pytest.approx(lost)
    whole = swept_ml(truth, soft) / (1 - share_left(truth))
    assert named(case, "5.9", "whole_travel_for_extra") == [pytest.approx(whole)]
    usual = swept_ml(truth, truth["usual_mm"]) / (1 - share_left(truth))
    assert named(case, "5.9", "usual_travel_for_extra") in ([], [pytest.approx(usual)])
    for question, right, foot in (("5.2", leak, sunk * per_minute), ("5.9", air, soft - truth["usual_mm"])):
        no_ratio = right * swept_ml(truth, foot, ratio=1) / swept_ml(truth, foot)
        assert named(case, question, "pedal_ratio_left_out")[0] == pytest.approx(no_ratio)
        assert named(case, question, "bore_as_radius") == [pytest.approx(4 * right)]
        assert named(case, question, "square_for_circle") == [pytest.approx(right / math.pi * 4)]
        assert named(case, question, "cubic_millimetres") == [pytest.approx(1000 * right)]


def test_honest_rounding_as_the_lesson_writes_it_is_right() -> None:
    """π ÷ 4 as 0.785, the rod to 0.01 mm, the area to 1 mm², the air round us as 0.101 MPa."""
    for case in some():
        truth = case.truth
        first, last, soft = lines(truth)
        area = round(0.785 * truth["master_bore_mm"] ** 2)
        rod = round((last - first) * 60 / truth["hold_s"] / truth["pedal_ratio"], 2)
        leak = round(rod * area / 1000, 2)
        assert judge(case, "5.2", leak, {"5.1": [float(first), float(last)]}).status == "right"
        lost = round(round((soft - truth["usual_mm"]) / truth["pedal_ratio"], 2) * area / 1000, 2)
        share = round(truth["pressure_mpa"] / (truth["pressure_mpa"] + 0.101), 3)
        assert judge(case, "5.9", round(lost / share, 2), {"5.8": float(soft)}).status == "right"


# --- the outside checks -------------------------------------------------------------------------------------


def test_the_air_follows_boyles_textbook_exercise() -> None:
    """A textbook presses 15 mL from 13 to 26 psi, absolute. Turned round, the loss leads back to 15 mL."""
    left = value("boyle_ex1_v2").value
    rise_mpa = (26 / 13 - 1) * UNITS.Quantity(1, "atm").to("MPa").magnitude
    bore, ratio = 20.0, 1.0
    way = (15.0 - left) * 1000 / (math.pi * (bore / 2) ** 2)
    assert air_ml_from_travel(way, rise_mpa, bore, ratio) == pytest.approx(15.0, rel=1e-3)


def test_every_hold_is_longer_than_the_regulations_and_every_pedal_sinks_within_it() -> None:
    """49 CFR 570, heavy vehicles: the pedal is held for 10 s, and any further fall is noted."""
    rule = value("inspect_hold_time").value
    for case in some():
        first, last, _ = lines(case.truth)
        assert case.truth["hold_s"] > rule
        assert (last - first) * rule / case.truth["hold_s"] > 1, "more than one line of the rule"


# --- the causes, weighed once more --------------------------------------------------------------------------


@cache
def tallies() -> tuple[dict[str, float], dict[str, dict[str, dict[tuple[str, str], int]]], float]:
    """Priors, counts by cause and severity, and the sharpness, read from the table's own files."""
    with (TABLES / "causes.csv").open(newline="", encoding="utf-8") as file:
        priors = {row["id"]: float(row["prior"]) for row in csv.DictReader(file)}
    with (TABLES / "findings.csv").open(newline="", encoding="utf-8") as file:
        findings = [(row["check"], row["finding"]) for row in csv.DictReader(file)]
    counts: dict[str, dict[str, dict[tuple[str, str], int]]] = defaultdict(dict)
    with (TABLES / "counts.csv").open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            tally = counts[row["cause"]].setdefault(row["severity"], dict.fromkeys(findings, 0))
            tally[row["check"], row["finding"]] = int(row["count"])
    with (TABLES / "settings.csv").open(newline="", encoding="utf-8") as file:
        sharp = {row["name"]: row["value"] for row in csv.DictReader(file)}
    return priors, counts, float(sharp.get("sharpness", "1"))


def weighed(findings: list[tuple[str, str]]) -> dict[str, float]:
    """Bayes' theorem, half a vehicle added to each count."""
    priors, counts, sharpness = tallies()
    scores = {}
    for cause, prior in priors.items():
        seen = counts[cause]
        every = {kind: sum(n for (check, _), n in tally.items() if check == "pedal_hold")
                 for kind, tally in seen.items()}  # fmt: skip
        likelihood = 0.0
        for kind, tally in seen.items():
            part = every[kind] / sum(every.values())
            for check, finding in findings:
                shown = {name: n for (one, name), n in tally.items() if one == check}
                part *= (shown[finding] + 0.5) / (sum(shown.values()) + 0.5 * len(shown))
            likelihood += part
        scores[cause] = prior * likelihood**sharpness
    whole = sum(scores.values())
    return {cause: score / whole for cause, score in scores.items()}


@pytest.mark.parametrize("number", range(MANY))
def test_each_cause_is_the_drawn_one_and_stands_well_above_the_next(number: int) -> None:
    case = some()[number]
    for question, place in CAUSES.items():
        job = case.truth["jobs"][place]
        stands = weighed([tuple(one) for one in job["findings"]])
        right = key_of(case, question, expected(case, question))
        assert right == job["cause"]
        own = stands.pop(right)
        assert own >= 0.85 and own >= 6 * max(stands.values())


def test_the_vehicles_are_four_and_their_drivers_noticed_something() -> None:
    for case in some():
        truth = case.truth
        jobs = [*truth["jobs"], truth["half"]]
        assert len({one["fleet_number"] for one in jobs}) == 4
        assert jobs[0]["fleet_number"] == truth["fleet_number"]
        assert not [one for one in jobs if "noticed nothing" in one["complaint"]]
        for one in jobs:
            found = dict(one["findings"])
            driven = [check for check in found if check.startswith("drive_")]
            assert not driven or (found["pedal_feel"], found["pedal_hold"]) == ("firm", "stays")


def test_no_right_cause_has_a_fault_on_its_sheet_that_speaks_clearly_against_it() -> None:
    in_order = {(one.id, one.findings[0].id) for one in diagnosis_table().checks}
    for case in some():
        for job in case.truth["jobs"]:
            faults = [tuple(one) for one in job["findings"] if tuple(one) not in in_order]
            assert faults and not speaks_against(faults, job["cause"])


# --- what to do next ----------------------------------------------------------------------------------------


def test_what_to_do_next_follows_from_the_sheet() -> None:
    seen = set()
    for case in some():
        found = dict(case.truth["half"]["findings"])
        assert found["pedal_hold"] in ("creeps", "sinks") and "wet_master" not in found
        wet = found.get("wet_wheels")
        right = {None: "look-wheels", "dry": "look-behind"}.get(wet, "put-right")
        assert key_of(case, "5.6", expected(case, "5.6")) == right
        worth = {one.check: one.bits_per_minute for one in next_checks(found)}
        if wet is None:
            assert worth["wet_wheels"] > 1.29 * max(worth["wet_master"], worth["piston_push"])
        if wet == "dry":
            assert worth["wet_master"] > 1.29 * worth["piston_push"]
        seen.add(right)
    assert seen == {"look-wheels", "look-behind", "put-right"}


def test_half_of_the_marks_for_the_right_action_with_a_wrong_reason() -> None:
    half = {"look-behind": "behind-first", "put-right": "put-right-done"}
    shown = {"look-behind": "apart_before_looking", "put-right": "stopped_at_first_finding"}
    for case in some():
        right = key_of(case, "5.6", expected(case, "5.6"))
        for key, name in (("booster", "booster_for_sinking"), ("drive", "drove_before_pedal")):
            mark = judge(case, "5.6", text_of(case, "5.6", key), {})
            assert (mark.points, mark.mistake) == (0, name)
        if right in half:
            mark = judge(case, "5.6", text_of(case, "5.6", half[right]), {})
            assert (mark.points, mark.mistake) == (2, shown[right])


# --- the order of the checks --------------------------------------------------------------------------------


def test_the_order_keeps_its_rules_and_each_rule_has_its_reason_in_the_table() -> None:
    """Minutes and bits are those that stand on the work order; the rules follow from them."""
    worth = {one.check: one for one in next_checks({})}
    for case in some():
        checks = case.truth["checks"]
        place = {check: number for number, check in enumerate(checks)}
        assert sorted(case.truth["listed"]) == sorted(checks) and len(checks) == 7
        bay = [one for one in checks if not one.startswith("drive_")]
        for first in bay:
            for then in bay:
                a, b = worth[first], worth[then]
                if a.minutes < b.minutes and a.information_bits >= b.information_bits:
                    assert place[first] < place[then], "cheaper and at least as telling comes first"
        drive = next(one for one in checks if one.startswith("drive_"))
        assert place["pedal_feel"] < place["pedal_hold"] < place[drive]
        question = case.question("5.7")
        assert question is not None
        critical = {(one.before, one.after) for one in question.rules if one.critical}
        assert len(critical) == 2 and {after for _, after in critical} == {question.steps[place[drive]]}


def test_a_drive_before_the_pedal_earns_nothing_and_a_dear_check_costs_a_part() -> None:
    for case in some()[:6]:
        right = str(expected(case, "5.7")).split(ARROW)
        drive = next(one for one in right if one.startswith(("Drive", "After a drive")))
        mark = judge(case, "5.7", [drive, *(one for one in right if one != drive)], {})
        assert (mark.points, mark.mistake) == (0, "drove_before_pedal")
        assert mark.words.startswith("This order is dangerous")
        swapped = [right[1], right[0], *right[2:]]
        mark = judge(case, "5.7", swapped, {})
        assert (mark.points, mark.mistake) == (3, "engine_on_first")
        level_first = [*right[:2], right[3], right[2], *right[4:]]
        mark = judge(case, "5.7", level_first, {})
        assert (mark.points, mark.mistake) == (3, "dear_before_cheap")
        late = [*right[:4], *right[5:], drive]
        other = [*right[:2], drive, *(one for one in right[2:] if one != drive)]
        assert judge(case, "5.7", other, {}).status == "right", "a drive may come right after the pedal"
        assert judge(case, "5.7", late, {}).mistake == "apart_before_looking"


# --- marks --------------------------------------------------------------------------------------------------


def test_an_early_mistake_is_carried_on() -> None:
    for case in some()[:8]:
        truth = case.truth
        first, last, soft = lines(truth)
        wrong = [truth["room_mm"] - first, truth["room_mm"] - last]
        mark = judge(case, "5.1", wrong, {})
        assert (mark.points, mark.mistake) == (0, "from_the_floor")
        own = [first + 6.0, float(last)]
        mark = judge(case, "5.1", own, {})
        assert (mark.points, mark.mistake) == (2, "parallax")
        leak = round(swept_ml(truth, last - first - 6) / truth["hold_s"] * 60, 2)
        mark = judge(case, "5.2", leak, {"5.1": own})
        assert mark.status == "right" and mark.carried_forward and "your own answer to 5.1" in mark.words
        lost = swept_ml(truth, soft + 6 - truth["usual_mm"])
        mark = judge(case, "5.9", round(lost / (1 - share_left(truth)), 2), {"5.8": soft + 6.0})
        assert mark.status == "right" and mark.carried_forward
        lost = swept_ml(truth, soft - truth["usual_mm"])
        mark = judge(case, "5.9", round(lost, 2), {"5.8": float(soft)})
        assert (mark.points, mark.mistake) == (0, "lost_for_at_rest")


def test_one_line_off_is_forgiven_and_two_are_not() -> None:
    for case in some()[:8]:
        shown = case.truth["soft"]["indication"]
        assert judge(case, "5.8", float(math.floor(shown)), {}).status == "right"
        assert judge(case, "5.8", float(math.floor(shown) - 1), {}).status != "right"


def test_the_maps_common_mistakes_are_named_with_their_lesson() -> None:
    found = set()
    for case in some():
        mark = judge(case, "5.3", text_of(case, "5.3", "booster"), {})
        assert (mark.points, mark.mistake) == (0, "booster_for_sinking")
        assert "hard" in mark.words and mark.lesson.startswith("Lesson 05, part")
        for question in CAUSES:
            asked = case.question(question)
            assert asked is not None
            found |= {one.mistake for one in asked.mistakes}
        if case.truth["jobs"][0]["cause"] == "primary_seal_leak":
            mark = judge(case, "5.3", text_of(case, "5.3", "internal_bypass"), {})
            assert (mark.points, mark.mistake) == (0, "behind_master_not_looked")
            assert "booster" in mark.words
    assert {"stopped_at_first_finding", "behind_master_not_looked", "against_not_weighed"} <= found
    for name in ("booster_for_sinking", "drove_before_pedal", "stopped_at_first_finding"):
        assert mistake(name).share == 0, "dangerous, so it earns nothing"


# --- what is given out --------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(3))
def test_a_person_can_read_the_drawings_and_none_tells_its_answer(number: int) -> None:
    case = draw_sealed_case(MODULE, f"s{number}", SECRET)
    order = case.work_order()
    # Single digits are those of displays, and lines past a number in the words for a screen reader.
    plain = {str(ten) for ten in range(0, 200, 10)} | set("0123456789")
    for name, one in order["drawings"].items():
        assert f'id="{name}-title"' in one["svg"] and "<desc" in one["svg"]
        assert all(found.startswith(f"{name}-") for found in re.findall(r' id="([^"]+)"', one["svg"]))
        words = unescape(re.sub(r"<[^>]*>", " ", one["svg"]))
        if name.startswith("p"):
            assert set(re.findall(r"\d+(?:\.\d+)?", words)) <= plain | {f"{case.truth['room_mm']:g}"}
    for read in (*case.truth["held"], case.truth["soft"]):
        assert repr(read["indication"]) not in str(order)
    for question, place in CAUSES.items():
        drawn = unescape(order["drawings"][f"j{place + 1}"]["svg"])
        job = case.truth["jobs"][place]
        told = next(one.words for one in diagnosis_table().causes if one.id == job["cause"])
        assert told not in drawn and expected(case, question) == told
    assert len(str(order)) < 400_000
