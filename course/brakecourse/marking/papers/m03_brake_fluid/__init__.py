"""Module 03: the fluid's condition."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m03_brake_fluid.key import KEY
from brakecourse.marking.papers.m03_brake_fluid.letter import helper_words
from brakecourse.marking.papers.m03_brake_fluid.sheet import sheet
from brakecourse.marking.papers.m03_brake_fluid.truth import MODULE, SHARES, FluidTruth, draw
from brakecourse.marking.papers.m03_brake_fluid.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=FluidTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"3.10": helper_words},
    worked=worked,
    must_show={
        "3.1": ("marks_counted",),
        "3.2": ("fahrenheit_for_celsius",),
        "3.3": ("wet_dry_swapped",),
        "3.5": ("error_limit_left_out", "error_limit_wrong_way", "sign_turned"),
        "3.7": ("silicone_in_glycol",),
    },
    shares=SHARES,
)
