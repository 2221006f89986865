"""Module 13: a whole job on one vehicle, from the complaint to the signed-off record."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m13_whole_job.draw import SHARES, draw
from brakecourse.marking.papers.m13_whole_job.key import KEY
from brakecourse.marking.papers.m13_whole_job.letter import record_words
from brakecourse.marking.papers.m13_whole_job.sheet import sheet
from brakecourse.marking.papers.m13_whole_job.truth import MODULE, JobTruth
from brakecourse.marking.papers.m13_whole_job.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=JobTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"13.16": record_words},
    worked=worked,
    # The others are left out where they happen to be right.
    must_show={
        "13.2": ("fahrenheit_for_celsius",),
        "13.4": ("half_millimetre_line",),
        "13.13": ("torque_not_converted",),
    },
    shares=SHARES,
)
