"""The right answers, how they follow, and the mistakes that each question invites."""

from __future__ import annotations

from brakecourse.marking import basis, slips
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers import job_steps
from brakecourse.marking.papers.m01_job_order.pairs import pairs_basis
from brakecourse.marking.papers.m01_job_order.stands import LETTERS, StandSet
from brakecourse.marking.papers.m01_job_order.truth import OrderTruth
from brakecourse.marking.sealed import SealedMistake
from brakecourse.published import convert
from brakecourse.trade.hydraulics import STANDARD_GRAVITY_MS2
from brakecourse.views.stand_loads import STAND_MARGIN, STANDS_OF_A_PAIR
from brakecourse.views.units import both
from brakecourse.views.words import number

slip = slips.slip

ROUNDED_KG = 0.5
"""Masses are asked in whole kilograms, so rounding moves them by half of one."""

SHARE_ROUNDED = 0.0005
"""The share of an axle may be written down to three places before it is multiplied."""

SHOWS: dict[str, str] = {"pair": "mark_of_the_pair", "jack": "jack_as_stand", "bent": "damaged_stand"}
NO_SET = "none"


def _axle_near(truth: OrderTruth) -> float:
    # Bounds of rounding, so they add: the answer's own, and the one of the share on the way.
    return ROUNDED_KG + SHARE_ROUNDED * truth.mass_kg


def _units(right: float, near: float) -> tuple[SealedMistake, ...]:
    newtons, pounds = STANDARD_GRAVITY_MS2, convert(1.0, "kg", "lb")
    return (
        # 9.8 or 10 may stand for 9.81.
        slip("newtons_for_kilograms", newtons * right, newtons * near + 0.02 * newtons * right),
        slip("pounds_for_kilograms", pounds * right, pounds * near),
        *slips.decimal_point(right, near),
    )


def axle_load(truth: OrderTruth, _given: Given) -> Basis:
    """1.1: what the raised axle carries."""
    right, other = truth.axle_kg(truth.axle), truth.axle_kg(truth.other)
    near = _axle_near(truth)
    base, back = number(truth.wheelbase_mm, 0), number(truth.gravity_mm, 0)
    front = (
        f"Front axle: {number(truth.mass_kg, 0)} × ({base} − {back}) ÷ {base} = "
        f"{both(truth.axle_kg('front'), 'kg', 0)}."
    )
    mass, ahead = number(truth.mass_kg, 0), number(truth.axle_kg("front"), 0)
    rest = f" Rear axle: {mass} − {ahead} = {both(right, 'kg', 0)}."
    return basis.number(
        right,
        near,
        (
            slip("other_axle", other, near),
            slip("half_of_the_mass", truth.mass_kg / 2, ROUNDED_KG),
            slip("halved_too_soon", right / STANDS_OF_A_PAIR, near),
            slip("whole_mass", truth.mass_kg, ROUNDED_KG),
            *_units(right, near),
        ),
        how=front + (rest if truth.axle == "rear" else ""),
        places=0,
    )


def stand_load(truth: OrderTruth, given: Given) -> Basis:
    """1.2: what each stand carries."""
    axle = given.number("1.1")
    right = axle / STANDS_OF_A_PAIR
    # A calculator may still hold the axle's load in full: half of its rounding, and the answer's own.
    carried = ROUNDED_KG / STANDS_OF_A_PAIR + ROUNDED_KG
    return basis.number(
        right,
        _axle_near(truth) / STANDS_OF_A_PAIR + ROUNDED_KG,
        (
            slip("axle_not_halved", axle, 2 * ROUNDED_KG),
            slip("other_axle", truth.axle_kg(truth.other) / STANDS_OF_A_PAIR, carried),
            slip("half_of_the_mass", truth.mass_kg / 4, carried),
            slip("half_of_the_mass", truth.mass_kg / 2, carried),
            *_units(right, carried),
        ),
        how=f"The {truth.axle} axle carries {number(axle, 0)} kg, and two stands share it: "
        f"{number(axle, 0)} ÷ 2 = {both(right, 'kg', 0)}.",
        places=0,
        carried=carried,
    )


def rating(truth: OrderTruth, given: Given) -> Basis:
    """1.3: what each stand must be rated for at least."""
    load = given.number("1.2")
    right = STAND_MARGIN * load
    carried = STAND_MARGIN * ROUNDED_KG + ROUNDED_KG
    alone = STAND_MARGIN * (_axle_near(truth) / STANDS_OF_A_PAIR + ROUNDED_KG) + ROUNDED_KG
    return basis.number(
        right,
        alone,
        (
            slip("margin_left_out", load, carried),
            slip("axle_not_halved", STANDS_OF_A_PAIR * right, 2 * carried),
            slip("margin_divided", load / STAND_MARGIN, carried),
            slip("other_axle", STAND_MARGIN * truth.axle_kg(truth.other) / STANDS_OF_A_PAIR, carried),
            *_units(right, carried),
        ),
        how=f"{number(STAND_MARGIN, 1)} × {number(load, 0)} kg = {both(right, 'kg', 0)}.",
        places=0,
        carried=carried,
    )


def which_set(truth: OrderTruth, given: Given) -> Basis:
    """1.4: which set of stands to take."""
    needed = given.number("1.3")
    good = [letter for letter, one in _sets(truth) if one.good_for_kg >= needed]
    wrong = [(_shown(one), letter) for letter, one in _sets(truth)]
    told = " ".join(f"Set {letter.upper()}: {_judged(one, needed)}" for letter, one in _sets(truth))
    end = "" if good else " So take none of them, and leave the vehicle on its wheels until there are stands."
    return given.choice(
        "1.4",
        good or (NO_SET,),
        [*wrong, ("right_stand_refused", NO_SET)],
        how=f"Each stand must be rated for at least {both(needed, 'kg', 0)}. {told}{end}",
    )


def _sets(truth: OrderTruth) -> list[tuple[str, StandSet]]:
    return list(zip(LETTERS.lower(), truth.sets, strict=True))


def _shown(one: StandSet) -> str:
    return SHOWS.get(one.kind, "stand_too_weak")


def _judged(one: StandSet, needed: float) -> str:
    if one.kind == "jack":
        return "a jack lifts, it does not hold."
    if one.kind == "bent":
        return "a damaged stand carries nothing for sure."
    enough = "enough" if one.good_for_kg >= needed else "too little"
    if one.kind == "pair":
        return (
            f"the mark is for both together, so each is good for {both(one.good_for_kg, 'kg', 0)}: {enough}."
        )
    if one.unit == "kN":
        return f"1000 × {number(one.mark, 1)} ÷ 9.81 = {both(one.good_for_kg, 'kg', 0)} each: {enough}."
    return f"{both(one.mark, 'kg', 0)} each: {enough}."


def lifting(truth: OrderTruth, given: Given) -> Basis:
    """1.5: what to do about how the vehicle next door is held."""
    return _control("1.5", truth, truth.bay.lifting, given)


def dust(truth: OrderTruth, given: Given) -> Basis:
    """1.6: what to do about the dust next door."""
    return _control("1.6", truth, truth.bay.dust, given)


def bench(truth: OrderTruth, given: Given) -> Basis:
    """1.7: what to do about whatever else can hurt someone next door."""
    return _control("1.7", truth, truth.bay.bench, given)


def _control(question: str, truth: OrderTruth, state: str, given: Given) -> Basis:
    by_reason = {one.reason: one.key for one in given.choices(question) if one.reason}
    mistakes = [
        ("hazard_overlooked" if reason == "fine" else "sound_place_blamed", key)
        for reason, key in by_reason.items()
        if reason != state
    ]
    fine = "Nothing there can hurt anyone: what is to be seen is as it must be."
    how = fine if state == "fine" else truth.bay.why(state)
    return given.choice(question, (by_reason[state],), mistakes, how=how)


def pairs(truth: OrderTruth, _given: Given) -> Basis:
    """1.8: which of two steps comes first."""
    return pairs_basis(truth.pairs)


def order(truth: OrderTruth, _given: Given) -> Basis:
    """1.9: twelve steps of the job in a safe order."""
    return job_steps.sequence(truth.steps)


KEY: dict[str, Answer] = {
    "1.1": axle_load,
    "1.2": stand_load,
    "1.3": rating,
    "1.4": which_set,
    "1.5": lifting,
    "1.6": dust,
    "1.7": bench,
    "1.8": pairs,
    "1.9": order,
}
