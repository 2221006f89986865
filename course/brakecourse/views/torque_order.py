"""Put the brake together in order, and tighten the nuts of a wheel in order."""

from __future__ import annotations

from typing import Any

from brakecourse.bench.draw import Draw
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.fasteners import tightening_order, tightening_steps_nm
from brakecourse.views.board_rules import Board, Fault
from brakecourse.views.drawings.wheel_nuts import wheel_nuts_svg
from brakecourse.views.job_boards import job_board
from brakecourse.views.sequence_board import ONE_BY_ONE, SequenceBoard
from brakecourse.views.torque_sums import farthest_left, nuts_apart
from brakecourse.views.torque_words import nm

WHEELS: dict[str, int] = {"5 studs": 5, "4 studs": 4, "6 studs": 6}
"""The board's topics, and how many studs each has; the lesson's own vehicle comes first."""

TOGETHER, WHEEL = "put it together", "torque the wheel"


class WheelNutOrder(SequenceBoard):
    """The nuts of one wheel of the motor pool."""

    title = "In which order do you tighten these nuts?"
    task = "Choose the next nut in the list and press Do this next. Or click the nut with the mouse."
    lesson = "11_reassembly_and_torque"
    topics = tuple(WHEELS)
    ways = (ONE_BY_ONE,)

    def __init__(self, name: str | None = None, **more: Any) -> None:
        super().__init__(name, **more)

    def draw_board(self, topic: str, difficulty: str, draw: Draw) -> Board:
        vehicles = [one for one in motor_pool().values() if one.studs == WHEELS[topic]]
        # The first board is the lesson's own vehicle, whatever chance says.
        own = [one for one in vehicles if one.key == "dog_wardens_estate"]
        return nut_board(topic, own[0] if own and not self.number else draw.choice(vehicles))

    def picture(self) -> str:
        one: Vehicle = self.board.case
        return wheel_nuts_svg(
            one.studs,
            stud_circle_mm=one.stud_circle_mm,
            thread_mm=one.wheel_nut.diameter_mm,
            rim_radius_mm=one.rim_radius_mm,
            tyre_radius_mm=one.tyre_radius_mm,
            tight=[int(card) for card in self.order],
            chosen=int(self.card) if self.card else None,
            uid=self.uid,
            title=f"A wheel of the {one.name} from the front",
        )

    def words(self) -> str:
        one: Vehicle = self.board.case
        wheel = f"A wheel of the {one.name}: {one.studs} studs, {nm(one.wheel_nut.torque_nm)}."
        if not self.order:
            return f"{wheel} No nut is tightened yet."
        done = ", ".join(self.order)
        return f"{wheel} Tightened: {done}." + ("" if self.waiting else " That is all of them.")

    def opening(self) -> str:
        return "Begin with any nut. A nut that makes the wheel sit askew stays, and you are told why."


class RefitOrder(SequenceBoard):
    """The two parts of the job that this lesson is about."""

    title = "Put the brake together in order"
    task = "Choose the next step in the list and press Do this next. Or click its card with the mouse."
    lesson = "11_reassembly_and_torque"
    topics = (TOGETHER, WHEEL)

    def draw_board(self, topic: str, difficulty: str, draw: Draw) -> Board:
        return job_board(topic)


def nut_board(topic: str, vehicle: Vehicle) -> Board:
    """Return the nuts of a wheel as a board.

    Any nut may be first, and the star may run either way round: only the way across counts.

    Args:
        topic: the activity's topic.
        vehicle: whose wheel it is.
    """
    studs = vehicle.studs

    def judge(order: tuple[str, ...]) -> list[Fault]:
        nuts = tuple(int(card) for card in order)
        for place in range(1, len(nuts)):
            if nuts[place] not in farthest_left(nuts[:place], studs):
                return [Fault(order[place], why_not(nuts[:place], nuts[place], studs))]
        return []

    return Board(
        topic,
        {str(stud): f"nut {stud}" for stud in range(1, studs + 1)},
        judge,
        rounds_words(vehicle),
        right=tuple(str(stud) for stud in tightening_order(studs)),
        case=vehicle,
    )


def why_not(tight: tuple[int, ...], nut: int, studs: int) -> str:
    """Say why a nut may not be next, without saying which one may.

    >>> why_not((1,), 2, 5)[:47]
    'Nut 2 stands beside nut 1, your last one. Tight'
    """
    last = tight[-1]
    if nuts_apart(nut, last, studs) == 1:
        return (
            f"Nut {nut} stands beside nut {last}, your last one. Tightened one after the other, neighbours "
            "pull one side down first and the wheel sits askew. Look farther across."
        )
    return (
        f"Nut {nut} is nearer to nut {last}, your last one, than another nut that is left. The farther "
        "across "
        "you go, the more evenly the wheel comes to its seat."
    )


def rounds_words(vehicle: Vehicle) -> str:
    """Tell the torques of the rounds in this order."""
    *first, whole = tightening_steps_nm(vehicle.wheel_nut.torque_nm)
    steps = ", ".join(nm(round(one)) for one in first)
    return (
        f"Go round in this order at {steps} and {nm(whole)}, then once more at the whole torque: no nut may "
        "turn before the click."
    )
