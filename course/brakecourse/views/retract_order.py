"""Put the steps of retracting and removing in order."""

from __future__ import annotations

from typing import Any

from brakecourse.bench.draw import Draw
from brakecourse.views.board_rules import Board
from brakecourse.views.job_boards import job_board
from brakecourse.views.retract_bench import LESSON
from brakecourse.views.sequence_board import SequenceBoard

PART = "retract the piston"


class OrderTheRetraction(SequenceBoard):
    """The steps from the first look at the brake to the pads in your hand.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first board.
    """

    title = "From the first look to the pads in your hand"
    task = "Choose each next step in the list, or click its card. Or sort all cards first, then check them."
    lesson = LESSON
    topics = (PART,)

    def __init__(self, name: str = "order-the-retraction", seed: int = 1, **more: Any) -> None:
        super().__init__(name, seed, **more)

    def draw_board(self, topic: str, difficulty: str, draw: Draw) -> Board:
        return job_board(topic, praise="The old fluid is in the bottle, and nothing hangs on the hose.")
