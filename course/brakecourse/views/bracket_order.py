"""Put the service of the bracket in order: the whole bracket, then one slide pin."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.views.board_rules import Board, Fault
from brakecourse.views.job_boards import job_board
from brakecourse.views.sequence_board import SequenceBoard

BRACKET, PIN = "service the bracket", "one slide pin"

PIN_STEPS: dict[str, str] = {
    "feel": "Slide the pin in its bore by hand and note which way it is tight.",
    "mark": "Mark which bore the pin comes from.",
    "draw": "Draw the pin out, boot and all.",
    "wash": "Wash the old grease off pin and bore with a cleaner that the maker allows.",
    "look": "Look at pin, bore and boot for pits, rust and tears; renew what is not sound.",
    "dry": "Let pin and bore dry.",
    "film": "Lay a thin film of the maker's grease on the pin, not more than the bore may hold.",
    "push": "Push the pin into its own bore, and seat the boot's lip in its groove.",
    "try": "Slide the pin by hand: it moves freely, springs back a little, and reaches its seat.",
}
"""The steps for one slide pin. Common practice, no source."""

# What must come before what, and why. Common practice, no source.
_RULES: tuple[tuple[str, str, str], ...] = (
    ("feel", "draw", "How tight it was tells what was at fault, and after it is out nobody can feel it."),
    ("mark", "draw", "Pins that lie side by side look alike. Swapped, one binds and one rattles."),
    ("draw", "wash", "The bore can be reached only when the pin is out."),
    ("wash", "look", "Pits and tears hide under old grease."),
    ("wash", "dry", "Cleaner that stays in the bore thins the grease."),
    ("dry", "film", "Grease does not hold on a wet pin."),
    ("look", "film", "Fresh grease hides pits, and a torn boot lets water into it."),
    ("film", "push", "Once the pin is in, grease reaches only its end."),
    ("push", "try", "Only a pin that is in its bore shows whether it slides."),
)
_PIN_RIGHT = tuple(PIN_STEPS)


class ServiceOrder(SequenceBoard):
    """The part of the job that this lesson is about, and the closer steps of one pin."""

    title = "Service the bracket in order"
    task = "Choose each next step in the list, or click its card. Or sort all cards first, then check them."
    lesson = "09_bracket_and_pins"
    topics = (BRACKET, PIN)

    def draw_board(self, topic: str, difficulty: str, draw: Draw) -> Board:
        if topic == BRACKET:
            return job_board(topic, praise="New clips lie on bare metal, and each pin is in its own bore.")
        return pin_board()


def pin_board() -> Board:
    """Return the steps for one slide pin as a board.

    >>> pin_board().judge(("draw", "mark"))[0].step
    'draw'
    """
    return Board(PIN, PIN_STEPS, _judge, "The pin slides, and air is left in its bore.", right=_PIN_RIGHT)


def _judge(order: tuple[str, ...]) -> list[Fault]:
    place = {step: nth for nth, step in enumerate(order)}
    return [
        Fault(after, f"“{_short(after)}” comes too early. First: “{_short(before)}”. {reason}", first=before)
        for before, after, reason in _RULES
        if before in place and after in place and place[after] < place[before]
    ]


def _short(step: str) -> str:
    return PIN_STEPS[step].rstrip(".")
