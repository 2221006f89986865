"""Module 11: putting the brake together, and what a torque buys."""

from __future__ import annotations

from brakecourse.marking.paper import Paper
from brakecourse.marking.papers.m11_reassembly_and_torque import key_bolt, key_order, key_wrench
from brakecourse.marking.papers.m11_reassembly_and_torque.draw import draw
from brakecourse.marking.papers.m11_reassembly_and_torque.letter import workmate_words
from brakecourse.marking.papers.m11_reassembly_and_torque.sheet import sheet
from brakecourse.marking.papers.m11_reassembly_and_torque.truth import MODULE, SHARES, TorqueTruth
from brakecourse.marking.papers.m11_reassembly_and_torque.worked import worked

PAPER = Paper(
    module=MODULE,
    truth=TorqueTruth,
    draw=draw,
    key={**key_wrench.KEY, **key_order.KEY, **key_bolt.KEY},
    sheet=sheet,
    letter={"11.10": workmate_words},
    worked=worked,
    must_show={
        "11.1": ("lbfin_for_lbfft", "torque_unit_wrong_way"),
        "11.2": ("grip_left_out", "lbfft_for_nm"),
        "11.3": ("extension_ignored", "extension_inverted"),
        "11.4": ("round_the_circle",),
        "11.6": ("oiled_for_dry", "factor_left_out"),
        "11.7": ("oiled_at_dry_torque", "extension_ignored"),
    },
    shares=dict(SHARES),
)
