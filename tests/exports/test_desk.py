"""The desk: what is shown is what is written, the log, and names that appear nowhere they should not."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import re
from pathlib import Path

import pytest
from brakecourse.classroom import export_log
from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError
from brakecourse.exports.badge_check import verify
from brakecourse.exports.badge_key import KEY_NAME, make_key
from brakecourse.exports.desk import CHANGED, KINDS, NEW, SAME, preview, write
from brakecourse.exports.facts import Facts
from brakecourse.exports.signing import did_of

from tests.exports.small_class import ABLE, MODULES, small_class

READY = tuple(name for name in KINDS if name != "oneroster")


@pytest.fixture(scope="module")
def cls(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    found = small_class(tmp_path_factory.mktemp("desk"))
    make_key(found)
    return found


@pytest.fixture(scope="module")
def facts(cls: ClassFolder) -> Facts:
    """What was read of the class, and drawn of it, once for all tests that need no second look."""
    return Facts(cls)


def files_in(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.mark.parametrize("name", READY)
def test_a_preview_writes_nothing_and_shows_what_is_written(
    cls: ClassFolder, facts: Facts, name: str
) -> None:
    before = files_in(cls.root)
    draft = preview(cls, name, facts)
    assert files_in(cls.root) == before
    assert draft.files and set(draft.remarks.values()) == {NEW}
    paths = write(cls, draft)
    assert [path.read_bytes() for path in paths] == [one.content for one in draft.files]
    logged = export_log.lines(cls)[-len(paths) :]
    for line, one in zip(logged, draft.files, strict=True):
        assert re.fullmatch(r"\d{4}-\d\d-\d\d \d\d:\d\d:\d\d", line[0])
        assert line[1:] == [name, one.name, hashlib.sha256(one.content).hexdigest(), str(one.rows), NEW]


@pytest.mark.parametrize("name", READY)
def test_written_again_it_says_that_nothing_changed(cls: ClassFolder, facts: Facts, name: str) -> None:
    write(cls, preview(cls, name, facts))
    before = export_log.log_file(cls).read_bytes()
    again = preview(cls, name)  # read and drawn anew
    assert set(again.remarks.values()) == {SAME}
    write(cls, again)
    after = export_log.log_file(cls).read_bytes()
    assert after.startswith(before) and after != before  # only ever added to
    assert all(line[5] == SAME for line in export_log.lines(cls)[-len(again.files) :])


def test_a_file_that_somebody_changed_is_told(cls: ClassFolder) -> None:
    write(cls, preview(cls, "results"))
    path = cls.exports / "results.csv"
    good = path.read_bytes()
    path.write_bytes(good + b"x")
    draft = preview(cls, "results")
    assert draft.remarks == {"results.csv": CHANGED}
    write(cls, draft)
    assert path.read_bytes() == good


def test_rows_and_who_are_those_of_the_files(cls: ClassFolder, facts: Facts) -> None:
    everyone = len(cls.roster)
    rows = {one.name: (one.rows, one.who) for name in READY for one in preview(cls, name, facts).files}
    assert rows["grades.csv"] == (everyone * len(MODULES), cls.student_ids) == rows["grades.xlsx"]
    assert rows["competencies.csv"] == (everyone * 24, cls.student_ids)
    assert rows["class_competencies.csv"][0] == 24
    assert rows["competency_framework_case.json"] == (24 + 13, ())
    assert rows[f"records/{ABLE}.pdf"] == (1, (ABLE,))
    assert {name for name in rows if name.startswith("badges/s")} == {
        f"badges/{ABLE}/{m}.json" for m in MODULES
    }


@pytest.mark.parametrize(("name", "pieces"), [("pictures", 10), ("records", 4), ("badges", 2)])
def test_long_work_says_how_far_it_is(cls: ClassFolder, facts: Facts, name: str, pieces: int) -> None:
    told: list[tuple[int, int]] = []
    preview(cls, name, facts, lambda done, total, _: told.append((done, total)))
    assert told == [(number, pieces) for number in range(1, pieces + 1)]


def test_badges_from_the_desk_are_genuine_and_name_their_issuer(cls: ClassFolder) -> None:
    files = {one.name: one.content for one in preview(cls, "badges").files}
    did = did_of(make_key(cls).public_key())
    assert did in files["badges/issuer.txt"].decode()
    assert all(verify(content, did).genuine for name, content in files.items() if name.endswith(".json"))


def test_a_badge_that_is_earned_no_more_is_told_and_stays(cls: ClassFolder) -> None:
    old = cls.exports / "badges" / "s002" / f"{MODULES[0]}.json"
    old.parent.mkdir(parents=True, exist_ok=True)
    old.write_bytes(b"{}")
    draft = preview(cls, "badges")
    assert draft.stale == (f"badges/s002/{MODULES[0]}.json",)
    write(cls, draft)
    assert old.is_file()
    old.unlink()


def test_the_kinds_say_what_they_are_for() -> None:
    assert {"grades", "results", "competencies", "oneroster", "case", "badges", "records"} <= set(KINDS)
    assert all(kind.purpose.startswith("For ") and kind.purpose.endswith(".") for kind in KINDS.values())
    with pytest.raises(CourseError, match=r"the kinds are grades, "):
        preview(None, "nothing")  # type: ignore[arg-type]


def test_without_a_key_there_are_no_badges(tmp_path: Path) -> None:
    own = small_class(tmp_path)
    with pytest.raises(CourseError, match=r"brakecourse badge-key"):
        preview(own, "badges")


def test_what_was_written_before_a_disk_trouble_is_in_the_log(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = small_class(tmp_path)
    draft = preview(own, "competencies")
    (own.exports / draft.files[1].name).mkdir()  # a folder stands where the second file should go
    with pytest.raises(CourseError, match="Could not write"):
        write(own, draft)
    assert [line[2] for line in export_log.lines(own)] == [draft.files[0].name]


def test_no_name_and_no_key_in_file_names_and_logs(cls: ClassFolder, facts: Facts) -> None:
    """Every name and address of the roster is looked for, in every produced path and in the log."""
    for name in READY:
        write(cls, preview(cls, name, facts))
    secrets = [
        (cls.root / KEY_NAME).read_text(encoding="ascii").splitlines()[1],
        make_key(cls).private_bytes_raw().hex(),
        cls.secret.hex(),
    ]
    paths = list(files_in(cls.exports))
    log = export_log.log_file(cls).read_text(encoding="utf-8")
    assert len(paths) > 10 and len(log.splitlines()) > 10
    for entry in cls.roster:
        for word in (entry.first_name, entry.last_name, entry.email):
            assert not any(word.casefold() in path.casefold() for path in paths)
            assert word.casefold() not in log.casefold()
    for content in files_in(cls.exports).values():
        assert not any(secret.encode() in content for secret in secrets)


def test_the_log_is_a_table_that_a_program_can_read(cls: ClassFolder) -> None:
    write(cls, preview(cls, "case"))
    text = export_log.log_file(cls).read_text(encoding="utf-8")
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert tuple(rows[0]) == export_log.COLUMNS
    assert json.loads((cls.exports / rows[-1]["file"]).read_text(encoding="utf-8"))["CFDocument"]
