"""What a page shows without a kernel: a figure with its caption, a table, words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from urllib.parse import quote


@dataclass(frozen=True)
class Shown:
    """Something to look at in a notebook, with nothing to press.

    Attributes:
        text: the words, for a screen reader, a printed page, a plain terminal.
        html: the same with its table or figure.
        svg: the drawing; empty for none.
    """

    text: str
    html: str
    svg: str = ""

    def _repr_mimebundle_(self, include: object = None, exclude: object = None) -> dict[str, str]:
        bundle = {"text/plain": self.text, "text/html": self.html}
        return bundle | ({"image/svg+xml": self.svg} if self.svg else {})


def figure(svg: str, title: str, words: str, facts: str = "") -> str:
    """Return a drawing and its caption as a figure that needs no kernel and survives a strict sanitiser.

    The drawing travels as an image: a notebook that is not trusted yet drops inline SVG, not images.

    >>> figure("<svg/>", "Dial", "A dial.")[:39]
    '<figure style="margin: 0"><img src="dat'
    """
    source = "data:image/svg+xml;charset=utf-8," + quote(svg, safe=" /:=,;()")
    return (
        f'<figure style="margin: 0"><img src="{source}" alt="{escape(title)}" width="640">'
        f"<figcaption>{escape(caption(title, words))}{facts}</figcaption></figure>"
    )


def caption(title: str, words: str) -> str:
    """Join a title and a sentence.

    >>> caption("Metal enough?", "Look."), caption("A dial", "Look.")
    ('Metal enough? Look.', 'A dial. Look.')
    """
    return f"{title} {words}" if title.endswith(("?", ".")) else f"{title}. {words}"


def table(rows: Sequence[Sequence[str]]) -> str:
    """Return a small table as HTML, the first row its heads; nothing for no rows.

    >>> table([["What", "Found"], ["Run-out", "0.05 mm"]]).count("<tr>")
    2
    """
    if not rows:
        return ""
    head, *body = rows
    # The notebook aligns tables to the right and in small type, as for numbers; these hold words.
    style = 'style="text-align: left; font-size: 1.1em"'
    heads = "".join(f'<th scope="col" {style}>{escape(cell)}</th>' for cell in head)
    lines = "".join(
        f'<tr><th scope="row" {style}>{escape(first)}</th>'
        + "".join(f"<td {style}>{escape(cell)}</td>" for cell in rest)
        + "</tr>"
        for first, *rest in body
    )
    return f'<table class="bc-facts"><thead><tr>{heads}</tr></thead><tbody>{lines}</tbody></table>'
