"""Put a submitted notebook back in order before it is run, and say in words what was done.

The result has exactly the cells that were handed out, in their order, with the student's answers in them;
every other cell the student made stays where it was, between them. Whatever is locked comes from the class's
own copy, and no cell keeps a tag or any other setting of the student's: a tag can make a cell be skipped.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import count
from typing import Any

from nbformat import NotebookNode

from brakecourse.classroom.engine.nodes import (
    new_code_cell,
    new_markdown_cell,
    new_notebook,
    new_raw_cell,
)
from brakecourse.classroom.engine.reading import CellKind, SubmittedCell

_MAKE = {"code": new_code_cell, "markdown": new_markdown_cell, "raw": new_raw_cell}


@dataclass(frozen=True)
class TemplateCell:
    """One cell of the notebook as it was handed out, known to nbgrader by its grade id."""

    kind: CellKind
    source: str
    grade_id: str
    cell_id: str
    metadata: Mapping[str, Any]
    graded: bool
    answer: bool
    question: str = ""

    @property
    def fixed(self) -> bool:
        """Whether the cell is the course's and never the student's to change."""
        return not self.answer

    def filled_in(self, source: str) -> bool:
        """Tell whether a source is more than the empty answer that was handed out."""
        return bool(source.strip()) and source.strip() != self.source.strip()


@dataclass(frozen=True)
class Healed:
    """A notebook that is fit to run, and what was put right."""

    notebook: NotebookNode
    notes: tuple[str, ...]


def heal(
    cells: Sequence[SubmittedCell], template: Sequence[TemplateCell], kernelspec: Mapping[str, str]
) -> Healed:
    """Put a submission's cells back in order.

    Args:
        cells: the submitted cells.
        template: the cells that were handed out and that nbgrader knows, in order.
        kernelspec: the kernel that the notebook was handed out with.
    """
    found = _matches(cells, template)
    chosen = {cell.grade_id: _choose(cell, found[cell.grade_id], cells) for cell in template}
    used = {position for position in chosen.values() if position is not None}
    dropped = _dropped_copies(template, found, used, cells)
    extras = _extras_by_anchor(cells, used, dropped, chosen)
    notes = [*_notes(template, found, chosen, cells), *_order_note(template, found)]
    built = _build(cells, template, chosen, extras)
    return Healed(
        new_notebook(cells=list(built), metadata={"kernelspec": dict(kernelspec)}),
        tuple(dict.fromkeys(notes)),
    )


def _matches(cells: Sequence[SubmittedCell], template: Sequence[TemplateCell]) -> dict[str, list[int]]:
    """Find where every known cell stands: by its grade id, or by its cell id where that was lost."""
    by_cell_id = {cell.cell_id: cell.grade_id for cell in template}
    known = {cell.grade_id for cell in template}
    found: dict[str, list[int]] = defaultdict(list)
    for position, cell in enumerate(cells):
        grade_id = cell.grade_id or by_cell_id.get(cell.cell_id or "")
        if grade_id in known:
            found[grade_id].append(position)
    return found


def _choose(cell: TemplateCell, positions: list[int], cells: Sequence[SubmittedCell]) -> int | None:
    """Pick the copy that counts: the last one that is filled in, else the first."""
    if not positions:
        return None
    filled = [position for position in positions if cell.answer and cell.filled_in(cells[position].source)]
    return filled[-1] if filled else positions[0]


def _dropped_copies(
    template: Sequence[TemplateCell],
    found: Mapping[str, list[int]],
    used: set[int],
    cells: Sequence[SubmittedCell],
) -> set[int]:
    """Find the copies that hold nothing of the student's. Run again they could empty a filled-in answer."""
    return {
        position
        for cell in template
        for position in found.get(cell.grade_id, ())
        if position not in used and (cell.fixed or not cell.filled_in(cells[position].source))
    }


def _extras_by_anchor(
    cells: Sequence[SubmittedCell], used: set[int], dropped: set[int], chosen: Mapping[str, int | None]
) -> dict[str, list[SubmittedCell]]:
    """Sort the student's own cells by the known cell that they stand after ('' for the notebook's top)."""
    name_at = {position: grade_id for grade_id, position in chosen.items() if position is not None}
    extras: dict[str, list[SubmittedCell]] = defaultdict(list)
    anchor = ""
    for position, cell in enumerate(cells):
        if position in used:
            anchor = name_at[position]
        elif position not in dropped:
            extras[anchor].append(cell)
    return extras


def _build(
    cells: Sequence[SubmittedCell],
    template: Sequence[TemplateCell],
    chosen: Mapping[str, int | None],
    extras: Mapping[str, list[SubmittedCell]],
) -> Iterator[NotebookNode]:
    number = count(1)
    yield from _own_cells(extras.get("", ()), number)
    for cell in template:
        position = chosen[cell.grade_id]
        # An answer that was only emptied is as good as the one handed out, and nbgrader knows that one.
        own = position is not None and cell.answer and cell.filled_in(cells[position].source)
        source = cells[position].source if own and position is not None else cell.source
        # An answer cell that was deleted is not put back: it would empty an answer given in another cell.
        if not (cell.answer and position is None and not cell.graded):
            yield _MAKE[cell.kind](source, id=cell.cell_id, metadata=_deep(cell.metadata))
        yield from _own_cells(extras.get(cell.grade_id, ()), number)


def _own_cells(cells: Iterable[SubmittedCell], number: Iterator[int]) -> Iterator[NotebookNode]:
    for cell in cells:
        yield _MAKE[cell.kind](cell.source, id=f"own-{next(number)}")


def _deep(value: Any) -> Any:
    return {key: _deep(item) for key, item in value.items()} if isinstance(value, Mapping) else value


def _notes(
    template: Sequence[TemplateCell],
    found: Mapping[str, list[int]],
    chosen: Mapping[str, int | None],
    cells: Sequence[SubmittedCell],
) -> Iterator[str]:
    for cell in template:
        position = chosen[cell.grade_id]
        if position is None:
            yield from _missing_note(cell)
            continue
        if len(found[cell.grade_id]) > 1 and (cell.answer or cell.kind == "code"):
            yield _copied_note(cell)
        if cell.fixed and cell.kind == "code" and cells[position].source.strip() != cell.source.strip():
            yield _changed_note(cell)
        if cell.kind != cells[position].kind:
            kind = cells[position].kind
            yield f"A cell of {_question(cell)} had become a {kind} cell; it was changed back."


def _missing_note(cell: TemplateCell) -> Iterator[str]:
    if cell.answer:
        yield f"The answer cell of {_question(cell)} was missing."
    elif cell.graded and cell.kind == "code":
        yield f"The hand-in cell of {_question(cell)} was missing; it was put back."
    elif cell.kind == "code":
        yield "A locked code cell was missing; it was put back."


def _copied_note(cell: TemplateCell) -> str:
    if cell.answer:
        return (
            f"The answer cell of {_question(cell)} was there more than once; the last one filled in counts."
        )
    if cell.graded:
        return f"The hand-in cell of {_question(cell)} was there more than once; one was kept."
    return "A locked cell was there more than once; one was kept."


def _changed_note(cell: TemplateCell) -> str:
    if cell.graded:
        return (
            f"The hand-in cell of {_question(cell)} had been changed; it was put back as handed out. "
            "Answers belong in the answer cell above it."
        )
    return "A locked cell had been changed; it was put back as handed out."


def _order_note(template: Sequence[TemplateCell], found: Mapping[str, list[int]]) -> Iterator[str]:
    # A copy may lie anywhere; that is said already.
    positions = [found[cell.grade_id][0] for cell in template if len(found.get(cell.grade_id, ())) == 1]
    if positions != sorted(positions):
        yield "Cells had been moved; they were put back in the order they were handed out in."


def _question(cell: TemplateCell) -> str:
    return f"question {cell.question}" if cell.question else "the notebook"
