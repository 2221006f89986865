"""The class folder: made whole or not at all, read with care, refused with one sentence."""

from __future__ import annotations

import errno
import os
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from brakecourse.classroom import files, folder
from brakecourse.classroom.folder import FOLDERS, ClassFolder, new_class, open_class, parse_time
from brakecourse.errors import CourseError

MODULE = "08_rotor_measurement"


@pytest.fixture
def roster(tmp_path: Path) -> Path:
    path = tmp_path / "roster.csv"
    path.write_text(
        "student_id,first_name,last_name\ns01,Amara,Quillstone\ns02,Bruno,Fennimoor\n", encoding="utf-8"
    )
    return path


@pytest.fixture
def cls(tmp_path: Path, roster: Path) -> ClassFolder:
    return new_class(tmp_path / "class", roster, name="Evening", term="Autumn", timezone="Europe/Paris")


def left_behind(tmp_path: Path) -> list[str]:
    return sorted(path.name for path in tmp_path.iterdir() if path.name != "roster.csv")


def test_a_new_class_holds_everything(cls: ClassFolder) -> None:
    assert {path.name for path in cls.root.iterdir()} == {*FOLDERS, "class.toml", "roster.csv", ".secret"}
    assert cls.student_ids == ("s01", "s02")
    assert (cls.settings.name, cls.settings.term, cls.settings.timezone) == (
        "Evening",
        "Autumn",
        "Europe/Paris",
    )
    assert cls.assigned == ()
    assert open_class(cls.root) == cls


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such modes")
def test_only_the_owner_may_look_into_the_class_and_at_its_secret(cls: ClassFolder) -> None:
    assert stat.S_IMODE(cls.secret_file.stat().st_mode) == 0o600
    assert stat.S_IMODE(cls.root.stat().st_mode) == 0o700


def test_every_class_has_a_secret_of_its_own(cls: ClassFolder, roster: Path, tmp_path: Path) -> None:
    other = new_class(tmp_path / "other", roster, name="Other")
    assert len(cls.secret) == len(other.secret) == 32
    assert cls.secret != other.secret
    assert new_class(tmp_path / "third", roster, name="Third", secret=b"\x07" * 32).secret == b"\x07" * 32


def test_an_empty_folder_may_become_a_class(tmp_path: Path, roster: Path) -> None:
    (tmp_path / "empty").mkdir()
    assert new_class(tmp_path / "empty", roster, name="Evening").root == tmp_path / "empty"


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path, roster: Path) -> None:
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "thesis.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(CourseError, match="already holds something"):
        new_class(tmp_path / "full", roster, name="Evening")
    assert [path.name for path in (tmp_path / "full").iterdir()] == ["thesis.txt"]
    assert left_behind(tmp_path) == ["full"]


@pytest.mark.parametrize(
    ("target", "words"),
    [("roster.csv", "is not a folder"), ("no/such/class", "does not exist; make it first")],
)
def test_a_place_that_cannot_be_a_class_is_refused(
    tmp_path: Path, roster: Path, target: str, words: str
) -> None:
    with pytest.raises(CourseError, match=words):
        new_class(tmp_path / target, roster, name="Evening")
    assert left_behind(tmp_path) == []


@pytest.mark.parametrize(
    ("setting", "words"),
    [
        ({"name": "  "}, "'name' of the class is wrong"),
        ({"timezone": "Larkmoor/Town"}, "'Larkmoor/Town' is no time zone"),
        ({"timezone": "../etc/passwd"}, "is no time zone"),
        ({"late_penalty_percent_per_day": -1.0}, "greater than or equal to 0"),
        ({"late_penalty_percent_per_day": 101.0}, "less than or equal to 100"),
        ({"late_penalty_percent_per_day": float("nan")}, "late_penalty_percent_per_day"),
        ({"late_penalty_cap_percent": 101.0}, "less than or equal to 100"),
        ({"cell_timeout_s": float("inf")}, "cell_timeout_s"),
        ({"cell_timeout_s": 0.0}, "greater than or equal to 1"),
    ],
)
def test_a_wrong_setting_is_refused_and_nothing_is_made(
    tmp_path: Path, roster: Path, setting: dict[str, object], words: str
) -> None:
    with pytest.raises(CourseError, match=words):
        new_class(tmp_path / "class", roster, **{"name": "Evening", **setting})  # type: ignore[arg-type]
    assert left_behind(tmp_path) == []


@pytest.mark.parametrize("failing_write", range(3))
def test_a_full_disk_leaves_nothing_half_made(
    tmp_path: Path, roster: Path, monkeypatch: pytest.MonkeyPatch, failing_write: int
) -> None:
    calls = []

    def full(*args: object, **kwargs: object) -> None:
        calls.append(args)
        if len(calls) > failing_write:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    for name in ("write_roster", "write_text_whole"):
        monkeypatch.setattr(folder, name, full)
    with pytest.raises(CourseError, match=r"Could not make the class folder .*No space left on device"):
        new_class(tmp_path / "class", roster, name="Evening")
    assert left_behind(tmp_path) == []


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may write everywhere")
def test_an_unwritable_parent_is_one_sentence(tmp_path: Path, roster: Path) -> None:
    locked = tmp_path / "locked"
    locked.mkdir(mode=0o500)
    with pytest.raises(CourseError, match=r"Could not make the class folder .*Permission denied"):
        new_class(locked / "class", roster, name="Evening")


def test_a_refusing_system_is_one_sentence(
    tmp_path: Path, roster: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*args: object, **kwargs: object) -> str:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(folder.tempfile, "mkdtemp", refuse)
    with pytest.raises(CourseError, match=r"Could not make the class folder .*Permission denied"):
        new_class(tmp_path / "class", roster, name="Evening")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("name = ", "can't be read"),
        ("", "'name' of .* is wrong: Field required"),
        ('name = "E"\ncolour = "blue"', "'colour' of .* is wrong: Extra inputs"),
        ('name = "E"\ncell_timeout_s = "long"', "'cell_timeout_s' of .* is wrong"),
        ('name = "E"\n[due]\n08_rotor_measurement = "soon"', "'due.08_rotor_measurement' of .* is wrong"),
        (b"name = \xff", "can't be read"),
    ],
)
def test_wrong_settings_are_named(cls: ClassFolder, text: str | bytes, words: str) -> None:
    cls.settings_file.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(CourseError, match=words) as caught:
        open_class(cls.root)
    assert "\n" not in str(caught.value)


def test_a_folder_that_is_no_class_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CourseError, match="is not a class folder"):
        open_class(tmp_path)


@pytest.mark.parametrize("text", ["", "not hex", "00" * 31])
def test_a_damaged_secret_is_refused(cls: ClassFolder, text: str) -> None:
    cls.secret_file.write_text(text, encoding="ascii")
    with pytest.raises(CourseError, match="put it back from a copy"):
        _ = cls.secret


def test_a_due_time_is_on_the_class_clock_and_comments_stay(cls: ClassFolder) -> None:
    cls.settings_file.write_text("# mine\n" + cls.settings_file.read_text(encoding="utf-8"), encoding="utf-8")
    later = cls.with_due(MODULE, datetime(2026, 12, 4, 18, 0))
    # Paris is one hour ahead of UTC in winter, two in summer (common practice; so says the tz database).
    assert later.settings.due_utc(MODULE) == datetime(2026, 12, 4, 17, 0, tzinfo=UTC)
    summer = later.with_due(MODULE, datetime(2027, 7, 1, 18, 0, tzinfo=ZoneInfo("America/Chicago")))
    assert summer.settings.due_utc(MODULE) == datetime(2027, 7, 1, 23, 0, tzinfo=UTC)
    assert summer.settings.due_utc("other") is None
    text = cls.settings_file.read_text(encoding="utf-8")
    assert text.startswith("# mine\n") and "08_rotor_measurement = 2027-07-02T01:00:00" in text


def test_a_full_disk_keeps_the_old_settings(cls: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    before = cls.settings_file.read_bytes()

    def full(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(files.os, "fsync", full)
    with pytest.raises(CourseError, match="No space left on device"):
        cls.with_due(MODULE, datetime(2026, 12, 4, 18, 0))
    assert cls.settings_file.read_bytes() == before
    assert not list(cls.root.glob(".part-*"))


@pytest.mark.parametrize(
    "text", ["", "tomorrow", "2026-12-04", "2026-13-04 18:00", "18:00", "2026-12-04 25:00", "nan"]
)
def test_a_time_that_is_none_is_refused(text: str) -> None:
    with pytest.raises(CourseError, match="A time such as '2026-12-04 18:00' was expected"):
        parse_time(text, ZoneInfo("UTC"))


def test_a_time_with_a_zone_keeps_it() -> None:
    assert parse_time("2026-12-04 18:00+02:00", ZoneInfo("UTC")).utcoffset() == timedelta(hours=2)


def test_an_unknown_student_is_named_with_those_there_are(cls: ClassFolder) -> None:
    assert cls.student("s02").last_name == "Fennimoor"
    with pytest.raises(CourseError, match=r"No student 's99' .*the ids are s01, s02\."):
        cls.student("s99")
