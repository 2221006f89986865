"""Work out clamp loads and what share of the proof load they are."""

from __future__ import annotations

import math
from typing import get_args

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.trade import fasteners
from brakecourse.trade._bolts import Finish, PropertyClass
from brakecourse.views.drawings.clamped_bolt import clamped_bolt_svg
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.replies import number_reply
from brakecourse.views.torque_sums import Bolt, all_bolts, proof_load_n
from brakecourse.views.torque_words import FINISH_WORDS, kn, nm, plain, thread
from brakecourse.views.words import number

LOAD, SHARE, OILED = "clamp load", "share of the proof load", "what oil does"
_SHARE_OFF = 0.015


class ClampSums(Quiz):
    """From torque to clamp load, and to a share of the proof load."""

    title = "How hard does this bolt clamp?"
    task = "Take the thread and the class from the picture. Work it out, type it, and press Check."
    lesson = "11_reassembly_and_torque"
    topics = (LOAD, SHARE, OILED)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return clamp_task(topic, difficulty, draw)

    def picture(self) -> str:
        bolt: Bolt = self.asked.case
        one = bolt.fastener
        return clamped_bolt_svg(
            one.diameter_mm,
            one.pitch_mm,
            one.property_class,
            nut=not bolt.where,
            uid=self.uid,
            title=f"{'Wheel stud and nut' if not bolt.where else 'Bolt'} of the {bolt.vehicle.name}",
        )


def clamp_task(topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
    """Return a question about a fastener of the motor pool.

    Args:
        topic: one of the quiz's.
        difficulty: the harder cases leave the nut factor or the proof load to be found in a table.
        draw: chance.
    """
    wanted = [one for one in all_bolts() if topic != OILED or one.fastener.finish in ("plain", "zinc")]
    if topic == OILED and difficulty == "easy":
        wanted = [one for one in wanted if one.fastener.finish == "plain"]
    bolt = draw.choice(wanted)
    makers = {LOAD: _load, SHARE: _share, OILED: _oiled}
    return makers[topic](bolt, difficulty)


def _load(bolt: Bolt, difficulty: Difficulty) -> NumberTask:
    one = bolt.fastener
    factor = fasteners.nut_factor(one.finish)
    right = one.preload_n / 1000
    how = f"{how_loaded(one.torque_nm, factor, one.diameter_mm)} = {kn(1000 * right)}."
    return NumberTask(
        LOAD,
        f"How hard do {bolt.owner} clamp at {nm(one.torque_nm)}?",
        "Clamp load",
        "kN",
        lambda typed: number_reply(
            typed,
            right,
            load_slips(right, factor, one.diameter_mm),
            unit="kN",
            tolerance=_SHARE_OFF * right,
            because=how,
            hint="Torque in N·m, divided by K times the thread in mm, gives kilonewtons.",
        ),
        how,
        _evidence(bolt, difficulty, proof=False),
        bolt,
    )


def load_slips(right: float, factor: float, diameter_mm: float) -> dict[str, float]:
    """Return the usual slips with a clamp load in kN, with the numbers that they give."""
    return {
        "You took the radius of the thread. The formula takes its whole diameter.": 2 * right,
        "You left the nut factor out. Friction takes most of the torque.": right * factor,
        "You multiplied by the nut factor. More friction means less pull: divide.": right * factor**2,
        "You left the thread's diameter out. Divide by it too.": right * diameter_mm,
        "That is newtons. The answer is asked in kilonewtons, a thousand newtons each.": 1000 * right,
        "Your decimal point slipped by three places.": right / 1000,
    }


def how_loaded(torque_nm: float, factor: float, diameter_mm: float) -> str:
    """Write the sum that gives a clamp load in kN."""
    return f"{number(torque_nm, 0)} ÷ ({factor:g} × {diameter_mm:g})"


def _share(bolt: Bolt, difficulty: Difficulty) -> NumberTask:
    one = bolt.fastener
    right = 100 * one.proof_share
    proof = proof_load_n(one.diameter_mm, one.pitch_mm, one.property_class)
    how = f"{number(one.preload_n / 1000, 1)} ÷ {number(proof / 1000, 1)} = {plain(right)} of the proof load."
    slips = {
        "You turned the fraction round. The clamp load stands on top, the proof load below.": 1e4 / right,
        "That is a plain number. Times 100 it is a percentage.": right / 100,
    }
    for other in get_args(PropertyClass):
        if other != one.property_class:
            load = proof_load_n(one.diameter_mm, one.pitch_mm, other)
            words = f"You took class {other}. The end of this one says {one.property_class}."
            slips[words] = 100 * one.preload_n / load
    area = math.pi / 4 * one.diameter_mm**2
    full = proof * area / fasteners.tensile_stress_area_mm2(one.diameter_mm, one.pitch_mm)
    slips["You took the full area of the thread. Its grooves leave less metal."] = 100 * one.preload_n / full
    return NumberTask(
        SHARE,
        f"At {nm(one.torque_nm)} {bolt.owner} clamp with {kn(one.preload_n)}. How much of the proof load "
        "is that?",
        "Share of the proof load",
        "%",
        lambda typed: number_reply(
            typed,
            right,
            slips,
            unit="%",
            tolerance=1.1,
            because=how,
            hint="Clamp load divided by proof load, times 100.",
        ),
        how,
        _evidence(bolt, difficulty, proof=True),
        bolt,
    )


def _oiled(bolt: Bolt, difficulty: Difficulty) -> NumberTask:
    one = bolt.fastener
    dry, oiled = fasteners.nut_factor(one.finish), fasteners.nut_factor("lubricated")
    right = fasteners.preload_n(one.torque_nm, one.diameter_mm, oiled) / 1000
    more = 100 * (dry / oiled - 1)
    how = (
        f"{how_loaded(one.torque_nm, oiled, one.diameter_mm)} = {kn(1000 * right)}. "
        f"That is {plain(more)} more than dry."
    )
    slips = {
        "That is the clamp load of dry threads. Oil lowers the nut factor.": one.preload_n / 1000,
        "You made it smaller. Less friction means that more of the torque becomes pull.": (
            one.preload_n / 1000 * oiled / dry
        ),
    } | load_slips(right, oiled, one.diameter_mm)
    return NumberTask(
        OILED,
        f"Somebody oiled the threads of {bolt.owner} and still set {nm(one.torque_nm)}. How hard do they "
        "clamp now?",
        "Clamp load",
        "kN",
        lambda typed: number_reply(
            typed,
            right,
            slips,
            unit="kN",
            tolerance=_SHARE_OFF * right,
            because=how,
            hint="The same torque and thread, but the nut factor of oiled threads.",
        ),
        how,
        _evidence(bolt, "hard", proof=False),
        bolt,
    )


def _evidence(bolt: Bolt, difficulty: Difficulty, *, proof: bool) -> tuple[tuple[str, ...], ...]:
    one = bolt.fastener
    head = ("What", "Value")
    rows: list[tuple[str, str]] = []
    if proof:
        classes = (one.property_class,) if difficulty == "easy" else get_args(PropertyClass)
        rows += [
            (
                f"Proof load, {thread(one)}, class {name}",
                kn(proof_load_n(one.diameter_mm, one.pitch_mm, name)),
            )
            for name in classes
        ]
        return (head, *rows)
    rows.append(("Threads, as the maker means them", FINISH_WORDS[one.finish]))
    finishes: tuple[Finish, ...] = ("plain", "zinc", "lubricated", "antiseize")
    shown = (one.finish,) if difficulty == "easy" else finishes
    rows += [(f"Nut factor K, {FINISH_WORDS[name]}", f"{fasteners.nut_factor(name):g}") for name in shown]
    return (head, *rows)
