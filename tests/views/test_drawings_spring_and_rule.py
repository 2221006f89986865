"""Read the spring gauge at its pointer, and the rule at the part's end.

1 lbf = 4.448 222 N (NIST SP 811, 2008, appendix B; from memory here, read in the published tables). The rest
is common practice, no source.
"""

from __future__ import annotations

import math

import pytest
from brakecourse.views.drawings import rule_svg, spring_gauge_svg
from hypothesis import example, given
from hypothesis import strategies as st

from tests.views.picture import corners, heard, lines, number, numbers, numerals, part, scale

N_PER_LBF = 4.4482216


def pulled(svg: str, name: str) -> float:
    ys = [y for _, y in corners(part(svg, "pointer"))]
    places = {value: spot[1] for value, spot in numerals(svg, f"{name}-number").items()}
    return scale(places)((min(ys) + max(ys)) / 2)


@given(st.floats(0, 50))
@example(0.0)
@example(50.0)
def test_both_sides_tell_the_pull(force: float) -> None:
    svg = spring_gauge_svg(force, uid="n")
    assert pulled(svg, "newton") == pytest.approx(force, abs=0.05)
    assert pulled(svg, "lbf") == pytest.approx(force / N_PER_LBF, abs=0.02)
    assert heard(svg, 1, "pointer stands") == pytest.approx(force, abs=0.51)


@given(st.floats(5, 1000), st.floats(0, 1))
def test_a_gauge_of_any_range_tells_it(full: float, share: float) -> None:
    svg = spring_gauge_svg(share * full, full_n=full, uid="n")
    assert pulled(svg, "newton") == pytest.approx(share * full, abs=0.004 * full)


def test_a_line_is_a_newton() -> None:
    svg = spring_gauge_svg(0, uid="n")
    read = scale({value: spot[1] for value, spot in numerals(svg, "newton-number").items()})
    found = sorted(read(y) for _, y, _, _ in lines(svg, "newton-fine", "newton-coarse"))
    assert found == pytest.approx(list(range(51)), abs=0.05)


@pytest.mark.parametrize(("full", "line"), [(100, 1), (500, 5), (2500, 25)])
def test_the_lines_may_be_asked_for(full: float, line: float) -> None:
    svg = spring_gauge_svg(full / 3, full_n=full, line_n=line, uid="n")
    read = scale({value: spot[1] for value, spot in numerals(svg, "newton-number").items()})
    found = sorted(read(y) for _, y, _, _ in lines(svg, "newton-fine", "newton-coarse"))
    assert found == pytest.approx([n * line for n in range(101)], abs=line * 0.1)
    assert heard(svg, line, "pointer stands") == pytest.approx(full / 3, abs=line * 0.51)


@pytest.mark.parametrize("line", [0, 0.4, 51, math.nan, "1", True])
def test_lines_that_cannot_be_drawn_are_refused(line: object) -> None:
    with pytest.raises(ValueError, match=r"^The line in N must be .*\.$"):
        spring_gauge_svg(10, line_n=line, uid="n")  # type: ignore[arg-type]


@given(st.integers(1, 499).filter(lambda n: n % 10).map(lambda n: n / 10))
def test_it_nowhere_says_the_pull(force: float) -> None:
    assert f"{force:g}" not in numbers(spring_gauge_svg(force, uid="n"))


@pytest.mark.parametrize("force", [-1, 50.1, math.nan, math.inf, "20", True, None])
def test_a_pull_off_the_scale_is_refused(force: object) -> None:
    with pytest.raises(ValueError, match=r"^The pull in N must be .*\.$"):
        spring_gauge_svg(force, uid="n")  # type: ignore[arg-type]


@pytest.mark.parametrize("full", [4, 2501, math.nan, "50", True])
def test_a_spring_scale_that_cannot_be_drawn_is_refused(full: object) -> None:
    with pytest.raises(ValueError, match=r"^The end of the force scale in N must be .*\.$"):
        spring_gauge_svg(0, full_n=full, uid="n")  # type: ignore[arg-type]


@given(st.floats(20, 150), st.floats(0, 1))
@example(100.0, 0.374)
def test_the_part_ends_at_its_length_on_the_rule(full: float, share: float) -> None:
    svg = rule_svg(share * full, full_mm=full, uid="u")
    read = scale({value: spot[0] for value, spot in numerals(svg, "rule-number").items()})
    piece = part(svg, "part")
    assert read(number(piece, "x")) == pytest.approx(0, abs=0.03)
    assert read(number(piece, "x") + number(piece, "width")) == pytest.approx(share * full, abs=0.05)
    assert heard(svg, 1, "its right end") == pytest.approx(share * full, abs=0.51)


def test_the_rule_has_a_line_for_each_millimetre() -> None:
    svg = rule_svg(10, full_mm=60, uid="u")
    read = scale({value: spot[0] for value, spot in numerals(svg, "rule-number").items()})
    found = sorted(read(x) for x, _, _, _ in lines(svg, "rule-fine", "rule-coarse"))
    assert found == pytest.approx(list(range(61)), abs=0.03)


@given(st.integers(1, 999).filter(lambda n: n % 10).map(lambda n: n / 10))
def test_the_rule_nowhere_says_the_length(length: float) -> None:
    assert f"{length:g}" not in numbers(rule_svg(length, uid="u"))


@pytest.mark.parametrize("length", [-1, 100.1, math.nan, math.inf, "20", True, None])
def test_a_part_longer_than_the_rule_is_refused(length: object) -> None:
    with pytest.raises(ValueError, match=r"^The length of the part in mm must be .*\.$"):
        rule_svg(length, uid="u")  # type: ignore[arg-type]


@pytest.mark.parametrize("full", [19, 151, math.nan, "100", True])
def test_a_rule_that_cannot_be_drawn_is_refused(full: object) -> None:
    with pytest.raises(ValueError, match=r"^The last line of the rule in mm must be .*\.$"):
        rule_svg(0, full_mm=full, uid="u")  # type: ignore[arg-type]
