"""Try how a measured value, its limit and the gauge's uncertainty make a decision."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, get_args

import ipywidgets as widgets

from brakecourse.trade.conformity import Decision, Side, Verdict, decide
from brakecourse.views.activity import Activity
from brakecourse.views.controls import NumberPair, choice
from brakecourse.views.drawings import limit_svg
from brakecourse.views.limit_words import decision_words

_SIDES: dict[str, Side] = {
    "a minimum: the value must not be below it": "minimum",
    "a maximum: the value must not be above it": "maximum",
}


_REACH_MM = 0.5


class LimitCalculator(Activity):
    """Move a measured value across its limit and see the verdict change.

    Args:
        name: a short name, one of its kind on the page.
        measured_mm: the measured value to begin with.
        limit_mm: the limit to begin with. The sliders reach half a millimetre to either side of it.
        u_mm: the standard uncertainty to begin with, 0 to 0.05.
    """

    title = "The limit calculator"
    task = (
        "Move the measured value across the limit. "
        "Find all three verdicts: within, too close to call, outside."
    )

    def __init__(
        self,
        name: str = "limit-calculator",
        measured_mm: float = 22.1,
        limit_mm: float = 22.0,
        u_mm: float = 0.008,
        **more: Any,
    ) -> None:
        self.start = (measured_mm, limit_mm, u_mm)
        self.found: set[Verdict] = set()
        super().__init__(name, **more)
        self.found.add(self.decision.verdict)  # seen, but not yet found by the learner: it does not count

    def controls(self) -> Sequence[widgets.Widget]:
        measured, limit, u = self.start
        self.side = choice("The limit is", list(_SIDES), next(iter(_SIDES)))
        low, high = max(0.0, limit - _REACH_MM), limit + _REACH_MM
        self.measured = NumberPair("Measured value, in mm", measured, low, high, 0.01)
        self.limit = NumberPair("Limit, in mm", limit, low, high, 0.01)
        self.u = NumberPair("Standard uncertainty, in mm", u, 0.0, 0.05, 0.001)
        self.side.observe(self.changed, "value")
        for pair in (self.measured, self.limit, self.u):
            pair.on_change(self.changed)
        return self.side, self.measured, self.limit, self.u

    @property
    def decision(self) -> Decision:
        """What the values set now come to."""
        side = _SIDES[self.side.value]
        return decide(self.measured.value, self.limit.value, side, self.u.value)

    def picture(self) -> str:
        return limit_svg(
            self.measured.value,
            self.limit.value,
            _SIDES[self.side.value],
            self.decision.guard_band,
            uid=self.uid,
        )

    def words(self) -> str:
        return decision_words(self.decision)

    def opening(self) -> str:
        return f"Now it is {self.decision.verdict}. Find the other two verdicts."

    def changed(self, *_: object) -> None:
        """Draw again, and count a verdict that was not found before."""
        verdict = self.decision.verdict
        self.refresh()
        self.found.add(verdict)
        trouble = self.count(verdict, right=True)
        missing = [other for other in get_args(Verdict) if other not in self.found]
        more = f"Still to find: {', '.join(missing)}." if missing else "You found all three verdicts."
        self.say(f"Now it is {verdict}.", more, trouble)
