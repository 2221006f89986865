"""What the course replies to numbers about pins, bores and forces: pure functions, words out."""

from __future__ import annotations

from brakecourse.bench.parts import SlidePin
from brakecourse.bench.roots import Pair
from brakecourse.trade.slide_pins import (
    free_volume_ml,
    grease_limit_ml,
    pad_force_split_n,
    seated_gap_mm,
    wear_ratio,
)
from brakecourse.views.bracket_sums import (
    area_mm2,
    force_sum,
    free_sum,
    gap_sum,
    limit_sum,
    measures,
    ratio_sum,
)
from brakecourse.views.replies import Reply, number_reply

ML_SHARE = 0.02  # a hand's rounding of two areas
RATIO_TOLERANCE = 0.02

# Words that more than one question says.
_RADIUS = "That is four times as much. You took the diameter for the radius. Area = π ÷ 4 × diameter²."
_MM3 = "That is in cubic millimetres. A thousand of them are 1 mL."


def free_reply(answer_ml: float, pin: SlidePin) -> Reply:
    """Judge a free volume.

    Args:
        answer_ml: what was typed.
        pin: the pin and its bore.

    >>> free_reply(4.67, SlidePin(10.3, 56, 10.0, 47)).words[:48]
    'Not yet. That is the whole bore. The pin takes u'
    """
    bore, depth, shank, seated = measures(pin)
    right = free_volume_ml(*measures(pin))
    slips = {
        "That is the whole bore. The pin takes up room in it. Subtract the pin.": area_mm2(bore)
        * depth
        / 1000,
        "That is the pin alone. Subtract it from the bore.": area_mm2(shank) * seated / 1000,
        _RADIUS: 4 * right,
        "That is the room below the pin only. There is a thin ring of room round it, too.": area_mm2(bore)
        * (depth - seated)
        / 1000,
        "You took the bore's depth for the pin, too. The pin is in the bore with its seated length only.": (
            (area_mm2(bore) - area_mm2(shank)) * depth / 1000
        ),
        "That is the thin ring round the pin only. There is room below its tip, too.": (
            (area_mm2(bore) - area_mm2(shank)) * seated / 1000
        ),
        _MM3: 1000 * right,
    }
    hint = "Area of the bore times its depth, less area of the pin times its length in the bore."
    return _volume(answer_ml, right, slips, free_sum(pin), hint)


def limit_reply(answer_ml: float, pin: SlidePin) -> Reply:
    """Judge the most grease for a bore.

    Args:
        answer_ml: what was typed.
        pin: the pin and its bore.

    >>> limit_reply(0.97, SlidePin(10.3, 56, 10.0, 47)).words[:41]
    'Not yet. That packs the bore full. No air'
    """
    bore, depth, _, _ = measures(pin)
    right, free = grease_limit_ml(*measures(pin)), free_volume_ml(*measures(pin))
    slips = {
        "That packs the bore full. No air is left that could give way, and the pin works like a pump. Half "
        "of the free volume stays air.": free,
        "That is the whole bore, without the pin in it. The pin would never reach its seat.": area_mm2(bore)
        * depth
        / 1000,
        "That is half of the whole bore. First subtract the pin, then halve.": area_mm2(bore) * depth / 2000,
        _RADIUS: 4 * right,
        "That is half as much as it may be. Half of the free volume is enough air.": right / 2,
        _MM3: 1000 * right,
    }
    return _volume(answer_ml, right, slips, limit_sum(pin), "Half of the free volume.")


def gap_reply(answer_mm: float, grease_ml: float, pin: SlidePin) -> Reply:
    """Judge how far short of its seat a pin stops.

    Args:
        answer_mm: what was typed.
        grease_ml: grease in the bore, more than the free volume.
        pin: the pin and its bore.

    >>> gap_reply(16.0, 1.26, SlidePin(10.3, 56, 10.0, 47)).words[:44]
    'Not yet. You let all the grease push the pin'
    """
    bore, _, shank, _ = measures(pin)
    right = seated_gap_mm(grease_ml, *measures(pin))
    over = 1000 * (grease_ml - free_volume_ml(*measures(pin)))
    slips = {
        "You let all the grease push the pin. What finds room beside and below it does not. Subtract the "
        "free volume first.": 1000 * grease_ml / area_mm2(shank),
        "You counted from the most grease. The pin is held off only by what finds no room at all: subtract "
        "the free volume.": 1000 * (grease_ml - grease_limit_ml(*measures(pin))) / area_mm2(shank),
        "You divided by the area of the bore. The pin gives way by its own area: divide by that.": over
        / area_mm2(bore),
        "You divided by the thin ring. It is full already. Divide by the area of the pin.": over
        / (area_mm2(bore) - area_mm2(shank)),
        "That is a quarter of it. You took the diameter for the radius. Area = π ÷ 4 × diameter².": right / 4,
    }
    return number_reply(
        answer_mm,
        right,
        slips,
        unit="mm",
        tolerance=max(0.06, 0.02 * right),
        because=gap_sum(grease_ml, pin),
        hint="What finds no room, in mm³, divided by the area of the pin.",
        places=1,
    )


def force_reply(answer_n: float, clamp_n: float, drags_n: Pair, pistons: int = 1) -> Reply:
    """Judge the outer pad's force.

    Args:
        answer_n: what was typed.
        clamp_n: force of the piston.
        drags_n: drag of each pin.
        pistons: how many pistons push, where the piston's force has to be worked out first.

    >>> force_reply(3828, 3828, (930, 915)).words[:46]
    'Not yet. That is the inner pad. The outer pad '
    """
    drag = sum(drags_n)
    right = pad_force_split_n(clamp_n, drag).outer_n
    slips = {
        "That is the inner pad. The outer pad gets what the pins leave.": clamp_n,
        "You added the drag. The pins help nobody: subtract it.": clamp_n + drag,
        "That is what the pins hold back. The outer pad gets the rest.": drag,
        "You subtracted the leading pin only. Both pins hold the body back.": clamp_n - drags_n[0],
        "You subtracted the trailing pin only. Both pins hold the body back.": clamp_n - drags_n[1],
        "You subtracted the drag twice. It is the body's pull that loses it, once.": clamp_n - 2 * drag,
        "That is half of it. The body's whole pull goes to the one outer pad.": right / 2,
        "You doubled the piston's force first. Piston and body are pushed by the same fluid, each once.": (
            2 * clamp_n - drag
        ),
    }
    if pistons > 1:
        slips[f"You counted one piston only. {pistons} of them push."] = clamp_n / pistons - drag
    return number_reply(
        answer_n,
        right,
        {words: value for words, value in slips.items() if value > 0},
        unit="N",
        tolerance=max(5.0, 0.01 * right),
        because=force_sum(clamp_n, drag),
        hint="The piston's force less the drag of both pins.",
    )


def ratio_reply(answer: float, clamp_n: float, drags_n: Pair) -> Reply:
    """Judge how many times as fast the inner pad wears.

    Args:
        answer: what was typed.
        clamp_n: force of the piston.
        drags_n: drag of each pin.

    >>> ratio_reply(0.52, 3828, (930, 915)).words[:41]
    'Not yet. You divided the wrong way round.'
    """
    drag = sum(drags_n)
    right = wear_ratio(clamp_n, drag)
    outer = pad_force_split_n(clamp_n, drag).outer_n
    slips = {
        "You divided the wrong way round. The inner pad wears faster: inner over outer.": outer / clamp_n,
        "You divided the piston's force by the drag. Divide it by the outer pad's force.": (
            clamp_n / drag if drag else 0.0
        ),
        "You divided the drag by the piston's force. Divide the inner pad's force by the outer pad's.": drag
        / clamp_n,
        "You added the drag to the inner pad. It is lost at the outer pad.": (clamp_n + drag) / clamp_n,
        "You left out the trailing pin. Both pins hold the body back.": clamp_n / (clamp_n - drags_n[0]),
        "You left out the leading pin. Both pins hold the body back.": clamp_n / (clamp_n - drags_n[1]),
        "That is how much more the inner pad wears. How many times as fast is one more.": right - 1,
    }
    return number_reply(
        answer,
        right,
        slips,
        unit="",
        tolerance=max(RATIO_TOLERANCE, 0.01 * right),
        because=ratio_sum(clamp_n, drag),
        hint="Force on the inner pad over force on the outer pad.",
    )


def _volume(answer_ml: float, right: float, slips: dict[str, float], because: str, hint: str) -> Reply:
    return number_reply(
        answer_ml,
        right,
        slips,
        unit="mL",
        tolerance=max(0.006, ML_SHARE * right),
        because=because,
        hint=hint,
        places=2,
    )
