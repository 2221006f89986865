"""The shop's job sheet on one page: to print and to write on, or filled with what was typed back."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence

from brakecourse.views import palette, svg

WIDTH, HEIGHT = 760, 1075
LEFT, RIGHT = 40.0, 720.0
PLACES = 8
MOST_LETTERS = 200
FINDING_LINES, FINDING_LETTERS = 9, 112
_INK = {"stroke": palette.INK_SOFT, "stroke_width": "1"}
_FINE = {"stroke": palette.STEEL_MID, "stroke_width": "1"}

_JOB = (
    (("vehicle", "Vehicle", 0.42), ("axle", "Axle", 0.2), ("distance", "On the clock", 0.38)),
    (("date", "Date", 0.2), ("person", "Measured by", 0.3), ("complaint", "The customer says", 0.5)),
)
_LIMITS = (
    ("rotor_new", "Rotor thickness when new"),
    ("lining", "Least lining of a pad"),
    ("discard", "Discard thickness of the rotor"),
    ("taper", "Most taper of a pad"),
    ("machine_to", "Least thickness after machining"),
    ("pair", "Most difference, inner to outer"),
    ("variation", "Most thickness variation"),
    ("nut_torque", "Torque of the wheel nuts"),
    ("run_out", "Most run-out"),
    ("boiling_limit", "Least boiling point of the fluid"),
)
_GAUGES = (("micrometer", "Micrometer"), ("dial", "Dial indicator"), ("depth", "Lining gauge"))
_ROWS = (
    ("thickness", "Rotor thickness", PLACES),
    ("dial", "Dial, all nuts fitted", PLACES),
    ("inner", "Inner pad", 4),
    ("outer", "Outer pad", 4),
)
_CORNERS = ("leading, outer", "leading, inner", "trailing, outer", "trailing, inner")
_END = (
    ("nuts", "Nuts of one wheel"),
    ("wrench", "Torque set on the wrench"),
    ("boiling", "Fluid boils at"),
    ("boiling_error", "Tester's largest error"),
)
_BEFORE = (
    "wheel nuts torqued in steps",
    "pedal pumped until firm",
    "level set with fresh fluid",
    "pedal pressed hard: no leak",
    "tried at walking pace",
)


def job_sheet_svg(
    written: Mapping[str, Sequence[str]] | None = None,
    findings: Sequence[str] = (),
    *,
    units: str = "",
    uid: str,
    title: str = "Job sheet for one axle",
) -> str:
    """Draw the job sheet, empty or filled.

    Args:
        written: what stands in each box: one text, or one for each place of a row. A box left out is empty.
        findings: what the readings say, one sentence each.
        units: what the numbers are written in, e.g. ``"mm, N·m, °C"``; empty leaves a line to fill in.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says, and the sheet's title.

    Returns:
        SVG text of one page, as high as wide times the root of two. Its description tells what is filled in.

    Raises:
        ValueError: words that are none, or too many.

    Source:
        What a job sheet should hold: common practice, no source.

    Example:
        >>> job_sheet_svg(uid="s1").count("data-part=\\"place\\"")
        48
    """
    svg.check_uid(uid)
    filled = {id: list(texts) for id, texts in (written or {}).items()}
    for words in (*findings, units, *(text for texts in filled.values() for text in texts)):
        if not isinstance(words, str) or len(words) > MOST_LETTERS:
            raise ValueError(f"A job sheet holds words of at most {MOST_LETTERS} letters, not {words!r:.40}.")
    y = 44.0
    body = svg.text(LEFT, y, title, size=20, font_weight="bold")
    body += _labelled(RIGHT - 300, y, 300, "Numbers in", units, label_width=84)
    y += 16
    for cells in _JOB:
        body += _job_row(cells, filled, y)
        y += 42
    y += 18
    body += _heading(y, "Limits, from this vehicle's own service information")
    for place, (id, label) in enumerate(_LIMITS):
        x = LEFT + (place % 2) * 350
        body += _labelled(x, y + 26 + 24 * (place // 2), 330, label, _first(filled, id), label_width=228)
    y += 26 + 24 * 5 + 8
    body += _heading(y, "Gauges: smallest line and largest error, from the gauge and its certificate")
    for place, (id, label) in enumerate(_GAUGES):
        x = LEFT + place * 232
        body += svg.text(x, y + 24, label, size=13)
        body += _labelled(x, y + 46, 100, "line", _first(filled, f"{id}_line"), label_width=32)
        body += _labelled(x + 108, y + 46, 104, "error", _first(filled, f"{id}_error"), label_width=40)
    y += 76
    body += _heading(y, "Readings: mid-track; pads without the plate, the leading end meets the rotor first")
    y += 4
    for wheel in ("Left", "Right"):
        more, y = _wheel(wheel, filled, y)
        body += more
    for place, (id, label) in enumerate(_END):
        x = LEFT + (place % 2) * 350
        body += _labelled(x, y + 20 + 24 * (place // 2), 330, label, _first(filled, id), label_width=180)
    y += 72
    body += _heading(y, "What the readings say")
    body += _findings(findings, y + 22)
    y += 24 + 17 * FINDING_LINES
    body += _heading(y, "Before it moves")
    for place, words in enumerate(_BEFORE):
        x, row = LEFT + (place % 3) * 232, y + 24 + 20 * (place // 3)
        body += svg.rect(x, row - 11, 12, 12, fill=palette.CHALK, **_INK)
        body += svg.text(x + 18, row, words, size=12.5)
    y += 74
    body += _labelled(LEFT, y, 330, "Told to the customer", "", label_width=142)
    body += _labelled(LEFT + 350, y, 330, "Signed", "", label_width=56)
    foot = "The maker's service information and local law come first. Sign only for what you measured."
    body += svg.text(LEFT, HEIGHT - 22, foot, size=12.5, fill=palette.INK_SOFT)
    page = svg.rect(6, 6, WIDTH - 12, HEIGHT - 12, fill=palette.CHALK, **_FINE)
    return svg.frame(WIDTH, HEIGHT, page + body, uid=uid, title=title, desc=_desc(filled, findings, units))


def _first(filled: Mapping[str, Sequence[str]], id: str) -> str:
    return " ".join(filled.get(id, ()))


def _heading(y: float, words: str) -> str:
    band = svg.rect(LEFT - 8, y - 15, RIGHT - LEFT + 16, 21, fill=palette.PANEL)
    return band + svg.text(LEFT, y, words, size=14, font_weight="bold")


def _labelled(x: float, y: float, width: float, label: str, value: str, *, label_width: float) -> str:
    """Draw a label, and a line to write on."""
    start = x + label_width
    return (
        svg.text(x, y, label, size=13, fill=palette.INK_SOFT)
        + svg.line(start, y + 4, x + width, y + 4, **_INK)
        + (svg.text(start + 4, y, value, size=14) if value else "")
    )


def _job_row(cells: Sequence[tuple[str, str, float]], filled: Mapping[str, Sequence[str]], y: float) -> str:
    body, x = "", LEFT
    for id, label, share in cells:
        width = (RIGHT - LEFT) * share
        value = _first(filled, id)
        room = max(6, int((width - 10) / 7.2))
        body += svg.rect(x, y, width, 38, fill="none", **_FINE)
        body += svg.text(x + 5, y + 13, label, size=12, fill=palette.INK_SOFT)
        shown = value if len(value) <= room else value[: room - 1] + "…"
        body += svg.text(x + 5, y + 31, shown, size=14) if value else ""
        x += width
    return body


def _wheel(wheel: str, filled: Mapping[str, Sequence[str]], y: float) -> tuple[str, float]:
    """Draw the readings of one wheel: a box for each place."""
    y += 22
    first = LEFT + 150
    room = (RIGHT - first) / PLACES
    body = svg.text(LEFT, y, f"{wheel} wheel", size=14, font_weight="bold")
    for place in range(PLACES):
        body += svg.text(
            first + room * (place + 0.5),
            y,
            f"place {place + 1}",
            size=12,
            fill=palette.INK_SOFT,
            anchor="middle",
        )
    y += 7
    for id, label, count in _ROWS:
        if id == "inner":
            for place, words in enumerate(_CORNERS):
                x = first + room * (2 * place + 1)
                body += svg.text(x, y + 13, words, size=12, fill=palette.INK_SOFT, anchor="middle")
            y += 18
        body += svg.text(LEFT, y + 16, label, size=13)
        texts = filled.get(f"{wheel.lower()}_{id}", ())
        wide = room * PLACES / count
        for place in range(count):
            x = first + wide * place
            body += svg.rect(x, y, wide, 23, fill="none", data_part="place", **_FINE)
            if place < len(texts):
                body += svg.text(x + wide / 2, y + 16, texts[place], size=14, anchor="middle")
        y += 25
    return body, y


def _findings(findings: Sequence[str], y: float) -> str:
    rows = [row for one in findings for row in textwrap.wrap(one, FINDING_LETTERS)]
    if len(rows) > FINDING_LINES - 1:
        rows = [*rows[: FINDING_LINES - 2], "More: see the table below the sheet."]
    body = "".join(svg.text(LEFT, y + 17 * place, row, size=13) for place, row in enumerate(rows))
    lines = range(1, 6) if not rows else ()
    return body + "".join(svg.line(LEFT, y + 21 * one, RIGHT, y + 21 * one, **_FINE) for one in lines)


def _desc(filled: Mapping[str, Sequence[str]], findings: Sequence[str], units: str) -> str:
    told = (
        "A printed page with boxes for a job on one axle: the vehicle, the limits from its service "
        "information, the gauges, readings of the left and the right wheel, what they say, what is done "
        "before the vehicle moves, and a line to sign."
    )
    if not filled:
        return f"{told} It is empty."
    names = {id: label for id, label, _ in (*_JOB[0], *_JOB[1])} | dict(_LIMITS) | dict(_END)
    names |= {f"{id}_{end}": f"{label}, {end}" for id, label in _GAUGES for end in ("line", "error")}
    names |= {
        f"{wheel.lower()}_{id}": f"{wheel} wheel, {label}"
        for wheel in ("Left", "Right")
        for id, label, _ in _ROWS
    }
    values = " ".join(f"{names.get(id, id)}: {' '.join(texts)}." for id, texts in filled.items())
    return f"{told} Numbers in {units}. {values} {' '.join(findings)}".strip()
