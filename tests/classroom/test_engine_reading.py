"""Reading a submission: whatever the bytes are, cells come out or one sentence says why not."""

from __future__ import annotations

import json
from typing import Any

import nbformat
import pytest
from brakecourse.classroom.engine.reading import (
    BIGGEST_FILE_BYTES,
    MOST_CELLS,
    Unreadable,
    read_submission,
)
from hypothesis import given
from hypothesis import strategies as st


def notebook(*cells: Any, **more: Any) -> bytes:
    return json.dumps(
        {"cells": list(cells), "metadata": {}, "nbformat": 4, "nbformat_minor": 5, **more}
    ).encode()


def code(source: Any, **more: Any) -> dict[str, Any]:
    return {"cell_type": "code", "source": source, "metadata": {}, "outputs": [], **more}


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "is empty"),
        (b" \n\t", "is empty"),
        (b"\x00\x01PK", "can't be read as a notebook"),
        (b"\xff\xfe\xfa", "can't be read as a notebook"),
        (b'{"cells": [', "can't be read as a notebook"),
        (b"[" * 100_000, "can't be read as a notebook"),
        (b"[1, 2]", "not a notebook"),
        (b"{}", "without any cells"),
        (notebook(), "without any cells"),
        (b'{"cells": "none", "nbformat": 4}', "without any cells"),
        (notebook(code("a"), nbformat=7), "format 7"),
        (notebook(code("a"), nbformat="four"), "format four"),
        (b'{"nbformat": 3, "worksheets": 5}', "format 3"),
        (notebook(*[code("a")] * (MOST_CELLS + 1)), f"at most {MOST_CELLS}"),
    ],
)
def test_what_is_no_notebook_is_refused_in_one_sentence(content: bytes, words: str) -> None:
    with pytest.raises(Unreadable) as refused:
        read_submission(content)
    assert words in str(refused.value)
    assert str(refused.value).endswith(".") and "Traceback" not in str(refused.value)


def test_a_huge_file_is_refused() -> None:
    with pytest.raises(Unreadable, match="bigger than 20 MB"):
        read_submission(notebook(code("a" * (BIGGEST_FILE_BYTES + 1))))


def test_only_kind_text_and_names_are_taken_over() -> None:
    cell = code(
        ["a = 1\n", "b"],
        id="own",
        outputs=[{"output_type": "stream", "name": "stdout", "text": "9"}],
        metadata={"nbgrader": {"grade_id": "q8_2", "points": 99}, "tags": ["skip-execution"]},
    )
    (read,) = read_submission(notebook(cell)).cells
    assert vars(read) == {"kind": "code", "source": "a = 1\nb", "grade_id": "q8_2", "cell_id": "own"}


def test_damaged_cells_are_left_out_and_said() -> None:
    damaged = [7, {"cell_type": "heading", "source": "x"}, code(None), code([1, 2]), {"source": "x"}]
    read = read_submission(notebook(code("a"), *damaged))
    assert [cell.source for cell in read.cells] == ["a"]
    assert read.notes == ("5 damaged cells were left out.",)


def test_half_characters_and_zero_bytes_become_harmless() -> None:
    content = notebook(code("x")).replace(b'"x"', rb'"a\ud800b\u0000c"')
    (cell,) = read_submission(content).cells
    assert cell.source == "a?bc"


def test_another_kernel_is_said() -> None:
    read = read_submission(notebook(code("a"), metadata={"kernelspec": {"name": "julia-1.9"}}))
    assert read.notes == (
        "The notebook asked for the kernel 'julia-1.9'; it was run with the course's Python 3.",
    )


def test_a_kernels_name_steers_no_terminal_and_can_be_stored() -> None:
    name = "\x1b[2J\ud800\u202eb\x00"
    read = read_submission(notebook(code("a"), metadata={"kernelspec": {"name": name}}))
    assert "the kernel '?[2J??b?'" in read.notes[0] and read.notes[0].isprintable()


@pytest.mark.parametrize("minor", [0, 2, 4, 5, 99])
def test_other_minor_formats_are_read(minor: int) -> None:
    assert len(read_submission(notebook(code("a"), nbformat_minor=minor)).cells) == 1


def test_a_notebook_of_format_3_is_brought_up_to_date() -> None:
    old = nbformat.convert(nbformat.reads(notebook(code("a = 1")).decode(), 4), 3)
    (cell,) = read_submission(json.dumps(old).encode()).cells
    assert (cell.kind, cell.source) == ("code", "a = 1")


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)
cell_like = st.fixed_dictionaries(
    {},
    optional={
        "cell_type": st.sampled_from(["code", "markdown", "raw", "heading"]) | json_values,
        "source": st.text(max_size=20) | json_values,
        "metadata": st.fixed_dictionaries({}, optional={"nbgrader": json_values}) | json_values,
        "id": st.text(max_size=5) | json_values,
    },
)


@given(
    st.binary(max_size=200)
    | st.fixed_dictionaries(
        {"cells": st.lists(cell_like | json_values, max_size=6) | json_values},
        optional={"nbformat": st.sampled_from([1, 2, 3, 4]) | json_values, "metadata": json_values},
    ).map(lambda value: json.dumps(value).encode())
)
def test_any_bytes_give_cells_or_one_sentence(content: bytes) -> None:
    try:
        read = read_submission(content)
    except Unreadable as refused:
        assert str(refused)
        return
    assert isinstance(read.cells, tuple)
    for cell in read.cells:
        cell.source.encode("utf-8")
