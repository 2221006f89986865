"""Rotor measures against numpy, and the rotor rows of the table against the course's own rules."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from brakecourse import published
from brakecourse.trade.rotor import (
    Instruments,
    RotorSpec,
    cut_to_true_mm,
    harmonics,
    machining_allowance_mm,
    run_out_mm,
    smallest_mm,
    thickness_variation_mm,
    verdict,
)

from tests.published.comparison import Compare


@pytest.mark.parametrize("count", [3, 4, 5, 7, 8, 12, 15, 16, 36])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_waves_are_those_of_the_fast_fourier_transform(count: int, seed: int, compare: Compare) -> None:
    # Source: numpy.fft.rfft. A real wave of amplitude A and phase p gives n/2 * A * exp(-ip); at the
    # highest order of an even count it is seen once, giving n * A.
    row = np.random.default_rng(seed).normal(24.0, 0.02, count)
    spectrum = np.fft.rfft(row)
    compare(
        "rotor.harmonics",
        f"amplitude of the once-a-turn wave of {count} readings, row {seed}",
        harmonics(row)[0].amplitude,
        2 * abs(spectrum[1]) / count,
        within=1e-12,
        source="numpy.fft.rfft",
        how_known="run",
    )
    for wave in harmonics(row):
        share = 1 if 2 * wave.order == count else 2
        assert wave.amplitude == pytest.approx(share * abs(spectrum[wave.order]) / count, abs=1e-12)
        turned = spectrum[wave.order] * np.exp(1j * np.radians(wave.phase_deg))
        assert turned.real > 0
        assert turned.imag == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("seed", range(5))
def test_the_waves_hold_all_the_energy(seed: int) -> None:
    # Source: Parseval's theorem; numpy.var.
    row = np.random.default_rng(seed).normal(0.0, 0.05, 8)
    energy = sum(w.amplitude**2 / (1 if w.order == 4 else 2) for w in harmonics(row))
    assert energy == pytest.approx(np.var(row), rel=1e-9)


@pytest.mark.parametrize("seed", range(5))
def test_variation_and_run_out_are_peak_to_peak(seed: int, compare: Compare) -> None:
    # Source: numpy.ptp.
    row = np.round(np.random.default_rng(seed).normal(24.0, 0.03, 8), 2)
    peak: dict[str, Any] = {"source": "numpy.ptp", "how_known": "run", "within": 1e-9}
    found = thickness_variation_mm(row)
    compare(
        "rotor.thickness_variation_mm",
        f"thickest less thinnest, row {seed}",
        found,
        np.ptp(row),
        "mm",
        **peak,
    )
    found = run_out_mm(row - 24.0)
    compare("rotor.run_out_mm", f"highest less lowest, row {seed}", found, np.ptp(row), "mm", **peak)


@pytest.mark.parametrize("seed", range(5))
def test_the_smallest_reading_and_what_may_be_cut_from_it(seed: int, compare: Compare) -> None:
    # Source: numpy.min, and exact decimal arithmetic on what the gauge shows. What may be cut is common
    # practice, no source: from the smallest place down to the machine-to thickness.
    row = [round(float(one), 2) for one in np.random.default_rng(seed).normal(22.8, 0.15, 8)]
    least = smallest_mm(row)
    compare(
        "rotor.smallest_mm",
        f"smallest of eight readings, row {seed}",
        least,
        np.min(row),
        "mm",
        source="numpy.min",
        how_known="run",
    )
    by_hand = max(Decimal(0), min(Decimal(str(one)) for one in row) - Decimal("22.6"))
    compare(
        "rotor.machining_allowance_mm",
        f"metal above 22.6 mm, row {seed}",
        machining_allowance_mm(row, 22.6),
        by_hand,
        "mm",
        source="common practice, no source; exact decimal arithmetic",
        how_known="counted",
    )


@pytest.mark.parametrize(("variation", "run_out"), [("0.03", "0.11"), ("0.1", "0.2"), ("0.07", "0.00")])
def test_what_must_come_off_to_true_a_rotor(variation: str, run_out: str, compare: Compare) -> None:
    # Common practice, no source: variation and run-out both come off. Exact decimal arithmetic.
    compare(
        "rotor.cut_to_true_mm",
        f"cut for {variation} mm of variation and {run_out} mm of run-out",
        cut_to_true_mm(float(variation), float(run_out)),
        Decimal(variation) + Decimal(run_out),
        "mm",
        share=0,
        source="common practice, no source; exact decimal arithmetic",
        how_known="counted",
    )


def test_the_tilt_of_a_rotor_is_a_wave_of_order_one() -> None:
    # Source: plane geometry. A disc tilted by a small angle shows a dial a cosine of that tilt times the
    # radius.
    tilt_rad, radius_mm, high_at_deg = 0.0005, 110.0, 135.0
    angles = np.arange(8) * 45.0
    dial = radius_mm * tilt_rad * np.cos(np.radians(angles - high_at_deg))
    first, *others = harmonics(dial)
    assert first.amplitude == pytest.approx(radius_mm * tilt_rad)
    assert first.phase_deg == pytest.approx(high_at_deg)
    assert all(wave.amplitude < 1e-12 for wave in others)
    assert run_out_mm(dial) == pytest.approx(2 * radius_mm * tilt_rad)


def test_the_law_puts_the_discard_thickness_first(compare: Compare) -> None:
    # Source: rows rotor_marking_law and inspect_rotor_embossed_rule: a rotor under its marked thickness is
    # discarded, whatever else is true of it. So a perfect but thin rotor is replaced, and no machining is
    # looked at.
    assert published.value("rotor_marking_law").value == 1
    assert published.value("inspect_rotor_embossed_rule").value == 1
    finding = verdict(
        [21.90] * 8, [0.0] * 8, RotorSpec(24.0, 22.6, 22.0, 0.030, 0.10), Instruments(0.004, 0.003, 0.004)
    )
    compare(
        "rotor.verdict",
        "a perfect rotor, 0.1 mm under its marked discard thickness",
        finding.action,
        "replace",
        source="the law that a rotor is discarded under its marked thickness (row rotor_marking_law)",
        how_known=published.value("rotor_marking_law").how_known,
    )
    assert finding.deciding.check == "thickness"
    assert "machining" not in [reason.check for reason in finding.reasons]


def test_typical_figures_lie_in_a_sensible_order() -> None:
    # Source: rows of the table. The two general limits are from memory; the makers' limits always come first.
    low = published.convert(published.value("dtv_judder_low").value, "um", "mm")
    high = published.convert(published.value("dtv_judder_high").value, "um", "mm")
    assert low < published.value("dtv_general_limit").value < high  # memory
    fitted = [published.value(f"installed_runout_{car}_car").value for car in ("luxury", "medium", "small")]
    assert fitted == sorted(fitted)
    assert published.convert(fitted[0], "um", "mm") == published.value("runout_general_limit").value  # memory


def test_a_hundredth_gauge_can_decide_no_limit_of_ten_micrometres() -> None:
    # Source: row dial_jis_10mm_repeat, and the resolution of a 0.01 mm gauge. Reading to 0.01 mm alone
    # leaves a guard band of about 7 um on a difference: a limit of 10 um can hardly be proven, one of 30 um
    # can.
    repeat_mm = published.convert(published.value("dial_jis_10mm_repeat").value, "um", "mm")
    rounding_mm = 0.005 / np.sqrt(3)
    u = float(np.sqrt(2) * np.hypot(rounding_mm, repeat_mm / np.sqrt(3)))
    gauges = Instruments(0.004, u, u)
    level = [24.0, 24.0, 24.01]
    tight = verdict(level, [0.0, 0.0], RotorSpec(24.5, 22.6, 22.0, 0.010, 0.10), gauges)
    usual = verdict(level, [0.0, 0.0], RotorSpec(24.5, 22.6, 22.0, 0.030, 0.10), gauges)
    assert tight.reasons[1].decision.verdict == "too close to call"
    assert usual.reasons[1].decision.verdict == "within"
