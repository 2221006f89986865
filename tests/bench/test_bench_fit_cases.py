"""A rotor on its hub, drawn with a further condition: sizes only, and the same draw gives the same one."""

from __future__ import annotations

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.fit_cases import draw_fit
from brakecourse.bench.rotor_fits import Fit


def test_a_further_condition_holds_for_what_is_drawn() -> None:
    def apart(fit: Fit) -> bool:
        first, second = sorted(fit.best[2])[:2]
        return second - first >= 0.02

    for seed in range(3):
        fit = draw_fit("index", "normal", Draw(seed), also=apart)
        assert apart(fit) and fit == draw_fit("index", "normal", Draw(seed), also=apart)


def test_a_condition_that_nothing_meets_is_told() -> None:
    with pytest.raises(ValueError, match="No rotor to index"):
        draw_fit("index", "easy", Draw(1), also=lambda _fit: False)
