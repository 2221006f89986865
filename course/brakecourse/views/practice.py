"""Practice tasks drawn from a seed: the same seed, the same practice on every machine."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import count
from typing import Literal, get_args

from brakecourse.bench.cases import ROTOR_MODULE, RotorCase, draw_case
from brakecourse.bench.draw import Draw
from brakecourse.bench.gauges import CLEAR_OF_MIDPOINT_MM, SLEEVE_LINE_MM, Micrometer
from brakecourse.bench.situations import Difficulty, Situation
from brakecourse.views.rotor_replies import Shape, curve_shape

Lines = Literal["before the half-millimetre line", "past the half-millimetre line", "mixed, also near a line"]
LINES: tuple[Lines, ...] = get_args(Lines)
BEFORE, PAST, MIXED = LINES

_NEAR = (47, 48, 49, 0, 1, 2)
_CLEAR = (4, 46)


def practice_setting_mm(seed: int, number: int, gauge: Micrometer) -> float:
    """Return the size to set in practice task ``number``, in mm: a full thimble line."""
    draw = Draw(seed).child(f"set {number}")
    return gauge.reading(gauge.low_mm + draw.between(3.0, 22.0))


def practice_indication_mm(seed: int, number: int, lines: Lines, gauge: Micrometer) -> float:
    """Return what the micrometer shows in practice task ``number``.

    Args:
        seed: fixes the tasks.
        number: which of them, from 0.
        lines: which kind of reading: before the half-millimetre line, past it, or mixed with some where
            the thimble stands close to a line and the eye is easily wrong.
        gauge: the micrometer.

    Returns:
        The indication in mm, never near the middle between two thimble lines.

    Raises:
        ValueError: ``lines`` is not one of ``LINES``.

    >>> from brakecourse.bench.gauges import boxed_micrometer
    >>> boxed_micrometer(0).parts(practice_indication_mm(1, 0, PAST, boxed_micrometer(0)))[1]
    True
    """
    if lines not in LINES:
        raise ValueError(f"One of {', '.join(LINES)} was expected, but got {lines!r}.")
    draw = Draw(seed).child(f"{lines} {number}")
    whole = draw.integer(3, 21)
    half = draw.integer(0, 1) if lines == MIXED else LINES.index(lines)
    near_a_line = lines == MIXED and draw.uniform() < 0.5
    line = draw.choice(_NEAR) if near_a_line else draw.integer(*_CLEAR)
    free = gauge.resolution_mm / 2 - CLEAR_OF_MIDPOINT_MM
    size = whole + half * SLEEVE_LINE_MM + line * gauge.resolution_mm
    return gauge.low_mm + size + draw.between(-free, free)


def practice_cases(
    seed: int, difficulty: Difficulty = "normal", situations: Iterable[Situation] = ()
) -> Iterator[RotorCase]:
    """Yield rotors to practise on, without end.

    Args:
        seed: fixes which rotors come, and in which order.
        difficulty: easy, normal or hard.
        situations: only these situations; all when empty.
    """
    wanted = frozenset(situations)
    for number in count():
        case = draw_case(seed * 1000 + number, ROTOR_MODULE, difficulty)
        if not wanted or case.situation in wanted:
            yield case


def shaped_cases(seed: int) -> Iterator[tuple[RotorCase, Shape]]:
    """Yield rotors whose dial readings make a clear curve, each shape as likely, with the shape."""
    draw = Draw(seed).child("shape")
    cases = practice_cases(seed)
    while True:
        wanted: Shape = draw.choice(("one hill", "several hills"))
        yield next(case for case in cases if curve_shape(case.dial_readings_mm) == wanted), wanted


def dial_shown_mm(case: RotorCase, angle_deg: float, nuts_fitted: bool) -> float:
    """Return what the dial shows with the rotor turned to an angle, in mm; it was set to 0 at place 1."""
    here, start = (case.condition.face_offset_mm(angle, nuts_fitted) for angle in (angle_deg, 0.0))
    return case.dial.shown_mm(here - start)


def dial_turn_mm(case: RotorCase, nuts_fitted: bool) -> list[float]:
    """Return the dial's readings at every degree of one turn, in mm, to the nearest line."""
    return [case.dial.reading(dial_shown_mm(case, degree, nuts_fitted)) for degree in range(360)]
