"""Put the brake job in order: part by part, then the whole job."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.trade.job_order import PART_NAMES, WHOLE_JOB, precedence, sub_job
from brakecourse.views.board_rules import Board
from brakecourse.views.job_boards import job_board, whole_job_board
from brakecourse.views.sequence_board import SequenceBoard

PARTS = tuple(name for name in PART_NAMES if name != WHOLE_JOB)
STEPS_OF_THE_WHOLE = {"easier": 8, "usual": 12, "harder": 18}
"""How many of the job's steps a board of the whole job shows."""

# The slips that hurt most: each board of the whole job brings these pairs, as far as it has room.
_ALWAYS = (
    ("loosen_nuts", "lift_vehicle"),
    ("open_bleeder", "push_piston"),
    ("pump_pedal", "first_move"),
    ("wet_dust", "caliper_off"),
)


class OrderOnePart(SequenceBoard):
    """The steps of one part of the job.

    Args:
        part: which part comes first; the learner may choose another.
    """

    title = "Put a part of the job in order"
    task = "Choose each next step in the list, or click its card. Or sort all cards first, then check them."
    lesson = "01_job_order"
    topics = PARTS

    def draw_board(self, topic: str, difficulty: str, draw: Draw) -> Board:
        return job_board(topic)


class OrderTheLift(OrderOnePart):
    """The steps from the customer's words to the wheel in your hands."""

    title = "From the work order to the wheel off"
    topics = PARTS[:1]


class OrderTheJob(SequenceBoard):
    """Steps from all over the job, drawn afresh each time."""

    title = "The whole job in order"
    task = "These steps come from the whole job; others are left out. Put them in a safe order."
    lesson = "01_job_order"
    topics = (WHOLE_JOB,)
    difficulties = tuple(STEPS_OF_THE_WHOLE)

    def draw_board(self, topic: str, difficulty: str, draw: Draw) -> Board:
        return whole_job_board(kept_steps(STEPS_OF_THE_WHOLE[difficulty], draw))


def kept_steps(many: int, draw: Draw) -> tuple[str, ...]:
    """Draw which steps of the whole job lie on a board: the worst slips first, then others at random.

    Args:
        many: how many steps, 8 or more.
        draw: chance.
    """
    kept = {step for pair in _ALWAYS for step in pair}
    dangerous = {step for rule in precedence() if rule.safety_critical for step in (rule.before, rule.after)}
    others = [step.id for step in sub_job(WHOLE_JOB).operations if step.id not in kept]
    first = [step for step in draw.shuffled(others) if step in dangerous]
    rest = [step for step in draw.shuffled(others) if step not in dangerous]
    half = (many - len(kept) + 1) // 2
    chosen = [*first[:half], *rest][: max(0, many - len(kept))]
    return tuple(step for step in sub_job(WHOLE_JOB).ids if step in {*kept, *chosen})
