"""Read the curves back from the axes' numbers."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from itertools import combinations, pairwise

import pytest
from brakecourse.views.drawings import curve_plot_svg
from hypothesis import given
from hypothesis import strategies as st

from tests.views.picture import NS, corners, described, number, numerals, part, parts, scale, words

Points = Sequence[tuple[float, float]]


def draw(*curves: tuple[str, Points], **more: object) -> str:
    facts: dict[str, object] = {"x_label": "time, s", "y_label": "°C", "uid": "c", "title": "Curves", **more}
    return curve_plot_svg(curves, **facts)  # type: ignore[arg-type]


def across(svg: str, x: float) -> float:
    return scale({value: spot[0] for value, spot in numerals(svg, "x-number").items()})(x)


def up(svg: str, y: float) -> float:
    # The numbers stand a little below the middle of their lines; all by the same amount.
    return scale({value: number_y for value, (_, number_y) in numerals(svg, "y-number").items()})(y)


HEAT = [(t, 400 - 370 * math.exp(-t / 40)) for t in range(0, 121, 10)]
COOL = [(t, 220 - 190 * math.exp(-t / 40)) for t in range(0, 121, 10)]


@given(
    st.lists(st.floats(0.1, 10), min_size=2, max_size=12),
    st.lists(st.floats(-500, 2000), min_size=12, max_size=12),
)
def test_the_axes_tell_the_points(steps: list[float], heights: list[float]) -> None:
    x, points = 0.0, []
    for step, y in zip(steps, heights, strict=False):
        x += step
        points.append((x, y))
    svg = draw(("one", points))
    width = points[-1][0] - points[0][0]
    ys = [y for _, y in points]
    height = (max(ys) - min(ys)) or abs(max(ys)) or 1.0
    for (px, py), (wx, wy) in zip(corners(part(svg, "curve")), points, strict=True):
        assert across(svg, px) == pytest.approx(wx, abs=0.02 * width + 0.002)
        assert up(svg, py) == pytest.approx(wy, abs=0.025 * height + 0.002)


def test_the_axes_begin_and_end_on_their_numbers() -> None:
    svg = draw(("front", HEAT))
    xs = sorted(x for x, _ in numerals(svg, "x-number").values())
    ys = sorted(y for _, y in numerals(svg, "y-number").values())
    # The area: 66 to 386 across, 46 to 340 down.
    assert (xs[0], xs[-1]) == pytest.approx((66, 386), abs=0.5)
    assert (ys[0], ys[-1]) == pytest.approx((46, 340), abs=0.5)


def test_limit_band_and_mark_stand_at_their_values() -> None:
    svg = draw(
        ("front", HEAT),
        limit=450,
        limit_words="not above",
        band=(250, 350, "between"),
        marks=[(60, 300, "now")],
    )
    assert up(svg, number(part(svg, "limit"), "y1")) == pytest.approx(450, abs=3)
    band = part(svg, "band")
    assert up(svg, number(band, "y")) == pytest.approx(350, abs=3)
    assert up(svg, number(band, "y") + number(band, "height")) == pytest.approx(250, abs=3)
    mark = part(svg, "mark")
    assert (across(svg, number(mark, "cx")), up(svg, number(mark, "cy"))) == pytest.approx((60, 300), abs=3)
    for told in ("not above", "between", "now", "time, s", "°C"):
        assert told in words(svg).replace(described(svg), "")
        assert told in described(svg)


@given(st.floats(0, 100), st.floats(0, 100), st.floats(0, 10))
def test_words_at_a_mark_keep_clear_of_the_limit(y: float, limit: float, x: float) -> None:
    svg = draw(("a", [(0, 0), (10, 100)]), limit=limit, limit_words="not above", marks=[(x, y, "now")])
    (word,) = [node for node in ET.fromstring(svg).iter(f"{NS}text") if node.text == "now"]
    baseline, line = number(word, "y"), number(part(svg, "limit"), "y1")
    assert line < baseline - 11 or line > baseline + 3
    assert baseline - 9 > 46 and baseline < 340  # inside the area


def test_words_at_marks_keep_clear_of_each_other() -> None:
    svg = draw(("a", [(0, 0), (10, 100)]), marks=[(5, 50, "wet limit"), (5.6, 53, "now"), (4.5, 47, "old")])
    spots = {
        node.text: (number(node, "x"), number(node, "y"), 3.8 * len(node.text or ""))
        for node in ET.fromstring(svg).iter(f"{NS}text")
        if node.text in {"wet limit", "now", "old"}
    }
    for (x1, y1, half1), (x2, y2, half2) in combinations(spots.values(), 2):
        assert abs(x1 - x2) >= half1 + half2 or abs(y1 - y2) >= 14


def test_curves_are_told_apart_without_their_colours() -> None:
    svg = draw(*((f"curve {n}", [(0, n), (1, 2 * n)]) for n in range(1, 5)))
    dashes = {node.get("stroke-dasharray") for node in parts(svg, "curve")}
    shapes = {(node.tag, node.get("points", "").count(",")) for node in parts(svg, "end")}
    outlines = {
        tuple((round(x - cx, 1), round(y - cy, 1)) for x, y in points)
        for points in (corners(node) for node in parts(svg, "end"))
        for cx, cy in [
            (sum(x for x, _ in points) / max(1, len(points)), sum(y for _, y in points) / max(1, len(points)))
        ]
    }
    assert len(dashes) == 4
    assert len(outlines) == 4 and len(shapes) == 3  # a circle has no corners; square and diamond have four


def test_each_name_stands_at_its_own_line_and_none_on_another() -> None:
    svg = draw(("front rotor", HEAT), ("rear rotor", COOL), ("almost as hot", [(0, 30), (120, 378)]))
    tops = sorted((number(node, "y"), node.text) for n in range(3) for node in parts(svg, f"name-{n + 1}"))
    assert [told for _, told in tops] == ["almost as hot", "front rotor", "rear rotor"] or [
        told for _, told in tops
    ] == ["front rotor", "almost as hot", "rear rotor"]
    assert min(b[0] - a[0] for a, b in pairwise(tops)) >= 18


def test_a_long_name_is_broken_into_rows() -> None:
    svg = draw(("glycol fluid after two years", HEAT))
    rows = [node.text or "" for node in parts(svg, "name-1")]
    assert " ".join(rows) == "glycol fluid after two years"
    assert max(map(len, rows)) <= 14


def test_words_in_a_band_go_where_no_curve_runs() -> None:
    def place(points: Points) -> str:
        svg = draw(("a", points), band=(40, 60, "the band"))
        (word,) = [node for node in ET.fromstring(svg).iter(f"{NS}text") if node.text == "the band"]
        return word.get("text-anchor", "")

    assert place([(0, 50), (30, 50), (100, 100)]) == "end"
    assert place([(0, 0), (70, 50), (100, 50)]) == "start"


def test_the_ends_and_the_highest_point_are_told() -> None:
    svg = draw(("front", [(0, 20), (50, 310), (90, 260)]))
    assert "Curve front: from 20 at 0 to 260 at 90, highest 310 at 50." in described(svg)


def test_zero_is_shown_when_it_is_not_far_off() -> None:
    assert 0 in numerals(draw(("a", [(0, 100), (1, 400)])), "y-number")
    assert 0 not in numerals(draw(("a", [(0, 300), (1, 400)])), "y-number")


def test_a_level_curve_can_be_drawn() -> None:
    for level in (0.0, 5.0, -5.0):
        svg = draw(("a", [(0, level), (1, level)]))
        assert up(svg, corners(part(svg, "curve"))[0][1]) == pytest.approx(level, abs=0.1)


GOOD = ("a", [(0, 1), (1, 2)])


@pytest.mark.parametrize(
    ("curves", "more", "told"),
    [
        ([], {}, "one to 4 curves"),
        ([GOOD] * 5, {}, "one to 4 curves"),
        ([("a", [(0, 1)])], {}, "two points or more"),
        ([("a", [(0, 1), (0, 2)])], {}, "must go on to the right"),
        ([("a", [(0, 1), (1, math.nan)])], {}, "must be a finite number"),
        ([("a", [(0, 1), ("1", 2)])], {}, "must be a finite number"),
        ([("", [(0, 1), (1, 2)])], {}, "curve must be named"),
        ([GOOD], {"limit": math.inf}, "limit must be a finite number"),
        ([GOOD], {"limit": 3, "limit_words": " "}, "limit must be named"),
        ([GOOD], {"band": (3, 3, "b")}, "low end must be below"),
        ([GOOD], {"band": (1, 3, "")}, "band must be named"),
        ([GOOD], {"marks": [(0, 1, "")]}, "mark must be named"),
        ([GOOD], {"marks": [(0, True, "m")]}, "must be a finite number"),
        ([GOOD], {"marks": [(0, 1)]}, "mark must have 3 members"),
        ([GOOD], {"band": 3}, "band must have 3 members"),
        ([("a", [(0, 1, 2), (1, 2)])], {}, "point of the curve 'a' must have 2 members"),
        ([("a", [0, 1])], {}, "point of the curve 'a' must have 2 members"),
        ([("a", "bc")], {}, "needs a row of points"),
        (["ab"], {}, "curve must have 2 members"),
        ([GOOD], {"x_label": ""}, "axis across must be named"),
        ([GOOD], {"y_label": None}, "axis up must be named"),
    ],
)
def test_what_cannot_be_drawn_is_refused(
    curves: list[tuple[str, Points]], more: dict[str, object], told: str
) -> None:
    with pytest.raises(ValueError, match=told) as refused:
        draw(*curves, **more)
    assert str(refused.value).endswith(".")
