"""A steel rule laid along a part, the part's left end at zero."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._line_words import stands
from brakecourse.views.drawings._rule import LINES_PER_NUMBER, rule, rule_defs

SHORTEST_MM, LONGEST_MM = 20.0, 150.0
WIDTH, HEIGHT = 480, 216
ZERO_X, WAY_PX, RULE_Y = 26.0, 424.0, 112.0


def rule_svg(length_mm: float, *, full_mm: float = 100, uid: str, title: str = "Steel rule") -> str:
    """Draw a rule along a part.

    Args:
        length_mm: of the part, in mm, 0 to the rule's end.
        full_mm: the rule's last line, in mm, 20 to 150.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells at which lines the part ends, never its length.

    Raises:
        ValueError: a length is no number or out of range.

    Source:
        Common practice, no source.

    Example:
        >>> rule_svg(37, uid="u1").startswith("<svg")
        True
    """
    full = within(full_mm, "last line of the rule in mm", SHORTEST_MM, LONGEST_MM)
    length = within(length_mm, "length of the part in mm", 0, full)
    svg.check_uid(uid)
    px = WAY_PX / full
    part = svg.rect(
        ZERO_X,
        44,
        length * px,
        RULE_Y - 45,
        fill=f"url(#{uid}-part)",
        stroke=palette.STEEL_EDGE,
        stroke_width="1.2",
        data_part="part",
    )
    end = ZERO_X + length * px
    edges = [(ZERO_X, 34, ZERO_X, RULE_Y), (end, 34, end, RULE_Y)]
    body = (
        part
        + svg.strokes(edges, stroke=palette.VERMILLION, stroke_width="1.4", stroke_dasharray="5 3")
        + svg.text(ZERO_X, 26, "the part, from its left end", size=16)
        + rule(ZERO_X, RULE_Y, full, px, uid=uid, breadth=76, ends=(18.0, 22.0), size=18)
        + svg.text(WIDTH - 20, RULE_Y + 68, "mm", size=15, anchor="end", fill=palette.INK_SOFT)
    )
    desc = (
        "A steel rule with a line for each millimetre lies along a part. The part's left end stands at zero, "
        f"its right end {stands(length, 1, LINES_PER_NUMBER)}."
    )
    steel = [(0, palette.STEEL_MID), (0.35, palette.STEEL_WHITE), (1, palette.STEEL_DARK)]
    defs = rule_defs(uid) + svg.gradient(f"{uid}-part", steel)
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=defs)
