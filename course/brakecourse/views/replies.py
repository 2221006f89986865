"""What the course replies to a practice answer: pure functions, words out.

A reply to a wrong answer names the mistake that gives exactly that number, where there is one.
The exercises are marked elsewhere, by the instructor's side; here the learner only practises.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from brakecourse.views.words import mm

MISTAKES: dict[str, str] = {
    "half_millimetre_line": (
        "You are half a millimetre out. Look below the datum line: when the edge of the thimble has passed a "
        "half-millimetre line, add 0.50; when it has not, add nothing."
    ),
    "ten_times": "Your decimal point slipped: each line of the thimble is one hundredth of a millimetre, 0.01 mm.",
    "inches_for_millimetres": "That is the size in inches. The answer was asked in millimetres.",
    "half_of_total": "That is half of it. Run-out is the whole swing of the hand, from the lowest to the highest reading.",
    "nuts_not_seated": (
        "That is the swing of a rotor that hangs loose. Fit all the wheel nuts first, so that the rotor sits on its hub."
    ),
    "mean_for_minimum": "That is the mean. The thinnest place decides, because the limit holds at every place.",
    "largest_for_smallest": "That is the thickest place. The thinnest place decides.",
    "on_the_ridge": "That was read on the rust ridge at the edge. The pads never touch it. Measure mid-track.",
    "machine_to_for_discard": "You used the machine-to limit. This question is about the discard limit.",
    "discard_for_machine_to": "You used the discard limit. Cutting must stop earlier, at the machine-to limit.",
    "one_face_only": "You counted one face only. The cut takes metal off both faces together.",
    "wrong_sign": "The size is right but the sign is turned round.",
    "ignored_uncertainty": "You compared the bare numbers. The gauge is uncertain too: keep the guard band away from the limit.",
}


@dataclass(frozen=True)
class Reply:
    """Whether an answer is right, and what to say."""

    right: bool
    words: str


def value_reply(
    answer_mm: float,
    expected_mm: float,
    mistakes: Mapping[str, float],
    *,
    because: str,
    hint: str,
    tolerance_mm: float = 0.005,
) -> Reply:
    """Judge a practice answer in millimetres.

    Args:
        answer_mm: what the learner typed.
        expected_mm: the right value.
        mistakes: for each mistake's name, the value that it would have given.
        because: how the right value comes about, said after a right answer.
        hint: where to look again, said after a wrong answer that matches no known mistake.
        tolerance_mm: how far off still counts as right.

    Returns:
        The reply. An answer within the tolerance is right even if a mistake gives the same number.
    """
    if _near(answer_mm, expected_mm, tolerance_mm):
        return Reply(True, f"Right: {mm(expected_mm)}. {because}")
    for mistake, value in mistakes.items():
        if mistake in MISTAKES and _near(answer_mm, value, tolerance_mm):
            return Reply(False, f"Not yet. {MISTAKES[mistake]}")
    side = "too large" if answer_mm > expected_mm else "too small"
    return Reply(False, f"Not yet: {mm(answer_mm)} is {side}. {hint}")


def setting_reply(wanted_mm: float, turns: int, divisions: int) -> Reply:
    """Judge how a micrometer was set: full turns of the thimble, and thimble lines past the datum line.

    One full turn is half a millimetre, one thimble line is a hundredth: ISO-metric micrometer screw of
    0.5 mm pitch with 50 lines (common practice, no source).

    >>> setting_reply(12.84, 25, 34).right
    True
    >>> setting_reply(12.84, 24, 34).words.startswith("Not yet. The thimble line is right")
    True
    """
    wanted_turns, wanted_lines = divmod(round(wanted_mm * 100), 50)
    lines_right, turns_off = divisions == wanted_lines, turns - wanted_turns
    if lines_right and turns_off == 0:
        return Reply(True, f"Right: {mm(wanted_mm)}. {how_set(wanted_mm)}")
    if lines_right:
        way = "too wide: turn it closer" if turns_off > 0 else "too close: turn it wider"
        count = "one full turn" if abs(turns_off) == 1 else f"{abs(turns_off)} full turns"
        return Reply(False, f"Not yet. The thimble line is right, but the gap is {count} {way}. One full turn is 0.50 mm.")
    if turns_off == 0:
        return Reply(
            False,
            f"Not yet. The full turns are right, but thimble line {divisions} stands at the datum line. "
            "Each thimble line is 0.01 mm.",
        )
    shown = thimble_mm(turns, divisions)
    return Reply(False, f"Not yet. It shows {mm(shown)} and {mm(wanted_mm)} was wanted. Set the full turns first, then the line.")


def how_set(size_mm: float) -> str:
    """Say how a size is made up from full turns and thimble lines.

    >>> how_set(12.84)
    '25 full turns make 12.50 mm, and thimble line 34 adds 0.34 mm.'
    """
    turns, lines = divmod(round(size_mm * 100), 50)
    return f"{turns} full turns make {turns / 2:.2f} mm, and thimble line {lines} adds {lines / 100:.2f} mm."


def how_read(size_mm: float, start_mm: float = 0.0) -> str:
    """Say how a micrometer is read, step by step.

    >>> how_read(12.84)
    'Above the datum line the last whole millimetre is 12. A half-millimetre line shows after it: add 0.50. Thimble line 34 adds 0.34. Together 12.84 mm.'
    """
    hundredths = round(size_mm * 100)
    whole, rest = divmod(hundredths, 100)
    half, lines = divmod(rest, 50)
    frame = f"This frame starts at {start_mm:.0f} mm. " if start_mm else ""
    middle = "A half-millimetre line shows after it: add 0.50." if half else "No half-millimetre line shows after it: add nothing."
    return (
        f"{frame}Above the datum line the last whole millimetre is {whole}. {middle} "
        f"Thimble line {lines} adds {lines / 100:.2f}. Together {hundredths / 100:.2f} mm."
    )


def thimble_mm(turns: int, divisions: int) -> float:
    """Return the size that full turns and thimble lines set, in mm.

    >>> thimble_mm(25, 34)
    12.84
    """
    return (turns * 50 + divisions) / 100


def _near(answer: float, value: float, tolerance: float) -> bool:
    return abs(answer - value) <= tolerance + 1e-9
