"""What every export of a class starts from: read from the gradebook once, worked out when first asked for."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from brakecourse.classroom.counting import Counted, count
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import GradeRecord, ModuleRecords, class_records
from brakecourse.classroom.settled import settled_at
from brakecourse.exports.badges import Standing, judged
from brakecourse.exports.mastery import Evidence, Mastery, class_evidence, everyones_mastery
from brakecourse.exports.unswept import unswept


class Facts:
    """One class, as it stood when it was read. Several exports of the same moment share one.

    Args:
        cls: the class.
        records: everyone's results where they were read already; None reads them when they are needed.
    """

    def __init__(self, cls: ClassFolder, records: Sequence[ModuleRecords] | None = None) -> None:
        self.cls = cls
        self._read = records
        self.drawn: dict[str, bytes] = {}
        """Pictures that were drawn of it, by name."""

    @cached_property
    def records(self) -> tuple[ModuleRecords, ...]:
        """Everyone's results in every module that was handed out."""
        if self._read is not None:
            return tuple(self._read)
        with unswept():
            return class_records(self.cls) if self.cls.assigned else ()

    @cached_property
    def grades(self) -> tuple[GradeRecord, ...]:
        """Everyone's result in each attempt at each module."""
        return tuple(one for module in self.records for one in module.grades)

    @cached_property
    def counted(self) -> tuple[Counted, ...]:
        """What counts of everyone's attempts, by the class's rule."""
        return tuple(count(self.grades, self.cls.settings.attempts_count))

    @cached_property
    def evidence(self) -> dict[str, list[Evidence]]:
        """The marked answers that tell of each competency."""
        return class_evidence(self.cls, self.records)

    @cached_property
    def mastery(self) -> tuple[Mastery, ...]:
        """How far each student is with each competency."""
        return tuple(everyones_mastery(self.cls, self.records))

    @cached_property
    def standings(self) -> tuple[Standing, ...]:
        """Who has earned which badge, and why not."""
        if not self.cls.assigned:
            return ()
        settled = settled_at(self.cls)
        return tuple(judged(self.counted, self.mastery, settled, self.cls.settings.pass_percent))
