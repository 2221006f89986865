"""What the pages of the coordinator's desk share: the classes that were chosen, and what was read of them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from brakecourse.classroom.folder import ClassFolder, Progress, open_class
from brakecourse.desks.state import ClassState
from brakecourse.errors import CourseError

if TYPE_CHECKING:
    from brakecourse.exports.facts import Facts


class CoordinatorState(ClassState):
    """The chosen classes, by folder. Their results are read module by module, beside the page.

    Args:
        base: the folder of the notebook; class folders lie in its folder ``classes``.
    """

    def __init__(self, base: Path) -> None:
        super().__init__(base)
        self._chosen: dict[Path, Facts] = {}
        self._read: set[Path] = set()

    @property
    def words(self) -> str:
        """Which classes are chosen, in a line; empty for none."""
        names = ", ".join(label(one.cls) for one in self._chosen.values())
        return f"Chosen: {names}." if names else ""

    @property
    def chosen(self) -> tuple[Facts, ...]:
        """What is known of each chosen class."""
        return tuple(self._chosen.values())

    def is_read(self, folder: Path) -> bool:
        """Whether a class's results were read."""
        return folder in self._read

    def choose(self, folders: Sequence[Path]) -> None:
        """Choose classes. Their settings and class lists are read anew, their results when they are needed.

        Raises:
            CourseError: one is no class folder; then the choice stays as it was.
        """
        from brakecourse.exports.facts import Facts

        found = {folder: Facts(open_class(folder)) for folder in folders}
        self._chosen, self._read = found, set()
        self.changes += 1

    def again(self, folder: Path | None = None) -> None:
        """Read the chosen classes anew, or one of them: something in it changed."""
        from brakecourse.exports.facts import Facts

        for one in [folder] if folder is not None else list(self._chosen):
            self._chosen[one] = Facts(open_class(one))
            self._read.discard(one)
        self.changes += 1

    def facts(self, folder: Path | None) -> Facts:
        """Return what is known of one chosen class.

        Raises:
            CourseError: it is not chosen.
        """
        if folder is None or folder not in self._chosen:
            raise CourseError("A class was expected, but none is chosen; choose one on the page ‘Classes’.")
        return self._chosen[folder]

    def read(self, progress: Progress) -> None:
        """Read the results of all chosen classes.

        Raises:
            CourseError: a gradebook can't be read.
        """
        from brakecourse.classroom.records import module_records
        from brakecourse.exports.facts import Facts

        todo = [one for one in self._chosen if one not in self._read]
        total = sum(len(self._chosen[one].cls.assigned) for one in todo)
        done = 0
        for folder in todo:
            cls, records = self._chosen[folder].cls, []
            for module in cls.assigned:
                records.append(module_records(cls, module))
                done += 1
                progress(done, total, f"{label(cls)}, {module}")
            self._chosen[folder] = Facts(cls, records)
            self._read.add(folder)
        self.changes += 1


def label(cls: ClassFolder) -> str:
    """Return a class's name with its term."""
    return f"{cls.settings.name} ({cls.settings.term})" if cls.settings.term else cls.settings.name


def offers(state: CoordinatorState) -> list[tuple[str, Path]]:
    """Return the chosen classes to choose one of: the words and the folder. Two of one name stay apart."""
    names = [label(one.cls) for one in state.chosen]
    return [
        (name if names.count(name) == 1 else f"{name}, in {one.cls.root.name}", one.cls.root)
        for name, one in zip(names, state.chosen, strict=True)
    ]
