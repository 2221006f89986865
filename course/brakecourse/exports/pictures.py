"""Every picture of what to teach again, with its words and its table, to show or to write into a folder."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.folder import Progress
from brakecourse.exports import again_sheets, chart_words, charts, heat_map, look, sheets
from brakecourse.exports.again import ModuleAgain
from brakecourse.exports.drawing import draw
from brakecourse.exports.mastery import Mastery, Rule, class_mastery
from brakecourse.exports.sheets import Table, write_csv

if TYPE_CHECKING:
    from matplotlib.figure import Figure


@dataclass(frozen=True)
class Picture:
    """One picture. It is drawn when it is asked for.

    Attributes:
        name: of its files, without an ending.
        title: what it is about.
        sentence: what it shows: its text for who can't see it.
        table: its figures.
        draw: draws it.
    """

    name: str
    title: str
    sentence: str
    table: Table
    draw: Callable[[], Figure]

    @property
    def alt(self) -> str:
        """The text that stands for the picture."""
        return f"{self.title}. {self.sentence} The table '{self.table.title}' has the figures."

    def png(self) -> bytes:
        """Return the picture as a PNG file's bytes; its text is in it."""
        return look.png(self.draw(), self.alt)


def module_pictures(found: ModuleAgain) -> tuple[Picture, ...]:
    """Return the pictures of one module."""
    module = found.module
    return (
        Picture(
            f"{module}-what-to-teach-again",
            f"{module}: named mistakes",
            chart_words.mistakes(found.findings),
            again_sheets.what_went_wrong(found),
            partial(charts.mistakes, module, found.findings),
        ),
        Picture(
            f"{module}-difficulty",
            f"{module}: how hard each question was",
            chart_words.difficulty(found.items),
            again_sheets.difficulty(found.items),
            partial(charts.difficulty, found.items),
        ),
        Picture(
            f"{module}-discrimination",
            f"{module}: which questions tell strong from weak students",
            chart_words.discrimination(found.items),
            again_sheets.discrimination(found.items),
            partial(charts.discrimination, found.items),
        ),
        Picture(
            f"{module}-handed-in",
            f"{module}: handed in and graded",
            chart_words.completion(found.completion),
            again_sheets.completion(found.completion),
            partial(charts.completion, found.completion),
        ),
    )


def class_pictures(everyone: Sequence[Mastery], rules: Sequence[Rule]) -> tuple[Picture, ...]:
    """Return the pictures of the competencies: the whole class, then page by page of students."""
    totals = [class_mastery(rule, everyone) for rule in rules]
    bars = Picture(
        "competencies-class",
        "Competencies: the whole class",
        heat_map.class_sentence(totals),
        sheets.class_competencies(totals, rules),
        partial(heat_map.class_bars, totals),
    )
    count = heat_map.pages(everyone)
    table = sheets.student_competencies(everyone, rules)
    heat_maps = (
        Picture(
            "competencies-students" if count == 1 else f"competencies-students-{page}",
            "Competencies" if count == 1 else f"Competencies, page {page} of {count}",
            heat_map.sentence(everyone),
            heat_map.on_page(table, everyone, page),
            partial(heat_map.heat_map, everyone, page),
        )
        for page in range(1, count + 1)
    )
    return (bars, *heat_maps)


def write_pictures(pictures: Sequence[Picture], folder: Path, progress: Progress | None = None) -> list[Path]:
    """Write each picture as a PNG file and its table as a CSV file of the same name.

    Args:
        pictures: which.
        folder: where; it is made if need be.
        progress: told how far the work is.

    Raises:
        CourseError: a file can't be written.
    """
    written = []
    for picture, content in draw(pictures, {}, progress):
        path = folder / f"{picture.name}.png"
        with reporting_disk_trouble(f"write {path}"):
            write_bytes_whole(path, content)
        written += [path, write_csv(picture.table, path.with_suffix(".csv"))]
    return written
