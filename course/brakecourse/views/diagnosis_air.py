"""Air in the lines: what it does to the pedal, and how much there is, told from the extra travel."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.leaks import atmosphere_mpa
from brakecourse.views.activity import Activity
from brakecourse.views.controls import NumberPair, dropdown, row
from brakecourse.views.diagnosis_pedal_cases import (
    RULE_LINE_MM,
    SoftPedal,
    pedal_facts,
    soft_pedal,
    travel_words,
    volume_mistakes,
    whose,
)
from brakecourse.views.drawings import pedal_svg
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

EXTRA, AIR, LIGHT = "extra travel", "how much air", "a light push"
_PUSHES_N = (25.0, 50.0, 100.0, 200.0)


class AirInLines(Activity):
    """Set the air and the push, and see the pedal go.

    Args:
        name: a short name, one of its kind on the page.
    """

    title = "Air under the pedal"
    task = "Set some air. Then push harder, little by little, and watch where the air takes the travel."
    lesson = "05_leaks_and_pedal_feel"

    def __init__(self, name: str = "air-in-lines", **more: Any) -> None:
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        names = {one.name: key for key, one in motor_pool().items()}
        self._keys = names
        self.vehicle = dropdown("Vehicle", tuple(names), motor_pool()["dog_wardens_estate"].name)
        self.vehicle.observe(self.refresh, "value")
        self.air = NumberPair("Air at rest, in mL", 2.0, 0.0, 6.0, 0.1)
        self.push = NumberPair("Push of the foot, in N", 50, 0, 300, 5)
        for pair in (self.air, self.push):
            pair.on_change(self.refresh)
        return (row(self.vehicle), self.air, self.push)

    @property
    def chosen(self) -> Vehicle:
        """The chosen vehicle."""
        return motor_pool()[self._keys[self.vehicle.value]]

    def at(self, force_n: float) -> tuple[float, float, float]:
        """Return pressure, sound travel and travel with the air at a push."""
        return travel_words(self.chosen, force_n, float(self.air.value))

    def picture(self) -> str:
        return pedal_svg(
            self.at(self.push.value)[2],
            room_mm=self.chosen.hydraulics.pedal_room_mm,
            uid=self.uid,
            title="Pedal with air in the lines",
            force_n=float(self.push.value),
        )

    def words(self) -> str:
        pressure, sound, soft = self.at(self.push.value)
        floor = " It stands on the floor." if soft >= self.chosen.hydraulics.pedal_room_mm else ""
        return (
            f"Line pressure {both(pressure, 'MPa')}. Without air the pedal goes {mm(sound, 0)}, with this "
            f"air {mm(soft, 0)}: {mm(soft - sound, 0)} more.{floor}"
        )

    def facts(self) -> Sequence[Sequence[str]]:
        rows = [("Push of the foot", "Travel without air", "The air adds")]
        for force in _PUSHES_N:
            _, sound, soft = self.at(force)
            rows.append((both(force, "N"), mm(sound, 0), mm(soft - sound, 0)))
        return rows

    def opening(self) -> str:
        return "Most of the air's travel comes at the first light push. A harder push hardly adds to it."


class AirNumbers(Quiz):
    """Extra travel, how much air it tells of, and what the air does at a light push.

    Args:
        name, seed, session: as for every quiz.
    """

    title = "How much air?"
    task = "Read the rule at the pedal, work out the asked number, and press Check."
    lesson = "05_leaks_and_pedal_feel"
    topics = (EXTRA, AIR, LIGHT)
    first_difficulty = "easier"

    def __init__(self, name: str = "air-numbers", **more: Any) -> None:
        super().__init__(name, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return air_task(topic, soft_pedal(draw, difficulty))

    def picture(self) -> str:
        return self.asked.case.picture(self.uid)


def air_task(topic: str, pedal: SoftPedal) -> NumberTask:
    """Return the question of a topic for a pedal."""
    facts = [
        *pedal_facts(pedal.case.vehicle),
        ("Travel of this brake without air, at this push", mm(pedal.usual_mm, 0)),
        ("Line pressure at this push", both(pedal.pressure_mpa, "MPa", 1)),
    ]
    if topic == EXTRA:
        asked = "How much further does the pedal go than without air?"
        answer = f"{mm(pedal.extra_mm, 0)}: {pedal.read_mm} − {pedal.usual_mm} mm."
        return _task(topic, pedal, asked, "Extra travel", "mm travel", answer, facts)
    air = ("Pressure of the air round us", both(atmosphere_mpa(), "MPa", 3))
    if topic == AIR:
        asked = "How much air is in the lines while the pedal is at rest?"
        answer = f"{both(pedal.air_ml, 'mL', 2)}. {how_much_air(pedal)}"
        return _task(topic, pedal, asked, "Air at rest", "mL", answer, [*facts, air])
    facts += [
        air,
        ("Air at rest", both(pedal.told_air_ml, "mL", 1)),
        ("Line pressure at the light push", both(pedal.light_mpa, "MPa", 2)),
    ]
    asked = "How much travel does this air take at the light push in the table?"
    answer = f"{mm(pedal.light_mm, 0)}. {how_light(pedal)}"
    return _task(topic, pedal, asked, "Travel by the air", "mm travel", answer, facts)


def _task(
    topic: str,
    pedal: SoftPedal,
    asked: str,
    label: str,
    unit: str,
    answer: str,
    facts: Sequence[tuple[str, ...]],
) -> NumberTask:
    rule = {EXTRA: extra_reply, AIR: air_reply, LIGHT: light_reply}[topic]
    question = f"{whose(pedal.case)} {asked}"
    return NumberTask(
        topic, question, label, unit, lambda typed: rule(typed, pedal), answer, tuple(facts), pedal
    )


def how_much_air(pedal: SoftPedal) -> str:
    """Tell how the air comes about."""
    system = pedal.case.vehicle.hydraulics
    share = pedal.pressure_mpa / (pedal.pressure_mpa + atmosphere_mpa())
    return (
        f"{pedal.extra_mm} mm of extra travel, divided by the ratio {system.pedal_ratio:g}, times the bore's "
        f"area, is what the air has lost; that is {number(share, 3)} of it."
    )


def how_light(pedal: SoftPedal) -> str:
    """Tell how the travel at the light push comes about."""
    share = pedal.light_mpa / (pedal.light_mpa + atmosphere_mpa())
    light = number(pedal.light_mpa, 2)
    return f"The air loses {light} ÷ ({light} + 0.101) = {number(share, 2)} of itself."


def extra_reply(typed: float, pedal: SoftPedal) -> Reply:
    """Judge the extra travel in mm."""
    return number_reply(
        typed,
        pedal.extra_mm,
        {
            "That is the whole travel. Subtract the travel without air.": pedal.read_mm,
            "That is the travel without air. How much further does this pedal go?": pedal.usual_mm,
        },
        unit="mm",
        tolerance=RULE_LINE_MM + 0.1,
        because=f"{pedal.read_mm} − {pedal.usual_mm} mm.",
        hint="Read the rule again; the large rule shows every line.",
        places=0,
    )


def air_reply(typed: float, pedal: SoftPedal) -> Reply:
    """Judge the air in mL."""
    ratio = pedal.case.vehicle.hydraulics.pedal_ratio
    right = pedal.air_ml
    kept = atmosphere_mpa() / (pedal.pressure_mpa + atmosphere_mpa())
    mistakes = volume_mistakes(right, ratio) | {
        "You took the whole travel. Only the extra travel is the air's.": pedal.air_from(pedal.read_mm),
        "That is what is left of the air under pressure. Asked is the air at rest.": right * kept,
    }
    return number_reply(
        typed,
        right,
        mistakes,
        unit="mL",
        tolerance=right * (RULE_LINE_MM + 0.1) / pedal.extra_mm,
        because=how_much_air(pedal),
        hint="Extra travel, divided by the pedal ratio, times the bore's area, divided by the share lost.",
        places=2,
    )


def light_reply(typed: float, pedal: SoftPedal) -> Reply:
    """Judge the travel at the light push in mm."""
    full = pedal.light_from(pedal.pressure_mpa)
    share_left = atmosphere_mpa() / (pedal.light_mpa + atmosphere_mpa())
    whole = pedal.light_mm / (1 - share_left)
    return number_reply(
        typed,
        pedal.light_mm,
        {
            "You took it as in proportion to the pressure. Air gives way most at the first push.": full
            * pedal.light_mpa
            / pedal.pressure_mpa,
            "You left the pressure of the air round us out. Boyle's law needs it below the line.": whole
            * (1 - atmosphere_mpa() / pedal.light_mpa),
            "That is what the air keeps. Asked is what it loses.": whole * share_left,
            "That is the travel if all of the air were gone. At a light push some is left.": whole,
        },
        unit="mm",
        tolerance=RULE_LINE_MM,
        because=how_light(pedal),
        hint="Share lost = pressure ÷ (pressure + 0.101 MPa). Air lost × pedal ratio ÷ the bore's area.",
        places=0,
    )
