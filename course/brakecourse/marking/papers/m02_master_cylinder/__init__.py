"""Module 02: the fluid's level before the lift."""

from __future__ import annotations

from brakecourse.bench.level_cases import SHARES
from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m02_master_cylinder.key import KEY
from brakecourse.marking.papers.m02_master_cylinder.letter import customer_words
from brakecourse.marking.papers.m02_master_cylinder.sheet import sheet
from brakecourse.marking.papers.m02_master_cylinder.truth import MODULE, LevelTruth, draw
from brakecourse.marking.papers.m02_master_cylinder.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=LevelTruth,
    draw=draw,
    key=KEY,
    sheet=sheet,
    letter={"2.10": customer_words},
    worked=worked,
    must_show={
        "2.1": ("parallax", "from_the_minimum"),
        "2.2": ("fluid_left_for_missing",),
        "2.3": ("bore_as_radius",),
        "2.4": ("bore_as_radius", "one_pad_only"),
        "2.5": ("one_wheel_of_an_axle", "one_axle_only"),
        "2.9": ("bore_as_radius", "one_pad_only", "one_wheel_of_an_axle"),
    },
    shares={str(name): share for name, share in SHARES.items()},
)
