"""Put a finished drawing into another one."""

from __future__ import annotations

import re

_OPENING = re.compile(r"^<svg[^>]*>")
_NAMED = re.compile(r"<title[^>]*>.*?</title><desc[^>]*>(.*?)</desc>", re.DOTALL)
_PAPER = re.compile(r'<rect x="0" y="0" [^>]*rx="10"[^>]*/>')


def inset(drawn: str, x: float, y: float, width: float, height: float, view: str) -> str:
    """Return a finished drawing as a part of another, without its name and its paper.

    Args:
        drawn: SVG text of a drawing.
        x, y, width, height: the place in the other drawing.
        view: which part of it is shown, as a ``viewBox``.
    """
    body = _PAPER.sub("", _NAMED.sub("", _OPENING.sub("", drawn, count=1), count=1), count=1)
    return (
        f'<svg x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}" viewBox="{view}" '
        f'font-family="sans-serif">{body}'
    )


def description(drawn: str) -> str:
    """Return the description of a finished drawing, ready to be written out again."""
    found = _NAMED.search(drawn)
    return found[1] if found else ""
