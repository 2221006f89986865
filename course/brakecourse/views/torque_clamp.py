"""What a torque buys: the clamp load, how far it spreads, and what oil or a wrong tool does to it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.vehicles import motor_pool
from brakecourse.trade import fasteners
from brakecourse.trade._bolts import Finish
from brakecourse.views.activity import Activity
from brakecourse.views.controls import NumberPair, choice, dropdown, row
from brakecourse.views.drawings.clamp_spread import SpreadBar, clamp_spread_svg
from brakecourse.views.torque_sums import Bolt, bolts_of, clamp_range_n, proof_load_n
from brakecourse.views.torque_words import FINISH_WORDS, kn, nm, plain, thread

AS_ASKED = "as the maker means them"
THREADS: dict[str, Finish | None] = {AS_ASKED: None, "oiled": "lubricated", "anti-seize paste": "antiseize"}
"""How the threads may be; None: as the maker means them."""

TORQUE_WRENCH, IMPACT = "torque wrench", "impact wrench"
LARGEST_PERCENT = 130
TOO_MUCH, LOOSER, WIDER = "beyond the proof load", "looser than the maker means", "a wider spread"


class ClampLoad(Activity):
    """Change torque, threads and tool, and see where the clamp load may lie.

    Args:
        name: a short name, one of its kind on the page.
        vehicle: whose bolts they are, by its key.
    """

    title = "What a torque buys"
    task = (
        "The upper bar is the maker's way, the lower bar is yours. Find three ways to go wrong: "
        f"{TOO_MUCH}, {LOOSER}, {WIDER}."
    )
    lesson = "11_reassembly_and_torque"

    def __init__(self, name: str = "clamp-load", vehicle: str = "dog_wardens_estate", **more: Any) -> None:
        self.bolts = {
            f"{bolt.name}, {thread(bolt.fastener)}": bolt for bolt in bolts_of(motor_pool()[vehicle])
        }
        self.found: set[str] = set()
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        names = tuple(self.bolts)
        plain_ones = [name for name, bolt in self.bolts.items() if bolt.fastener.finish == "plain"]
        self.which = dropdown("Which fastener?", names, next(iter(plain_ones), names[0]))
        self.percent = NumberPair("Torque, in % of the maker's", 100, 50, LARGEST_PERCENT, 5)
        self.threads = choice("The threads are", tuple(THREADS), AS_ASKED)
        self.tool = choice("The tool is", (TORQUE_WRENCH, IMPACT), TORQUE_WRENCH)
        for control in (self.which, self.threads, self.tool):
            control.observe(self.changed, "value")
        self.percent.on_change(self.changed)
        return self.which, self.percent, row(self.threads, self.tool)

    @property
    def bolt(self) -> Bolt:
        """The fastener that is chosen."""
        return self.bolts[self.which.value]

    @property
    def torque_nm(self) -> float:
        """The torque that is set."""
        return self.bolt.fastener.torque_nm * self.percent.value / 100

    @property
    def finish(self) -> Finish:
        """How the threads are."""
        return THREADS[self.threads.value] or self.bolt.fastener.finish

    @property
    def asked_n(self) -> tuple[float, float, float]:
        """Least, middle and largest clamp load in the maker's way."""
        one = self.bolt.fastener
        return clamp_range_n(one, one.torque_nm, one.finish, fasteners.wrench_tolerance(one.torque_nm))

    @property
    def yours_n(self) -> tuple[float, float, float]:
        """Least, middle and largest clamp load in the learner's way."""
        one = self.bolt.fastener
        measured = self.tool.value == TORQUE_WRENCH
        miss = fasteners.wrench_tolerance(one.torque_nm) if measured else fasteners.IMPACT_TOLERANCE
        return clamp_range_n(one, self.torque_nm, self.finish, miss)

    @property
    def proof_n(self) -> float:
        """The fastener's proof load."""
        one = self.bolt.fastener
        return proof_load_n(one.diameter_mm, one.pitch_mm, one.property_class)

    def picture(self) -> str:
        bars = [SpreadBar("the maker's way", *self.asked_n), SpreadBar("your way", *self.yours_n)]
        return clamp_spread_svg(bars, proof_n=self.proof_n, uid=self.uid)

    def words(self) -> str:
        low, _, high = self.yours_n
        return f"At {nm(self.torque_nm)} your way gives from {kn(low)} to {kn(high)}."

    def facts(self) -> Sequence[Sequence[str]]:
        one = self.bolt.fastener
        rows: list[Sequence[str]] = [("What", "The maker's way", "Your way")]
        rows.append(("Threads", FINISH_WORDS[one.finish], FINISH_WORDS[self.finish]))
        rows.append(("Tool", TORQUE_WRENCH, self.tool.value))
        rows.append(("Torque", nm(one.torque_nm), nm(self.torque_nm)))
        factors = [f"{fasteners.nut_factor(finish):g}" for finish in (one.finish, self.finish)]
        rows.append(("Nut factor K", *factors))
        rows.append(("Clamp load, middle", kn(self.asked_n[1]), kn(self.yours_n[1])))
        shares = [
            [plain(100 * force / self.proof_n) for force in way] for way in (self.asked_n, self.yours_n)
        ]
        rows.append(("Of the proof load, middle", shares[0][1], shares[1][1]))
        rows.append(("Of the proof load, at most", shares[0][2], shares[1][2]))
        return rows

    def opening(self) -> str:
        return "Both bars are alike now. Change one thing at a time."

    @property
    def wrongs(self) -> list[str]:
        """What is wrong with the learner's way, of the three things to find."""
        (low, _, high), (least, _, most) = self.yours_n, self.asked_n
        wide = (high / low) > 1.05 * (most / least)
        found = {TOO_MUCH: high > max(self.proof_n, most * 1.001), LOOSER: low < 0.98 * least, WIDER: wide}
        return [name for name, is_so in found.items() if is_so]

    def changed(self, *_: object) -> None:
        """Draw again, and count what was not found before."""
        self.refresh()
        fresh = [name for name in self.wrongs if name not in self.found]
        self.found.update(fresh)
        trouble = [self.count(name, right=True) for name in fresh]
        now = ", and ".join(self.wrongs)
        missing = [name for name in (TOO_MUCH, LOOSER, WIDER) if name not in self.found]
        more = f"Still to find: {', '.join(missing)}." if missing else "You found all three."
        told = f"Now it is {now}." if now else "Nothing is wrong now."
        self.say(told, more, *trouble)
