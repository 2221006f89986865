"""Module 04: one push followed from the pedal to the road."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m04_pedal_to_pad import key, key_stop, key_wheels
from brakecourse.marking.papers.m04_pedal_to_pad.letter import driver_words
from brakecourse.marking.papers.m04_pedal_to_pad.sheet import sheet
from brakecourse.marking.papers.m04_pedal_to_pad.truth import MODULE, SHARES, ForceTruth, draw
from brakecourse.marking.papers.m04_pedal_to_pad.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=ForceTruth,
    draw=draw,
    key={**key.KEY, **key_wheels.KEY, **key_stop.KEY},
    sheet=sheet,
    letter={"4.10": driver_words},
    worked=worked,
    must_show={
        "4.1": ("bore_as_radius", "booster_left_out", "psi_for_mpa"),
        "4.2": ("psi_for_mpa",),
        "4.4": ("bore_as_radius",),
        "4.5": ("one_pad_face", "millimetres_for_metres"),
        "4.6": ("front_axle_only",),
        "4.7": ("standing_for_braking", "axles_swapped"),
        "4.8": ("kmh_as_ms", "reaction_left_out"),
    },
    shares=dict(SHARES),
)
