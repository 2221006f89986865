"""Lesson 12 as a learner meets it: pump the pedal, plan the bedding-in, decide on the road test."""

from __future__ import annotations

import json
import re
import statistics
import time
from typing import Any

from brakecourse.views.burnish_pedal import running
from brakecourse.views.burnish_planner import BurnishPlanner
from brakecourse.views.energy_ratio import EnergyRatio
from brakecourse.views.pedal_strokes import PedalStrokes
from brakecourse.views.road_test_quiz import RoadTestQuiz
from brakecourse.views.rotor_infrared import RotorInfrared
from playwright.sync_api import Browser, Locator, expect

from tests.browser.checker import ACTIVITIES, look, look_at_contrast

LESSON = "12_pedal_and_burnish"
TITLES = (
    "Pump the pedal until it is firm",
    "Where does the level end?",
    "How many times the energy?",
    "The energy of a braking",
    "How warm does one rotor get?",
    "How long must it cool?",
    "Plan the bedding-in",
    "Read the rotor's temperature",
    "On the road test",
)
PEDAL, LEVEL, RATIO, ENERGY, WARMTH, WAIT, PLANNER, INFRARED, ROAD = TITLES


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def caption(box: Locator) -> Locator:
    return box.locator("p.bc-caption").first


def press(box: Locator, name: str) -> None:
    box.get_by_role("button", name=name, exact=True).click()


def answer(box: Locator, name: str, typed: str) -> None:
    field = box.get_by_role("textbox", name=name)
    field.fill(typed)
    field.press("Enter")


def test_all_activities_are_live(lesson: Any, pictures: Any, record_property: Any) -> None:
    record_property("run_all_s", round(lesson.run_all_s, 2))
    print(f"Run All Cells: {lesson.run_all_s:.1f} s")
    expect(lesson.page.locator(".bc-activity")).to_have_count(len(TITLES))
    expect(lesson.page.get_by_text(re.compile("Error displaying widget|model not found"))).to_have_count(0)
    for nth, title in enumerate(TITLES):
        box = lesson.activity(title)
        expect(box.locator("svg[role=img]").first).to_be_visible()
        pictures.take(box, f"{nth}")


def test_it_never_moves_before_the_pedal_is_firm(lesson: Any, pictures: Any) -> None:
    """With the keyboard alone: Tab to the buttons, Enter to press them."""
    box, case, keys = lesson.activity(PEDAL), running(), lesson.page.keyboard
    answer(box, "Strokes until firm", "3")
    expect(reply(box)).to_have_text(re.compile("You rounded down"))
    answer(box, "Strokes until firm", str(case.strokes))
    expect(reply(box)).to_have_text(re.compile("^Right: 4"))
    pedal = box.get_by_role("button", name="Press the pedal once")
    for stroke in range(1, case.strokes + 2):
        pedal.focus()
        keys.press("Tab")
        keys.press("Enter")
        expect(reply(box)).to_have_text(re.compile("^It stays where it is"))
        pedal.focus()
        keys.press("Enter")
        expect(caption(box)).to_have_text(re.compile(f"^Stroke {stroke}:"))
    pictures.take(box, "firm")
    keys.press("Tab")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^It may move"))


def test_the_level_is_worked_out_and_then_seen(lesson: Any, pictures: Any) -> None:
    box, case = lesson.activity(LEVEL), running()
    answer(box, "Level when firm, in mm", f"{case.drop_mm:.1f}")
    expect(reply(box)).to_have_text(re.compile("how far it falls"))
    answer(box, "Level when firm, in mm", f"{case.final_level_mm / 25.4:.3f} in")
    expect(reply(box)).to_have_text(re.compile("You typed .* in: .*Right"))
    box.get_by_role("checkbox", name="Show the reservoir with the pedal pumped firm").check()
    expect(caption(box)).to_have_text(re.compile("pumped firm"))
    pictures.take(box, "level")


def test_bars_follow_the_speeds(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(RATIO)
    press(box, "Check")
    expect(reply(box)).to_have_text(re.compile("^Not yet. Both brakings must end at standstill"))
    box.get_by_role("slider", name="Second braking, down to mph").focus()
    lesson.page.keyboard.press("Home")
    expect(caption(box)).to_have_text(re.compile("4.00 times"))
    press(box, "Check")
    expect(reply(box)).to_have_text(re.compile("^Right: 4.00 times"))
    pictures.take(box, "ratio")


def test_mph_taken_for_metres_per_second_is_named(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(ENERGY)
    answer(box, "Energy, in kJ", f"{2650 / 2 * 40**2 / 1000:.0f}")
    expect(reply(box)).to_have_text(re.compile("mph as if it were metres per second"))
    answer(box, "Energy, in kJ", "424 kJ")
    expect(reply(box)).to_have_text(re.compile("^Right: 424"))
    for topic in ("energy of a slowdown", "how many times as much"):
        box.get_by_role("combobox", name="Topic").select_option(label=topic)
        pictures.take(box, f"energy_{topic.split()[-1]}")


def test_the_rotor_cools_minute_by_minute(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(WAIT)
    answer(box, "It must cool for, in minutes", "12")
    expect(reply(box)).to_have_text(re.compile("You halved the temperature"))
    answer(box, "It must cool for, in minutes", "13.9")
    expect(reply(box)).to_have_text(re.compile("^Right: 13.9"))
    typed = box.get_by_role("spinbutton", name="Minutes without braking, or type it")
    typed.fill("14")
    typed.press("Enter")
    expect(caption(box)).to_have_text(re.compile(r"After 14 minutes.*\s79\s°C"))
    pictures.take(box, "wait")


def test_a_plan_is_made_that_passes(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(PLANNER)
    press(box, "Check")
    expect(reply(box)).to_have_text(re.compile("^It overheats: braking 18"))
    press(box, "Show the waits it needs")
    expect(reply(box)).to_have_text(re.compile("^20 brakings, about 12 min"))
    pictures.take(box, "plan_waits")
    box.get_by_role("radio", name="a regulation's schedule, for a test track").check()
    expect(caption(box)).to_have_text(re.compile("200 brakings"))
    pictures.take(box, "plan_regulation")
    box.get_by_role("radio", name="my own numbers").check()
    typed = box.get_by_role("spinbutton", name="Pause between brakings, in s, or type it")
    typed.fill("60")
    typed.press("Enter")
    expect(caption(box)).to_have_text(re.compile("20 brakings in 2"))
    press(box, "Check")
    expect(reply(box)).to_have_text(re.compile("^It passes"))
    pictures.take(box, "plan_own")


def test_the_bright_face_is_not_believed(lesson: Any, pictures: Any) -> None:
    box, twin = lesson.activity(INFRARED), RotorInfrared()
    answer(box, "Rotor, in °C", f"{twin.shown_c['rotor']:.0f}")
    expect(reply(box)).to_have_text(re.compile("bright face"))
    box.get_by_role("radio", name="the dull hat").check()
    answer(box, "Rotor, in °C", f"{twin.shown_c['hat']:.0f}")
    expect(reply(box)).to_have_text(re.compile("^Right"))
    pictures.take(box, "infrared")


def test_the_worst_sign_decides(lesson: Any, pictures: Any) -> None:
    box, task = lesson.activity(ROAD), RoadTestQuiz().asked
    for words in (next(one for one in task.choices if one != task.right), task.right):
        box.get_by_role("radio", name=words).check()
        press(box, "Check")
        expect(reply(box)).to_have_text(re.compile(re.escape(task.reasons[words])))
    pictures.take(box, "road_decided")
    box.get_by_role("radio", name="harder").check()
    for topic in ("pulling", "noises", "the pedal"):
        box.get_by_role("combobox", name="Topic").select_option(label=topic)
        pictures.take(box, f"road_{topic.split()[-1]}")


def test_each_answer_is_kept_once(lesson: Any) -> None:
    stored = json.loads((lesson.server.root / "progress.json").read_text(encoding="utf-8"))
    tries = {row["activity"]: (row["tries"], row["right"]) for row in stored["activities"]}
    early = running().strokes  # tried once with each number of strokes before the gaps were closed
    assert tries["pedal-strokes"] == (2 + early + 1, 2)
    assert tries["energy-ratio"] == (2, 1) and tries["burnish-planner"] == (2, 1)
    assert tries["road-test-quiz"] == (1, 0)  # the first answer counts


def test_a_control_answers_at_once(lesson: Any, record_property: Any) -> None:
    box = lesson.activity(WAIT)
    box.get_by_role("slider", name="Minutes without braking").focus()
    lesson.page.keyboard.press("Home")
    expect(caption(box)).to_have_text(re.compile("No minute has passed"))
    shown = "([box, words]) => box.querySelector('.bc-caption').textContent.includes(words)"
    took = []
    for minute in range(2, 12):
        if minute == 2:
            lesson.page.keyboard.press("ArrowRight")
        begun = time.monotonic()
        lesson.page.keyboard.press("ArrowRight")
        lesson.page.wait_for_function(shown, arg=[box.element_handle(), f"After {minute} minutes"])
        took.append(time.monotonic() - begun)
    median = statistics.median(took)
    record_property("key_to_words_ms", round(1000 * median))
    print(f"Key press to changed words: median {1000 * median:.0f} ms, largest {1000 * max(took):.0f} ms")
    assert median < 0.4  # about 0.05 s on a quiet machine


def test_the_accessibility_checker_finds_nothing(lesson: Any) -> None:
    looked = look(lesson.page, ACTIVITIES)
    assert len(looked.passed) > 10
    assert looked.wrong == []


def test_words_have_contrast_enough(chromium: Browser) -> None:
    """The checker cannot judge contrast inside JupyterLab, so the words stand on a bare page here."""
    parts = [PedalStrokes(), EnergyRatio(), BurnishPlanner(), RoadTestQuiz()]
    words = "".join(part.children[0].value + part._caption.value + part._reply.value for part in parts)
    looked = look_at_contrast(chromium, words)
    assert looked.passed and not looked.wrong and not looked.unsure


def test_a_narrow_page_keeps_everything_in_view(lesson: Any, pictures: Any) -> None:
    with lesson.narrow():
        for nth, title in enumerate(TITLES):
            box = lesson.activity(title)
            pictures.take(box, f"narrow_{nth}")
            assert box.evaluate("box => box.scrollWidth - box.clientWidth") <= 2, title
