"""Read the dial's picture as a person does, and check how it stands on the rotor.

Scale of the gauge (a turn is 1 mm, a hundred lines, pushed in is clockwise): common practice, no source.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest
from brakecourse.views.drawings import dial_on_rotor_svg, dial_svg
from hypothesis import example, given
from hypothesis import strategies as st

NS = "{http://www.w3.org/2000/svg}"

readings = st.integers(-4990, 4990).map(lambda n: n / 1000)


def parts(svg: str, name: str) -> list[ET.Element]:
    return [node for node in ET.fromstring(svg).iter() if node.get("data-part") == name]


def clockwise_turns(x: float, y: float) -> float:
    """Return the direction from the middle, in turns clockwise from the top, 0 to below 1."""
    return math.atan2(x, -y) / math.tau % 1


def read(svg: str) -> float:
    """Read the needle's tip, and from the small counter how many whole turns it has made."""
    corners = [
        tuple(map(float, pair.split(","))) for pair in parts(svg, "needle")[0].get("points", "").split()
    ]
    needle = clockwise_turns(*max(corners, key=lambda corner: math.hypot(*corner)))
    hand = parts(svg, "counter-hand")[0]
    counter = 10 * clockwise_turns(float(hand.get("x2", "")), float(hand.get("y2", "")))
    counter = counter - 10 if counter > 5 else counter
    return round(counter - needle) + needle


@given(readings)
@example(-0.03)
@example(-4.99)
@example(4.99)
@example(0.0)
def test_needle_and_counter_tell_the_reading(reading: float) -> None:
    assert read(dial_svg(reading, uid="d")) == pytest.approx(reading, abs=0.0002)


@given(readings, st.floats(-720, 720))
def test_the_dial_on_the_rotor_tells_it_too(reading: float, angle: float) -> None:
    assert read(dial_on_rotor_svg(reading, angle, uid="d")) == pytest.approx(reading, abs=0.0002)


def test_a_hundred_lines_stand_evenly_and_the_numerals_at_their_tens() -> None:
    svg = dial_svg(0.2, uid="d")
    ends = [
        clockwise_turns(float(x), float(y)) * 100
        for name in ("fine-lines", "coarse-lines")
        for x, y in re.findall(r"M([-\d.]+) ([-\d.]+)L", parts(svg, name)[0].get("d", ""))
    ]
    assert sorted(round(end, 1) % 100 for end in ends) == pytest.approx(list(range(100)), abs=0.1)
    face = ET.fromstring(svg)
    forward, back = {}, {}
    for text in face.iter(f"{NS}text"):
        words = text.text or ""
        # A numeral's middle lies about a third of its size above its baseline.
        x, y = float(text.get("x", "")), float(text.get("y", "")) - float(text.get("font-size", "")) * 0.345
        if words.isdigit() and math.hypot(x, y) > 100:
            forward[int(words)] = clockwise_turns(x, y) * 100
        if words.startswith("\N{MINUS SIGN}"):
            back[int(words[1:])] = 100 - clockwise_turns(x, y) * 100
    assert forward == pytest.approx({number: number for number in range(0, 100, 10)}, abs=0.2)
    assert back == pytest.approx({number: number for number in range(10, 60, 10)}, abs=0.2)


@pytest.mark.parametrize("reading", [-4.0, -0.5, 0.0, 0.5, 4.0])
def test_the_plunger_moves_in_by_the_reading(reading: float) -> None:
    def tip(value: float) -> float:
        return float(parts(dial_svg(value, uid="d"), "tip")[0].get("cy", ""))

    assert (tip(0) - tip(reading)) / 6.5 == pytest.approx(reading, abs=0.002)


def test_clockwise_is_pushed_in() -> None:
    assert read(dial_svg(0.1, uid="d")) > 0 > read(dial_svg(-0.1, uid="d"))


ORDER = {
    word: count
    for count, word in enumerate(
        ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth"), start=1
    )
}


@given(readings.filter(lambda r: round(r * 1000) % 10 != 5))
def test_a_listener_finds_the_same_reading_from_the_description(reading: float) -> None:
    desc = ET.fromstring(dial_svg(reading, uid="d")).find(f"{NS}desc").text  # type: ignore[union-attr]
    lines = [
        int(number or after) + ORDER.get(ordinal, 0)
        for number, ordinal, after in re.findall(
            r"the line numbered (\d+)|the (\w+) line after number (\d+)", desc
        )
    ]
    line = lines[1] if "nearer the second" in desc else lines[0]
    told = [
        int(turns)
        for turns in re.search(r"hand stands (?:on|between) (\d)(?: and (\d))?", desc).groups()
        if turns
    ]  # type: ignore[union-attr]
    lower = told[0] - 10 if told[0] >= 5 and reading < 4 else told[0]
    # Close to a whole turn the needle decides which turn it is, as on the gauge.
    candidates = [turn + line / 100 for turn in (lower - 1, lower, lower + 1)]
    assert min(candidates, key=lambda c: abs(c - reading)) == pytest.approx(reading, abs=0.005)


class TestOnTheRotor:
    CENTRE = (138.0, 276.0)
    OUTER, INNER = 124.0, 74.0

    def place_on_face(self, x: float, y: float) -> tuple[float, float]:
        """Return distance from the rotor's middle, and degrees clockwise from the top."""
        across, down = x - self.CENTRE[0], y - self.CENTRE[1]
        return math.hypot(across, down), clockwise_turns(across, down) * 360

    @given(st.floats(-360, 720))
    def test_the_chalk_mark_turns_with_the_rotor(self, angle: float) -> None:
        chalk = parts(dial_on_rotor_svg(0, angle, uid="d"), "chalk")[0]
        for end in "12":
            _, found = self.place_on_face(float(chalk.get(f"x{end}", "")), float(chalk.get(f"y{end}", "")))
            assert math.cos(math.radians(found + angle)) == pytest.approx(1, abs=1e-6)

    @pytest.mark.parametrize("place", range(1, 9))
    def test_the_place_in_the_words_is_the_place_at_the_tip(self, place: int) -> None:
        svg = dial_on_rotor_svg(0, 45 * (place - 1), uid="d")
        assert f"place {place} at the dial" in svg
        numbers = {}
        for text in ET.fromstring(svg).iter(f"{NS}text"):
            if (text.text or "").isdigit() and text.get("font-weight") == "bold":
                numbers[int(text.text or "")] = self.place_on_face(
                    float(text.get("x", "")), float(text.get("y", "")) - 5
                )
        assert set(numbers) == set(range(1, 9))
        assert numbers[place][1] == pytest.approx(0, abs=0.1)
        # Places are numbered clockwise, and the rotor turns the other way to bring the next one up.
        assert numbers[place % 8 + 1][1] == pytest.approx(45, abs=0.1)

    def test_between_two_places_it_says_so(self) -> None:
        assert "between place 8 and place 1" in dial_on_rotor_svg(0, 350, uid="d")

    def test_the_tip_touches_near_the_outer_edge_but_in_from_it(self) -> None:
        ring = parts(dial_on_rotor_svg(0, 10, uid="d"), "touch")[0]
        distance, direction = self.place_on_face(float(ring.get("cx", "")), float(ring.get("cy", "")))
        assert direction == pytest.approx(0, abs=0.01)
        assert (self.OUTER + self.INNER) / 2 < distance < self.OUTER - 6

    @pytest.mark.parametrize("reading", [-3.0, 0.0, 0.04, 3.0])
    def test_the_ball_lies_on_the_face_seen_from_the_side(self, reading: float) -> None:
        svg = dial_on_rotor_svg(reading, 0, uid="d")
        ball = parts(svg, "tip")[0]
        x, scale = (float(n) for n in re.search(r"translate\(([\d.]+) 163\) scale\(([\d.]+)\)", svg).groups())  # type: ignore[union-attr]
        # The stem is turned a quarter: what was below the dial now lies to its left.
        touch = x - (float(ball.get("cy", "")) + float(ball.get("r", ""))) * scale
        side = parts(svg, "side")[0]
        moved = float(re.match(r"translate\(([-\d.]+) 0\)", side.get("transform", ""))[1])  # type: ignore[index]
        disc = next(node for node in side if node.get("data-part") == "disc")
        face = float(disc.get("x", "")) + float(disc.get("width", "")) + moved
        assert touch == pytest.approx(face, abs=0.02)

    @pytest.mark.parametrize("studs", [4, 5, 6])
    def test_studs_and_nuts_are_those_asked_for(self, studs: int) -> None:
        fitted = dial_on_rotor_svg(0, 0, uid="d", studs=studs)
        loose = dial_on_rotor_svg(0, 0, uid="d", studs=studs, nuts_fitted=False)
        assert len(parts(fitted, "stud")) == len(parts(fitted, "nut")) == len(parts(loose, "stud")) == studs
        assert not parts(loose, "nut")
        assert "all wheel nuts fitted" in fitted
        assert "wheel nuts off" in loose


@pytest.mark.parametrize("reading", [5.01, -5.01, math.nan, -math.inf, "0.1", True, None, 10**400])
def test_a_reading_that_the_dial_cannot_show_is_refused(reading: object) -> None:
    with pytest.raises(ValueError, match=r"^The dial reading in mm must be .*\.$"):
        dial_svg(reading, uid="d")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match=r"^The dial reading in mm must be .*\.$"):
        dial_on_rotor_svg(reading, 0, uid="d")  # type: ignore[arg-type]


@pytest.mark.parametrize("angle", [math.nan, math.inf, "45", True, None])
def test_an_angle_that_is_no_number_is_refused(angle: object) -> None:
    with pytest.raises(ValueError, match=r"^The angle in degrees must be a finite number.*\.$"):
        dial_on_rotor_svg(0, angle, uid="d")  # type: ignore[arg-type]


@pytest.mark.parametrize("studs", [2, 11, 5.0, True, "5"])
def test_studs_that_no_hub_has_are_refused(studs: object) -> None:
    with pytest.raises(ValueError, match=r"^The number of wheel studs must be .*\.$"):
        dial_on_rotor_svg(0, 0, uid="d", studs=studs)  # type: ignore[arg-type]
