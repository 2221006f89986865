"""A caliper cut through: how its pistons follow the pads as they wear, and fluid follows the pistons."""

from __future__ import annotations

from brakecourse.trade.fluid import CaliperKind
from brakecourse.views import palette, svg
from brakecourse.views.drawings._caliper_body import body, pads_and_rotor, passages
from brakecourse.views.drawings._caliper_places import CaliperCut, places
from brakecourse.views.drawings._caliper_words import followed, labels, tank
from brakecourse.views.drawings._hatch import lining_cut, steel_cut

WIDTH, HEIGHT = 640, 500


def caliper_follow_svg(
    cut: CaliperCut,
    *,
    level_mm: float,
    min_mm: float,
    max_mm: float,
    height_mm: float,
    uid: str,
    title: str = "A caliper cut through",
) -> str:
    """Draw a caliper cut through the middle of a piston, its pads and rotor, and the reservoir that feeds it.

    Args:
        cut: the caliper with its pads as far worn as they are.
        level_mm: level in the reservoir above its floor, mm, 0 to the height.
        min_mm, max_mm: the marks above the floor, mm.
        height_mm: inside height of the reservoir, mm.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. The caliper is at true proportion, the reservoir at a scale of its own. The description
        tells what stands where, and no length.

    Raises:
        ValueError: a length is no number or out of range.

    Source:
        The make of a disc brake: common practice, no source.

    Example:
        >>> cut = CaliperCut("floating", 54, 46, 22, 11.5, wear_mm=4)
        >>> caliper_follow_svg(cut, level_mm=20, min_mm=9, max_mm=36, height_mm=50, uid="c")[:4]
        '<svg'
    """
    if not isinstance(cut, CaliperCut):
        raise ValueError(f"The caliper must be a CaliperCut, but it was {str(cut)[:40]!r}.")
    svg.check_uid(uid)
    at = places(cut)
    drawn = (
        tank(level_mm, min_mm, max_mm, height_mm, uid)
        + passages(at)
        + body(at, uid)
        + pads_and_rotor(at, uid)
        + followed(at, uid)
        + labels(at)
    )
    desc = _desc(cut, level_mm, max_mm)
    return svg.frame(WIDTH, HEIGHT, drawn, uid=uid, title=title, desc=desc, defs=_defs(uid))


_HOW: dict[CaliperKind, str] = {
    "floating": "A floating caliper: the piston stands on one side, and the body reaches over the rotor and "
    "slides. ",
    "fixed": "A fixed caliper: a piston stands on each side, and the body does not move. ",
}


def _desc(cut: CaliperCut, level_mm: float, max_mm: float) -> str:
    if cut.wear_mm:
        told = (
            "Both linings have worn. Each piston has come out of its bore and still touches its pad. Fluid "
            "fills the room that it left behind. "
        )
        told += "The body has slid towards the piston's side. " if cut.kind == "floating" else ""
    else:
        told = "Both linings are new, and each piston stands deep in its bore. "
    where = "at MAX" if abs(level_mm - max_mm) < 0.25 else "below MAX" if level_mm < max_mm else "above MAX"
    return (
        f"{_HOW[cut.kind]}From the middle outwards: the rotor, a lining on each side, their steel plates. "
        f"{told}A hose leads up to the reservoir, whose fluid stands {where}."
    )


def _defs(uid: str) -> str:
    stops = [(0, palette.STEEL_MID), (0.35, palette.STEEL_WHITE), (1, palette.STEEL_DARK)]
    dots = svg.circle(3, 3, 1.5, fill=palette.INK, fill_opacity="0.75")
    return (
        svg.gradient(f"{uid}-body", [(0, palette.STEEL_LIGHT), (0.5, palette.STEEL), (1, palette.STEEL_MID)])
        + svg.gradient(f"{uid}-bright", stops)
        + svg.pattern(f"{uid}-dots", 8, dots, turn_deg=45)
        + steel_cut(uid)
        + lining_cut(uid)
    )
