"""Module 01: safety and the order of work."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m01_job_order.key import KEY
from brakecourse.marking.papers.m01_job_order.letter import hand_over
from brakecourse.marking.papers.m01_job_order.sheet import sheet
from brakecourse.marking.papers.m01_job_order.truth import MODULE, SHARES, OrderTruth, draw
from brakecourse.marking.papers.m01_job_order.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=OrderTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"1.10": hand_over},
    worked=worked,
    must_show={
        "1.1": ("other_axle", "half_of_the_mass", "halved_too_soon"),
        "1.2": ("axle_not_halved", "other_axle", "half_of_the_mass"),
        "1.3": ("margin_left_out", "axle_not_halved", "margin_divided"),
        "1.4": ("stand_too_weak", "mark_of_the_pair", "jack_as_stand", "damaged_stand"),
    },
    shares=SHARES,
)
