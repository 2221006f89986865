"""Module 09: the bracket, the slide pins and the clips of one wheel."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m09_bracket_and_pins.draw import SHARES, draw
from brakecourse.marking.papers.m09_bracket_and_pins.key import KEY
from brakecourse.marking.papers.m09_bracket_and_pins.letter import to_the_helper
from brakecourse.marking.papers.m09_bracket_and_pins.sheet import sheet
from brakecourse.marking.papers.m09_bracket_and_pins.truth import MODULE, BracketTruth
from brakecourse.marking.papers.m09_bracket_and_pins.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=BracketTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"9.10": to_the_helper},
    worked=worked,
    must_show={
        "9.2": ("drag_added", "inner_for_outer"),
        "9.4": ("whole_bore", "bore_as_radius"),
        "9.5": ("packed_full",),
        "9.6": ("all_the_grease", "from_the_limit"),
    },
    shares=SHARES,
)
