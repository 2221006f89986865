"""What is given out holds no answer: no reading as a number, no seed, no secret, no hint of the situation."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

import pytest
from brakecourse.bench.situations import SHARES
from brakecourse.marking import SealedCase, draw_sealed_case, questions
from brakecourse.marking.mistakes import mistakes
from brakecourse.views.words import mm

from tests.marking.rotor import dial_mm, rotor_of, thickness_mm

MODULE = "08_rotor_measurement"
SECRET = bytes(range(32))
NUMBER = re.compile(r"(?<![\d.])\d+(?:\.\d+)?(?![\d.])")


@pytest.fixture(scope="module", params=range(12))
def drawn(request: pytest.FixtureRequest) -> SealedCase:
    return draw_sealed_case(MODULE, f"s{request.param:02}", SECRET)


def texts(value: object) -> Iterator[str]:
    """Every text in plain data, keys as well."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield str(key)
            yield from texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from texts(inner)
    else:
        yield str(value)


def seen_text(text: str) -> str:
    """What a person reads or hears of a text that may be SVG: words between tags, no coordinates."""
    return re.sub(r"<[^>]*>", " ", text) if text.startswith("<svg") else text


def answers_as_text(case: SealedCase) -> set[str]:
    rotor = rotor_of(case)
    readings = [*rotor.readings_mm, rotor.ridge.reading]
    dials = [value for value in (*rotor.dial_readings_mm, *rotor.loose_readings_mm) if value]
    results = [one.expected for one in case.questions if isinstance(one.expected, float) and one.expected]
    found = {f"{abs(value):.2f}" for value in (*readings, *dials, *results)}
    found |= {f"{value:.3f}" for value in (*thickness_mm(case), *results)}
    return found | {f"{value:.4f}" for value in (*thickness_mm(case), *dial_mm(case))}


def public_numbers(case: SealedCase) -> set[str]:
    """The limits and uncertainties, which every student is given."""
    spec, gauges = rotor_of(case).spec, rotor_of(case).instruments
    public = [*vars(spec).values(), *vars(gauges).values(), 2 * gauges.thickness_u_mm, 0.01, 1.645]
    return {
        number for value in public for places in (2, 3, 4) for number in NUMBER.findall(mm(value, places))
    } | {"1.645"}


def test_no_answer_stands_in_it_as_a_number(drawn: SealedCase) -> None:
    order = drawn.work_order()
    hidden = answers_as_text(drawn) - public_numbers(drawn)
    assert len(hidden) > 8
    for text in texts(order):
        assert not hidden & set(NUMBER.findall(seen_text(text))), seen_text(text)[:200]


def test_no_attribute_of_a_drawing_holds_a_reading(drawn: SealedCase) -> None:
    """Coordinates must follow the gauge. The indication itself is not written into the drawing's data."""
    for one in drawn.work_order()["drawings"].values():
        assert not re.search(r"data-[a-z-]*(value|reading|mm)", one["svg"])
        for value in (*thickness_mm(drawn), rotor_of(drawn).ridge.indication):
            assert f"{value:.3f}" not in one["svg"] and repr(value) not in one["svg"]


def test_nothing_of_the_answers_side_is_in_it(drawn: SealedCase) -> None:
    order = drawn.work_order()
    text = json.dumps(order, ensure_ascii=False)
    assert SECRET.hex() not in text
    for word in (*mistakes(), "expected", "accepted", "tolerance", "seed", "redraws"):
        assert word not in text.replace("expanded uncertainty", "")
    # "keep" is a word of the choices; the other situations are named like nothing else.
    assert not any(situation in text for situation in SHARES["normal"] if " " in situation)
    keys = {key for key in _keys(order)}
    assert not keys & {"seed", "secret", "expected", "mistakes", "answer", "situation", "key", "reading"}


def _keys(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        yield from value
        for inner in value.values():
            yield from _keys(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _keys(inner)


def test_only_the_drawings_and_the_vehicle_differ_between_students(drawn: SealedCase) -> None:
    other = draw_sealed_case(MODULE, "somebody else", SECRET).work_order()
    order = drawn.work_order()
    for part in ("questions", "module", "title", "format", "course_version"):
        assert order[part] == other[part]
    captions = [one["caption"] for one in order["drawings"].values()]
    assert captions == [one["caption"] for one in other["drawings"].values()]
    assert list(order["drawings"]) == list(other["drawings"])
    assert order["drawings"]["m1"]["svg"] != other["drawings"]["m1"]["svg"]


def test_the_drawings_say_only_where_and_how(drawn: SealedCase) -> None:
    order = drawn.work_order()
    asked = {one["id"]: one for one in order["questions"]}
    captions = [order["drawings"][name]["caption"] for name in asked["8.1"]["drawings"]]
    assert captions[:8] == [f"Place {place}, on the swept track" for place in range(1, 9)]
    assert captions[8] == "Place 1, at the outer edge, on the ridge"
    captions = [order["drawings"][name]["caption"] for name in asked["8.4"]["drawings"]]
    assert captions[:8] == [f"Place {place}, wheel nuts off" for place in range(1, 9)]
    assert captions[8:] == [f"Place {place}, all wheel nuts fitted and snug" for place in range(1, 9)]
    for name, one in order["drawings"].items():
        assert f'id="{name}-title"' in one["svg"] and "<desc" in one["svg"]
        ids = re.findall(r' id="([^"]+)"', one["svg"])
        assert all(found.startswith(f"{name}-") for found in ids)


def test_it_asks_the_questions_of_the_tables(drawn: SealedCase) -> None:
    order = drawn.work_order()
    for given, asked in zip(order["questions"], questions(MODULE), strict=True):
        assert (given["id"], given["kind"], given["points"]) == (asked.id, asked.kind, asked.points)
        assert given["choices"] == [choice.text for choice in asked.choices]
        assert set(given["drawings"]) <= set(order["drawings"])
        assert len(given["labels"]) == (given["count"] or 0)
    assert order["student"] == drawn.student and order["attempt"] == 1
    json.dumps(order, allow_nan=False)


def test_the_limits_are_given_in_both_units(drawn: SealedCase) -> None:
    facts = dict(drawn.work_order()["vehicle"]["facts"])
    spec = rotor_of(drawn).spec
    assert facts["Discard limit (ever, no thinner)"] == mm(spec.discard_mm)
    assert facts["Largest thickness variation"] == mm(spec.max_variation_mm, 3)
    lengths = [text for text in facts.values() if " mm" in text and "–" not in text]
    assert len(lengths) >= 9 and all(" in)" in text for text in lengths)


def test_the_printed_uncertainty_is_the_one_that_is_marked_with(drawn: SealedCase) -> None:
    facts = dict(drawn.work_order()["vehicle"]["facts"])
    printed = float(facts["A thickness reading: standard uncertainty u"].split(" mm")[0])
    assert printed == rotor_of(drawn).instruments.thickness_u_mm


def test_giving_it_out_twice_gives_the_same_and_changes_nothing(drawn: SealedCase) -> None:
    first = drawn.work_order()
    first["questions"] = []
    first["vehicle"]["name"] = "another"
    assert drawn.work_order()["questions"]
    assert drawn.work_order()["vehicle"]["name"] != "another"
