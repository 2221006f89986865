"""Draw number questions about a pin's bore and about a pin that drags, with the usual slips named."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.slide_pins import pad_force_split_n, seated_gap_mm, wear_ratio
from brakecourse.views import bracket_case as found
from brakecourse.views.bracket_case import BracketCase, draw_bracket
from brakecourse.views.bracket_replies import force_reply, free_reply, gap_reply, limit_reply, ratio_reply
from brakecourse.views.bracket_sums import bore_rows, force_sum, free_sum, gap_sum, limit_sum, ratio_sum
from brakecourse.views.bracket_words import ml, wheel_words
from brakecourse.views.pad_view import newtons
from brakecourse.views.quiz import NumberTask
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

FREE, LIMIT, GAP = "the free volume", "the most grease", "the pin's gap"
FORCE, RATIO = "the outer pad's force", "the wear ratio"
BORE_TOPICS, SPLIT_TOPICS = (FREE, LIMIT, GAP), (FORCE, RATIO)


def bore_task(topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
    """Return a question about the bore of a slide pin.

    Args:
        topic: one of :data:`BORE_TOPICS`.
        difficulty: easier questions give the areas; harder ones give less.
        draw: chance.
    """
    case = draw_bracket(found.PACKED, difficulty, draw)
    return {FREE: _free, LIMIT: _limit, GAP: _gap}[topic](case, difficulty)


def split_task(topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
    """Return a question about a caliper whose pins drag.

    Args:
        topic: one of :data:`SPLIT_TOPICS`.
        difficulty: easier questions give the drag of both pins together; harder ones the pressure.
        draw: chance.
    """
    case = draw_bracket(found.DRY if difficulty != "hard" else found.SEIZED, difficulty, draw)
    return {FORCE: _force, RATIO: _ratio}[topic](case, difficulty)


def _free(case: BracketCase, difficulty: Difficulty) -> NumberTask:
    pin = case.pin
    return NumberTask(
        FREE,
        f"How much room for grease and air is in one bore at {wheel_words(case)}, the pin seated?",
        "Free volume",
        "mL",
        lambda typed: free_reply(typed, pin),
        f"{ml(case.sums.free_ml)}. {free_sum(pin)}",
        bore_rows(pin, areas=difficulty == "easy"),
        (case, 0.0),
    )


def _limit(case: BracketCase, difficulty: Difficulty) -> NumberTask:
    pin, free = case.pin, case.sums.free_ml
    rows = bore_rows(pin, areas=False)
    if difficulty == "easy":
        rows = (rows[0], ("Free volume", ml(free)))
    return NumberTask(
        LIMIT,
        f"What is the most grease for one bore at {wheel_words(case)}?",
        "Most grease",
        "mL",
        lambda typed: limit_reply(typed, pin),
        f"{ml(case.sums.limit_ml)}. {limit_sum(pin)}",
        rows,
        (case, 0.0),
    )


def _gap(case: BracketCase, difficulty: Difficulty) -> NumberTask:
    pin = case.pin
    grease = round(max(case.grease_ml), 2)
    right = seated_gap_mm(grease, *case.sums.measures)
    rows = bore_rows(pin, areas=difficulty == "easy")
    if difficulty != "hard":
        rows = (*rows, ("Free volume", ml(case.sums.free_ml)))
    return NumberTask(
        GAP,
        f"Somebody packed {ml(grease)} of grease into a bore at {wheel_words(case)}. How far short of its "
        "seat does the pin stop?",
        "Gap",
        "mm wear",
        lambda typed: gap_reply(typed, grease, pin),
        f"{mm(right, 1)}. {gap_sum(grease, pin)}",
        rows,
        (case, None),
    )


def _given(case: BracketCase, difficulty: Difficulty) -> tuple[tuple[str, ...], ...]:
    leading, trailing = case.slides_n()
    clamp = round(case.clamp_n)
    rows: list[tuple[str, ...]] = [("What", "Value")]
    if difficulty == "hard":
        caliper = case.brake.caliper
        many = f", {caliper.pushing_pistons} of them" if caliper.pushing_pistons > 1 else ""
        rows += [
            ("Pressure in the caliper", both(found.EVERYDAY_MPA, "MPa", 1)),
            (f"Diameter of the piston{many}", mm(caliper.piston_bore_mm, 1)),
        ]
    else:
        rows.append(("Force of the piston", both(clamp, "N")))
    if difficulty == "easy":
        rows.append(("Drag of both pins together", newtons(leading + trailing)))
    else:
        rows += [
            ("Drag of the leading pin", newtons(leading)),
            ("Drag of the trailing pin", newtons(trailing)),
        ]
    return tuple(rows)


def _force(case: BracketCase, difficulty: Difficulty) -> NumberTask:
    clamp, drags = round(case.clamp_n), case.slides_n()
    right, pistons = pad_force_split_n(clamp, sum(drags)).outer_n, case.brake.caliper.pushing_pistons
    return NumberTask(
        FORCE,
        f"In an everyday stop at {wheel_words(case)}: what presses the outer pad?",
        "Force on the outer pad",
        "N",
        lambda typed: force_reply(typed, clamp, drags, pistons if difficulty == "hard" else 1),
        f"{both(right, 'N')}. {force_sum(clamp, sum(drags))}",
        _given(case, difficulty),
        (case, sum(drags)),
    )


def _ratio(case: BracketCase, difficulty: Difficulty) -> NumberTask:
    clamp, drags = round(case.clamp_n), case.slides_n()
    right = wear_ratio(clamp, sum(drags))
    return NumberTask(
        RATIO,
        f"In everyday stops at {wheel_words(case)}: how many times as fast as the outer pad does the inner "
        "pad wear?",
        "Wear ratio, inner to outer",
        "",
        lambda typed: ratio_reply(typed, clamp, drags),
        f"{number(right)}. {ratio_sum(clamp, sum(drags))}",
        _given(case, difficulty),
        (case, sum(drags)),
    )
