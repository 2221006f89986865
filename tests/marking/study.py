"""How fair a module's cases are, and how well the marking recovers simulated students' habits.

``python -m tests.marking.study MODULE [STUDENTS]`` prints the figures for so many drawn students (200 when
left out). The tests assert the same figures on a smaller seeded sample.
"""

from __future__ import annotations

import json
import statistics
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from brakecourse.bench.draw import Draw
from brakecourse.marking import Mark, SealedCase, judge_all, questions
from brakecourse.marking.paper import Paper, Sheet, paper
from brakecourse.marking.seal import seal
from brakecourse.marking.simulated import Student, Work

AVERAGE_ABILITY = 0.6
SITTINGS = 24
"""So often the average student sits at one case: enough to tell the case from the chance of the day."""

MOST_SPREAD = 8.0
"""Largest spread (standard deviation) of the average student's mark over the cases, in percent."""


def bare(module: str) -> Paper:
    """Return a module's exercise without its drawings, which take most of the time."""
    return replace(paper(module), sheet=lambda _truth: Sheet(facts=()))


def cases(module: str, count: int) -> Iterator[SealedCase]:
    """Yield the cases of so many students, without their drawings."""
    asks = bare(module)
    for number in range(count):
        draw = Draw(2026).child(f"{module} student {number}")

        def seed(redraw: int, draw: Draw = draw) -> int:
            return draw.child(f"redraw {redraw}").seed

        yield seal(asks, f"student {number}", 1, seed, "normal")


def marks_of(case: SealedCase, work: Work) -> dict[str, Mark]:
    """Judge everything that the machine marks."""
    return judge_all(case, work.answers)


def percent(case: SealedCase, work: Work) -> float:
    """Return the machine's marks as a share of all of its marks, in percent."""
    marks = marks_of(case, work).values()
    return 100 * sum(mark.points for mark in marks) / sum(mark.out_of for mark in marks)


def usual_habits(some: list[SealedCase]) -> tuple[str, ...]:
    """Return every mistake that the module's cases name."""
    found = {one.mistake for case in some for asked in case.questions for one in asked.mistakes}
    found |= {
        rule.mistake
        for case in some
        for asked in case.questions
        for rule in asked.rules
        if rule.mistake is not None
    }
    return tuple(sorted(found))


def average_student(case: SealedCase, habits: tuple[str, ...], number: int) -> Work:
    """Return one sitting of an average student: able enough, with one habit or none."""
    draw = Draw(number).child("average")
    own = frozenset(draw.shuffled(habits)[: draw.integer(0, 1)])
    return Student(AVERAGE_ABILITY, own).work(case, draw.child("work"))


def case_means(some: list[SealedCase], habits: tuple[str, ...], sittings: int = SITTINGS) -> list[float]:
    """Return the average student's mean mark at each case, in percent. Everyone sits the same days."""
    return [
        statistics.fmean(percent(case, average_student(case, habits, day)) for day in range(sittings))
        for case in some
    ]


def spread(some: list[SealedCase], habits: tuple[str, ...], sittings: int = SITTINGS) -> float:
    """Return how much the cases differ in difficulty: the spread of the means, in percent."""
    return statistics.pstdev(case_means(some, habits, sittings))


@dataclass(frozen=True)
class Recovery:
    """How the marking does with known habits.

    Attributes:
        answers: answers judged.
        committed: answers that a habit made wrong, that chance left alone, and whose earlier answers were
            all handed in.
        named: how many of those got that habit's name.
        right: answers without habit or slip, on values that were all handed in.
        refused: how many of those were not called right.
        confusion: committed habit and named mistake of the rest.
    """

    answers: int
    committed: int
    named: int
    right: int
    refused: int
    confusion: Counter[tuple[str, str, str | None]]


def recovery(some: list[SealedCase], habits: tuple[str, ...]) -> Recovery:
    """Let a student of mixed ability with none, one or two habits sit at each case."""
    answers = committed = named = right = refused = 0
    confusion: Counter[tuple[str, str, str | None]] = Counter()
    for number, case in enumerate(some):
        draw = Draw(number).child("habits")
        own = frozenset(draw.shuffled(habits)[: draw.integer(0, 2)])
        work = Student(draw.between(0.3, 1.0), own).work(case, draw.child("work"))
        for question, mark in marks_of(case, work).items():
            if work.answers[question] is None:
                continue
            answers += 1
            if question in work.slipped or not _sound_before(case, question, work):
                continue
            habit = work.committed.get(question, ())
            if habit and mark.status != "right":
                committed += 1
                named += mark.mistake in habit
                if mark.mistake not in habit:
                    confusion[question, habit[0], mark.mistake] += 1
            elif not habit:
                right += 1
                refused += mark.status != "right"
                if mark.status != "right":
                    confusion[question, "none", mark.mistake] += 1
    return Recovery(answers, committed, named, right, refused, confusion)


def _sound_before(case: SealedCase, question: str, work: Work) -> bool:
    """Tell whether everything that an answer rests on, however far back, was handed in."""
    asked = case.question(question)
    assert asked is not None
    return all(work.answers[one] is not None and _sound_before(case, one, work) for one in asked.carries_from)


def main(module: str, count: int) -> None:
    """Print everything for one module."""
    start = time.process_time()
    some = list(cases(module, count))
    each = (time.process_time() - start) / count
    print(f"{module}: {count} students, {1000 * each:.0f} ms of CPU a case without drawings")
    print(
        f"redraws: mean {statistics.fmean(c.redraws for c in some):.2f}, most {max(c.redraws for c in some)}"
    )
    print(
        "situations:", {k: f"{v / count:.1%}" for k, v in Counter(c.truth["situation"] for c in some).items()}
    )
    print("stated:", dict(paper(module).shares))
    for asked in questions(module):
        if asked.kind != "choice":
            continue
        picked = Counter(c.question(asked.id).expected for c in some)  # type: ignore[union-attr]
        print(f"  {asked.id}:", {str(k)[:40]: f"{v / count:.0%}" for k, v in picked.most_common()})
    keys = Counter(json.dumps([q.expected for q in c.questions]) for c in some)
    print("students who share all answers:", sum(v for v in keys.values() if v > 1))
    habits = usual_habits(some)
    print(f"{len(habits)} named mistakes:", ", ".join(habits))
    found = recovery(some, habits)
    print(
        f"{found.answers} answers; committed {found.committed}, "
        f"named {found.named / max(1, found.committed):.1%}"
    )
    print(f"right {found.right}, refused {found.refused / max(1, found.right):.2%}")
    for what, times in found.confusion.most_common(15):
        print("   ", times, what)
    means = case_means(some[:60], habits)
    print(
        f"average student over {len(means)} cases: mean {statistics.fmean(means):.1f} %, spread "
        f"{statistics.pstdev(means):.1f}, lowest {min(means):.1f}, highest {max(means):.1f}"
    )


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 200)
