"""Cases for the tests of the marking."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from brakecourse.marking import SealedCase, draw_sealed_case, rotor_order

MODULE = "08_rotor_measurement"
SECRET = bytes(range(32))


@pytest.fixture(scope="session")
def many_cases() -> Callable[[int], list[SealedCase]]:
    """Draws the cases of so many students. The drawings are left blank: they take most of the time."""
    kept: list[SealedCase] = []

    def draw(count: int) -> list[SealedCase]:
        with pytest.MonkeyPatch.context() as patch:
            for name in ("micrometer_svg", "dial_svg"):
                patch.setattr(rotor_order, name, lambda *_args, **_named: "<svg/>")
            while len(kept) < count:
                kept.append(draw_sealed_case(MODULE, f"student {len(kept)}", SECRET))
        return kept[:count]

    return draw


@pytest.fixture(scope="session")
def case() -> SealedCase:
    """One case with its drawings."""
    return draw_sealed_case(MODULE, "s01", SECRET)
