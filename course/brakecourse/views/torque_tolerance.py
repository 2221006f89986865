"""Is a torque wrench within its tolerance? It is tested on the shop's torque tester."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.shop_gauges import TorqueWrench
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.conformity import Decision, Verdict
from brakecourse.trade.fasteners import in_tolerance, wrench_tolerance
from brakecourse.views.quiz import Task
from brakecourse.views.torque_sums import TESTER_U_SHARE, turn_nm, wrenches
from brakecourse.views.torque_words import nm, nm_range, nm_to_a_tenth
from brakecourse.views.words import number, percent

CHOICES: dict[Verdict, str] = {
    "within": "in tolerance: go on using it",
    "outside": "out of tolerance: take it out of use",
    "too close to call": "too close to call: have it tested on a better tester",
}
_OFF: dict[Difficulty, dict[Verdict, tuple[float, float]]] = {
    "easy": {"within": (0.0, 0.02), "outside": (0.07, 0.12), "too close to call": (0.038, 0.042)},
    "normal": {"within": (0.01, 0.03), "outside": (0.055, 0.08), "too close to call": (0.036, 0.044)},
    "hard": {"within": (0.025, 0.033), "outside": (0.047, 0.056), "too close to call": (0.035, 0.045)},
}
_SHARES: dict[Verdict, int] = {"within": 2, "outside": 2, "too close to call": 1}


@dataclass(frozen=True)
class OnTester:
    """A wrench on the tester.

    Attributes:
        wrench: which one.
        set_nm: its setting.
        shown_nm: what the tester shows at the click.
    """

    wrench: TorqueWrench
    set_nm: float
    shown_nm: float

    @property
    def u_nm(self) -> float:
        """Standard uncertainty of what the tester shows."""
        return TESTER_U_SHARE * self.set_nm


def draw_on_tester(difficulty: Difficulty, draw: Draw) -> OnTester:
    """Draw a wrench, a setting and what the tester shows: each verdict with its share."""
    wrench = draw.child("wrench").choice(list(wrenches()))
    set_nm = wrench.scale.start + draw.child("setting").integer(2, 15) * turn_nm(wrench)
    wanted = draw.child("verdict").choice([one for one, share in _SHARES.items() for _ in range(share)])
    for again in range(200):
        chance = draw.child(f"off {again}")
        off = chance.between(*_OFF[difficulty][wanted]) * chance.choice((-1, 1))
        case = OnTester(wrench, set_nm, round(set_nm * (1 + off), 1))
        if decide(case).verdict == wanted:
            return case
    raise ValueError(f"No test of a wrench came out {wanted}.")


def decide(case: OnTester) -> Decision:
    """Return the decision about a tested wrench."""
    tolerance = wrench_tolerance(case.wrench.largest_nm)
    return in_tolerance(case.shown_nm, case.set_nm, tolerance, case.u_nm)


def tolerance_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return the question what to do with a tested wrench."""
    case = draw_on_tester(difficulty, draw)
    share = wrench_tolerance(case.wrench.largest_nm)
    low, high = case.set_nm * (1 - share), case.set_nm * (1 + share)
    found = decide(case)
    limits = f"The tolerance runs from {nm_range(low, high)}"
    off = number(abs(found.margin), 1)
    side = "inside" if found.margin >= 0 else "outside"
    where = f"{number(case.shown_nm, 1)} N·m lies " + (
        f"{nm_to_a_tenth(abs(found.margin))} {side} its nearer end" if float(off) else "right at its end"
    )
    band = f"the tester's guard band is {nm_to_a_tenth(found.guard_band)}"
    facts = f"{limits}; {where}, and {band}."
    reasons = {words: f"{_because(verdict, found.verdict)} {facts}" for verdict, words in CHOICES.items()}
    evidence = (
        ("What", "Value"),
        ("Wrench set to", nm(case.set_nm)),
        ("Tester shows at the click", nm_to_a_tenth(case.shown_nm)),
        ("Tolerance of the wrench", f"plus or minus {percent(share)}"),
        *((("Tolerance, worked out", nm_range(low, high)),) if difficulty == "easy" else ()),
        ("Guard band of the tester", nm_to_a_tenth(found.guard_band)),
    )
    question = "A torque wrench was tested on the shop's torque tester. What do you do with it?"
    return Task(topic, question, tuple(CHOICES.values()), CHOICES[found.verdict], reasons, evidence, case)


def _because(verdict: Verdict, right: Verdict) -> str:
    if verdict == right:
        return {
            "within": "It keeps its tolerance, and the tester is good enough to say so.",
            "outside": "It breaks its tolerance. A wrench like this gives every wheel a wrong torque.",
            "too close to call": "The tester cannot tell on which side of the tolerance it is.",
        }[verdict]
    return {
        "within": "That is not proven." if right == "too close to call" else "It misses by too much.",
        "outside": "That is not proven." if right == "too close to call" else "It is better than that.",
        "too close to call": "The tester can tell.",
    }[verdict]
