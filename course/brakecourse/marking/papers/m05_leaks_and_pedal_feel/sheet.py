"""What the student gets to see: the sheets of the checks, the held pedal, and the pedal after the repair."""

from __future__ import annotations

from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.jobs import CHECK, WORDS, Job
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.order import bits, words
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.truth import DiagnosisTruth
from brakecourse.trade.leaks import atmosphere_mpa
from brakecourse.views.drawings.bench_sheet import SheetCheck, bench_sheet_svg
from brakecourse.views.drawings.pedal import pedal_svg
from brakecourse.views.units import both
from brakecourse.views.words import mm

NOTES = (
    "Four vehicles have come in. Vehicle A is the one named at the top. B, C and D are named on their own "
    "sheets. Each has one cause.",
    "A sheet lists the checks in the order in which they were done, with what each showed.",
    "The rule beside the pedal has its zero where the pedal rests. Eye and pedal's edge were on one level.",
    "The pedal of vehicle A was held with the engine running. After the repair the system was bled once, and "
    "the pedal was pressed lightly.",
)
_NAMES = ("A", "B", "C")
QUESTION = "That is the question."


def sheet(truth: DiagnosisTruth) -> Sheet:
    """Return what the student gets to see."""
    drawings = {
        "p1": Drawn(_held(truth, 0), "Vehicle A at the start: the foot has gone down and holds"),
        "p2": Drawn(_held(truth, 1), "Vehicle A at the end of the hold"),
        **{
            f"j{place}": Drawn(_job(job, f"j{place}", name, QUESTION), f"Sheet of vehicle {name}")
            for place, (name, job) in enumerate(zip(_NAMES, truth.jobs, strict=True), start=1)
        },
        "j4": Drawn(_job(truth.half, "j4", "D", "Not found yet."), "Sheet of vehicle D, half way"),
        "p3": Drawn(_soft(truth), "Vehicle A after its repair, at a light push"),
    }
    return Sheet(
        facts=_facts(truth),
        notes=NOTES,
        drawings=drawings,
        shown={
            "5.1": ["p1", "p2"],
            "5.3": ["j1"],
            "5.4": ["j2"],
            "5.5": ["j3"],
            "5.6": ["j4"],
            "5.8": ["p3"],
        },
        labels={"5.1": ["at the start", "at the end"]},
        steps={"5.7": [words(one) for one in truth.listed]},
    )


def _held(truth: DiagnosisTruth, place: int) -> str:
    return pedal_svg(
        truth.held[place].indication,
        room_mm=truth.room_mm,
        uid=f"p{place + 1}",
        title=f"Held pedal of vehicle A, {('at the start', 'at the end')[place]}",
        force_n=truth.force_n,
        stopwatch_s=(0.0, float(truth.hold_s))[place],
    )


def _soft(truth: DiagnosisTruth) -> str:
    return pedal_svg(
        truth.soft.indication, room_mm=truth.room_mm, uid="p3", title="Pedal of vehicle A after its repair"
    )


def _job(job: Job, uid: str, name: str, note: str) -> str:
    done = [
        SheetCheck(CHECK[one[0]].words, WORDS[one], CHECK[one[0]].minutes, bool(CHECK[one[0]].cheap))
        for one in job.findings
    ]
    return bench_sheet_svg(
        done,
        [],
        uid=uid,
        title=f"Job sheet of vehicle {name}",
        heading=f"{name}: {job.vehicle}, {job.fleet_number}",
        told=job.complaint,
        note=note,
    )


def _facts(truth: DiagnosisTruth) -> tuple[tuple[str, str], ...]:
    return (
        ("Vehicle A, pedal ratio", f"{truth.pedal_ratio:g}"),
        ("Vehicle A, bore of the master cylinder", mm(truth.master_bore_mm, 2)),
        ("Vehicle A, pedal from rest to the floor", mm(truth.room_mm, 0)),
        ("Pedal rule", f"lines of {both(truth.held[0].division, 'mm', 0)}"),
        ("Vehicle A, time from the first to the second drawing", f"{truth.hold_s} s"),
        ("After the repair, line pressure at the light push", both(truth.pressure_mpa, "MPa", 1)),
        ("After the repair, pedal travel at that push without air", mm(truth.usual_mm, 0)),
        ("Pressure of the air round us", both(atmosphere_mpa(), "MPa", 3)),
        *(
            (f"While nothing is known: {words(one)}", f"expected to tell {bits(one):.2f} bit")
            for one in truth.listed
        ),
    )
