"""One palette for everything a learner looks at.

Accents are the eight colours of Okabe and Ito, which stay apart for colour-blind eyes. An accent never
speaks alone: a word, a mark or a pattern always stands beside it. Everything else is paper, ink and steel.

**Source**: the colours are from memory of M. Okabe and K. Ito, "Color Universal Design" (2008).
"""

from __future__ import annotations

BLACK = "#000000"
ORANGE = "#E69F00"
SKY_BLUE = "#56B4E9"
BLUISH_GREEN = "#009E73"
YELLOW = "#F0E442"
BLUE = "#0072B2"
VERMILLION = "#D55E00"
REDDISH_PURPLE = "#CC79A7"

OKABE_ITO: dict[str, str] = {
    "black": BLACK,
    "orange": ORANGE,
    "sky blue": SKY_BLUE,
    "bluish green": BLUISH_GREEN,
    "yellow": YELLOW,
    "blue": BLUE,
    "vermillion": VERMILLION,
    "reddish purple": REDDISH_PURPLE,
}
"""The eight accents by name."""

PAPER = "#FBFBF8"
PANEL = "#F1F3F3"
INK = "#171C20"
INK_SOFT = "#48525A"
RULE = "#C3C9CD"

STEEL_WHITE = "#F4F6F7"
STEEL_LIGHT = "#E1E5E8"
STEEL = "#BCC4CA"
STEEL_MID = "#98A2AA"
STEEL_DARK = "#6B757D"
STEEL_EDGE = "#3E474E"
IRON = "#A9AEB1"
RUST = "#8A4B24"
CHALK = "#FFFFFF"
DIAL_FACE = "#FDFDFB"
PLASTIC = "#E9E8DE"
FLUID_PALE = "#E8D48C"
FLUID_DARK = "#6F4E2C"
LINING = "#B7A795"
RUBBER = "#2E3338"
DISPLAY = "#CFD8CC"
DISPLAY_SHADE = "#BDC7BA"

# Blue and vermillion for words: the same hues, dark enough to read on paper.
BLUE_TEXT = "#00598C"
VERMILLION_TEXT = "#9C4300"

TEXT_PAIRS: tuple[tuple[str, str], ...] = (
    (INK, PAPER),
    (INK, PANEL),
    (INK, DIAL_FACE),
    (INK, STEEL_WHITE),
    (INK, IRON),
    (INK, STEEL_LIGHT),
    (INK, STEEL),
    (INK, STEEL_MID),
    (INK, CHALK),
    (INK, PLASTIC),
    (INK, LINING),
    (INK, DISPLAY),
    (INK_SOFT, CHALK),
    (INK_SOFT, PAPER),
    (INK_SOFT, PANEL),
    (INK_SOFT, DIAL_FACE),
    (BLUE_TEXT, PAPER),
    (BLUE_TEXT, PANEL),
    (BLUE_TEXT, DIAL_FACE),
    (VERMILLION_TEXT, PAPER),
    (VERMILLION_TEXT, PANEL),
    (INK, FLUID_PALE),
    (VERMILLION_TEXT, CHALK),
    (VERMILLION_TEXT, STEEL_WHITE),
    (INK, SKY_BLUE),
    (INK_SOFT, CHALK),
)
"""Every pair of text colour and background that the drawings use. Words need a contrast of 4.5 to 1."""


def contrast(colour: str, other: str) -> float:
    """Return the contrast ratio of two colours, from 1 (the same) to 21 (black on white).

    Args:
        colour: ``"#rrggbb"``.
        other: ``"#rrggbb"``.

    Returns:
        The ratio, the larger luminance on top.

    Raises:
        ValueError: a colour is not written ``"#rrggbb"``.

    Source:
        W3C, Web Content Accessibility Guidelines 2.1, definitions "contrast ratio" and "relative
        luminance" (from memory).

    Example:
        >>> contrast("#000000", "#ffffff")
        21.0
    """
    lighter, darker = sorted((_luminance(colour), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    try:
        if len(colour) != 7 or colour[0] != "#":
            raise ValueError
        channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    except (TypeError, ValueError):
        raise ValueError(f"A colour must be written like '#0072B2', but it was {colour!r}.") from None
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
