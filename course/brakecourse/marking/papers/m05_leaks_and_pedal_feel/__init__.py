"""Module 05: leaks and pedal feel, from the complaint to the cause."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.draw import SHARES, draw
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.key import KEY
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.letter import customer_words
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.sheet import sheet
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.truth import MODULE, DiagnosisTruth
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=DiagnosisTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"5.10": customer_words},
    worked=worked,
    must_show={
        "5.1": ("parallax", "from_the_floor"),
        "5.2": ("seconds_for_minute", "last_reading_for_sinking", "pedal_ratio_left_out", "bore_as_radius"),
        "5.3": ("booster_for_sinking",),
        "5.6": ("booster_for_sinking", "drove_before_pedal"),
        "5.8": ("parallax", "from_the_floor"),
        "5.9": ("whole_travel_for_extra", "lost_for_at_rest", "pedal_ratio_left_out", "bore_as_radius"),
    },
    shares=SHARES,
)
