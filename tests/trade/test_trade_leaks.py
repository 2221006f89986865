"""Leaks: air and sinking pedals turned round, what a diagnosis refuses, and what never changes it."""

from __future__ import annotations

import dataclasses
import json
import math
import time
from typing import Any

import pytest
from brakecourse import tables
from brakecourse.errors import CourseError
from brakecourse.trade import _diagnosis
from brakecourse.trade._diagnosis_files import table_from_rows
from brakecourse.trade.leaks import (
    Cause,
    Check,
    Count,
    DiagnosisTable,
    Evidence,
    Finding,
    air_ml_from_travel,
    air_travel_mm,
    atmosphere_mpa,
    brier_score,
    compressibility_ml,
    diagnosis_table,
    leak_ml_per_min_from_sink,
    next_checks,
    rank_causes,
    reliability_table,
    sink_rate_mm_per_min,
)
from hypothesis import given, settings
from hypothesis import strategies as st

# --- quantities ------------------------------------------------------------------------------------

AMOUNTS, PRESSURES, BORES, RATIOS = st.floats(0, 50), st.floats(0.01, 20), st.floats(10, 50), st.floats(1, 8)


@settings(max_examples=50)
@given(AMOUNTS, PRESSURES, BORES, RATIOS)
def test_air_is_found_again_from_its_travel(air: float, pressure: float, bore: float, ratio: float) -> None:
    travel = air_travel_mm(air, pressure, bore, ratio)
    assert air_ml_from_travel(travel, pressure, bore, ratio) == pytest.approx(air)


@settings(max_examples=50)
@given(AMOUNTS, BORES, RATIOS)
def test_a_leak_is_found_again_from_the_sinking(leak: float, bore: float, ratio: float) -> None:
    sink = sink_rate_mm_per_min(leak, bore, ratio)
    assert leak_ml_per_min_from_sink(sink, bore, ratio) == pytest.approx(leak)


@settings(max_examples=50)
@given(st.floats(0.1, 50), PRESSURES, PRESSURES)
def test_a_harder_push_gains_ever_less_travel_from_air(air: float, one: float, step: float) -> None:
    travels = [air_travel_mm(air, one + n * step, 22.2, 4.0) for n in range(3)]
    assert travels[0] < travels[1] < travels[2]
    assert travels[2] - travels[1] < travels[1] - travels[0]


def test_air_loses_half_at_one_atmosphere_more_and_all_at_last() -> None:
    whole = sink_rate_mm_per_min(2.0, 22.2, 4.0)  # the travel that moves 2 mL
    assert air_travel_mm(2.0, atmosphere_mpa(), 22.2, 4.0) == pytest.approx(whole / 2)
    assert air_travel_mm(2.0, 0.0, 22.2, 4.0) == 0.0
    assert air_travel_mm(2.0, 1e9, 22.2, 4.0) == pytest.approx(whole)


@settings(max_examples=30)
@given(AMOUNTS, st.floats(0, 20), st.floats(100, 5000), st.floats(0.1, 10))
def test_fluid_gives_way_in_proportion(volume: float, pressure: float, modulus: float, scale: float) -> None:
    lost = compressibility_ml(volume, pressure, modulus)
    assert 0 <= lost <= volume
    assert compressibility_ml(scale * volume, pressure, modulus) == pytest.approx(scale * lost)


# --- diagnosis -------------------------------------------------------------------------------------

HOLD = Check(
    "hold",
    "Hold the pedal for a minute",
    2.0,
    True,
    (Finding("sinks", "The pedal sinks while held"), Finding("stays", "The pedal stays up")),
)
PUMP = Check(
    "pump",
    "Pump the pedal three times",
    0.5,
    True,
    (
        Finding("firmer", "The pedal gets firmer with each push"),
        Finding("same", "The pedal stays as it was"),
        Finding("lower", "The pedal goes lower with each push"),
    ),
)
LOOK = Check(
    "look", "Look under the vehicle", 5.0, False, (Finding("wet", "A wet place"), Finding("dry", "Dry"))
)
TALLIES = {
    ("air", "slight"): {"hold": (2, 58), "pump": (40, 20, 0), "look": (1, 59)},
    ("air", "marked"): {"hold": (1, 39), "pump": (38, 2, 0), "look": (1, 39)},
    ("leak", "slight"): {"hold": (50, 30), "pump": (5, 70, 5), "look": (60, 20)},
    ("leak", "marked"): {"hold": (20, 0), "pump": (1, 4, 15), "look": (20, 0)},
    ("sound", "any"): {"hold": (1, 199), "pump": (4, 196, 0), "look": (2, 198)},
}
CAUSES = (
    Cause("air", "Air in the lines", 0.2),
    Cause("leak", "Fluid leaves the system", 0.3),
    Cause("sound", "Nothing is wrong", 0.5),
)


def counts_of(
    tallies: dict[tuple[str, str], dict[str, tuple[int, ...]]], *checks: Check
) -> tuple[Count, ...]:
    return tuple(
        Count(cause, severity, check.id, finding.id, seen)
        for (cause, severity), tally in tallies.items()
        for check in checks
        for finding, seen in zip(check.findings, tally[check.id], strict=True)
    )


TABLE = DiagnosisTable(CAUSES, (HOLD, PUMP, LOOK), counts_of(TALLIES, HOLD, PUMP, LOOK))
SOME = st.dictionaries(st.sampled_from(["hold", "pump", "look"]), st.integers(0, 1)).map(
    lambda places: {check: TABLE.check_by_id[check].findings[place].id for check, place in places.items()}
)


def probabilities(findings: dict[str, str], table: DiagnosisTable = TABLE) -> dict[str, float]:
    return {one.cause: one.probability for one in rank_causes(findings, table)}


@settings(max_examples=50)
@given(SOME, st.floats(0.1, 3))
def test_probabilities_sum_to_one_and_stand_in_their_order(
    findings: dict[str, str], sharpness: float
) -> None:
    ranked = rank_causes(findings, dataclasses.replace(TABLE, sharpness=sharpness))
    stated = [one.probability for one in ranked]
    assert math.fsum(stated) == pytest.approx(1)
    assert stated == sorted(stated, reverse=True)
    assert {one.cause for one in ranked} == {cause.id for cause in CAUSES}


def test_without_a_finding_the_shares_stand() -> None:
    assert probabilities({}) == pytest.approx({"air": 0.2, "leak": 0.3, "sound": 0.5})
    assert all(not one.evidence_for and not one.evidence_against for one in rank_causes({}, TABLE))


@settings(max_examples=30)
@given(SOME.filter(lambda findings: len(findings) > 1))
def test_the_order_in_which_checks_are_done_does_not_matter(findings: dict[str, str]) -> None:
    turned = dict(reversed(findings.items()))
    assert rank_causes(findings, TABLE) == rank_causes(turned, TABLE)
    assert next_checks(findings, TABLE) == next_checks(turned, TABLE)


BLIND = Check("blind", "Ask the weather", 1.0, True, (Finding("rain", "Rain"), Finding("sun", "Sun")))


@settings(max_examples=30)
@given(SOME, st.sampled_from(["rain", "sun"]))
def test_a_check_that_shows_the_same_whatever_is_wrong_changes_nothing(
    findings: dict[str, str], weather: str
) -> None:
    # Tenfold counts, so that every row has the same share of rain, smoothing and all, as nearly as need be.
    many = {
        key: {check: tuple(10**9 * n for n in row) for check, row in tally.items()}
        for key, tally in TALLIES.items()
    }
    for tally in many.values():
        vehicles = sum(tally["hold"])
        tally["blind"] = (vehicles * 3 // 10, vehicles - vehicles * 3 // 10)
    with_it = DiagnosisTable(CAUSES, (HOLD, PUMP, LOOK, BLIND), counts_of(many, HOLD, PUMP, LOOK, BLIND))
    before, after = probabilities(findings, with_it), probabilities({**findings, "blind": weather}, with_it)
    assert after == pytest.approx(before, abs=1e-8)
    (blind,) = (one for one in next_checks(findings, with_it) if one.check == "blind")
    assert blind.information_bits == pytest.approx(0, abs=1e-8)
    assert not any(
        evidence.check == "blind"
        for one in rank_causes({"blind": weather}, with_it)
        for evidence in one.evidence_for + one.evidence_against
    )


@pytest.mark.parametrize(("check", "finding"), [("hold", "sinks"), ("pump", "firmer"), ("look", "dry")])
def test_evidence_is_what_takes_the_odds_before_to_the_odds_after(check: str, finding: str) -> None:
    after = probabilities({check: finding})
    for one in rank_causes({check: finding}, TABLE):
        (evidence,) = one.evidence_for + one.evidence_against
        prior = next(cause.prior for cause in CAUSES if cause.id == one.cause)
        odds_before, odds_after = prior / (1 - prior), after[one.cause] / (1 - after[one.cause])
        assert odds_before * math.exp(evidence.log_ratio) == pytest.approx(odds_after)
        assert (evidence in one.evidence_for) == (after[one.cause] > prior)


def test_evidence_stands_by_its_weight() -> None:
    for one in rank_causes({"hold": "sinks", "pump": "same", "look": "wet"}, TABLE):
        for evidence in (one.evidence_for, one.evidence_against):
            weights = [abs(each.log_ratio) for each in evidence]
            assert weights == sorted(weights, reverse=True)
    leak = rank_causes({"hold": "sinks", "pump": "same", "look": "wet"}, TABLE)[0]
    assert leak.cause == "leak"
    assert [one.check for one in leak.evidence_for] == ["look", "hold"]
    assert [one.check for one in leak.evidence_against] == []  # "same" is as good as no evidence here


@pytest.mark.parametrize(
    ("ratio", "words"),
    [
        (40.4, "The pedal sinks: 40 times as likely with this cause as without."),
        (1 / 8, "The pedal sinks: 8 times as likely without this cause as with it."),
        (1.53, "The pedal sinks: 1.5 times as likely with this cause as without."),
        (123.0, "The pedal sinks: 120 times as likely with this cause as without."),
        (5000, "The pedal sinks: more than 1000 times as likely with this cause as without."),
    ],
)
def test_evidence_in_words(ratio: float, words: str) -> None:
    assert Evidence("hold", "sinks", "The pedal sinks", math.log(ratio)).words == words


def test_a_check_that_is_done_is_not_asked_for_again() -> None:
    assert {one.check for one in next_checks({"hold": "stays"}, TABLE)} == {"pump", "look"}
    everything = {"hold": "stays", "pump": "same", "look": "dry"}
    assert next_checks(everything, TABLE) == ()
    assert {one.next_check for one in rank_causes(everything, TABLE)} == {None}


@settings(max_examples=50)
@given(SOME)
def test_a_check_tells_no_more_than_is_unknown(findings: dict[str, str]) -> None:
    left = -sum(p * math.log2(p) for p in probabilities(findings).values())
    for one in next_checks(findings, TABLE):
        assert 0 <= one.information_bits <= left + 1e-9
        assert one.bits_per_minute == pytest.approx(one.information_bits / one.minutes)


def test_the_same_check_twice_at_half_sharpness_is_the_check_once() -> None:
    one_severity = {key: tally for key, tally in TALLIES.items() if key[1] != "marked"}
    again = dataclasses.replace(HOLD, id="again")
    twice = {key: {**tally, "again": tally["hold"]} for key, tally in one_severity.items()}
    table = DiagnosisTable(CAUSES, (HOLD, again), counts_of(twice, HOLD, again), sharpness=0.5)
    once = DiagnosisTable(CAUSES, (HOLD,), counts_of(one_severity, HOLD))
    assert probabilities({"hold": "sinks", "again": "sinks"}, table) == pytest.approx(
        probabilities({"hold": "sinks"}, once)
    )


def test_findings_of_one_severity_go_together() -> None:
    # A leak is slight (the pedal stays) or marked (it sinks, and goes lower). Sinking makes "lower" likely.
    before = rank_causes({}, TABLE), rank_causes({"hold": "sinks"}, TABLE)
    lower = [
        probabilities(findings)["leak"]
        for findings in ({"pump": "lower"}, {"hold": "sinks", "pump": "lower"})
    ]
    assert before[0] != before[1]
    assert lower[0] < lower[1] < 1
    merged: dict[tuple[str, str], dict[str, tuple[int, ...]]] = {}
    for (cause, _), tally in TALLIES.items():
        kept = merged.setdefault((cause, "any"), {check: (0,) * len(row) for check, row in tally.items()})
        for check, row in tally.items():
            kept[check] = tuple(a + b for a, b in zip(kept[check], row, strict=True))
    blind = DiagnosisTable(CAUSES, TABLE.checks, counts_of(merged, *TABLE.checks))
    both = {"hold": "sinks", "look": "wet"}
    assert probabilities({"hold": "sinks"}, blind) != probabilities(both, blind)
    assert (
        probabilities({"hold": "stays", "pump": "lower"})["leak"]
        < probabilities({"hold": "stays", "pump": "lower"}, blind)["leak"]
    )


def test_many_findings_do_not_run_out_of_numbers() -> None:
    checks = tuple(dataclasses.replace(HOLD, id=f"k{n}") for n in range(400))
    sure = {("air", "any"): (10**12 - 1, 0), ("leak", "any"): (0, 10**12 - 1)}
    tallies = {key: dict.fromkeys((check.id for check in checks), row) for key, row in sure.items()}
    causes = (Cause("air", "Air", 0.5), Cause("leak", "Leak", 0.5))
    table = DiagnosisTable(causes, checks, counts_of(tallies, *checks))
    contradictory = {check.id: ("sinks", "stays")[n % 2] for n, check in enumerate(checks)}
    assert probabilities(contradictory, table) == pytest.approx({"air": 0.5, "leak": 0.5})
    clear = {check.id: "sinks" for check in checks[:-1]}
    assert rank_causes(clear, table)[0].probability == 1.0
    assert next_checks(clear, table)[0].information_bits == 0.0


@pytest.mark.slow
def test_a_ranking_is_quick() -> None:
    # 30 causes, 3 severities, 25 checks; against reading 1 MB of JSON in the same run (about 7 ms here).
    checks = tuple(dataclasses.replace(PUMP, id=f"k{n}", minutes=1.0 + n) for n in range(25))
    causes = tuple(Cause(f"c{n}", f"Cause {n}", 1 / 30) for n in range(30))
    tallies = {
        (cause.id, severity): {
            check.id: (5 + (7 * c + 3 * k) % 41, 50 - (7 * c + 3 * k) % 41, 3)
            for k, check in enumerate(checks)
        }
        for c, cause in enumerate(causes)
        for severity in ("slight", "middling", "marked")
    }
    table = DiagnosisTable(causes, checks, counts_of(tallies, *checks))
    text = json.dumps([[n, str(n), n / 7] for n in range(29_000)])
    assert len(text) > 1_000_000

    def least(run: Any) -> float:
        times = []
        for _ in range(15):
            start = time.perf_counter()
            run()
            times.append(time.perf_counter() - start)
        return min(times)

    for done in (0, 12, 25):
        findings = {check.id: "same" for check in checks[:done]}
        assert (
            least(lambda findings=findings: rank_causes(findings, table))
            < least(lambda: json.loads(text)) / 2
        )


# --- what a diagnosis refuses ----------------------------------------------------------------------


def refused(function: Any, **arguments: Any) -> str:
    """Call what must refuse, and return its one sentence."""
    with pytest.raises(ValueError, match=" must ") as caught:
        function(**arguments)
    sentence = str(caught.value)
    assert sentence.endswith(".") and "\n" not in sentence and len(sentence) < 240
    return sentence


NO_FINDINGS: list[Any] = [None, 3, "hold", ["hold"], [("hold", "sinks")], object()]


@pytest.mark.parametrize("function", [rank_causes, next_checks])
def test_findings_that_are_none_are_refused(function: Any) -> None:
    for bad in NO_FINDINGS:
        refused(function, findings=bad, table=TABLE)
    for bad in (3, "table", {}, CAUSES):
        assert "DiagnosisTable" in refused(function, findings={}, table=bad)


@pytest.mark.parametrize("function", [rank_causes, next_checks])
@pytest.mark.parametrize(
    ("findings", "near"),
    [
        ({"holt": "sinks"}, "'hold'"),
        ({"Pump the pedal three times": "same"}, "'pump'"),  # its words instead of its id
        ({"hold": "sink"}, "'sinks'"),
        ({"hold": "the pedal stays up"}, "'stays'"),
        ({"pump": "sinks"}, "'firmer', 'same', 'lower'"),  # nothing near: all are named
        ({"hold": None}, "'sinks', 'stays'"),
        ({3: "sinks"}, "'hold', 'pump', 'look'"),
        ({"x" * 500: "sinks"}, "'hold'"),
    ],
)
def test_an_unknown_check_or_finding_names_the_near_ones(
    function: Any, findings: dict[Any, Any], near: str
) -> None:
    assert near in refused(function, findings=findings, table=TABLE)


@pytest.mark.parametrize(
    ("record", "changed", "word"),
    [
        (CAUSES[0], {"id": ""}, "id of a cause"),
        (CAUSES[0], {"words": 3}, "words of a cause"),
        (CAUSES[0], {"prior": 0}, "share of the cause 'air'"),
        (CAUSES[0], {"prior": 1}, "share of the cause 'air'"),
        (CAUSES[0], {"prior": math.nan}, "share of the cause 'air'"),
        (HOLD, {"id": " "}, "id of a check"),
        (HOLD, {"words": None}, "words of a check"),
        (HOLD, {"minutes": 0}, "minutes of the check 'hold'"),
        (HOLD, {"minutes": True}, "minutes of the check 'hold'"),
        (HOLD, {"cheap": "yes"}, "cheap of the check 'hold'"),
        (HOLD, {"findings": HOLD.findings[:1]}, "findings of the check 'hold'"),
        (HOLD, {"findings": HOLD.findings + HOLD.findings}, "findings of the check 'hold'"),
        (TABLE, {"causes": CAUSES[:1]}, "at least 2 Cause records"),
        (TABLE, {"causes": CAUSES[:2] + CAUSES[:1]}, "an id of their own"),
        (TABLE, {"causes": None}, "Cause records"),
        (TABLE, {"causes": (dataclasses.replace(CAUSES[0], prior=0.3), *CAUSES[1:])}, "they were 1.1000"),
        (TABLE, {"causes": (*CAUSES[:2], Cause("other", "Other", 0.5))}, "known cause"),
        (TABLE, {"checks": ()}, "at least 1 Check record"),
        (TABLE, {"checks": (HOLD, PUMP)}, "known cause, check and finding"),
        (TABLE, {"counts": TABLE.counts + TABLE.counts[:1]}, "stand once"),
        (TABLE, {"counts": TABLE.counts[1:]}, "must sum to the same number"),
        (TABLE, {"counts": ()}, "at least 1 Count record"),
        (TABLE, {"counts": [row for row in TABLE.counts if row.cause != "air"]}, "counts of the cause 'air'"),
        (TABLE, {"sharpness": 0}, "sharpness"),
        (TABLE, {"sharpness": "1"}, "sharpness"),
    ],
)
def test_a_table_that_does_not_fit_together_is_refused(
    record: Any, changed: dict[str, Any], word: str
) -> None:
    assert word in refused(lambda: dataclasses.replace(record, **changed))


def test_a_finding_that_was_never_seen_need_not_stand_in_the_table() -> None:
    shorter = tuple(row for row in TABLE.counts if row.count)
    assert len(shorter) < len(TABLE.counts)
    findings = {"hold": "stays", "pump": "lower"}
    assert probabilities(findings, dataclasses.replace(TABLE, counts=shorter)) == probabilities(findings)
    assert all(p > 0 for p in probabilities(findings).values())


# --- the table in its files ------------------------------------------------------------------------


def rows_of(table: DiagnosisTable) -> dict[str, list[dict[str, str]]]:
    return {
        "causes": [{"id": one.id, "words": one.words, "prior": str(one.prior)} for one in table.causes],
        "checks": [
            {
                "id": one.id,
                "words": one.words,
                "minutes": str(one.minutes),
                "cheap": "yes" if one.cheap else "no",
            }
            for one in table.checks
        ],
        "findings": [
            {"check": one.id, "finding": finding.id, "words": finding.words}
            for one in table.checks
            for finding in one.findings
        ],
        "counts": [
            {key: str(value) for key, value in dataclasses.asdict(row).items()} for row in table.counts
        ],
        "settings": [{"name": "sharpness", "value": str(table.sharpness)}],
    }


def test_a_table_written_in_rows_is_read_back_the_same() -> None:
    table = dataclasses.replace(TABLE, sharpness=0.8)
    assert table_from_rows(**rows_of(table)) == table
    rows = rows_of(TABLE)
    del rows["settings"]
    assert table_from_rows(**rows) == TABLE


@pytest.fixture
def files(monkeypatch: pytest.MonkeyPatch) -> dict[str, list[dict[str, str]]]:
    """Let the reader see these rows instead of the files, and forget them afterwards."""
    rows = rows_of(TABLE)

    def read(name: str) -> list[dict[str, str]]:
        stem = name.removeprefix("diagnosis/").removesuffix(".csv")
        if stem not in rows:
            raise CourseError(f"The data table '{name}' is not there.")
        return rows[stem]

    monkeypatch.setattr(tables, "read_table", read)
    diagnosis_table.cache_clear()
    yield rows
    diagnosis_table.cache_clear()


def test_the_courses_own_table_is_taken_when_none_is_given(files: dict[str, list[dict[str, str]]]) -> None:
    assert diagnosis_table() == TABLE
    assert rank_causes({"hold": "sinks"}) == rank_causes({"hold": "sinks"}, TABLE)
    assert next_checks({"hold": "sinks"}) == next_checks({"hold": "sinks"}, TABLE)
    files.clear()
    assert diagnosis_table() == TABLE  # read once and kept


@pytest.mark.parametrize(
    ("file", "column", "cell"),
    [
        ("causes", "prior", "many"),
        ("causes", "prior", ""),
        ("checks", "cheap", "perhaps"),
        ("checks", "id", "other"),
        ("findings", "check", "other"),
        ("counts", "count", "1.5"),
        ("counts", "cause", "other"),
        ("settings", "value", "-1"),
    ],
)
def test_a_broken_file_is_told_in_one_sentence(
    files: dict[str, list[dict[str, str]]], file: str, column: str, cell: str
) -> None:
    files[file][0][column] = cell
    with pytest.raises(CourseError, match="datasets/diagnosis do not fit together") as caught:
        diagnosis_table()
    assert "\n" not in str(caught.value)
    del files[file][0][column]
    with pytest.raises(CourseError, match="datasets/diagnosis do not fit together"):
        diagnosis_table()


@pytest.mark.parametrize("file", ["causes", "checks", "findings", "counts", "settings"])
def test_a_missing_file_is_told(files: dict[str, list[dict[str, str]]], file: str) -> None:
    del files[file]
    with pytest.raises(CourseError, match=f"diagnosis/{file}.csv"):
        rank_causes({})


def test_the_table_is_not_read_when_one_is_given(monkeypatch: pytest.MonkeyPatch) -> None:
    def never() -> DiagnosisTable:
        raise AssertionError("the files were read")

    monkeypatch.setattr(_diagnosis, "diagnosis_table", never)
    assert rank_causes({}, TABLE)


# --- calibration -----------------------------------------------------------------------------------

CASE = {"air": 0.25, "leak": 0.75}


@pytest.mark.parametrize(
    ("changed", "word"),
    [
        ({"probabilities": []}, "probabilities"),
        ({"probabilities": CASE}, "probabilities"),
        ({"probabilities": [CASE, CASE]}, "truths must be as many"),
        ({"probabilities": [{"air": 0.5, "leak": 0.4}]}, "1 in sum"),
        ({"probabilities": [{"air": 1.5, "leak": -0.5}]}, "probabilities, case 1"),
        ({"probabilities": [{"leak": 1.0}]}, "one of that case's causes"),
        ({"probabilities": [0.5]}, "a dict from cause to probability"),
        ({"truths": ["other"]}, "one of that case's causes"),
        ({"truths": [None]}, "one of that case's causes"),
        ({"truths": "air"}, "truths"),
    ],
)
def test_the_brier_score_refuses_what_it_cannot_score(changed: dict[str, Any], word: str) -> None:
    assert word in refused(brier_score, **{"probabilities": [CASE], "truths": ["air"], **changed})


@pytest.mark.parametrize(
    ("changed", "word"),
    [
        ({"probabilities": []}, "probabilities"),
        ({"probabilities": [0.5]}, "hits must be as many"),
        ({"probabilities": [0.5, 1.1]}, "probabilities, place 2"),
        ({"probabilities": [True, 0.5]}, "probabilities, place 1"),
        ({"hits": [True, "yes"]}, "hits, place 2"),
        ({"hits": [None, True]}, "hits, place 1"),
        ({"hits": [True, math.nan]}, "hits, place 2"),
        ({"hits": [[True], True]}, "hits, place 1"),
        ({"bins": 0}, "number of bins"),
        ({"bins": 2.5}, "number of bins"),
        ({"confidence": 1}, "confidence"),
        ({"confidence": 0}, "confidence"),
        ({"confidence": "x"}, "confidence"),
    ],
)
def test_the_reliability_table_refuses_what_it_cannot_sort(changed: dict[str, Any], word: str) -> None:
    assert word in refused(
        reliability_table, **{"probabilities": [0.2, 0.5], "hits": [False, True], **changed}
    )


@settings(max_examples=50)
@given(st.lists(st.tuples(st.floats(0, 1), st.booleans()), min_size=1, max_size=60), st.integers(1, 30))
def test_every_case_falls_into_its_bin(cases: list[tuple[float, bool]], bins: int) -> None:
    stated, hits = [p for p, _ in cases], [hit for _, hit in cases]
    rows = reliability_table(stated, hits, bins)
    assert sum(row.count for row in rows) == len(cases)
    assert sum(row.count * row.share_right for row in rows) == pytest.approx(sum(hits))
    for row in rows:
        assert row.low <= row.mean_stated + 1e-12 and row.mean_stated <= row.high + 1e-12
        assert 0 <= row.interval_low <= row.share_right + 1e-12
        assert row.share_right <= row.interval_high + 1e-12 <= 1 + 1e-12
    for p in stated:
        assert any(row.low < p <= row.high or p == row.low == 0 for row in rows)


def test_the_best_and_the_worst_score() -> None:
    assert brier_score([{"air": 1.0, "leak": 0.0}], ["air"]) == 0.0
    assert brier_score([{"air": 1.0, "leak": 0.0}], ["leak"]) == 2.0
