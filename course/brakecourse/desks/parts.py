"""The small parts that a desk's pages are put together from. Text from outside is escaped."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Any

import ipywidgets as widgets
from markupsafe import Markup

_LABEL = {"description_width": "13em"}
_WIDE = {"width": "560px", "max_width": "100%"}


def html(text: str = "") -> widgets.HTML:
    """Return a piece of HTML, as it is. Use `escape` for whatever people typed or handed in."""
    return widgets.HTML(text)


def table(
    caption: str,
    headings: Sequence[str],
    rows: Sequence[Sequence[object]],
    *,
    tall: bool = False,
) -> str:
    """Return a table as HTML; a `Markup` cell stays as it is, anything else is escaped.

    Args:
        caption: what the table shows.
        headings: of the columns; one that starts with '>' is for numbers, set to the right.
        rows: a row's first cell is its heading.
        tall: show it at its whole height; else a long one scrolls.

    >>> table("Marks", ["Student", ">Points"], [["<s01>", 2]]).count("&lt;s01&gt;")
    1
    """
    right = [heading.startswith(">") for heading in headings]
    head = "".join(f'<th scope="col">{escape(one.lstrip(">"))}</th>' for one in headings)
    body = "".join(_row(row, right) for row in rows)
    kind = "bc-scroll bc-tall" if tall else "bc-scroll"
    # What scrolls must be reachable with the keyboard, and then needs a name.
    return (
        f'<div class="{kind}" tabindex="0" role="region" aria-label="{escape(caption)}">'
        f'<table class="bc-table"><caption>{escape(caption)}</caption><thead><tr>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table></div>"
    )


def _row(row: Sequence[object], right: Sequence[bool]) -> str:
    cells = []
    for at, value in enumerate(row):
        text = value if isinstance(value, Markup) else escape("" if value is None else str(value))
        kind = ' class="bc-number"' if at < len(right) and right[at] else ""
        cells.append(f'<th scope="row"{kind}>{text}</th>' if at == 0 else f"<td{kind}>{text}</td>")
    return f"<tr>{''.join(cells)}</tr>"


def note(text: str) -> str:
    """Return a remark as HTML."""
    return f'<p class="bc-note">{escape(text)}</p>'


def caution(text: str) -> str:
    """Return a remark that must not be passed over, as HTML."""
    return f'<p class="bc-caution"><strong>Mind:</strong> {escape(text)}</p>'


def heading(text: str) -> widgets.HTML:
    """Return the heading of a part of a page."""
    return html(f"<h3>{escape(text)}</h3>")


def text_field(words: str, value: str = "", placeholder: str = "") -> widgets.Text:
    """Return a line to type in."""
    return widgets.Text(
        description=words, value=value, placeholder=placeholder, tooltip=words, style=_LABEL, layout=_WIDE
    )


def number_field(words: str, value: float, low: float, high: float, step: float) -> widgets.BoundedFloatText:
    """Return a field for a number in a range."""
    return widgets.BoundedFloatText(
        description=words,
        value=value,
        min=low,
        max=high,
        step=step,
        tooltip=words,
        style=_LABEL,
        layout={"width": "320px", "max_width": "100%"},
    )


def choose(words: str, options: Sequence[Any], value: Any = None) -> widgets.Dropdown:
    """Return a list to choose one line of. Options may be pairs of the words shown and a value."""
    return widgets.Dropdown(
        description=words, options=list(options), value=value, tooltip=words, style=_LABEL, layout=_WIDE
    )


def tick(words: str, value: bool = False) -> widgets.Checkbox:
    """Return a box to tick."""
    return widgets.Checkbox(
        description=words, value=value, indent=False, tooltip=words, layout={"width": "max-content"}
    )


def upload(words: str, accept: str, *, several: bool = False) -> widgets.FileUpload:
    """Return a button that takes files from the person's own computer.

    Args:
        words: what stands on it.
        accept: endings of file names, with commas: ``".csv,.zip"``.
        several: whether it takes more than one.
    """
    made = widgets.FileUpload(description=words, accept=accept, multiple=several)
    made.layout.width = "max-content"
    made.tooltip = words
    return made


def row(*children: widgets.Widget) -> widgets.HBox:
    """Return parts side by side; they wrap on a narrow page."""
    return widgets.HBox(
        list(children), layout={"flex_flow": "row wrap", "align_items": "center", "grid_gap": "6px 12px"}
    )


def shown(part: widgets.Widget, visible: bool) -> None:
    """Show a part, or take it out of sight."""
    part.layout.display = "" if visible else "none"


def fold(words: str, *children: widgets.Widget) -> widgets.VBox:
    """Return parts under a button that shows and hides them; they are hidden at first."""
    inside = widgets.VBox(list(children))
    shown(inside, False)
    button = widgets.Button(description=f"{words}: show", layout={"width": "max-content"})

    def pressed(_: object) -> None:
        opens = inside.layout.display == "none"
        shown(inside, opens)
        button.description = f"{words}: {'hide' if opens else 'show'}"

    button.on_click(pressed)
    return widgets.VBox([button, inside])
