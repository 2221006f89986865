"""What the pages of the instructor's desk share: the class that is open, and what was read of it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from brakecourse.classroom.folder import ClassFolder, open_class
from brakecourse.desks.plain import count_of
from brakecourse.errors import CourseError

if TYPE_CHECKING:
    from brakecourse.classroom.engine.farm import Farm
    from brakecourse.classroom.results import StudentResult

CLASSES = "classes"


class ClassState:
    """The class that is open. A module's results are read when a page asks for them, and then kept.

    Args:
        base: the folder of the notebook; class folders lie in its folder ``classes``.
    """

    def __init__(self, base: Path) -> None:
        self.base = base.absolute()
        self._cls: ClassFolder | None = None
        self._results: dict[str, list[StudentResult]] = {}
        self.farm: Farm | None = None
        """Where notebooks run; None for this computer."""
        self.changes = 0
        """Goes up with every change, so that a page knows whether what it shows is old."""

    @property
    def words(self) -> str:
        """Which class is open, in a line; empty for none."""
        if self._cls is None:
            return ""
        kept = self._cls.settings
        term = f", {kept.term}" if kept.term else ""
        return f"{kept.name}{term}: {count_of(len(self._cls.roster), 'student')}, in {self._cls.root}"

    @property
    def cls(self) -> ClassFolder:
        """The class.

        Raises:
            CourseError: none is open.
        """
        if self._cls is None:
            raise CourseError("No class is open yet; open or make one on the page ‘Class’.")
        return self._cls

    def open(self, folder: Path) -> ClassFolder:
        """Open a class folder.

        Raises:
            CourseError: it is none.
        """
        self._cls = open_class(folder)
        self.forget()
        return self._cls

    def read_again(self) -> ClassFolder:
        """Read the class folder again, after something in it changed."""
        return self.open(self.cls.root)

    def forget(self, *modules: str) -> None:
        """Forget what was read of some modules, or of all: it changed."""
        self.changes += 1
        for module in modules or tuple(self._results):
            self._results.pop(module, None)

    def results(self, module: str) -> list[StudentResult]:
        """Return everyone's results in a module.

        Raises:
            CourseError: the gradebook can't be read.
        """
        if module not in self._results:
            from brakecourse.classroom.results import student_results

            self._results[module] = student_results(self.cls, module)
        return self._results[module]

    def class_folders(self) -> list[Path]:
        """Return the class folders beside the notebook."""
        return sorted(path.parent for path in (self.base / CLASSES).glob("*/class.toml"))

    def found(self, *endings: str, folders: bool = False) -> list[Path]:
        """Return files beside the notebook that have one of some endings, and folders if wished.

        Looked at are the notebook's folder and the folders in it, one level deep; never a class folder.
        """
        places = [self.base, *(one for one in sorted(self.base.iterdir()) if _may_hold(one))]
        files = [
            path
            for place in places
            for path in sorted(place.iterdir())
            if path.is_file() and path.suffix.lower() in endings
        ]
        return [*files, *(places[1:] if folders else [])]


def _may_hold(path: Path) -> bool:
    return path.is_dir() and path.name != CLASSES and not path.name.startswith((".", "_"))
