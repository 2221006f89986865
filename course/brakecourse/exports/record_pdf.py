"""Draw a student's record: one page of PDF, its text selectable. The same record gives the same bytes."""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from brakecourse.exports.record_page import IT_IS, IT_IS_NOT, STATES, CompetencyLine, ModuleLine, RecordPage

_SANS, _BOLD = "CourseSans", "CourseSans-Bold"
_MARGIN, _HEADING, _FOOT = 40.0, 27.0, 88.0
_UNKNOWN = "too little to tell"
_Colour = tuple[float, float, float]
_INK, _PALE = (0.13, 0.13, 0.13), (0.42, 0.42, 0.42)
_BLUE = (0.0, 0.447, 0.698)  # Okabe and Ito's
_NO_GLYPH = "\u25a1"


@cache
def _fonts() -> frozenset[int]:
    """Load the typeface (DejaVu Sans, which comes with matplotlib) and return the signs that it has."""
    import matplotlib
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    folder = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    plain = TTFont(_SANS, str(folder / "DejaVuSans.ttf"))
    pdfmetrics.registerFont(plain)
    pdfmetrics.registerFont(TTFont(_BOLD, str(folder / "DejaVuSans-Bold.ttf")))
    return frozenset(plain.face.charToGlyph)


def lacking_signs(text: str) -> str:
    """Return the signs of a text that the page's typeface does not have, each once.

    >>> lacking_signs("Žofia Ωmega"), lacking_signs("王 Wang")
    ('', '王')
    """
    return "".join(dict.fromkeys(sign for sign in text if ord(sign) not in _fonts() and not sign.isspace()))


def pdf_bytes(page: RecordPage) -> bytes:
    """Return one student's record as a PDF file of one page."""
    from reportlab.lib.pagesizes import A4, LETTER
    from reportlab.pdfgen.canvas import Canvas

    _fonts()
    stream, size = io.BytesIO(), LETTER if page.paper == "US Letter" else A4
    canvas = Canvas(stream, pagesize=size, invariant=1, pageCompression=1, lang="en")
    canvas.setTitle("Course record")
    canvas.setAuthor(page.class_name)
    _Drawn(canvas, size[0], size[1]).draw(page)
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


class _Drawn:
    """The page while it is drawn, from the top down. Lengths are in points, 1/72 of an inch."""

    def __init__(self, canvas: Any, width: float, height: float) -> None:
        self._canvas = canvas
        self._left, self._right = _MARGIN, width - _MARGIN
        self._y = height - _MARGIN

    def draw(self, page: RecordPage) -> None:
        """Draw it all. What the head leaves is shared out among the lines, so it is always one page."""
        self._head(page)
        lines = len(page.modules) + len(page.competencies)
        pitch = min(14.5, (self._y - _MARGIN - _FOOT - 2 * _HEADING) / lines)
        self._modules(page.modules, pitch)
        self._competencies(page.competencies, pitch)
        self._foot()

    def _head(self, page: RecordPage) -> None:
        self._text(self._left, self._y - 8, "DISC-BRAKE COURSE: RECORD", _BOLD, 8, _BLUE)
        when = f"{page.as_of.day} {page.as_of:%B %Y}" if page.as_of is not None else "no mark yet"
        self._text(self._right, self._y - 8, f"Date of the last mark: {when}", _SANS, 8, _PALE, right=True)
        self._y -= 20
        self._lines(page.name, _BOLD, 19, 2, _INK)
        where = ", ".join(filter(None, (page.class_name, page.term)))
        self._lines(where, _SANS, 9.5, 2, _INK)
        self._text(self._left, self._y - 8, f"Student id: {page.student_id}", _SANS, 8, _PALE)
        self._y -= 16

    def _heading(self, words: str, columns: Sequence[tuple[float, str]] = ()) -> None:
        self._y -= _HEADING - 9
        self._text(self._left, self._y, words, _BOLD, 10.5, _BLUE)
        for x, name in columns:
            self._text(x, self._y, name, _SANS, 7, _PALE, right=True)
        self._y -= 4
        self._rule(_BLUE, 0.8)
        self._y -= 5

    def _modules(self, modules: Sequence[ModuleLine], pitch: float) -> None:
        marks, percent = self._right - 52, self._right
        self._heading("Modules", [(marks, "marks"), (percent, "share")])
        size = min(8.5, pitch * 0.64)
        for line in modules:
            base = self._y - pitch * 0.68
            self._text(self._left + 12, base, line.number, _SANS, size, _PALE, right=True)
            self._text(self._left + 20, base, line.title, _SANS, size, _INK)
            self._text(self._left + 218, base, line.status, _SANS, size, _INK if line.marks else _PALE)
            self._text(marks, base, line.marks, _SANS, size, _INK, right=True)
            self._text(percent, base, line.percent, _BOLD, size, _INK, right=True)
            self._next_line(pitch)

    def _competencies(self, lines: Sequence[CompetencyLine], pitch: float) -> None:
        self._heading("Competencies: the student …", [(self._right, "share of the marks")])
        state, size = self._right - 98, min(7.8, pitch * 0.6)
        for line in lines:
            base = self._y - pitch * 0.68
            self._mark(self._left + 5, base + size * 0.36, line.state)
            statement = self._left + 20
            fitted = self._fitted(line.statement, _SANS, size, state - 8 - statement)
            self._text(statement, base, line.statement, _SANS, fitted, _INK)
            font = _BOLD if line.state == "mastered" else _SANS
            self._text(state, base, line.state, font, size, _PALE if line.state == _UNKNOWN else _INK)
            self._text(self._right, base, line.percent, _SANS, size, _INK, right=True)
            self._next_line(pitch)

    def _mark(self, x: float, y: float, state: str) -> None:
        """Draw the state once more as a mark: full, half, or an empty ring. The words stand in the line."""
        self._canvas.setStrokeColorRGB(*_BLUE)
        self._canvas.setFillColorRGB(*_BLUE)
        self._canvas.setLineWidth(0.8)
        self._canvas.circle(x, y, 2.7, stroke=1, fill=int(state == "mastered"))
        if state == "not yet":
            self._canvas.wedge(x - 2.7, y - 2.7, x + 2.7, y + 2.7, 90, 180, stroke=0, fill=1)

    def _foot(self) -> None:
        self._y = _MARGIN + _FOOT - 14
        self._rule(_PALE, 0.5)
        self._y -= 11
        for words, text in (("What this is. ", IT_IS), ("What this is not. ", IT_IS_NOT), ("", STATES)):
            self._paragraph(words, text, 6.9)

    def _paragraph(self, lead: str, text: str, size: float) -> None:
        wrapped = _wrapped(lead + text, _SANS, size, self._right - self._left - 6)
        for number, line in enumerate(wrapped):
            x = self._left
            if not number and lead:
                self._text(x, self._y, lead, _BOLD, size, _INK)
                x += _width(lead, _BOLD, size)
                line = line.removeprefix(lead)
            self._text(x, self._y, line, _SANS, size, _INK)
            self._y -= size * 1.32
        self._y -= 1.5

    def _lines(self, text: str, font: str, size: float, most: int, colour: _Colour) -> None:
        """Draw a text over the whole width: in one line, smaller, or on more lines, but never cut off."""
        room = self._right - self._left
        while len(_wrapped(text, font, size, room)) > (1 if size > 8 else most) and size > 3.5:
            size -= 0.25
        for line in _wrapped(text, font, size, room):
            self._text(self._left, self._y - size, line, font, size, colour)
            self._y -= size * 1.25
        self._y -= 2

    def _fitted(self, text: str, font: str, size: float, room: float) -> float:
        return min(size, size * room / max(_width(text, font, size), 1.0))

    def _next_line(self, pitch: float) -> None:
        self._y -= pitch
        self._rule((0.88, 0.88, 0.88), 0.4)

    def _rule(self, colour: _Colour, width: float) -> None:
        self._canvas.setStrokeColorRGB(*colour)
        self._canvas.setLineWidth(width)
        self._canvas.line(self._left, self._y, self._right, self._y)

    def _text(
        self, x: float, y: float, text: str, font: str, size: float, colour: _Colour, right: bool = False
    ) -> None:
        self._canvas.setFillColorRGB(*colour)
        self._canvas.setFont(font, size)
        self._canvas.drawString(x - _width(text, font, size) if right else x, y, _drawable(text))


# Most of what stands on a page stands on everyone's, and most of the rest on several.
_same_on_many = lru_cache(maxsize=4096)


@_same_on_many
def _drawable(text: str) -> str:
    lacking = lacking_signs(text)
    return "".join(_NO_GLYPH if sign in lacking else sign for sign in text)


@_same_on_many
def _width(text: str, font: str, size: float) -> float:
    from reportlab.pdfbase import pdfmetrics

    return float(pdfmetrics.stringWidth(_drawable(text), font, size))


@_same_on_many
def _wrapped(text: str, font: str, size: float, room: float) -> tuple[str, ...]:
    from reportlab.lib.utils import simpleSplit

    lines: list[str] = []
    for line in simpleSplit(_drawable(text), font, size, room):
        # A word that is wider than the page is broken where the page ends.
        while _width(line, font, size) > room:
            fits = next(n for n in range(len(line), 0, -1) if n == 1 or _width(line[:n], font, size) <= room)
            lines.append(line[:fits])
            line = line[fits:]
        lines.append(line)
    return tuple(lines)
