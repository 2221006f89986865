"""Cases for the tests of the marking."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice

import pytest
from brakecourse import marking
from brakecourse.marking import SealedCase, draw, draw_sealed_case

from tests.marking import study

MODULE = "08_rotor_measurement"
SECRET = bytes(range(32))
MOST = 1000

Cases = Callable[[int], list[SealedCase]]


@pytest.fixture(scope="session")
def many_cases() -> Cases:
    """Draws the cases of so many students in the rotor's module, without their drawings."""
    kept: list[SealedCase] = []

    def draw_so_many(count: int) -> list[SealedCase]:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(draw, "paper", study.bare)
            while len(kept) < count:
                kept.append(draw_sealed_case(MODULE, f"student {len(kept)}", SECRET))
        return kept[:count]

    return draw_so_many


@pytest.fixture(scope="session")
def case() -> SealedCase:
    """One case of the rotor's module with its drawings."""
    return draw_sealed_case(MODULE, "s01", SECRET)


@pytest.fixture(scope="session", params=marking.MODULES)
def module(request: pytest.FixtureRequest) -> str:
    """Every module that has an exercise."""
    return str(request.param)


@pytest.fixture(scope="session")
def cases_of() -> Callable[[str, int], list[SealedCase]]:
    """Draws the cases of so many students in any module, without their drawings."""
    kept: dict[str, list[SealedCase]] = {}
    more: dict[str, Iterator[SealedCase]] = {}

    def of(module: str, count: int) -> list[SealedCase]:
        own = kept.setdefault(module, [])
        own.extend(islice(more.setdefault(module, study.cases(module, MOST)), max(0, count - len(own))))
        assert len(own) >= count
        return own[:count]

    return of


@pytest.fixture(scope="session")
def full_case() -> Callable[[str], SealedCase]:
    """Draws one case of any module with its drawings."""
    kept: dict[str, SealedCase] = {}

    def of(module: str) -> SealedCase:
        if module not in kept:
            kept[module] = draw_sealed_case(module, "s01", SECRET)
        return kept[module]

    return of
