"""What the student gets to see of the pads: limits, the gauge at each corner, what hands and eyes found."""

from __future__ import annotations

from brakecourse.bench.pad_cases import CORNERS
from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers import units_text as both
from brakecourse.marking.papers.m07_pad_wear.causes import told
from brakecourse.marking.papers.m07_pad_wear.truth import PADS, PadTruth
from brakecourse.trade.conformity import guard_band
from brakecourse.views.drawings import depth_gauge_svg, pads_at_rotor_svg
from brakecourse.views.drawings._pad_shape import DrawnPad
from brakecourse.views.words import mm, number

NOTES = (
    "The pads were cleaned wet, marked with their places, and measured cold.",
    "The depth gauge was set to 0 on a flat plate before use. Its foot stood on the lining's face, clear of "
    "chamfer, slot and step, and its pin on the steel plate.",
    "The forces were found before anything was cleaned. The pistons were pushed back slowly, with an eye on "
    "the reservoir.",
)
SCALE_END_MM = (15.0, 20.0)
TAPERS = tuple(f"{pad}, {way}" for pad in PADS for way in ("lengthwise", "in height"))


def sheet(truth: PadTruth) -> Sheet:
    """Return what the student gets to see."""
    corners = _corners(truth)
    return Sheet(
        facts=_facts(truth) + told(truth),
        notes=NOTES,
        drawings={**corners, "pads": _pads(truth)},
        shown={"7.1": list(corners), "7.6": ["pads"]},
        labels={"7.1": [one.caption for one in corners.values()], "7.3": list(TAPERS)},
    )


def _facts(truth: PadTruth) -> tuple[tuple[str, str], ...]:
    limits, gauge = truth.limits, truth.inner[0]
    factor = guard_band(1.0, truth.confidence)
    inner, outer = truth.step_mm
    return (
        ("Wheel", truth.wheel),
        ("Gone since the pads were new", both.kilometres(truth.km)),
        ("Lining when new", mm(truth.lining_new_mm, 1)),
        ("Steel backing plate", mm(truth.plate_mm, 1)),
        ("Least lining", mm(limits.minimum_mm, 1)),
        ("Largest taper, lengthwise or in height", mm(limits.max_taper_mm, 1)),
        ("Largest difference, inner to outer pad", mm(limits.max_pair_difference_mm, 1)),
        ("Largest step at an edge", mm(limits.max_step_mm, 1)),
        ("Step found at the outer edge", f"{PADS[0]} {_step(inner)}, {PADS[1]} {_step(outer)}"),
        ("Faces of both pads", "no shine, no grease or fluid, no patches"),
        ("Depth gauge", f"lines of {mm(gauge.division, 1)}"),
        ("A thickness reading: standard uncertainty u", mm(limits.thickness_u_mm, 3)),
        ("A taper, a step or a difference of the pads: u", mm(limits.difference_u_mm, 3)),
        ("Guard band", f"{number(factor, 3)} times u, for {number(100 * truth.confidence, 0)} % confidence"),
    )


def _step(height_mm: float) -> str:
    return mm(height_mm, 1) if height_mm else "none"


def _corners(truth: PadTruth) -> dict[str, Drawn]:
    # The dial alone, as large as the page allows: its lines are 0.1 mm. The caption says where it stood.
    captions = [f"{pad.capitalize()}: {corner}" for pad in PADS for corner in CORNERS]
    full = next(end for end in SCALE_END_MM if end >= truth.lining_new_mm + 1)
    return {
        f"g{count}": Drawn(
            depth_gauge_svg(
                max(0.0, read.indication), full_mm=full, uid=f"g{count}", title=f"Depth gauge: {caption}"
            ),
            caption,
        )
        for count, (caption, read) in enumerate(zip(captions, truth.reads, strict=True), start=1)
    }


def _pads(truth: PadTruth) -> Drawn:
    inner, outer = _drawn_pads(truth)
    svg = pads_at_rotor_svg(
        inner,
        outer,
        rotor_mm=truth.rotor_mm,
        ridge_mm=truth.ridge_mm,
        uid="pads",
        title=f"Both pads of the {truth.wheel} wheel",
    )
    return Drawn(svg, f"Both pads of the {truth.wheel} wheel, beside their rotor")


def _drawn_pads(truth: PadTruth) -> tuple[DrawnPad, DrawnPad]:
    inner, outer = (
        DrawnPad(
            pad,
            length_mm=truth.length_mm,
            height_mm=truth.height_mm,
            new_mm=truth.lining_new_mm,
            plate_mm=truth.plate_mm,
        )
        for pad in truth.pads(truth.readings_mm)
    )
    return inner, outer
