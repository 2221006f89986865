"""A corner of the workshop with numbered places, each safe or not: what a learner looks over before work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from brakecourse.views import palette, svg
from brakecourse.views.drawings import _bench_things as on_bench
from brakecourse.views.drawings import _shop_things as things
from brakecourse.views.drawings._brake_inset import inset
from brakecourse.views.drawings._vehicle_side import SideView, side_defs, vehicle_side

STATES: dict[str, tuple[str, ...]] = {
    "support": ("stands", "jack", "blocks"),
    "chock": ("chocks", "none"),
    "dust": ("wet", "air", "brush"),
    "caliper": ("hook", "hose"),
    "heat": ("cool", "hot"),
    "spring": ("covered", "levered"),
    "fluid": ("closed", "spilt"),
    "cleaner": ("apart", "heater"),
    "sheet": ("checked", "unpumped", "loose nuts"),
}
"""Each place that can be shown, and its states, the safe one first."""

SHEET_LINES: dict[str, tuple[str, ...]] = {
    "checked": ("Wheel nuts: torqued", "Pedal: firm", "Leaks: none", "Next: first move"),
    "unpumped": ("Wheel nuts: torqued", "Pedal: not pumped", "Leaks: none", "Next: first move"),
    "loose nuts": ("Wheel nuts: by hand", "Pedal: firm", "Leaks: none", "Next: first move"),
}

WIDTH, HEIGHT = 640, 396
# The places below are laid out on a sheet of this width, which is then drawn smaller.
_SHEET = 760
_FLOOR = 392.0
_BENCH_TOP, _BENCH_LEFT, _BENCH_WIDTH = 312.0, 508.0, 240.0
_INSET = (630.0, 132.0)
_LONGEST_PX = 440.0


def workshop_svg(
    view: tuple[str, float, float, float],
    spots: Mapping[str, str],
    *,
    uid: str,
    told: Sequence[str],
    heat_c: float = 21.0,
    title: str = "A corner of the workshop",
) -> str:
    """Draw the workshop.

    Args:
        view: the vehicle's shape, its wheelbase, tyre radius and height of the centre of gravity in mm.
        spots: each place to show and its state, as in :data:`STATES`; they are numbered in this order. With
            ``"sheet"`` the vehicle stands on its wheels, else its front end is raised and its brake open.
        uid: a word that no other drawing on the page has.
        told: what is to be seen at each place, in words, for who cannot see it.
        heat_c: what the thermometer shows, where there is one.
        title: what a screen reader says first.

    Returns:
        The SVG text.

    Raises:
        ValueError: there is no such place or state, or the words are not one for each place.

    Example:
        >>> van = ("van", 2750, 305, 650)
        >>> "A jack." in workshop_svg(van, {"support": "jack"}, uid="demo", told=["A jack."])
        True
    """
    wrong = [(spot, state) for spot, state in spots.items() if state not in STATES.get(spot, ())]
    if wrong or len(told) != len(spots):
        raise ValueError(
            f"Places and states as in STATES, each with words, were expected, but got {dict(spots)}."
        )
    kind, base, tyre, gravity = view
    raised = "sheet" not in spots
    scale = _LONGEST_PX / (base + 1900)
    side = SideView(kind, base, tyre, gravity, scale, 30 + 900 * scale, _FLOOR, "front" if raised else None)  # type: ignore[arg-type]
    body = (
        things.floor(_SHEET, _FLOOR, 480)
        + on_bench.bench(_BENCH_LEFT, _BENCH_TOP, _BENCH_WIDTH, _FLOOR)
        + _behind(side, spots)
        + vehicle_side(side, uid)
        + _before(side, spots)
        + _on_the_bench(spots)
        + on_bench.goggles(70, 30, there=_unguarded(spots))
    )
    if raised:
        heat = heat_c if "heat" in spots else None
        body += inset(*_INSET, side.at(0, tyre), dict(spots), heat, uid)
    else:
        body += on_bench.job_sheet(300, 50, SHEET_LINES[spots["sheet"]])
    numbers = "".join(things.disc(*_place(spot, side), n) for n, spot in enumerate(spots, 1))
    stands = "its front end raised and its brake open" if raised else "on its four wheels"
    places = " ".join(f"Place {n}: {words}" for n, words in enumerate(told, 1))
    desc = f"A {kind} in the workshop, {stands}. {places}"
    shown = svg.group(body + numbers, transform=f"scale({WIDTH / _SHEET:.4f})")
    return svg.frame(WIDTH, HEIGHT, shown, uid=uid, title=title, desc=desc, defs=side_defs(uid))


def _unguarded(spots: Mapping[str, str]) -> bool:
    return spots.get("fluid") == "spilt" or spots.get("spring") == "levered"


def _lifting_point(side: SideView) -> svg.Point:
    return side.at(1.75 * side.tyre_radius_mm, 0.27 * side.roof_mm)


def _behind(side: SideView, spots: Mapping[str, str]) -> str:
    state = spots.get("support", "stands")
    if side.raised is None or state != "stands":
        return ""
    x, y = _lifting_point(side)
    return things.stand(x + 12, y, _FLOOR - 4)


def _before(side: SideView, spots: Mapping[str, str]) -> str:
    radius = side.tyre_radius_mm * side.scale
    drawn = ""
    if spots.get("chock", "chocks") == "chocks" and side.raised is not None:
        drawn += things.chocks(side.x(side.wheelbase_mm), radius, _FLOOR)
    if side.raised is None:
        return drawn
    x, y = _lifting_point(side)
    state = spots.get("support", "stands")
    if state == "stands":
        return drawn + things.jack(64, _FLOOR + 12, _FLOOR + 46, handle=1) + things.stand(x, y, _FLOOR)
    if state == "jack":
        return drawn + things.jack(x, y, _FLOOR, handle=1)
    return drawn + _blocks(x, y)


def _blocks(x: float, top: float) -> str:
    """Hollow blocks piled up under the sill."""
    drawn, y = "", _FLOOR
    while y - 22 > top - 2:
        drawn += svg.rect(
            x - 26, y - 22, 52, 22, fill=palette.STEEL, stroke=palette.STEEL_EDGE, stroke_width=1.2
        )
        drawn += "".join(svg.rect(x + dx, y - 17, 16, 12, rx="2", fill=palette.STEEL_DARK) for dx in (-20, 4))
        y -= 22
    rest = svg.rect(
        x - 20, top, 40, max(0.0, y - top), fill=palette.LINING, stroke=palette.INK, stroke_width=1.0
    )
    return svg.group(drawn + rest, data_part="blocks")


def _on_the_bench(spots: Mapping[str, str]) -> str:
    drawn = ""
    if "spring" in spots:
        drawn += on_bench.pad_spring(552, _BENCH_TOP, levered=spots["spring"] == "levered")
    if "fluid" in spots:
        drawn += on_bench.fluid_bottle(620, _BENCH_TOP, spilt=spots["fluid"] == "spilt")
    if "cleaner" in spots:
        drawn += on_bench.cleaner(678, _BENCH_TOP, near_heat=spots["cleaner"] == "heater")
    return drawn


def _place(spot: str, side: SideView) -> svg.Point:
    x, y = _INSET
    stand_x, _ = _lifting_point(side)
    places = {
        "support": (stand_x, _FLOOR + 28),
        "chock": (side.x(side.wheelbase_mm), _FLOOR + 28),
        "dust": (x - 102, y + 56),
        "caliper": (x + 98, y - 52),
        "heat": (x - 106, y - 42),
        "spring": (528, _BENCH_TOP + 32),
        "fluid": (610, _BENCH_TOP + 32),
        "cleaner": (690, _BENCH_TOP + 32),
        "sheet": (296, 58),
    }
    return places[spot]
