"""What to teach again in a module: how its questions fared, what went wrong, and how far the class is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo

from brakecourse import marking
from brakecourse.classroom.attempts import module_of
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import ModuleRecords, class_records, module_records
from brakecourse.exports.completion import Completion, completion
from brakecourse.exports.findings import Finding, findings
from brakecourse.exports.item_analysis import Asked, Item, ModuleItems, module_items
from brakecourse.exports.mistakes import MistakeCount, count_mistakes
from brakecourse.exports.statistics import FEWEST_STUDENTS, wilson
from brakecourse.marking.catalogue import lesson
from brakecourse.marking.mistakes import mistakes


@dataclass(frozen=True)
class ModuleAgain:
    """What to teach again in one module.

    Attributes:
        module: the module or its later attempt.
        items: its questions with their figures, in the order they are asked.
        findings: what went wrong, what to teach first at the top.
        mistakes: the named mistakes, the one of most students first.
        completion: how far the class is.
    """

    module: str
    items: ModuleItems
    findings: tuple[Finding, ...]
    mistakes: tuple[MistakeCount, ...]
    completion: Completion

    @property
    def graded(self) -> int:
        """How many students' work has marks."""
        return self.items.students

    @property
    def hardest_first(self) -> tuple[Item, ...]:
        """The questions that have marks, the one that earned least first."""
        marked = [one for one in self.items.items if one.percent is not None]
        return tuple(sorted(marked, key=lambda one: one.percent or 0.0))

    @property
    def sentences(self) -> tuple[str, ...]:
        """Each finding in a sentence, what to teach first at the top."""
        return tuple(one.sentence for one in self.findings)

    @property
    def caution(self) -> str:
        """What so few students can't tell, in a sentence; empty for a class that is big enough."""
        return small_class(self.graded)


def module_again(cls: ClassFolder, module: str) -> ModuleAgain:
    """Return what to teach again in a module.

    Raises:
        CourseError: the module is unknown or was not handed out, or the gradebook can't be read.
    """
    return again(module_records(cls, module), cls.settings.zone, cls.settings.due_utc(module))


def class_again(cls: ClassFolder, records: Sequence[ModuleRecords] | None = None) -> tuple[ModuleAgain, ...]:
    """Return what to teach again in every module that was handed out.

    Args:
        cls: the class.
        records: everyone's results where they were read already; None reads them.

    Raises:
        CourseError: the gradebook can't be read.
    """
    known = class_records(cls) if records is None else records
    return tuple(again(one, cls.settings.zone, cls.settings.due_utc(one.module)) for one in known)


def again(records: ModuleRecords, zone: tzinfo, due: datetime | None = None) -> ModuleAgain:
    """Return what to teach again, from everyone's results in a module.

    Args:
        records: everyone's results.
        zone: the class's clock.
        due: when the module was due, or None.
    """
    name = records.module
    asked = tuple(
        Asked(one.id, one.short, lesson(one.module, one.lesson_part), one.safety_critical)
        for one in marking.questions(module_of(name))
    )
    return ModuleAgain(
        module=name,
        items=module_items(name, asked, records.questions),
        findings=findings(name, asked, records.questions, mistakes().get),
        mistakes=tuple(count_mistakes(name, records.questions)),
        completion=completion(name, records.grades, zone, due),
    )


def small_class(students: int) -> str:
    """Say what so few students can't tell; nothing for a class that is big enough, or for none.

    >>> small_class(6)
    'Only 6 students have marks: half of them would mean 19 to 81 % of such students, so count heads and \
leave percentages alone.'
    >>> small_class(24)
    ''
    """
    if not 0 < students < FEWEST_STUDENTS:
        return ""
    who = "1 student has" if students == 1 else f"{students} students have"
    half = wilson((students + 1) // 2, students)
    assert half is not None
    of = "that one" if students == 1 else "half of them" if students % 2 == 0 else f"{(students + 1) // 2}"
    return (
        f"Only {who} marks: {of} would mean {100 * half.low:.0f} to {100 * half.high:.0f} % of such "
        "students, so count heads and leave percentages alone."
    )
