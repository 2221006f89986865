"""The order of the job: each common mistake is found by name, and leaving a step out hides nothing."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace

import pytest
from brakecourse.trade.job_order import (
    PART_NAMES,
    PHASES,
    WHOLE_JOB,
    Operation,
    Precedence,
    a_good_order,
    can_follow,
    check_order,
    critical,
    implied_pairs,
    missing,
    operations,
    order_score,
    precedence,
    rules_among,
    share_in_order,
    sub_job,
    violations_of,
)
from hypothesis import given, settings
from hypothesis import strategies as st

STEPS = {step.id: step for step in operations()}
GOOD = a_good_order()


def moved(step: str, in_front_of: str, order: Sequence[str] = GOOD) -> list[str]:
    """The order with one step done too early."""
    rest = [name for name in order if name != step]
    place = rest.index(in_front_of)
    return [*rest[:place], step, *rest[place:]]


# --- each common mistake by name ----------------------------------------------------------------------------

DANGEROUS = {
    "wheel nuts loosened only after lifting": ("loosen_nuts", "lift_vehicle"),
    "lifted without the maker's lifting points": ("look_up_data", "lift_vehicle"),
    "a wrench pulled before the wheels are chocked": ("chock_wheels", "loosen_nuts"),
    "wheel off with the vehicle on the jack alone": ("set_stands", "wheel_off"),
    "parts moved while the dust is dry": ("wet_dust", "caliper_off"),
    "piston pushed back before the bleeder is open": ("open_bleeder", "push_piston"),
    "bleeder closed before the piston is back": ("push_piston", "close_bleeder"),
    "caliper hung by its hose while the pads come out": ("support_caliper", "pads_out"),
    "rotor kept before it is measured": ("measure_thickness", "decide_rotor"),
    "rotor back on before anyone decided on it": ("decide_rotor", "rotor_on"),
    "wheel on before the caliper bolts are torqued": ("torque_bolts", "wheel_on"),
    "wheel on before the bleeder is checked": ("check_bleeder", "wheel_on"),
    "wheel nuts torqued while the vehicle is up": ("lower_vehicle", "torque_nuts"),
    "topping up before inspecting": ("check_fluid", "set_level"),
    "pedal pumped before the caliper is bolted": ("torque_bolts", "pump_pedal"),
    "vehicle moved before the pedal is firm": ("pump_pedal", "first_move"),
    "vehicle moved before the nuts are torqued": ("torque_nuts", "first_move"),
    "vehicle moved before the level is set": ("set_level", "first_move"),
    "vehicle moved before the joints are checked": ("check_leaks", "first_move"),
    "bedding in before the brake was tried": ("first_move", "bed_in"),
}
POOR = {
    "level read with the vehicle lifted": ("check_fluid", "lift_vehicle"),
    "traces of a leak washed away": ("look_for_leaks", "wet_dust"),
    "pads cleaned away before they are read": ("measure_pads", "clean_pins"),
    "clips renewed over rust": ("clean_bracket", "renew_clips"),
    "pins greased before they are clean": ("clean_pins", "pins_back"),
    "rotor measured before cleaning": ("clean_rotor", "measure_thickness"),
    "run-out read through dirt": ("clean_rotor", "measure_run_out"),
    "run-out read on a loose rotor": ("seat_rotor", "measure_run_out"),
    "rotor taken off before its run-out is read": ("measure_run_out", "rotor_off"),
    "rotor mounted on a dirty hub": ("clean_hub", "rotor_on"),
    "caliper fitted before the pins are back": ("pins_back", "caliper_on"),
    "caliper fitted with the bleeder open": ("close_bleeder", "caliper_on"),
    "level set before the pedal is firm": ("pump_pedal", "set_level"),
    "record signed before the last check": ("final_check", "sign_record"),
}


@pytest.mark.parametrize("mistake", [*DANGEROUS, *POOR])
def test_each_common_mistake_is_found_by_name(mistake: str) -> None:
    first, later = (DANGEROUS | POOR)[mistake]
    wrong = moved(later, first)
    (found,) = [one for one in check_order(wrong) if (one.before, one.after) == (first, later)]
    assert found.safety_critical == (mistake in DANGEROUS)
    assert found.through == ()
    assert found.reason in found.words and first.replace("_", " ") in found.words
    # Nobody who works the right way hears of it.
    assert check_order(GOOD) == ()


@pytest.mark.parametrize("mistake", DANGEROUS)
def test_a_dangerous_mistake_takes_the_whole_score(mistake: str) -> None:
    first, later = DANGEROUS[mistake]
    assert order_score(moved(later, first)) == 0.0
    assert order_score([later, first]) == 0.0


def test_a_poor_order_costs_its_share_and_no_more() -> None:
    wrong = moved("renew_clips", "clean_bracket")
    pairs = len(implied_pairs(precedence()))
    assert order_score(wrong) == pytest.approx((pairs - 1) / pairs)
    both = moved("measure_thickness", "clean_rotor", wrong)
    assert order_score(both) < order_score(wrong)


# --- leaving out --------------------------------------------------------------------------------------------


def test_leaving_a_step_out_hides_nothing() -> None:
    # The brake is off the ground before the nuts are loose, and the lift itself is left out.
    (found,) = check_order(["wheel_off", "chock_wheels"])
    assert (found.before, found.after) == ("chock_wheels", "wheel_off")
    assert found.through == ("loosen_nuts", "lift_vehicle", "set_stands")
    assert found.safety_critical
    assert found.reason == "Nobody works on a vehicle that only a jack holds."
    assert "by way of loosen nuts, lift vehicle, set stands." in found.words


def test_a_long_way_is_told_short() -> None:
    (found,) = check_order(["sign_record", "hear_complaint"])
    assert found.through == ("check_fluid", "set_level", "first_move", "bed_in", "final_check")
    assert ", by way of check fluid, set level, first move and 2 more. Only" in found.words


@pytest.mark.parametrize(
    ("left_out", "word"),
    [
        ("set_stands", "fall"),
        ("wet_dust", "breathe"),
        ("open_bleeder", "ABS unit"),
        ("support_caliper", "hose"),
        ("torque_bolts", "come loose"),
        ("torque_nuts", "come off"),
        ("pump_pedal", "no brake"),
        ("check_leaks", "leak"),
        ("decide_rotor", "below its limit"),
    ],
)
def test_leaving_a_dangerous_step_out_takes_the_whole_score(left_out: str, word: str) -> None:
    rest = [step for step in GOOD if step != left_out]
    assert check_order(rest) == ()
    assert missing(rest) == (left_out,)
    (danger,) = critical(missing(rest))
    assert danger.operation == left_out and word in danger.consequence
    assert order_score(rest) == 0.0


def test_leaving_another_step_out_costs_its_pairs() -> None:
    rest = [step for step in GOOD if step != "renew_clips"]
    pairs = implied_pairs(precedence())
    lost = sum("renew_clips" in pair for pair in pairs)
    assert critical(missing(rest)) == ()
    assert order_score(rest) == pytest.approx(1 - lost / len(pairs))


def test_an_empty_board_breaks_nothing_and_scores_nothing() -> None:
    assert check_order([]) == ()
    assert missing([]) == tuple(STEPS)
    assert order_score([]) == 0.0
    assert critical([]) == ()


# --- the data -----------------------------------------------------------------------------------------------


def test_the_steps_and_rules_belong_together() -> None:
    assert len(STEPS) == len(operations())
    assert 30 <= len(STEPS) <= 45
    assert list(STEPS) == sorted(STEPS, key=lambda step: PHASES.index(STEPS[step].phase))
    named = {name for rule in precedence() for name in (rule.before, rule.after)}
    assert named == set(STEPS), "a step that no rule ties, or a rule on an unknown step"
    assert all(rule.through == () for rule in precedence())


def test_the_words_are_short() -> None:
    for step in operations():
        assert len(step.words) <= 110 and len(step.caution) <= 110, step.id
    assert all(len(rule.reason) <= 80 for rule in precedence())


def test_what_must_come_first_for_safety_must_not_be_left_out() -> None:
    # A piston that is not pushed back is found out by itself: the new pads do not go in.
    pardoned = {"push_piston"}
    for rule in precedence():
        if rule.safety_critical:
            assert STEPS[rule.before].if_left_out or rule.before in pardoned, rule


def test_the_job_begins_with_the_complaint_and_ends_with_the_record() -> None:
    assert GOOD[0] == "hear_complaint" and GOOD[-1] == "sign_record"
    pairs = implied_pairs(precedence())
    assert all(("hear_complaint", step) in pairs for step in GOOD[1:])
    assert all((step, "sign_record") in pairs for step in GOOD[:-1])


def test_only_two_rules_claim_a_source() -> None:
    written = {rule.source for rule in precedence()} - {"common practice, no source"}
    assert written == {
        "Questions and answers on 29 CFR 1910.1001 App F in a federal compliance manual, spray method",
        "Washington WAC 296-307-22509, (3)",
    }


READS = """
import sys
opened = []
sys.addaudithook(lambda event, args: opened.append(str(args[0])) if event == "open" else None)
from brakecourse.trade import job_order
tables = lambda: [name for name in opened if name.endswith((".csv", ".json"))]
heavy = {"networkx", "numpy", "pint", "pandas"} & set(sys.modules)
at_import = len(tables())
job_order.precedence()
print(at_import, sorted(heavy), len(tables()) > 0)
"""


def test_importing_reads_no_table() -> None:
    shown = subprocess.run(
        [sys.executable, "-c", READS], capture_output=True, text=True, check=True, timeout=60
    )
    assert shown.stdout.strip() == "0 [] True"


# --- parts of the job ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", PART_NAMES)
def test_a_part_stands_by_itself(name: str) -> None:
    part = sub_job(name)
    assert name == WHOLE_JOB or 6 <= len(part.ids) <= 10
    order = a_good_order(name)
    assert sorted(order) == sorted(part.ids)
    assert check_order(order, name) == () and missing(order, name) == ()
    assert order_score(order, name) == 1.0
    assert check_order(order) == (), "the part's order is right in the whole job too"
    assert order_score(order[::-1], name) < 0.5
    # Every step of a part is tied, and the part fixes just what the whole job fixes among its steps.
    whole = implied_pairs(precedence())
    inside = {(one, other) for one, other in whole if {one, other} <= set(part.ids)}
    assert implied_pairs(part.rules) == inside
    assert {step for pair in inside for step in pair} == set(part.ids)


def test_a_part_takes_its_own_steps_only() -> None:
    with pytest.raises(
        ValueError, match="place 2, must be one of the 8 steps, such as 'loosen_nuts', but it"
    ):
        check_order(["chock_wheels", "torque_nuts"], "lift the vehicle")
    with pytest.raises(ValueError, match="part of the job must be one of the 8 parts, such as 'bed in'"):
        sub_job("bedin")


def test_a_rule_by_way_of_steps_outside_a_part_names_them() -> None:
    (rule,) = [rule for rule in sub_job("torque the wheel").rules if rule.through]
    assert (rule.before, rule.through, rule.after) == ("lower_vehicle", ("set_level",), "first_move")
    assert rule.safety_critical


# --- the board: what may follow -----------------------------------------------------------------------------


@settings(max_examples=40)
@given(st.sampled_from(PART_NAMES), st.lists(st.integers(0, 10_000), min_size=45, max_size=45))
def test_whoever_takes_only_what_may_follow_makes_no_mistake(name: str, picks: list[int]) -> None:
    done: list[str] = []
    for pick in picks:
        following = can_follow(done, name)
        if not following:
            break
        done.append(following[pick % len(following)])
    assert missing(done, name) == ()
    assert check_order(done, name) == ()
    assert order_score(done, name) == 1.0


def test_a_skipped_step_opens_nothing_behind_it() -> None:
    assert can_follow([]) == ("hear_complaint",)
    assert can_follow(GOOD) == ()
    assert "first_move" not in can_follow([step for step in GOOD[:-4] if step != "pump_pedal"])
    assert can_follow(["wheel_off"]) == ("hear_complaint",)


@settings(max_examples=40)
@given(st.permutations(GOOD), st.integers(0, len(GOOD)))
def test_score_violations_and_omissions_agree(shuffled: list[str], length: int) -> None:
    sequence = shuffled[:length]
    broken, left_out = check_order(sequence), missing(sequence)
    score = order_score(sequence)
    assert 0.0 <= score <= 1.0
    assert (score == 1.0) == (not broken and not left_out)
    if any(one.safety_critical for one in broken) or critical(left_out):
        assert score == 0.0
    place = {step: number for number, step in enumerate(sequence)}
    assert all(place[one.after] < place[one.before] for one in broken)
    assert [place[one.after] for one in broken] == sorted(place[one.after] for one in broken)


# --- rules of any kind --------------------------------------------------------------------------------------

RULES = (
    Precedence("wash", "dry", "Dry clean pins."),
    Precedence("dry", "oil", "Oil dry pins.", safety_critical=True),
    Precedence("wash", "look", "Look at clean pins."),
)


def test_rules_of_any_kind_are_checked_and_scored() -> None:
    assert violations_of(["sing", "wash", "look", "dry", "oil"], RULES) == ()
    assert [one.safety_critical for one in violations_of(["oil", "wash"], RULES)] == [True]
    assert share_in_order(["wash", "look", "dry", "oil"], RULES) == 1.0
    assert share_in_order(["look", "wash", "oil", "dry"], RULES) == pytest.approx(2 / 4)
    assert share_in_order(["wash"], RULES) == 0.0


def test_of_several_ways_a_dangerous_one_is_told() -> None:
    rules = (
        Precedence("a", "b", "Short way."),
        Precedence("b", "d", "Short way to the end."),
        Precedence("a", "c", "Long way."),
        Precedence("c", "e", "Long way on."),
        Precedence("e", "d", "Long and dangerous.", safety_critical=True),
    )
    (found,) = violations_of(["d", "a"], rules)
    assert found.safety_critical and found.through == ("c", "e") and found.reason == "Long and dangerous."
    (found,) = violations_of(["d", "a"], rules[:4])
    assert not found.safety_critical and found.through == ("b",)


def test_a_way_is_dangerous_when_the_link_at_either_end_is() -> None:
    first, middle, last = (
        Precedence("a", "b", "One."),
        Precedence("b", "c", "Two."),
        Precedence("c", "d", "Three."),
    )
    for dangerous, told in ((first, "One."), (middle, None), (last, "Three.")):
        rules = [replace(rule, safety_critical=rule is dangerous) for rule in (first, middle, last)]
        (found,) = violations_of(["d", "a"], rules)
        # The link between two left-out steps says nothing of the two that are there.
        assert (found.safety_critical, found.reason) == (told is not None, told or "Three.")


def test_a_dangerous_way_is_found_behind_a_shorter_one() -> None:
    rules = (
        Precedence("a", "x", "Short and harmless."),
        Precedence("a", "y", "Long and dangerous.", safety_critical=True),
        Precedence("y", "x", "Long way on."),
        Precedence("x", "d", "Common end."),
    )
    (found,) = violations_of(["d", "a"], rules)
    assert found.safety_critical and found.through == ("y", "x") and found.reason == "Long and dangerous."


@pytest.mark.parametrize(
    ("sequence", "rules", "words"),
    [
        (
            ["wash", "dry", "wash"],
            RULES,
            "sequence must be free of repeats, but 'wash' stands at places 1 and 3",
        ),
        ("wash", RULES, "sequence must be given as a row, such as a list, but it was 'wash'"),
        (["wash", 3], RULES, "sequence, place 2, must be the name of a step, but it was 3"),
        (["wash"], (), r"rules must be at least one rule, but it was \(\)"),
        (
            ["wash"],
            (*RULES, RULES[0]),
            "rules must be free of repeats, but 'wash before dry' stands at places 1",
        ),
        (
            ["wash"],
            (*RULES, Precedence("oil", "wash", "Round and round.")),
            "rules must be free of circles, but they hold this one: ",
        ),
    ],
)
def test_what_cannot_be_judged_is_refused(
    sequence: list[str], rules: Sequence[Precedence], words: str
) -> None:
    for function in (violations_of, share_in_order):
        with pytest.raises(ValueError, match=words):
            function(sequence, rules)


def test_an_unknown_step_is_refused_with_near_ones() -> None:
    with pytest.raises(
        ValueError, match="place 1, must be one of the 45 steps, such as 'loosen_nuts' or 'torque_nuts', but"
    ):
        check_order(["losen_nuts"])
    with pytest.raises(
        ValueError, match=r"sequence must be free of repeats, but 'wheel_off' stands at places 1"
    ):
        order_score(["wheel_off", "wheel_off"])


def test_a_record_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="another than the one that comes first"):
        Precedence("wash", "wash", "Wash first.")
    with pytest.raises(ValueError, match="phase of a step must be"):
        Operation("wash", "Wash the pins.", ("cloth",), "Air the room.", "afterwards")


def test_the_rules_among_some_steps_are_kept_by_way_of_those_left_out() -> None:
    among = {
        (rule.before, rule.after): rule for rule in rules_among(["wheel_off", "loosen_nuts", "pads_out"])
    }
    nuts = among["loosen_nuts", "wheel_off"]
    assert nuts.safety_critical and nuts.through == ("lift_vehicle", "set_stands")
    assert ("wheel_off", "pads_out") in among
    for name in PART_NAMES[1:]:
        assert rules_among(sub_job(name).ids) == sub_job(name).rules
    assert rules_among(["clean_pins", "clean_rotor"]) == () == rules_among([])
    with pytest.raises(ValueError, match="steps"):
        rules_among(["wheel_off", "wheel_off"])


def test_an_order_that_keeps_the_rules_among_some_steps_is_sound() -> None:
    for place in range(len(GOOD) - 5):
        kept = GOOD[place : place + 12 : 2]
        for rule in rules_among(kept):
            assert kept.index(rule.before) < kept.index(rule.after)
            assert check_order([rule.after, rule.before])
