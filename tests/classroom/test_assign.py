"""Handing out: nobody's case is ever drawn again, and a failure leaves what was handed out as it was."""

from __future__ import annotations

import errno
import json
import os
import shutil
import zipfile
from datetime import UTC, datetime
from pathlib import Path

import pytest
from brakecourse import marking
from brakecourse.classroom import assign as room
from brakecourse.classroom import kit
from brakecourse.classroom.assign import assign, read_case
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.errors import CourseError
from brakecourse.marking.draw import _seed

MODULE = "08_rotor_measurement"
ROSTER = "student_id,first_name,last_name\ns01,Amara,Quillstone\ns02,Bruno,Fennimoor\n"


@pytest.fixture(scope="module")
def handed_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("assign")
    (folder / "roster.csv").write_text(ROSTER, encoding="utf-8")
    cls = new_class(folder / "class", folder / "roster.csv", name="Evening")
    assign(cls, MODULE, due=datetime(2026, 12, 4, 18, 0))
    return cls.root


@pytest.fixture
def cls(handed_out: Path, tmp_path: Path) -> ClassFolder:
    shutil.copytree(handed_out, tmp_path / "class")
    return open_class(tmp_path / "class")


def cases(cls: ClassFolder) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted((cls.root / "cases" / MODULE).iterdir())}


def kits(cls: ClassFolder) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted((cls.root / "kits" / MODULE).iterdir())}


def test_handing_out_makes_cases_kits_and_the_assignment(cls: ClassFolder) -> None:
    assert cls.assigned == (MODULE,)
    assert list(cases(cls)) == ["s01.json", "s02.json"]
    assert list(kits(cls)) == ["s01.zip", "s02.zip"]
    assert cls.release_notebook(MODULE).is_file() and cls.gradebook_file.is_file()
    assert cls.settings.due_utc(MODULE) == datetime(2026, 12, 4, 18, 0, tzinfo=UTC)
    drawn = marking.draw_sealed_case(MODULE, "s01", cls.secret)
    assert read_case(cls, MODULE, "s01") == drawn


def test_a_case_that_was_drawn_is_never_drawn_again(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*args: object) -> None:
        raise AssertionError("drawn again")

    # Written otherwise, as another version might: not one byte of it may change.
    other = json.dumps(json.loads(cls.case_file(MODULE, "s01").read_bytes()), indent=3)
    cls.case_file(MODULE, "s01").write_text(other, encoding="utf-8")
    before = cases(cls)
    monkeypatch.setattr(marking, "draw_sealed_case", never)
    told: list[tuple[int, int, str]] = []
    paths = assign(cls, MODULE, progress=lambda *step: told.append(step))
    assert paths == [cls.kit_file(MODULE, "s01"), cls.kit_file(MODULE, "s02")]
    assert told == [(1, 2, "s01"), (2, 2, "s02")]
    assert cases(cls) == before
    assert open_class(cls.root).settings.due == cls.settings.due


def test_a_student_who_joins_gets_a_case_and_the_others_keep_theirs(cls: ClassFolder) -> None:
    before = cases(cls)
    cls.roster_file.write_text(ROSTER + "s03,Chiyo,Larkenfield\n", encoding="utf-8")
    assign(open_class(cls.root), MODULE)
    after = cases(cls)
    assert {name: after[name] for name in before} == before and "s03.json" in after
    assert list(kits(cls)) == ["s01.zip", "s02.zip", "s03.zip"]


def test_no_two_of_a_class_have_all_the_same_answers(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    def for_whom_does_not_matter(_secret: bytes, _who: str, module: str, attempt: int, redraws: int) -> int:
        return _seed(bytes(32), "anybody", module, attempt, redraws)

    monkeypatch.setattr(marking.draw, "_seed", for_whom_does_not_matter)
    assign(cls, "03_brake_fluid", students=["s02"])
    assign(cls, "03_brake_fluid")
    first, second = (read_case(cls, "03_brake_fluid", student) for student in ("s02", "s01"))
    assert second.redraws > first.redraws
    assert second.answers != first.answers
    assert second.truth["situation"] == first.truth["situation"]


def test_an_unknown_module_is_refused_before_anything_is_done(cls: ClassFolder) -> None:
    before = cls.settings_file.read_bytes()
    with pytest.raises(CourseError, match="No module '99_none' is in this course"):
        assign(cls, "99_none", due=datetime(2027, 1, 1))
    assert cls.settings_file.read_bytes() == before and cls.assigned == (MODULE,)


@pytest.mark.parametrize("content", ["", "{", '{"format": 1}'])
def test_a_damaged_case_is_one_sentence_and_stays(cls: ClassFolder, content: str) -> None:
    before = kits(cls)
    cls.case_file(MODULE, "s01").write_text(content, encoding="utf-8")
    with pytest.raises(CourseError, match=r"The sealed case .*s01\.json is missing or damaged"):
        assign(cls, MODULE)
    assert cls.case_file(MODULE, "s01").read_text(encoding="utf-8") == content and kits(cls) == before


def full_disk(*args: object, **kwargs: object) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_a_full_disk_keeps_the_kits_that_were_there(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = kits(cls)
    packed = []

    def second_fails(*args: object) -> bytes:
        packed.append(args)
        if len(packed) > 1:
            full_disk()
        return b"another kit"

    monkeypatch.setattr(kit, "kit_bytes", second_fails)
    with pytest.raises(CourseError, match=r"Could not write the kits of .*: No space left on device"):
        assign(cls, MODULE)
    assert kits(cls) == before


def test_a_full_disk_while_cases_are_written_can_be_gone_on_from(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = cases(cls)
    cls.case_file(MODULE, "s02").unlink()
    with monkeypatch.context() as patch:
        patch.setattr(room, "write_text_whole", full_disk)
        with pytest.raises(CourseError, match=r"Could not write the cases of .*: No space left on device"):
            assign(cls, MODULE)
    assert list(cases(cls)) == ["s01.json"]
    assign(cls, MODULE)
    assert cases(cls) == before


@pytest.mark.parametrize("name", ["run.py", "requirements-student.txt"])
def test_a_course_that_is_not_complete_is_said(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, name: str
) -> None:
    course = tmp_path / "course"
    course.mkdir()
    for other in {"run.py", "requirements-student.txt"} - {name}:
        (course / other).write_text("", encoding="utf-8")
    monkeypatch.setattr(kit, "_REPOSITORY", course)
    before = kits(cls)
    with pytest.raises(CourseError, match=f"A kit needs the file .*{name}"):
        assign(cls, MODULE)
    assert kits(cls) == before


def test_every_kit_is_a_sound_zip(cls: ClassFolder) -> None:
    for path in (cls.root / "kits" / MODULE).iterdir():
        with zipfile.ZipFile(path) as archive:
            assert archive.testzip() is None
