"""The work order as HTML: plain tables and pictures, readable on a light and on a dark page."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Literal

from brakecourse.views import palette
from brakecourse.workorder.order import Drawing, Question, WorkOrder

_CARD = (
    f"background:{palette.PAPER};color:{palette.INK};border:1px solid {palette.RULE};border-radius:10px;"
    "padding:0.9rem 1.2rem;margin:0.3rem 0;max-width:66rem;line-height:1.45;font-family:sans-serif;"
    "font-size:14px"
)
_HEAD = f"color:{palette.INK};font-size:1.15rem;font-weight:bold;margin:0 0 0.4rem"
_SOFT = f"color:{palette.INK_SOFT}"
_CELL = (
    f"text-align:left;vertical-align:top;padding:0.2rem 1.2rem 0.2rem 0;color:{palette.INK};"
    f"background:{palette.PAPER};border:0;border-bottom:1px solid {palette.RULE};white-space:normal;"
    "font-size:14px"
)
Tone = Literal["plain", "look", "handed in"]
_BARS: dict[Tone, str] = {"plain": palette.RULE, "look": palette.VERMILLION, "handed in": palette.BLUE}

STEPS_LEAD = "The steps are listed in no special order. Give their numbers in the order of work, each once."

# A micrometer has to be read to a fifth of a millimetre on the screen, a dial is larger than its lines.
_WIDE, _NARROW = "25rem", "13rem"


def order(sheet: WorkOrder) -> str:
    """Return the whole work order: vehicle, complaint, limits, notes, and the list of questions."""
    marks = sum(question.points for question in sheet.questions.values())
    facts = "".join(_row(label, text) for label, text in sheet.facts)
    asked = "".join(_row(one.id, f"{one.short} ({_points(one.points)})") for one in sheet.questions.values())
    return _card(
        _head(f"Work order: {sheet.title}")
        + f"<p style='margin:0 0 0.6rem'><b>{escape(_capital(sheet.vehicle_name))}</b>, fleet number "
        f"{escape(sheet.fleet_number)}. For {escape(sheet.student)}, attempt {sheet.attempt}.</p>"
        f"<p style='margin:0 0 0.6rem'><b>What the customer says:</b> {escape(sheet.complaint)}</p>"
        + _table("Limits and gauges", facts)
        + "".join(f"<p style='margin:0.4rem 0;{_SOFT}'>{escape(note)}</p>" for note in sheet.notes)
        + _table(f"Questions, {_points(marks)} in all", asked)
    )


def question(sheet: WorkOrder, asked: Question) -> str:
    """Return one question: its drawings, or its choices, or what kind of answer it wants."""
    drawings = [sheet.drawings[key] for key in asked.drawings]
    wide = _WIDE if len(drawings) <= 10 else _NARROW
    return _card(
        _head(f"{asked.id}: {asked.short} ({_points(asked.points)})")
        + (_grid(drawings, wide) if drawings else "")
        + (_lead(asked) + _choices(asked.choices) if asked.choices else "")
        + ("" if drawings or asked.choices else _wanted(asked))
    )


def reply(words: str, tone: Tone = "plain") -> str:
    """Return one sentence in a box. The words say everything; the bar beside them only helps the eye."""
    bar = f"border-left:6px solid {_BARS[tone]};"
    lead = "<b>Please look:</b> " if tone == "look" else ""
    return f"<div style='{_CARD};{bar}'>{lead}{escape(words)}</div>"


def question_text(sheet: WorkOrder, asked: Question) -> str:
    """Return one question in plain text, for where no pictures can be shown."""
    lines = [f"{asked.id}: {asked.short} ({_points(asked.points)})"]
    lines += [f"  drawing: {sheet.drawings[key].caption}" for key in asked.drawings]
    lines += [f"  {STEPS_LEAD}"] if asked.kind == "sequence" else []
    lines += [f"  {number}. {choice}" for number, choice in enumerate(asked.choices, start=1)]
    return "\n".join(lines)


def order_text(sheet: WorkOrder) -> str:
    """Return the work order in plain text."""
    lines = [
        f"Work order: {sheet.title}",
        f"{_capital(sheet.vehicle_name)}, fleet number {sheet.fleet_number}",
    ]
    lines += [f"What the customer says: {sheet.complaint}"]
    lines += [f"  {label}: {text}" for label, text in sheet.facts]
    lines += list(sheet.notes)
    return "\n".join(lines)


def _card(inner: str) -> str:
    return f"<div style='{_CARD}'>{inner}</div>"


def _head(text: str) -> str:
    return f"<div style='{_HEAD}'>{escape(text)}</div>"


def _table(caption: str, rows: str) -> str:
    return (
        "<table style='border-collapse:collapse;margin:0.5rem 0;border:0'><caption style='text-align:left;"
        f"font-weight:bold;color:{palette.INK};padding:0.2rem 0'>{escape(caption)}</caption>"
        f"<tbody>{rows}</tbody></table>"
    )


def _row(label: str, text: str) -> str:
    return (
        f"<tr><th scope='row' style='{_CELL};font-weight:normal;{_SOFT}'>{escape(label)}</th>"
        f"<td style='{_CELL}'>{escape(text)}</td></tr>"
    )


def _grid(drawings: Sequence[Drawing], width: str) -> str:
    # The SVG is the course's own text from the work order, so it goes in as it is; the caption is escaped.
    figures = "".join(
        f"<figure style='margin:0'>{one.svg}<figcaption style='padding:0.15rem 0 0.5rem;color:{palette.INK}'>"
        f"{escape(one.caption)}</figcaption></figure>"
        for one in drawings
    )
    return (
        f"<div style='display:grid;gap:0.4rem 1rem;"
        f"grid-template-columns:repeat(auto-fill,minmax(min({width},100%),1fr))'>{figures}</div>"
    )


def _choices(choices: Sequence[str]) -> str:
    items = "".join(f"<li style='margin:0.15rem 0'>{escape(choice)}</li>" for choice in choices)
    return f"<ol style='margin:0.2rem 0;padding-left:1.8rem'>{items}</ol>"


def _lead(asked: Question) -> str:
    """Say what to do with listed steps; choices speak for themselves."""
    if asked.kind != "sequence":
        return ""
    return f"<p style='margin:0 0 0.3rem'>{escape(STEPS_LEAD)}</p>"


def _wanted(asked: Question) -> str:
    if asked.kind == "written":
        return "<p style='margin:0'>Your own words, in the cell below. Your instructor marks it.</p>"
    if asked.kind == "task":
        return "<p style='margin:0'>Work on a real vehicle. Your instructor watches and marks it.</p>"
    unit = f" in {escape(asked.unit)}" if asked.unit else ""
    if asked.kind == "table":
        return f"<p style='margin:0'>A list of {asked.count} numbers{unit}.</p>{_choices(asked.labels)}"
    return f"<p style='margin:0'>One number{unit}.</p>"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _points(points: float) -> str:
    return f"{points:g} mark" if points == 1 else f"{points:g} marks"
