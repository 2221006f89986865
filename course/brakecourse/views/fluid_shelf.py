"""Bottles on a shelf, and which of them may go into a vehicle: one rule, and the reason in words.

The rule: the maker's grade, or another that the maker's book allows, from a bottle that is still sealed.
Silicone-based fluid and mineral oil never go into a system made for glycol-based fluid. Common practice, no
source; the maker's book for the vehicle comes first.
"""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.views.drawings.fluid_bottles import Bottle, bottle_words
from brakecourse.views.fluid_samples import MIXING, fact_vehicle
from brakecourse.views.quiz import Task

GRADE, STRANGERS, OPENED = "the maker's grade", "silicone and mineral oil", "opened bottles"
TOPICS = (GRADE, STRANGERS, OPENED)
NONE = "none of them: I get the right one"

_SILICONE = "DOT 5"
_OIL = "mineral oil"
_WHY_SILICONE = (
    "DOT 5 is silicone-based, and this system is made for glycol-based fluid. They do not mix: water lies in "
    "the silicone as drops that boil at 100 °C (212 °F), and fine air stays in it."
)
_WHY_OIL = "Mineral oil is no brake fluid. It swells the rubber of every seal and hose, and the brakes stick."


@dataclass(frozen=True)
class Shelf:
    """A vehicle and the bottles there are.

    Attributes:
        vehicle: which one.
        allowed: what the maker's book allows, the maker's own grade first.
        bottles: on the shelf, from the left.
    """

    vehicle: Vehicle
    allowed: tuple[str, ...]
    bottles: tuple[Bottle, ...]

    @property
    def right(self) -> int | None:
        """The place of the bottle that may be used, from 0; None when there is none."""
        fits = [place for place, one in enumerate(self.bottles) if fits_(self, one)]
        return fits[0] if fits else None


def fits_(shelf: Shelf, bottle: Bottle) -> bool:
    """Return whether a bottle may be used."""
    return bottle.grade in shelf.allowed and bottle.sealed


def why(shelf: Shelf, bottle: Bottle) -> str:
    """Say why a bottle may or may not be used."""
    if bottle.grade == _SILICONE:
        return _WHY_SILICONE
    if bottle.grade == _OIL:
        return _WHY_OIL
    if bottle.grade not in shelf.allowed:
        asked = " or ".join(shelf.allowed)
        order = [*MIXING]
        lower = order.index(bottle.grade) < order.index(shelf.allowed[0])  # type: ignore[arg-type]
        tail = "It boils earlier." if lower else "A higher number is no permission: the maker's book decides."
        return f"The maker's book asks for {asked}, and this is {bottle.grade}. {tail}"
    if not bottle.sealed:
        return (
            f"The grade is right, but this bottle has been open for {bottle.open_months} months. "
            "It has drawn water from the air, and nobody knows how much."
        )
    return f"It is {bottle.grade}, which the maker's book allows, glycol-based, and still sealed."


def shelf_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return a vehicle and a shelf.

    Args:
        topic: one of :data:`TOPICS`.
        difficulty: easy shelves hold the maker's own grade; hard ones may hold nothing that fits.
        draw: chance.
    """
    shelf = draw_shelf(topic, difficulty, draw)
    choices = tuple(bottle_words(place, one) for place, one in enumerate(shelf.bottles))
    reasons = {words: why(shelf, one) for words, one in zip(choices, shelf.bottles, strict=True)}
    fit = shelf.right
    if fit is None:
        reasons[NONE] = (
            f"No sealed bottle of {' or '.join(shelf.allowed)} stands here. The vehicle waits; that costs "
            "less than a wrong fluid in every line."
        )
    else:
        reasons[NONE] = f"There is one that fits, number {fit + 1}. {reasons[choices[fit]]}"

    question = f"You renew the fluid of the {shelf.vehicle.name}. Which bottle do you take?"
    evidence = (
        ("Fact", "Value"),
        fact_vehicle(shelf.vehicle),
        ("The maker's book allows", " or ".join(shelf.allowed)),
        ("The system is made for", "glycol-based fluid"),
    )
    right = NONE if fit is None else choices[fit]
    return Task(topic, question, (*choices, NONE), right, reasons, evidence, shelf)


def draw_shelf(topic: str, difficulty: Difficulty, draw: Draw) -> Shelf:
    """Return a vehicle and a shelf with one bottle that fits, or none."""
    vehicle = draw.child("vehicle").choice(list(motor_pool().values()))
    asked: str = vehicle.hydraulics.fluid_grade
    order: list[str] = list(MIXING)
    higher = order[order.index(asked) + 1 :]
    allowed: list[str] = [asked]
    if difficulty != "easy" and higher and draw.child("book").uniform() < 0.6:
        allowed.append(higher[0])  # the next one up
    none_fits = difficulty != "easy" and draw.child("none").uniform() < (
        0.5 if difficulty == "hard" else 0.25
    )
    good = Bottle(draw.child("good").choice(allowed) if difficulty != "easy" else asked)
    others = _others(topic, allowed, draw.child("others"))
    bottles = others[:3] if none_fits else [good, *[one for one in others if one != good][:3]]
    return Shelf(vehicle, tuple(allowed), tuple(draw.child("shuffle").shuffled(bottles)))


def _others(topic: str, allowed: list[str], draw: Draw) -> list[Bottle]:
    """Return bottles that do not fit, those of the topic first."""
    months = draw.child("months")
    opened = [Bottle(grade, open_months=months.child(grade).integer(2, 18)) for grade in allowed]
    strangers = [Bottle(_SILICONE), Bottle(_OIL)]
    wrong: list[Bottle] = [Bottle(grade) for grade in MIXING if grade not in allowed]
    first = {GRADE: wrong, STRANGERS: strangers, OPENED: opened}[topic]
    rest = [one for one in (*wrong, *strangers, *opened) if one not in first]
    return [*draw.child("first").shuffled(first), *draw.child("rest").shuffled(rest)]
