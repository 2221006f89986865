"""Module 06: retracting the piston and taking the caliper off."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m06_caliper_off.key import KEY
from brakecourse.marking.papers.m06_caliper_off.letter import note
from brakecourse.marking.papers.m06_caliper_off.looks import SHARES
from brakecourse.marking.papers.m06_caliper_off.sheet import sheet
from brakecourse.marking.papers.m06_caliper_off.truth import MODULE, CaliperTruth, draw
from brakecourse.marking.papers.m06_caliper_off.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=CaliperTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"6.10": note},
    worked=worked,
    must_show={
        "6.1": ("one_pad_for_two", "lining_left"),
        "6.2": ("bore_as_radius", "square_for_circle"),
        "6.3": ("parallax", "from_the_minimum"),
        "6.4": ("one_wheel_for_two",),
    },
    shares=SHARES,
)
