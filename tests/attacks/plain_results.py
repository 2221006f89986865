"""What plain nbgrader gave for each attack, as `python -m tests.attacks.plain_study` measured it."""

from __future__ import annotations

import csv
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path

RESULTS = Path(__file__).with_name("plain_results.csv")


@dataclass(frozen=True)
class PlainResult:
    """One attack on plain nbgrader.

    Attributes:
        attack: its name.
        points: of 17 that the attacker got; empty when nothing was graded.
        honest_points: what an honest student who is graded after the attacker got; empty when not graded.
        seconds: until the command ended, or was ended.
        memory_mb: the most that all its processes held together, each shared page counted once.
        words: what happened.
        known: how that is known.
    """

    attack: str
    points: str
    honest_points: str
    seconds: str
    memory_mb: str
    words: str
    known: str


COLUMNS = tuple(field.name for field in fields(PlainResult))


@cache
def plain_results(path: Path = RESULTS) -> dict[str, PlainResult]:
    """The outcomes that were measured, by attack."""
    if not path.exists():
        return {}
    with path.open(encoding="utf-8", newline="") as stream:
        return {row["attack"]: PlainResult(**row) for row in csv.DictReader(stream)}


def write_results(results: dict[str, PlainResult], path: Path = RESULTS) -> None:
    """Store the outcomes; a study that was broken off goes on from there."""
    made = path.with_suffix(".new")
    with made.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(COLUMNS)
        writer.writerows([getattr(one, name) for name in COLUMNS] for one in results.values())
    made.replace(path)
