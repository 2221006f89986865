"""Module 08: thickness and run-out of one rotor."""

from __future__ import annotations

from brakecourse.bench.situations import SHARES
from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m08_rotor_measurement.key import KEY
from brakecourse.marking.papers.m08_rotor_measurement.letter import customer_words
from brakecourse.marking.papers.m08_rotor_measurement.sheet import sheet
from brakecourse.marking.papers.m08_rotor_measurement.truth import MODULE, RotorTruth, draw
from brakecourse.marking.papers.m08_rotor_measurement.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=RotorTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"8.9": customer_words},
    worked=worked,
    # The others are left out where they happen to be right: on a vehicle far from every limit it does no
    # harm to forget the guard band.
    must_show={
        "8.1": ("half_millimetre_line", "on_the_ridge"),
        "8.2": ("on_the_ridge", "largest_for_smallest", "mean_for_minimum"),
        "8.3": ("on_the_ridge", "half_of_total"),
        "8.4": ("nuts_not_seated", "half_of_total"),
    },
    shares={str(name): share for name, share in SHARES["normal"].items()},
)
