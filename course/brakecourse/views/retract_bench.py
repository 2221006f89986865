"""The retraction bench: push a piston back, and watch where its fluid goes."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.views.activity import Activity
from brakecourse.views.controls import NumberPair, button, choice, row
from brakecourse.views.drawings.retraction import retraction_svg
from brakecourse.views.retract_cases import draw_push_back, wheel_words, worked_case
from brakecourse.views.retract_replies import (
    AFTER_PRESS,
    OPEN,
    SHUT,
    WITH_PRESS,
    Way,
    way_reply,
    where_it_went,
)
from brakecourse.views.units import both
from brakecourse.views.words import mm

LESSON = "06_caliper_off"
_HOME_MM = 0.05


class RetractionBench(Activity):
    """A caliper cut through, with everything that its fluid can flow to.

    Args:
        name: a short name, one of its kind on the page.
        session: fixes the wheels after the first, for tests; by default every session has others.
    """

    title = "The retraction bench"
    task = (
        "Set the bleeder, then push the piston back with the slider or by typing. Watch where the fluid "
        "goes. Choose when the bleeder is shut again, and press Check this way of working."
    )
    lesson = LESSON

    def __init__(self, name: str = "retraction-bench", session: int | None = None, **more: Any) -> None:
        self.case, self.number = worked_case(), 0
        self._session = Draw(secrets.randbits(64) if session is None else session)
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.bleeder = choice("Bleeder while you push", (SHUT, OPEN), SHUT)
        self.pushed = NumberPair("Pistons pushed back, in mm", 0.0, 0.0, self.case.travel_mm, 0.1)
        self.shut_when = choice("When is it shut again?", (WITH_PRESS, AFTER_PRESS), WITH_PRESS)
        self.bleeder.observe(self.changed, "value")
        self.shut_when.observe(self.changed, "value")
        self.pushed.on_change(self.changed)
        return (row(self.bleeder, self.shut_when), self.pushed)

    def answers(self) -> Sequence[widgets.Widget]:
        return (
            row(button("Check this way of working", self.check), button("Another wheel", self.new_wheel)),
        )

    @property
    def way(self) -> Way:
        """What the controls say."""
        home = self.pushed.value >= self.case.travel_mm - _HOME_MM
        return Way(
            min(self.pushed.value, self.case.travel_mm),
            self.bleeder.value == OPEN,
            home and self.shut_when.value == AFTER_PRESS,
        )

    def picture(self) -> str:
        way = self.way
        late = way.is_open and way.late
        drawn = self.case.drawn(way.pushed_mm, "open" if way.is_open else "shut", press=not late, air=late)
        return retraction_svg(drawn, uid=self.uid, title=self.title)

    def words(self) -> str:
        return f"This is {wheel_words(self.case)}. {where_it_went(self.case, self.way)}"

    def facts(self) -> Sequence[Sequence[str]]:
        case, way = self.case, self.way
        out = case.fluid_ml(way.pushed_mm)
        level = case.level_mm + (0 if way.is_open else case.rise_mm(out))
        air = f"up to {both(case.air_ml, 'mL', 2)}" if way.is_open and way.late else "none"
        return (
            ("What", "Value"),
            ("Pistons to go back until new pads fit", mm(case.travel_mm, 1)),
            ("Gone back", mm(way.pushed_mm, 1)),
            ("Fluid that has left the caliper", both(out, "mL")),
            ("Of this into the bottle", both(out if way.is_open else 0.0, "mL")),
            ("Of this back through the ABS unit", both(0.0 if way.is_open else out, "mL")),
            (
                "Level in the reservoir",
                "it runs over" if level > case.height_mm else f"{mm(level, 1)} above the floor",
            ),
            ("Air that can come in", air),
        )

    def opening(self) -> str:
        return "Begin with the bleeder shut and see what happens. Then find the right way."

    def changed(self, *_: object) -> None:
        """Draw again after a control has moved."""
        self.refresh()

    def check(self) -> None:
        """Reply to the way of working that the controls show."""
        way = self.way
        if way.pushed_mm < _HOME_MM:
            self.say("Nothing has been pushed yet: move the pistons back first, then press Check.")
            return
        reply = way_reply(self.case, way)
        told = self.count((self.number, way), right=reply.right)
        self.say(reply.words, told)

    def new_wheel(self) -> None:
        """Go to another wheel of the motor pool."""
        self.number += 1
        self.case = draw_push_back(self._session.child(f"wheel {self.number}"))
        self.bleeder.value, self.shut_when.value = SHUT, WITH_PRESS
        self.pushed.value = 0.0
        for one in (self.pushed.slider, self.pushed.box):
            one.max = self.case.travel_mm
        self.say(self.opening())
        self.refresh()
