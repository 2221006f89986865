"""Draw moments at the bench: clips, pins, grease and boots, and what to do."""

from __future__ import annotations

from collections.abc import Callable

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views import bracket_case as found
from brakecourse.views.bracket_case import BracketCase, draw_bracket
from brakecourse.views.bracket_words import ENDS, ml, wheel_words
from brakecourse.views.pad_view import newtons
from brakecourse.views.quiz import Task
from brakecourse.views.words import mm

CLIPS, BORES, KIND, AMOUNT, BOOTS = (
    "clips and rust",
    "pins and bores",
    "which grease",
    "how much grease",
    "boots",
)
TOPICS = (CLIPS, BORES, KIND, AMOUNT, BOOTS)

Words = dict[str, str]
"""For each choice its reason; the first one is right."""


def bench_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return a question what to do at the bench.

    Args:
        topic: one of :data:`TOPICS`.
        difficulty: how far the fault has gone; easier questions offer fewer choices.
        draw: chance.
    """
    fault, ask = _ASKED[topic]
    case = draw_bracket(fault, difficulty, draw.child("case"))
    question, reasons = ask(case, draw.child("words"))
    right, *wrong = reasons
    kept = [right, *draw.child("which").shuffled(wrong)[: 2 if difficulty == "easy" else 3]]
    choices = tuple(draw.child("order").shuffled(kept))
    return Task(topic, question, choices, right, {one: reasons[one] for one in choices}, (), case)


def _clips(case: BracketCase, draw: Draw) -> tuple[str, Words]:
    caliper = case.condition.wheel(case.wheel).caliper
    place = 0 if caliper.clip_rust_mm[0] > caliper.clip_rust_mm[1] else 1
    rust, grip = mm(caliper.clip_rust_mm[place]), newtons(caliper.pad_grip_n[place])
    question = (
        f"At {wheel_words(case)} a pad's ear is tight at the {ENDS[place]} end. New clips lie ready. What do "
        "you do?"
    )
    return question, {
        "Take the old clips off, clean the bracket to bare metal, then snap the new clips in": (
            f"{rust} of rust lifts the clip. With the rust gone the new clip lies flat, and the pad slides."
        ),
        "Snap the new clips in; their spring presses them flat": (
            f"New clips over rust are lifted like the old ones. Under this one is {rust}, and the ear needs "
            f"{grip} to move. Clean to bare metal first."
        ),
        "File the pad's ears until they slide": (
            "Then the pad is loose once the rust comes off, and it rattles and tapers. The pad is not at "
            f"fault: {rust} of rust is."
        ),
        "Put plenty of grease on the rusty clip and leave it": (
            f"Grease does not make {rust} of rust thinner. It holds dust, and it can creep onto the lining."
        ),
    }


def _bores(case: BracketCase, draw: Draw) -> tuple[str, Words]:
    leading, trailing = case.slides_n()
    question = (
        f"At {wheel_words(case)} the pins slide with {newtons(leading)} and {newtons(trailing)}. The maker's "
        "sheet shows the pin with the flat in the trailing bore. The picture shows how they came out. What "
        "do you do?"
    )
    return question, {
        "Put each pin into its own bore, the one with the flat into the trailing bore": (
            "Each pin is made for its bore. The picture shows the flat in the leading bore: they were "
            "swapped."
        ),
        "Put them back as they came out; somebody must have had a reason": (
            "They came out of the wrong bores: the flat was in the leading one. Trust the maker's sheet, not "
            "the last hand."
        ),
        "Grease them well and put them in either way; both have the same diameter": (
            "The same diameter is not the same pin. Swapped, one rattles and the other binds, whatever the "
            "grease."
        ),
        "Polish the tight pin with abrasive until it slides in that bore": (
            "A polished pin has lost its coat and rusts, and its play is gone wrong for good. The pin is "
            "sound: it is in the wrong bore."
        ),
    }


def _kind(case: BracketCase, draw: Draw) -> tuple[str, Words]:
    place = ENDS[draw.integer(0, 1)]
    question = (
        f"The pins of {wheel_words(case)} came out dry, as the picture shows. Now the {place} pin and its "
        "bore are clean. The boots are rubber. Which grease do you take?"
    )
    return question, {
        "The one that the maker names for slide pins; the tin says that it suits brake rubber": (
            "It keeps its film when hot, and the rubber keeps its size."
        ),
        "Wheel-bearing grease made from petroleum; it stands the heat": (
            "Petroleum swells the rubber of the boots and of any bush on the pin. Swollen rubber grips the "
            "pin, and soon the boot no longer seals."
        ),
        "Engine oil, a few drops; it creeps everywhere": (
            "Oil is petroleum, too: it swells the rubber. And it runs out when the brake is hot, perhaps "
            "onto a lining."
        ),
        "The anti-seize paste for exhaust bolts; it never dries": (
            "Its carrier is mostly petroleum, which swells rubber, and its grains hold a close-fitting pin "
            "fast. It is no grease for pins unless the maker names it."
        ),
    }


def _amount(case: BracketCase, draw: Draw) -> tuple[str, Words]:
    limit, free = ml(case.sums.limit_ml), ml(case.sums.free_ml)
    place = 0 if case.gaps_mm[0] else 1
    gap = mm(case.gaps_mm[place], 1)
    question = (
        f"At {wheel_words(case)} one pin stood {gap} short of its seat. Now the bores are washed out "
        f"and dry. The free volume of each is {free}. How much grease goes in?"
    )
    return question, {
        f"A thin film on pin and bore, in all not more than {limit}": (
            f"Half of {free} stays air. The air gives way when the pin slides in, and springs back."
        ),
        f"{free}, so that no room is left for water": (
            "Then no air is left, either. Grease does not give way: the pin works like a pump and is pushed "
            "back out, or swells the boot."
        ),
        "Fill the bore to the brim; the pin presses out what is too much": (
            f"The boot lets nothing out. That is how the pin came to stand {gap} short."
        ),
        "None; the bores are clean, and grease only holds dust": (
            "A dry pin drags from the first day and rusts within months. The film is what lets it slide."
        ),
    }


def _boots(case: BracketCase, draw: Draw) -> tuple[str, Words]:
    leading, trailing = case.slides_n()
    place = 0 if leading > trailing else 1
    tight = newtons(max(leading, trailing))
    question = (
        f"At {wheel_words(case)} the {ENDS[place]} pin slides with {tight}. The picture shows it as it "
        "came out. What does it need?"
    )
    return question, {
        "A new boot, a cleaned bore, a pin that is free of pits, and fresh grease": (
            "Its boot is torn. Without a new one, water washes the fresh grease out again. A pitted pin is "
            "renewed with it."
        ),
        "Fresh grease only; it will keep the water out": (
            "Its boot is torn. Water washes that grease out as it did the last, and the pin rusts again."
        ),
        "A turn of tape round the boot, then grease": (
            "Tape does not fold with the boot, and its glue is no match for heat and grease. A boot costs "
            "little: renew it."
        ),
        "Plenty of grease, packed in behind the torn boot": (
            f"At most {ml(case.sums.limit_ml)} may go in. More holds the pin off its seat, and the boot "
            "stays torn."
        ),
    }


_Ask = Callable[[BracketCase, Draw], tuple[str, Words]]
_ASKED: dict[str, tuple[str, _Ask]] = {
    CLIPS: (found.RUST, _clips),
    BORES: (found.SWAPPED, _bores),
    KIND: (found.DRY, _kind),
    AMOUNT: (found.PACKED, _amount),
    BOOTS: (found.PIN_BOOT, _boots),
}
