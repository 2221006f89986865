"""Bottles of fluid on a shelf, with what their labels and caps tell."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from brakecourse.views import palette, svg

WIDTH, HEIGHT = 640, 330
FLOOR = 286.0
MOST = 4
_BASES = {
    "DOT 3": ("glycol-based", "brake fluid"),
    "DOT 4": ("glycol-based", "brake fluid"),
    "DOT 5.1": ("glycol-based", "brake fluid"),
    "DOT 5": ("silicone-based", "brake fluid"),
    "mineral oil": ("for presses", "and jacks"),
}
_HALF, _NECK, _TOP = 55.0, 17.0, 74.0
_EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}


@dataclass(frozen=True)
class Bottle:
    """A bottle on the shelf.

    Args:
        grade: what its label says: a grade, or ``"mineral oil"``.
        open_months: how long it has been open, in months; 0 while it is sealed.

    Raises:
        ValueError: there is no such label, or the months are no whole number, 0 or more.
    """

    grade: str
    open_months: int = 0

    def __post_init__(self) -> None:
        if self.grade not in _BASES:
            raise ValueError(f"A label must be one of {', '.join(_BASES)}, but it was {self.grade!r}.")
        if (
            isinstance(self.open_months, bool)
            or not isinstance(self.open_months, int)
            or self.open_months < 0
        ):
            raise ValueError(
                f"The months must be a whole number, 0 or more, but it was {self.open_months!r}."
            )

    @property
    def sealed(self) -> bool:
        """Whether its cap was never opened."""
        return self.open_months == 0


def bottle_words(place: int, bottle: Bottle) -> str:
    """Name a bottle by its place, label and cap.

    >>> bottle_words(0, Bottle("DOT 4", 3))
    'bottle 1: DOT 4, opened'
    """
    return f"bottle {place + 1}: {bottle.grade}, {'sealed' if bottle.sealed else 'opened'}"


def fluid_bottles_svg(bottles: Sequence[Bottle], *, uid: str, title: str = "Bottles on a shelf") -> str:
    """Draw one to four bottles on a shelf.

    Args:
        bottles: from the left.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells labels and caps, and judges nothing.

    Raises:
        ValueError: no bottle, more than four, or something else than bottles.

    Source:
        Common practice, no source.

    Example:
        >>> fluid_bottles_svg([Bottle("DOT 4")], uid="b1").startswith("<svg")
        True
    """
    svg.check_uid(uid)
    if not isinstance(bottles, Sequence) or not 1 <= len(bottles) <= MOST:
        raise ValueError(f"A shelf must hold 1 to {MOST} bottles, but it was {str(bottles)[:40]!r}.")
    if not all(isinstance(one, Bottle) for one in bottles):
        raise ValueError(f"A shelf must hold bottles, but it was {str(bottles)[:40]!r}.")
    pitch = WIDTH / len(bottles)
    body = _shelf() + "".join(
        svg.group(
            _bottle(one, place, uid),
            transform=f"translate({svg.num(pitch * (place + 0.5))} 0)",
            data_part=f"bottle-{place + 1}",
        )
        for place, one in enumerate(bottles)
    )
    told = " ".join(_told(place, one) for place, one in enumerate(bottles))
    return svg.frame(
        WIDTH,
        HEIGHT,
        body,
        uid=uid,
        title=title,
        desc=f"Bottles on a shelf, from the left. {told}",
        defs=_defs(uid),
    )


def _told(place: int, bottle: Bottle) -> str:
    cap = "its cap is sealed" if bottle.sealed else f"a tag says: opened {_months(bottle)} ago"
    return f"Bottle {place + 1}: {bottle.grade}, {' '.join(_BASES[bottle.grade])}; {cap}."


def _months(bottle: Bottle) -> str:
    return "1 month" if bottle.open_months == 1 else f"{bottle.open_months} months"


def _shelf() -> str:
    return svg.rect(0, FLOOR, WIDTH, 12, fill=palette.STEEL_MID, **_EDGE) + svg.rect(
        0, FLOOR + 12, WIDTH, 4, fill=palette.STEEL_DARK
    )


def _bottle(bottle: Bottle, place: int, uid: str) -> str:
    """Draw a bottle round x = 0: body, neck, cap, label, and the ring or the tag that tells its state."""
    shape = svg.path(
        *("M", -_NECK, _TOP, "V", _TOP + 12, "C", -_NECK, _TOP + 34, -_HALF, _TOP + 28, -_HALF, _TOP + 62),
        *("V", FLOOR - 10, "q", 0, 10, 10, 10, "H", _HALF - 10, "q", 10, 0, 10, -10, "V", _TOP + 62),
        *("C", _HALF, _TOP + 28, _NECK, _TOP + 34, _NECK, _TOP + 12, "V", _TOP, "Z"),
        fill=f"url(#{uid}-body)",
        **_EDGE,
    )
    gloss = svg.rect(
        -_HALF + 6, _TOP + 66, 6, FLOOR - _TOP - 84, rx="3", fill=palette.CHALK, fill_opacity="0.5"
    )
    return (
        shape
        + gloss
        + _cap(bottle, uid)
        + _label(bottle)
        + svg.text(0, FLOOR + 36, f"bottle {place + 1}", size=16, anchor="middle", font_weight="bold")
    )


def _cap(bottle: Bottle, uid: str) -> str:
    top = _TOP - 30
    ribs = [(x, top + 5, x, top + 23) for x in range(-16, 17, 4)]
    cap = svg.rect(-21, top, 42, 27, rx="4", fill=f"url(#{uid}-cap)", **_EDGE) + svg.strokes(
        ribs, stroke=palette.STEEL_MID, stroke_width="0.9"
    )
    if bottle.sealed:
        ring = svg.rect(-21, _TOP - 2, 42, 7, rx="2", fill=f"url(#{uid}-cap)", data_part="seal", **_EDGE)
        bridges = [(x, _TOP - 4, x, _TOP - 1) for x in (-16.0, -8.0, 0.0, 8.0, 16.0)]
        told = svg.text(0, 32, "sealed", size=15, anchor="middle")
        return cap + ring + svg.strokes(bridges, stroke=palette.RUBBER, stroke_width="2") + told
    tag = svg.polygon(
        [(30, 46), (38, 34), (92, 34), (92, 74), (38, 74), (30, 62)], fill=palette.CHALK, **_EDGE
    )
    # Once broken, the ring has slid down the neck.
    ring = svg.rect(-20, _TOP + 7, 40, 7, rx="2", fill=f"url(#{uid}-cap)", data_part="broken-seal", **_EDGE)
    string = svg.line(17, _TOP + 9, 13, 54, stroke=palette.STEEL_EDGE, stroke_width="1.2")
    words = svg.text(64, 51, "opened", size=13, anchor="middle") + svg.text(
        64, 67, _ago(bottle), size=13, anchor="middle"
    )
    return cap + ring + string + svg.group(tag + words, transform="translate(-20 -4)", data_part="tag")


def _ago(bottle: Bottle) -> str:
    return f"{bottle.open_months} mths" if bottle.open_months != 1 else "1 mth"


def _label(bottle: Bottle) -> str:
    first, second = _BASES[bottle.grade]
    size = 24 if len(bottle.grade) <= 5 else 21 if bottle.grade.startswith("DOT") else 17
    small = 15 if len(first) < 14 else 13.5
    return (
        svg.rect(-_HALF + 1, 150, 2 * _HALF - 2, 104, fill=palette.CHALK, **_EDGE)
        + svg.line(-_HALF + 8, 194, _HALF - 8, 194, stroke=palette.STEEL_MID, stroke_width="1")
        + svg.text(0, 182, bottle.grade, size=size, anchor="middle", font_weight="bold")
        + svg.text(0, 216, first, size=small, anchor="middle")
        + svg.text(0, 236, second, size=small, anchor="middle")
    )


def _defs(uid: str) -> str:
    body = [
        (0, palette.STEEL_MID),
        (0.25, palette.STEEL_LIGHT),
        (0.6, palette.STEEL),
        (1, palette.STEEL_DARK),
    ]
    cap = [(0, palette.INK), (0.35, palette.STEEL_DARK), (1, palette.INK)]
    return svg.gradient(f"{uid}-body", body, across=True) + svg.gradient(f"{uid}-cap", cap, across=True)
