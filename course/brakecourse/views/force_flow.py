"""Push the pedal and follow the force to the road; change a bore and see what it does."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.hydraulics import STANDARD_GRAVITY_MS2
from brakecourse.views.activity import Activity
from brakecourse.views.controls import NumberPair, button, dropdown, row
from brakecourse.views.drawings.force_flow import MOST_FOOT_N, force_flow_svg
from brakecourse.views.force_chain import Bores, ForceChain, bores_of, follow, with_bore
from brakecourse.views.force_tables import before_after, chain_table
from brakecourse.views.units import both
from brakecourse.views.words import percent

_BORES = {"master cylinder": "master", "front pistons": "front", "rear pistons": "rear"}
MOST_CHANGE_MM = 4.0
NEAR_MS2 = 0.1


class FootToRoad(Activity):
    """One picture from the pedal to the road, driven by the force of the foot.

    Args:
        name: a short name, one of its kind on the page.
        vehicle: the key of the vehicle to begin with.
        foot_n: the push to begin with, in N.
        seed: fixes the decelerations that are asked for.
    """

    title = "From the foot to the road"
    task = (
        "Move the pedal force and follow the arrows. Then set the force that gives the wanted deceleration, "
        "and press Check."
    )
    lesson = "04_pedal_to_pad"

    def __init__(
        self,
        name: str = "foot-to-road",
        vehicle: str = "dog_wardens_estate",
        foot_n: int = 250,
        seed: int = 1,
        **more: Any,
    ) -> None:
        self.begins, self.seed, self.number = (motor_pool()[vehicle].name, foot_n), seed, 0
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        name, foot = self.begins
        self.which = dropdown("Vehicle", [one.name for one in motor_pool().values()], name)
        self.foot = NumberPair("Foot on the pedal, in N", foot, 10, MOST_FOOT_N, 5)
        self.bore = dropdown("Bore to change", list(_BORES), next(iter(_BORES)))
        self.change = NumberPair("Change of that bore, in mm", 0.0, -MOST_CHANGE_MM, MOST_CHANGE_MM, 0.5)
        self.which.observe(self.new_task, "value")
        self.bore.observe(self.refresh, "value")
        for pair in (self.foot, self.change):
            pair.on_change(self.refresh)
        return row(self.which, self.bore), self.foot, self.change

    def answers(self) -> Sequence[widgets.Widget]:
        return (row(button("Check", self.check), button("New deceleration", self.new_task)),)

    @property
    def vehicle(self) -> Vehicle:
        """The chosen vehicle."""
        return next(one for one in motor_pool().values() if one.name == self.which.value)

    @property
    def bores(self) -> Bores:
        """The bores as they are set."""
        return with_bore(bores_of(self.vehicle), _BORES[self.bore.value], self.change.value)

    @property
    def chain(self) -> ForceChain:
        """What this push does."""
        return follow(self.vehicle, self.foot.value, self.bores)

    @property
    def wanted_ms2(self) -> float:
        """The deceleration that is asked for: from 2.5 to 7 m/s², in halves."""
        return Draw(self.seed).child(f"{self.which.value} {self.number}").integer(5, 14) / 2

    def picture(self) -> str:
        return force_flow_svg(self.vehicle, self.chain, self.bores, uid=self.uid)

    def words(self) -> str:
        chain = self.chain
        told = (
            f"The foot pushes with {both(chain.foot_n, 'N')}. The {self.which.value} slows with "
            f"{both(chain.slowing_ms2, 'm/s²', 2)}, "
            f"that is {percent(chain.slowing_ms2 / STANDARD_GRAVITY_MS2)} of gravity."
        )
        if chain.booster_n >= self.vehicle.hydraulics.assist_limit_n:
            told += " The booster is at its limit: more push now gains only the lever's part."
        if chain.too_much:
            told += (
                f" No dry road gives that much: the {chain.locks_first} wheels would lock first, and the "
                "anti-lock unit would let their pressure off. From the road on, these numbers no longer hold."
            )
        return told

    def facts(self) -> Sequence[Sequence[str]]:
        if not self.change.value:
            return chain_table(self.chain)
        return before_after(follow(self.vehicle, self.foot.value), self.chain)

    def opening(self) -> str:
        return f"Wanted: {both(self.wanted_ms2, 'm/s²')}, with the bores as the maker chose them."

    def check(self) -> None:
        """Reply to the force that is set."""
        if self.change.value:
            self.say("A bore is changed. Set its change back to 0 first: the maker matched the bores.")
            return
        foot, chain, wanted = self.foot.value, self.chain, self.wanted_ms2
        right = abs(chain.slowing_ms2 - wanted) <= NEAR_MS2 + 1e-9
        told = self.count((self.which.value, self.number, foot), right=right)
        if right:
            self.say(
                f"Right: {both(foot, 'N')} give {both(chain.line_mpa, 'MPa')} in the lines and slow it with "
                f"{both(chain.slowing_ms2, 'm/s²', 2)}.",
                told,
            )
            return
        more = "more" if chain.slowing_ms2 < wanted else "less"
        self.say(
            f"Not yet: {both(foot, 'N')} slow it with {both(chain.slowing_ms2, 'm/s²', 2)}, and "
            f"{both(wanted, 'm/s²')} are wanted. Push {more}.",
            told,
        )

    def new_task(self, *_: object) -> None:
        """Ask for another deceleration."""
        self.number += 1
        self.say(self.opening())
        self.refresh()
