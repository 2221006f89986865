"""The whole job: its answers, named mistakes and decisions, worked another way.

Units go through a unit library, guard bands through a statistics library's normal distribution, and the
fluid's limits come from the law's own °F column. The cause is found anew from the words of the work order.
"""

from __future__ import annotations

import re
from functools import cache
from hashlib import sha256
from typing import Any

import pytest
from brakecourse.marking import SealedCase, draw_sealed_case, judge, judge_all
from brakecourse.marking.basis import ARROW
from brakecourse.marking.paper import paper
from brakecourse.marking.papers.m13_whole_job.key_decide import CALIPER_OF, NEIGHBOURS
from brakecourse.marking.papers.m13_whole_job.steps import STEPS, words
from brakecourse.published import value
from brakecourse.tables import read_table
from brakecourse.trade.job_order import check_order
from brakecourse.trade.leaks import diagnosis_table
from brakecourse.views.whole_job_remedies import REMEDIES
from scipy import stats

from tests.marking.study import cases
from tests.units import pints_units

MODULE = "13_whole_job"
SECRET = bytes(range(32))
UNITS: Any = pints_units()
FACTOR = float(stats.norm.ppf(0.95))
MANY = 32


@cache
def some() -> tuple[SealedCase, ...]:
    return tuple(cases(MODULE, MANY))


@cache
def full() -> SealedCase:
    return draw_sealed_case(MODULE, "s01", SECRET)


def expected(case: SealedCase, question: str) -> Any:
    found = case.question(question)
    assert found is not None
    return found.expected


def key(case: SealedCase) -> dict[str, Any]:
    """The right answers as a notebook would hand them in."""
    found: dict[str, Any] = {}
    for one in case.questions:
        right = one.expected
        if one.kind == "sequence":
            found[one.id] = str(right).split(ARROW)
        elif isinstance(right, tuple):
            found[one.id] = [round(part, one.places) for part in right]
        elif right is not None:
            found[one.id] = round(right, one.places) if isinstance(right, float) else right
    return found


def text(question: str, choice: str) -> str:
    return next(
        row["text"]
        for row in read_table("course/choices.csv")
        if (row["module"], row["question"], row["choice"]) == (MODULE, question, choice)
    )


def nearest(indication: float, division: float) -> float:
    return round(round(indication / division) * division, 6)


def readings(case: SealedCase, name: str) -> list[float]:
    return [nearest(one["indication"], one["division"]) for one in case.truth[name]]


def verdict(measured: float, limit: float, u: float, sign: int = 1) -> str:
    """Above a minimum (sign 1) or below a maximum (sign -1), the guard band counted."""
    margin, guard = sign * (measured - limit), FACTOR * u
    return "within" if margin >= guard else "outside" if margin <= -guard else "close"


def wet_limit_c(grade: str) -> float:
    """From the law's °F column, 49 CFR 571.116; DOT 5.1 has the limits of the class DOT 5."""
    stem = {"DOT 3": "dot3", "DOT 4": "dot4", "DOT 5.1": "dot5"}[grade]
    fahrenheit = value(f"fluid_{stem}_wet_erbp_min_f").value
    return float(round(UNITS.Quantity(fahrenheit, "degF").to("degC").magnitude))


def cause_by_eye(case: SealedCase) -> str:
    """The cause as a technician reads it from the work order and the gauges."""
    shown = " ".join(one["shown"] for one in case.truth["checks"])
    spec, gauges = case.truth["spec"], case.truth["instruments"]
    thickness = readings(case, "thickness")
    if "A hose is wet" in shown:
        return "hose_leak"
    if "caliper is wet with fluid at its piston" in shown:
        return "caliper_seal_leak"
    if "comes free only when the bleeder is opened" in shown:
        return "collapsed_hose"
    if "turns about one pin" in shown:
        return "seized_pin"
    if "goes back only with great force" in shown:
        return "seized_piston"
    if "Rust or dirt lies between a hub" in shown:
        return "dirty_hub"
    if verdict(min(thickness), spec["discard_mm"], gauges["thickness_u_mm"]) != "within":
        return "thin_rotor"
    swing = max(thickness) - min(thickness)
    if verdict(swing, spec["max_variation_mm"], gauges["thickness_difference_u_mm"], -1) == "outside":
        return "thickness_variation"
    return "worn_pads"


def rotor_by_hand(case: SealedCase, smallest: float, variation: float, swing: float) -> set[str]:
    """Every choice about the rotor that holds, worked from the limits."""
    spec, gauges = case.truth["spec"], case.truth["instruments"]
    hub = case.truth["faults"][0] == "dirty_hub"
    thick = verdict(smallest, spec["discard_mm"], gauges["thickness_u_mm"])
    if thick != "within":
        return {{"outside": "replace-below", "close": "replace-too-close"}[thick]}
    uneven = verdict(variation, spec["max_variation_mm"], gauges["thickness_difference_u_mm"], -1) != "within"
    swings = verdict(swing, spec["max_run_out_mm"], gauges["dial_difference_u_mm"], -1) != "within"
    if hub and not uneven:
        return {"hub-first"} if swings else {"keep-all"}
    if not uneven and not swings:
        return {"keep-all"}
    left = smallest - variation - (0.0 if hub else swing)
    if verdict(left, spec["machine_to_mm"], gauges["thickness_u_mm"]) != "within":
        return {"replace-no-metal"}
    return (
        {"machine-variation"}
        if not swings or hub
        else {"machine-run-out"} | ({"machine-variation"} if uneven else set())
    )


# --- the answers, worked another way ---------------------------------------------------------------


def test_the_readings_are_the_nearest_lines() -> None:
    for case in some():
        truth = case.truth
        assert expected(case, "13.1") == truth["max_mm"] - nearest(truth["level"]["indication"], 1.0)
        assert expected(case, "13.2") == round(truth["boiling"]["indication"])
        assert list(expected(case, "13.3")) == pytest.approx(readings(case, "lining"))
        assert list(expected(case, "13.4")) == pytest.approx(readings(case, "thickness"))
        dial = readings(case, "dial")
        assert expected(case, "13.5") == pytest.approx(max(dial) - min(dial))
        thick = readings(case, "thickness")
        assert expected(case, "13.6") == pytest.approx(
            (min(readings(case, "lining")), min(thick), max(thick) - min(thick))
        )


def test_the_cause_is_what_a_technician_reads_from_the_work_order() -> None:
    told = {one.id: one.words for one in diagnosis_table().causes}
    for case in some():
        cause = cause_by_eye(case)
        assert cause == case.truth["faults"][0]
        assert expected(case, "13.7") == told[cause] == text("13.7", cause.replace("_", "-"))
    assert len({expected(case, "13.7") for case in some()}) >= 7


def test_no_check_raises_a_false_alarm() -> None:
    """A leak, a wet pad or a held wheel is seen only where the cause makes one."""
    for case in some():
        cause = case.truth["faults"][0]
        shown = {one["check"]: one["shown"] for one in case.truth["checks"]}
        assert ("dry" in shown["wet_wheels"]) == (cause not in ("hose_leak", "caliper_seal_leak"))
        assert case.truth["soaked"] == (cause == "caliper_seal_leak")
        firm = shown["pedal_feel"] == "The pedal is firm" and "stays where it is" in shown["pedal_hold"]
        assert ("Not done" in shown["drive_pulse"]) == (not firm)


def test_the_decisions_follow_from_the_limits() -> None:
    for case in some():
        truth = case.truth
        thinnest, smallest, variation = expected(case, "13.6")
        limits = truth["pad_limits"]
        found = verdict(thinnest, limits["minimum_mm"], limits["thickness_u_mm"])
        pads = {"within": "keep-proven", "outside": "renew-below", "close": "renew-close"}[found]
        assert expected(case, "13.8") == text("13.8", "renew-soaked" if truth["soaked"] else pads)
        question = case.question("13.9")
        assert question is not None
        by_hand = rotor_by_hand(case, smallest, variation, expected(case, "13.5"))
        assert set(question.accepted) == {text("13.9", one) for one in by_hand}
        wet = wet_limit_c(truth["grade"])
        boils = verdict(expected(case, "13.2"), max(wet, truth["hottest_c"]), truth["boiling_u_c"])
        fluid = {"within": "keep-proven", "outside": "renew-low", "close": "renew-close"}[boils]
        assert expected(case, "13.11") == text("13.11", fluid)


def test_the_parts_are_those_that_the_decisions_name() -> None:
    for case in some():
        pads, rotor, caliper = (str(expected(case, f"13.{n}")) for n in (8, 9, 10))
        new_rotors = rotor.startswith("Replace")
        assert expected(case, "13.12") == (
            4 if new_rotors or pads.startswith("Renew") else 0,
            2 if new_rotors else 0,
            int("new brake hose" in caliper),
            int("piston and seals" in caliper),
            int("slide pin and its boot" in caliper),
        )


def test_the_torques_are_those_of_a_unit_library() -> None:
    for case in some():
        one = case.truth["torques"]
        nut, bolt = (
            UNITS.Quantity(one[name], "lbf * ft").to("N * m").magnitude
            for name in ("nut_lbfft", "bolt_lbfft")
        )
        arm = one["wrench_mm"] + one["extension_mm"]
        assert expected(case, "13.13") == pytest.approx((nut, bolt, bolt * one["wrench_mm"] / arm))


def test_the_heat_is_that_of_half_the_mass_times_the_speed_squared() -> None:
    for case in some():
        plan = case.truth["bedding"]
        low, high = (UNITS.Quantity(mph, "mile / hour").to("m / s").magnitude for mph in (20, 40))
        kj = [plan["mass_kg"] / 2000 * one for one in (low**2, high**2 - low**2)]
        stop, slow = (one * plan["front_percent"] / 200 / (plan["rotor_kg"] * 0.45) for one in kj)
        hot = plan["start_c"] + slow
        end = 20 + (hot - 20) / 2 ** plan["half_times"]
        assert expected(case, "13.15") == pytest.approx((stop, slow, hot, end), abs=0.01)
        assert slow / stop == pytest.approx(3)  # 40² − 20² over 20²: the lesson's ratio


def test_the_right_order_keeps_every_rule_of_the_job() -> None:
    for case in some()[:5]:
        steps = str(expected(case, "13.14")).split(ARROW)
        by_words = {words(one): one for one in STEPS}
        assert check_order([by_words[one] for one in steps]) == ()
        assert sorted(case.truth["listed"]) == sorted(STEPS)


def test_the_work_at_the_caliper_is_the_lessons_remedy() -> None:
    """The words of the choices stand beside those of the lesson's record."""
    for cause, choice in CALIPER_OF.items():
        if cause in NEIGHBOURS:
            ours, theirs = text("13.10", choice).lower(), REMEDIES[cause].work.lower()
            assert (
                ours.split(",")[0].split(" and ")[0].removeprefix("renew ") in theirs
                or ours[:20] == theirs[:20]
            )


# --- every decision is sure ------------------------------------------------------------------------


def test_no_decision_hangs_on_one_readings_standard_uncertainty() -> None:
    for case in some():
        truth = case.truth
        thinnest, smallest, variation = expected(case, "13.6")
        swing, boils = expected(case, "13.5"), expected(case, "13.2")
        limits, gauges = truth["pad_limits"], truth["instruments"]
        u = limits["thickness_u_mm"]
        here = verdict(thinnest, limits["minimum_mm"], u)
        if here == "close":
            assert abs(thinnest - limits["minimum_mm"]) <= 0.61 * FACTOR * u
        else:
            assert {verdict(thinnest + off, limits["minimum_mm"], u) for off in (-u, u)} == {here}
        right = rotor_by_hand(case, smallest, variation, swing)
        for sign in (-1, 1):
            moved = (
                (smallest + sign * gauges["thickness_u_mm"], variation, swing),
                (smallest, max(0, variation + sign * gauges["thickness_difference_u_mm"]), swing),
                (smallest, variation, max(0, swing + sign * gauges["dial_difference_u_mm"])),
            )
            assert all(rotor_by_hand(case, *one) == right for one in moved)
        limit, u_c = max(truth["hottest_c"], wet_limit_c(truth["grade"])), truth["boiling_u_c"]
        found = verdict(boils, limit, u_c)
        if found == "close":
            assert abs(boils - limit) <= 0.61 * FACTOR * u_c
        else:
            assert {verdict(boils + off, limit, u_c) for off in (-u_c, u_c)} == {found}


# --- mistakes, and what is carried forward ---------------------------------------------------------


def test_named_mistakes_have_the_values_that_the_mistake_gives() -> None:
    for case in some()[:15]:
        truth, right = case.truth, key(case)
        shown = round(UNITS.Quantity(right["13.2"], "degC").to("degF").magnitude)
        plan, one = truth["bedding"], truth["torques"]
        share = one["wrench_mm"] / (one["wrench_mm"] + one["extension_mm"])
        bolt = right["13.13"][1]
        hot, end = right["13.15"][2:]
        injected: dict[str, tuple[Any, str]] = {
            "13.5": (round(right["13.5"] / 2, 3), "half_of_total"),
            "13.2": (shown, "fahrenheit_for_celsius"),
            "13.3": ([right["13.3"][0] + truth["plate_mm"], *right["13.3"][1:]], "backing_plate_included"),
            "13.4": ([right["13.4"][0] + 0.5, *right["13.4"][1:]], "half_millimetre_line"),
            "13.13": ([*right["13.13"][:2], round(bolt / share, 1)], "extension_inverted"),
            "13.15": ([*right["13.15"][:3], round(hot * 0.5 ** plan["half_times"], 1)], "temperature_halved"),
        }
        for question, (answer, mistake) in injected.items():
            mark = judge(case, question, answer, right)
            if question == "13.5" and right["13.5"] < 0.04:
                continue  # half of so little lies within the tolerance
            assert (mark.mistake, mark.status in ("wrong", "partly right")) == (mistake, True), question
        assert end < hot


def test_later_answers_are_marked_on_the_learners_own() -> None:
    case = next(one for one in some() if one.truth["situation"] == "worn pads")
    right = key(case)
    own = [round(one + case.truth["plate_mm"], 1) for one in right["13.3"]]
    answers = {
        **right,
        "13.3": own,
        "13.6": [min(own), *right["13.6"][1:]],
        "13.8": text("13.8", "keep-proven"),
        "13.12": [0, *right["13.12"][1:]],
    }
    marks = judge_all(case, answers)
    assert (marks["13.3"].points, marks["13.3"].mistake) == (0, "backing_plate_included")
    for question in ("13.6", "13.8", "13.12"):
        assert (marks[question].status, marks[question].carried_forward) == ("right", True)
    assert "your own" in marks["13.8"].words


def test_the_work_is_marked_on_the_cause_that_was_named() -> None:
    case = next(one for one in some() if one.truth["situation"] == "seized piston")
    answers = {
        **key(case),
        "13.7": text("13.7", "collapsed-hose"),
        "13.10": text("13.10", "hose-shut"),
        "13.12": [*key(case)["13.12"][:2], 1, 0, 0],
    }
    marks = judge_all(case, answers)
    assert (marks["13.7"].points, marks["13.7"].mistake) == (0, "hose_and_piston_mixed_up")
    assert marks["13.10"].status == marks["13.12"].status == "right"
    assert marks["13.10"].carried_forward and marks["13.12"].carried_forward


def test_the_right_action_with_a_wrong_reason_earns_half() -> None:
    case = next(one for one in some() if one.truth["situation"] == "worn pads")
    mark = judge(case, "13.8", text("13.8", "renew-close"), key(case))
    assert mark.points == 1.5


def test_new_rotors_with_old_pads_and_one_side_only_are_named() -> None:
    case = next(one for one in some() if one.truth["situation"] == "thin rotor")
    right = key(case)
    old = judge(case, "13.12", [0, *right["13.12"][1:]], right)
    assert "Old pads have worn to the shape of the old rotors." in old.words
    one_side = judge(case, "13.12", [2, 1, 0, 0, 0], right)
    assert one_side.mistake == "one_side_only" and one_side.points < 3


def test_a_dangerous_order_earns_nothing() -> None:
    case = some()[0]
    steps = str(expected(case, "13.14")).split(ARROW)
    pump, move = words("pump_pedal"), words("first_move")
    steps.remove(move)
    steps.insert(steps.index(pump), move)
    mark = judge(case, "13.14", steps, {})
    assert (mark.points, mark.mistake) == (0, "moved_before_firm")


# --- what the student gets to see ------------------------------------------------------------------


def test_the_drawings_have_words_and_no_reading() -> None:
    case = full()
    drawings = case.order["drawings"]
    assert len(drawings) == 2 + 4 + 9 + 8
    for one in drawings.values():
        assert "<title" in one["svg"] and "<desc" in one["svg"]
    for question, names in (("13.4", "m"), ("13.5", "s"), ("13.3", "g")):
        sealed = case.question(question)
        assert sealed is not None
        rows = case.truth[{"13.4": "thickness", "13.5": "dial", "13.3": "lining"}[question]]
        for count, row in enumerate(rows, start=1):
            told = re.findall(r">([^<]*)<", drawings[f"{names}{count}"]["svg"])
            assert f"{row['reading']:.{sealed.places}f}" not in told
    facts = " ".join(" ".join(one) for one in case.order["vehicle"]["facts"])
    assert case.truth["situation"] not in str(case.order) and "seed" not in str(case.order)
    assert "lbf·ft" in facts and f"{key(case)['13.13'][0]:.1f} N·m" not in facts


def test_each_situation_is_drawn_and_keeps_what_it_promises() -> None:
    asks = paper(MODULE)
    assert sum(asks.shares.values()) == pytest.approx(1)
    drawn = {one.truth["situation"] for one in some()}
    assert drawn <= set(asks.shares) and len(drawn) >= 8
    assert {len(one.truth["faults"]) for one in some()} == {1, 2}
    hub = [one for one in some() if one.truth["situation"] == "dirty hub, rotor true"]
    assert all(expected(one, "13.9") == text("13.9", "hub-first") for one in hub)


@pytest.mark.slow
def test_the_rarest_cause_is_found_for_everyone() -> None:
    # Of a thousand students two needed more than four hundred draws.
    case = draw_sealed_case(MODULE, "s00497", sha256(b"whole program").digest())
    assert case.truth["situation"] == "dirty hub, rotor true"
