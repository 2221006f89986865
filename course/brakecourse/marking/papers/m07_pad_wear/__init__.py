"""Module 07: the two old pads of one wheel."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m07_pad_wear.draw import SHARES, draw
from brakecourse.marking.papers.m07_pad_wear.key import KEY
from brakecourse.marking.papers.m07_pad_wear.letter import handover
from brakecourse.marking.papers.m07_pad_wear.sheet import sheet
from brakecourse.marking.papers.m07_pad_wear.truth import MODULE, PadTruth
from brakecourse.marking.papers.m07_pad_wear.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=PadTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"7.10": handover},
    worked=worked,
    # The others are left out where they happen to be right: on even pads every corner is nearly the thinnest.
    must_show={"7.1": ("backing_plate_included",), "7.2": ("backing_plate_included", "best_corner")},
    shares=SHARES,
)
