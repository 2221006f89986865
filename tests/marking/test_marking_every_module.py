"""What must hold for the exercise of every module, whatever it asks."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator

import pytest
from brakecourse import marking
from brakecourse.bench.draw import Draw
from brakecourse.marking import Mark, SealedCase, draw_sealed_case, judge, judge_all
from brakecourse.marking.basis import ARROW
from brakecourse.marking.given import Given
from brakecourse.marking.mistakes import mistake, mistakes
from brakecourse.marking.paper import paper
from brakecourse.marking.score import LOST_PER_RULE, RIGHT_ACTION_SHARE
from brakecourse.marking.sealed import BY_HAND, SealedChoice, SealedQuestion
from brakecourse.marking.simulated import Student
from brakecourse.tables import read_table

SECRET = bytes(range(32))
MANY, FEW, MOST = 12, 5, 50
MOST_BYTES = 400_000
NUMBER = re.compile(r"(?<![\d.])\d+\.\d+(?![\d.])")

CasesOf = Callable[[str, int], list[SealedCase]]


def key(case: SealedCase) -> dict[str, object]:
    """Return the right answers as a notebook hands them in."""
    return {one.id: as_handed_in(one, one.expected) for one in case.questions}


def as_handed_in(question: SealedQuestion, answer: object) -> object:
    if question.kind == "sequence":
        return str(answer).split(ARROW)
    return list(answer) if isinstance(answer, tuple) else answer


def rounded_key(case: SealedCase) -> dict[str, object]:
    """Return the right answers rounded as the questions ask."""
    found: dict[str, object] = {}
    for one in case.questions:
        right = one.expected
        if isinstance(right, tuple):
            found[one.id] = [round(value, one.places) for value in right]
        else:
            found[one.id] = round(right, one.places) if isinstance(right, float) else key(case)[one.id]
    return found


def machine_marked(case: SealedCase) -> list[SealedQuestion]:
    return [one for one in case.questions if one.kind not in BY_HAND]


# --- the tables and the paper fit together -----------------------------------------------------------


def test_every_question_has_an_answer_or_is_written(module: str) -> None:
    asks = paper(module)
    written = {one.id for one in marking.questions(module) if one.kind == "written"}
    by_hand = {one.id for one in marking.questions(module) if one.kind in BY_HAND}
    assert set(asks.key) == {one.id for one in marking.questions(module)} - by_hand
    assert set(asks.letter) == written and written, "something is left for a person to read"


def test_a_question_is_worked_from_what_the_table_says(module: str, cases_of: CasesOf) -> None:
    asked: dict[str, set[str]] = {}
    for case in cases_of(module, MANY):
        given = Given(paper(module).read_truth(case.truth), paper(module).key, case.choices)
        for one in machine_marked(case):
            given.basis(one.id)
            asked.setdefault(one.id, set()).update(given.asked(one.id))
    order = [one.id for one in marking.questions(module)]
    for question in marking.questions(module):
        if question.kind not in BY_HAND:
            assert set(question.carries_from) == asked[question.id], question.id
        assert all(order.index(one) < order.index(question.id) for one in question.carries_from)


def test_the_marks_and_the_ranges_are_complete(module: str) -> None:
    asked = marking.questions(module)
    number = int(module.split("_")[0])
    assert [one.id for one in asked] == [f"{number}.{count}" for count in range(1, len(asked) + 1)]
    assert marking.total_points(module) == (60 if number == 13 else 40)
    for one in asked:
        assert one.points > 0
        assert (one.low is not None) == (one.high is not None) == (one.kind in ("table", "number"))
        assert bool(one.choices) == (one.kind == "choice")
        assert (one.count is not None) == (one.kind == "table")


def test_every_mistake_is_in_the_table_and_none_is_right(module: str, cases_of: CasesOf) -> None:
    for case in cases_of(module, MANY):
        for question in case.questions:
            assert {one.mistake for one in question.rules if one.mistake} <= set(mistakes())
            for one in question.mistakes:
                assert one.mistake in mistakes(), (question.id, one)
                assert (one.place is not None) == (question.kind == "table")


def test_every_mistake_of_the_table_can_happen(cases_of: CasesOf) -> None:
    wanted = {row["mistake"] for row in read_table("course/mistakes.csv") if row["module"] in marking.MODULES}
    for count in (MANY, MOST):  # most of them come up in the first few cases
        for module in marking.MODULES if wanted else ():
            for case in cases_of(module, count):
                for question in case.questions:
                    wanted -= {one.mistake for one in question.mistakes}
                    wanted -= {one.mistake for one in question.rules if one.mistake}
    assert not wanted


def test_a_choice_is_right_for_someone_and_shows_a_mistake_or_a_reason(
    module: str, cases_of: CasesOf
) -> None:
    for case in cases_of(module, MANY):
        for question in machine_marked(case):
            if question.kind == "choice":
                texts = [one.text for one in choices_of(case, question)]
                assert question.expected == question.accepted[0]
                assert set(question.accepted) < set(texts), "right and wrong ones are listed"
                assert len(set(texts)) == len(texts)


def choices_of(case: SealedCase, question: SealedQuestion) -> list[SealedChoice]:
    return [one for one in case.choices if one.question == question.id]


def test_the_stated_shares_name_what_is_drawn(module: str, cases_of: CasesOf) -> None:
    shares = paper(module).shares
    assert sum(shares.values()) == pytest.approx(1)
    assert {case.truth["situation"] for case in cases_of(module, MANY)} <= set(shares)


# --- the work order ------------------------------------------------------------------------------------


def texts(value: object) -> Iterator[str]:
    """Every text that a person sees or hears, keys as well; of a drawing, the words between its tags."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield str(name)
            yield from texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from texts(inner)
    else:
        yield re.sub(r"<[^>]*>", " ", str(value))


def keys(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        yield from value
        for inner in value.values():
            yield from keys(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from keys(inner)


def test_the_work_order_holds_no_answer(module: str, full_case: Callable[[str], SealedCase]) -> None:
    case = full_case(module)
    order = case.work_order()
    told = {"seed", "secret", "expected", "mistake", "mistakes", "answer", "situation", "truth", "redraws"}
    assert not told & set(keys(order))
    text = json.dumps(order, ensure_ascii=False, allow_nan=False)
    assert SECRET.hex() not in text and len(text.encode()) < MOST_BYTES
    names = {name for name in mistakes() if "_" in name}
    assert not {name for name in names if name in text}
    # A situation may be called what every student reads among the limits; the complaint must not tell it.
    assert not [name for name in paper(module).shares if " " in name and name in order["complaint"]]


def test_no_reading_stands_in_the_work_order(module: str, full_case: Callable[[str], SealedCase]) -> None:
    """Neither what a gauge shows between its lines, nor its nearest line in any drawing."""
    case = full_case(module)
    order = case.work_order()
    shown = [value for one in case.questions for value in one.shown if value]
    whole = json.dumps(order)
    assert not [value for value in shown if repr(value) in whole or f"{value:.4f}" in whole]
    drawn = {
        number
        for one in order["drawings"].values()
        for text in texts(one["svg"])
        for number in NUMBER.findall(text)
    }
    read = {
        f"{value:.{one.places}f}"
        for one in case.questions
        if one.shown and one.places > 1
        for value in (one.expected if isinstance(one.expected, tuple) else (one.expected,))
        if isinstance(value, float) and round(10 * value) != 10 * value
    }
    assert not drawn & read


def test_the_work_order_asks_what_the_tables_ask(module: str, full_case: Callable[[str], SealedCase]) -> None:
    case = full_case(module)
    order = case.work_order()
    used = [name for one in order["questions"] for name in one["drawings"]]
    assert set(used) == set(order["drawings"]), "every drawing belongs to a question"
    for given, asked in zip(order["questions"], marking.questions(module), strict=True):
        assert (given["id"], given["kind"], given["points"]) == (asked.id, asked.kind, asked.points)
        assert len(given["labels"]) == (asked.count or 0)
        sealed = case.question(asked.id)
        assert sealed is not None
        if asked.kind == "sequence":
            assert sorted(given["choices"]) == sorted(sealed.steps)
            assert given["choices"] != list(sealed.steps), "the steps are listed in another order"
        if asked.kind == "table":
            assert isinstance(sealed.expected, tuple) and len(sealed.expected) == asked.count
    for one in order["drawings"].values():
        assert one["svg"].lstrip().startswith("<svg") and "<title" in one["svg"] and one["caption"]


# --- the draw -----------------------------------------------------------------------------------------


def test_the_same_draw_gives_the_same_case_and_another_one_another(
    module: str, full_case: Callable[[str], SealedCase]
) -> None:
    case = full_case(module)
    assert draw_sealed_case(module, "s01", SECRET) == case
    assert draw_sealed_case(module, "s02", SECRET).truth != case.truth
    assert draw_sealed_case(module, "s01", SECRET, attempt=2).truth != case.truth


def test_a_case_survives_its_file_and_is_judged_the_same(module: str, cases_of: CasesOf) -> None:
    for number, case in enumerate(cases_of(module, FEW)):
        text = case.model_dump_json()
        read = SealedCase.model_validate_json(text)
        assert read == case == SealedCase.model_validate(json.loads(text))
        answers = Student(0.5).answers(case, Draw(number))
        assert judge_all(read, answers) == judge_all(case, answers)


# --- the marks -----------------------------------------------------------------------------------------


def test_the_perfect_student_earns_every_mark(module: str, cases_of: CasesOf) -> None:
    for case in cases_of(module, MANY):
        for answers in (key(case), rounded_key(case), Student(1.0).answers(case, Draw(1))):
            for mark in judge_all(case, answers).values():
                assert (mark.points, mark.status, mark.mistake) == (mark.out_of, "right", None), mark
                assert not mark.lesson


def test_nothing_earns_nothing_and_says_so(module: str, cases_of: CasesOf) -> None:
    for case in cases_of(module, FEW):
        for mark in judge_all(case, {}).values():
            assert (mark.points, mark.status, mark.given) == (0, "no answer", "nothing")
            assert mark.words.endswith(".") and mark.lesson and mark.expected and mark.tolerance
            assert mark.how.endswith((".", "!", "?")), mark


def test_one_by_one_gives_the_same_as_all_together(module: str, cases_of: CasesOf) -> None:
    for number, case in enumerate(cases_of(module, FEW)):
        answers = Student(0.3, frozenset({"ten_times"})).answers(case, Draw(number))
        for question, mark in judge_all(case, answers).items():
            others = {one: answer for one, answer in answers.items() if one != question}
            assert judge(case, question, answers[question], others) == mark


def injected(case: SealedCase, question: SealedQuestion) -> Iterator[tuple[str, object, float | None]]:
    """Yield each mistake with its answer, and its share of the marks (None: half for the right action)."""
    if question.kind == "table":
        right = as_handed_in(question, question.expected)
        assert isinstance(right, list)
        for one in question.mistakes:
            assert one.place is not None
            row = [*right[: one.place - 1], one.value, *right[one.place :]]
            yield one.mistake, row, (len(right) - 1 + mistake(one.mistake).share) / len(right)
    elif question.kind == "number":
        for one in question.mistakes:
            yield one.mistake, one.value, mistake(one.mistake).share
    elif question.kind == "choice":
        for one in question.mistakes:
            yield one.mistake, one.value, None
    elif question.rules:
        for rule in question.rules:
            steps = list(question.steps)
            steps.remove(rule.after)
            steps.insert(steps.index(rule.before), rule.after)
            broken = [r for r in question.rules if steps.index(r.before) > steps.index(r.after)]
            broken.sort(key=lambda one: not one.critical)
            named = next((one.mistake for one in broken if one.mistake is not None), None)
            lost = 1.0 if broken[0].critical else min(1.0, LOST_PER_RULE * len(broken))
            if rule.mistake is not None and named == rule.mistake:
                yield rule.mistake, steps, 1 - lost
    else:
        for one in question.mistakes:
            yield one.mistake, str(one.value).split(ARROW), mistake(one.mistake).share


def test_each_mistake_is_named_and_earns_its_share(module: str, cases_of: CasesOf) -> None:
    """One at a time, all else right. Two mistakes may land on one answer: then the likelier is named."""
    total = named = 0
    for case in cases_of(module, FEW):
        answers = key(case)
        for question in machine_marked(case):
            for name, answer, share in injected(case, question):
                mark = judge(case, question.id, answer, answers)
                total += 1
                named += mark.mistake == name
                assert mark.status in ("wrong", "partly right"), (question.id, name, answer, mark)
                assert mark.mistake is not None, (question.id, name, answer)
                assert mistake(mark.mistake).next_time in mark.words
                assert re.match(r"Lesson \d\d, part \d+: .", mark.lesson)
                if mark.mistake == name:
                    check_share(mark, share)
    assert total > 10 and named >= 0.8 * total, (named, total)


def check_share(mark: Mark, share: float | None) -> None:
    if share is None:
        assert mark.points in (0, RIGHT_ACTION_SHARE * mark.out_of)
    else:
        assert mark.points == pytest.approx(share * mark.out_of, abs=0.006)
    assert (mark.status == "partly right") == (mark.points > 0)


def test_a_slip_costs_its_own_question_and_nothing_after(module: str, cases_of: CasesOf) -> None:
    """Each answer wrong in turn by a named mistake: whoever works on soundly keeps every later mark."""
    for case in cases_of(module, FEW):
        for question in machine_marked(case):
            for _name, answer, _share in list(injected(case, question))[:3]:
                answers = {**key(case), question.id: answer}
                given = Given(
                    paper(module).read_truth(case.truth),
                    paper(module).key,
                    case.choices,
                    answers,
                    case.questions,
                )
                later = [one for one in machine_marked(case) if question.id in one.carries_from]
                for one in later:
                    answers[one.id] = as_handed_in(one, given.basis(one.id).expected)
                for one in later:
                    mark = judge(case, one.id, answers[one.id], answers)
                    assert mark.status == "right", (question.id, answer, one.id, answers[one.id], mark)
