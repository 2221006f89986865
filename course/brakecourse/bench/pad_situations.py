"""What a pair of old pads can show, what lets it happen, and how a case of it is recognised."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from brakecourse.bench.condition import PadsCondition
from brakecourse.bench.draw import Draw
from brakecourse.bench.specification import Wheel, axle_of
from brakecourse.bench.vehicle_faults import (
    BeddingSkipped,
    CaliperSealLeak,
    ContaminatedPads,
    DryPins,
    HeatSpottedRotor,
    RidgedRotor,
    RustUnderClips,
    SeizedPin,
    SeizedPiston,
    UnderTorqued,
    VehicleFault,
    WornPads,
)
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.pads import Evidence, WearFinding

Make = Callable[[Draw, Vehicle, Wheel, tuple[float, float]], tuple[VehicleFault, ...]]

CLOSE = "close"
LEAD, TRAIL = "leading", "trailing"
_LOOKS = {
    "glazed": "glazed",
    "contaminated with grease": "grease",
    "contaminated with brake fluid": "fluid",
    "uneven transfer": "deposits",
}


@dataclass(frozen=True)
class PadSituation:
    """One kind of case.

    Attributes:
        pattern: which pattern it is, one of :data:`PATTERNS`.
        cause: the part or the happening behind it, one of :data:`CAUSES`.
        marks: what the readings and the faces of such pads show, and nothing else.
        make: draws the faults; its last argument is the range of their severity.
        severity: the range that gives the situation at all.
        pinned: only a caliper with slide pins can have it.
    """

    pattern: str
    cause: str
    marks: frozenset[str]
    make: Make
    severity: tuple[float, float] = (0.0, 1.0)
    pinned: bool = False


PATTERNS = (
    "inner pad thin",
    "outer pad thin",
    "both pads tapered lengthwise, at opposite ends",
    "outer pad alone tapered, leading end thin",
    "outer pad alone tapered, trailing end thin",
    "both pads tapered in height, outer edge thin",
    "stepped edge",
    "even and below the minimum",
    "even",
    "too close to call",
    "glazed face",
    "soaked face",
    "uneven deposits",
    "inner pad thin, and both tapered lengthwise",
    "inner pad thin and below the minimum",
    "glazed face and below the minimum",
)
"""Every pattern that a case can show, in a learner's words."""

CAUSES = (
    "both slide pins dry",
    "one slide pin seized",
    "the piston sticks in its bore",
    "rust under the clip at the leading end",
    "rust under the clip at the trailing end",
    "rust under the clips at both ends",
    "the bracket's bolts loose",
    "the pads reach onto a ridge at the rotor's rim",
    "the pads got too hot",
    "grease got onto the pads",
    "the piston's seal leaks",
    "the pads were never bedded in",
    "the pads stayed in too long",
    "normal use",
    "not known yet",
)
"""Every cause, in a learner's words."""


def marks_of(finding: WearFinding, pads: PadsCondition) -> frozenset[str]:
    """Return everything that a pair of pads shows, in short words.

    Args:
        finding: what the corners' readings lead to.
        pads: how the faces look.
    """
    looks = {*pads.inner_surface, *pads.outer_surface}
    return shape_marks(finding.evidence) | {word for look, word in _LOOKS.items() if look in looks}


def shape_marks(evidence: Iterable[Evidence]) -> frozenset[str]:
    """Return what the checks of a pair of pads show, in short words.

    A check that is outside its limit gives a mark; ``"close"`` says that one is too close to call.
    """
    marks = set()
    for one in evidence:
        if one.decision.verdict == "too close to call":
            marks.add(CLOSE)
        elif one.decision.verdict == "outside":
            pad = one.place.removesuffix(" pad")
            marks.add(
                {
                    "thickness": "below",
                    "pair": f"{one.thin} thin",
                    "taper in length": f"{pad} {one.thin}",
                    "taper in height": f"{pad} height {one.thin}",
                    "step": "step",
                }[one.check]
            )
    return frozenset(marks)


def _size(draw: Draw, severity: tuple[float, float]) -> float:
    return draw.between(*severity)


def _at_wheel(kind: type[VehicleFault]) -> Make:
    return lambda draw, vehicle, wheel, severity: (kind(_size(draw, severity), wheel),)  # type: ignore[call-arg]


def _at_axle(kind: type[VehicleFault]) -> Make:
    def make(
        draw: Draw, vehicle: Vehicle, wheel: Wheel, severity: tuple[float, float]
    ) -> tuple[VehicleFault, ...]:
        return (kind(_size(draw, severity), axle_of(wheel)),)  # type: ignore[call-arg]

    return make


def _at_end(kind: type[VehicleFault], leading: bool) -> Make:
    return lambda draw, vehicle, wheel, severity: (kind(_size(draw, severity), wheel, leading),)  # type: ignore[call-arg]


def _none(
    draw: Draw, vehicle: Vehicle, wheel: Wheel, severity: tuple[float, float]
) -> tuple[VehicleFault, ...]:
    return ()


def _both_clips(
    draw: Draw, vehicle: Vehicle, wheel: Wheel, severity: tuple[float, float]
) -> tuple[VehicleFault, ...]:
    size = _size(draw, severity)
    return (RustUnderClips(size, wheel, True), RustUnderClips(size, wheel, False))


def _bedding(
    draw: Draw, vehicle: Vehicle, wheel: Wheel, severity: tuple[float, float]
) -> tuple[VehicleFault, ...]:
    size = _size(draw, severity)
    return (BeddingSkipped(size, axle_of(wheel), draw.integer(2, 5), draw.between(0, 360)),)


def _loose_bracket(
    draw: Draw, vehicle: Vehicle, wheel: Wheel, severity: tuple[float, float]
) -> tuple[VehicleFault, ...]:
    return (UnderTorqued(_size(draw, severity), wheel, "bracket bolts"),)


def _grease(
    draw: Draw, vehicle: Vehicle, wheel: Wheel, severity: tuple[float, float]
) -> tuple[VehicleFault, ...]:
    return (ContaminatedPads(_size(draw, severity), wheel, "grease"),)


def _and_worn(first: Make, worn: tuple[float, float]) -> Make:
    return lambda draw, vehicle, wheel, severity: (
        WornPads(draw.between(*worn), axle_of(wheel)),
        *first(draw, vehicle, wheel, severity),
    )


def _crossed(inner: str, *more: str) -> frozenset[str]:
    """The inner pad thin at one end, the outer at the other."""
    outer = TRAIL if inner == LEAD else LEAD
    return frozenset({f"inner {inner}", f"outer {outer}", *more})


SITUATIONS: dict[str, PadSituation] = {
    "dry pins": PadSituation(
        PATTERNS[0], CAUSES[0], frozenset({"inner thin"}), _at_wheel(DryPins), (0.25, 1.0), pinned=True
    ),
    "sticking piston": PadSituation(
        PATTERNS[0], CAUSES[2], frozenset({"inner thin"}), _at_wheel(SeizedPiston), (0.4, 1.0)
    ),
    "rusty clips": PadSituation(PATTERNS[1], CAUSES[5], frozenset({"outer thin"}), _both_clips, (0.15, 0.9)),
    "leading pin": PadSituation(
        PATTERNS[2], CAUSES[1], _crossed(LEAD), _at_end(SeizedPin, True), (0.15, 0.9), pinned=True
    ),
    "trailing pin": PadSituation(
        PATTERNS[2], CAUSES[1], _crossed(TRAIL), _at_end(SeizedPin, False), (0.15, 0.9), pinned=True
    ),
    "leading clip": PadSituation(
        PATTERNS[3], CAUSES[3], frozenset({"outer leading"}), _at_end(RustUnderClips, True), (0.3, 0.9)
    ),
    "trailing clip": PadSituation(
        PATTERNS[4], CAUSES[4], frozenset({"outer trailing"}), _at_end(RustUnderClips, False), (0.3, 0.9)
    ),
    "loose bracket": PadSituation(
        PATTERNS[5],
        CAUSES[6],
        frozenset({"inner height outer", "outer height outer"}),
        _loose_bracket,
        (0.4, 1.0),
        pinned=True,  # a fixed caliper has no bracket
    ),
    "ridge": PadSituation(PATTERNS[6], CAUSES[7], frozenset({"step"}), _at_wheel(RidgedRotor), (0.2, 1.0)),
    "worn out": PadSituation(PATTERNS[7], CAUSES[12], frozenset({"below"}), _at_axle(WornPads), (0.05, 1.0)),
    "sound": PadSituation(PATTERNS[8], CAUSES[13], frozenset(), _none),
    "close to the minimum": PadSituation(
        PATTERNS[9], CAUSES[14], frozenset({CLOSE}), _at_axle(WornPads), (0.0, 0.05)
    ),
    "close in shape": PadSituation(
        PATTERNS[9], CAUSES[0], frozenset({CLOSE}), _at_wheel(DryPins), (0.2, 0.8), pinned=True
    ),
    "overheated": PadSituation(
        PATTERNS[10], CAUSES[8], frozenset({"glazed"}), _at_wheel(HeatSpottedRotor), (0.1, 1.0)
    ),
    "greasy": PadSituation(PATTERNS[11], CAUSES[9], frozenset({"grease"}), _grease, (0.1, 1.0)),
    "leaking seal": PadSituation(
        PATTERNS[11], CAUSES[10], frozenset({"fluid"}), _at_wheel(CaliperSealLeak), (0.2, 1.0)
    ),
    "not bedded in": PadSituation(PATTERNS[12], CAUSES[11], frozenset({"deposits"}), _bedding, (0.2, 1.0)),
    "seized pin": PadSituation(
        PATTERNS[13],
        CAUSES[1],
        _crossed(LEAD, "inner thin"),
        _at_end(SeizedPin, True),
        (0.5, 1.0),
        pinned=True,
    ),
    "dry pins, too late": PadSituation(
        PATTERNS[14],
        CAUSES[0],
        frozenset({"inner thin", "below"}),
        _and_worn(_at_wheel(DryPins), (0.0, 0.3)),
        (0.3, 1.0),
        pinned=True,
    ),
    "overheated, too late": PadSituation(
        PATTERNS[15],
        CAUSES[8],
        frozenset({"glazed", "below"}),
        _and_worn(_at_wheel(HeatSpottedRotor), (0.1, 0.8)),
        (0.1, 1.0),
    ),
}
"""Every situation, by a short name."""
