"""Convert a torque from one unit to another."""

from __future__ import annotations

import re
from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.published import convert
from brakecourse.views.drawings.torque_levers import torque_levers_svg
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.replies import Reply, near
from brakecourse.views.torque_sums import Bolt, all_bolts
from brakecourse.views.unit_spellings import SPELLINGS
from brakecourse.views.words import number

NM, FEET, INCHES = "N·m", "lbf·ft", "lbf·in"
PINT = {NM: "N*m", FEET: "lbf*ft", INCHES: "lbf*in"}
TO_FEET, TO_NM, WITH_INCHES = "N·m to lbf·ft", "lbf·ft to N·m", "with lbf·in"
PAIRS: dict[str, dict[Difficulty, tuple[tuple[str, str], ...]]] = {
    TO_FEET: dict.fromkeys(("easy", "normal", "hard"), ((NM, FEET),)),
    TO_NM: dict.fromkeys(("easy", "normal", "hard"), ((FEET, NM),)),
    WITH_INCHES: {
        "easy": ((INCHES, FEET),),
        "normal": ((INCHES, FEET), (INCHES, NM)),
        "hard": ((INCHES, NM), (NM, INCHES), (FEET, INCHES)),
    },
}
SMALL_NM = 60.0  # the trade gives small torques in lbf·in
_EASY = ("wheel nut",)  # their torques are round numbers of two or three figures
_SHARE = 0.012


@dataclass(frozen=True)
class Conversion:
    """A torque that is given in one unit and wanted in another.

    Attributes:
        bolt: whose torque it is.
        given: the unit of the maker's sheet.
        wanted: the unit of the wrench.
        value: the given number.
    """

    bolt: Bolt
    given: str
    wanted: str
    value: float

    @property
    def right(self) -> float:
        """The number in the wanted unit."""
        return convert(self.value, PINT[self.given], PINT[self.wanted])


class ConvertTorque(Quiz):
    """The maker's sheet speaks one unit, the wrench another."""

    title = "From the sheet's unit to the wrench's unit"
    task = "Work out the number, type it, and press Check. A calculator is allowed."
    lesson = "11_reassembly_and_torque"
    topics = tuple(PAIRS)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return conversion_task(topic, difficulty, draw)

    def check_number(self, typed: str) -> None:
        """Reply to a typed number. The wanted unit may stand after it; the given one is what was told."""
        case: Conversion = self.asked.case
        bare, spelt = _split(typed)
        unit = next((unit for unit, name in PINT.items() if spelt in SPELLINGS["torque"][name].split()), "")
        if unit and unit != case.wanted:
            self.say(f"You typed {unit}. Convert it first: the answer is asked in {case.wanted}.")
            return
        super().check_number(bare if unit else typed)

    def picture(self) -> str:
        case: Conversion = self.asked.case
        return torque_levers_svg(uid=self.uid, given=case.given, wanted=case.wanted)


def conversion_task(topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
    """Return a question: a torque of the motor pool, to be converted.

    Args:
        topic: one of :data:`PAIRS`.
        difficulty: easy questions are about wheel nuts; hard ones have more units, and tenths.
        draw: chance.
    """
    given, wanted = draw.child("units").choice(PAIRS[topic][difficulty])
    small = INCHES in (given, wanted)
    bolts = [one for one in all_bolts() if (one.fastener.torque_nm < SMALL_NM) == small]
    if not small and difficulty == "easy":
        bolts = [one for one in bolts if one.name in _EASY]
    bolt = draw.child("bolt").choice(bolts)
    exact = convert(bolt.fastener.torque_nm, "N*m", PINT[given])
    value = round(exact, 1) if given == FEET and difficulty == "hard" else float(round(exact))
    case = Conversion(bolt, given, wanted, value)
    how = how_converted(case)
    return NumberTask(
        topic,
        f"The sheet gives {value:g} {given} for {bolt.owner}. Your wrench is marked in {wanted}. "
        f"How many {wanted} is that?",
        f"Torque in {wanted}",
        "",
        lambda typed: conversion_reply(typed, case),
        f"{told(case.right, wanted)}. {how}",
        (),
        case,
    )


def told(value: float, unit: str) -> str:
    """Write a number of a unit with three figures or more."""
    return f"{number(value, 0 if abs(value) >= 100 else 1)} {unit}"


def how_converted(case: Conversion) -> str:
    """Tell the way from one unit to the other, with its factor."""
    if NM not in (case.given, case.wanted):
        sign = "÷" if case.given == INCHES else "×"
        return f"A foot has 12 inches: {case.value:g} {sign} 12 = {told(case.right, case.wanted)}."
    us = case.given if case.wanted == NM else case.wanted
    factor = convert(1, PINT[us], "N*m")
    sign = "×" if case.wanted == NM else "÷"
    written = number(factor, 3)
    return f"1 {us} is {written} N·m: {case.value:g} {sign} {written} = {told(case.right, case.wanted)}."


def conversion_reply(answer: float, case: Conversion) -> Reply:
    """Judge a converted torque and name the slip that gives exactly the number.

    Args:
        answer: what the learner typed, in the wanted unit.
        case: the task.
    """
    right = case.right
    allowed = max(_SHARE * right, 0.51 if right > 30 else 0.06)
    if near(answer, right, allowed):
        return Reply(True, f"Right: {told(right, case.wanted)}. {how_converted(case)}")
    for words, value in slips(case):
        if near(answer, value, min(_SHARE * abs(value), abs(value - right) / 2)):
            return Reply(False, f"Not yet. {words}")
    side = "too large" if answer > right else "too small"
    return Reply(
        False,
        f"Not yet: {answer:g} {case.wanted} is {side}. Look at the levers: one {_larger(case)} is the larger "
        f"unit, so the number gets {'smaller' if right < case.value else 'larger'}.",
    )


def slips(case: Conversion) -> list[tuple[str, float]]:
    """Return the usual slips with the numbers that they give."""
    back = case.value**2 / case.right
    found = [
        (f"That is the number of the sheet. It is in {case.given}.", case.value),
        ("You went the wrong way: you multiplied where you must divide, or the reverse.", back),
    ]
    if case.wanted == NM:
        other, value = ("feet", 12 * case.right) if case.given == INCHES else ("inches", case.right / 12)
        found.append((f"You used the factor of pound-{other}. The sheet says {case.given}.", value))
    elif case.given == NM and case.wanted == INCHES:
        words = "That is pound-feet. A foot has 12 inches, so there are 12 times as many pound-inches."
        found.append((words, case.right / 12))
    elif case.given == NM:
        found.append(("That is pound-inches. Divide by 12 for pound-feet.", 12 * case.right))
    return [*found, *(("Your decimal point slipped.", case.right * by) for by in (10, 0.1))]


def _larger(case: Conversion) -> str:
    return case.wanted if case.right < case.value else case.given


def _split(typed: str) -> tuple[str, str]:
    """Return the number's text and its unit's spelling, plain."""
    match = re.fullmatch(r"\s*([\d\s.,]+)\s*([^\d\s.,].*)", typed.strip())
    if not match:
        return typed, ""
    return match[1], re.sub(r"[\s.·⋅*^–-]", "", match[2].lower())
