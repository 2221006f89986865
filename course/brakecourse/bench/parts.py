"""The parts of a brake: bolts, slide pins, calipers, pads.

Each refuses to exist when its numbers do not fit together.
"""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.checks import number, whole
from brakecourse.trade import fasteners, fluid, slide_pins
from brakecourse.trade._bolts import Finish, PropertyClass

# Common practice, no source: how much of its proof load a bolt carries at its torque. A bolt that is
# tightened into stretch carries more, and is used once.
PROOF_SHARE = (0.3, 0.8)
STRETCH_PROOF_SHARE = (0.8, 1.0)
# Assumption, no source: how much of the box round it a lining fills.
LINING_SHARE = (0.75, 1.0)


def inside(value: float, ends: tuple[float, float]) -> bool:
    """Tell whether a value lies in a range, its ends included.

    >>> inside(0.8, (0.8, 0.95))
    True
    """
    return ends[0] <= value <= ends[1]


def refuse_unless(what: str, checks: list[tuple[bool, str]]) -> None:
    """Refuse a part whose numbers do not fit together.

    Args:
        what: the part, as it begins the sentence.
        checks: whether each rule is kept, and the rule in words.

    Raises:
        ValueError: the first rule that is not kept.

    >>> refuse_unless("The pad", [(True, "the lining must be thick enough")])
    """
    for kept, rule in checks:
        if not kept:
            raise ValueError(f"{what} does not fit together: {rule}.")


def keep_ranges(part: object, what: str, ranges: dict[str, tuple[float, float]]) -> None:
    """Refuse a part with a field that is no number in its range.

    Args:
        part: the part.
        what: its name, for the sentence.
        ranges: smallest and largest value of each field.

    Raises:
        ValueError: the first field that is no such number.
    """
    for name, (low, high) in ranges.items():
        number(f"{name} of the {what}", getattr(part, name), low, high)


@dataclass(frozen=True)
class Fastener:
    """A bolt or nut: its thread, and the torque that the maker asks for.

    Args:
        name: what people call it.
        torque_nm: the maker's torque.
        diameter_mm, pitch_mm: its thread.
        property_class, finish: as :mod:`brakecourse.trade.fasteners` names them.
        reusable: False for a bolt that is tightened into stretch and used once.

    Raises:
        ValueError: a value is outside its range, or the torque loads the bolt too little or too much.
    """

    name: str
    torque_nm: float
    diameter_mm: float
    pitch_mm: float
    property_class: PropertyClass
    finish: Finish
    reusable: bool

    def __post_init__(self) -> None:
        if not isinstance(self.name, str) or not self.name.strip():
            raise ValueError(
                f"name of a fastener must be a text that is not empty, but it was {self.name!r}."
            )
        keep_ranges(self, self.name, {"torque_nm": (5, 700), "diameter_mm": (6, 24), "pitch_mm": (0.75, 3)})
        if not isinstance(self.reusable, bool):
            raise ValueError(
                f"reusable of the {self.name} must be True or False, but it was {self.reusable!r}."
            )
        low, high = PROOF_SHARE if self.reusable else STRETCH_PROOF_SHARE
        rule = f"its torque must load it to {100 * low:.0f} to {100 * high:.0f} % of its proof load"
        refuse_unless(f"The {self.name}", [(inside(self.proof_share, (low, high)), rule)])

    @property
    def preload_n(self) -> float:
        """The pull in the bolt at the maker's torque, N."""
        return fasteners.preload_n(self.torque_nm, self.diameter_mm, fasteners.nut_factor(self.finish))

    @property
    def proof_share(self) -> float:
        """How much of its proof load the bolt carries at the maker's torque."""
        return fasteners.proof_fraction(self.preload_n, self.diameter_mm, self.pitch_mm, self.property_class)


@dataclass(frozen=True)
class SlidePin:
    """A slide pin of a floating caliper, and its bore.

    Args:
        bore_mm, depth_mm: the bore's diameter and depth.
        pin_mm, seated_length_mm: the pin's diameter, and how much of it is in the bore when seated.

    Raises:
        ValueError: a value is outside its range, or the pin does not fit its bore.
    """

    bore_mm: float
    depth_mm: float
    pin_mm: float
    seated_length_mm: float

    def __post_init__(self) -> None:
        keep_ranges(self, "slide pin", {"bore_mm": (6, 20), "depth_mm": (20, 120)})
        slide_pins.free_volume_ml(self.bore_mm, self.depth_mm, self.pin_mm, self.seated_length_mm)
        rule = "the pin must have 0.1 to 1.0 mm of play in its bore"
        refuse_unless("The slide pin", [(inside(round(self.bore_mm - self.pin_mm, 9), (0.1, 1.0)), rule)])


@dataclass(frozen=True)
class Caliper:
    """One caliper.

    Args:
        kind: ``"floating"`` or ``"fixed"``.
        piston_bore_mm: diameter of one piston.
        pistons: all pistons of one caliper, both sides together when it is fixed.
        clearance_mm: gap between one pad and the rotor when drawn back.
        pin: the slide pin, or None when the caliper is fixed.
        bolt, bracket_bolt: what holds the caliper, and its bracket.

    Raises:
        ValueError: a value is outside its range, or the kind of caliper cannot be made so.
    """

    kind: fluid.CaliperKind
    piston_bore_mm: float
    pistons: int
    clearance_mm: float
    pin: SlidePin | None
    bolt: Fastener
    bracket_bolt: Fastener

    def __post_init__(self) -> None:
        keep_ranges(self, "caliper", {"piston_bore_mm": (20, 80), "clearance_mm": (0.05, 0.5)})
        whole("pistons of the caliper", self.pistons, 1, 8)
        # The trade knows which counts of pistons each kind can have.
        fluid.WheelWear(self.piston_bore_mm, self.pistons, 0.0, 0.0, self.kind)
        if (self.pin is None) != (self.kind == "fixed") or not isinstance(self.pin, SlidePin | None):
            raise ValueError(
                f"slide pin of the {self.kind} caliper must be {_PIN[self.kind]}, but it was {self.pin!r}."
            )
        for name in ("bolt", "bracket_bolt"):
            if not isinstance(getattr(self, name), Fastener):
                raise ValueError(
                    f"{name} of the caliper must be a Fastener, but it was {getattr(self, name)!r}."
                )

    @property
    def pushing_pistons(self) -> int:
        """The pistons that press one pad: all of a floating caliper's, half of a fixed one's."""
        return self.pistons if self.kind == "floating" else self.pistons // 2


_PIN = {"floating": "a SlidePin", "fixed": "None"}


@dataclass(frozen=True)
class Pad:
    """One brake pad, its limits and how it wears.

    Args:
        lining_new_mm, minimum_mm: thickness of the lining when new, and the least permitted.
        max_taper_mm, max_pair_difference_mm, max_step_mm: the largest permitted unevenness.
        area_mm2, length_mm, height_mm: the lining's face, along and across the track.
        friction: its coefficient of friction on the rotor.
        wear_mm_per_1000km: wear of a sound pad in this vehicle's service.

    Raises:
        ValueError: a value is outside its range, or two do not fit together.
    """

    lining_new_mm: float
    minimum_mm: float
    max_taper_mm: float
    max_pair_difference_mm: float
    max_step_mm: float
    area_mm2: float
    length_mm: float
    height_mm: float
    friction: float
    wear_mm_per_1000km: float

    def __post_init__(self) -> None:
        keep_ranges(self, "pad", _PAD_RANGES)
        share = self.area_mm2 / (self.length_mm * self.height_mm)
        useful_mm = self.lining_new_mm - self.minimum_mm
        refuse_unless(
            "The pad",
            [
                (useful_mm >= 4, "a new lining must be at least 4 mm above its minimum"),
                (
                    inside(share, LINING_SHARE),
                    "its area must fill 75 to 100 % of its length times its height",
                ),
                (
                    self.max_taper_mm < useful_mm,
                    "the largest taper must be less than the lining's useful thickness",
                ),
            ],
        )


_PAD_RANGES: dict[str, tuple[float, float]] = {
    "lining_new_mm": (6, 20),
    "minimum_mm": (1.5, 6),
    "max_taper_mm": (0.3, 4),
    "max_pair_difference_mm": (0.3, 4),
    "max_step_mm": (0.3, 4),
    "area_mm2": (1000, 20000),
    "length_mm": (50, 220),
    "height_mm": (25, 90),
    "friction": (0.25, 0.55),
    "wear_mm_per_1000km": (0.02, 1.0),
}
