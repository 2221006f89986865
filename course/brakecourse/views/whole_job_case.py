"""Where a whole job stands: the checks, the cause, each step's answer, and the record that they make."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from brakecourse.bench.draw import Draw
from brakecourse.bench.job_cases import JobCase, draw_whole_job
from brakecourse.bench.situations import Difficulty
from brakecourse.views.diagnosis_cases import CHECK, FINDING, Job
from brakecourse.views.diagnosis_words import cause_words
from brakecourse.views.drawings.job_record import RecordLine, job_record_svg
from brakecourse.views.units import both
from brakecourse.views.whole_job_customer import telling
from brakecourse.views.whole_job_measure import DECIDE, MEASURE, Step, deciding, measuring
from brakecourse.views.whole_job_work import FINISH, PUT_RIGHT, finishing, working

FIND = "Find it"
SHOWN = "shown by the course"
TITLE = "Record of the job"
_STAGES: tuple[tuple[str, tuple[str, ...]], ...] = (
    (MEASURE, ("Thinnest lining", "Smallest rotor thickness", "Total run-out")),
    (DECIDE, ("Pads", "Rotor, as it sits")),
    (PUT_RIGHT, ("Work done", "Torque")),
    (FINISH, ("Before it moves", "On the road", "The customer hears")),
)
COUNT = 1 + sum(len(labels) for _, labels in _STAGES)
"""How many steps a job has: the cause, and everything after it."""

_Maker = Callable[[JobCase, Draw], tuple[Step, ...]]
_MAKERS: tuple[_Maker, ...] = (
    lambda job, _: measuring(job),
    lambda job, _: deciding(job),
    working,
    finishing,
    lambda job, draw: (telling(job, draw),),
)


class WholeJobCase:
    """One job from the complaint to the signature, and how far it has come.

    Args:
        job: the vehicle with its hidden faults, and the readings.
        draw: where the chance of the checks and the order of the choices come from.
    """

    def __init__(self, job: JobCase, draw: Draw) -> None:
        self.job = job
        self._draw = draw
        self.findings: dict[str, str] = {}
        self.cause = ""
        self.notes: list[str] = []
        self.signed = ""
        self._steps: list[Step] = []
        # Made when they come up: a plan for the road takes a while to work out.
        self._made = (maker(self.job, self._draw) for maker in _MAKERS)

    @classmethod
    def drawn(cls, seed: int, difficulty: Difficulty) -> WholeJobCase:
        """Draw a job.

        Args:
            seed: fixes the vehicle, and the order of the choices.
            difficulty: as the bench calls it.
        """
        return cls(draw_whole_job(seed, difficulty), Draw(seed).child("steps"))

    @cached_property
    def bench(self) -> Job:
        """The job as the diagnosis bench sees it, for the cause that was named, else the first."""
        return Job(self.job.case, self.job.faults[0].id, self._draw.child("checks"))

    def do(self, check: str) -> str:
        """Do a check, note what it shows, and return that in words."""
        self.findings[check] = finding = self.bench.finding(check)
        return FINDING[check, finding]

    @property
    def hidden(self) -> tuple[str, ...]:
        """Ids of what is the matter."""
        return tuple(fault.id for fault in self.job.faults)

    def found(self, cause: str, note: str) -> None:
        """Write the cause into the record."""
        self.cause = cause
        self.notes.append(note)

    @property
    def others(self) -> tuple[str, ...]:
        """What else is the matter, in words, once the first cause is named."""
        return tuple(cause_words()[one] for one in self.hidden if one != self.cause)

    @property
    def step(self) -> Step | None:
        """The step that is open; None while the cause is not named, or when all is done."""
        place = len(self.notes) - 1
        if place < 0 or place >= COUNT - 1:
            return None
        while place >= len(self._steps):
            self._steps += next(self._made)
        return self._steps[place]

    @property
    def finished(self) -> bool:
        """Whether every step has its answer."""
        return len(self.notes) >= COUNT

    def answered(self, note: str) -> None:
        """Write the open step's answer into the record."""
        self.notes.append(note)

    def lines(self) -> list[RecordLine]:
        """Return the lines of the record."""
        checks = [
            RecordLine(FIND, f"Check, {CHECK[one].minutes:g} min", f"{CHECK[one].words}: {_small(finding)}.")
            for one, finding in ((one, FINDING[one, shown]) for one, shown in self.findings.items())
        ]
        named = ""
        if self.cause:
            named = "; ".join((cause_words()[self.cause], *self.others))
        made = [*checks, RecordLine(FIND, "Cause", named, self.notes[0] if self.cause else "")]
        place = 0
        for stage, labels in _STAGES:
            for label in labels:
                done = place + 1 < len(self.notes)
                text = self._steps[place].written if done else ""
                made.append(RecordLine(stage, label, text, self.notes[place + 1] if done else ""))
                place += 1
        return made

    def record(self, uid: str) -> str:
        """Draw the record."""
        return job_record_svg(heads(self.job), self.lines(), uid=uid, signed=self.signed, title=TITLE)


def heads(job: JobCase) -> list[tuple[str, str]]:
    """Return what stands at the head of a job's record."""
    vehicle = job.vehicle
    return [
        ("Vehicle", f"{vehicle.name}, {vehicle.fleet_number} (invented)"),
        ("On the clock", both(vehicle.odometer_km, "km")),
        ("Complaint", job.case.complaint),
    ]


def _small(words: str) -> str:
    return words[0].lower() + words[1:]
