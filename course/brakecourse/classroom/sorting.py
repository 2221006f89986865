"""Sort what was found by whose it is, and pick of each student's notebooks the one that is the exercise."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence

from brakecourse import marking
from brakecourse.classroom.attempts import attempt_said, module_of
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.intake import FoundNotebook, Refusal, Source
from brakecourse.classroom.matching import CLOSE_ENOUGH, Students, closeness, is_usual_name
from brakecourse.errors import CourseError


class Pile:
    """What was found for one module, by student, and what was refused.

    Args:
        module: which module.
        reader: the place it comes from.
    """

    def __init__(self, module: str, reader: Source) -> None:
        self.module = module
        self.refused: list[Refusal] = []
        self._notebooks: dict[str, list[FoundNotebook]] = defaultdict(list)
        self._reader = reader
        self._taken = 0
        self._asked = [question.id for question in marking.questions(module_of(module))]

    def add(self, item: FoundNotebook | Refusal, students: Students) -> None:
        """Put one thing where it belongs.

        Raises:
            CourseError: there is more of it all than is taken in.
        """
        if isinstance(item, Refusal):
            self.refused.append(item)
            return
        owner = students.whose(item.parts, self.module, outer=self._reader.path.stem)
        if owner.student_id is None:
            why = f"{owner.why_not}; rename it to the student's id and collect it again."
            self.refused.append(Refusal(item.where, why))
            return
        own, limits = self._notebooks[owner.student_id], self._reader.limits
        if any(_same(item, other) for other in own):
            return
        # One student's flood of files costs that student, and not the class.
        if sum(len(other.content) for other in own) + len(item.content) > limits.student_bytes:
            self.refused.append(Refusal(item.where, _flood(owner.student_id, limits.student_bytes)))
            return
        self._taken += len(item.content)
        if self._taken > limits.all_bytes:
            raise CourseError(
                f"{self._reader.path} holds more than {limits.all_bytes // 1_000_000} MB of notebooks; "
                "collect it in smaller parts."
            )
        own.append(item)

    def choose(self, student: str, others: Collection[str]) -> tuple[FoundNotebook | None, str]:
        """Pick the notebook that is the module's exercise, and say how it was picked.

        Args:
            student: whose.
            others: every other module that a notebook could be of.
        """
        found = self._notebooks.get(student, [])
        exercises = [item for item in found if item.hands_in.any_of(self._asked) is not False]
        if not exercises:
            why = "no cell of it hands in an answer of this module, so it is not the exercise; "
            why += "a lesson, perhaps."
            self.refused.extend(Refusal(item.where, why) for item in found)
            return None, "what came was refused" if found else ""
        alone = len(exercises) == 1
        fitting = [item for item in exercises if _fits(item.parts[-1], self.module, student, others, alone)]
        if not fitting:
            why = (
                f"its name is not like '{self.module}'; if it is the exercise, give it that name and "
                "collect it again."
            )
            self.refused.extend(Refusal(item.where, why) for item in exercises)
            return None, "what came was refused"
        newest = max(
            fitting, key=lambda item: (item.modified, closeness(item.parts[-1], self.module, student))
        )
        if len(fitting) > 1:
            return newest, f"the newest of {len(fitting)} notebooks was taken: {newest.where}"
        name = newest.parts[-1]
        return newest, "" if is_usual_name(name, self.module, student) else f"it was named '{name}'"


def sort_all(cls: ClassFolder, modules: Sequence[str], reader: Source) -> list[Pile]:
    """Read a place once, for one module or several.

    Returns:
        A pile a module. A notebook lies in each of them: which module it is of is told by `Pile.choose`.

    Raises:
        CourseError: the place can't be read, or there is more than is taken in.
    """
    students = Students(cls.student_ids)
    piles = [Pile(module, reader) for module in modules]
    for item in reader.read():
        for pile in piles:
            pile.add(item, students)
    return piles


def _flood(student: str, most: int) -> str:
    return (
        f"more than {most // 1_000_000} MB of notebooks came for student {student}, and no more is taken; "
        "hand in the one that counts."
    )


def _same(one: FoundNotebook, other: FoundNotebook) -> bool:
    """Tell whether a notebook came twice: the same content, for the same attempt."""
    return one.content == other.content and attempt_said(one.parts[-1]) == attempt_said(other.parts[-1])


def _fits(name: str, module: str, student: str, others: Collection[str], alone: bool) -> bool:
    own = closeness(name, module, student)
    if own == 1.0:  # nothing is more alike, so the others need no look
        return True
    if own < CLOSE_ENOUGH and not alone:
        return False
    best_other = max((closeness(name, other, student) for other in others), default=0.0)
    return own >= best_other if own >= CLOSE_ENOUGH else best_other < CLOSE_ENOUGH
