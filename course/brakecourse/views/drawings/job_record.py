"""The record of a whole job: one sheet that fills itself, line by line."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from itertools import groupby
from typing import NamedTuple

from brakecourse.views import palette, svg

WIDTH = 680
LEFT, SECOND, RIGHT = 34.0, 206.0, 648.0
LINE = 19.0
LABEL_LETTERS, TEXT_LETTERS = 22, 54
MOST_LINES, MOST_LETTERS = 40, 600


class RecordLine(NamedTuple):
    """One line of the record.

    Attributes:
        stage: the heading that it stands under.
        label: what it is about.
        text: what was found or done; empty while it is still open.
        note: how it came about, in small letters; may be empty.
    """

    stage: str
    label: str
    text: str = ""
    note: str = ""


def job_record_svg(
    heads: Sequence[tuple[str, str]],
    lines: Sequence[RecordLine],
    *,
    uid: str,
    signed: str = "",
    title: str = "Record of the job",
) -> str:
    """Draw the record of a job.

    Args:
        heads: name and value of what stands at the sheet's head, e.g. the vehicle.
        lines: what was found and done, and what is still open, in the order of work.
        uid: a word that no other drawing on the page has.
        signed: what stands on the line for the signature; empty while the record is not signed.
        title: the name that a screen reader says, and the sheet's title.

    Returns:
        SVG text. Its description tells all that the sheet shows.

    Raises:
        ValueError: too many lines, or words that are none.

    Source:
        What a record should hold: common practice, no source.

    Example:
        >>> line = RecordLine("Measure", "Smallest lining", "5.2 mm (0.205 in)")
        >>> job_record_svg([("Vehicle", "minibus")], [line], uid="r1").startswith("<svg")
        True
    """
    svg.check_uid(uid)
    if len(lines) > MOST_LINES:
        raise ValueError(f"A record holds at most {MOST_LINES} lines, but there were {len(lines)}.")
    for words in (*(cell for head in heads for cell in head), *(cell for one in lines for cell in one)):
        if not isinstance(words, str) or len(words) > MOST_LETTERS:
            raise ValueError(
                f"A record holds words of at most {MOST_LETTERS} letters, but got {words!r:.40}."
            )
    y = 46.0
    body = svg.text(LEFT, y, title, size=20, font_weight="bold")
    y += 30
    for name, value in heads:
        row, y = _row(y, name, value, "")
        body += row
    for stage, group in groupby(lines, key=lambda one: one.stage):
        y += 10
        body += svg.rect(LEFT - 10, y - 16, RIGHT - LEFT + 20, 23, fill=palette.PANEL)
        body += svg.text(LEFT, y, stage, size=15, font_weight="bold")
        y += LINE + 8
        for one in group:
            row, y = _row(y, one.label, one.text, one.note)
            body += row
    y += 18
    body += svg.line(SECOND, y + 4, RIGHT, y + 4, stroke=palette.INK_SOFT, stroke_width="1")
    body += svg.text(LEFT, y, "Signed", size=15, font_weight="bold")
    body += svg.text(SECOND, y - 2, signed, size=15) if signed else ""
    height = round(y + 34)
    frame = svg.rect(
        8, 8, WIDTH - 16, height - 16, fill=palette.CHALK, stroke=palette.STEEL_EDGE, stroke_width="1.5"
    )
    return svg.frame(
        WIDTH, height, frame + body, uid=uid, title=title, desc=_desc(heads, lines, signed, title)
    )


def _row(y: float, label: str, text: str, note: str) -> tuple[str, float]:
    body, first = "", y
    for place, row in enumerate(textwrap.wrap(label, LABEL_LETTERS)):
        body += svg.text(LEFT, first + LINE * place, row, size=15, fill=palette.INK_SOFT)
    label_end = first + LINE * max(1, len(textwrap.wrap(label, LABEL_LETTERS)))
    if not text:
        body += svg.line(
            SECOND, y + 4, RIGHT, y + 4, stroke=palette.STEEL_MID, stroke_width="1", stroke_dasharray="2 4"
        )
        return body, label_end + 5
    for row in textwrap.wrap(text, TEXT_LETTERS):
        body += svg.text(SECOND, y, row, size=15)
        y += LINE
    if note:
        body += svg.text(SECOND, y - 2, note, size=13, fill=palette.INK_SOFT)
        y += LINE - 2
    return body, max(y, label_end) + 5


def _desc(heads: Sequence[tuple[str, str]], lines: Sequence[RecordLine], signed: str, title: str) -> str:
    told = f"A sheet of paper. {title}. " + " ".join(f"{name}: {value.rstrip('.')}." for name, value in heads)
    for one in lines:
        words = (one.text or "still open").rstrip(".")
        told += f" {one.label}: {words}{f', {one.note}' if one.note else ''}."
    end = f"Signed: {signed.rstrip('.')}." if signed else "Not signed yet."
    return f"{told} {end}"
