"""The commands of the desk: what they show, what they write, and how a badge is judged."""

from __future__ import annotations

from pathlib import Path

import pytest
from brakecourse.cli import main

from tests.exports.small_class import ABLE, MODULES, small_class

BADGE = f"exports/badges/{ABLE}/{MODULES[0]}.json"


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return small_class(tmp_path_factory.mktemp("commands")).root


def said(capsys: pytest.CaptureFixture[str], *words: object, code: int = 0) -> str:
    assert main([str(word) for word in words]) == code
    streams = capsys.readouterr()
    return " ".join((streams.out + streams.err).split())


def test_the_kinds_are_listed_and_a_preview_writes_nothing(
    root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    listed = said(capsys, "export", root)
    assert all(word in listed for word in ("oneroster", "CASE 1.1", "badges", "records", "What it is for"))
    shown = said(capsys, "export", root, "case", "--preview")
    assert "competency_framework_case.json" in shown and "Nothing was written." in shown
    assert list((root / "exports").iterdir()) == []
    assert "the kinds are grades" in said(capsys, "export", root, "everything", code=1)


def test_badges_from_key_to_verdict(root: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert f"brakecourse badge-key {root}" in said(capsys, "export-badges", root, code=1)
    made = said(capsys, "badge-key", root)
    did = next(word for word in made.split() if word.startswith("did:key:z"))
    again = said(capsys, "badge-key", root)
    assert "was there already" in again and did in again and "BEGIN" not in made + again
    written = said(capsys, "export-badges", root, "--why")
    assert "Not earned" in written and "The work is not handed in." in written and "3 files" in written
    verdict = said(capsys, "verify-badge", root / BADGE, "--issuer", did, "--class", root)
    assert "Genuine" in verdict and "module 7" in verdict and f"It is the badge of {ABLE}." in verdict
    forged = tmp_path / "forged.json"
    forged.write_bytes((root / BADGE).read_bytes().replace(b"module 7", b"module 8"))
    assert "Not genuine" in said(capsys, "verify-badge", forged, code=1)
    other = did[:-1] + ("a" if did[-1] != "a" else "b")
    assert "Not from this school" in said(capsys, "verify-badge", root / BADGE, "--issuer", other, code=1)
    assert "can't be read" in said(capsys, "verify-badge", tmp_path / "none.json", code=1)
    assert "A badge of this course was expected" in said(capsys, "verify-badge", root / "roster.csv", code=1)


def test_records_are_written_and_odd_names_told(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    roster = root / "roster.csv"
    before = roster.read_text(encoding="utf-8")
    roster.write_text(before.replace("Amara003", "王"), encoding="utf-8")
    text = said(capsys, "export-records", root)
    assert "4 files" in text and "s003: the page's typeface lacks 王" in text
    assert (root / "exports" / "records" / f"{ABLE}.pdf").read_bytes().startswith(b"%PDF")
    roster.write_text(before, encoding="utf-8")


@pytest.mark.parametrize(
    "command", ["export", "badge-key", "export-badges", "verify-badge", "export-records"]
)
def test_each_explains_itself(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert "Example" in said(capsys, command, "--help")
