"""The decisions on the fluid and the order of the work, and the mistakes that each question invites."""

from __future__ import annotations

from brakecourse.marking import basis
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m03_brake_fluid import numbers, shelf
from brakecourse.marking.papers.m03_brake_fluid.steps import RULES, STEPS
from brakecourse.marking.papers.m03_brake_fluid.truth import FluidTruth
from brakecourse.views.units import both

_KEYS = {"within": "above", "outside": "below", "too close to call": "too-close"}
_SAYS = {
    "within": "it is proven to boil above it",
    "outside": "it is proven to boil below it",
    "too close to call": "it is too close to call",
}


def _told(truth: FluidTruth, boils: float) -> str:
    found = truth.decision(boils)
    which = "the hottest fluid" if truth.hottest_c > truth.wet_c else f"the wet limit of {truth.grade}"
    side = "above" if found.margin >= 0 else "below"
    return (
        f"It boils at {both(boils, '°C')}. The higher one of the two limits is {which}, "
        f"{both(truth.needed_c, '°C')}. It boils {both(abs(found.margin), '°C rise')} {side} that, and the "
        f"guard band is {both(found.guard_band, '°C rise', 1, 1)}: {_SAYS[found.verdict]}."
    )


def proven(truth: FluidTruth, given: Given) -> Basis:
    """3.6: whether it is proven to boil above both limits."""
    boils = given.number("3.2")
    wrong = {
        "ignored_uncertainty": truth.decision(boils, sure=True),
        "lower_limit_taken": truth.decision(boils, min(truth.wet_c, truth.hottest_c)),
        "wet_dry_swapped": truth.decision(boils, max(truth.dry_c, truth.hottest_c)),
    }
    return given.choice(
        "3.6",
        (_KEYS[truth.decision(boils).verdict],),
        [(name, _KEYS[found.verdict]) for name, found in wrong.items()],
        how=_told(truth, boils),
    )


def bottle(truth: FluidTruth, given: Given) -> Basis:
    """3.7: which bottle goes in."""
    places = list(enumerate(truth.bottles, start=1))
    right = [place for place, one in places if shelf.fits(one, truth.allowed)]
    wrong = [
        (shelf.slip_of(one, truth.allowed), f"bottle-{place}") for place, one in places if place not in right
    ]
    book = " or ".join(truth.allowed)
    told = [
        f"Bottle {place} ({one.grade}) {shelf.why(one, truth.allowed)}."
        for place, one in places
        if place not in right
    ]
    good = f"Bottle {right[0]} is sealed, and the maker's book allows it ({book})." if right else (
        f"The maker's book allows {book}, and no sealed bottle of that is here."
    )  # fmt: skip
    return given.choice(
        "3.7",
        [f"bottle-{place}" for place in right] or ["none"],
        [*wrong, *([("right_bottle_refused", "none")] if right else [])],
        how=" ".join([good, *told]),
    )


def what_to_do(truth: FluidTruth, given: Given) -> Basis:
    """3.8: keep, renew or stop, with the reason."""
    boils = given.number("3.2")
    by_reason = {one.reason: one.key for one in given.choices("3.8") if one.reason}
    if truth.stays_apart or truth.swollen:
        reasons = ["swollen"] * truth.swollen + ["apart"] * truth.stays_apart
        others = [one.key for one in given.choices("3.8") if one.action != "stop"]
        return given.choice(
            "3.8",
            [by_reason[one] for one in reasons],
            [("wrong_fluid_missed", key) for key in others],
            how=f"{_SEEN[reasons[0]]} So it does not belong in this system, whatever the testers show. The "
            "vehicle does not move until somebody knows which fluid is in.",
        )
    wrong = {
        "ignored_uncertainty": truth.decision(boils, sure=True),
        "lower_limit_taken": truth.decision(boils, min(truth.wet_c, truth.hottest_c)),
    }
    verdict = truth.decision(boils).verdict
    return given.choice(
        "3.8",
        [by_reason[verdict]],
        [(name, by_reason[found.verdict]) for name, found in wrong.items()],
        how=f"It mixes with water and the rubber is sound. {_told(truth, boils)} {_DONE[verdict]}",
    )


_SEEN = {
    "swollen": "The rubber is swollen: that is the work of mineral oil.",
    "apart": "A drop of the fluid stays apart from water, so it is silicone-based or an oil.",
}
_DONE = {
    "within": "So it may stay.",
    "outside": "So renew all of it.",
    "too close to call": "Not proven is not good enough, so renew all of it.",
}


def order(_truth: FluidTruth, _given: Given) -> Basis:
    """3.9: renewing the fluid in a safe order."""
    return basis.by_rules(
        list(STEPS.values()),
        RULES,
        how="Clean fluid stands in the reservoir before a bleeder is opened, the bleeder is shut before the "
        "pedal comes up, and the reservoir never runs empty. So neither dirt nor air gets into the ABS unit.",
    )


KEY: dict[str, Answer] = {
    "3.1": numbers.water,
    "3.2": numbers.boiling,
    "3.3": numbers.from_limit,
    "3.4": numbers.by_curve,
    "3.5": numbers.worst_margin,
    "3.6": proven,
    "3.7": bottle,
    "3.8": what_to_do,
    "3.9": order,
}
