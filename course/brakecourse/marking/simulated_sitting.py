"""One simulated student at one case: every answer, and what went wrong on the way to it."""

from __future__ import annotations

import statistics
from collections.abc import Callable
from dataclasses import dataclass, field

from brakecourse.bench.draw import Draw
from brakecourse.bench.gauges import DialIndicator, Micrometer
from brakecourse.bench.misreading import Reader
from brakecourse.marking import rotor_answers
from brakecourse.marking.basis import Basis
from brakecourse.marking.inches import to_inches
from brakecourse.marking.rotor_values import Measured
from brakecourse.marking.sealed import SealedCase, SealedGauge
from brakecourse.marking.simulated_words import customer_words
from brakecourse.trade import rotor as trade
from brakecourse.trade.conformity import decide, expanded

MOST_EMPTY = 0.10
"""A student of ability 0 leaves this share of the questions empty; one of ability 1 none."""

MOST_ARITHMETIC_SLIPS = 0.10
"""A student of ability 0 goes wrong in this share of the sums; one of ability 1 never."""

SLIPS_MM = (-0.10, -0.03, 0.03, 0.10)
"""How far a sum that went wrong is off."""

RIDGE_PLACE = 1
"""A student with the habit of measuring on the ridge writes the ridge's reading at this place."""


@dataclass(frozen=True)
class Work:
    """What a student did.

    Attributes:
        answers: the answer to each question, None where it was left empty; plain JSON data.
        committed: for each question the habits that changed the answer, in the order in which they did.
        slipped: the questions where chance went wrong, in reading or in arithmetic.
    """

    answers: dict[str, object]
    committed: dict[str, tuple[str, ...]]
    slipped: frozenset[str]


@dataclass
class Sitting:
    """One student at one case. Answers are worked in order, each on the student's own earlier ones."""

    ability: float
    habits: frozenset[str]
    case: SealedCase
    draw: Draw
    committed: dict[str, tuple[str, ...]] = field(default_factory=dict)
    slipped: set[str] = field(default_factory=set)

    def work(self) -> Work:
        readings = self._readings()
        smallest = self._smallest(readings)
        variation = self._variation(readings)
        run_out = self._run_out()
        decision = self._verdict(smallest, readings)
        own = Measured(readings, smallest, variation, run_out)
        answers: dict[str, object] = {
            "8.1": self._unit("8.1", list(readings)),
            "8.2": self._unit("8.2", smallest),
            "8.3": self._unit("8.3", variation),
            "8.4": self._unit("8.4", run_out),
            "8.5": decision,
            "8.6": self._allowance(own),
            "8.7": self._probability(own),
            "8.8": self._action(own),
            "8.9": customer_words(self.ability, self.case, own),
        }
        for question in answers:
            if self.draw.child(f"{question} empty").uniform() < MOST_EMPTY * (1 - self.ability):
                answers[question] = None
        return Work(answers, dict(self.committed), frozenset(self.slipped))

    def _has(self, habit: str) -> bool:
        return habit in self.habits

    def _note(self, question: str, habit: str, changed: bool) -> None:
        if changed:
            self.committed[question] = (*self.committed.get(question, ()), habit)

    def _swap(self, question: str, habit: str, right: float, instead: Callable[[], float]) -> float:
        """Return what the habit makes of a value, and remember it if it is another one."""
        if not self._has(habit):
            return right
        value = round(instead(), 4)
        self._note(question, habit, value != right)
        return value

    def _readings(self) -> tuple[float, ...]:
        rotor, gauge = self.case.rotor, _micrometer(self.case.rotor.micrometer)
        reader = Reader(self.ability, self.habits & {"half_millimetre_line", "ten_times"})
        draw = self.draw.child("micrometer")
        found = [reader.read_micrometer(value, gauge, draw) for value in rotor.thickness_mm]
        if self._has("on_the_ridge"):
            found[RIDGE_PLACE - 1] = reader.read_micrometer(rotor.ridge_mm, gauge, draw)
            self._note("8.1", "on_the_ridge", True)
        for place, (own, true) in enumerate(zip(found, rotor.readings_mm, strict=True), start=1):
            if own != true and not (place == RIDGE_PLACE and self._has("on_the_ridge")):
                self._blame_reading(place, own)
        return tuple(found)

    def _blame_reading(self, place: int, own: float) -> None:
        misreadings = _micrometer(self.case.rotor.micrometer).misreadings(
            self.case.rotor.thickness_mm[place - 1]
        )
        habit = next(
            (name for name, value in misreadings.items() if self._has(name) and abs(value - own) < 1e-6), None
        )
        if habit is None:
            self.slipped.add("8.1")
        elif habit not in self.committed.get("8.1", ()):
            self._note("8.1", habit, True)

    def _smallest(self, readings: tuple[float, ...]) -> float:
        found = self._sum("8.2", trade.smallest_mm(readings))
        found = self._swap("8.2", "mean_for_minimum", found, lambda: statistics.fmean(readings))
        return self._swap("8.2", "largest_for_smallest", found, lambda: max(readings))

    def _variation(self, readings: tuple[float, ...]) -> float:
        found = self._sum("8.3", trade.thickness_variation_mm(readings))
        return self._swap("8.3", "half_of_total", found, lambda: found / 2)

    def _run_out(self) -> float:
        rotor, gauge = self.case.rotor, _dial(self.case.rotor.dial)
        reader, draw = Reader(self.ability), self.draw.child("dial")
        loose = self._has("nuts_not_seated")
        shown = rotor.dial_loose_mm if loose else rotor.dial_seated_mm
        read = [reader.read_dial(value, gauge, draw) for value in shown]
        if read != [*(rotor.loose_readings_mm if loose else rotor.dial_readings_mm)]:
            self.slipped.add("8.4")
        self._note("8.4", "nuts_not_seated", loose)
        found = trade.run_out_mm(read)
        unsigned = [abs(value) for value in read]
        found = self._swap("8.4", "wrong_sign", found, lambda: trade.run_out_mm(unsigned))
        return self._swap("8.4", "half_of_total", found, lambda: found / 2)

    def _verdict(self, smallest: float, readings: tuple[float, ...]) -> str:
        rotor = self.case.rotor
        limit, u = rotor.spec.discard_mm, rotor.instruments.thickness_u_mm

        def words(measured: float, limit: float, u: float) -> str:
            return decide(measured, limit, "minimum", u, rotor.confidence).verdict

        found = right = words(smallest, limit, u)
        if self._has("expanded_for_standard"):
            found = words(smallest, limit, expanded(u))
            self._note("8.5", "expanded_for_standard", found != right)
        if self._has("ignored_uncertainty"):
            found = words(smallest, limit, 0.0)
            self._note("8.5", "ignored_uncertainty", found != right)
        if self._has("machine_to_for_discard"):
            found = words(smallest, rotor.spec.machine_to_mm, u)
            self._note("8.5", "machine_to_for_discard", found != right)
        return found

    def _allowance(self, own: Measured) -> float:
        spec = self.case.rotor.spec
        found = self._sum("8.6", trade.machining_allowance_mm([own.smallest], spec.machine_to_mm), least=0.0)
        deep = "discard_for_machine_to"
        found = self._swap("8.6", deep, found, lambda: max(0.0, own.smallest - spec.discard_mm))
        return self._swap("8.6", "one_face_only", found, lambda: found / 2)

    def _probability(self, own: Measured) -> float:
        rotor = self.case.rotor
        limit, u = rotor.spec.discard_mm, rotor.instruments.thickness_u_mm

        def percent(limit: float, u: float) -> float:
            return round(100 * decide(own.smallest, limit, "minimum", u).probability_conforming, 1)

        found = percent(limit, u)
        found = self._swap("8.7", "expanded_for_standard", found, lambda: percent(limit, expanded(u)))
        found = self._swap(
            "8.7", "machine_to_for_discard", found, lambda: percent(rotor.spec.machine_to_mm, u)
        )
        found = self._swap("8.7", "probability_of_failing", found, lambda: 100 - found)
        return self._swap("8.7", "fraction_for_percent", found, lambda: found / 100)

    def _action(self, own: Measured) -> str:
        """Pick the sound sentence, or the one that the habit makes sound."""
        choices = [one for one in self.case.choices if one.question == "8.8"]
        basis: Basis = rotor_answers.action(self.case.rotor, own, choices)
        for habit in ("ignored_uncertainty", "mean_for_minimum", "discard_for_machine_to"):
            texts = [one.value for one in basis.mistakes if one.mistake == habit]
            if self._has(habit) and texts:
                self._note("8.8", habit, True)
                return str(texts[-1])
        return str(basis.expected)

    def _sum(self, question: str, right: float, least: float = 0.0) -> float:
        draw = self.draw.child(f"{question} sum")
        if draw.uniform() >= MOST_ARITHMETIC_SLIPS * (1 - self.ability):
            return right
        self.slipped.add(question)
        return max(least, round(right + draw.choice(SLIPS_MM), 4))

    def _unit(self, question: str, value: float | list[float]) -> float | list[float]:
        if not self._has("inches_for_millimetres"):
            return value
        self._note(question, "inches_for_millimetres", True)
        if isinstance(value, list):
            return [_inches(one) for one in value]
        return _inches(value)


def _inches(value_mm: float) -> float:
    return round(to_inches(value_mm), 4)


def _micrometer(gauge: SealedGauge) -> Micrometer:
    return Micrometer(
        name=gauge.name,
        resolution_mm=gauge.resolution_mm,
        error_limit_mm=gauge.error_limit_mm,
        repeatability_mm=gauge.repeatability_mm,
        low_mm=gauge.low_mm,
        high_mm=gauge.high_mm,
    )


def _dial(gauge: SealedGauge) -> DialIndicator:
    return DialIndicator(gauge.name, gauge.resolution_mm, gauge.error_limit_mm, gauge.repeatability_mm)
