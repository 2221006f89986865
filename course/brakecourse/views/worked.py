"""The worked example of a lesson: one rotor, shown step by step."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.cases import RotorCase
from brakecourse.trade.conformity import Side, decide
from brakecourse.views.drawings import limit_svg, micrometer_svg, run_out_plot_svg, thickness_plot_svg
from brakecourse.views.limit_words import decision_words, probability_words
from brakecourse.views.micrometer_replies import how_read
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.words import ACTION_WORDS, mm, number


def show_limits(case: RotorCase) -> Shown:
    """Show what is known before measuring: the vehicle, the complaint, the limits."""
    spec = case.spec
    rows = [
        ("Fact", "Value"),
        ("Vehicle", f"{case.vehicle.name}, {case.vehicle.fleet_number} (invented)"),
        ("What the driver says", case.complaint),
        ("Rotor thickness when new", mm(spec.nominal_mm)),
        ("Machine-to thickness", mm(spec.machine_to_mm)),
        ("Discard thickness", mm(spec.discard_mm)),
        ("Largest thickness variation", mm(spec.max_variation_mm)),
        ("Largest total run-out", mm(spec.max_run_out_mm)),
    ]
    return _listed("What we know before we measure", rows)


def show_micrometer(case: RotorCase, place: int, *, uid: str) -> Shown:
    """Show the micrometer at one place, and how it is read.

    Args:
        case: the rotor.
        place: 1 to 8.
        uid: a word that no other drawing on the page has.
    """
    shown = case.thickness_mm[place - 1]
    title = f"Micrometer at place {place}"
    svg = micrometer_svg(shown, uid=uid, start_mm=case.micrometer.low_mm, title=title)
    return _drawn(title, how_read(shown, case.micrometer), svg)


def show_thickness(case: RotorCase, *, uid: str) -> Shown:
    """Show the eight thickness readings beside the limits, and the variation."""
    finding = case.finding
    svg = thickness_plot_svg(
        case.angles_deg,
        case.readings_mm,
        uid=uid,
        discard_mm=case.spec.discard_mm,
        machine_to_mm=case.spec.machine_to_mm,
    )
    words = (
        f"Readings in mm: {_row(case.readings_mm)}. Smallest {mm(finding.smallest_mm)}. "
        f"Variation {mm(finding.variation_mm)}."
    )
    return _drawn("Thickness round the rotor", words, svg)


def show_run_out(case: RotorCase, *, uid: str) -> Shown:
    """Show the eight dial readings with the wheel nuts fitted, and the total run-out."""
    svg = run_out_plot_svg(case.angles_deg, case.dial_readings_mm, uid=uid, limit_mm=case.spec.max_run_out_mm)
    words = f"Readings in mm: {_row(case.dial_readings_mm)}. Total run-out {mm(case.finding.run_out_mm)}."
    return _drawn("Run-out round the rotor", words, svg)


def show_decision(case: RotorCase, check: str, *, uid: str) -> Shown:
    """Show one check of the rotor against its limit, with the guard band.

    Args:
        case: the rotor.
        check: ``"thickness"``, ``"variation"``, ``"run-out"``, or ``"machining"`` if the rotor needs truing.
        uid: a word that no other drawing on the page has.

    Raises:
        ValueError: this rotor has no such check.
    """
    found = {reason.check: reason for reason in case.finding.reasons}
    reason = next((one for name, one in found.items() if name == check), None)
    if reason is None:
        raise ValueError(f"One of {', '.join(found)} was expected, but got {check!r}.")
    svg = limit_svg(reason.measured_mm, reason.limit_mm, reason.side, reason.decision.guard_band, uid=uid)
    return _drawn(f"The {check} check", decision_words(reason.decision), svg)


def show_verdicts(readings: Sequence[float], limit_mm: float, side: Side, u_mm: float) -> Shown:
    """Show what each of some readings would prove about one limit.

    Args:
        readings: in mm.
        limit_mm: the limit.
        side: ``"minimum"`` or ``"maximum"``.
        u_mm: standard uncertainty of a reading.
    """
    rows = [("Reading", "Verdict", "Probability that the limit is kept")]
    for reading in readings:
        decision = decide(reading, limit_mm, side, u_mm)
        rows.append((mm(reading), decision.verdict, probability_words(decision.probability_conforming)))
    return _listed(f"A {side} of {mm(limit_mm)}, standard uncertainty {mm(u_mm, 4)}", rows)


def show_finding(case: RotorCase) -> Shown:
    """Show every check of the rotor in order, and what to do with it."""
    rows = [("Check", "What it says")]
    rows += [(reason.check, reason.words) for reason in case.finding.reasons]
    rows.append(("What to do", f"{ACTION_WORDS[case.finding.action]}."))
    return _listed("The decision, check by check", rows)


def _row(readings: Sequence[float]) -> str:
    return ", ".join(number(reading) for reading in readings)


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: Sequence[Sequence[str]]) -> Shown:
    lines = [" | ".join(row) for row in rows[1:]]
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")
