"""The drawings of lesson 06 are read back by an independent reader."""

from __future__ import annotations

import re
from typing import Any, get_args

import pytest
from brakecourse.views.drawings._retraction_places import BOTTLE_HOLDS_ML, BOTTLE_START_ML, Push
from brakecourse.views.drawings.boots_card import boots_card_svg
from brakecourse.views.drawings.caliper_hung import Held, caliper_hung_svg
from brakecourse.views.drawings.hose_card import HoseSkin, hose_card_svg
from brakecourse.views.drawings.retraction import retraction_svg

from tests.views.picture import corners, described, number, numbers, part, parts, words

ESTATE: dict[str, Any] = {
    "bore_mm": 54,
    "pad_height_mm": 50,
    "rotor_mm": 22,
    "lining_new_mm": 11.5,
    "inner_mm": 4.1,
    "outer_mm": 4.9,
}
TRAVEL = 2 * 11.5 - 4.1 - 4.9


def drawn(**more: Any) -> str:
    return retraction_svg(Push(**{**ESTATE, **more}), uid="t")


@pytest.mark.parametrize("pushed", [0.0, 3.3, 8.0, TRAVEL])
def test_the_way_back_is_read_from_bore_and_piston_at_true_proportion(pushed: float) -> None:
    svg = drawn(pushed_mm=pushed)
    fluid, piston = part(svg, "fluid"), part(svg, "piston")
    px = number(fluid, "height") / 54
    behind = (number(piston, "x") - number(fluid, "x")) / px
    assert behind == pytest.approx(3 + TRAVEL - pushed, abs=0.1)
    for name, lining in (("inner", 4.1), ("outer", 4.9)):
        assert number(part(svg, f"{name}-lining"), "width") / px == pytest.approx(lining, abs=0.05)
    assert number(part(svg, "rotor"), "width") / px == pytest.approx(22, abs=0.05)


def test_the_piston_stays_at_its_pad_and_the_body_comes_over_it() -> None:
    start, end = drawn(pushed_mm=0), drawn(pushed_mm=TRAVEL)
    assert part(start, "piston").attrib == part(end, "piston").attrib
    px = number(part(start, "fluid"), "height") / 54
    lefts = [min(x for x, _ in corners(part(svg, "body"))) for svg in (start, end)]
    assert (lefts[1] - lefts[0]) / px == pytest.approx(TRAVEL, abs=0.1)
    plate = part(start, "inner-plate")
    touch = number(part(start, "piston"), "x") + number(part(start, "piston"), "width")
    assert touch == pytest.approx(number(plate, "x"), abs=0.2)


def test_open_it_goes_to_the_bottle_and_shut_through_the_abs_unit() -> None:
    out, back = drawn(pushed_mm=5, bleeder="open", bottle_ml=11.4), drawn(pushed_mm=5, bleeder="shut")
    assert parts(out, "to-bottle") and not parts(out, "to-abs") and parts(out, "clear-fluid")
    assert parts(back, "to-abs") and not parts(back, "to-bottle") and not parts(back, "clear-fluid")
    assert part(out, "pipe-fluid").get("stroke") != part(back, "pipe-fluid").get("stroke")
    assert "through the bleeder to the bottle" in described(out) and "ABS unit, to the res" in described(back)
    assert "bleeder, open" in words(out) and "bleeder, shut" in words(back)
    assert not parts(drawn(), "to-abs"), "nothing has been pushed"


def test_with_the_press_off_too_soon_the_arrow_points_back_into_the_bore() -> None:
    late = drawn(pushed_mm=5, bleeder="open", bottle_ml=11.4, press=False, air=True)
    assert parts(late, "back-in") and not parts(late, "to-bottle")
    assert "back into the bore" in described(late)


def test_the_bleeder_is_lifted_when_open_and_hidden_when_asked() -> None:
    up = [float(part(drawn(bleeder=state), "bleeder").get("data-up", "nan")) for state in ("open", "shut")]
    assert up[0] > 4 and up[1] == 0
    asked = drawn(pushed_mm=5, bleeder="not told")
    assert not parts(asked, "bleeder") and not parts(asked, "to-abs") and not parts(asked, "to-bottle")
    assert not re.search(r"\b(open|shut)\b", words(asked))


def test_the_bottle_and_the_reservoir_hold_what_is_said() -> None:
    heights = [
        number(part(drawn(bleeder="open", pushed_mm=5, bottle_ml=ml), "bottle-fluid"), "height")
        for ml in (0, 50, 100)
    ]
    share = (heights[2] - heights[1]) / (heights[1] - heights[0])
    assert share == pytest.approx(1, abs=0.02)
    assert (heights[0] + 2) / BOTTLE_START_ML == pytest.approx(
        (heights[2] + 2) / (BOTTLE_START_ML + 100), 0.02
    )
    assert BOTTLE_HOLDS_ML > 200
    level = [number(part(drawn(level_mm=mm), "level"), "height") for mm in (10, 20, 40)]
    assert level[1] / level[0] == pytest.approx(2, abs=0.02) and level[2] / level[0] == pytest.approx(
        4, abs=0.02
    )


def test_press_air_and_hose_are_there_only_when_told() -> None:
    assert parts(drawn(), "press") and not parts(drawn(press=False), "press")
    assert len(parts(drawn(air=True), "bubble")) >= 4 and not parts(drawn(), "bubble")
    assert "no clear hose" in described(drawn(hose=False))
    assert "new pads" in described(drawn(inner_mm=11.5, outer_mm=11.5))


def test_no_length_is_told() -> None:
    assert not numbers(drawn(pushed_mm=7.3, bleeder="open", bottle_ml=16))


@pytest.mark.parametrize(
    "wrong",
    [
        {"pushed_mm": TRAVEL + 0.1},
        {"pushed_mm": -1},
        {"bleeder": "half"},
        {"bore_mm": float("nan")},
        {"inner_mm": 12},
        {"level_mm": 51},
        {"rotor_mm": True},
        {"bottle_ml": "9"},
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(wrong: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match=r"^The .* must be "):
        Push(**{**ESTATE, **wrong})


@pytest.mark.parametrize("skin", get_args(HoseSkin))
def test_a_hose_shows_cords_or_a_lump_where_it_must_not_stay(skin: HoseSkin) -> None:
    svg = hose_card_svg(skin, uid="t")
    assert bool(parts(svg, "cords")) == skin.endswith("to the cords")
    assert bool(parts(svg, "lump")) == (skin == "blister")
    assert bool(parts(svg, "fine-line")) == (skin == "fine lines")
    assert bool(parts(svg, "rubbed")) == (skin == "rubbed cover")
    assert not re.search(r"\b(renew|keep|stay|sound|bad)\b", words(svg))
    assert not parts(svg, "drop") and parts(hose_card_svg(skin, uid="t", wet=True), "drop")


def test_cards_refuse_what_there_is_not() -> None:
    with pytest.raises(ValueError, match="skin must be one of"):
        hose_card_svg("torn", uid="t")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="held in one of"):
        caliper_hung_svg("rope", uid="t")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="A Push was expected"):
        retraction_svg("push", uid="t")  # type: ignore[arg-type]


def test_tears_and_drops_are_where_they_are_told() -> None:
    assert not parts(boots_card_svg(uid="t"), "tear") and not parts(boots_card_svg(uid="t"), "drop")
    assert parts(boots_card_svg(uid="t", piston_torn=True), "tear")
    assert parts(boots_card_svg(uid="t", pin_torn=True), "pin-tear")
    assert not parts(boots_card_svg(uid="t", pins=False, pin_torn=True), "pin-tear")
    for wet in ({"wet": True}, {"wet_fitting": True}):
        svg = boots_card_svg(uid="t", **wet)  # type: ignore[arg-type]
        assert parts(svg, "drop") and "Drops of fluid" in described(svg)


@pytest.mark.parametrize("held", get_args(Held))
def test_what_carries_the_caliper_is_seen_and_told_without_a_verdict(held: Held) -> None:
    svg = caliper_hung_svg(held, uid="t")
    assert bool(parts(svg, "hook")) == (held in ("hook", "twisted", "taut"))
    assert bool(parts(svg, "strap")) == (held == "strap")
    assert bool(parts(svg, "wound-stripe")) == (held == "twisted")
    straight = "C" not in part(svg, "hose").get("d", "")
    assert straight == (held in ("hose", "taut"))
    assert not re.search(r"\b(well|badly|wrong|right|must)\b", described(svg))
    assert "scale(-1 1)" in caliper_hung_svg(held, uid="t", mirrored=True)
