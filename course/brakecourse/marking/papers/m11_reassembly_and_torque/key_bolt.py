"""The right answers about the bolt: its clamp load, what it carried, and whether it may go back."""

from __future__ import annotations

from brakecourse.marking import basis, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m11_reassembly_and_torque.key_wrench import named, near
from brakecourse.marking.papers.m11_reassembly_and_torque.truth import TorqueTruth
from brakecourse.published import convert
from brakecourse.trade import fasteners
from brakecourse.views.torque_words import kn, nm
from brakecourse.views.words import number

WHOLE = 100.0
"""The proof load itself, percent."""


def clamp(case: TorqueTruth, _given: Given) -> Basis:
    """11.6: the clamp load that the sheet's torque buys."""
    one = case.bolt
    right = _clamp_kn(case, one.torque_nm, one.dry)
    tolerance = near(1)
    found = (
        ("oiled_for_dry", _clamp_kn(case, one.torque_nm, one.oiled)),
        ("factor_left_out", one.torque_nm / one.diameter_mm),
        ("factor_on_top", one.torque_nm * one.dry / one.diameter_mm),
        ("pitch_for_diameter", one.torque_nm / (one.dry * one.pitch_mm)),
        ("radius_for_diameter", 2 * right),
        ("newtons_for_kilonewtons", 1000 * right),
        ("pounds_for_kilonewtons", convert(1000 * right, "N", "lbf")),
        ("ten_times", 10 * right),
        ("ten_times", right / 10),
    )
    how = (
        f"The threads are meant {one.finish}, so K is {one.dry:g}. "
        f"{number(one.torque_nm, 0)} ÷ ({one.dry:g} × {one.diameter_mm:g}) = {kn(1000 * right)}."
    )
    return basis.number(right, tolerance, named(right, tolerance, 1, found), how=how, places=1)


def _clamp_kn(case: TorqueTruth, torque_nm: float, factor: float) -> float:
    return fasteners.preload_n(torque_nm, case.bolt.diameter_mm, factor) / 1000


def carried(case: TorqueTruth, given: Given) -> Basis:
    """11.7: what share of its proof load the bolt carried, as it was really tightened."""
    read, setting, one = given.number("11.2"), given.number("11.3"), case.bolt
    right = case.carried_percent(read, setting, one.oiled)
    got = read * one.torque_nm / setting
    pull = _clamp_kn(case, got, one.oiled)
    # Rounded on the way, as the lesson writes them: setting, torque at the bolt and clamp load to a tenth.
    bounds = (right * 0.05 / setting, right * 0.05 / got, right * 0.05 / pull)
    own, reading_off = near(0, *bounds), right * tolerances.reading(case.wrench.left.division) / read
    found = (
        ("oiled_at_dry_torque", case.carried_percent(read, setting, one.dry)),
        ("extension_ignored", case.carried_percent(read, one.torque_nm, one.oiled)),
        ("extension_inverted", case.carried_percent(read, one.torque_nm**2 / setting, one.oiled)),
        ("sheet_for_what_was_set", case.carried_percent(setting, setting, one.oiled)),
        ("share_upside_down", 100 * WHOLE / right),
        ("fraction_for_percent", right / 100),
        ("ten_times", 10 * right),
        ("ten_times", right / 10),
    )
    how = (
        f"The wrench was set to {nm(read)}. With the extension the bolt got {number(read, 1)} × "
        f"{number(one.torque_nm, 0)} ÷ {number(setting, 1)} = {nm(got)}. Oiled, K is {one.oiled:g}: "
        f"{number(got, 1)} ÷ ({one.oiled:g} × {one.diameter_mm:g}) = {kn(1000 * pull)}. "
        f"{number(pull, 1)} ÷ {number(one.proof_kn, 1)} = {number(right, 0)} %."
    )
    return basis.number(
        right, near(0, *bounds, reading_off), named(right, own, 0, found), how=how, places=0, carried=own
    )


def reuse(case: TorqueTruth, given: Given) -> Basis:
    """11.9: whether the bolt may go back."""
    one, share = case.bolt, given.number("11.7")
    truly = case.carried_percent(case.wrench.left.reading, case.setting_nm, one.oiled)
    # A bolt that was really pulled too far is never marked as sound, whatever slipped before.
    stretched = share > WHOLE or truly > WHOLE
    right = [
        key
        for key, holds in (
            ("new-once", not one.reusable),
            ("new-spoilt", one.spoilt),
            ("new-stretched", stretched),
        )
        if holds
    ]
    told = [
        "The sheet allows it to be used again." if one.reusable else "The sheet says: use once.",
        f"It looks like this: {one.state}.",
        f"It carried {number(share if share > WHOLE else truly, 0)} % of its proof load.",
        "So a new one goes in." if right else "So it is cleaned and goes back.",
    ]
    mistake = "stretch_bolt_reused" if not one.reusable else "spoilt_bolt_reused"
    slips = [(mistake, "clean")] if right and (one.spoilt or not one.reusable) else []
    if right and not slips:
        slips = [("pulled_bolt_reused", "clean")]
    if not right:
        slips = [("sound_bolt_refused", key) for key in ("new-once", "new-stretched", "new-spoilt")]
    return given.choice("11.9", right or ("clean",), slips, how=" ".join(told))


KEY: dict[str, Answer] = {"11.6": clamp, "11.7": carried, "11.9": reuse}
