"""Put drawings one below the other in a single drawing."""

from __future__ import annotations

import re
from collections.abc import Sequence

from brakecourse.views import svg

_SIZE = re.compile(r'^<svg [^>]*?viewBox="0 0 (\d+) (\d+)"')
_GAP = 8


def stack_svg(drawings: Sequence[str], *, uid: str, title: str) -> str:
    """Return one drawing that shows the given ones from top to bottom, each with its own description.

    Raises:
        ValueError: a text is no drawing of this course.
    """
    top, width, body = 0, 0, ""
    for drawing in drawings:
        size = _SIZE.match(drawing)
        if not size:
            raise ValueError(f"A drawing as SVG text was expected, but it began with {drawing[:40]!r}.")
        wide, high = int(size[1]), int(size[2])
        body += drawing.replace("<svg ", f'<svg y="{top}" width="{wide}" height="{high}" ', 1)
        top, width = top + high + _GAP, max(width, wide)
    return svg.frame(
        width, top - _GAP, body, uid=uid, title=title, desc=f"{len(drawings)} drawings, one below the other."
    )
