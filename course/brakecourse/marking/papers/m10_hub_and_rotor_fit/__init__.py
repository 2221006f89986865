"""Module 10: a rotor on its hub, with a flake of rust between them."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m10_hub_and_rotor_fit.draw import SHARES, draw
from brakecourse.marking.papers.m10_hub_and_rotor_fit.key import KEY
from brakecourse.marking.papers.m10_hub_and_rotor_fit.letter import customer_words
from brakecourse.marking.papers.m10_hub_and_rotor_fit.sheet import sheet
from brakecourse.marking.papers.m10_hub_and_rotor_fit.truth import MODULE, FitTruth
from brakecourse.marking.papers.m10_hub_and_rotor_fit.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=FitTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"10.10": customer_words},
    worked=worked,
    must_show={
        "10.2": ("half_of_total",),
        "10.5": ("flake_for_run_out", "diameter_for_radius", "radii_inverted"),
        "10.6": ("on_the_ridge", "half_of_total", "found_for_clean"),
    },
    shares=SHARES,
)
