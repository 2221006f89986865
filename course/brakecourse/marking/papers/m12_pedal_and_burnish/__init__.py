"""Module 12: from the first press of the pedal to the road test."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m12_pedal_and_burnish.draw import draw
from brakecourse.marking.papers.m12_pedal_and_burnish.key import KEY
from brakecourse.marking.papers.m12_pedal_and_burnish.letter import record_words
from brakecourse.marking.papers.m12_pedal_and_burnish.road import SHARES
from brakecourse.marking.papers.m12_pedal_and_burnish.sheet import sheet
from brakecourse.marking.papers.m12_pedal_and_burnish.truth import MODULE, BurnishTruth
from brakecourse.marking.papers.m12_pedal_and_burnish.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=BurnishTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"12.10": record_words},
    worked=worked,
    must_show={
        "12.1": ("one_caliper_only", "strokes_rounded_down"),
        "12.3": ("level_not_lowered", "one_caliper_only"),
        "12.4": ("mph_as_ms", "speed_not_squared"),
        "12.5": ("speed_not_squared", "ratio_turned"),
        "12.6": ("all_heat_in_one_rotor", "axle_heat_in_one_rotor"),
        "12.7": ("bright_face_believed",),
    },
    shares=SHARES,
)
