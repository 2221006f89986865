"""What each chart shows, in a sentence: its heading, and the text for who can't see it."""

from __future__ import annotations

from brakecourse.exports.completion import Completion
from brakecourse.exports.findings import Finding
from brakecourse.exports.item_analysis import Item, ModuleItems
from brakecourse.exports.statistics import Coefficient

WELL, SOME = 0.4, 0.2
"""From 0.2 on a question tells apart fairly, from 0.4 on well: the documentation of the R package
'performance', item_discrimination, after Kelava and Moosbrugger (2020) (read there)."""


def difficulty(found: ModuleItems) -> str:
    """Say which question was hardest and which easiest."""
    marked = sorted((one for one in found.items if one.percent is not None), key=lambda one: one.percent or 0)
    if not marked:
        return f"{found.module}: nothing was marked yet, so no question has a difficulty."
    hardest, easiest = marked[0], marked[-1]
    if len(marked) == 1 or hardest.percent == easiest.percent:
        return f"Every marked question earned {hardest.percent:.0f} % of its marks ({_students(found)})."
    return (
        f"Hardest: {_asked(hardest)}, {hardest.percent:.0f} % of its marks. "
        f"Easiest: {_asked(easiest)}, {easiest.percent:.0f} %. {_students(found).capitalize()}."
    )


def tells_apart(found: Coefficient) -> str:
    """Say how well a question tells those who do well otherwise from the others, as far as that is known.

    >>> from brakecourse.exports.statistics import Interval
    >>> tells_apart(Coefficient("", 0.5, Interval(0.3, 0.7), "", 100, 8))
    'tells apart well'
    >>> tells_apart(Coefficient("", 0.1, Interval(-0.3, 0.5), "", 24, 8))
    'not clear yet'
    """
    if found.value is None or found.interval is None:
        return f"none: {found.why}"
    if found.interval.high < 0:
        return "the wrong way round"
    if found.interval.low <= 0:
        return "does not tell apart" if found.interval.high < SOME else "not clear yet"
    if found.value >= SOME:
        return "tells apart well" if found.value >= WELL else "tells apart fairly"
    return "hardly tells apart"


def is_weak(found: Coefficient) -> bool:
    """Tell whether a question is known to tell hardly, or not, or the wrong way round."""
    return tells_apart(found) in ("the wrong way round", "does not tell apart", "hardly tells apart")


def discrimination(found: ModuleItems) -> str:
    """Say how well the questions tell apart and go together, or why nobody can tell."""
    known = [one for one in found.items if one.discrimination.value is not None]
    if not known:
        why = next((one.discrimination.why for one in found.items), "nothing was marked yet")
        return f"No question can be judged: {why}."
    weak = [one.question for one in known if is_weak(one.discrimination)]
    open_ones = sum(tells_apart(one.discrimination) == "not clear yet" for one in known)
    parts = [
        f"Look at {', '.join(weak)}: hardly, or not, telling strong from weak students." if weak else "",
        f"{len(known) - len(weak) - open_ones} of {len(known)} questions tell strong from weak students.",
        f"Not clear yet for {open_ones}." if open_ones else "",
        _together(found.reliability),
    ]
    return " ".join(part for part in parts if part)


def _together(whole: Coefficient) -> str:
    if whole.value is None or whole.interval is None:
        return f"No {whole.name}: {whole.why}."
    low, high = signed(whole.interval.low), signed(whole.interval.high)
    return f"All together: {whole.name} {signed(whole.value)} ({low} to {high})."


def signed(value: float) -> str:
    """Write a coefficient with two places and a proper minus.

    >>> signed(-0.051), signed(-0.001)
    ('−0.05', '0.00')
    """
    return f"{round(value, 2) + 0.0:.2f}".replace("-", "−")


def mistakes(found: tuple[Finding, ...]) -> str:
    """Say which named mistake to treat first, and how many there are."""
    named = [one for one in found if one.kind == "named mistake"]
    if not named:
        return "No named mistake was made."
    first = named[0]
    more = f" {len(named)} different ones were made." if len(named) > 1 else ""
    return f"To treat first: {first.name}, {first.students} of {first.graded} students.{more}"


def completion(found: Completion) -> str:
    """Say how much came in and how much of that is graded."""
    if not found.students:
        return f"Nobody is expected to hand in {found.module}."
    late = f", {found.late} of these late" if found.late else ""
    rest = [
        f"{number} {what}"
        for number, what in (
            (found.waiting, "waiting for a person"),
            (found.could_not, "could not be graded"),
            (found.excused, "excused"),
            (found.without_time, "without a known time, so not in the lines"),
        )
        if number
    ]
    extra = f"; {', '.join(rest)}" if rest else ""
    return f"{found.handed_in} of {found.students} handed in{late}; {found.graded} graded{extra}."


def _asked(one: Item) -> str:
    return f"{one.question} ({one.asked.short})"


def _students(found: ModuleItems) -> str:
    return f"{found.students} student{'' if found.students == 1 else 's'}"
