"""The base of the quizzes: fresh cases, reasons from the case, a record by topic."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import ipywidgets as widgets
import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.adapt import LET_THE_COURSE_CHOOSE
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import DIFFICULTIES, NumberTask, Quiz, Task, streak_words
from brakecourse.views.replies import number_reply

LESSON = "01_job_order"


class Sums(Quiz):
    """Which sum is larger, and by how much."""

    title = "Sums"
    task = "Compare."
    lesson = LESSON
    topics = ("larger", "smaller", "difference")

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task | NumberTask:
        size = {"easy": 10, "normal": 100, "hard": 1000}[difficulty]
        a, b = draw.integer(1, size), draw.integer(size + 1, 2 * size)
        facts = (("what", "mm"), ("a", str(a)), ("b", str(b)))
        if topic == "difference":
            return NumberTask(
                topic,
                "How far apart are a and b?",
                "Distance",
                "mm",
                lambda answer: number_reply(
                    answer,
                    b - a,
                    {"You added them.": a + b},
                    unit="mm",
                    tolerance=0.1,
                    because="b minus a.",
                    hint="Subtract.",
                ),
                f"{b} minus {a}.",
                facts,
                (a, b),
            )
        right = "b" if topic == "larger" else "a"
        reasons = {"a": f"a is {a} and b is {b}.", "b": f"b is {b} and a is {a}."}
        return Task(topic, f"Which is {topic}?", ("a", "b"), right, reasons, facts, (a, b))

    def picture(self) -> str:
        a, b = self.asked.case
        return f'<svg xmlns="http://www.w3.org/2000/svg"><title>{a} and {b}</title></svg>'


def quiz(folder: Path, **more: Any) -> Sums:
    return Sums(progress=Progress(folder / "progress.json"), **{"session": 3, **more})


def press(activity: Quiz, words: str) -> None:
    def inside(widget: Any) -> Any:
        yield widget
        for child in getattr(widget, "children", ()):
            yield from inside(child)

    (found,) = (w for w in inside(activity) if isinstance(w, widgets.Button) and w.description == words)
    found.click()


def answer(activity: Sums, *, right: bool) -> None:
    task = activity.asked
    if isinstance(task, NumberTask):
        a, b = task.case
        activity.check_number(str(b - a if right else a + b))
    else:
        activity.chosen.value = task.right if right else next(c for c in task.choices if c != task.right)
        press(activity, "Check")


def test_the_first_case_is_fixed_and_the_next_ones_differ_between_sessions(tmp_path: Path) -> None:
    one, other = (Sums(progress=Progress(tmp_path / "progress.json")) for _ in range(2))
    for mime in ("text/plain", "text/html", "image/svg+xml"):
        assert one._repr_mimebundle_()[mime] == other._repr_mimebundle_()[mime]
    seen = []
    for activity in (one, other):
        activity.difficulty.value = "harder"
        cases = []
        for _ in range(5):
            press(activity, "New case")
            cases.append(activity.asked.case)
        seen.append(cases)
    assert seen[0] != seen[1]
    assert quiz(tmp_path, seed=2).asked.case != quiz(tmp_path).asked.case


def test_the_stored_case_does_not_depend_on_the_learners_record(tmp_path: Path) -> None:
    before = quiz(tmp_path)._repr_mimebundle_()["text/html"]
    mine = Progress(tmp_path / "progress.json")
    mine.record(LESSON, "sums", "Sums", right=False, topic="smaller")
    assert quiz(tmp_path)._repr_mimebundle_()["text/html"] == before


def test_the_same_session_gives_the_same_cases(tmp_path: Path) -> None:
    one, other = quiz(tmp_path), quiz(tmp_path)
    for _ in range(10):
        press(one, "New case")
        press(other, "New case")
        assert (one.asked.topic, one.asked.case) == (other.asked.topic, other.asked.case)


def test_a_wrong_choice_gets_its_own_reason_and_the_right_one_too(tmp_path: Path) -> None:
    activity = quiz(tmp_path)
    task = activity.asked
    assert isinstance(task, Task)
    answer(activity, right=False)
    assert activity.reply() == f"Not yet. {task.reasons['a']}"
    answer(activity, right=True)
    assert activity.reply() == f"Right. {task.reasons['b']}"
    activity.chosen.value = None
    press(activity, "Check")
    assert "Nothing is chosen yet" in activity.reply()


def test_only_the_first_answer_to_a_case_counts(tmp_path: Path) -> None:
    activity = quiz(tmp_path)
    answer(activity, right=False)
    answer(activity, right=True)
    (tally,) = activity._record.tallies()
    assert (tally.lesson, tally.activity, tally.tries, tally.right) == (LESSON, "sums", 1, 0)
    assert activity.results == {"larger": (False,), "smaller": (), "difference": ()}
    assert "right in a row" not in activity.reply()


def test_a_streak_is_told_and_ends_with_a_mistake(tmp_path: Path) -> None:
    activity = quiz(tmp_path)
    answer(activity, right=True)
    assert "in a row" not in activity.reply()
    press(activity, "New case")
    answer(activity, right=True)
    assert activity.reply().endswith("That is 2 right in a row.")
    press(activity, "New case")
    answer(activity, right=False)
    press(activity, "New case")
    answer(activity, right=True)
    assert "in a row" not in activity.reply()
    assert streak_words(0) == ""


def test_a_second_try_does_not_build_a_streak(tmp_path: Path) -> None:
    activity = quiz(tmp_path)
    answer(activity, right=False)
    answer(activity, right=True)
    press(activity, "New case")
    answer(activity, right=True)
    assert "in a row" not in activity.reply() and activity.streak == 1
    answer(activity, right=True)
    assert activity.streak == 1


def test_a_number_is_read_in_its_unit_and_its_mistake_named(tmp_path: Path) -> None:
    activity = quiz(tmp_path)
    activity.topic.value = "difference"
    task = activity.asked
    assert isinstance(task, NumberTask)
    a, b = task.case
    activity.check_number("soft")
    assert "number of millimetres" in activity.reply() and activity.results["difference"] == ()
    activity.check_number(str(a + b))
    assert activity.reply() == "Not yet. You added them."
    activity.check_number(f"{(b - a) / 10} cm")
    assert activity.reply().startswith(f"You typed {(b - a) / 10} cm: that is {b - a}.00")
    assert "Right:" in activity.reply()
    assert activity.results["difference"] == (False,)


def test_the_answer_is_shown_on_demand_and_then_counts_as_not_right(tmp_path: Path) -> None:
    activity = quiz(tmp_path)
    press(activity, "Show the answer")
    assert activity.reply() == f"The answer: b. {activity.asked.reasons['b']}"  # type: ignore[union-attr]
    answer(activity, right=True)
    assert activity.results["larger"] == (False,)
    activity.topic.value = "difference"
    answer(activity, right=True)
    press(activity, "Show the answer")
    assert activity.reply() == f"The answer: {activity.asked.answer}"  # type: ignore[union-attr]
    assert activity.results["difference"] == (True,)


def test_the_difficulty_is_the_benchs(tmp_path: Path) -> None:
    activity = quiz(tmp_path)
    assert activity.difficulty.options == tuple(DIFFICULTIES)
    for words, size in (("easier", 10), ("harder", 1000), ("usual", 100)):
        activity.difficulty.value = words
        assert size < activity.asked.case[1] <= 2 * size


def test_a_weak_topic_comes_more_often_says_why_and_may_be_overruled(tmp_path: Path) -> None:
    activity = quiz(tmp_path)
    assert "each topic is equally likely" in activity._next.value
    mine = activity._record
    mine.record(LESSON, "sums", "Sums", right=False, topic="smaller")
    came: Counter[str] = Counter()
    for _ in range(400):
        press(activity, "New case")
        came[activity.asked.topic] += 1
    # Shares 1 : 2 : 1; four standard deviations of a binomial count.
    assert abs(came["smaller"] - 200) < 40 and min(came.values()) > 60
    assert "more likely smaller, because you got it wrong" in activity._next.value
    assert "twice as often" in activity._next.value
    activity.topic.value = "larger"
    for _ in range(10):
        press(activity, "New case")
        assert activity.asked.topic == "larger"
    assert "Next: larger, as you chose." in activity._next.value
    activity.topic.value = LET_THE_COURSE_CHOOSE
    assert "more likely smaller" in activity._next.value


def test_the_record_of_topics_is_found_again_in_the_next_session(tmp_path: Path) -> None:
    answer(quiz(tmp_path), right=False)
    assert "more likely larger" in quiz(tmp_path)._next.value


def test_no_case_comes_twice_running(tmp_path: Path) -> None:
    activity = quiz(tmp_path)
    activity.difficulty.value = "easier"
    activity.topic.value = "larger"
    before = activity.asked.case
    for _ in range(200):
        press(activity, "New case")
        assert activity.asked.case != before
        before = activity.asked.case


def test_a_quiz_of_one_topic_and_one_level_has_neither_control(tmp_path: Path) -> None:
    class Plain(Sums):
        topics = ("larger",)
        difficulties = ("easier",)

    activity = Plain(progress=Progress(tmp_path / "progress.json"))
    assert activity.controls() in ((), [])
    assert activity.asked.case[1] <= 20
    press(activity, "New case")
    assert activity._next.value == ""


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"choices": ("a",)}, "At least two different choices"),
        ({"choices": ("a", "a")}, "At least two different choices"),
        ({"right": "c"}, "right answer 'c'"),
        ({"reasons": {"a": "x."}}, r"no reason|none for \['b'\]"),
        ({"reasons": {"a": "x.", "b": " "}}, r"none for \['b'\]"),
    ],
)
def test_a_task_that_cannot_be_asked_is_refused(change: dict[str, Any], words: str) -> None:
    good: dict[str, Any] = {
        "topic": "t",
        "question": "Which?",
        "choices": ("a", "b"),
        "right": "a",
        "reasons": {"a": "x.", "b": "y."},
    }
    Task(**good)
    with pytest.raises(ValueError, match=words):
        Task(**good | change)


def test_a_number_in_an_unknown_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="the unit was 'furlong'"):
        NumberTask("t", "How far?", "Distance", "furlong", lambda _: None, "1.")  # type: ignore[arg-type,return-value]
