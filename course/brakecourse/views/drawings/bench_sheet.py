"""The job sheet of a diagnosis: minutes spent, checks done and what they showed, how the causes stand."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from brakecourse.views import palette, svg
from brakecourse.views.drawings._sheet_records import (
    MOST_TOLD,
    SheetCause,
    SheetCheck,
    in_100,
    sheet_causes,
    sheet_checks,
    sheet_words,
)

__all__ = ["SHOWN_CHECKS", "SheetCause", "SheetCheck", "bench_sheet_svg", "in_100"]

SHOWN_CHECKS = 8
"""So many of the checks are written out, the latest ones; the rest is told in one line."""

WIDTH = 520
LEFT, RIGHT = 34.0, 486.0
TOP = 70.0
LINE = 19.0
SAID, CAUSE, CHECK, FINDING = 62, 58, 52, 50  # letters in a row, so that the widest words stay on the paper
SCALE_STEPS = (20, 40, 60, 120, 200, 400, 600)


def bench_sheet_svg(
    checks: Sequence[SheetCheck],
    causes: Sequence[SheetCause],
    *,
    uid: str,
    title: str = "Job sheet",
    heading: str = "Job sheet",
    told: str = "",
    note: str = "",
) -> str:
    """Draw a job sheet on a clipboard.

    Args:
        checks: the checks done, in their order, none to 40.
        causes: the causes to show as bars, in their order, none to 8. Without any, ``note`` stands there.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.
        heading: what stands at the sheet's head.
        told: what the driver says, below it.
        note: a line in the place of the bars.

    Returns:
        SVG text. Its description tells all that the sheet shows.

    Raises:
        ValueError: too many checks or causes, words that are none, or a number out of its range.

    Source:
        Bars to one scale: common practice, no source.

    Example:
        >>> done = [SheetCheck("Press the pedal slowly and feel it", "The pedal is firm", 1, True)]
        >>> bench_sheet_svg(done, [SheetCause("there is air in a circuit", 0.2)], uid="s1").startswith("<svg")
        True
    """
    done, ranked = sheet_checks(checks), sheet_causes(causes)
    for words, quantity in ((heading, "heading"), (note or "-", "note")):
        sheet_words(words, quantity)
    said = textwrap.wrap(sheet_words(told, "complaint", MOST_TOLD), SAID) if told else []
    svg.check_uid(uid)
    body, y = _said(said)
    bar, y = _minutes(done, y, uid)
    rows, y = _done(done, y)
    bars, y = _bars(ranked, note, y, uid)
    height = round(y + 24)
    return svg.frame(
        WIDTH,
        height,
        _board(height, heading) + body + bar + rows + bars,
        uid=uid,
        title=title,
        desc=_desc(done, ranked, f"{heading}. {told}".strip(), note),
        defs=_defs(uid),
    )


def _board(height: float, heading: str) -> str:
    """Draw the clipboard: board, paper, and the clip that holds it."""
    edge = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2"}
    return (
        svg.rect(6, 22, WIDTH - 12, height - 28, rx="10", fill=palette.LINING, **edge)
        + svg.rect(18, 36, WIDTH - 36, height - 54, fill=palette.CHALK, stroke=palette.RULE)
        + svg.path(
            *("M", 190, 48, "v", -18, "q", 0, -8, 8, -8, "h", 30, "q", 4, -16, 32, -16, "t", 32, 16),
            *("h", 30, "q", 8, 0, 8, 8, "v", 18, "Z"),
            fill=palette.STEEL,
            **edge,
        )
        + svg.circle(260, 21, 6, fill=palette.LINING, **edge)
        + svg.text(LEFT, TOP + 4, heading, size=17, font_weight="bold")
    )


def _said(rows: Sequence[str]) -> tuple[str, float]:
    """Write what the driver says."""
    body, y = "", TOP + 28
    for row in rows:
        body += svg.text(LEFT, y, row, size=14)
        y += LINE
    return body, y - (12 if rows else 28)


def _minutes(done: Sequence[SheetCheck], y: float, uid: str) -> tuple[str, float]:
    """Draw the minutes: cheap checks as lines, dear ones as dots, on a scale that grows when it must."""
    cheap = sum(one.minutes for one in done if one.cheap)
    dear = sum(one.minutes for one in done if not one.cheap)
    full = next((step for step in SCALE_STEPS if cheap + dear <= step), SCALE_STEPS[-1])
    y += 44
    length = RIGHT - LEFT
    px = length / full
    told = f"{cheap + dear:g} minute{'' if cheap + dear == 1 else 's'} spent"
    if dear:
        told += f", {dear:g} of them with calipers or rotors off"
    edge = {"stroke": palette.STEEL_EDGE, "stroke_width": "1"}
    body = svg.text(LEFT, y - 10, told, size=15) + svg.rect(LEFT, y, length, 16, fill=palette.PANEL, **edge)
    if cheap:
        body += svg.rect(LEFT, y, cheap * px, 16, fill=f"url(#{uid}-lines)", data_part="cheap", **edge)
    if dear:
        width = min(dear * px, RIGHT - LEFT - cheap * px)
        body += svg.rect(LEFT + cheap * px, y, width, 16, fill=f"url(#{uid}-dots)", data_part="dear", **edge)
    for quarter in range(5):
        x = LEFT + length * quarter / 4
        body += svg.line(x, y + 16, x, y + 21, stroke=palette.STEEL_EDGE, stroke_width="1")
        anchor = {0: "start", 4: "end"}.get(quarter, "middle")
        body += svg.text(x, y + 36, f"{full * quarter / 4:g}", size=14, anchor=anchor)
    return body, y + 66


def _heading(y: float, words: str) -> str:
    rule = svg.line(LEFT, y + 7, RIGHT, y + 7, stroke=palette.STEEL_MID, stroke_width="1")
    return svg.text(LEFT, y, words, size=15, font_weight="bold") + rule


def _done(done: Sequence[SheetCheck], y: float) -> tuple[str, float]:
    body = _heading(y, "Checks done")
    y += LINE + 10
    hidden = max(0, len(done) - SHOWN_CHECKS)
    if not done or hidden:
        few = f"{hidden} earlier {'check' if hidden == 1 else 'checks'} not shown here"
        body += svg.text(LEFT, y, few if hidden else "none yet", size=14, fill=palette.INK_SOFT)
        y += LINE + 4
    for number, one in list(enumerate(done, start=1))[hidden:]:
        body += svg.text(RIGHT, y, f"{one.minutes:g} min", size=14, anchor="end")
        lines, y = _lines(y, f"{number}.", one.words, 14, palette.INK_SOFT, "normal")
        body += lines
        lines, y = _lines(y, "", one.finding, 15, palette.INK, "bold")
        body += lines
        y += 6
    return body, y + 12


def _lines(y: float, mark: str, words: str, size: float, fill: str, weight: str) -> tuple[str, float]:
    body = svg.text(LEFT, y, mark, size=size, fill=fill) if mark else ""
    for row in textwrap.wrap(words, FINDING if weight == "bold" else CHECK):
        body += svg.text(LEFT + 26, y, row, size=size, fill=fill, font_weight=weight)
        y += LINE
    return body, y


def _bars(ranked: Sequence[SheetCause], note: str, y: float, uid: str) -> tuple[str, float]:
    body = _heading(y, "Causes, by what is known so far")
    y += LINE + 10
    if not ranked:
        for row in textwrap.wrap(note, CAUSE):
            body += svg.text(LEFT, y, row, size=15, fill=palette.INK_SOFT)
            y += LINE
        return body, y
    edge = {"stroke": palette.STEEL_EDGE, "stroke_width": "1"}
    room = RIGHT - LEFT - 144  # beside it stands "above 99 in 100"
    for one in ranked:
        for row in textwrap.wrap(one.words, CAUSE):
            body += svg.text(LEFT, y, row, size=15)
            y += LINE
        body += svg.rect(LEFT, y - 12, room, 14, fill=palette.PANEL, stroke=palette.RULE)
        if one.share >= 0.005:
            width = room * one.share
            body += svg.rect(LEFT, y - 12, width, 14, fill=f"url(#{uid}-lines)", data_part="bar", **edge)
        body += svg.text(RIGHT, y, in_100(one.share), size=15, anchor="end", font_weight="bold")
        y += LINE + 10
    return body, y


def _desc(done: Sequence[SheetCheck], ranked: Sequence[SheetCause], heading: str, note: str) -> str:
    told = f"A sheet on a clipboard. {heading} {sum(one.minutes for one in done):g} minutes spent."
    for number, one in enumerate(done, start=1):
        told += f" Check {number}: {one.words}, {one.minutes:g} minutes: {one.finding}."
    if ranked:
        bars = "; ".join(f"{one.words}, {in_100(one.share)}" for one in ranked)
        return f"{told} Bars for the causes: {bars}."
    return f"{told} {note}".strip()


def _defs(uid: str) -> str:
    ground = svg.rect(0, 0, 8, 8, fill=palette.SKY_BLUE, fill_opacity="0.45")
    line = svg.tag("path", d="M0 0V8", stroke=palette.BLUE, stroke_width="2.4")
    sand = svg.rect(0, 0, 8, 8, fill=palette.ORANGE, fill_opacity="0.3")
    dot = svg.circle(4, 4, 1.8, fill=palette.VERMILLION)
    return svg.pattern(f"{uid}-lines", 8, ground + line, turn_deg=45) + svg.pattern(
        f"{uid}-dots", 8, sand + dot
    )
