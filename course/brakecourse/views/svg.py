"""Small helpers to write SVG as text: numbers, shapes, and the frame that every drawing stands in.

The same input gives the same text on every machine: numbers are written with fixed decimals, nothing is
random, and ids come from the caller. Attribute names are Python names with ``_`` for ``-``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from html import escape as _escape

from brakecourse.views import palette

Point = tuple[float, float]
Segment = tuple[float, float, float, float]

_UID = re.compile(r"[A-Za-z][A-Za-z0-9_.-]*")


def escape(text: object) -> str:
    """Return the text safe to stand in an element or a quoted attribute."""
    return _escape(str(text), quote=True)


def num(value: float) -> str:
    """Write a coordinate: at most two decimals, no needless zeros, never a negative zero.

    Example:
        >>> num(12.0), num(0.126), num(-0.0001)
        ('12', '0.13', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _attributes(attributes: dict[str, object]) -> str:
    written = []
    for name, value in attributes.items():
        if value is not None:
            shown = num(value) if isinstance(value, float) else escape(value)
            written.append(f' {name.rstrip("_").replace("_", "-")}="{shown}"')
    return "".join(written)


def tag(name: str, content: str = "", /, **attributes: object) -> str:
    """Write an element. ``None`` leaves an attribute out; the content must already be escaped."""
    opening = f"<{name}{_attributes(attributes)}"
    return f"{opening}>{content}</{name}>" if content else f"{opening}/>"


def group(content: str, **attributes: object) -> str:
    """Write a ``<g>`` round some content."""
    return tag("g", content, **attributes)


def line(x1: float, y1: float, x2: float, y2: float, **attributes: object) -> str:
    """Write one straight line."""
    return tag("line", x1=num(x1), y1=num(y1), x2=num(x2), y2=num(y2), **attributes)


def strokes(segments: Iterable[Segment], **attributes: object) -> str:
    """Write many straight lines of one look as a single path, which keeps scales short."""
    path = "".join(f"M{num(x1)} {num(y1)}L{num(x2)} {num(y2)}" for x1, y1, x2, y2 in segments)
    return tag("path", d=path, fill="none", **attributes) if path else ""


def path(*steps: str | float, **attributes: object) -> str:
    """Write a path from its letters and numbers.

    Example:
        >>> path("M", 0, 0, "h", 2.5, "Z", fill="none")
        '<path d="M0 0h2.5Z" fill="none"/>'
    """
    drawn, after_number = "", False
    for step in steps:
        number = not isinstance(step, str)
        drawn += (" " if number and after_number else "") + (step if isinstance(step, str) else num(step))
        after_number = number
    return tag("path", d=drawn, **attributes)


def rect(x: float, y: float, width: float, height: float, **attributes: object) -> str:
    """Write a rectangle."""
    return tag("rect", x=num(x), y=num(y), width=num(width), height=num(height), **attributes)


def circle(x: float, y: float, radius: float, **attributes: object) -> str:
    """Write a circle."""
    return tag("circle", cx=num(x), cy=num(y), r=num(radius), **attributes)


def polygon(points: Iterable[Point], **attributes: object) -> str:
    """Write a closed outline."""
    return tag("polygon", points=_points(points), **attributes)


def polyline(points: Iterable[Point], **attributes: object) -> str:
    """Write an open outline."""
    return tag("polyline", points=_points(points), fill="none", **attributes)


def _points(points: Iterable[Point]) -> str:
    return " ".join(f"{num(x)},{num(y)}" for x, y in points)


def text(
    x: float,
    y: float,
    words: object,
    *,
    size: float = 14,
    fill: str = palette.INK,
    anchor: str = "start",
    **attributes: object,
) -> str:
    """Write words. ``y`` is the baseline."""
    return tag(
        "text",
        escape(words),
        x=num(x),
        y=num(y),
        font_size=num(size),
        fill=fill,
        text_anchor=anchor,
        **attributes,
    )


def gradient(id: str, stops: Iterable[tuple[float, str]], *, across: bool = False) -> str:
    """Write a linear gradient: from top to bottom, or from left to right when ``across``."""
    inner = "".join(tag("stop", offset=num(offset), stop_color=colour) for offset, colour in stops)
    direction = {"x2": "1", "y2": "0"} if across else {"x2": "0", "y2": "1"}
    return tag("linearGradient", inner, id=id, x1="0", y1="0", **direction)


def pattern(id: str, size: float, content: str, turn_deg: float = 0) -> str:
    """Write a repeating square tile, so that an area is told by its texture and not only by its colour."""
    turn = f"rotate({num(turn_deg)})" if turn_deg else None
    return tag(
        "pattern",
        content,
        id=id,
        width=num(size),
        height=num(size),
        patternUnits="userSpaceOnUse",
        patternTransform=turn,
    )


def frame(
    width: int,
    height: int,
    body: str,
    *,
    uid: str,
    title: str,
    desc: str,
    defs: str = "",
    background: str = palette.PAPER,
) -> str:
    """Write the whole drawing: role, title, description, own background, and a size that follows the page.

    Args:
        width: of the drawing, in its own units. It is also the largest width on the page, in pixels.
        height: of the drawing, in its own units.
        body: the shapes.
        uid: a word that no other drawing on the page has; every id in the drawing begins with it.
        title: the name that a screen reader says first.
        desc: what is to be seen, in sentences.
        defs: gradients and patterns.
        background: a colour of its own, so that the drawing reads the same on a dark page.

    Returns:
        The SVG text.

    Raises:
        ValueError: the uid cannot be an id, or the title is no text.
    """
    check_uid(uid)
    if not isinstance(title, str) or not title.strip():
        raise ValueError(f"A drawing's title must be some words, but it was {title!r}.")
    paper = rect(0, 0, width, height, rx="10", fill=background)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img" '
        f'aria-labelledby="{uid}-title {uid}-desc" font-family="sans-serif" '
        f'style="width:100%;max-width:{width}px;height:auto">'
        f'<title id="{uid}-title">{escape(title)}</title><desc id="{uid}-desc">{escape(desc)}</desc>'
        f"{tag('defs', defs) if defs else ''}{paper}{body}</svg>"
    )


def check_uid(uid: str) -> str:
    """Return the uid if it can begin an id.

    Raises:
        ValueError: it is empty, or has a sign that an id cannot have.
    """
    if not isinstance(uid, str) or not _UID.fullmatch(uid):
        raise ValueError(
            f"A drawing's uid must begin with a letter and go on with letters, digits, '_', '.' or '-', "
            f"but it was {uid!r}."
        )
    return uid
