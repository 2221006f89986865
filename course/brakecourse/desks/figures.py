"""Pictures and tables of the exports, on a page: each picture with its words and its figures."""

from __future__ import annotations

import base64
from html import escape

from brakecourse.desks.parts import table
from brakecourse.exports.pictures import Picture
from brakecourse.exports.sheets import Table


def figure(picture: Picture) -> str:
    """Return a picture with its sentence and its table as HTML."""
    data = base64.b64encode(picture.png()).decode("ascii")
    return (
        f'<figure><img src="data:image/png;base64,{data}" alt="{escape(picture.alt, quote=True)}">'
        f"<figcaption>{escape(picture.sentence)}</figcaption></figure>{sheet(picture.table)}"
    )


def sheet(found: Table) -> str:
    """Return an export's table as HTML; numbers stand to the right."""
    numbers = [
        bool(found.rows) and all(value is None or not isinstance(value, str) for value in column)
        for column in zip(*found.rows, strict=True)
    ] or [False] * len(found.headings)
    headings = [
        f"{'>' if number else ''}{heading.heading}"
        for heading, number in zip(found.headings, numbers, strict=True)
    ]
    return table(found.title, headings, found.rows)
