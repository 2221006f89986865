"""What a description tells of a pad: what is to be seen, never what it means."""

from __future__ import annotations

from brakecourse.views.drawings._pad_shape import DrawnPad

_LOOKS = {
    "glazed": "shines like glass",
    "contaminated with brake fluid": "has a wet brown stain with tide lines in its middle",
    "contaminated with grease": "is smeared with something black and thick along its lower edge",
    "uneven transfer": "has dark and bright patches with clear edges",
    "cracked": "has hair cracks",
    "grooved": "has grooves along the way that the rotor slides",
}
_SEEN_MM = 0.25


def face_words(pad: DrawnPad) -> str:
    """Return how the face looks, to follow "its face".

    >>> from brakecourse.trade.pads import PadReading
    >>> face_words(DrawnPad(PadReading(6, 6, 6, 6), 120, 45, 12))
    'is dull and grainy all over'
    """
    told = [_LOOKS[look] for look in pad.looks if look in _LOOKS]
    if pad.reading.step_mm > _SEEN_MM:
        told.append("lies lower in a strip along the outer edge")
    if not told:
        return "is dull and grainy all over"
    return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"


def slope_words(left: float, right: float, ends: tuple[str, str]) -> str:
    """Return how a side of the lining runs from left to right, in words without numbers."""
    if abs(left - right) < _SEEN_MM:
        return f"about as thick at the {ends[0]} as at the {ends[1]}"
    thin, thick = ends if left < right else ends[::-1]
    return f"thinner at the {thin} than at the {thick}"
