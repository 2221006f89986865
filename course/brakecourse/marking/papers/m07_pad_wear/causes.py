"""What hands and eyes say of the cause, and which causes are easily taken for which."""

from __future__ import annotations

from brakecourse.bench.pad_situations import CAUSES
from brakecourse.marking.papers import units_text as both
from brakecourse.marking.papers.m07_pad_wear.truth import PadTruth, Two
from brakecourse.views.words import mm, number

(DRY, ONE_PIN, PISTON, CLIP_LEADING, CLIP_TRAILING, CLIPS, BRACKET, RIDGE) = CAUSES[:8]
(TOO_LONG, NORMAL, NOT_KNOWN) = CAUSES[12:15]
_CLIPS = (CLIP_LEADING, CLIP_TRAILING, CLIPS)


def against(right: str) -> list[tuple[str, str]]:
    """Return named mistakes with the causes that they lead to, when another one is right."""
    found: list[tuple[str, str]] = []
    if right in (DRY, PISTON):
        found.append(("cause_from_pads_alone", PISTON if right == DRY else DRY))
    if right in (DRY, ONE_PIN):
        found.append(("one_pin_for_two", ONE_PIN if right == DRY else DRY))
    if right in _CLIPS:
        found += [("wrong_clip", one) for one in _CLIPS if one != right]
    if right not in (TOO_LONG, NORMAL, NOT_KNOWN):
        found += [("cause_overlooked", NORMAL), ("hands_not_asked", NOT_KNOWN)]
    if right not in (TOO_LONG, NORMAL):
        found.append(("time_for_the_part", TOO_LONG))
    if right in (TOO_LONG, NOT_KNOWN):
        found.append(("cause_overlooked", NORMAL))
    return found


def found_words(truth: PadTruth) -> str:
    """Say what was found that decides."""
    here, other = truth.here, truth.other
    if truth.cause in (DRY, ONE_PIN):
        slides = pair(other.pin_slide_n)
        return f"The pins slide with {pair(here.pin_slide_n)}; on the other wheel with {slides}."
    if truth.cause == PISTON:
        return (
            f"The pistons go back with {both.newtons(here.push_back_n)}; on the other wheel with "
            f"{both.newtons(other.push_back_n)}."
        )
    if truth.cause in _CLIPS:
        return (
            f"The outer pad moves in its clips with {pair(here.pad_grip_n)}, leading and trailing end; "
            f"on the other wheel with {pair(other.pad_grip_n)}."
        )
    if truth.cause == BRACKET:
        return (
            f"The looser bolt of the bracket was found at {both.newton_metres(here.bolt_nm)}; the maker asks "
            f"{both.newton_metres(truth.bolt_wanted_nm)}."
        )
    if truth.cause == RIDGE:
        step = max(truth.step_mm)
        return f"The pads have a step of {mm(step, 1)} at their outer edge, where the rotor has a ridge."
    return _only_time(truth)


def _only_time(truth: PadTruth) -> str:
    """Say what decides when every part at the wheel does its work."""
    least, minimum = min(truth.readings_mm), truth.limits.minimum_mm
    alike = "Pins, clips, piston and bolts are like those of the other wheel, and the pads wore alike."
    ends = {
        TOO_LONG: f"The thinnest corner, {number(least, 1)} mm, is below the minimum of {mm(minimum, 1)}.",
        NORMAL: "Every limit is kept.",
        NOT_KNOWN: (
            f"Whether the thinnest corner, {number(least, 1)} mm, keeps the minimum of {mm(minimum, 1)}, the "
            "gauge cannot tell. So it is not proven that they stayed in too long, nor that all is well."
        ),
    }
    return f"{alike} {ends[truth.cause]}"


def pair(forces_n: Two | None) -> str:
    """Write two forces."""
    if forces_n is None:
        return "no pins: fixed caliper"
    one, two = forces_n
    return f"{both.newtons(one)} each" if one == two else f"{both.newtons(one)} and {both.newtons(two)}"


def told(truth: PadTruth) -> tuple[tuple[str, str], ...]:
    """Return what hands and eyes found, as facts of the work order: this wheel, then the axle's other."""
    here, other = truth.here, truth.other
    held = "Caliper" if here.pin_slide_n is None else "Bracket"

    def row(label: str, one: str, two: str) -> tuple[str, str]:
        return label, f"{_capital(here.wheel)}: {one}. {_capital(other.wheel)}: {two}."

    return (
        row(
            "Slide pins, force that slides each (leading, trailing)",
            pair(here.pin_slide_n),
            pair(other.pin_slide_n),
        ),
        row(
            "Outer pad in its clips, force that moves it (leading, trailing end)",
            pair(here.pad_grip_n),
            pair(other.pad_grip_n),
        ),
        row(
            "Pistons, force that pushes them back",
            both.newtons(here.push_back_n),
            both.newtons(other.push_back_n),
        ),
        row(
            f"{held}'s bolts, the looser one (maker: {both.newton_metres(truth.bolt_wanted_nm)})",
            both.newton_metres(here.bolt_nm),
            both.newton_metres(other.bolt_nm),
        ),
        row("Brake fluid leaked", _listed(here.wet) or "nowhere", _listed(other.wet) or "nowhere"),
        row("What the rotor shows", _listed(here.rotor), _listed(other.rotor)),
    )


def _listed(words: tuple[str, ...]) -> str:
    return ", ".join(words)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
