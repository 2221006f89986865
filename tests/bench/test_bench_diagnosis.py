"""The diagnosis table is what the bench gives, and what is stated with it can be believed."""

from __future__ import annotations

import csv
import math
from collections import Counter
from dataclasses import replace
from functools import cache
from statistics import fmean, pvariance
from typing import Any

import pytest
from brakecourse.bench import diagnosis_table as estimator
from brakecourse.bench.diagnosis_table import (
    NOTHING,
    PRIORS,
    Examined,
    digest,
    drawn_cause,
    examine,
    severity_of,
    simulate,
    table_of,
    tally,
)
from brakecourse.bench.draw import Draw
from brakecourse.bench.inspection import CHEAP_CHECKS, CHECKS
from brakecourse.bench.vehicle_faults import FAULTS, GlazedPads, UnderTorqued
from brakecourse.trade.leaks import Count, DiagnosisTable, diagnosis_table, next_checks, rank_causes
from scipy import stats

from tests.bench import make_diagnosis
from tests.bench.diagnosis_study import SURE, by_chance, by_information, fresh, probabilities, search, study

pytestmark = pytest.mark.slow

ANEW = "Run python -m tests.bench.make_diagnosis: the bench has changed."
SMALL = 250  # cases of the small study


def rows(name: str) -> list[dict[str, str]]:
    with (make_diagnosis.FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as handle:
        return list(csv.DictReader(handle))


SETTINGS = {row["name"]: row["value"] for row in rows("settings")}


@pytest.fixture(scope="module")
def table() -> DiagnosisTable:
    return diagnosis_table()


@pytest.fixture(scope="module")
def examined() -> list[Examined]:
    """Vehicles that neither the table nor the stored studies have seen."""
    return fresh(80_000_000, SMALL)


# --- the stored table is what the code gives ---------------------------------------------------------


def test_causes_checks_and_findings_are_those_of_the_code() -> None:
    told = {
        name: [{k: str(v) for k, v in row.items()} for row in told]
        for name, told in make_diagnosis.told_rows().items()
    }
    assert told == {name: rows(name) for name in told}, ANEW


def test_the_course_reads_the_table_that_is_stored(table: DiagnosisTable) -> None:
    assert table.checks == CHECKS
    assert table.causes == estimator.causes()
    assert table.sharpness == float(SETTINGS["sharpness"])
    stored = [
        Count(row["cause"], row["severity"], row["check"], row["finding"], int(row["count"]))
        for row in rows("counts")
    ]
    assert table == table_of(stored, table.sharpness)


def test_the_first_vehicles_show_again_what_was_counted() -> None:
    again = list(simulate(int(SETTINGS["digest_vehicles"]), int(SETTINGS["first_seed"])))
    assert digest(again) == SETTINGS["digest"], ANEW
    # The digest sees a single finding.
    changed = replace(again[3], findings={**again[3].findings, "spin": "all_drag"})
    assert again[3].findings["spin"] != "all_drag"
    assert digest([*again[:3], changed, *again[4:]]) != SETTINGS["digest"]


def test_every_vehicle_went_through_every_check(table: DiagnosisTable) -> None:
    vehicles = int(SETTINGS["vehicles"])
    turns = Counter(place % len(PRIORS) for place in range(vehicles))
    per_cause = {cause: turns[place] for place, cause in enumerate(PRIORS)}
    seen: Counter[tuple[str, str]] = Counter()
    for count in table.counts:
        seen[count.cause, count.check] += count.count
    assert vehicles >= 20_000
    assert seen == {(cause, check.id): per_cause[cause] for cause in PRIORS for check in CHECKS}


def test_every_finding_of_every_check_was_seen(table: DiagnosisTable) -> None:
    seen: Counter[tuple[str, str]] = Counter()
    for count in table.counts:
        seen[count.check, count.finding] += count.count
    for check in CHECKS:
        for finding in check.findings:
            assert seen[check.id, finding.id] >= 40, (check.id, finding.id)


@cache
def exact_p(seen: int, number: int, share: float) -> float:
    """The p-value of scipy's exact binomial test; most counts of a table are met again and again."""
    return float(stats.binomtest(seen, number, share).pvalue)


def improbable(stored: DiagnosisTable, sample: list[Examined]) -> float:
    """How improbable the most surprising count of a sample is, if the stored table holds.

    For each cause and finding an exact binomial test; the least of their p-values times their number
    (Bonferroni), at most 1.
    """
    known: Counter[tuple[str, str, str]] = Counter()
    for count in stored.counts:
        known[count.cause, count.check, count.finding] += count.count
    seen: Counter[tuple[str, str, str]] = Counter()
    vehicles = Counter(one.cause for one in sample)
    for one in sample:
        seen.update((one.cause, *finding) for finding in one.findings.items())
    p_values = []
    for cause, number in vehicles.items():
        for check in CHECKS:
            whole = sum(known[cause, check.id, finding.id] for finding in check.findings)
            for finding in check.findings:
                share = (known[cause, check.id, finding.id] + 0.5) / (whole + 1)
                p_values.append(exact_p(seen[cause, check.id, finding.id], number, share))
    return min(1.0, min(p_values) * len(p_values))


def test_other_vehicles_show_the_same_shares(table: DiagnosisTable) -> None:
    # Outside check: scipy's exact binomial test.
    sample = list(simulate(len(PRIORS) * 20, 90_000_000))
    assert improbable(table, sample) > 1e-3
    # It would see a table whose causes were mixed up.
    names = {"seized_pin": "dry_pins", "dry_pins": "seized_pin"}
    mixed = [replace(count, cause=names.get(count.cause, count.cause)) for count in table.counts]
    assert improbable(table_of(mixed), sample) < 1e-6


# --- causes, shares and severities ---------------------------------------------------------------------


def test_every_fault_is_a_cause_with_a_share() -> None:
    assert list(PRIORS) == [NOTHING, *(kind.id for kind in FAULTS)]
    assert math.fsum(PRIORS.values()) == pytest.approx(1)
    words = {cause.id: cause.words for cause in estimator.causes()}
    assert all(words[kind.id] == kind.words for kind in FAULTS)


def test_causes_are_drawn_by_their_shares() -> None:
    # Outside check: scipy's chi-square test of goodness of fit.
    drawn = Counter(drawn_cause(seed) for seed in range(4000))
    fit = stats.chisquare([drawn[cause] for cause in PRIORS], [4000 * share for share in PRIORS.values()])
    assert fit.pvalue > 1e-3


def test_a_severity_names_the_sort_too() -> None:
    assert severity_of(GlazedPads(0.64, "rear")) == "slight"
    assert severity_of(UnderTorqued(0.65, "front left", "caliper bolts")) == "marked, caliper bolts"
    assert examine(5, NOTHING).severity == "as found"
    assert examine(5, NOTHING, ["spin"]).findings.keys() == {"spin"}


def test_both_severities_of_each_cause_were_counted(table: DiagnosisTable) -> None:
    for kind in FAULTS:
        found = {count.severity.split(",")[0] for count in table.counts if count.cause == kind.id}
        assert found == {"slight", "marked"}
    assert {count.severity for count in table.counts if count.cause == NOTHING} == {"as found"}


def test_counting_adds_up() -> None:
    sample = list(simulate(62, 3))
    counts = tally(sample)
    assert [one.cause for one in sample] == [*PRIORS, *PRIORS]
    assert sum(count.count for count in counts) == 62 * len(CHECKS)
    assert all(count.count > 0 for count in counts)
    assert tally(reversed(sample)) == counts


@pytest.mark.parametrize(
    ("call", "expected"),
    [
        (lambda: examine(1, "worn_pad"), "cause must be one of nothing_wrong"),
        (lambda: examine(-1, "worn_pads"), "seed must be a whole number"),
        (lambda: examine(1, "worn_pads", ["spinn"]), "check must be one of"),
        (lambda: list(simulate(0, 1)), "vehicles must be a whole number"),
        (lambda: list(simulate(True, 1)), "vehicles must be a whole number"),
        (lambda: list(simulate(5, -1)), "first_seed must be a whole number"),
        (lambda: drawn_cause("3"), "seed must be a whole number"),  # type: ignore[arg-type]
    ],
)
def test_what_cannot_be_simulated_is_refused_in_one_sentence(call: Any, expected: str) -> None:
    with pytest.raises(ValueError, match=expected):
        call()


# --- what is stated can be believed ---------------------------------------------------------------------


def test_the_stored_study_ranks_the_right_cause_first() -> None:
    found = {row["study"]: row for row in rows("calibration")}
    cheap = found["cheap checks"]
    assert int(cheap["cases"]) >= 2000
    assert float(cheap["right_first"]) >= 0.85
    assert float(found["cheap checks, faulty only"]["right_first"]) >= 0.85
    assert float(found["cheap checks, causes alike"]["right_first"]) >= 0.85
    assert float(found["all checks"]["right_first"]) > float(cheap["right_first"])
    assert int(cheap["checks_done"]) == len(CHEAP_CHECKS)
    seeds = [int(row["first_seed"]) for row in found.values()] + [int(SETTINGS["tuning_first_seed"])]
    assert all(abs(seed - int(SETTINGS["first_seed"])) >= int(SETTINGS["vehicles"]) for seed in seeds)


def test_the_stored_reliability_table_keeps_what_it_states() -> None:
    cases = {row["study"]: int(row["cases"]) for row in rows("calibration")}
    for checks in ("cheap", "all"):
        bins = [row for row in rows("reliability") if row["checks"] == checks]
        assert sum(int(row["count"]) for row in bins) == cases[f"{checks} checks"]
        # Each interval holds the long-run share in 95 of 100 cases: of some eight bins, one may miss.
        missed = [
            row
            for row in bins
            if not float(row["interval_low"]) <= float(row["mean_stated"]) <= float(row["interval_high"])
        ]
        assert len(missed) <= 1, missed
        off = [abs(float(row["mean_stated"]) - float(row["share_right"])) * int(row["count"]) for row in bins]
        assert sum(off) / cases[f"{checks} checks"] < 0.02  # mean gap between what is stated and what is true


def test_a_small_study_agrees_with_the_stored_one(table: DiagnosisTable, examined: list[Examined]) -> None:
    stored = next(row for row in rows("calibration") if row["study"] == "cheap checks")
    found = study(table, examined)
    # Tolerance: three and a half standard errors of this small sample.
    share = float(stored["right_first"])
    assert abs(found.right_first - share) < 3.5 * math.sqrt(share * (1 - share) / SMALL)
    each = [
        math.fsum((value - (cause == truth[0])) ** 2 for cause, value in case.items())
        for case, truth in zip(found.stated, found.truths, strict=True)
    ]
    assert found.brier == pytest.approx(fmean(each))
    assert abs(found.brier - float(stored["brier"])) < 3.5 * math.sqrt(pvariance(each) / SMALL)
    # What was stated of the first cause came true as often as it was stated.
    first = [max(case.values()) for case in found.stated]
    error = math.sqrt(sum(value * (1 - value) for value in first)) / SMALL
    assert abs(fmean(first) - found.right_first) < 3.5 * error


def test_the_small_study_would_see_a_diagnosis_too_sure_of_itself(
    table: DiagnosisTable, examined: list[Examined]
) -> None:
    sure = study(table_of(table.counts, 6.0), examined)
    first = [max(case.values()) for case in sure.stated]
    error = math.sqrt(sum(value * (1 - value) for value in first)) / SMALL
    assert abs(fmean(first) - sure.right_first) > 3.5 * error


def test_the_study_states_what_the_ranking_states(table: DiagnosisTable, examined: list[Examined]) -> None:
    for one in examined[:12]:
        cheap = {check: one.findings[check] for check in CHEAP_CHECKS}
        ranked = {cause.cause: cause.probability for cause in rank_causes(cheap)}
        assert ranked == pytest.approx(probabilities(table, cheap))


# --- the best check next -----------------------------------------------------------------------------------


def test_following_the_best_check_is_sure_sooner_than_any_order(
    table: DiagnosisTable, examined: list[Examined]
) -> None:
    some = examined[:30]
    best = [search(table, one, by_information(table)) for one in some]
    chance = [search(table, one, by_chance(table, Draw(place))) for place, one in enumerate(some)]
    assert fmean(steps[-1].minutes for steps in best) < 0.6 * fmean(steps[-1].minutes for steps in chance)
    assert all(steps[-1].stated >= SURE or len(steps) == len(CHECKS) for steps in (*best, *chance))
    assert fmean(steps[-1].right for steps in best) > 0.85


def test_the_stored_searches_get_better_with_each_check() -> None:
    for study_name in ("best check next", "any check next"):
        steps = [row for row in rows("calibration") if row["study"] == study_name]
        assert [int(row["checks_done"]) for row in steps] == list(range(1, len(steps) + 1))
        assert float(steps[-1]["right_first"]) > float(steps[0]["right_first"]) + 0.3
    ends = {row["study"]: row for row in rows("calibration")}  # the last row of each search
    best, chance = ends["best check next"], ends["any check next"]
    assert float(best["minutes"]) < float(chance["minutes"])
    assert float(best["right_first"]) > float(chance["right_first"])


def test_the_next_check_goes_for_what_is_in_doubt() -> None:
    # A held pedal sinks, wheels are dry: now the place behind the master cylinder tells most of all looks.
    found = {"pedal_hold": "sinks", "wet_wheels": "dry", "fluid_level": "missing"}
    worth = {check.check: check.information_bits for check in next_checks(found)}
    assert max(worth, key=worth.__getitem__) == "wet_master"
    ranked = [cause.cause for cause in rank_causes(found)][:2]
    assert ranked[0] == "primary_seal_leak"
    assert rank_causes({**found, "wet_master": "dry"})[0].cause != "primary_seal_leak"
