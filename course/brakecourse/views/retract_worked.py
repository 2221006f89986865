"""The worked example of the lesson on retracting: one wheel, shown step by step."""

from __future__ import annotations

from brakecourse.bench.hose_cases import Skin
from brakecourse.views.drawings._retraction_places import Bleeder
from brakecourse.views.drawings.caliper_hung import Held, caliper_hung_svg
from brakecourse.views.drawings.hose_card import hose_card_svg
from brakecourse.views.drawings.retraction import retraction_svg
from brakecourse.views.retract_cases import PushBack
from brakecourse.views.retract_replies import Way, way_reply, where_it_went
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.units import both
from brakecourse.views.words import mm


def show_wheel(case: PushBack) -> Shown:
    """Show what the workshop knows before the piston is pushed."""
    vehicle, brake = case.vehicle, case.brake
    many = "1 piston" if brake.caliper.pistons == 1 else f"{brake.caliper.pistons} pistons"
    rows = [
        ("Fact", "Value"),
        ("Vehicle", f"{vehicle.name}, {vehicle.fleet_number} (invented)"),
        ("Wheel", case.wheel),
        ("Caliper", f"{brake.caliper.kind}, {many}"),
        ("Bore of the piston", mm(brake.caliper.piston_bore_mm, 1)),
        ("Lining of a new pad", mm(case.new_mm, 1)),
        ("Least lining", mm(brake.pad.minimum_mm, 1)),
        ("Old inner pad, mean", mm(case.inner_mm, 1)),
        ("Old outer pad, mean", mm(case.outer_mm, 1)),
        ("Area of the fluid in the reservoir", both(vehicle.hydraulics.reservoir_area_mm2, "mm²")),
        ("Level in the reservoir, above its floor", mm(case.level_mm, 1)),
        ("Upper mark", mm(vehicle.hydraulics.reservoir_max_mm, 1)),
    ]
    return _listed("What we know before we push", rows)


def show_push(case: PushBack, bleeder: Bleeder, *, late: bool = False, share: float = 1.0, uid: str) -> Shown:
    """Show the piston pushed back, and where the fluid went.

    Args:
        case: the wheel.
        bleeder: ``"open"`` or ``"shut"``.
        late: the press is off, and the bleeder is still open.
        share: how far of its way the piston has gone, 0 to 1.
        uid: a word that no other drawing on the page has.
    """
    way = Way(round(share * case.travel_mm, 1), bleeder == "open", late)
    title = f"The bleeder {bleeder}" + (", the press off too soon" if late else "")
    drawn = case.drawn(way.pushed_mm, bleeder, press=not late, air=late)
    words = where_it_went(case, way)
    return _drawn(title, words, retraction_svg(drawn, uid=uid, title=title))


def show_late(case: PushBack) -> Shown:
    """Show what air costs that comes in when the bleeder is shut too late."""
    rows = [
        ("What", "Value"),
        ("Pads' clearance, by which the seal springs back", mm(case.brake.caliper.clearance_mm)),
        ("Air that can come in", both(case.air_ml, "mL", 2)),
        ("More travel at the pedal", mm(case.air_travel_mm, 1)),
        ("What to say", way_reply(case, Way(case.travel_mm, True, True)).words.partition(". ")[2]),
    ]
    return _listed("Shut too late", rows)


def show_hose(skin: Skin, *, uid: str) -> Shown:
    """Show a hose under the glass."""
    title = f"A hose under the glass: {skin}"
    words = {
        "fine lines": "The lines do not open when it is bent, and no cords show: it may stay.",
        "cracked to the cords": "Cords show at the bottom of the cracks: it is renewed.",
        "blister": "Fluid gets under the cover: it is renewed.",
    }.get(skin, "Look whether cords show.")
    return _drawn(title, words, hose_card_svg(skin, uid=uid, title=title))


def show_held(held: Held, *, uid: str) -> Shown:
    """Show a caliper that is off and how it is held."""
    title = {"hook": "Held well", "hose": "Held badly"}.get(held, "How it is held")
    words = {
        "hook": "A hook in the spring carries it. The hose hangs in an easy bend, its stripe straight.",
        "hose": "Nothing but the hose carries it.",
    }.get(held, "Look at what carries it.")
    return _drawn(title, words, caliper_hung_svg(held, uid=uid, title=title))


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: list[tuple[str, str]]) -> Shown:
    text = "\n".join(": ".join(row) for row in rows[1:])
    return Shown(f"{title}\n{text}", f"<p><strong>{title}</strong></p>{table(rows)}")
