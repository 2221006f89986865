"""What the student gets to see: the vehicle's lengths, the shelf of stands, the bay next door, the steps."""

from __future__ import annotations

from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers import job_steps
from brakecourse.marking.papers.m01_job_order.stands import LETTERS
from brakecourse.marking.papers.m01_job_order.truth import OrderTruth
from brakecourse.views.drawings import on_stands_svg, workshop_svg
from brakecourse.views.stand_loads import STAND_MARGIN
from brakecourse.views.units import both
from brakecourse.views.words import inches, number

NOTES = (
    "The {axle} end goes on two stands, right under the axle, which share its load evenly. The {other} "
    "wheels stay on the floor.",
    "The margin is the course's own rule. What is marked on a stand is the largest load that it may carry.",
    "In the bay next door a colleague works on the {there}. The drawing shows it as you come by.",
)


def sheet(truth: OrderTruth) -> Sheet:
    """Return what the student gets to see."""
    stands, bay = _stands(truth), _bay(truth)
    return Sheet(
        facts=_facts(truth),
        notes=tuple(
            note.format(axle=truth.axle, other=truth.other, there=truth.bay.vehicle) for note in NOTES
        ),
        drawings={"v1": stands, "w1": bay},
        shown={"1.1": ["v1"], "1.5": ["w1"], "1.6": ["w1"], "1.7": ["w1"]},
        labels={"1.8": [f"pair {place}: {pair.label}" for place, pair in enumerate(truth.pairs, start=1)]},
        steps={"1.9": [job_steps.words(step) for step in truth.steps]},
    )


def _facts(truth: OrderTruth) -> tuple[tuple[str, str], ...]:
    sets = (
        (f"On the shelf, set {letter}", one.words) for letter, one in zip(LETTERS, truth.sets, strict=True)
    )
    return (
        ("Mass as it stands, with its load", both(truth.mass_kg, "kg", 0)),
        ("Front axle to rear axle", length(truth.wheelbase_mm)),
        ("Front axle to centre of gravity", length(truth.gravity_mm)),
        ("End that goes on stands", truth.axle),
        ("Margin", f"each stand is rated for {number(STAND_MARGIN, 1)} times its load, or more"),
        *sets,
    )


def length(value_mm: float) -> str:
    """Write a long length: whole millimetres, inches to a tenth."""
    return f"{number(value_mm, 0)} mm ({inches(value_mm, 1)})"


def _stands(truth: OrderTruth) -> Drawn:
    title = f"The {truth.vehicle}, its {truth.axle} end on stands"
    svg = on_stands_svg(
        kind=truth.shape,
        wheelbase_mm=truth.wheelbase_mm,
        gravity_to_front_mm=truth.gravity_mm,
        gravity_height_mm=truth.gravity_height_mm,
        tyre_radius_mm=truth.tyre_mm,
        end=truth.axle,
        uid="v1",
        title=title,
    )
    return Drawn(svg, title)


def _bay(truth: OrderTruth) -> Drawn:
    bay = truth.bay
    title = f"The bay next door: the {bay.vehicle}"
    svg = workshop_svg(bay.view, bay.spots, uid="w1", told=bay.seen, heat_c=bay.heat_c, title=title)
    return Drawn(svg, title)
