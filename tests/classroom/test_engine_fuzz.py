"""Readers against whatever may come: a status or one sentence, never a crash.

Outside checks: hypothesis makes up the values; nbformat and nbgrader's own overview read what comes out.
"""

from __future__ import annotations

import io
import json
import zipfile
from functools import cache
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse.classroom.collect import collect
from brakecourse.classroom.engine.claims import NO_PLAIN_VALUE, answer_of
from brakecourse.classroom.engine.execute import ANSWER_MIME
from brakecourse.classroom.engine.healing import heal
from brakecourse.classroom.engine.plan import Plan, read_plan
from brakecourse.classroom.engine.reading import Unreadable, read_submission
from brakecourse.classroom.roster import check_student_id, read_roster
from brakecourse.errors import CourseError
from brakecourse.workorder.order import load
from hypothesis import given, settings
from hypothesis import strategies as st
from nbgrader.utils import is_grade

from tests.classroom.engine_class import MODULE, filled, fresh_class, released, right_answers
from tests.classroom.fuzz_study import STATUSES, study
from tests.classroom.mutated import mutated
from tests.classroom.shared_farm import shared_farm

LETTER = "The rotor is worn."
SHOWN = {"output_type": "display_data"}
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=5) | st.dictionaries(st.text(max_size=10), inner, max_size=5),
    max_leaves=25,
)


@cache
def real() -> tuple[Plan, bytes, tuple[str, ...]]:
    """A module's plan, a filled-in notebook, and the names of its graded cells."""
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        cls = fresh_class(Path(folder))
        notebook = filled(released(cls), right_answers(cls, "s01"), LETTER)
        names = tuple(cell.metadata.nbgrader.grade_id for cell in notebook.cells if is_grade(cell))
        return read_plan(cls, MODULE), json.dumps(notebook).encode(), names


def healed(content: bytes) -> str:
    """Read and heal a submission; return what became of it."""
    plan, _, graded = real()
    try:
        submitted = read_submission(content)
        notebook = heal(submitted.cells, plan.template, plan.kernelspec).notebook
    except Unreadable as error:
        said = str(error)
        assert said and "\n" not in said and said.endswith(".")
        return "unreadable"
    nbformat.validate(notebook)
    # Every graded cell is there once, in order, locked ones as handed out, and nothing tells to skip one.
    assert tuple(c.metadata.nbgrader.grade_id for c in notebook.cells if is_grade(c)) == graded
    assert not any("tags" in cell.metadata for cell in notebook.cells)
    nbformat.writes(notebook).encode("utf-8")
    return "healed"


@pytest.mark.slow
def test_a_thousand_spoilt_submissions_are_read_or_refused_in_words() -> None:
    _, content, _ = real()
    found = [healed(mutated(content, seed)) for seed in range(1000)]
    # The spoiling does something, and does not only break everything.
    assert found.count("unreadable") > 100 and found.count("healed") > 300


def test_the_same_seed_spoils_alike() -> None:
    _, content, _ = real()
    assert [mutated(content, seed) for seed in range(20)] == [mutated(content, seed) for seed in range(20)]
    assert len({mutated(content, seed) for seed in range(100)}) > 95


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(content: bytes) -> None:
    healed(content)


@given(JSON)
def test_any_json_is_read_or_refused(value: Any) -> None:
    healed(json.dumps(value).encode())
    healed(json.dumps({"nbformat": 4, "cells": value}).encode())
    healed(json.dumps({"nbformat": 4, "cells": [value, {"cell_type": "code", "source": value}]}).encode())


@given(
    st.lists(JSON | st.builds(lambda v: {"output_type": "display_data", "data": v}, JSON), max_size=4), JSON
)
def test_any_outputs_give_an_answer_that_can_be_stored(outputs: list[Any], answer: Any) -> None:
    bundle = {"output_type": "display_data", "data": {ANSWER_MIME: {"question": "8.1", "answer": answer}}}
    for order in ([*outputs, bundle], [bundle, *outputs]):
        records = [output for output in order if isinstance(output, dict)]
        found = answer_of(records, "8.1")
        json.dumps(found, allow_nan=False).encode("utf-8")
        assert found is None or found == NO_PLAIN_VALUE or not isinstance(found, dict)


@given(st.binary(max_size=400))
def test_any_bytes_are_a_roster_or_one_sentence(tmp_path_factory: Any, content: bytes) -> None:
    _roster(content)


@given(st.text(alphabet="student_id,;\t\n\r\"' first_name last_name s01éあ\x00.-/", max_size=300))
def test_any_table_is_a_roster_or_one_sentence(text: str) -> None:
    _roster(text.encode())
    _roster(("student_id,first_name,last_name\n" + text).encode())


def _roster(content: bytes) -> None:
    path = Path(_folder()) / "roster.csv"
    path.write_bytes(content)
    try:
        entries = read_roster(path)
    except CourseError as error:
        assert str(error).count("\n") == 0 and str(path) in str(error)
        return
    assert entries and all(check_student_id(entry.student_id) is None for entry in entries)
    assert len({entry.student_id.casefold() for entry in entries}) == len(entries)


@cache
def _folder() -> str:
    import atexit
    import shutil
    import tempfile

    folder = tempfile.mkdtemp(prefix="fuzz-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


@settings(max_examples=60)
@given(JSON, st.integers(0, 10_000))
def test_any_work_order_is_read_or_refused_in_one_sentence(value: Any, seed: int) -> None:
    path = Path(_folder()) / "work_order.json"
    for content in (json.dumps(value).encode(), mutated(_work_order(), seed)):
        path.write_bytes(content)
        try:
            order = load(path)
        except CourseError as error:
            assert str(error).count("\n") == 0 and "unpack your kit again" in str(error)
        else:
            assert order.questions is not None


@cache
def _work_order() -> bytes:
    import tempfile

    from brakecourse.classroom.engine.plan import read_case

    with tempfile.TemporaryDirectory() as folder:
        return read_case(fresh_class(Path(folder)), MODULE, "s01").files["work_order.json"]


def test_spoilt_zips_are_taken_in_or_refused(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    _, content, _ = real()
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(f"s01/{MODULE}.ipynb", content)
        archive.writestr("s02/work_order.json", "{}")
        archive.writestr(f"s02/{MODULE}-s02.ipynb", mutated(content, 3))
    whole = stream.getvalue()
    places = [whole.rfind(b"PK\x01\x02"), whole.rfind(b"PK\x05\x06"), 0]
    for seed in range(60):
        spoilt = bytearray(whole)
        # The directory at the end is what a zip is read by, so most of the spoiling is done there.
        at = places[seed % 3] + (seed * 7) % 22
        spoilt[at] ^= 1 << (seed % 8)
        path = tmp_path / f"in-{seed}.zip"
        path.write_bytes(bytes(spoilt) if seed % 5 else whole[: -seed - 1])
        try:
            report = collect(cls, MODULE, path)
        except CourseError as error:
            assert str(error).count("\n") == 0
        else:
            assert len(report.rows) == 3
        assert path.read_bytes() == (bytes(spoilt) if seed % 5 else whole[: -seed - 1])


@pytest.mark.sandbox
@pytest.mark.slow
def test_spoilt_submissions_go_through_the_whole_grading(tmp_path: Path) -> None:
    found = study(tmp_path, 20, seed=500, farm=shared_farm())
    assert sum(found.statuses.values()) == 20 and set(found.statuses) <= set(STATUSES)
    assert len(found.statuses) > 1
    assert found.unforeseen == [] and found.changed == []
