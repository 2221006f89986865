"""The decisions of a whole job as single questions: pads, rotor, remedy, before it moves, the customer."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from brakecourse.bench.draw import Draw
from brakecourse.bench.job_cases import JobCase, draw_whole_job
from brakecourse.bench.situations import Difficulty
from brakecourse.views.diagnosis_words import cause_words
from brakecourse.views.drawings.job_record import RecordLine, job_record_svg
from brakecourse.views.quiz import Quiz, Task
from brakecourse.views.whole_job import LESSON
from brakecourse.views.whole_job_case import heads
from brakecourse.views.whole_job_customer import CUSTOMER, telling
from brakecourse.views.whole_job_measure import PADS, ROTOR, Step, deciding, measuring
from brakecourse.views.whole_job_work import BED_IN, MOVES, PUT_RIGHT, REMEDY, finishing, working

SO_FAR = "What the record says so far"
_MAKERS: Mapping[str, Callable[[JobCase, Draw], Step]] = {
    REMEDY: lambda job, draw: working(job, draw)[0],
    PADS: lambda job, draw: deciding(job)[0],
    ROTOR: lambda job, draw: deciding(job)[1],
    MOVES: lambda job, draw: finishing(job, draw)[0],
    BED_IN: lambda job, draw: finishing(job, draw)[1],
    CUSTOMER: telling,
}


class JobQuestions(Quiz):
    """One question out of a whole job. The record shows what the workshop knows.

    Args:
        name, seed, session: as for every quiz.
    """

    title = "One question of the job"
    task = "Read the record, choose one answer, and press Check."
    lesson = LESSON
    topics = tuple(_MAKERS)

    def __init__(self, name: str = "job-questions", **more: Any) -> None:
        super().__init__(name, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        job = draw_whole_job(draw.child("job").integer(0, 10**9), difficulty)
        step = _MAKERS[topic](job, draw.child("step"))
        assert isinstance(step.task, Task)  # every topic here is a choice in words
        made = step.task
        return Task(topic, made.question, made.choices, made.right, made.reasons, made.evidence, (job, topic))

    def picture(self) -> str:
        job, topic = self.asked.case
        step = deciding(job)[(PADS, ROTOR).index(topic)] if topic in (PADS, ROTOR) else None
        if step and step.picture:
            return step.picture(self.uid)
        return job_record_svg(
            heads(job), known(job, topic), uid=self.uid, title="What the record says so far"
        )


def known(job: JobCase, topic: str) -> Sequence[RecordLine]:
    """Return the lines that are filled before a topic's step."""
    causes = "; ".join(cause_words()[fault.id] for fault in job.faults)
    steps = [*measuring(job), *deciding(job)]
    lines = [RecordLine("Find it", "Cause", causes)]
    lines += [RecordLine(one.stage, one.label, one.written) for one in steps]
    if topic != REMEDY:
        remedy = working(job, Draw(0))[0]
        lines.append(RecordLine(PUT_RIGHT, remedy.label, remedy.written))
    return lines
