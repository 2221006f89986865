"""Healing: copied, deleted, moved and changed cells, and that no answer is lost on the way.

nbgrader's own check of a notebook's marks and nbformat's schema tell from outside whether a result is sound.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import nbformat
import pytest
from brakecourse.classroom.engine.healing import Healed, TemplateCell, heal
from brakecourse.classroom.engine.reading import SubmittedCell
from hypothesis import given
from hypothesis import strategies as st
from nbgrader.nbgraderformat import MetadataValidator

KERNEL = {"name": "python3", "display_name": "Python 3", "language": "python"}


def template_cell(
    name: str, kind: Any, source: str, question: str, graded: bool = False, answer: bool = False
) -> TemplateCell:
    marks: dict[str, Any] = {
        "grade": graded,
        "solution": answer,
        "locked": not answer,
        "grade_id": name,
        "schema_version": 3,
        "task": False,
        "checksum": "0" * 32,
        "cell_type": kind,
    }
    if graded:
        marks["points"] = 3.0
    return TemplateCell(kind, source, name, name, {"nbgrader": marks}, graded, answer, question)


TEMPLATE = (
    template_cell("title", "markdown", "# Exercise", "8.1"),
    template_cell("open", "code", "open_work_order()", "8.1"),
    template_cell("q8_1_answer", "code", "thickness_mm = None", "8.1", answer=True),
    template_cell("q8_1", "code", 'hand_in("8.1", thickness_mm)', "8.1", graded=True),
    template_cell("q8_2_answer", "code", "smallest_mm = None", "8.2", answer=True),
    template_cell("q8_2", "code", 'hand_in("8.2", smallest_mm)', "8.2", graded=True),
    template_cell("q8_9", "markdown", "*Write here.*", "8.9", graded=True, answer=True),
)
BY_NAME = {cell.grade_id: cell for cell in TEMPLATE}
AS_HANDED_OUT = tuple(SubmittedCell(cell.kind, cell.source, cell.grade_id, cell.cell_id) for cell in TEMPLATE)


def healed(cells: Sequence[SubmittedCell]) -> Healed:
    result = heal(cells, TEMPLATE, KERNEL)
    nbformat.validate(result.notebook)
    MetadataValidator().validate_nb(result.notebook)
    return result


def changed(name: str, **more: Any) -> tuple[SubmittedCell, ...]:
    return tuple(replace(cell, **more) if cell.grade_id == name else cell for cell in AS_HANDED_OUT)


def sources(result: Healed) -> list[str]:
    return [cell.source for cell in result.notebook.cells]


def own(source: str, kind: Any = "code") -> SubmittedCell:
    return SubmittedCell(kind, source)


def after(
    name: str, *extra: SubmittedCell, cells: Sequence[SubmittedCell] = AS_HANDED_OUT
) -> list[SubmittedCell]:
    place = next(n for n, cell in enumerate(cells) if cell.grade_id == name) + 1
    return [*cells[:place], *extra, *cells[place:]]


def test_an_untouched_notebook_comes_back_as_it_was() -> None:
    result = healed(AS_HANDED_OUT)
    assert sources(result) == [cell.source for cell in TEMPLATE]
    assert result.notes == ()


def test_an_answer_is_kept_and_nothing_else_is() -> None:
    result = healed(changed("q8_2_answer", source="smallest_mm = 21.31"))
    assert sources(result)[4] == "smallest_mm = 21.31"
    assert result.notes == ()
    assert result.notebook.metadata == {"kernelspec": KERNEL}
    assert all(set(cell.metadata) <= {"nbgrader"} for cell in result.notebook.cells)


def test_of_copied_answers_the_last_filled_in_one_counts() -> None:
    cells = after(
        "q8_2",
        SubmittedCell("code", "smallest_mm = 2", "q8_2_answer"),
        SubmittedCell("code", "smallest_mm = None", "q8_2_answer"),
        cells=changed("q8_2_answer", source="smallest_mm = 1"),
    )
    result = healed(cells)
    names = [cell.metadata.get("nbgrader", {}).get("grade_id") for cell in result.notebook.cells]
    kept = names.index("q8_2_answer")
    assert result.notebook.cells[kept].source == "smallest_mm = 2"
    assert names.index("q8_2") == kept + 1
    # An empty copy would take the answer back, so it is gone; the earlier filled-in one runs before.
    assert sources(result).count("smallest_mm = None") == 0
    assert sources(result).index("smallest_mm = 1") < kept
    assert result.notes == (
        "The answer cell of question 8.2 was there more than once; the last one filled in counts.",
    )


def test_a_split_answer_cell_still_runs_in_both_halves() -> None:
    cells = after(
        "q8_2_answer",
        SubmittedCell("code", "smallest_mm = min(a)", "q8_2_answer"),
        cells=changed("q8_2_answer", source="a = [2, 3]"),
    )
    found = sources(healed(cells))
    assert found.index("a = [2, 3]") + 1 == found.index("smallest_mm = min(a)")


def test_a_copied_hand_in_cell_is_kept_once() -> None:
    result = healed(after("q8_1", AS_HANDED_OUT[3], AS_HANDED_OUT[3]))
    assert sources(result).count('hand_in("8.1", thickness_mm)') == 1
    assert result.notes == ("The hand-in cell of question 8.1 was there more than once; one was kept.",)


def test_deleted_cells_are_put_back_where_they_were() -> None:
    result = healed(
        [cell for cell in AS_HANDED_OUT if cell.grade_id not in ("open", "q8_1", "q8_9", "title")]
    )
    assert sources(result) == [cell.source for cell in TEMPLATE]
    assert result.notes == (
        "A locked code cell was missing; it was put back.",
        "The hand-in cell of question 8.1 was missing; it was put back.",
        "The answer cell of question 8.9 was missing.",
    )


def test_a_deleted_answer_cell_is_not_put_back_over_an_answer_given_elsewhere() -> None:
    cells = [cell for cell in after("q8_1", own("smallest_mm = 3")) if cell.grade_id != "q8_2_answer"]
    result = healed(cells)
    assert "smallest_mm = None" not in sources(result)
    assert sources(result).index("smallest_mm = 3") < sources(result).index('hand_in("8.2", smallest_mm)')
    assert result.notes == ("The answer cell of question 8.2 was missing.",)


def test_a_changed_hand_in_cell_is_put_back() -> None:
    result = healed(changed("q8_1", source='hand_in("8.1", [1, 2])'))
    assert sources(result)[3] == 'hand_in("8.1", thickness_mm)'
    assert result.notes[0].startswith("The hand-in cell of question 8.1 had been changed; it was put back")


def test_a_changed_locked_cell_is_put_back() -> None:
    result = healed(changed("open", source="pass"))
    assert sources(result)[1] == "open_work_order()"
    assert result.notes == ("A locked cell had been changed; it was put back as handed out.",)


@pytest.mark.parametrize("kind", ["markdown", "raw"])
def test_a_cell_of_another_kind_is_changed_back(kind: str) -> None:
    result = healed(changed("q8_2_answer", kind=kind, source="smallest_mm = 4"))
    assert (result.notebook.cells[4].cell_type, result.notebook.cells[4].source) == (
        "code",
        "smallest_mm = 4",
    )
    assert result.notes == (f"A cell of question 8.2 had become a {kind} cell; it was changed back.",)


def test_moved_cells_are_put_in_order() -> None:
    result = healed(tuple(reversed(AS_HANDED_OUT)))
    assert sources(result) == [cell.source for cell in TEMPLATE]
    assert result.notes == ("Cells had been moved; they were put back in the order they were handed out in.",)


def test_lost_marks_are_found_again_by_the_cells_own_name() -> None:
    filled = changed("q8_2_answer", source="smallest_mm = 5")
    result = healed([replace(cell, grade_id=None) for cell in filled])
    assert sources(result) == [cell.source for cell in filled]
    assert result.notes == ()


def test_marks_that_the_course_never_gave_do_not_count() -> None:
    result = healed(after("q8_2", SubmittedCell("code", "x = 1", "q8_77")))
    extra = next(cell for cell in result.notebook.cells if cell.source == "x = 1")
    assert extra.metadata == {}


def test_an_emptied_letter_is_as_good_as_none() -> None:
    result = healed(changed("q8_9", source="  \n"))
    assert result.notebook.cells[-1].source == "*Write here.*"


moves = st.lists(
    st.one_of(
        st.tuples(st.just("delete"), st.integers(0, 30)),
        st.tuples(st.just("copy"), st.integers(0, 30), st.integers(0, 30)),
        st.tuples(st.just("move"), st.integers(0, 30), st.integers(0, 30)),
        st.tuples(
            st.just("write"), st.integers(0, 30), st.sampled_from(["x = 1", "", "# own", "thickness_mm = 2"])
        ),
        st.tuples(st.just("kind"), st.integers(0, 30), st.sampled_from(["code", "markdown", "raw"])),
        st.tuples(st.just("own"), st.integers(0, 30)),
    ),
    max_size=12,
)


def played(actions: list[Any]) -> list[SubmittedCell]:
    cells = list(AS_HANDED_OUT)
    for action in actions:
        place = action[1] % (len(cells) or 1)
        if action[0] == "own":
            cells.insert(place, own(f"mine_{action[1]} = 1"))
        elif not cells:
            continue
        elif action[0] == "delete":
            del cells[place]
        elif action[0] == "copy":
            cells.insert(action[2] % len(cells), cells[place])
        elif action[0] == "move":
            cells.insert(action[2] % len(cells), cells.pop(place))
        elif action[0] == "write":
            cells[place] = replace(cells[place], source=action[2])
        else:
            cells[place] = replace(cells[place], kind=action[2])
    return cells


@pytest.mark.slow
@given(moves)
def test_whatever_was_done_every_locked_cell_is_there_once_and_no_own_line_is_lost(
    actions: list[Any],
) -> None:
    cells = played(actions)
    result = healed(cells)
    names = [cell.metadata["nbgrader"]["grade_id"] for cell in result.notebook.cells if cell.metadata]
    must = [cell.grade_id for cell in TEMPLATE if cell.fixed or cell.graded]
    assert [name for name in names if name in must] == must
    assert len(set(names)) == len(names)
    for cell in result.notebook.cells:
        known = BY_NAME.get(cell.metadata.get("nbgrader", {}).get("grade_id", ""))
        if known is not None and known.fixed:
            assert (cell.cell_type, cell.source) == (known.kind, known.source)
    for cell in cells:
        known = BY_NAME.get(cell.grade_id or "")
        if known is None or (known.answer and known.filled_in(cell.source)):
            assert cell.source in sources(result)
