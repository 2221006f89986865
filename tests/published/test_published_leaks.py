"""Leaks and diagnosis against Boyle's law, units, textbook Bayes, and general statistics libraries."""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Mapping
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from brakecourse import published, tables
from brakecourse.trade.leaks import (
    Cause,
    Check,
    Count,
    DiagnosisTable,
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
from scipy import constants, integrate, stats
from sklearn.calibration import calibration_curve
from sklearn.metrics import brier_score_loss, mutual_info_score
from sklearn.naive_bayes import CategoricalNB
from statsmodels.stats.proportion import proportion_confint
from thermo.eos import PR

from tests.published.comparison import Compare
from tests.units import pints_units

# --- air, leaks, fluid that gives way --------------------------------------------------------------

BORE_OF_ONE_CM2 = math.sqrt(400 / math.pi)  # mm; 1 mL then is 10 mm of push rod
UNITS = pints_units()


def value(id: str, unit: str) -> float:
    one = published.value(id)
    return published.convert(one.value, one.unit, unit)


def test_the_atmosphere_is_the_standard_one(compare: Compare) -> None:
    # Source: scipy.constants.atm, and pint's unit atm.
    compare.row("leaks.atmosphere_mpa", atmosphere_mpa() * 1e6, "standard_atmosphere_pa")
    assert atmosphere_mpa() == pytest.approx(constants.atm / 1e6, rel=1e-12)
    assert atmosphere_mpa() == pytest.approx(UNITS.Quantity(1, "atm").to("MPa").magnitude, rel=1e-12)


def pressed(before: str, low: str, high: str) -> float:
    """What is left of a row's volume of air, mL, by the pedal's travel, pressed from one pressure to another.

    Only the ratio of the absolute pressures counts, so the air is taken to begin at the atmosphere's.
    """
    rise = (value(high, "MPa") / value(low, "MPa") - 1) * atmosphere_mpa()
    return value(before, "mL") - air_travel_mm(value(before, "mL"), rise, BORE_OF_ONE_CM2, 1.0) / 10


def test_air_follows_worked_examples_of_boyles_law(compare: Compare) -> None:
    # Source: a textbook exercise with its solution, and notes for engineering students (both read). The
    # second lets a gas expand; turned round, it is pressed.
    left = pressed("boyle_ex1_v1", "boyle_ex1_p1", "boyle_ex1_p2")
    compare.row("leaks.air_travel_mm", left, "boyle_ex1_v2", of="by the travel that the loss takes")
    left = published.convert(pressed("boyle_ex2_v2", "boyle_ex2_p2", "boyle_ex2_p1"), "mL", "m**3")
    compare.row("leaks.air_travel_mm", left, "boyle_ex2_v1", of="turned round")


def test_air_with_units_carried_by_a_unit_library(compare: Compare) -> None:
    # Source: pint: 0.1 cubic inch of air, 1000 psi, a bore of 7/8 in, a pedal ratio of 5.
    q = UNITS.Quantity
    air, gauge, bore = q(0.1, "in**3"), q(1000, "psi"), q(0.875, "in")
    absolute = gauge + q(1, "atm")
    travel = 5 * (air - air * q(1, "atm") / absolute) / (math.pi / 4 * bore**2)
    ours = air_travel_mm(air.to("mL").magnitude, gauge.to("MPa").magnitude, bore.to("mm").magnitude, 5.0)
    known = {"source": "Boyle's law with units carried by pint", "how_known": "run"}
    compare(
        "leaks.air_travel_mm",
        "travel of the pedal by 0.1 in³ of air at 1000 psi",
        q(ours, "mm").to("in").magnitude,
        travel.to("in").magnitude,
        "in",
        **known,
    )
    compare(
        "leaks.air_ml_from_travel",
        "air that lets a pedal go so far",
        air_ml_from_travel(travel.to("mm").magnitude, gauge.to("MPa").magnitude, 22.225, 5.0),
        air.to("mL").magnitude,
        "mL",
        **known,
    )


@pytest.mark.parametrize("pressure", [0.5, 3.0, 10.0])
def test_the_ideal_law_is_near_enough_to_a_real_gas(pressure: float) -> None:
    # Source: the Peng-Robinson equation of the thermo library for nitrogen, the most of air, at 20 degC.
    # Its critical point (126.2 K, 3.39 MPa) and acentric factor (0.037) are from memory.
    def molar_m3(absolute_mpa: float) -> float:
        return float(PR(Tc=126.2, Pc=3.39e6, omega=0.037, T=293.15, P=absolute_mpa * 1e6).V_g)

    real_share = 1 - molar_m3(atmosphere_mpa() + pressure) / molar_m3(atmosphere_mpa())
    ours = air_travel_mm(1.0, pressure, BORE_OF_ONE_CM2, 1.0) / 10
    assert ours == pytest.approx(real_share, rel=0.003)


def test_a_sinking_pedal_with_units_carried_by_a_unit_library(compare: Compare) -> None:
    # Source: pint: 1/20 fluid ounce a minute, a bore of 1 in, a pedal ratio of 4.
    q = UNITS.Quantity
    leak, bore = q(0.05, "fluid_ounce/min"), q(1, "in")
    sink = (4 * leak / (math.pi / 4 * bore**2)).to("mm/min").magnitude
    a_minute = leak.to("mL/min").magnitude
    known = {"source": "geometry with units carried by pint", "how_known": "run"}
    ours = sink_rate_mm_per_min(a_minute, 25.4, 4.0)
    compare("leaks.sink_rate_mm_per_min", "sinking by 1/20 fl oz a minute", ours, sink, "mm/min", **known)
    ours = leak_ml_per_min_from_sink(sink, 25.4, 4.0)
    compare("leaks.leak_ml_per_min_from_sink", "leak that sinks so", ours, a_minute, "mL/min", **known)


def test_a_leak_shows_in_the_hold_test_of_the_law() -> None:
    # Source: 49 CFR 570.55(b): the pedal is held for 10 s and any further fall is noted. The volume that has
    # left by then is what the master cylinder's piston has swept.
    seconds = value("inspect_hold_time", "s")
    fall = sink_rate_mm_per_min(1.5, 22.2, 4.0) * seconds / 60
    swept_ml = fall / 4.0 * math.pi / 4 * 22.2**2 / 1000
    assert swept_ml == pytest.approx(1.5 * seconds / 60)
    assert fall > 2.0  # a rule shows that


@pytest.mark.parametrize("pressure", [0.0, 7.0, 15.0])
def test_compressibility_against_integration_of_its_definition(pressure: float, compare: Compare) -> None:
    # Source: definition of the bulk modulus, dV/dp = -V/K, by scipy.integrate.solve_ivp. Ours takes the mean
    # modulus, which differs by half the square of the share.
    modulus = value("bulk_modulus_iso32_oil", "MPa")
    solved = integrate.solve_ivp(
        lambda _, volume: -volume / modulus, (0, pressure or 1e-12), [60.0], rtol=1e-10
    )
    lost = 60.0 - solved.y[0, -1]
    compare(
        "leaks.compressibility_ml",
        f"shrinking of 60 mL of oil at {pressure:g} MPa",
        compressibility_ml(60.0, pressure, modulus),
        lost,
        "mL",
        within=60 * (pressure / modulus) ** 2 / 2 + 1e-9,
        source="dV/dp = -V/K: scipy.integrate.solve_ivp",
        how_known="run",
    )


def test_oil_shrinks_as_a_reference_page_tells(compare: Compare) -> None:
    # Source: "about 0.5 percent" from 6900 kPa, with a modulus from another table of the same publisher; the
    # figure has one digit.
    share = compressibility_ml(100.0, value("oil_shrink_kpa", "MPa"), value("bulk_modulus_sae30_oil", "MPa"))
    compare.row("leaks.compressibility_ml", share, "oil_shrink_percent", within=0.05)


def test_two_sources_agree_on_water() -> None:
    # Source: an engineering reference table, and CoolProp.
    shrinks = [
        compressibility_ml(100.0, 10.0, value(id, "MPa"))
        for id in ("bulk_modulus_water", "bulk_modulus_water_coolprop")
    ]
    assert shrinks[0] == pytest.approx(shrinks[1], rel=0.02)


def test_a_sound_pedal_is_firm() -> None:
    # The modulus of brake fluid is from memory (bulk_modulus_glycol_ether): order of magnitude only.
    fluid = compressibility_ml(60.0, 7.0, value("bulk_modulus_glycol_ether", "MPa"))  # from memory
    air = air_travel_mm(60.0, 7.0, BORE_OF_ONE_CM2, 1.0) / 10
    assert 100 < air / fluid < 1000


# --- Bayes -----------------------------------------------------------------------------------------

MANY = 10**10  # so many that the smoothing does not show


def two_causes(prior: float, with_cause: float, without: float) -> DiagnosisTable:
    test = Check("test", "The test", 1.0, True, (Finding("yes", "Positive"), Finding("no", "Negative")))
    counts = []
    for cause, share in (("ill", with_cause), ("well", without)):
        yes = round(share * MANY)
        counts += [Count(cause, "any", "test", "yes", yes), Count(cause, "any", "test", "no", MANY - yes)]
    return DiagnosisTable(
        (Cause("ill", "Ill", prior), Cause("well", "Well", 1 - prior)), (test,), tuple(counts)
    )


def probability(table: DiagnosisTable, findings: Mapping[str, str], cause: str) -> float:
    return next(one.probability for one in rank_causes(findings, table) if one.cause == cause)


def percent_ill(prior: float, sensitivity: float, specificity: float) -> float:
    return 100 * probability(two_causes(prior, sensitivity, 1 - specificity), {"test": "yes"}, "ill")


def test_textbook_bayes(compare: Compare) -> None:
    # The article: sensitivity 93 %, specificity 96 %; 19 % when 1 in 100 is ill, 72 % when 1 in 10 is.
    for prior, percent in ((0.01, 19), (0.10, 72)):
        compare(
            "leaks.rank_causes",
            f"ill after a positive test, {prior:.0%} being ill",
            percent_ill(prior, 0.93, 0.96),
            percent,
            "%",
            within=0.5,
            source="summary of an article on Bayes' theorem and medical tests",
            how_known="read",
        )
    # From memory: 1 % ill, 80 % of them found, 9.6 % false alarms; 7.8 %.
    compare(
        "leaks.rank_causes",
        "ill after a positive screening, 1% being ill",
        percent_ill(0.01, 0.80, 0.904),
        7.8,
        "%",
        within=0.05,
        source="the much used textbook exercise on screening",
        how_known="memory",
    )


def test_the_ranking_is_that_of_a_naive_bayes_classifier(compare: Compare) -> None:
    # Source: scikit-learn's CategoricalNB with the same smoothing, one severity a cause.
    rng = np.random.default_rng(11)
    truth = rng.integers(0, 4, 600)
    shown = np.stack([(truth * rng.integers(1, 3, 600) + rng.integers(0, 2, 600)) % 3 for _ in range(5)], 1)
    priors = [0.4, 0.3, 0.2, 0.1]
    checks = tuple(
        Check(f"k{k}", f"Check {k}", 1.0, True, tuple(Finding(str(f), f"Shows {f}") for f in range(3)))
        for k in range(5)
    )
    counts = tuple(
        Count(str(c), "any", f"k{k}", str(f), int(((truth == c) & (shown[:, k] == f)).sum()))
        for c, k, f in itertools.product(range(4), range(5), range(3))
    )
    table = DiagnosisTable(
        tuple(Cause(str(c), f"Cause {c}", p) for c, p in enumerate(priors)), checks, counts
    )
    outside = CategoricalNB(alpha=0.5, class_prior=priors, min_categories=3).fit(shown, truth)
    for case in shown[:40]:
        found = {one.cause: one.probability for one in rank_causes(findings_of(case), table)}
        assert [found[str(c)] for c in range(4)] == pytest.approx(outside.predict_proba([case])[0])
    compare(
        "leaks.rank_causes",
        "probability of the likeliest of 4 causes after 5 findings",
        max(found.values()),
        max(outside.predict_proba([case])[0]),
        source="scikit-learn CategoricalNB, the same smoothing",
        how_known="run",
    )


def findings_of(case: np.ndarray) -> dict[str, str]:
    return {f"k{k}": str(f) for k, f in enumerate(case)}


# --- a small world whose whole joint distribution fits into an array -------------------------------

CAUSES, SEVERITIES, CHECKS, SHOWN = 4, 2, 5, 3


class World:
    """Causes, severities and findings with known probabilities, truly independent given both."""

    def __init__(self, seed: int, sharpness: float = 1.0) -> None:
        rng = np.random.default_rng(seed)
        self.priors = rng.dirichlet(np.full(CAUSES, 3.0))
        self.shares = rng.dirichlet(np.full(SEVERITIES, 3.0), CAUSES)
        self.likelihoods = rng.dirichlet(np.full(SHOWN, 0.7), (CAUSES, SEVERITIES, CHECKS)) * 0.97 + 0.01
        letters = "vwxyz"
        spread = ",".join(f"cs{letter}" for letter in letters)
        self.joint = np.einsum(
            f"c,cs,{spread}->cs{letters}",
            self.priors,
            self.shares,
            *(self.likelihoods[:, :, k] for k in range(CHECKS)),
        )
        self.table = self._table(sharpness)

    def _table(self, sharpness: float) -> DiagnosisTable:
        counts = []
        for c, s, k in itertools.product(range(CAUSES), range(SEVERITIES), range(CHECKS)):
            vehicles = round(self.shares[c, s] * MANY)
            seen = [round(share * vehicles) for share in self.likelihoods[c, s, k]]
            seen[0] += vehicles - sum(seen)
            counts += [Count(str(c), f"s{s}", f"k{k}", str(f), n) for f, n in enumerate(seen)]
        return DiagnosisTable(
            tuple(Cause(str(c), f"Cause {c}", float(p)) for c, p in enumerate(self.priors)),
            tuple(
                Check(
                    f"k{k}",
                    f"Check {k}",
                    1.0 + k,
                    k < 3,
                    tuple(Finding(str(f), f"{f}") for f in range(SHOWN)),
                )
                for k in range(CHECKS)
            ),
            tuple(counts),
            sharpness,
        )

    def given(self, findings: Mapping[str, str]) -> np.ndarray:
        """The joint distribution after findings, by plain conditioning: cause, severity, the open checks."""
        index = tuple(int(findings[f"k{k}"]) if f"k{k}" in findings else slice(None) for k in range(CHECKS))
        left = self.joint[(slice(None), slice(None), *index)]
        return left / left.sum()

    def cases(self, number: int, seed: int) -> list[tuple[str, dict[str, str]]]:
        rng = np.random.default_rng(seed)
        places = rng.choice(self.joint.size, number, p=self.joint.ravel())
        drawn = np.array(np.unravel_index(places, self.joint.shape)).T
        return [(str(case[0]), findings_of(case[2:])) for case in drawn]


FINDINGS = [{}, {"k0": "1"}, {"k3": "2", "k1": "0"}, {"k4": "0", "k0": "0", "k2": "2", "k1": "1", "k3": "1"}]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("findings", FINDINGS, ids=len)
def test_the_posterior_is_that_of_conditioning_the_whole_joint_table(
    seed: int, findings: dict[str, str]
) -> None:
    # Source: numpy: the joint distribution written out in full, and summed over the severities.
    world = World(seed)
    expected = world.given(findings).reshape(CAUSES, -1).sum(axis=1)
    found = {one.cause: one.probability for one in rank_causes(findings, world.table)}
    assert [found[str(c)] for c in range(CAUSES)] == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("findings", FINDINGS[:3], ids=len)
def test_the_information_is_that_of_the_entropies(seed: int, findings: dict[str, str]) -> None:
    # Source: scipy.stats.entropy: H(cause) + H(finding) - H(both), in bits.
    world = World(seed)
    given = world.given(findings)
    open_checks = [k for k in range(CHECKS) if f"k{k}" not in findings]
    found = {one.check: one for one in next_checks(findings, world.table)}
    assert set(found) == {f"k{k}" for k in open_checks}
    for axis, k in enumerate(open_checks, start=2):
        others = tuple(place for place in range(1, given.ndim) if place != axis)
        both = given.sum(axis=others)
        bits = sum(stats.entropy(both.sum(axis=side), base=2) for side in (0, 1)) - stats.entropy(
            both, base=2, axis=None
        )
        assert found[f"k{k}"].information_bits == pytest.approx(bits, abs=1e-7)
        assert found[f"k{k}"].bits_per_minute == pytest.approx(bits / (1 + k), abs=1e-7)
    worth = [one.bits_per_minute for one in next_checks(findings, world.table)]
    assert worth == sorted(worth, reverse=True)


def test_the_information_is_that_of_a_contingency_table(compare: Compare) -> None:
    # Source: scikit-learn's mutual_info_score (in nats) of the table of counts.
    table = two_causes(0.5, 0.9, 0.2)
    nats = mutual_info_score(None, None, contingency=[[90, 10], [20, 80]])
    (only,) = next_checks({}, table)
    compare(
        "leaks.next_checks",
        "information of a test that shows 90 % of one cause, 20 % of the other",
        only.information_bits,
        nats / math.log(2),
        "bit",
        share=1e-6,
        source="scikit-learn mutual_info_score",
        how_known="run",
    )
    # With two causes, "this one or another" is the same question as "which one".
    for one in rank_causes({}, table):
        assert one.next_check is not None
        assert one.next_check.information_bits == pytest.approx(only.information_bits)


@pytest.mark.parametrize("findings", FINDINGS[:3], ids=len)
def test_the_next_check_of_a_cause_parts_it_best_from_the_others(findings: dict[str, str]) -> None:
    # Source: scipy.stats.entropy of "this cause or another" and the finding, from the whole joint table.
    world = World(5)
    given = world.given(findings)
    open_checks = [k for k in range(CHECKS) if f"k{k}" not in findings]
    for one in rank_causes(findings, world.table):
        worth = {}
        for axis, k in enumerate(open_checks, start=2):
            both = given.sum(axis=tuple(place for place in range(1, given.ndim) if place != axis))
            this = both[int(one.cause)]
            two = np.stack([this, both.sum(axis=0) - this])
            bits = sum(stats.entropy(two.sum(axis=side), base=2) for side in (0, 1)) - stats.entropy(
                two, base=2, axis=None
            )
            worth[f"k{k}"] = bits / (1 + k)
        assert one.next_check is not None
        assert one.next_check.check == max(worth, key=lambda k: worth[k])
        assert one.next_check.bits_per_minute == pytest.approx(max(worth.values()), abs=1e-7)


def test_the_courses_table_is_what_stands_in_its_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, compare: Compare
) -> None:
    # Source: pandas writes a table of known counts; it is read back as the course's own would be.
    table = World(3, sharpness=0.7).table
    counts = pd.DataFrame([dataclasses.asdict(row) for row in table.counts])
    frames = {
        "causes": pd.DataFrame([dataclasses.asdict(cause) for cause in table.causes]),
        "checks": pd.DataFrame(
            [(one.id, one.words, one.minutes, "yes" if one.cheap else "no") for one in table.checks],
            columns=["id", "words", "minutes", "cheap"],
        ),
        "findings": pd.DataFrame(
            [(check.id, one.id, one.words) for check in table.checks for one in check.findings],
            columns=["check", "finding", "words"],
        ),
        "counts": counts,
        "settings": pd.DataFrame({"name": ["sharpness"], "value": [table.sharpness]}),
    }
    (tmp_path / "diagnosis").mkdir()
    for name, frame in frames.items():
        frame.to_csv(tmp_path / "diagnosis" / f"{name}.csv", index=False)
    monkeypatch.setattr(tables, "_INSIDE", tmp_path)
    read = diagnosis_table.__wrapped__()
    assert read == table
    compare(
        "leaks.diagnosis_table",
        "vehicles counted with the first cause",
        sum(row.count for row in read.counts if row.cause == "0"),
        counts.loc[counts.cause == "0", "count"].sum(),
        source="pandas: the table written, and summed",
        how_known="run",
    )


# --- calibration -----------------------------------------------------------------------------------


def stated_and_true(world: World, number: int) -> tuple[list[dict[str, float]], list[str]]:
    cases = world.cases(number, seed=23)
    stated = [{one.cause: one.probability for one in rank_causes(found, world.table)} for _, found in cases]
    return stated, [truth for truth, _ in cases]


@pytest.fixture(scope="module")
def simulated() -> tuple[list[dict[str, float]], list[str]]:
    return stated_and_true(World(7), 1500)


def test_the_brier_score_is_that_of_a_library(
    simulated: tuple[list[dict[str, float]], list[str]], compare: Compare
) -> None:
    # Source: scikit-learn's brier_score_loss for many classes, not halved.
    stated, truths = simulated
    labels = [str(c) for c in range(CAUSES)]
    rows = np.array([[case[label] for label in labels] for case in stated])
    rows /= rows.sum(axis=1, keepdims=True)
    outside = brier_score_loss(truths, rows, labels=labels, scale_by_half=False)
    compare(
        "leaks.brier_score",
        "score of 1500 simulated cases",
        brier_score(stated, truths),
        outside,
        source="scikit-learn brier_score_loss, many classes",
        how_known="run",
    )


def pairs(simulated: tuple[list[dict[str, float]], list[str]]) -> tuple[list[float], list[bool]]:
    stated, truths = simulated
    flat = [
        (p, cause == truth) for case, truth in zip(stated, truths, strict=True) for cause, p in case.items()
    ]
    return [p for p, _ in flat], [hit for _, hit in flat]


@pytest.mark.parametrize("bins", [1, 5, 10])
def test_the_reliability_table_is_that_of_two_libraries(
    simulated: tuple[list[dict[str, float]], list[str]], bins: int, compare: Compare
) -> None:
    # Source: scikit-learn's calibration_curve; statsmodels' proportion_confint, Wilson's interval.
    stated, hits = pairs(simulated)
    rows = reliability_table(stated, hits, bins)
    right, mean = calibration_curve(hits, stated, n_bins=bins)
    assert [row.share_right for row in rows] == pytest.approx(right)
    assert [row.mean_stated for row in rows] == pytest.approx(mean)
    assert sum(row.count for row in rows) == len(stated)
    for row in rows:
        low, high = proportion_confint(round(row.share_right * row.count), row.count, method="wilson")
        assert (row.interval_low, row.interval_high) == pytest.approx((low, high), abs=1e-12)
    compare(
        "leaks.reliability_table",
        f"lower end of the interval of the last of {bins} bins",
        row.interval_low,
        low,
        source="statsmodels proportion_confint, Wilson",
        how_known="run",
    )


def misses(stated: list[float], hits: list[bool]) -> int:
    rows = reliability_table(stated, hits, bins=10, confidence=0.999)
    return sum(not row.interval_low <= row.mean_stated <= row.interval_high for row in rows)


def test_stated_probabilities_come_true_as_often_as_they_say(
    simulated: tuple[list[dict[str, float]], list[str]],
) -> None:
    # Source: the meaning of a probability. Cases are drawn with numpy from the joint distribution itself.
    assert misses(*pairs(simulated)) == 0
    # A calibrated score is as large as the probabilities themselves expect it to be.
    stated, truths = simulated
    expected = np.mean([1 - sum(p * p for p in case.values()) for case in stated])
    assert brier_score(stated, truths) == pytest.approx(expected, abs=0.03)


@pytest.mark.parametrize("sharpness", [0.4, 2.5])
def test_a_wrong_sharpness_shows_in_the_reliability_table(sharpness: float) -> None:
    wrong = stated_and_true(World(7, sharpness), 1500)
    assert misses(*pairs(wrong)) >= 3
