"""Bottles on a shelf: what the labels and caps say is what is drawn, and nothing judges."""

from __future__ import annotations

from itertools import product
from xml.etree import ElementTree

import pytest
from brakecourse.views import palette
from brakecourse.views.drawings import Bottle, fluid_bottles_svg

SVG = "{http://www.w3.org/2000/svg}"
GRADES = ("DOT 3", "DOT 4", "DOT 5", "DOT 5.1", "mineral oil")


def parts(svg: str, place: int) -> tuple[list[str], set[str]]:
    """Read one bottle back: its words, and the names of its parts."""
    root = ElementTree.fromstring(svg)
    (bottle,) = root.iterfind(f".//{SVG}g[@data-part='bottle-{place}']")
    words = [text.text or "" for text in bottle.iter(f"{SVG}text")]
    return words, {one.get("data-part", "") for one in bottle.iter()}


@pytest.mark.parametrize(("grade", "months"), [*product(GRADES, (0, 1, 14))])
def test_label_and_cap_are_those_of_the_bottle(grade: str, months: int) -> None:
    svg = fluid_bottles_svg([Bottle("DOT 3"), Bottle(grade, months)], uid="b")
    words, names = parts(svg, 2)
    assert grade in words
    base = {"DOT 5": "silicone-based", "mineral oil": "for presses"}.get(grade, "glycol-based")
    assert base in words
    assert ("sealed" in words) is (months == 0) is ("seal" in names)
    assert ("tag" in names) is ("opened" in words) is (months > 0)
    told = svg[svg.index("<desc") : svg.index("</desc>")]
    assert f"Bottle 2: {grade}, {base}" in told and ("is sealed." in told.split("Bottle 2")[1]) is (
        months == 0
    )


def test_all_bottles_look_alike_but_for_label_and_cap() -> None:
    used = [
        {colour for colour in vars(palette).values() if isinstance(colour, str) and colour in svg}
        for svg in (fluid_bottles_svg([Bottle(grade)], uid="b") for grade in GRADES)
    ]
    assert all(one == used[0] for one in used)


@pytest.mark.parametrize("bottles", [[], "DOT 4", None, [Bottle("DOT 4")] * 5, ["DOT 4"]])
def test_a_shelf_without_bottles_is_refused(bottles: object) -> None:
    with pytest.raises(ValueError, match=r"^A shelf must hold .*\.$"):
        fluid_bottles_svg(bottles, uid="b")  # type: ignore[arg-type]


@pytest.mark.parametrize(("grade", "months"), [("DOT 6", 0), ("DOT 4", -1), ("DOT 4", True), ("DOT 4", 1.5)])
def test_a_bottle_that_cannot_be_is_refused(grade: str, months: object) -> None:
    with pytest.raises(ValueError, match=r"must be .*, but (it was|they were) .*\.$"):
        Bottle(grade, months)  # type: ignore[arg-type]
