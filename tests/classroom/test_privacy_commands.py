"""`class forget` and `class anonymous-copy` on the command line."""

from __future__ import annotations

from pathlib import Path

import pytest
from brakecourse.classroom.folder import open_class
from brakecourse.cli import main

from tests.exports.small_class import WAITING, small_class


def said(capsys: pytest.CaptureFixture[str], *words: object, code: int = 0) -> str:
    assert main([str(word) for word in words]) == code
    streams = capsys.readouterr()
    return " ".join((streams.out + streams.err).split())


def test_forgetting_is_shown_first(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    root = small_class(tmp_path).root
    shown = said(capsys, "class", "forget", root, WAITING)
    assert "Nothing was changed." in shown and "gradebook, grade" in shown and "--yes" in shown
    assert WAITING in open_class(root).student_ids
    done = said(capsys, "class", "forget", root, WAITING, "--yes")
    assert f"{WAITING} is forgotten" in done and "backups" in done
    assert WAITING not in open_class(root).student_ids
    assert "No student" in said(capsys, "class", "forget", root, WAITING, code=1)


def test_a_copy_without_people(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    root = small_class(tmp_path).root
    text = said(capsys, "class", "anonymous-copy", root, tmp_path / "copy")
    assert "4 students with new ids" in text
    assert open_class(tmp_path / "copy").student_ids == ("a01", "a02", "a03", "a04")
    assert "A new folder" in said(capsys, "class", "anonymous-copy", root, tmp_path / "copy", code=1)
