"""What every activity of every lesson owes a learner, whichever part of the trade it is about.

The activities are found in the lessons and made as the lessons make them, so that a new one is covered
as soon as its notebook is there. Nothing here knows what an activity teaches.
"""

from __future__ import annotations

import gc
import itertools
import math
import re
import statistics
import time
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import Any, NamedTuple

import anywidget
import ipywidgets as widgets
import pytest
from brakecourse.views import palette
from brakecourse.views.board_rules import right_order
from brakecourse.views.card_drag import CardDrag
from brakecourse.views.controls import AnswerBox
from brakecourse.views.sequence_board import SequenceBoard
from brakecourse.views.shortcuts import Shortcuts

from tests.views.learner import CONTROLS, Placed, controls, inside, placed, press, some_way, table, ways

NS = "{http://www.w3.org/2000/svg}"
PLACED = placed()
SMALLEST_DRAWN = 9.0  # an instrument in the corner of a picture is drawn smaller; its words are written at 12
LARGEST_SHOWN = 830.0  # pixels: the activity's box is at most 860 wide, and its border and padding take 28
pytestmark = pytest.mark.slow  # a minute altogether
each = pytest.mark.parametrize("one", PLACED, ids=lambda one: f"{one.lesson[:2]}-{one.uid}")
each_lesson = pytest.mark.parametrize("lesson", sorted({lesson for lesson, _, _ in table()}))


@pytest.fixture(autouse=True)
def in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Some buttons write a page to print beside the lesson."""
    monkeypatch.chdir(tmp_path)


def svg_of(activity: Any) -> str:
    return activity._picture.value


def told(activity: Any) -> str:
    """Return what a listener hears of the picture: its title, its description, the sentence under it."""
    root = ET.fromstring(svg_of(activity))
    return " ".join([root.findtext(f"{NS}title") or "", root.findtext(f"{NS}desc") or "", activity.words()])


def sentences(words: str) -> list[str]:
    """Return the sentences; a decimal point ends none."""
    return [one for one in re.split(r"(?<=[.?!])\s+", words.strip()) if one]


def look(activity: Any) -> None:
    """Check what a learner sees and hears now."""
    root = ET.fromstring(svg_of(activity))
    assert root.get("role") == "img"
    assert (root.findtext(f"{NS}title") or "").strip() and (root.findtext(f"{NS}desc") or "").strip()
    words = activity.words()
    assert len(words.split()) >= 3 and words.strip().endswith((".", "?", "!")), words
    assert not re.search(r"\bnan\b|\binf\b|Traceback|[{}]|\s{2}", f"{words} {activity.reply()}"), words


# ------------------------------------------------------------------ the table and the lessons agree


@each_lesson
def test_the_table_and_the_lesson_name_the_same_activities(lesson: str) -> None:
    """The page about the learner's progress counts by these names and shows these titles."""
    there = [(one.uid, one.kind.title) for one in PLACED if one.lesson == lesson and one.uid != "my-progress"]
    named = [(uid, title) for where, uid, title in table() if where == lesson]
    if lesson == "08_rotor_measurement":  # one activity stands there twice; the table tells the two apart
        there, named = [(uid, "") for uid, _ in there], [(uid, "") for uid, _ in named]
    assert sorted(there) == sorted(named)


def test_no_two_activities_share_a_name_in_a_lesson() -> None:
    assert max(Counter((one.lesson, one.uid) for one in PLACED).values()) == 1


# ------------------------------------------------------------------ controls


@each
def test_each_control_works_from_the_keyboard_and_has_a_name_of_its_own(one: Placed, tmp_path: Path) -> None:
    activity = one.make(tmp_path)
    found = controls(activity)
    assert found
    for control in found:
        assert isinstance(control, CONTROLS), control
        assert control.description.strip(), control
    names = Counter(control.tooltip or control.description for control in found)
    assert [name for name, count in names.items() if count > 1] == []


@each
def test_what_the_mouse_can_drag_the_keyboard_can_move(one: Placed, tmp_path: Path) -> None:
    """Sort a board with the list and the buttons alone, in each way of working that it offers."""
    activity = one.make(tmp_path)
    hidden = [child for child in activity.children if isinstance(child, anywidget.AnyWidget)]
    drags = [child for child in hidden if not isinstance(child, Shortcuts)]
    assert all(isinstance(child, CardDrag) for child in drags)
    if not drags:
        return
    assert isinstance(activity, SequenceBoard)
    for way in activity.ways:
        activity.offers.way.value = way
        goal = right_order(activity.board)
        for place, card in enumerate(goal):
            activity.list.cards.value = card
            names = {control.description: control for control in controls(activity)}
            if "Do this next" in names:
                press(names["Do this next"])
            else:
                for _ in range(activity.order.index(card) - place):
                    press(names["Move up"])
        assert activity.done and activity.order == list(goal)


# ------------------------------------------------------------------ the picture


Place = tuple[float, float, float]  # where a group's origin lies, and its scale


class Spot(NamedTuple):
    """Words in a picture: size as written and as drawn, the ink, and the ground ("" if unsure)."""

    words: str
    size: float
    drawn: float
    ink: str
    ground: str
    is_plain: bool


class Shape(NamedTuple):
    """A box or a disc that was painted: where (a disc has a radius), and its colours from top to bottom."""

    left: float
    top: float
    right: float
    bottom: float
    radius: float
    stops: tuple[tuple[float, str], ...]
    window: Shape | None = None

    def covers(self, x: float, y: float) -> bool:
        middle = (self.left + self.right) / 2, (self.top + self.bottom) / 2
        in_box = self.left <= x <= self.right and self.top <= y <= self.bottom
        in_window = self.window is None or self.window.covers(x, y)
        return in_box and in_window and (not self.radius or math.dist(middle, (x, y)) <= self.radius)

    def colour(self, y: float) -> str:
        """Return the colour at a height, "" where it cannot be told."""
        share = (y - self.top) / ((self.bottom - self.top) or 1)
        for (low, colour), (high, other) in itertools.pairwise(self.stops):
            if low <= share <= high:
                part = (share - low) / ((high - low) or 1)
                both = zip(bytes.fromhex(colour[1:]), bytes.fromhex(other[1:]), strict=True)
                return "#" + bytes(round(a + (b - a) * part) for a, b in both).hex().upper()
        return self.stops[0][1] if self.stops else ""


def spots(svg: str) -> Iterator[Spot]:
    """Yield the words of a picture with the colour behind them, as far as boxes and discs can tell it."""
    root = ET.fromstring(svg)
    blends = {
        f"url(#{node.get('id')})": tuple(
            (float(stop.get("offset", "")), str(stop.get("stop-color")).upper())
            for stop in node.iter(f"{NS}stop")
        )
        for node in root.iter(f"{NS}linearGradient")
        if node.get("x2") == "0"
    }
    windows = {f"url(#{node.get('id')})": node.find(f"{NS}rect") for node in root.iter(f"{NS}clipPath")}
    painted: list[Shape] = []

    def walk(
        node: ET.Element, at: Place | None, look: dict[str, str], window: Shape | None = None
    ) -> Iterator[Spot]:
        look = look | {key: value for key, value in node.attrib.items() if key in {"fill", "font-size"}}
        at, fill = _moved(at, node.get("transform")), look.get("fill", "#000000")
        clip = windows.get(node.get("clip-path", ""))
        window = _shape(clip, at, ()) if clip is not None else window
        if node.tag in {f"{NS}rect", f"{NS}circle", f"{NS}ellipse", f"{NS}path", f"{NS}polygon"}:
            if fill != "none" and not (at is None and node.tag == f"{NS}rect" and not painted):
                stops = blends.get(fill, ((0.0, fill.upper()),) if fill[0] == "#" else ())
                painted.append(_shape(node, at, stops)._replace(window=window))
        elif node.tag == f"{NS}text":
            size, words = float(look["font-size"].removesuffix("px")), "".join(node.itertext())
            yield Spot(
                words, size, size * (at[2] if at else 1), fill.upper(), *_behind(node, at, size, painted)
            )
        if node.tag not in {f"{NS}defs", f"{NS}clipPath", f"{NS}pattern"}:
            for child in node:
                yield from walk(child, at, look, window)

    yield from walk(root, (0.0, 0.0, 1.0), {})


def _moved(at: Place | None, transform: str | None) -> Place | None:
    """Return a group's place in its own group's; None once something is turned."""
    for name, numbers in re.findall(r"(\w+)\(([^)]*)\)", transform or ""):
        values = [float(one) for one in re.split(r"[ ,]+", numbers.strip())]
        if at is None or name not in {"translate", "scale"} or (name == "scale" and len(set(values)) > 1):
            return None
        x, y, scale = at
        dx, dy = (values[0], values[1] if len(values) > 1 else 0) if name == "translate" else (0, 0)
        at = x + dx * scale, y + dy * scale, scale * (values[0] if name == "scale" else 1)
    return at


def _shape(node: ET.Element, at: Place | None, stops: tuple[tuple[float, str], ...]) -> Shape:
    name = node.tag.removeprefix(NS)
    if at is None or name not in {"rect", "circle"}:
        return Shape(-1e9, -1e9, 1e9, 1e9, 0, ())  # its outline is not followed: no ground is sure any more
    if (node.get("opacity") or node.get("fill-opacity") or "1") != "1":
        stops = ()
    value = {key: float(node.get(key) or 0) for key in ("x", "y", "width", "height", "cx", "cy", "r")}
    left, top = (
        (value["x"], value["y"]) if name == "rect" else (value["cx"] - value["r"], value["cy"] - value["r"])
    )
    wide, high = (value["width"], value["height"]) if name == "rect" else (2 * value["r"],) * 2
    x, y, scale = at[0] + left * at[2], at[1] + top * at[2], at[2]
    return Shape(x, y, x + wide * scale, y + high * scale, value["r"] * scale, stops)


def _behind(node: ET.Element, at: Place | None, size: float, painted: list[Shape]) -> tuple[str, bool]:
    if at is None:
        return "", False
    shift = {"end": -0.4, "middle": 0.0}.get(node.get("text-anchor", "start"), 0.4) * size
    x = at[0] + (float(node.get("x") or 0) + shift) * at[2]
    y = at[1] + (float(node.get("y") or 0) - 0.35 * size) * at[2]
    for shape in reversed(painted):
        if shape.covers(x, y):
            return shape.colour(y), len(shape.stops) == 1
    return "", False


def test_the_reader_of_pictures_finds_the_ground_of_words() -> None:
    svg = (
        f'<svg xmlns="{NS[1:-1]}" viewBox="0 0 100 100"><defs><linearGradient id="a" x2="0">'
        '<stop offset="0" stop-color="#000000"/>'
        '<stop offset="1" stop-color="#FFFFFF"/></linearGradient></defs>'
        '<rect width="100" height="100" fill="#FBFBF8"/><g transform="translate(10 10) scale(0.5)">'
        '<rect width="80" height="80" fill="url(#a)"/><circle cx="40" cy="40" r="20" fill="#0072b2"/>'
        '<text x="40" y="44" font-size="12" fill="#FFF" text-anchor="middle">in the disc</text>'
        '<text x="40" y="8.2" font-size="12" fill="#fff" text-anchor="middle">on the blend</text></g>'
        '<text x="60" y="90" font-size="14" fill="#171C20">on paper</text></svg>'
    )
    assert list(spots(svg)) == [
        Spot("in the disc", 12, 6, "#FFF", "#0072B2", True),
        Spot("on the blend", 12, 6, "#FFF", "#0D0D0D", False),
        Spot("on paper", 14, 14, "#171C20", "#FBFBF8", True),
    ]


PAIRS = {(ink.upper(), ground.upper()) for ink, ground in palette.TEXT_PAIRS}


def read_words(svg: str) -> None:
    """Check that a person can read the words in a picture: large enough, and apart from what lies behind."""
    width = float(ET.fromstring(svg).get("viewBox", "").split()[2])
    for spot in spots(svg):
        assert spot.size >= 12, spot
        assert spot.drawn * min(1.0, LARGEST_SHOWN / width) >= SMALLEST_DRAWN, spot
        assert spot.ink in {ink for ink, _ in PAIRS}, spot
        if spot.is_plain:
            assert (spot.ink, spot.ground) in PAIRS, spot
        elif spot.ground:
            assert palette.contrast(spot.ink, spot.ground) >= 4.5, spot


@each
def test_the_words_in_a_picture_can_be_read(one: Placed, tmp_path: Path) -> None:
    read_words(svg_of(one.make(tmp_path)))


# ------------------------------------------------------------------ quick enough


def median_ms(action: Callable[[], object], times: int) -> float:
    """Return the median time that a call takes of the processor, in milliseconds, once it is warm."""
    action()
    took = []
    gc.disable()  # what other tests left behind is not this call's time
    try:
        for _ in range(times):
            begun = time.process_time()
            action()
            took.append(1000 * (time.process_time() - begun))
    finally:
        gc.enable()
    return statistics.median(took)


@pytest.mark.usefixtures("somebody_listens")
@each
def test_a_picture_follows_its_controls(one: Placed, tmp_path: Path) -> None:
    assert median_ms(one.make(tmp_path).refresh, 5) < 30


@pytest.mark.usefixtures("somebody_listens")
@each
def test_a_new_case_is_there_at_once(one: Placed, tmp_path: Path) -> None:
    activity = one.make(tmp_path)
    for control in controls(activity):
        if isinstance(control, widgets.Button) and control.description.startswith(("New ", "Another ")):
            assert median_ms(lambda control=control: press(control), 5) < 100, control.description


# ------------------------------------------------------------------ whatever a learner does


@pytest.mark.usefixtures("somebody_listens")
@each
def test_each_control_one_by_one_leaves_a_picture_and_a_sentence(one: Placed, tmp_path: Path) -> None:
    activity = one.make(tmp_path)
    for control in controls(activity):
        for step in ways(control):
            if control in controls(activity):  # a step before may have taken it away
                step()
                look(activity)
        assert svg_of(activity) == activity.picture(), "the picture on the screen is an old one"


@each
def test_a_walk_of_sixty_steps_never_breaks_it(one: Placed, tmp_path: Path) -> None:
    activity, chance, seen, did = one.make(tmp_path), Random(f"{one.lesson} {one.uid}"), set(), []
    for _ in range(60):
        name, step = some_way(activity, chance)
        did.append(name)
        try:
            step()
            if svg_of(activity) not in seen:
                look(activity)
                read_words(svg_of(activity))
        except Exception as problem:
            raise AssertionError(f"after {did}") from problem
        seen.add(svg_of(activity))
    assert svg_of(activity) == activity.picture()


def answer_boxes(activity: Any) -> list[AnswerBox]:
    return [box for box in inside(activity) if isinstance(box, AnswerBox)]


NONSENSE = ("", "   ", "no idea", "12,3,4", "nan", "inf", "1e999", "--5", "=1+1", "<b>9</b>", "5 furlongs")


@each
def test_an_empty_or_a_senseless_answer_gets_one_sentence_and_is_not_counted(
    one: Placed, tmp_path: Path
) -> None:
    activity = one.make(tmp_path)
    for nth in range(len(answer_boxes(activity))):
        for typed in NONSENSE:
            box = answer_boxes(activity)[nth]
            activity.say("Nothing is said yet.")
            box.box.value = typed
            press(box.button)
            reply = activity.reply()
            assert reply != "Nothing is said yet.", typed
            assert len(sentences(reply)) == 1 and reply.endswith((".", "?")), (typed, reply)
    assert activity._record.tallies() == []


@each
def test_a_check_with_nothing_chosen_gets_one_sentence(one: Placed, tmp_path: Path) -> None:
    activity = one.make(tmp_path)
    unchosen = [c for c in controls(activity) if isinstance(c, widgets.RadioButtons) and c.value is None]
    for control in controls(activity) if unchosen and not answer_boxes(activity) else []:
        if isinstance(control, widgets.Button) and control.description == "Check":
            press(control)
            assert len(sentences(activity.reply())) == 1, activity.reply()
            assert activity._record.tallies() == []


# ------------------------------------------------------------------ nothing given away


def new_cases(one: Placed, folder: Path, count: int) -> Iterator[Any]:
    """Yield an activity with its first case, then with new ones of every difficulty in turn."""
    activity = one.make(folder)
    yield activity
    for number in range(count):
        for control in controls(activity):
            if isinstance(control, widgets.RadioButtons) and control.description == "How hard?":
                control.index = number % len(control.options)
        fresh = [
            control
            for control in controls(activity)
            if isinstance(control, widgets.Button) and control.description.startswith("New ")
        ]
        for control in fresh:
            press(control)
            yield activity


@each
def test_no_number_in_the_words_is_the_answer(one: Placed, tmp_path: Path) -> None:
    """Type every number that is heard into every answer box: it may be right by chance, but not as a rule."""
    told_cases = cases = 0
    for activity in new_cases(one, tmp_path, 9):
        cases += 1
        words = told(activity).replace("\N{MINUS SIGN}", "-")
        told_cases += any(
            _is_right(activity, nth, number)
            for nth in range(len(answer_boxes(activity)))
            for number in sorted(set(re.findall(r"-?\d+(?:\.\d+)?", words)))
        )
    assert told_cases <= max(1, cases / 3), f"{told_cases} of {cases}"


def _is_right(activity: Any, nth: int, typed: str) -> bool:
    box = answer_boxes(activity)[nth]
    box.clear()
    activity.say("")
    box.box.value = typed
    return activity.reply().startswith("Right")


@each
def test_no_choice_is_told_before_it_is_chosen(one: Placed, tmp_path: Path) -> None:
    """Where the words name one of the choices and no other, that must not always be the right one."""
    alone = [0, 0]
    for activity in new_cases(one, tmp_path, 15):
        task = getattr(activity, "asked", None)
        if hasattr(task, "right"):
            words = told(activity).lower()
            named = [choice for choice in task.choices if choice.lower() in words]
            if len(named) == 1:
                alone[named == [task.right]] += 1
    assert not (alone[True] >= 4 and alone[False] <= alone[True] / 4), alone
