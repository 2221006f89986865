"""The workshop, the stands and the cards, read back from their pictures."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET

import pytest
from brakecourse.bench.vehicles import motor_pool
from brakecourse.views.drawings import on_stands_svg, step_cards_svg, workshop_svg
from brakecourse.views.drawings.step_cards import StepCard
from brakecourse.views.drawings.workshop import STATES
from brakecourse.views.vehicle_shapes import shape_of

from tests.views.picture import NS, number, parts

VAN = ("van", 2750.0, 305.0, 650.0)
# What must be on the picture for a state, and what must not: read as a person does.
SEEN: dict[tuple[str, str], tuple[dict[str, str], set[str]]] = {
    ("support", "stands"): ({"stand": "", "jack": ""}, {"blocks"}),
    ("support", "jack"): ({"jack": ""}, {"stand", "blocks"}),
    ("support", "blocks"): ({"blocks": ""}, {"stand", "jack"}),
    ("chock", "chocks"): ({"chock": ""}, set()),
    ("chock", "none"): ({}, {"chock"}),
    ("dust", "wet"): ({"dust": "wet"}, set()),
    ("dust", "air"): ({"dust": "air"}, set()),
    ("dust", "brush"): ({"dust": "brush"}, set()),
    ("caliper", "hook"): ({"caliper": "hook"}, set()),
    ("caliper", "hose"): ({"caliper": "hose"}, set()),
    ("heat", "cool"): ({"thermometer": ""}, set()),
    ("heat", "hot"): ({"thermometer": ""}, set()),
    ("spring", "covered"): ({"spring": "covered", "goggles": "worn"}, set()),
    ("spring", "levered"): ({"spring": "levered", "goggles": "hanging"}, set()),
    ("fluid", "closed"): ({"fluid": "closed", "goggles": "worn"}, set()),
    ("fluid", "spilt"): ({"fluid": "spilt", "goggles": "hanging"}, set()),
    ("cleaner", "apart"): ({"cleaner": "apart"}, set()),
    ("cleaner", "heater"): ({"cleaner": "heater"}, set()),
}


@pytest.mark.parametrize("spot", SEEN, ids="-".join)
def test_a_place_shows_its_state(spot: tuple[str, str]) -> None:
    svg = workshop_svg(VAN, {spot[0]: spot[1]}, uid="a", told=["Here."], heat_c=187)
    there, missing = SEEN[spot]
    for name, state in there.items():
        assert [node.get("data-state", "") for node in parts(svg, name)][:1] == [state]
    assert not any(parts(svg, name) for name in missing)
    if spot[0] == "heat":
        assert [node.text for node in parts(svg, "heat")] == ["187 °C"]


def test_every_state_is_tried_above() -> None:
    every = {(spot, state) for spot, states in STATES.items() if spot != "sheet" for state in states}
    assert every == set(SEEN)


def test_the_places_are_numbered_in_their_order_and_lie_apart() -> None:
    spots = {spot: states[0] for spot, states in STATES.items() if spot != "sheet"}
    svg = workshop_svg(VAN, spots, uid="a", told=["Here."] * len(spots))
    numbers = parts(svg, "place")
    assert [node.text for node in numbers] == [str(n + 1) for n in range(len(spots))]
    middles = [(number(node, "x"), number(node, "y")) for node in numbers]
    for (x, y), (other_x, other_y) in itertools.combinations(middles, 2):
        assert abs(x - other_x) > 27 or abs(y - other_y) > 27


@pytest.mark.parametrize("state", STATES["sheet"])
def test_the_job_sheet_is_written_out_and_the_vehicle_stands_on_its_wheels(state: str) -> None:
    svg = workshop_svg(VAN, {"sheet": state}, uid="a", told=["A sheet."])
    words = [node.text or "" for node in ET.fromstring(svg).iter(f"{NS}text")]
    assert "Next: first move" in words
    assert ("Pedal: not pumped" in words) == (state == "unpumped")
    assert ("Wheel nuts: by hand" in words) == (state == "loose nuts")
    assert len(parts(svg, "tyre")) == 2 and not parts(svg, "stand")


def test_the_words_about_the_places_are_told_and_nothing_is_judged() -> None:
    svg = workshop_svg(VAN, {"support": "jack", "chock": "none"}, uid="a", told=["A jack.", "A wheel."])
    desc = ET.fromstring(svg).findtext(f"{NS}desc") or ""
    assert desc.endswith("Place 1: A jack. Place 2: A wheel.")
    assert not re.search(r"danger|hazard|wrong|unsafe", svg)


@pytest.mark.parametrize(
    ("spots", "told"), [({"support": "rope"}, ["x"]), ({"roof": "jack"}, ["x"]), ({"chock": "none"}, [])]
)
def test_places_that_cannot_be_drawn_are_refused(spots: dict[str, str], told: list[str]) -> None:
    with pytest.raises(ValueError, match="Places and states"):
        workshop_svg(VAN, spots, uid="a", told=told)


@pytest.mark.parametrize("vehicle", motor_pool().values(), ids=lambda one: one.key)
@pytest.mark.parametrize("end", ["front", "rear"])
def test_the_vehicle_is_drawn_at_true_proportion(vehicle: object, end: str) -> None:
    one: object = vehicle
    svg = on_stands_svg(
        kind=shape_of(one),  # type: ignore[arg-type]
        wheelbase_mm=one.wheelbase_mm,  # type: ignore[attr-defined]
        gravity_to_front_mm=one.cg_to_front_mm,  # type: ignore[attr-defined]
        gravity_height_mm=one.cg_height_mm,  # type: ignore[attr-defined]
        tyre_radius_mm=one.tyre_radius_mm,  # type: ignore[attr-defined]
        end=end,  # type: ignore[arg-type]
        uid="a",
    )
    (tyre,), (rotor,) = parts(svg, "tyre"), parts(svg, "rotor")
    across, up = number(tyre, "cx") - number(rotor, "cx"), number(tyre, "cy") - number(rotor, "cy")
    apart = (across**2 + up**2) ** 0.5
    ratio = one.tyre_radius_mm / one.wheelbase_mm  # type: ignore[attr-defined]
    assert number(tyre, "r") / apart == pytest.approx(ratio, rel=0.01)
    assert up > 0 and (across > 0) == (end == "front")  # the open brake is at the raised end
    assert len(parts(svg, "stand")) == 2


def test_the_picture_of_the_stands_does_not_tell_the_load() -> None:
    given: dict[str, object] = {
        "kind": "van", "wheelbase_mm": 2750, "gravity_to_front_mm": 1265, "gravity_height_mm": 650,
        "tyre_radius_mm": 305, "end": "front", "uid": "a",
    }  # fmt: skip
    assert "kg" not in on_stands_svg(**given)  # type: ignore[arg-type]
    assert 'data-part="chock"' in on_stands_svg(**given)  # type: ignore[arg-type]
    assert "961 kg" in on_stands_svg(**given, loads=("961 kg", "819 kg"))  # type: ignore[arg-type]
    for wrong in ({"kind": "boat"}, {"end": "top"}, {"wheelbase_mm": 900}, {"gravity_to_front_mm": 3000}):
        with pytest.raises(ValueError, match=r"expected|must be from"):
            on_stands_svg(**given | wrong)  # type: ignore[arg-type]


def test_cards_lie_in_their_order_with_their_words_and_marks() -> None:
    cards = [
        StepCard("b", "Dry the pin.", 1, mark="too early"),
        StepCard("a", "Wash the pin with warm water and a soft brush until the old grease has all gone.", 2),
        StepCard("c", "Oil the pin.", chosen=True),
    ]
    svg = step_cards_svg(cards, uid="a")
    drawn = parts(svg, "card")
    assert [node.get("data-card") for node in drawn] == ["b", "a", "c"]
    assert [node.get("data-chosen") for node in drawn] == [None, None, "yes"]
    tops = [number(node.find(f"{NS}rect"), "y") for node in drawn]  # type: ignore[arg-type]
    assert tops == sorted(tops)
    assert [node.text for node in parts(svg, "place")] == ["1", "2"]
    words = [" ".join(t.text or "" for t in node.iter(f"{NS}text")) for node in drawn]
    assert "too early" in words[0] and "old grease has all gone." in words[1] and words[2] == "Oil the pin."
    assert "data-card" not in step_cards_svg(cards, uid="a", movable=False)
    with pytest.raises(ValueError, match="At least one card"):
        step_cards_svg([], uid="a")
