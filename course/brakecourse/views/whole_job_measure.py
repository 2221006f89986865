"""Measuring and deciding in a whole job: one gauge at a time, then pads and rotor against their limits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from statistics import fmean

from brakecourse.bench.job_cases import CORNERS, PLACES_DEG, JobCase
from brakecourse.trade.rotor import Action
from brakecourse.views.drawings import micrometer_svg, run_out_plot_svg, thickness_plot_svg
from brakecourse.views.micrometer_replies import how_read, reading_reply
from brakecourse.views.pad_next import next_task
from brakecourse.views.pad_replies import corner_reply, how_measured
from brakecourse.views.pad_view import WHICH, Which, gauge_picture, wheel_picture
from brakecourse.views.quiz import NumberTask, Task
from brakecourse.views.reasons import decision_reply, evidence
from brakecourse.views.replies import Reply, near, number_reply
from brakecourse.views.words import mm, number

MEASURE, DECIDE = "Measure", "Decide"
PADS, ROTOR = "decide about the pads", "decide about the rotor"
ROTOR_CHOICES: dict[str, Action] = {
    "keep the rotor as it is": "keep",
    "machine it true": "machine",
    "replace it": "replace",
}


@dataclass(frozen=True)
class Step:
    """One step of the job.

    Attributes:
        id: its name, for the record of practice.
        stage: the heading of the record that it stands under.
        label: what the record's line is called.
        task: what is asked.
        written: what the record says once it is answered.
        picture: draws what there is to see; None where the record itself is shown.
    """

    id: str
    stage: str
    label: str
    task: Task | NumberTask
    written: str
    picture: Callable[[str], str] | None = None


def measuring(job: JobCase) -> tuple[Step, ...]:
    """Return the steps with gauges: the lining, the rotor's thickness, its run-out."""
    return _lining(job), _thickness(job), _run_out(job)


def deciding(job: JobCase) -> tuple[Step, ...]:
    """Return the decisions about pads and rotor."""
    return _pads(job), _rotor(job)


def thinnest(job: JobCase) -> tuple[Which, int]:
    """Return which pad, and which of its corners, has the thinnest lining."""
    pads = {"inner pad": job.pads.inner_mm, "outer pad": job.pads.outer_mm}
    places = [(pads[which][corner], which, corner) for which in WHICH for corner in range(4)]
    _, which, corner = min(places)
    return which, corner


def _lining(job: JobCase) -> Step:
    which, corner = thinnest(job)
    shown = (job.pads.inner_mm if which == "inner pad" else job.pads.outer_mm)[corner]
    right = job.pads.gauge.reading(shown)
    seen_from = "inner edge" if CORNERS[corner].endswith("inner edge") else "outer edge"
    task = NumberTask(
        "read the gauges",
        f"{job.wheel.capitalize()} wheel, {which}. The gauge stands at the thinnest of its corners. "
        "How thick is the lining there?",
        "Lining",
        "mm",
        lambda answer: corner_reply(answer, shown, job.pads),
        how_measured(shown, job.pads),
        case=job,
    )
    return Step(
        "lining",
        MEASURE,
        "Thinnest lining",
        task,
        f"{mm(right, 1)}, {which}, {CORNERS[corner]}",
        lambda uid: gauge_picture(job.pads, which, seen_from, corner, uid),
    )


def _thickness(job: JobCase) -> Step:
    place = min(range(8), key=lambda one: job.thickness_mm[one])
    shown, readings = job.thickness_mm[place], job.readings_mm
    others = [reading for at, reading in enumerate(readings) if at != place]
    right = min(readings)

    def rule(answer: float) -> Reply:
        if near(answer, right, 0.004):
            return Reply(True, f"Right: {mm(right)}. The thinnest place decides.")
        if near(answer, min(others), 0.004):
            return Reply(
                False, "Not yet. That is the thinnest in the table. The gauge shows a thinner place."
            )
        if near(answer, fmean(readings), 0.004):
            return Reply(False, "Not yet. That is the mean. The limit holds at every place.")
        return reading_reply(answer, shown, job.micrometer)

    task = NumberTask(
        "read the gauges",
        f"The micrometer stands at place {place + 1} of the rotor, mid-track. The other seven places are in "
        "the table. What is the rotor's smallest thickness?",
        "Smallest thickness",
        "mm",
        rule,
        f"{how_read(shown, job.micrometer)} No place in the table is thinner.",
        (
            ("Place", "Reading"),
            *((str(at + 1), mm(one)) for at, one in enumerate(readings) if at != place),
        ),
        job,
    )
    return Step(
        "thickness",
        MEASURE,
        "Smallest rotor thickness",
        task,
        f"{mm(right)} at place {place + 1}",
        lambda uid: micrometer_svg(shown, uid=uid, start_mm=job.micrometer.low_mm),
    )


def _run_out(job: JobCase) -> Step:
    readings, right = job.dial_readings_mm, job.rotor.run_out_mm
    high, low = max(readings), min(readings)
    mistakes = {
        "That is half of it. The limit is for the whole swing.": right / 2,
        "That is the highest reading alone. Subtract the lowest; mind its sign.": high,
        "Your decimal point slipped: a line of the dial is 0.01 mm.": 10 * right,
    }
    how = f"Highest {number(high)}, lowest {number(low)}: the swing between them is the run-out."
    task = NumberTask(
        "read the gauges",
        "All wheel nuts are fitted and snug. The dial went once round. What is the total run-out?",
        "Total run-out",
        "mm",
        lambda answer: number_reply(
            answer,
            right,
            mistakes,
            unit="mm",
            tolerance=0.004,
            because=how,
            hint="Take the highest reading and the lowest from the table, and subtract.",
        ),
        f"{how} It is {mm(right)}.",
        (
            ("Place", "Dial reading"),
            *((str(at), f"{number(one)} mm") for at, one in enumerate(readings, start=1)),
        ),
        job,
    )
    return Step(
        "run-out",
        MEASURE,
        "Total run-out",
        task,
        mm(right),
        lambda uid: run_out_plot_svg(PLACES_DEG, readings, uid=uid, tell_total=False),
    )


def _pads(job: JobCase) -> Step:
    task = next_task(PADS, job.pads)
    finding = job.lining
    pattern = finding.pattern
    return Step(
        "pads",
        DECIDE,
        "Pads",
        task,
        f"{task.right}; wear: {pattern}",
        lambda uid: wheel_picture(job.pads, uid),
    )


def _rotor(job: JobCase) -> Step:
    finding, spec = job.rotor, job.brake.rotor
    right = next(words for words, action in ROTOR_CHOICES.items() if action == finding.action)
    # What a quiz says before the reason is its own "Right" or "Not yet".
    reasons = {
        words: decision_reply(action, finding).words.partition(". ")[2]
        for words, action in ROTOR_CHOICES.items()
    }
    task = Task(
        ROTOR,
        f"The rotor of the {job.wheel} wheel, as it sits on its hub now. What do its readings say?",
        tuple(ROTOR_CHOICES),
        right,
        reasons,
        tuple(evidence(finding, spec)),
        job,
    )
    return Step(
        "rotor",
        DECIDE,
        "Rotor, as it sits",
        task,
        right,
        lambda uid: thickness_plot_svg(
            PLACES_DEG,
            job.readings_mm,
            uid=uid,
            discard_mm=spec.discard_mm,
            machine_to_mm=spec.machine_to_mm,
        ),
    )
