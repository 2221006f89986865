"""How good the diagnosis is: fresh simulated vehicles, diagnosed with a table that never saw them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from brakecourse.bench.diagnosis_table import Examined, drawn_cause, examine
from brakecourse.bench.draw import Draw
from brakecourse.bench.inspection import CHEAP_CHECKS, inspect
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.trade.leaks import (
    DiagnosisTable,
    ReliabilityRow,
    brier_score,
    next_checks,
    reliability_table,
)

SURE = 0.9
"""Stated probability at which a search for the cause ends."""


@dataclass(frozen=True)
class Study:
    """What was stated of many vehicles, and what was true.

    Attributes:
        stated: for each vehicle the probability of every cause.
        truths: for each vehicle its causes; one, or two.
    """

    stated: tuple[Mapping[str, float], ...]
    truths: tuple[tuple[str, ...], ...]

    @cached_property
    def first(self) -> list[str]:
        """The cause that was ranked first."""
        return [max(case, key=case.__getitem__) for case in self.stated]

    @cached_property
    def hits(self) -> list[bool]:
        """Whether the cause that was ranked first was there."""
        return [first in truth for first, truth in zip(self.first, self.truths, strict=True)]

    @property
    def right_first(self) -> float:
        """Share of the vehicles whose cause was ranked first."""
        return sum(self.hits) / len(self.hits)

    @property
    def brier(self) -> float:
        """Brier's score of all that was stated; of vehicles with one cause."""
        return brier_score(self.stated, [truth[0] for truth in self.truths])

    def reliability(self, bins: int = 10) -> tuple[ReliabilityRow, ...]:
        """How often the first cause was there, by the probability stated for it."""
        return reliability_table([max(case.values()) for case in self.stated], self.hits, bins)

    def confusions(self) -> Counter[tuple[str, str]]:
        """How often which cause was taken for which other one."""
        pairs = zip(self.truths, self.first, self.hits, strict=True)
        return Counter((truth[0], first) for truth, first, hit in pairs if not hit)


def fresh(first_seed: int, cases: int) -> list[Examined]:
    """Draw vehicles with one cause, or none, each as often as its share says, and do every check."""
    return [examine(seed, drawn_cause(seed)) for seed in range(first_seed, first_seed + cases)]


def study(
    table: DiagnosisTable, examined: Iterable[Examined], checks: Sequence[str] | None = CHEAP_CHECKS
) -> Study:
    """State every cause's probability from the findings of some checks; of all with None."""
    stated, truths = [], []
    for one in examined:
        findings = {id: one.findings[id] for id in (one.findings if checks is None else checks)}
        stated.append(probabilities(table, findings))
        truths.append((one.cause,))
    return Study(tuple(stated), tuple(truths))


def study_of_two(table: DiagnosisTable, first_seed: int, cases: int) -> Study:
    """The same for vehicles with two faults, all cheap checks done."""
    stated, truths = [], []
    for seed in range(first_seed, first_seed + cases):
        case = draw_vehicle(seed, 2)
        findings = inspect(case, Draw(seed).child("inspection"), CHEAP_CHECKS)
        stated.append(probabilities(table, findings))
        truths.append(tuple(fault.id for fault in case.faults))
    return Study(tuple(stated), tuple(truths))


def probabilities(table: DiagnosisTable, findings: Mapping[str, str]) -> dict[str, float]:
    """The probability of each cause, as the ranking states it, by the table alone: quick."""
    stated, _ = table.odds.posterior([(id, found) for id, found in findings.items()])
    return {cause.id: value for cause, value in zip(table.causes, stated, strict=True)}


@dataclass(frozen=True)
class Step:
    """Where a search for the cause stands after one more check.

    Attributes:
        minutes: what all checks so far took.
        stated: the largest probability that is stated of a cause.
        right: whether that cause is there.
    """

    minutes: float
    stated: float
    right: bool


Choose = Callable[[Mapping[str, str]], str]


def search(table: DiagnosisTable, one: Examined, choose: Choose, most: int | None = None) -> list[Step]:
    """Do the checks that ``choose`` names one by one, from what was found so far.

    Args:
        table: what the diagnosis rests on.
        one: the vehicle.
        choose: which check is next.
        most: how many checks; when left out, until one cause is stated with ``SURE``, or all are done.
    """
    findings: dict[str, str] = {}
    steps: list[Step] = []
    while len(findings) < (most or len(table.checks)):
        check = choose(findings)
        findings[check] = one.findings[check]
        stated = probabilities(table, findings)
        first = max(stated, key=stated.__getitem__)
        minutes = table.check_by_id[check].minutes + (steps[-1].minutes if steps else 0.0)
        steps.append(Step(minutes, stated[first], first == one.cause))
        if most is None and stated[first] >= SURE:
            break
    return steps


def by_information(table: DiagnosisTable) -> Choose:
    """Choose the check that tells most for its minutes."""
    return lambda findings: next_checks(findings, table)[0].check


def by_chance(table: DiagnosisTable, draw: Draw) -> Choose:
    """Choose any open check."""
    return lambda findings: draw.choice([one.id for one in table.checks if one.id not in findings])
