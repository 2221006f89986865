"""What to do about the signs of a road test after a bedding-in: the worst sign decides."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from brakecourse.bench.checks import number

__all__ = ["Action", "Sign", "Signs", "worst_sign"]

Action = Literal["go on", "cool", "back", "stop"]
"""The mildest first."""
Sign = Literal[
    "pedal", "loose", "smoke", "pull", "pulse", "one hotter", "rubbing", "both hot", "squeal", "none"
]

LOOSE = ("clunk when braking starts", "rattle over bumps")
RUBBING = ("grinding when braking", "scraping when braking", "rubbing when rolling")
_WHEELS = 4


@dataclass(frozen=True)
class Signs:
    """What driver and thermometer find.

    Attributes:
        pedal: what is wrong with the pedal's height or firmness, in words; empty when it is firm.
        noises: what is heard, in words.
        pulls: it pulls to one side when braking.
        pulses: the pedal beats.
        rotors_c: front left, front right, rear left, rear right, on a dull spot, °C.
        limit_c: what the pad maker does not want a rotor to pass, °C.
        apart_c: from so many °C apart on, one rotor is much hotter than its partner.

    Raises:
        ValueError: not four temperatures, or a value is no number.
    """

    pedal: tuple[str, ...]
    noises: tuple[str, ...]
    pulls: bool
    pulses: bool
    rotors_c: tuple[float, ...]
    limit_c: float
    apart_c: float

    def __post_init__(self) -> None:
        if len(self.rotors_c) != _WHEELS:
            raise ValueError(f"rotors_c must hold {_WHEELS} temperatures, but it held {len(self.rotors_c)}.")
        for shown in self.rotors_c:
            number("rotor temperature in °C", shown)
        number("limit_c", self.limit_c)
        number("apart_c", self.apart_c, low=0)

    @property
    def over(self) -> tuple[int, ...]:
        """The wheels whose rotor is above the limit, by their place."""
        return tuple(place for place, shown in enumerate(self.rotors_c) if shown > self.limit_c)

    @property
    def much_hotter(self) -> int | None:
        """The wheel, by its place, whose rotor is much hotter than its partner's; None when there is none."""
        apart = [shown - self.rotors_c[place ^ 1] for place, shown in enumerate(self.rotors_c)]
        place = max(range(_WHEELS), key=lambda one: apart[one])
        return place if apart[place] >= self.apart_c else None

    @property
    def smoking(self) -> tuple[int, ...]:
        """The wheel that smokes, by its place: above the limit and much hotter than its partner."""
        hot = self.much_hotter
        return (hot,) if hot is not None and hot in self.over else ()

    @property
    def hazy(self) -> tuple[int, ...]:
        """The other wheels above the limit, by their place: a light haze from hot pads."""
        return tuple(place for place in self.over if place not in self.smoking)


def worst_sign(signs: Signs) -> tuple[Action, Sign]:
    """Return what to do, and the sign that decides.

    Args:
        signs: what driver and thermometer find.

    Returns:
        The action and the worst sign, each in a word or two of :data:`Action` and :data:`Sign`.

    Source:
        Common practice, no source.

    Example:
        >>> worst_sign(Signs((), (), True, False, (310, 305, 90, 95), 300, 60))
        ('back', 'pull')
    """
    found: tuple[tuple[Action, Sign, bool], ...] = (
        ("stop", "pedal", bool(signs.pedal)),
        ("stop", "loose", any(noise in LOOSE for noise in signs.noises)),
        ("stop", "smoke", bool(signs.smoking)),
        ("back", "pull", signs.pulls),
        ("back", "pulse", signs.pulses),
        ("back", "one hotter", signs.much_hotter is not None),
        ("back", "rubbing", any(noise in RUBBING for noise in signs.noises)),
        ("cool", "both hot", bool(signs.over)),
        ("go on", "squeal", bool(signs.noises)),
        ("go on", "none", True),
    )
    return next((action, sign) for action, sign, there in found if there)
