"""The worked example of the lesson on the whole job: one pickup, from the complaint to the signature."""

from __future__ import annotations

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.job_cases import measure
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicle_faults import ThicknessVariation
from brakecourse.published import convert, value
from brakecourse.trade.conformity import combine, decide, rectangular
from brakecourse.trade.rotor import cut_to_true_mm
from brakecourse.views.diagnosis_cases import CHECK, FINDING, minutes, ranked
from brakecourse.views.diagnosis_words import min_words
from brakecourse.views.drawings.bench_sheet import in_100
from brakecourse.views.quiz import Task
from brakecourse.views.reasons import evidence
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.torque_extension_tasks import Extended
from brakecourse.views.torque_words import nm
from brakecourse.views.units import both
from brakecourse.views.whole_job import SIGNED
from brakecourse.views.whole_job_case import TITLE, WholeJobCase
from brakecourse.views.whole_job_measure import Step
from brakecourse.views.words import VERDICT_WORDS, mm

SEED, VEHICLE = 5, "parks_pickup"
_FIRST_ANSWER = "worked out in this lesson"


def running() -> WholeJobCase:
    """Return the pickup's job, the cause found with the checks that tell most for their minutes."""
    case = draw_vehicle(SEED, 1, "easy", (ThicknessVariation,), motor_pool()[VEHICLE])
    job = WholeJobCase(measure(case, Draw(SEED)), Draw(SEED).child("steps"))
    for check in job.bench.good_order:
        job.do(check)
    job.found(job.hidden[0], _FIRST_ANSWER)
    return job


def show_job(job: WholeJobCase) -> Shown:
    """Show what the workshop knows before the first check."""
    case, vehicle = job.job, job.job.vehicle
    spec, pad = case.brake.rotor, case.brake.pad
    rows: list[tuple[str, ...]] = [
        ("Fact", "Value"),
        ("Vehicle", f"{vehicle.name}, {vehicle.fleet_number} (invented)"),
        ("Complaint", case.case.complaint),
        ("On the clock", both(vehicle.odometer_km, "km")),
        ("Mass with its usual load", both(vehicle.mass_kg, "kg")),
        (f"{case.axle.capitalize()} rotor when new", mm(spec.nominal_mm)),
        ("Discard thickness", mm(spec.discard_mm)),
        ("Machine-to thickness", mm(spec.machine_to_mm)),
        ("Most thickness variation", mm(spec.max_variation_mm, 3)),
        ("Most run-out", mm(spec.max_run_out_mm)),
        ("Least lining", mm(pad.minimum_mm, 1)),
        ("Wheel nuts", nm(vehicle.wheel_nut.torque_nm)),
        (f"{case.axle.capitalize()} bracket bolts", nm(case.brake.caliper.bracket_bolt.torque_nm)),
    ]
    return _listed("What we know before the first check", rows)


def show_checks(job: WholeJobCase) -> Shown:
    """Show the checks in their order, and how the right cause stands after each."""
    rows: list[tuple[str, ...]] = [("Check", "Minutes", "What it shows", "Then the right cause stands at")]
    so_far: dict[str, str] = {}
    for check, finding in job.findings.items():
        so_far[check] = finding
        share = next(one.probability for one in ranked(so_far) if one.cause == job.cause)
        rows.append((CHECK[check].words, f"{CHECK[check].minutes:g}", FINDING[check, finding], in_100(share)))
    first = ranked(so_far)[0]
    title = f"{min_words(minutes(so_far))} of checks, and the cause: {first.words}"
    return _listed(title, rows)


def show_readings(job: WholeJobCase) -> Shown:
    """Show the rotor's readings beside their limits, and what each of them says."""
    case = job.job
    finding = case.rotor
    verdicts = {
        "Smallest thickness": "thickness",
        "Thickness variation": "variation",
        "Total run-out": "run-out",
        "After a cut": "machining",
    }
    rows: list[tuple[str, ...]] = [("What", "Found", "Limit", "Guard band", "It is")]
    for what, found, limit, band in evidence(finding, case.brake.rotor)[1:]:
        reason = next((one for one in finding.reasons if one.check == verdicts[what]), None)
        measured = mm(reason.measured_mm) if reason and what == "After a cut" else found
        said = VERDICT_WORDS[reason.decision.verdict] if reason else "not needed"
        rows.append((what, measured, limit, band, said))
    lining = min(*case.pads.inner.corners_mm, *case.pads.outer.corners_mm)
    limits = case.pads.limits
    decision = decide(lining, limits.minimum_mm, "minimum", limits.thickness_u_mm)
    rows.append(
        (
            "Thinnest lining",
            mm(lining, 1),
            f"at least {mm(limits.minimum_mm, 1)}",
            mm(decision.guard_band, 2),
            VERDICT_WORDS[decision.verdict],
        )
    )
    return _listed(f"The {case.wheel} wheel, reading by reading", rows)


def cut_mm(job: WholeJobCase) -> float:
    """Return how much metal must come off the rotor to make it true, both faces together, mm."""
    return cut_to_true_mm(job.job.rotor.variation_mm, job.job.rotor.run_out_mm)


def extended(job: WholeJobCase) -> Extended:
    """Return the wrench with its extension on the bracket bolts, as the record has it."""
    case = _step(job, "torque").task.case
    assert isinstance(case, Extended)
    return case


def show_plan(job: WholeJobCase) -> Shown:
    """Show the plans for the road that were looked at, and what each comes to."""
    rows: list[tuple[str, ...]] = [("Plan", "What it comes to")]
    step = _step(job, "bed-in")
    assert isinstance(step.task, Task)
    rows += [(one[0].upper() + one[1:], step.task.reasons[one]) for one in step.task.choices]
    return _listed("Plans for the road", rows)


def show_record(job: WholeJobCase, *, uid: str) -> Shown:
    """Show the whole record, signed."""
    while job.step:
        job.answered(_FIRST_ANSWER)
    job.signed = SIGNED
    svg = job.record(uid)
    words = "Every line is filled, and the record is signed."
    return Shown(caption(TITLE, words), figure(svg, TITLE, words), svg)


def gauge_block_u_nm() -> float:
    """Return the standard uncertainty of a published example, the length of a gauge block, in nm.

    Source:
        The example's own inputs (rows ``gum_h1_...``, read). Four are standard uncertainties; of two only
        the ends are known. What counts to second order only is left out, as there.

    >>> round(gauge_block_u_nm(), 2)
    31.66
    """

    def of(name: str) -> float:
        return value(f"gum_h1_{name}").value

    length_nm = convert(of("ls"), "mm", "nm")
    expansion = length_nm * abs(of("theta")) * rectangular(of("dalpha_half"))
    temperature = length_nm * of("alpha") * rectangular(of("dtheta_half"))
    return combine(of("ls_u"), of("d0_u"), of("d1_u"), of("d2_u"), expansion, temperature)


def _step(job: WholeJobCase, id: str) -> Step:
    """Go on to a step, with the answers before it as they should be."""
    while (step := job.step) and step.id != id:
        job.answered(_FIRST_ANSWER)
    assert step is not None
    return step


def _listed(title: str, rows: list[tuple[str, ...]]) -> Shown:
    text = "\n".join([f"{title}.", *(" | ".join(row) for row in rows)])
    return Shown(text, f"<p><strong>{title}</strong></p>{table(rows)}")
