"""The order of the job against a graph library's reasoning, and against what rules of work safety say.

The rules themselves are common practice, no source, but for two: dust is wetted first, and nobody works on a
vehicle that only a jack holds.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence

import networkx as nx
import pytest
from brakecourse import published
from brakecourse.trade.job_order import (
    PART_NAMES,
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

from tests.published.comparison import Compare

NETWORKX = f"networkx {nx.__version__}"
IDS = [step.id for step in operations()]


def graph(rules: Iterable[Precedence]) -> nx.DiGraph:
    """The rules as a graph, each edge with its mark."""
    drawn = nx.DiGraph()
    for rule in rules:
        drawn.add_edge(rule.before, rule.after, critical=rule.safety_critical)
    return drawn


JOB = graph(precedence())


def brute_force(sequence: Sequence[str], drawn: nx.DiGraph) -> dict[tuple[str, str], bool]:
    """Every pair in the wrong order that some way over left-out steps ties, and whether a way is dangerous.

    Reachability alone decides: of each pair the graph is cut down to the two and to what is left out.
    """
    left_out = set(drawn) - set(sequence)
    found = {}
    for place, later in enumerate(sequence):
        for first in sequence[place + 1 :]:
            if not {first, later} <= set(drawn):
                continue
            cut = drawn.subgraph(left_out | {first, later})
            if nx.has_path(cut, first, later):
                ends = [(first, step) for step in cut.successors(first)]
                ends += [(step, later) for step in cut.predecessors(later)]
                found[first, later] = any(
                    cut.edges[one, other]["critical"]
                    and nx.has_path(cut, first, one)
                    and nx.has_path(cut, other, later)
                    for one, other in ends
                )
    return found


def ours(sequence: Sequence[str], rules: Sequence[Precedence]) -> dict[tuple[str, str], bool]:
    return {(one.before, one.after): one.safety_critical for one in violations_of(sequence, rules)}


# --- the whole job against networkx -------------------------------------------------------------------------


def test_the_job_has_no_circle_and_fixes_what_its_closure_fixes(compare: Compare) -> None:
    # Source: networkx, is_directed_acyclic_graph and transitive_closure.
    assert nx.is_directed_acyclic_graph(JOB)
    assert set(JOB) == set(IDS)
    closure = nx.transitive_closure(JOB)
    assert implied_pairs(precedence()) == set(closure.edges)
    compare(
        "job_order.implied_pairs",
        "pairs of steps whose order is fixed",
        float(len(implied_pairs(precedence()))),
        float(closure.number_of_edges()),
        source=f"{NETWORKX}, transitive_closure",
        how_known="run",
    )


TOLD_AGAIN = {
    ("check_fluid", "set_level"): "the mistake 'topped up before inspecting' needs its own reason",
    ("pump_pedal", "first_move"): "the mistake 'moved before the pedal is firm' needs its own reason",
}
"""Rules that follow from others and stand there for their reason."""


def test_no_rule_is_told_twice_without_need() -> None:
    # Source: networkx, transitive_reduction.
    needed = set(nx.transitive_reduction(JOB).edges)
    stated = {(rule.before, rule.after): rule for rule in precedence()}
    assert needed <= set(stated)
    assert set(stated) - needed == set(TOLD_AGAIN)
    assert all(stated[pair].safety_critical for pair in TOLD_AGAIN)


def test_what_may_follow_is_generation_by_generation_as_networkx_has_it() -> None:
    # Source: networkx, topological_generations: who does all that may follow at once goes through them.
    done: list[str] = []
    for generation in nx.topological_generations(JOB):
        assert set(can_follow(done)) == set(generation)
        done += can_follow(done)
    assert can_follow(done) == () and missing(done) == ()


@pytest.mark.parametrize("part", PART_NAMES)
def test_the_good_order_is_the_one_that_networkx_sorts(part: str) -> None:
    # Source: networkx, lexicographical_topological_sort, the usual order as the key.
    job = sub_job(part)
    sorted_by = nx.lexicographical_topological_sort(graph(job.rules), key=IDS.index)
    assert a_good_order(part) == tuple(sorted_by)


def shuffled_order(chance: random.Random) -> list[str]:
    """A topological order of the job that networkx finds, by a key drawn at random."""
    key = {step: chance.random() for step in IDS}
    return list(nx.lexicographical_topological_sort(JOB, key=key.__getitem__))


@settings(max_examples=50)
@given(st.randoms(use_true_random=False))
def test_every_order_that_networkx_finds_is_right(chance: random.Random) -> None:
    # Source: networkx, lexicographical_topological_sort.
    order = shuffled_order(chance)
    assert check_order(order) == ()
    assert order_score(order) == 1.0


def test_the_orders_that_networkx_finds_differ() -> None:
    chance = random.Random(11)
    assert len({tuple(shuffled_order(chance)) for _ in range(50)}) > 40


@pytest.mark.slow
@settings(max_examples=50)
@given(st.randoms(use_true_random=False), st.integers(1, 6), st.integers(0, 30))
def test_swaps_and_gaps_are_judged_as_reachability_judges_them(
    chance: random.Random, swaps: int, gaps: int
) -> None:
    # Source: networkx, has_path on the job cut down to the pair and to what is left out.
    order = shuffled_order(chance)
    for _ in range(swaps):
        one, other = chance.sample(range(len(order)), 2)
        order[one], order[other] = order[other], order[one]
    for step in chance.sample(order, gaps):
        order.remove(step)
    expected = brute_force(order, JOB)
    assert ours(order, precedence()) == expected
    place = {step: number for number, step in enumerate(order)}
    closure = nx.transitive_closure(JOB).edges
    kept = sum(one in place and other in place and place[one] < place[other] for one, other in closure)
    assert share_in_order(order, precedence()) == pytest.approx(kept / len(closure))
    dangerous = any(expected.values()) or bool(critical(missing(order)))
    assert order_score(order) == (0.0 if dangerous else pytest.approx(kept / len(closure)))
    # Nothing is hidden: some pair of the closure is the wrong way round only if a rule is reported.
    wrong = any(one in place and other in place and place[one] > place[other] for one, other in closure)
    assert wrong == bool(expected)


# --- any rules against networkx -----------------------------------------------------------------------------


@st.composite
def any_rules(draw: st.DrawFn) -> tuple[Precedence, ...]:
    names = [f"step_{number}" for number in range(draw(st.integers(2, 9)))]
    pairs = [(one, other) for place, one in enumerate(names) for other in names[place + 1 :]]
    chosen = draw(st.lists(st.sampled_from(pairs), min_size=1, unique=True))
    marks = draw(st.lists(st.booleans(), min_size=len(chosen), max_size=len(chosen)))
    return tuple(
        Precedence(one, other, f"Reason of {one} and {other}.", mark)
        for (one, other), mark in zip(chosen, marks, strict=True)
    )


@settings(max_examples=50)
@given(any_rules(), st.permutations([f"step_{number}" for number in range(10)]), st.integers(0, 10))
def test_any_rules_are_judged_as_reachability_judges_them(
    rules: tuple[Precedence, ...], order: list[str], length: int
) -> None:
    # Source: networkx, has_path and transitive_closure.
    drawn = graph(rules)
    assert implied_pairs(rules) == set(nx.transitive_closure(drawn).edges)
    assert ours(order[:length], rules) == brute_force(order[:length], drawn)


@settings(max_examples=50)
@given(any_rules(), st.permutations([f"step_{number}" for number in range(10)]), st.integers(0, 10))
def test_the_way_that_is_told_is_a_way(rules: tuple[Precedence, ...], order: list[str], length: int) -> None:
    # Source: networkx, is_path and shortest_path_length.
    drawn = graph(rules)
    reasons = {(rule.before, rule.after): rule.reason for rule in rules}
    for found in violations_of(order[:length], rules):
        way = [found.before, *found.through, found.after]
        assert nx.is_path(drawn, way) and not set(found.through) & set(order[:length])
        assert found.reason in {reasons[way[0], way[1]], reasons[way[-2], way[-1]]}
        if not found.safety_critical:
            cut = drawn.subgraph({*drawn} - set(order[:length]) | {found.before, found.after})
            assert len(way) - 1 == nx.shortest_path_length(cut, found.before, found.after)


# --- what rules of work safety say --------------------------------------------------------------------------


def told_by(found_in: str, first: str, later: str) -> float:
    """1 when the wrong order of two steps is reported as dangerous, with the source of a published row."""
    row = published.value(found_in)
    (rule,) = [rule for rule in precedence() if (rule.before, rule.after) == (first, later)]
    (wrong,) = check_order([later, first])
    return float(wrong.safety_critical and rule.source == f"{row.source}, {row.section}")


def test_dust_is_wetted_before_parts_are_moved(compare: Compare) -> None:
    # Source: questions and answers on 29 CFR 1910.1001 Appendix F: the parts are wetted first, then wiped;
    # dry brushing is prohibited. That no other step touches the dust sooner is read off the graph.
    compare.row(
        "job_order.check_order",
        told_by("dust_spray_wet_first", "wet_dust", "caliper_off"),
        "dust_spray_wet_first",
    )
    touching = {
        "open_bleeder",
        "caliper_off",
        "pads_out",
        "bracket_off",
        "clean_bracket",
        "clean_rotor",
        "rotor_off",
    }
    assert touching <= nx.descendants(JOB, "wet_dust")
    (step,) = [step for step in operations() if step.id == "wet_dust"]
    assert published.value("dust_dry_brushing_prohibited").value == 1
    assert "Never brush it dry" in step.words and step.if_left_out


def test_which_wet_method_may_be_used_is_left_to_the_law() -> None:
    # Source: 29 CFR 1910.1001 Appendix F, introduction and paragraph D: the simple wet method is for shops of
    # at most five pairs of brakes a week, so the step cannot promise it to everyone.
    row = published.value("dust_wet_method_jobs_max")
    assert (row.value, row.how_known) == (5, "read")
    (step,) = [step for step in operations() if step.id == "wet_dust"]
    assert "Local law says which method may be used." in step.caution


def test_nobody_works_on_a_vehicle_that_a_jack_holds(compare: Compare) -> None:
    # Source: Washington WAC 296-307-22509 (3), one locality's rule.
    compare.row(
        "job_order.check_order",
        told_by("no_work_under_jack_only", "set_stands", "wheel_off"),
        "no_work_under_jack_only",
    )
    at_the_wheel = set(IDS[IDS.index("wheel_off") : IDS.index("lower_vehicle")])
    assert at_the_wheel <= nx.descendants(JOB, "set_stands")


# --- each function beside the library's answer --------------------------------------------------------------


def test_steps_and_rules_are_those_that_work_safety_asks_for(compare: Compare) -> None:
    # Source: 29 CFR 1910.1001 Appendix F and Washington WAC 296-307-22509, as in the rows.
    (step,) = [step for step in operations() if step.id == "wet_dust"]
    forbids = float("Never brush it dry" in step.words)
    compare.row("job_order.operations", forbids, "dust_dry_brushing_prohibited")
    stated = float(any(rule.before == "set_stands" and rule.safety_critical for rule in precedence()))
    compare.row("job_order.precedence", stated, "no_work_under_jack_only")
    compare.row("job_order.critical", float(len(critical(["set_stands"]))), "no_work_under_jack_only")


@pytest.mark.parametrize("seed", range(3))
def test_a_shuffled_job_is_judged_as_networkx_judges_it(seed: int, compare: Compare) -> None:
    # Source: networkx: has_path, transitive_closure, lexicographical_topological_sort, descendants.
    known = {"source": "networkx on the rules as a graph", "how_known": "run"}
    chance = random.Random(seed)
    right, wrong = shuffled_order(chance), chance.sample(IDS, 30)
    compare("job_order.order_score", f"score of a sorted job, {seed}", order_score(right), 1, **known)
    broken = violations_of(wrong, precedence())
    theirs = brute_force(wrong, JOB)
    compare("job_order.violations_of", f"rules broken, {seed}", len(broken), len(theirs), **known)
    place = {step: number for number, step in enumerate(wrong)}
    pairs = nx.transitive_closure(JOB).edges
    kept = sum(place.get(one, 99) < place.get(other, -1) for one, other in pairs)
    ours = share_in_order(wrong, precedence())
    compare("job_order.share_in_order", f"share of pairs in order, {seed}", ours, kept / len(pairs), **known)
    left_out = len(set(JOB) - set(wrong))
    compare("job_order.missing", f"steps left out, {seed}", len(missing(wrong)), left_out, **known)
    reached = nx.ancestors(nx.DiGraph((b, a) for a, b in JOB.edges), right[20])  # all that lie behind a step
    done = [step for step in IDS if step not in reached and step != right[20]]
    next_ones = [step for step in {right[20], *reached} if set(JOB.predecessors(step)) <= set(done)]
    compare(
        "job_order.can_follow",
        f"steps that may follow, {seed}",
        len(can_follow(done)),
        len(next_ones),
        **known,
    )


@pytest.mark.parametrize("part", PART_NAMES)
def test_a_part_is_the_piece_of_the_whole_that_networkx_cuts_out(part: str, compare: Compare) -> None:
    # Source: networkx: transitive_closure of the whole job, cut down to the part's steps; the sort as above.
    known = {"source": "networkx on the rules as a graph", "how_known": "run"}
    job = sub_job(part)
    pairs = nx.transitive_closure(JOB).subgraph(job.ids).number_of_edges()
    compare(
        "job_order.sub_job", f"{part}: pairs in a fixed order", len(implied_pairs(job.rules)), pairs, **known
    )
    among = rules_among(job.ids[::-1])
    compare(
        "job_order.rules_among", f"{part}: pairs in a fixed order", len(implied_pairs(among)), pairs, **known
    )
    first, *_, last = nx.lexicographical_topological_sort(graph(job.rules), key=IDS.index)
    ours = a_good_order(part)
    compare(
        "job_order.a_good_order",
        f"{part}: first and last",
        f"{ours[0]}, {ours[-1]}",
        f"{first}, {last}",
        **known,
    )
