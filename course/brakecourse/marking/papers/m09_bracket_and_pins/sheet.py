"""What the student gets to see: sizes, the pull gauge at each pin, the parts, what was found."""

from __future__ import annotations

from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers import units_text as both
from brakecourse.marking.papers.m09_bracket_and_pins.decisions import pair_n
from brakecourse.marking.papers.m09_bracket_and_pins.draw import PART
from brakecourse.marking.papers.m09_bracket_and_pins.truth import BracketTruth, Two
from brakecourse.marking.readings import SealedReading
from brakecourse.trade.job_order import sub_job
from brakecourse.views.drawings.bracket_parts import BracketLook, PinLook, bracket_parts_svg
from brakecourse.views.drawings.spring_gauge import spring_gauge_svg
from brakecourse.views.words import mm

NOTES = (
    "The pins were pulled and the pads' ears were moved before anything was cleaned. The pull gauge was set "
    "to 0 with its hook on, and each drawing has the finest gauge that can pull that pin.",
    "The parts were then drawn as they came out. Nothing has been renewed yet.",
)


def sheet(truth: BracketTruth) -> Sheet:
    """Return what the student gets to see."""
    words = {step.id: step.words for step in sub_job(PART).operations}
    pulls = {
        name: _pull(read, name, f"{end} pin, pulled along its bore")
        for name, end, read in zip(("p1", "p2"), ("Leading", "Trailing"), truth.pulls, strict=True)
    }
    return Sheet(
        facts=(*_sizes(truth), *_found(truth)),
        notes=NOTES,
        drawings={**pulls, "parts": _parts(truth)},
        shown={"9.1": list(pulls), "9.7": ["parts"]},
        labels={"9.1": ["Leading pin", "Trailing pin"]},
        steps={"9.9": [words[step] for step in truth.step_order]},
    )


def _pull(read: SealedReading, name: str, caption: str) -> Drawn:
    full = float(read.gauge.rsplit("–", 1)[1].removesuffix(" N"))
    svg = spring_gauge_svg(
        read.indication, full_n=full, line_n=read.division, uid=name, title=f"Pull gauge: {caption}"
    )
    return Drawn(svg, caption)


def _parts(truth: BracketTruth) -> Drawn:
    leading, trailing = (PinLook(**pin.model_dump()) for pin in truth.pins)
    look = BracketLook(
        (leading, trailing),
        truth.bore.pin_mm,
        truth.bore.seated_mm,
        truth.here.rust_mm,
        truth.piston_boot_torn,
    )
    caption = f"Parts of the {truth.here.wheel} wheel, as they came out"
    return Drawn(bracket_parts_svg(look, uid="parts", title=caption), caption)


def _sizes(truth: BracketTruth) -> tuple[tuple[str, str], ...]:
    bore = truth.bore
    many = f"{truth.pistons} pistons of" if truth.pistons > 1 else "1 piston of"
    return (
        ("Wheel", truth.here.wheel),
        ("Floating caliper, on its inner side", f"{many} {mm(truth.piston_mm, 1)}"),
        ("Pressure in an everyday stop", both.megapascals(truth.pressure_mpa)),
        ("Force on the inner pad at that pressure", both.newtons(truth.clamp_n)),
        ("Diameter of a pin's bore", mm(bore.bore_mm)),
        ("Depth of the bore", mm(bore.depth_mm, 1)),
        ("Diameter of the pin", mm(bore.pin_mm)),
        ("Pin in the bore when seated", mm(bore.seated_mm, 1)),
        ("Grease that a helper would press into one bore", both.millilitres(truth.pressed_in_ml)),
        ("The pin with the flat belongs in the", "trailing bore"),
    )


def _found(truth: BracketTruth) -> tuple[tuple[str, str], ...]:
    here, other = truth.here, truth.other

    def row(label: str, one: str, two: str) -> tuple[str, str]:
        return label, f"{_capital(here.wheel)}: {one}. {_capital(other.wheel)}: {two}."

    return (
        row("Force that slides each pin (leading, trailing)", "see 9.1", pair_n(other.slide_n)),
        row("Force that moves a pad's ear (leading, trailing)", pair_n(here.grip_n), pair_n(other.grip_n)),
        row(
            "Force that pushes the pistons back",
            both.newtons(here.push_back_n),
            both.newtons(other.push_back_n),
        ),
        row("Pin short of its seat (leading, trailing)", _short(here.gap_mm), _short(other.gap_mm)),
        row("Grease in each bore (leading, trailing)", _grease(here.grease_ml), _grease(other.grease_ml)),
        row("Rust under each clip (leading, trailing)", _rust(here.rust_mm), _rust(other.rust_mm)),
    )


def _short(gaps_mm: Two) -> str:
    if not any(gaps_mm):
        return "both seated"
    return " and ".join(mm(gap, 1) if gap else "seated" for gap in gaps_mm)


def _grease(grease_ml: Two) -> str:
    return " and ".join(both.millilitres(one) for one in grease_ml)


def _rust(rust_mm: Two) -> str:
    one, two = (mm(rust, 1) if rust else "a trace" for rust in rust_mm)
    return f"{one} each" if one == two else f"{one} and {two}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
