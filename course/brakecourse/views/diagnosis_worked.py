"""The worked example of the lesson on diagnosis: one vehicle from its complaint to its cause."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicle_faults import AirInCircuit, PrimarySealLeak
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.trade.leaks import air_travel_mm, atmosphere_mpa
from brakecourse.views.diagnosis_cases import CHECK, FINDING, Job, ranked, shares, worth
from brakecourse.views.diagnosis_pedal_cases import SinkingPedal, SoftPedal, travel_words
from brakecourse.views.diagnosis_words import cause_words, evidence_table, order_table, sheet, times
from brakecourse.views.drawings.bench_sheet import in_100
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.units import both
from brakecourse.views.words import mm

_VEHICLE = "dog_wardens_estate"


def estate() -> Job:
    """Return the estate of this lesson as it came in."""
    case = draw_vehicle(6, kinds=(PrimarySealLeak,), vehicle=motor_pool()[_VEHICLE])
    return Job(case, "primary_seal_leak", Draw(6))


def estate_after_repair() -> SoftPedal:
    """Return the same estate with its leak put right, and air left in a circuit."""
    return SoftPedal(draw_vehicle(4, kinds=(AirInCircuit,), vehicle=motor_pool()[_VEHICLE]), 0.3)


def show_job(job: Job) -> Shown:
    """Show what is known before anyone looks: the vehicle, its complaint, and its pedal's data."""
    vehicle, system = job.case.vehicle, job.case.vehicle.hydraulics
    rows = [
        ("Fact", "Value"),
        ("Vehicle", f"{vehicle.name}, {vehicle.fleet_number} (invented)"),
        ("What the driver says", job.case.complaint),
        ("Pedal ratio", f"{system.pedal_ratio:g}"),
        ("Master cylinder's bore", mm(system.master_bore_mm, 1)),
        ("From rest to the floor", mm(system.pedal_room_mm, 0)),
    ]
    return _listed("What we know before we look", rows)


def held(job: Job, hold_s: int = 60) -> SinkingPedal:
    """Return the job's pedal, held for some time."""
    return SinkingPedal(job.case, hold_s)


def show_held(pedal: SinkingPedal, time_s: float, *, uid: str) -> Shown:
    """Show the held pedal and the stopwatch after a time.

    Args:
        pedal: the pedal.
        time_s: time on the stopwatch, s.
        uid: a word that no other drawing on the page has.
    """
    force = both(pedal.case.condition.pedal.force_n, "N")
    shown = mm(round(pedal.travel_mm(time_s)), 0)
    words = f"The foot holds {force}. After {time_s:g} s the rule shows {shown}."
    return _drawn("The held pedal", words, pedal.picture(time_s, uid))


def show_soft(pedal: SoftPedal, *, uid: str) -> Shown:
    """Show the pressed pedal with air in the lines."""
    words = (
        f"The rule shows {mm(pedal.read_mm, 0)}. Without air it would be {mm(pedal.usual_mm, 0)}. "
        f"The line pressure is {both(pedal.pressure_mpa, 'MPa', 1)}."
    )
    return _drawn("The pedal after the repair", words, pedal.picture(uid))


def do_checks(job: Job, checks: Sequence[str]) -> dict[str, str]:
    """Do some checks on a vehicle and return what each shows."""
    return {check: job.finding(check) for check in checks}


def show_sheet(job: Job, findings: Mapping[str, str], *, uid: str) -> Shown:
    """Show the job sheet after some checks."""
    told = [f"{CHECK[check].words}: {FINDING[check, finding]}." for check, finding in findings.items()]
    causes = "; ".join(f"{one.words}, {in_100(one.probability)}" for one in ranked(findings)[:4])
    words = f"{' '.join(told)} The causes: {causes}."
    return _drawn("Job sheet", words, sheet(job, findings, uid))


def show_evidence(findings: Mapping[str, str], count: int = 3) -> Shown:
    """Show the leading causes with what speaks for and against each."""
    return _listed("The leading causes", evidence_table(findings, count))


def show_update(job: Job, check: str) -> Shown:
    """Show what one finding does to the vehicle's own cause: share before, times as likely, share after."""
    findings = do_checks(job, [check])
    before, after = shares({})[job.cause], shares(findings)[job.cause]
    ratio = after / (1 - after) / (before / (1 - before))
    rows = [
        ("Step", "Number"),
        ("Before any check", in_100(before)),
        (FINDING[check, findings[check]], f"{times(ratio)} as likely with this cause as without"),
        ("After this check", in_100(after)),
    ]
    words = cause_words()[job.cause]
    return _listed(f"{words[:1].upper()}{words[1:]}", rows)


def air_left_ml(air_ml: float, before: float, after: float) -> float:
    """Return what is left of some air when its absolute pressure rises, by the course's own function.

    Args:
        air_ml: volume before.
        before, after: absolute pressures, both in the same unit.
    """
    bore_mm, ratio = 20.0, 1.0  # any pedal will do: the travel is turned back into volume
    rise_mpa = (after / before - 1) * atmosphere_mpa()
    lost_mm = air_travel_mm(air_ml, rise_mpa, bore_mm, ratio)
    return air_ml - lost_mm * piston_area_mm2(bore_mm) / 1000


def travel_percent(job: Job, force_n: float) -> float:
    """Return how much of its room the job's pedal uses at a push, without leak and without air, percent."""
    vehicle = job.case.vehicle
    return 100 * travel_words(vehicle, force_n, 0.0)[1] / vehicle.hydraulics.pedal_room_mm


def show_worth(findings: Mapping[str, str], count: int = 6) -> Shown:
    """Show what the open checks are expected to tell, the best for its minutes first, the dearest last."""
    rows = [("Check", "Minutes", "Expected to tell", "For each minute")]
    open_checks = worth(findings)
    dearest = max(open_checks, key=lambda one: one.minutes)
    for one in (*open_checks[:count], dearest):
        told = (f"{one.information_bits:.2f} bit", f"{one.bits_per_minute:.3f} bit")
        rows.append((one.words, f"{one.minutes:g}", *told))
    return _listed("What each check is worth now", rows)


def show_order(job: Job) -> Shown:
    """Show a good order of checks for a vehicle, and what each did to the right cause."""
    rows = order_table(job)
    spent = sum(CHECK[check].minutes for check in job.good_order)
    return _listed(f"{spent:g} minutes in all", rows)


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: Sequence[Sequence[str]]) -> Shown:
    lines = [" | ".join(row) for row in rows[1:]]
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")
