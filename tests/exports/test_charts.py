"""The charts: drawn at every size of class, readable, the same figures as their tables, and written whole."""

from __future__ import annotations

import csv
import io
import time
from collections.abc import Callable, Generator
from concurrent.futures.process import BrokenProcessPool
from datetime import UTC, datetime, timedelta
from functools import cache, partial
from itertools import cycle, pairwise
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from brakecourse import marking
from brakecourse.classroom.records import GradeRecord, ModuleRecords, QuestionRecord
from brakecourse.errors import CourseError
from brakecourse.exports import charts, drawing, heat_map, look
from brakecourse.exports.again import ModuleAgain, again
from brakecourse.exports.item_analysis import ModuleItems
from brakecourse.exports.mastery import Mastery, class_mastery, everyones_mastery, rules
from brakecourse.exports.pictures import Picture, class_pictures, module_pictures, write_pictures
from brakecourse.exports.sheets import Table
from brakecourse.views import palette
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.text import Text
from numpy.typing import NDArray
from PIL import Image

MODULE = "08_rotor_measurement"
DUE = datetime(2026, 3, 6, 18, tzinfo=UTC)
SIZES = (0, 1, 3, 24, 200)
NAMES = cycle(("half_of_total", "mean_for_minimum", "ten_times", "wrong_sign"))


@cache
def records(module: str, students: int) -> ModuleRecords:
    """Everyone's results, made up without chance: every seventh student missing, marks that spread."""
    grades, answers = [], []
    asked = marking.questions(module)
    for number in range(students):
        name, came = f"s{number + 1:03}", number % 7 != 6
        when = DUE - timedelta(hours=(number * 37) % 168) if came else None
        status: Any = "graded" if came else "not handed in"
        grades.append(
            GradeRecord(name, "A", "Q", module, status, "", None, None, (), None, 40, 0, 0, 1.0, (), when)
        )
        for place, one in enumerate(asked if came else ()):
            good = (number * 13 + place * 7) % 11 < 4 + (number % 5)
            points = one.points if good else one.points / 4 * (number % 2)
            told = "right" if good else "no answer" if number % 3 == 0 else "wrong"
            mistake = next(NAMES) if told == "wrong" else None
            answers.append(QuestionRecord(name, one.id, points, one.points, told, mistake))
    return ModuleRecords(module, tuple(grades), tuple(answers))


@cache
def found(students: int) -> ModuleAgain:
    return again(records(MODULE, students), UTC, DUE)


@cache
def everyone(students: int) -> list[Mastery]:
    known = [records(module, students) for module in marking.MODULES]
    cls: Any = SimpleNamespace(
        settings=SimpleNamespace(attempts_count="best"),
        student_ids=tuple(f"s{number + 1:03}" for number in range(students)),
    )
    return everyones_mastery(cls, known)


def texts(figure: Figure) -> list[Text]:
    """Return the words that are drawn: the label of a tick beyond the axis's end is not."""
    beyond = {
        label
        for axes in figure.axes
        for axis in (axes.xaxis, axes.yaxis)
        for place, label in zip(axis.get_ticklocs(), axis.get_ticklabels(), strict=True)
        if not (axes.axison and min(axis.get_view_interval()) <= place <= max(axis.get_view_interval()))
    }
    seen = (one for one in figure.findobj(Text) if one.get_visible() and one.get_text().strip())
    return [one for one in seen if one not in beyond]


def words(figure: Figure) -> str:
    return " ".join(one.get_text().replace("\n", " ") for one in texts(figure))


def all_pictures(students: int) -> tuple[Picture, ...]:
    return (*module_pictures(found(students)), *class_pictures(everyone(students), rules()))


@pytest.fixture(scope="module", params=SIZES)
def drawn(request: pytest.FixtureRequest) -> list[tuple[Picture, Figure, bytes]]:
    """All pictures of a class, drawn; of a big class without its pages, which are as one of 25 students."""
    pictures = all_pictures(request.param)
    figures = [(one, one.draw()) for one in (pictures if len(pictures) == 6 else pictures[:5])]
    return [(one, figure, look.png(figure, one.alt)) for one, figure in figures]


def test_every_picture_is_a_picture_with_its_text_inside(drawn: list[tuple[Picture, Figure, bytes]]) -> None:
    for picture, _, content in drawn:
        image = Image.open(io.BytesIO(content))
        assert image.format == "PNG" and image.width == look.WIDE_IN * look.DPI
        assert image.info["Description"] == picture.alt
        assert picture.title in picture.alt and picture.sentence in picture.alt
        assert len(set(image.convert("L").tobytes())) > 10  # something was drawn


def test_nothing_is_cut_off_and_words_can_be_read_on_a_projector(
    drawn: list[tuple[Picture, Figure, bytes]],
) -> None:
    """Body and labels have at least 12 points, the cells of the competencies 10, on 13 inches of width."""
    for picture, figure, _ in drawn:
        width, height = figure.get_size_inches() * figure.dpi
        for text in texts(figure):
            size = 10 if picture.name.startswith("competencies-students") else look.SMALL_PT
            assert text.get_fontsize() >= size, (picture.name, text.get_text())
            box = text.get_window_extent()
            inside = box.x0 >= -1 and box.y0 >= -1 and box.x1 <= width + 1 and box.y1 <= height + 1
            assert inside, (picture.name, text.get_text(), box)


def test_labels_of_one_axis_do_not_run_into_each_other(drawn: list[tuple[Picture, Figure, bytes]]) -> None:
    for picture, figure, _ in drawn:
        for axes in figure.axes:
            boxes = [one.get_window_extent() for one in axes.get_yticklabels() if one.get_text()]
            for one, other in pairwise(boxes):
                assert not one.overlaps(other), picture.name


def test_the_sentence_stands_in_the_picture(drawn: list[tuple[Picture, Figure, bytes]]) -> None:
    for picture, figure, _ in drawn:
        assert picture.sentence.rstrip(".") in words(figure), picture.name


def test_colours_are_the_courses_and_never_speak_alone() -> None:
    known = {
        value.lower() for name, value in vars(palette).items() if name.isupper() and isinstance(value, str)
    }
    for figure in (charts.difficulty(found(24).items), heat_map.class_bars(_totals(24))):
        faces = {to_hex(patch.get_facecolor()) for axes in figure.axes for patch in axes.patches}
        assert faces and faces <= known
    bars = charts.mistakes(MODULE, found(24).findings).axes[0].patches
    safety = [one.safety_critical for one in found(24).findings if one.kind == "named mistake"]
    assert [bool(bar.get_hatch()) for bar in bars] == safety  # hatch and colour say the same
    looks = heat_map._LOOKS.values()
    assert len({mark for mark, _, _ in looks}) == len({colour for _, colour, _ in looks}) == 3


def _totals(students: int) -> list[Any]:
    own = everyone(students)
    return [class_mastery(rule, own) for rule in rules()]


def _items(students: int) -> ModuleItems:
    return found(students).items


def test_difficulty_draws_the_figures_of_its_table() -> None:
    picture = module_pictures(found(24))[1]
    keys = [heading.key for heading in picture.table.headings]
    rows = [dict(zip(keys, row, strict=True)) for row in picture.table.rows]
    figure = picture.draw()
    bars = [bar.get_width() for bar in figure.axes[0].patches]
    expected = sorted(float(str(row["percent"])) for row in rows)
    assert [round(width, 1) for width in bars] == expected
    for row in rows:
        assert f"{row['full']} of {row['marked']}" in words(figure)


def test_discrimination_says_why_where_there_is_none() -> None:
    assert "at least 20 students" in words(charts.discrimination(_items(3)))
    nobody = words(charts.discrimination(_items(0)))
    assert "nothing was marked" in nobody or "nobody" in nobody
    big = words(charts.discrimination(_items(200)))
    assert "tells apart" in big and "Cronbach's alpha" in big


def test_completion_ends_at_what_was_handed_in() -> None:
    own = found(24)
    figure = charts.completion(own.completion)
    came, done = (line.get_ydata() for line in figure.axes[0].lines[:2])
    assert (came[-1], done[-1]) == (own.completion.handed_in, own.completion.graded) == (21, 21)
    assert "24 expected" in words(figure)


@pytest.mark.parametrize(("students", "pages"), [(0, 1), (1, 1), (25, 1), (26, 2), (200, 8)])
def test_a_big_class_has_pages_and_each_student_is_on_one(students: int, pages: int) -> None:
    own = everyone(students)
    assert heat_map.pages(own) == pages
    tables = [one.table for one in class_pictures(own, rules())[1:]]
    assert [row[0] for table in tables for row in table.rows] == [one.student_id for one in own]
    for page in (0, pages + 1):
        with pytest.raises(ValueError, match="page from 1 to"):
            heat_map.heat_map(own, page)


def test_the_heat_map_writes_each_state_and_percent_in_its_cell() -> None:
    own = everyone(3)
    figure = heat_map.heat_map(own)
    cells = {
        (int(x), int(y)): line.get_label()
        for line in cell_words(figure)
        for x, y in zip(*line.get_data(), strict=True)
    }
    names = [rule.competency for rule in rules()]
    marks = {"mastered": "✓", "not yet": "✗", "too little to tell": "–"}
    assert len(cells) == len(own)
    for one in own:
        place = names.index(one.competency), int(one.student_id[1:]) - 1
        percent = "" if one.percent is None else f" {one.percent:.0f}"
        assert cells[place] == marks[one.state] + percent


def cell_words(figure: Figure) -> list[Any]:
    """Return the words in cells: each a marker, at all the places where it stands."""
    return [line for line in figure.axes[0].lines if not str(line.get_label()).startswith("_")]


def ink(put: Callable[[Axes], object]) -> tuple[NDArray[Any], NDArray[Any]]:
    """Return the rows and the columns of a small picture that have ink, after something was put into it."""
    figure = Figure(figsize=(1, 1), dpi=look.DPI)
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1), xlim=(0, 1), ylim=(0, 1))
    axes.set_axis_off()
    put(axes)
    canvas.draw()
    dark = np.asarray(canvas.buffer_rgba())[:, :, 0] < 160
    return np.flatnonzero(dark.any(axis=1)), np.flatnonzero(dark.any(axis=0))


@pytest.mark.parametrize("told", ["✓ 100", "✗ 7", "– 48", "–"])
def test_the_words_in_a_cell_look_like_a_text_of_ten_points(told: str) -> None:
    """Source of the size and the place: matplotlib's own text of 10 points in the middle."""
    word, ground = heat_map._word(told)
    ours = ink(lambda axes: heat_map._stamp(axes, word, [(0.5, 0.5)], look.INK, told))
    theirs = ink(lambda axes: axes.text(0.5, 0.5, told, ha="center", va="center", fontsize=10))
    for own, other in zip(ours, theirs, strict=True):
        assert abs(own[0] - other[0]) <= 2 and abs(own[-1] - other[-1]) <= 2
    # The quiet ground is larger than the words.
    assert ground.get_extents().width > word.get_extents().width
    assert ground.get_extents().height > word.get_extents().height


def test_the_words_of_a_cell_fit_into_it(drawn: list[tuple[Picture, Figure, bytes]]) -> None:
    for picture, figure, _ in drawn:
        if picture.name.startswith("competencies-students") and cell_words(figure):
            cell_px = figure.axes[0].get_window_extent().width / len(rules())
            for line in cell_words(figure):
                width_pt = line.get_marker().get_extents().width
                assert width_pt * look.DPI / 72 <= cell_px, line.get_label()


def no_picture(number: int) -> Picture:
    return Picture(f"p{number}", f"P {number}", "", Table("", (), ()), partial(look.only_words, "P", "-"))


def test_what_was_drawn_before_a_stop_is_not_drawn_again(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    monkeypatch.setattr(Picture, "png", lambda one: (asked.append(one.name), one.name.encode())[1])
    pictures, kept = [no_picture(number) for number in range(5)], dict[str, bytes]()

    def stop(done: int, _total: int, _item: str) -> None:
        if done == 2:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        list(drawing.draw(pictures, kept, stop))
    assert asked == list(kept) == ["p0", "p1"]
    assert [content for _, content in drawing.draw(pictures, kept)] == [b"p0", b"p1", b"p2", b"p3", b"p4"]
    assert asked == ["p0", "p1", "p2", "p3", "p4"]


def test_two_processes_draw_the_same_bytes_as_one(monkeypatch: pytest.MonkeyPatch) -> None:
    pictures = module_pictures(found(3))[:3]
    here = [one.png() for one in pictures]
    monkeypatch.setattr(drawing, "FEW", 1)
    monkeypatch.setattr(Picture, "png", lambda _: pytest.fail("drawn in this process"))
    assert [content for _, content in drawing.draw(pictures, {})] == here


def test_where_no_process_can_start_the_rest_is_drawn_here(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: object) -> Generator[bytes, None, None]:
        yield b"from elsewhere"
        raise BrokenProcessPool

    monkeypatch.setattr(drawing, "FEW", 1)
    monkeypatch.setattr(drawing, "_side_by_side", broken)
    monkeypatch.setattr(Picture, "png", lambda one: one.name.encode())
    contents = [content for _, content in drawing.draw([no_picture(1), no_picture(2), no_picture(3)], {})]
    assert contents == [b"from elsewhere", b"p2", b"p3"]


def test_pictures_and_tables_are_written_side_by_side(tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    pictures = module_pictures(found(3))
    files = write_pictures(pictures, tmp_path / "new", lambda done, of, _: told.append((done, of)))
    assert sorted(path.name for path in files) == sorted(path.name for path in (tmp_path / "new").iterdir())
    assert len(files) == 8 and told[-1] == (4, 4)
    with (tmp_path / "new" / f"{MODULE}-difficulty.csv").open(encoding="utf-8", newline="") as handle:
        assert [row["question"] for row in csv.DictReader(handle)] == [
            one.id for one in marking.questions(MODULE)
        ]
    (tmp_path / "file").write_text("x", encoding="utf-8")
    with pytest.raises(CourseError, match="Could not write"):
        write_pictures(pictures, tmp_path / "file")


def test_two_hundred_students_in_all_modules_are_worked_out_in_time() -> None:
    """The limit is 2 s on two free cores; it is held in seconds of work, so a busy machine changes little."""
    known = [records(module, 200) for module in marking.MODULES]
    cls: Any = SimpleNamespace(
        settings=SimpleNamespace(attempts_count="best", zone=UTC),
        student_ids=tuple(f"s{number + 1:03}" for number in range(200)),
    )
    started = time.process_time()
    everything = [again(one, UTC, DUE) for one in known]
    own = everyones_mastery(cls, known)
    assert time.process_time() - started < 2.0
    assert len(everything) == len(marking.MODULES) and len(own) == 200 * len(rules())
