"""Lesson 13 as a learner meets it: a whole job to the signature, single questions, the job sheet."""

from __future__ import annotations

import json
import re
from typing import Any

from brakecourse.views.diagnosis_words import cause_words
from brakecourse.views.job_sheet import JobSheet
from brakecourse.views.job_sheet_example import EXAMPLE
from brakecourse.views.quiz import NumberTask, Task
from brakecourse.views.whole_job import FIRST_SEED, WholeJob
from brakecourse.views.whole_job_case import COUNT, WholeJobCase
from brakecourse.views.whole_job_quiz import JobQuestions
from playwright.sync_api import Browser, Locator, expect

from tests.browser.checker import ACTIVITIES, look, look_at_contrast

LESSON = "13_whole_job"
TITLES = ("One question of the job", "The whole job", "The job sheet")
QUESTION, JOB, SHEET = TITLES


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def caption(box: Locator) -> Locator:
    return box.locator("p.bc-caption").first


def press(box: Locator, name: str) -> None:
    box.get_by_role("button", name=name, exact=True).click()


def test_all_activities_are_live(lesson: Any, pictures: Any, record_property: Any) -> None:
    record_property("run_all_s", round(lesson.run_all_s, 2))
    print(f"Run All Cells: {lesson.run_all_s:.1f} s")
    expect(lesson.page.locator(".bc-activity")).to_have_count(len(TITLES))
    expect(lesson.page.get_by_text(re.compile("Error displaying widget|model not found"))).to_have_count(0)
    for nth, title in enumerate(TITLES):
        box = lesson.activity(title)
        expect(box.locator("svg[role=img]").first).to_be_visible()
        pictures.take(box, f"{nth}")


def test_a_single_question_gives_the_reason(lesson: Any, pictures: Any) -> None:
    box, task = lesson.activity(QUESTION), JobQuestions().asked
    assert isinstance(task, Task)
    wrong = next(one for one in task.choices if one != task.right)
    for chosen, begins in ((wrong, "Not yet"), (task.right, "Right")):
        box.get_by_role("radio", name=chosen, exact=True).check()
        press(box, "Check")
        expect(reply(box)).to_have_text(re.compile(f"^{begins}"))
    pictures.take(box, "question")


def test_the_whole_job_is_done_and_its_record_signed(lesson: Any, pictures: Any) -> None:
    """Step by step, the numbers typed and the choices made with the keyboard."""
    box, keys = lesson.activity(JOB), lesson.page.keyboard
    case = WholeJobCase.drawn(FIRST_SEED, "normal")
    press(box, "Sign the record")
    expect(reply(box)).to_have_text(re.compile(f"^Not yet: {COUNT} lines are still open"))
    press(box, "Do this check")
    expect(reply(box)).to_have_text(re.compile("until|first", re.IGNORECASE))
    for _ in range(2):
        press(box, "Which check is worth most?")
        press(box, "Do this check")
        expect(reply(box)).to_have_text(re.compile("That took"))
    pictures.take(box, "job_checks")
    box.get_by_role("combobox", name="The cause").select_option(cause_words()[case.hidden[0]])
    press(box, "Name this cause")
    expect(reply(box)).to_have_text(re.compile("^Right"))
    case.found(case.hidden[0], "right at the first answer")
    while step := case.step:
        expect(caption(box)).to_have_text(step.task.question)
        if isinstance(step.task, NumberTask) and step.id == "torque":
            press(box, "Show the answer")
        elif isinstance(step.task, NumberTask):
            field = box.get_by_role("textbox", name=step.task.label)
            field.fill(re.match(r"[\d.]+", step.written)[0])  # type: ignore[index]
            keys.press("Enter")
        else:
            box.get_by_role("radio", name=step.task.right, exact=True).focus()
            keys.press("Space")
            if step.id in ("pads", "customer"):
                pictures.take(box, f"job_{step.id}")
            box.get_by_role("button", name="Check", exact=True).focus()
            keys.press("Enter")
        case.answered("right at the first answer")
        following = case.step
        expect(caption(box)).to_have_text(following.task.question if following else re.compile("^Every step"))
    press(box, "Sign the record")
    expect(reply(box)).to_have_text(re.compile("^The record is signed. 10 of 11 steps .* 1 was shown"))
    expect(box.locator("svg[role=img]").first).to_contain_text("Signed for what was measured")
    pictures.take(box, "job_record")
    press(box, "Save to print")
    expect(reply(box)).to_have_text(re.compile("my_job_record.html"))
    saved = (lesson.server.root / "my_job_record.html").read_text(encoding="utf-8")
    assert "Signed for what was measured" in saved and "<script" not in saved


def test_the_job_sheet_is_typed_and_checked(lesson: Any, pictures: Any) -> None:
    box, twin = lesson.activity(SHEET), JobSheet()
    press(box, "Check the sheet")
    expect(reply(box)).to_have_text(re.compile("^Still empty: “Rotor thickness when new” and 18 more"))
    press(box, "Fill in the example")
    press(box, "Check the sheet")
    expect(reply(box)).to_have_text(re.compile("^The sheet is complete"))
    expect(box.locator(".bc-facts")).to_contain_text("uneven wear: find the part behind it")
    pictures.take(box, "sheet_filled")
    thickness = box.get_by_role("textbox", name=twin.boxes["left_thickness"].description)
    thickness.fill(EXAMPLE["left_thickness"].replace("27.58", "2.758", 1))
    thickness.press("Enter")
    press(box, "Check the sheet")
    expect(reply(box)).to_have_text(re.compile("look at the decimal point"))


def test_what_was_tried_is_kept_beside_the_lesson(lesson: Any) -> None:
    stored = json.loads((lesson.server.root / "progress.json").read_text(encoding="utf-8"))
    tries = {row["activity"]: (row["tries"], row["right"]) for row in stored["activities"]}
    assert tries["whole-job"] == (11, 10) and tries["job-questions"] == (1, 0)
    assert tries["job-sheet"] == (2, 1)


def test_the_accessibility_checker_finds_nothing_in_the_activities(lesson: Any) -> None:
    looked = look(lesson.page, ACTIVITIES)
    assert len(looked.passed) > 10
    assert looked.wrong == []


def test_a_narrow_page_shows_all_of_it(lesson: Any, pictures: Any) -> None:
    lesson.page.set_viewport_size({"width": 420, "height": 900})
    try:
        for nth, title in enumerate(TITLES):
            box = lesson.activity(title)
            pictures.take(box, f"narrow_{nth}")
            inside = box.evaluate("box => box.scrollWidth <= box.clientWidth + 1")
            assert inside, title
    finally:
        lesson.page.set_viewport_size({"width": 1200, "height": 1000})


def test_words_have_contrast_enough(chromium: Browser) -> None:
    parts = [WholeJob(), JobSheet(), JobQuestions()]
    words = "".join(part.children[0].value + part._caption.value + part._reply.value for part in parts)
    looked = look_at_contrast(chromium, words)
    assert looked.passed and not looked.wrong and not looked.unsure
