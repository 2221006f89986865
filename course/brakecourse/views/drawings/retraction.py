"""Pushing a piston back: where its fluid goes. Caliper, hose, ABS unit, master cylinder, bleeder, bottle."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings._hatch import lining_cut, steel_cut
from brakecourse.views.drawings._retraction_lines import (
    abs_unit,
    arrows,
    bottle,
    bubbles,
    clear_hose,
    labels,
    master,
    pipes,
)
from brakecourse.views.drawings._retraction_parts import (
    bleeder,
    body,
    frame_of_press,
    pads_and_rotor,
    piston,
    screw_of_press,
)
from brakecourse.views.drawings._retraction_places import Push, places

WIDTH, HEIGHT = 820, 520


def retraction_svg(push: Push, *, uid: str, title: str = "Pushing the piston back") -> str:
    """Draw a floating caliper cut through, with everything that its fluid can flow to.

    Args:
        push: the caliper, and how far its piston has gone back.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. The caliper is at true proportion, everything else at a scale of its own. The description
        tells what stands where, and no length.

    Raises:
        ValueError: it is no Push, or the uid cannot be an id.

    Source:
        The make of a disc brake: common practice, no source.

    Example:
        >>> retraction_svg(Push(54, 46, 22, 11.5, 4, 5, pushed_mm=3), uid="r")[:4]
        '<svg'
    """
    if not isinstance(push, Push):
        raise ValueError(f"A Push was expected, but it was {str(push)[:40]!r}.")
    svg.check_uid(uid)
    at = places(push)
    drawn = (
        (frame_of_press(at) if push.press else "")
        + pipes(at)
        + master(push)
        + abs_unit()
        + body(at, uid)
        + piston(at, uid)
        + pads_and_rotor(at, uid)
        + (screw_of_press(at) if push.press else "")
        + (clear_hose(at) if push.hose else "")
        + bleeder(at)
        + bottle(push)
        + bubbles(at)
        + arrows(at)
        + labels(at)
    )
    return svg.frame(WIDTH, HEIGHT, drawn, uid=uid, title=title, desc=_desc(push), defs=_defs(uid))


def _desc(push: Push) -> str:
    far = (
        "Its piston still stands out."
        if push.pushed_mm < 0.05
        else "Its piston is home in its bore."
        if push.pushed_mm > push.travel_mm - 0.05
        else "Its piston has gone back a part of its way."
    )
    pads = "worn" if push.travel_mm > 1 else "new"
    press = (
        "A press stands on the body's back and, between the fingers, on the outer pad."
        if push.press
        else "There is no press."
    )
    told = {
        "open": "The bleeder is open.",
        "shut": "The bleeder is shut.",
        "not told": "The bleeder is covered by a question mark.",
    }[push.bleeder]
    told += (
        " A clear hose leads from it into a bottle, its end under fluid."
        if push.hose
        else " There is no clear hose on it. A bottle stands beside."
    )
    flows = ""
    if push.pushed_mm >= 0.05 and push.bleeder != "not told":
        flows = (
            " An arrow leads from the clear hose back into the bore."
            if push.bleeder == "open" and push.air
            else " Arrows lead from the bore through the bleeder to the bottle."
            if push.bleeder == "open"
            else " Arrows lead from the bore back up the hose, through the ABS unit, to the reservoir."
        )
    air = " Bubbles stand at the bleeder and in the bore." if push.air else ""
    return (
        f"A floating caliper over its rotor, cut through, with {pads} pads. {far} {press} {told}{flows}{air} "
        "A hose and a pipe lead from the caliper to the ABS unit and on to the master cylinder with its "
        "reservoir."
    )


def _defs(uid: str) -> str:
    bright = [(0, palette.STEEL_MID), (0.35, palette.STEEL_WHITE), (1, palette.STEEL_DARK)]
    iron = [(0, palette.STEEL_LIGHT), (0.5, palette.STEEL), (1, palette.STEEL_MID)]
    return (
        svg.gradient(f"{uid}-body", iron)
        + svg.gradient(f"{uid}-bright", bright)
        + steel_cut(uid)
        + lining_cut(uid)
    )
