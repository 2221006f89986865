"""Lesson 03 as a learner meets it: read the testers, find the margin, choose the bottle, renew or not."""

from __future__ import annotations

import json
import re
import statistics
import time
from typing import Any

from brakecourse.views.fluid_abs_order import STEPS
from brakecourse.views.fluid_choice import FluidChoice
from brakecourse.views.fluid_curve import BoilingCurve
from brakecourse.views.fluid_limits import FluidLimits
from brakecourse.views.fluid_margin import VapourMargin
from brakecourse.views.fluid_renew import RenewFluid
from brakecourse.views.fluid_samples import running, water_without_margin
from brakecourse.views.fluid_testers import FluidTesters
from brakecourse.views.quiz import Quiz
from playwright.sync_api import Browser, Locator, expect

from tests.browser.checker import ACTIVITIES, look, look_at_contrast

LESSON = "03_brake_fluid"
TITLES = (
    "Read the fluid testers",
    "Does it keep the limit of its grade?",
    "The boiling-point curve",
    "How much margin is left?",
    "Which bottle do you take?",
    "Renew it or not?",
    "New fluid, and nothing but fluid, through the ABS unit",
)
TESTERS, LIMITS, CURVE, MARGIN, CHOICE, RENEW, ORDER = TITLES


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def caption(box: Locator) -> Locator:
    return box.locator("p.bc-caption").first


def more_cases(box: Locator, pictures: Any, kind: type[Quiz], name: str) -> None:
    box.get_by_role("radio", name="harder").check()
    for nth, topic in enumerate(kind.topics):
        box.get_by_role("combobox", name="Topic").select_option(label=topic)
        pictures.take(box, f"{name}_{nth}")


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


def test_the_water_is_read_and_fahrenheit_is_named(lesson: Any, pictures: Any) -> None:
    box, sample = lesson.activity(TESTERS), FluidTesters().asked.case.sample
    answer(box, "Water, in %", f"{10 * sample.water_percent:.0f}")
    expect(reply(box)).to_have_text(re.compile("You counted the lines"))
    answer(box, "Water, in %", f"{sample.water_percent:.1f} %")
    expect(reply(box)).to_have_text(re.compile(f"^Right: {sample.water_percent:.1f}"))
    pictures.take(box, "water")
    more_cases(box, pictures, FluidTesters, "testers")
    box.get_by_role("combobox", name="Topic").select_option(label="the boiling-point tester")
    box.get_by_role("radio", name="harder").check()
    expect(caption(box)).to_have_text(re.compile("begins to bubble"))
    digits = digits_shown(box)
    answer(box, "It boils at, in °C", digits)
    expect(reply(box)).to_have_text(re.compile("display is set to °F"))
    answer(box, "It boils at, in °C", f"{digits} °F")
    expect(reply(box)).to_have_text(re.compile(r"You typed .*°F: .*Right"))
    pictures.take(box, "fahrenheit")


def digits_shown(box: Locator) -> str:
    """Read the digits off the display, as a screen reader tells them."""
    told = box.locator("svg[role=img] desc").first.text_content() or ""
    return re.sub(r"\D", "", told.split("display shows")[1])


def test_the_columns_are_not_swapped(lesson: Any, pictures: Any) -> None:
    box, held = lesson.activity(LIMITS), FluidLimits().asked.case
    dry, wet = {"DOT 3": (205, 140), "DOT 4": (230, 155), "DOT 5.1": (260, 180)}[held.grade]
    answer(box, "Above the limit", f"{held.boiling_c - wet:.0f}")
    expect(reply(box)).to_have_text(re.compile("You took the wet column"))
    answer(box, "Above the limit", f"{held.boiling_c - dry:.0f}")
    expect(reply(box)).to_have_text(re.compile("^Right"))
    pictures.take(box, "limits")
    more_cases(box, pictures, FluidLimits, "limits")


def test_the_ring_runs_along_the_curve_by_keyboard(lesson: Any, pictures: Any) -> None:
    box, right = lesson.activity(CURVE), water_without_margin("DOT 4", running().hottest_c)
    assert right is not None
    slider = box.get_by_role("slider", name="Water in the fluid, in %")
    slider.focus()
    for _ in range(round(10 * right) + 1):
        lesson.page.keyboard.press("ArrowRight")
    expect(caption(box)).to_have_text(re.compile("No margin"))
    pictures.take(box, "curve")
    answer(box, "No margin is left at, in %", "3.7")
    expect(reply(box)).to_have_text(re.compile("water of the wet limit"))
    answer(box, "No margin is left at, in %", f"{right:.1f}")
    expect(reply(box)).to_have_text(re.compile("^Right"))
    box.get_by_role("combobox", name="Grade").select_option(label="DOT 3")
    box.get_by_role("combobox", name="Hottest fluid of").select_option(index=8)
    expect(caption(box)).to_have_text(re.compile("DOT 3"))
    pictures.take(box, "curve_dot_3")


def test_the_margin_has_a_sign(lesson: Any, pictures: Any) -> None:
    box, margin = lesson.activity(MARGIN), VapourMargin().asked.case
    answer(box, "Margin", f"{-margin.margin_c:.0f}")
    expect(reply(box)).to_have_text(re.compile("the sign is not"))
    answer(box, "Margin", f"{margin.margin_c:.0f}")
    expect(reply(box)).to_have_text(re.compile("^Right"))
    pictures.take(box, "margin")
    more_cases(box, pictures, VapourMargin, "margin")


def test_the_right_bottle_goes_in(lesson: Any, pictures: Any) -> None:
    choose(lesson.activity(CHOICE), FluidChoice())
    pictures.take(lesson.activity(CHOICE), "choice")
    more_cases(lesson.activity(CHOICE), pictures, FluidChoice, "choice")


def test_fluid_is_renewed_for_a_reason(lesson: Any, pictures: Any) -> None:
    choose(lesson.activity(RENEW), RenewFluid())
    pictures.take(lesson.activity(RENEW), "renew")
    more_cases(lesson.activity(RENEW), pictures, RenewFluid, "renew")


def choose(box: Locator, twin: Quiz) -> None:
    """Choose a wrong answer and then the right one, and read the reason of each."""
    task: Any = twin.asked
    for words in (next(one for one in task.choices if one != task.right), task.right):
        box.get_by_role("radio", name=words).check()
        press(box, "Check")
        expect(reply(box)).to_have_text(re.compile(re.escape(task.reasons[words])))


def test_the_steps_are_put_in_order_from_the_list(lesson: Any, pictures: Any) -> None:
    box, keys = lesson.activity(ORDER), lesson.page.keyboard
    cards = box.get_by_role("listbox", name="What comes next?")
    cards.select_option(label=STEPS["open"])
    expect(box.locator("[data-card=open][data-chosen]")).to_have_count(1)
    cards.focus()
    keys.press("Tab")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^Not yet.*comes too early.*can hurt someone"))
    pictures.take(box, "order_wrong")
    for done, step in enumerate(STEPS, 1):
        cards.select_option(label=STEPS[step])
        expect(box.locator(f"[data-card={step}][data-chosen]")).to_have_count(1)
        cards.focus()
        keys.press("Tab")
        keys.press("Enter")
        expect(caption(box)).to_have_text(re.compile(f"{done} of 10|10 steps lie"))
    expect(reply(box)).to_have_text(re.compile("^Right: every step.*no air"))
    pictures.take(box, "ordered")


def test_each_answer_is_kept_once(lesson: Any) -> None:
    stored = json.loads((lesson.server.root / "progress.json").read_text(encoding="utf-8"))
    tries = {row["activity"]: (row["tries"], row["right"]) for row in stored["activities"]}
    assert tries["boiling-curve"] == (2, 1)
    for name in ("fluid-limits", "vapour-margin", "fluid-choice", "renew-fluid", "fluid-order"):
        assert tries[name] == (1, 0), name  # the first answer counts
    assert tries["fluid-testers"] == (2, 0)


def test_a_control_answers_at_once(lesson: Any, record_property: Any) -> None:
    box = lesson.activity(CURVE)
    box.get_by_role("slider", name="Water in the fluid, in %").focus()
    lesson.page.keyboard.press("Home")
    expect(caption(box)).to_have_text(re.compile("With 0.0"))
    shown = "([box, words]) => box.querySelector('.bc-caption').textContent.includes(words)"
    took = []
    for tenth in range(1, 11):
        begun = time.monotonic()
        lesson.page.keyboard.press("ArrowRight")
        words = f"With {tenth / 10:.1f}"
        lesson.page.wait_for_function(shown, arg=[box.element_handle(), words])
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
    parts = [FluidTesters(), BoilingCurve(), FluidChoice(), RenewFluid()]
    words = "".join(part.children[0].value + part._caption.value + part._reply.value for part in parts)
    looked = look_at_contrast(chromium, words)
    assert looked.passed and not looked.wrong and not looked.unsure


def test_a_narrow_page_keeps_everything_in_view(lesson: Any, pictures: Any) -> None:
    with lesson.narrow():
        for nth, title in enumerate(TITLES):
            box = lesson.activity(title)
            pictures.take(box, f"narrow_{nth}")
            assert box.evaluate("box => box.scrollWidth - box.clientWidth") <= 2, title
