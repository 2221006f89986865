"""Numbers and lengths as words."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET

import pytest
from brakecourse.views import svg, words
from brakecourse.views.words import inches, mm, number, percent
from hypothesis import given
from hypothesis import strategies as st


def test_a_length_stands_in_both_systems() -> None:
    # 1 in = 25.4 mm exactly (NIST SP 811, 2008, appendix B; from memory here, read in the published tables).
    assert mm(25.4) == "25.40 mm (1.000 in)"
    assert mm(24) == "24.00 mm (0.945 in)"
    assert mm(0.03) == "0.03 mm (0.0012 in)"
    assert mm(-0.03) == "\N{MINUS SIGN}0.03 mm (\N{MINUS SIGN}0.0012 in)"
    assert inches(254, 1) == "10.0 in"


@given(st.floats(-500, 500), st.integers(0, 4))
def test_the_inches_are_the_millimetres_over_25_4(length: float, places: int) -> None:
    told = inches(length, places).removesuffix(" in").replace("\N{MINUS SIGN}", "-")
    assert float(told) == pytest.approx(length / 25.4, abs=0.5000001 * 10**-places)


@given(st.floats(-1000, 1000), st.integers(0, 6))
def test_a_number_is_written_to_its_places_and_never_as_minus_zero(value: float, places: int) -> None:
    told = number(value, places)
    back = float(told.replace("\N{MINUS SIGN}", "-"))
    assert back == pytest.approx(value, abs=0.5000001 * 10**-places)
    assert len(told.partition(".")[2]) == places
    assert not (back == 0 and told.startswith("\N{MINUS SIGN}"))


def test_a_share_is_told_in_percent() -> None:
    assert percent(0.975, 1) == "97.5\N{NO-BREAK SPACE}%"
    assert percent(0) == "0\N{NO-BREAK SPACE}%"


@pytest.mark.parametrize("tell", [number, mm, inches, percent])
@pytest.mark.parametrize("value", [math.nan, math.inf, "1", True, None, 10**400])
def test_what_is_no_number_is_refused(tell: object, value: object) -> None:
    with pytest.raises(ValueError, match=r"^A finite number was expected .*\.$"):
        tell(value)  # type: ignore[operator]


@pytest.mark.parametrize("places", [-1, 7, 1.0, True, "2"])
def test_places_that_cannot_be_written_are_refused(places: object) -> None:
    with pytest.raises(ValueError, match=r"^Decimal places must be .*\.$"):
        number(1.0, places)  # type: ignore[arg-type]


def test_the_verdicts_are_the_trades_own_words() -> None:
    assert (
        set(words.VERDICT_WORDS) == set(words.VERDICT_SENTENCES) == {"within", "outside", "too close to call"}
    )
    assert set(words.ACTION_WORDS) == {"keep", "machine", "replace"}


@given(st.floats(-1000, 1000))
def test_a_coordinate_has_two_places_at_most(value: float) -> None:
    told = svg.num(value)
    assert float(told) == pytest.approx(value, abs=0.00501)
    assert told != "-0"
    assert len(told.partition(".")[2]) <= 2


@given(st.text(alphabet=st.characters(exclude_categories=("Cs", "Cc"))))
def test_any_words_can_stand_in_a_drawing(text: str) -> None:
    shown = ET.fromstring(svg.tag("text", svg.escape(text), title=text) if text else "<text title=''/>")
    assert (shown.text or "") == text
    assert shown.get("title") == text
