"""Lesson 05 as a learner meets it: a sinking pedal, causes weighed, checks chosen, a hidden fault found."""

from __future__ import annotations

import json
import re
import time
from typing import Any

from brakecourse.views.diagnosis_air import AirInLines, AirNumbers
from brakecourse.views.diagnosis_bench import DiagnosisBench
from brakecourse.views.diagnosis_cases import CHECK, FINDING
from brakecourse.views.diagnosis_cause_quiz import WhichCause
from brakecourse.views.diagnosis_next_quiz import WhichCheckNext
from brakecourse.views.diagnosis_sink import PedalSink
from brakecourse.views.diagnosis_words import BOOSTER, cause_words
from playwright.sync_api import Browser, Locator, expect

from tests.browser.checker import ACTIVITIES, look, look_at_contrast
from tests.browser.conftest import wait_until_heard

LESSON = "05_leaks_and_pedal_feel"
TITLES = (
    "A pedal that sinks",
    "Which cause fits?",
    "Which check next?",
    "Air under the pedal",
    "How much air?",
    "The diagnosis bench",
)


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def press(box: Locator, name: str) -> None:
    box.get_by_role("button", name=name, exact=True).click()


def test_all_activities_are_live(lesson: Any, pictures: Any, record_property: Any) -> None:
    record_property("run_all_s", round(lesson.run_all_s, 2))
    print(f"Run All Cells: {lesson.run_all_s:.1f} s")
    assert lesson.run_all_s < 20  # about 4 s on a quiet machine; this leaves room for a busy one
    lesson.page.set_viewport_size({"width": 1200, "height": 1500})
    expect(lesson.page.locator(".bc-activity")).to_have_count(len(TITLES))
    for nth, title in enumerate(TITLES):
        box = lesson.activity(title)
        expect(box.locator("svg[role=img]").first).to_be_visible()
        pictures.take(box, f"{nth}")


def test_the_pedal_is_timed_with_the_keyboard(lesson: Any, pictures: Any) -> None:
    box, pedal, keys = lesson.activity(TITLES[0]), PedalSink().asked.case, lesson.page.keyboard
    box.get_by_role("spinbutton", name="Stopwatch, in seconds, or type it").focus()
    keys.press("Control+A")
    keys.type("60")
    keys.press("Enter")
    expect(box.locator("svg desc").first).to_have_text(re.compile("6, 0, point, 0"))
    answer = box.get_by_role("textbox", name="Sinking in one minute, in mm")
    answer.focus()
    keys.type(f"{pedal.read_mm[1]}")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("Subtract where it stood at the start"))
    answer.fill(f"{pedal.sink_mm_per_min:.0f}")
    answer.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^Right"))
    pictures.take(box, "sunk")


def test_a_cause_is_weighed_and_the_booster_is_not_to_blame(lesson: Any, pictures: Any) -> None:
    box, task = lesson.activity(TITLES[1]), WhichCause().asked
    near = next(one for one in task.choices if one not in (BOOSTER, task.right))
    for chosen in (BOOSTER, near, task.right):
        box.get_by_role("radio", name=chosen, exact=True).check()
        press(box, "Check")
        expect(reply(box)).to_have_text(re.compile(re.escape(task.reasons[chosen])))
    pictures.take(box, "cause_right")
    box.get_by_role("radio", name="harder").check()
    pictures.take(box, "cause_harder")


def test_the_check_that_tells_most_for_its_minutes(lesson: Any, pictures: Any) -> None:
    box, task = lesson.activity(TITLES[2]), WhichCheckNext().asked
    for chosen in (next(one for one in task.choices if one != task.right), task.right):
        box.get_by_role("radio", name=chosen, exact=True).check()
        press(box, "Check")
        expect(reply(box)).to_have_text(re.compile(re.escape(task.reasons[chosen])))
    pictures.take(box, "next_right")
    box.get_by_role("combobox", name="Topic").select_option(label="later")
    pictures.take(box, "next_later")


def test_air_takes_the_pedal_down(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(TITLES[3])
    before = box.locator(".bc-caption").first.inner_text()
    typed = box.get_by_role("spinbutton", name="Air at rest, in mL, or type it")
    typed.fill("5")
    typed.press("Enter")
    expect(box.locator(".bc-caption").first).not_to_have_text(before)
    pictures.take(box, "air")
    numbers, case = lesson.activity(TITLES[4]), AirNumbers().asked.case
    answer = numbers.get_by_role("textbox", name="Extra travel, in mm")
    for value, words in ((case.read_mm, "whole travel"), (case.extra_mm, "^Right")):
        answer.fill(f"{value}")
        answer.press("Enter")
        expect(reply(numbers)).to_have_text(re.compile(words))
    for topic in ("how much air", "a light push"):
        numbers.get_by_role("combobox", name="Topic").select_option(label=topic)
        pictures.take(numbers, f"air_{topic.split()[-1]}")


def test_a_hidden_fault_is_found(lesson: Any, pictures: Any) -> None:
    box, job = lesson.activity(TITLES[5]), DiagnosisBench().job
    checks = box.get_by_role("combobox", name="Check", exact=True)
    cause = box.get_by_role("combobox", name="The cause")
    checks.select_option(label=f"{CHECK['drive_noise'].words} (4 min)")
    wait_until_heard(box.page)
    press(box, "Do this check")
    expect(reply(box)).to_have_text(re.compile("^First press the pedal and hold it"))
    checks.select_option(label=f"{CHECK['pedal_hold'].words} (2 min)")
    wait_until_heard(box.page)
    press(box, "Do this check")
    expect(reply(box)).to_have_text(re.compile(f"^{FINDING['pedal_hold', job.finding('pedal_hold')]}"))
    cause.select_option(label=BOOSTER)
    wait_until_heard(box.page)
    press(box, "Name this cause")
    expect(reply(box)).to_have_text(re.compile("^Not yet. A booster only helps the foot"))
    for check in list(job.good_order)[1:]:
        press(box, "Which check is worth most?")
        expect(reply(box)).to_have_text(re.compile(f"^{re.escape(CHECK[check].words)}"))
        press(box, "Do this check")
        expect(reply(box)).to_have_text(re.compile("That took"))
    pictures.take(box, "bench_checked")
    cause.select_option(label=cause_words()[job.cause])
    wait_until_heard(box.page)
    press(box, "Name this cause")
    expect(reply(box)).to_have_text(re.compile("^Right: .*You were as quick."))
    expect(box.locator(".bc-facts")).to_contain_text("A good order")
    pictures.take(box, "bench_found")


def test_the_bench_works_by_keyboard_alone(lesson: Any, pictures: Any) -> None:
    box, keys = lesson.activity(TITLES[5]), lesson.page.keyboard
    box.get_by_role("button", name="New vehicle").focus()
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^Your first named cause counts"))
    box.get_by_role("combobox", name="Check", exact=True).focus()
    keys.type("Press the pedal")
    keys.press("Tab")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("That took 1 minute"))
    box.get_by_role("combobox", name="The cause").focus()
    keys.type("there is air")
    keys.press("Tab")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^(Right|Not yet)"))
    pictures.take(box, "bench_keys")


def test_the_record_holds_each_first_answer_once(lesson: Any) -> None:
    stored = json.loads((lesson.server.root / "progress.json").read_text(encoding="utf-8"))
    tries = {row["activity"]: (row["tries"], row["right"]) for row in stored["activities"]}
    assert tries["pedal-sink"] == tries["which-cause"] == tries["air-numbers"] == (1, 0)
    assert tries["diagnosis-bench"][0] == 2


def test_the_bench_answers_at_once(lesson: Any, record_property: Any) -> None:
    box, took = lesson.activity(TITLES[5]), []
    press(box, "New vehicle")
    for _ in range(4):
        before = reply(box).inner_text()
        begun = time.monotonic()
        press(box, "Do this check")
        expect(reply(box)).not_to_have_text(before)
        took.append(time.monotonic() - begun)
        press(box, "Which check is worth most?")
        expect(reply(box)).to_have_text(re.compile("bit in"))
    record_property("press_to_words_ms", round(1000 * min(took)))
    print(f"Button to changed words: {[round(1000 * one) for one in took]} ms")
    assert min(took) < 0.4


def test_the_accessibility_checker_finds_nothing(lesson: Any) -> None:
    looked = look(lesson.page, ACTIVITIES)
    assert len(looked.passed) > 10
    assert looked.wrong == []


def test_words_have_contrast_enough(chromium: Browser) -> None:
    """The checker cannot judge contrast inside JupyterLab, so the words stand on a bare page here."""
    parts = [PedalSink(), WhichCause(), AirInLines(), DiagnosisBench()]
    words = "".join(part.children[0].value + part._caption.value + part._reply.value for part in parts)
    looked = look_at_contrast(chromium, words)
    assert looked.passed and not looked.wrong and not looked.unsure


def test_a_narrow_page_keeps_everything_in_view(lesson: Any, pictures: Any) -> None:
    with lesson.narrow():
        for nth, title in enumerate(TITLES):
            box = lesson.activity(title)
            pictures.take(box, f"narrow_{nth}")
            assert box.evaluate("box => box.scrollWidth - box.clientWidth") <= 2, title
