"""What plain nbgrader gives is stored for every attack, as it was measured, and the table says it."""

from __future__ import annotations

import re

import pytest

from tests.attacks import attacked  # noqa: F401 (enters the attacks into the list)
from tests.attacks.plain_results import plain_results
from tests.attacks.registry import ATTACKS, PLAIN_POINTS


def test_every_attack_was_measured_and_nothing_else() -> None:
    assert list(plain_results()) == list(ATTACKS)


@pytest.mark.parametrize("name", ATTACKS)
def test_what_is_stored_says_what_happened_and_how_that_is_known(name: str) -> None:
    row = plain_results()[name]
    assert re.fullmatch(r"measured \d{4}-\d\d-\d\d with nbgrader \d+\.\d+\.\d+", row.known)
    assert ATTACKS[name].plain == row.words and "not tried" not in row.words
    # The words and the numbers beside them say the same.
    said = re.match(rf"(\S+) of {PLAIN_POINTS} points", row.words)
    if said:
        assert said[1] == row.points
    else:
        assert row.points == ""
        assert re.match(r"not |the attack |the command |the study ", row.words), row.words
    assert ("an honest student" in row.words) == (row.honest_points != str(PLAIN_POINTS))
    assert float(row.seconds) > 0 and float(row.memory_mb) > 50


def test_the_sample_that_is_measured_again_is_what_is_stored() -> None:
    sample = {name: f"{one.measured:g}" for name, one in ATTACKS.items() if one.measured is not None}
    assert len(sample) > 10
    # The gradebook, which the sample is read from, holds 0 for work that nbgrader could not grade.
    assert {name: plain_results()[name].points or "0" for name in sample} == sample
