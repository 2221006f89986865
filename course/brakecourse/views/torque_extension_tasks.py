"""What to set with an extension on the wrench, and what a bolt got when it was forgotten: the questions."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.shop_gauges import TorqueWrench, torque_wrench
from brakecourse.bench.situations import Difficulty
from brakecourse.views.quiz import NumberTask
from brakecourse.views.replies import number_reply
from brakecourse.views.torque_sums import Bolt, all_bolts, applied_nm, arm_share, length_mm
from brakecourse.views.torque_words import mm_of, nm, places_of
from brakecourse.views.words import number

STRAIGHT, ANGLED, GOT = "extension straight on", "extension at an angle", "what the bolt got"
_ANGLES: dict[Difficulty, tuple[int, ...]] = {
    "easy": (60, 90),
    "normal": (30, 45, 60, 90),
    "hard": (30, 45, 60, 90, 120, 135),
}
_LENGTHS: dict[Difficulty, tuple[int, ...]] = {
    "easy": (50, 100, 150),
    "normal": (40, 60, 75, 120, 150),
    "hard": (35, 65, 85, 110, 165, 190),
}


@dataclass(frozen=True)
class Extended:
    """A bolt that only a wrench with an extension reaches.

    Attributes:
        bolt: whose torque is wanted.
        wrench: what is used.
        extension_mm, angle_deg: of the extension.
        set_nm: what somebody has set, for the question what the bolt got; else the low end of the scale.
    """

    bolt: Bolt
    wrench: TorqueWrench
    extension_mm: float
    angle_deg: float
    set_nm: float

    @property
    def wrench_mm(self) -> float:
        """Length of the wrench."""
        return length_mm(self.wrench)

    @property
    def share(self) -> float:
        """How many times as long the lever is."""
        return arm_share(self.wrench_mm, self.extension_mm, self.angle_deg)


def extended_case(topic: str, difficulty: Difficulty, draw: Draw) -> Extended:
    """Draw a bolt, a wrench whose scale holds the setting, and an extension."""
    for again in range(100):
        chance = draw.child(f"extended {again}")
        bolt = chance.choice([one for one in all_bolts() if one.where])
        wrench = torque_wrench(40.0 if bolt.fastener.torque_nm < 40 else 200.0)
        angle = 0 if topic == STRAIGHT or (topic == GOT and difficulty == "easy") else None
        angle_deg = chance.choice(_ANGLES[difficulty]) if angle is None else angle
        extension = chance.choice(_LENGTHS[difficulty])
        target = bolt.fastener.torque_nm
        case = Extended(bolt, wrench, extension, angle_deg, target if topic == GOT else wrench.scale.start)
        wanted = target if topic == GOT else target / case.share
        if wrench.scale.holds(wanted):
            return case
    raise ValueError("No bolt of the motor pool suits a wrench of the shop with this extension.")


def set_task(topic: str, case: Extended) -> NumberTask:
    """Return the question what to set."""
    target, share = case.bolt.fastener.torque_nm, case.share
    right = target / share
    how = f"{_arm_words(case)} {number(target, 0)} × {case.wrench_mm:g} ÷ {_arm(case)} = {nm(right)}."
    slips = {
        _ignored(case): target,
        "You turned the fraction round. Put the wrench's own length on top, the whole lever below.": target
        * share,
        _other_way(case): target / (2 - share),
        "You took the extension's whole length. At an angle only a part of it counts: times the cosine.": (
            target / arm_share(case.wrench_mm, case.extension_mm, 0.0) if case.angle_deg else -1.0
        ),
        "You took the sine of the angle. The part along the wrench goes with the cosine.": _with_sine(
            case, target
        ),
    }
    return NumberTask(
        topic,
        f"{case.bolt.owner[0].upper()}{case.bolt.owner[1:]} need {nm(target)}, and only this extension "
        "reaches "
        "them. The wrench still stands at its low end. What do you set?",
        "Setting",
        "N·m",
        lambda typed: number_reply(
            typed,
            right,
            slips,
            unit="N·m",
            tolerance=max(0.005 * right, 0.15),
            because=how,
            hint=_hint(case),
            places=places_of(right),
        ),
        f"{nm(right)}. {how}",
        (),
        case,
    )


def got_task(case: Extended) -> NumberTask:
    """Return the question what a bolt got when the extension was forgotten."""
    set_nm, share = case.set_nm, case.share
    right = set_nm * share
    how = f"{_arm_words(case)} {number(set_nm, 0)} × {_arm(case)} ÷ {case.wrench_mm:g} = {nm(right)}."
    slips = {
        "That is what the wrench was set to. The extension changes what arrives.": set_nm,
        "You turned the fraction round. A longer lever gives the bolt more than the wrench shows.": set_nm
        / share,
        "You took the extension's whole length. At an angle only a part of it counts: times the cosine.": (
            applied_nm(set_nm, case.wrench_mm, case.extension_mm) if case.angle_deg else -1.0
        ),
    }
    return NumberTask(
        GOT,
        f"Somebody set {nm(set_nm)} for {case.bolt.owner} and forgot the extension. The wrench clicked. "
        "What torque did the bolt get?",
        "Torque at the bolt",
        "N·m",
        lambda typed: number_reply(
            typed,
            right,
            slips,
            unit="N·m",
            tolerance=max(0.005 * right, 0.15),
            because=how,
            hint="Find both levers first: the wrench's own, and the whole one up to the bolt.",
            places=places_of(right),
        ),
        f"{nm(right)}. {how}",
        (),
        case,
    )


def _ignored(case: Extended) -> str:
    sense = "too much" if case.share > 1 else "too little"
    return f"That is the torque of the sheet. With this extension the bolt would get {sense}."


def _other_way(case: Extended) -> str:
    if case.share < 1:
        return "You made the lever longer. This extension is folded back, so it makes it shorter."
    return "You made the lever shorter. This extension reaches on from the wrench, so it makes it longer."


def _with_sine(case: Extended, target: float) -> float:
    if not case.angle_deg or case.angle_deg == 90:
        return -1.0
    return target / arm_share(case.wrench_mm, case.extension_mm, abs(90 - case.angle_deg))


def _arm(case: Extended) -> str:
    return f"{round(case.wrench_mm * case.share, 1):g}"


def _arm_words(case: Extended) -> str:
    arm = f"{mm_of(case.wrench_mm * case.share)}"
    if not case.angle_deg:
        return f"The whole lever is {case.wrench_mm:g} + {case.extension_mm:g} mm: {arm}."
    cosine = math.cos(math.radians(case.angle_deg))
    if abs(cosine) < 1e-9:
        return f"Square to the wrench, the extension adds nothing: the lever stays {arm}."
    sign = "+" if cosine > 0 else "−"
    part = f"{case.extension_mm:g} × {abs(cosine):.3g}"
    return f"The whole lever is {case.wrench_mm:g} {sign} {part} mm: {arm}."


def _hint(case: Extended) -> str:
    if case.angle_deg:
        return f"Use the cosine of {case.angle_deg:g}° for the part of the extension along the wrench."
    return "Setting = torque × wrench ÷ (wrench + extension)."
