"""Read the job sheet as a person does: minutes from the bar and its scale, shares from the bars, words.

Bars to one scale: common practice, no source.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from typing import Any

import pytest
from brakecourse.views.drawings import bench_sheet_svg, pedal_svg
from brakecourse.views.drawings.bench_sheet import SHOWN_CHECKS, SheetCause, SheetCheck
from hypothesis import given
from hypothesis import strategies as st

from tests.views.picture import display, number, part, parts

CHEAP = SheetCheck("Feel the pedal", "It is firm", 4, True)
DEAR = SheetCheck("Draw the pins", "One is tight", 30, False)


def words(svg: str) -> list[str]:
    return [node.text or "" for node in ET.fromstring(svg).iter() if node.tag.endswith("text")]


def desc(svg: str) -> str:
    return next(node.text or "" for node in ET.fromstring(svg).iter() if node.tag.endswith("desc"))


@given(st.integers(0, 20), st.integers(0, 6))
def test_the_bars_are_as_long_as_the_minutes(cheap: int, dear: int) -> None:
    svg = bench_sheet_svg([CHEAP] * cheap + [DEAR] * dear, [], uid="s", note="-")
    spent = 4 * cheap + 30 * dear
    assert any(one.startswith(f"{spent} minutes spent") for one in words(svg))
    scale = max(float(one) for one in words(svg) if re.fullmatch(r"\d+", one))
    assert scale >= spent
    bars = [sum(number(node, "width") for node in parts(svg, name)) for name in ("cheap", "dear")]
    assert bars == pytest.approx([4 * cheap / scale * 452, 30 * dear / scale * 452], abs=0.05)


@given(st.lists(st.floats(0.01, 1), min_size=1, max_size=8))
def test_the_bars_of_the_causes_are_as_long_as_their_shares(shares: list[float]) -> None:
    svg = bench_sheet_svg([], [SheetCause("air", share) for share in shares], uid="s")
    widths = [number(node, "width") for node in parts(svg, "bar")]
    assert widths == pytest.approx([308 * share for share in shares], abs=0.02)


def test_a_share_is_told_in_words_and_a_small_one_has_no_bar() -> None:
    svg = bench_sheet_svg([], [SheetCause("air", 0.004), SheetCause("leak", 0.996)], uid="s")
    assert {"below 1 in 100", "above 99 in 100"} <= set(words(svg)) and len(parts(svg, "bar")) == 1


def test_the_latest_checks_are_written_out_and_all_are_told_to_a_listener() -> None:
    done = [SheetCheck(f"Check {n}", f"Finding {n}", 1, True) for n in range(1, SHOWN_CHECKS + 4)]
    svg = bench_sheet_svg(done, [], uid="s", note="-")
    assert "3 earlier checks not shown here" in words(svg)
    assert "Finding 3" not in words(svg) and "Finding 4" in words(svg) and "Finding 11" in words(svg)
    assert all(f"Finding {n}." in desc(svg) for n in range(1, 12))


def test_no_words_run_out_of_the_sheet() -> None:
    long = SheetCheck("W" * 8 + " and so on" * 9, "It shows" + " a very long thing" * 5, 10, True)
    svg = bench_sheet_svg([long], [SheetCause("a cause with" + " many words" * 9, 0.5)], uid="s")
    for node in ET.fromstring(svg).iter():
        if node.tag.endswith("text") and node.get("text-anchor") != "end":
            wide = 0.58 if node.get("font-weight") == "bold" else 0.53  # of its size, for a usual letter
            reach = number(node, "x") + wide * number(node, "font-size") * len(node.text or "")
            assert reach <= 502, node.text  # the paper's right edge
    height = float(re.findall(r'viewBox="0 0 520 (\d+)"', svg)[0])
    assert max(number(node, "y") for node in ET.fromstring(svg).iter() if node.tag.endswith("text")) < height


@pytest.mark.parametrize(
    "call",
    [
        lambda: bench_sheet_svg([CHEAP] * 41, [], uid="s"),
        lambda: bench_sheet_svg([], [SheetCause("air", 1.2)], uid="s"),
        lambda: bench_sheet_svg([], [SheetCause("", 0.2)], uid="s"),
        lambda: bench_sheet_svg([], [SheetCause("air", 0.1)] * 9, uid="s"),
        lambda: bench_sheet_svg([CHEAP._replace(minutes=float("nan"))], [], uid="s"),
        lambda: bench_sheet_svg([CHEAP._replace(words=7)], [], uid="s"),
        lambda: bench_sheet_svg([], [], uid="s", heading=" "),
        lambda: bench_sheet_svg([], [], uid="1"),
        lambda: pedal_svg(3, room_mm=130, uid="p", stopwatch_s=601),
        lambda: pedal_svg(3, room_mm=130, uid="p", stopwatch_s=1, strokes=2),
    ],
)
def test_what_cannot_be_drawn_is_refused_in_one_sentence(call: Any) -> None:
    with pytest.raises(ValueError, match=r"^[A-Z][^!?]*\.$"):
        call()


@pytest.mark.parametrize(("time_s", "told"), [(0, "0, point, 0"), (38.5, "3, 8, point, 5")])
def test_the_stopwatch_shows_the_time_and_a_listener_hears_it(time_s: float, told: str) -> None:
    svg = pedal_svg(57, room_mm=135, uid="p", stopwatch_s=time_s)
    assert f"The stopwatch shows {told}, and the unit s." in desc(svg)
    assert display(svg).strip().lstrip("0") == f"{time_s * 10:03.0f}".lstrip("0")  # the point is no bar
    assert part(svg, "stopwatch") is not None and "stopwatch" not in pedal_svg(57, room_mm=135, uid="p")
