"""Taking in: whose it is, what is refused, what is kept, and that the source is only read."""

from __future__ import annotations

import errno
import hashlib
import io
import json
import os
import stat
import zipfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from brakecourse.classroom import files, intake
from brakecourse.classroom.collect import CollectReport, collect, collect_all
from brakecourse.classroom.folder import ClassFolder, new_class
from brakecourse.classroom.intake import FoundNotebook, Limits
from brakecourse.classroom.received import everything_received, keep
from brakecourse.errors import CourseError

MODULE = "08_rotor_measurement"
EARLY = datetime(2025, 12, 1, 10, 0, tzinfo=UTC)
LATER = datetime(2025, 12, 2, 10, 0, tzinfo=UTC)


def notebook(text: str = "24.31", hands_in: bool = True) -> bytes:
    source = f'hand_in("8.1", {text})' if hands_in else f"# {text}"
    cell = {"cell_type": "code", "source": source, "metadata": {}, "outputs": [], "execution_count": None}
    return json.dumps({"cells": [cell], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}).encode()


def put(folder: Path, name: str, content: bytes, when: datetime = EARLY) -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    os.utime(path, (when.timestamp(), when.timestamp()))
    return path


def zipped(entries: dict[str, bytes], times: dict[str, tuple[int, ...]] | None = None) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in entries.items():
            info = zipfile.ZipInfo(name, (times or {}).get(name, (2025, 12, 1, 11, 0, 0)))  # type: ignore[arg-type]
            info.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(info, content)
    return stream.getvalue()


@pytest.fixture
def cls(tmp_path: Path) -> ClassFolder:
    roster = tmp_path / "roster.csv"
    lines = [
        "student_id,first_name,last_name",
        *(f"s0{n},Amara,Quillstone" for n in (1, 2, 3)),
        "08,Bo,Fennimoor",
    ]
    roster.write_text("\n".join(lines) + "\n", encoding="utf-8")
    made = new_class(tmp_path / "class", roster, name="Evening", timezone="Europe/Paris")
    put(made.root, f"cases/{MODULE}/s01.json", b"{}")
    return made.with_due(MODULE, datetime(2025, 12, 1, 18, 0))


@pytest.fixture
def inbox(tmp_path: Path) -> Path:
    (tmp_path / "inbox").mkdir()
    return tmp_path / "inbox"


def why(report: CollectReport, name: str) -> str:
    found = [item.why for item in report.refused if name in item.where]
    assert len(found) == 1, report.refused
    assert found[0].endswith(".") and "\n" not in found[0]
    return found[0]


def state(report: CollectReport, student: str) -> str:
    return next(row.state for row in report.rows if row.student_id == student)


def working_copy(cls: ClassFolder, student: str) -> bytes:
    return cls.submitted_notebook(MODULE, student).read_bytes()


# ------------------------------------------------------------------ whose it is


@pytest.mark.parametrize(
    "name",
    [
        "s02.ipynb",
        "S02.ipynb",
        f"{MODULE}-s02.ipynb",
        f"{MODULE}_s02 (1).ipynb",
        "final s02 rotor measurment.ipynb",
        f"s02/{MODULE}.ipynb",
        "Fennimoor_s02_late/untitled.ipynb",
        "group a/s02/deep/down/answer.ipynb",
    ],
)
def test_the_student_is_told_by_the_name_of_the_file_or_a_folder(
    cls: ClassFolder, inbox: Path, name: str
) -> None:
    put(inbox, name, notebook())
    report = collect(cls, MODULE, inbox)
    assert report.with_state("handed in") == ("s02",)
    assert report.with_state("not handed in") == ("s01", "s03", "08")
    assert report.refused == ()
    assert working_copy(cls, "s02") == notebook()


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("s99.ipynb", "no student's id stands in its name"),
        (f"{MODULE}.ipynb", "no student's id"),
        ("08_rotor_measurment.ipynb", "no student's id"),
        ("xs02x.ipynb", "no student's id"),
        ("s01/s02.ipynb", "more than one student (s01, s02)"),
        ("s01 and s02.ipynb", "more than one student (s01, s02)"),
    ],
)
def test_a_name_that_does_not_tell_is_refused(cls: ClassFolder, inbox: Path, name: str, words: str) -> None:
    put(inbox, name, notebook())
    report = collect(cls, MODULE, inbox)
    assert words in why(report, name)
    assert not list((cls.root / "submitted").iterdir())


def test_the_notebook_itself_is_not_asked_whose_it_is(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01.ipynb", notebook('"s02"'))
    assert collect(cls, MODULE, inbox).with_state("handed in") == ("s01",)


def test_an_id_like_the_modules_number_counts_only_alone(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, f"08/{MODULE}.ipynb", notebook())
    assert collect(cls, MODULE, inbox).with_state("handed in") == ("08",)


def test_one_notebook_or_one_students_zip_may_be_named(cls: ClassFolder, inbox: Path) -> None:
    collect(cls, MODULE, put(inbox, "s01.ipynb", notebook("1")))
    collect(cls, MODULE, put(inbox, "s02.zip", zipped({"untitled.ipynb": notebook("2")})))
    put(inbox, "s03/x.ipynb", notebook("3"))
    collect(cls, MODULE, inbox / "s03")
    assert [working_copy(cls, f"s0{n}") for n in (1, 2, 3)] == [notebook("1"), notebook("2"), notebook("3")]


def test_a_download_of_everyone_with_zips_inside(cls: ClassFolder, inbox: Path) -> None:
    content = zipped(
        {
            "s01/answer.ipynb": notebook("1"),
            "s02.zip": zipped({f"kit/{MODULE}.ipynb": notebook("2")}),
            "s03_hand-in/work.zip": zipped({f"{MODULE}.ipynb": notebook("3")}),
        }
    )
    report = collect(cls, MODULE, put(inbox, "download.zip", content))
    assert report.with_state("handed in") == ("s01", "s02", "s03")
    assert [working_copy(cls, f"s0{n}") for n in (1, 2, 3)] == [notebook("1"), notebook("2"), notebook("3")]


def test_the_whole_kit_handed_in_gives_the_exercise_only(cls: ClassFolder, inbox: Path) -> None:
    kit = {
        "START_HERE.html": b"<p>",
        "run.py": b"print()",
        "requirements.txt": b"pint",
        "work_order.json": b"{}",
        "wheels/brakecourse_learner-0.1.0-py3-none-any.whl": b"PK",
        "lessons/00_practice_order.json": b"{}",
        "lessons/00_start_here.ipynb": notebook("lesson").replace(b"8.1", b"0.1"),
        f"lessons/{MODULE}.ipynb": notebook("lesson", hands_in=False),
        "lessons/progress.json": b"{}",
        ".venv/lib/thing.py": b"x",
        ".ipynb_checkpoints/a-checkpoint.ipynb": notebook("old"),
        "__MACOSX/._a.ipynb": b"x",
        ".DS_Store": b"x",
        f"{MODULE}-s01.ipynb": notebook("mine"),
    }
    put(inbox, "s01.zip", zipped({f"{MODULE}-s01/{name}": content for name, content in kit.items()}))
    for name, content in kit.items():
        put(inbox, f"s02/{name.replace('s01', 's02')}", content)
    report = collect(cls, MODULE, inbox)
    assert report.refused == ()
    assert report.with_state("handed in") == ("s01", "s02")
    assert working_copy(cls, "s01") == working_copy(cls, "s02") == notebook("mine")


# ------------------------------------------------------------------ which notebook


def test_of_several_notebooks_the_newest_that_is_named_like_the_module_counts(
    cls: ClassFolder, inbox: Path
) -> None:
    put(inbox, "s01/rotor_measurement.ipynb", notebook("old"), EARLY)
    put(inbox, "s01/rotor_measurement (1).ipynb", notebook("new"), LATER)
    put(inbox, "s01/shopping.ipynb", notebook("list"), LATER + timedelta(hours=1))
    report = collect(cls, MODULE, inbox)
    assert working_copy(cls, "s01") == notebook("new")
    assert "the newest of 2 notebooks was taken: s01/rotor_measurement (1).ipynb" in report.rows[0].words


def test_a_single_notebook_of_any_name_is_taken_and_said(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01/Untitled3.ipynb", notebook())
    assert collect(cls, MODULE, inbox).rows[0].words == "it was named 'Untitled3.ipynb'"


def test_several_notebooks_that_are_named_otherwise_are_refused(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01/a.ipynb", notebook("1"))
    put(inbox, "s01/b.ipynb", notebook("2"))
    report = collect(cls, MODULE, inbox)
    assert f"its name is not like '{MODULE}'" in why(report, "a.ipynb")
    assert report.rows[0].words == "what came was refused"


def test_the_notebook_of_another_module_is_refused(
    cls: ClassFolder, inbox: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("brakecourse.marking.MODULES", (MODULE, "07_pad_wear"))
    put(inbox, "s01/07_pad_wear.ipynb", notebook())
    assert "its name is not like" in why(collect(cls, MODULE, inbox), "07_pad_wear")


def test_the_lesson_is_no_hand_in(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, f"s01/{MODULE}.ipynb", notebook(hands_in=False))
    report = collect(cls, MODULE, inbox)
    assert "it is not the exercise" in why(report, MODULE)
    assert state(report, "s01") == "not handed in"


def test_the_practice_page_alone_is_no_hand_in(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01/00_start_here.ipynb", notebook().replace(b"8.1", b"0.1"))
    assert "it is not the exercise" in why(collect(cls, MODULE, inbox), "00_start_here")


@pytest.mark.parametrize("content", [b"", notebook()[:40], b"\x00\xff", b"[]", b'{"cells": 3}'])
def test_a_damaged_notebook_is_taken_in_as_it_is(cls: ClassFolder, inbox: Path, content: bytes) -> None:
    put(inbox, f"s01/{MODULE}.ipynb", content)
    assert collect(cls, MODULE, inbox).with_state("handed in") == ("s01",)
    assert working_copy(cls, "s01") == content


# ------------------------------------------------------------------ what is refused


@pytest.mark.parametrize(
    "name",
    ["../s01.ipynb", "/tmp/s01.ipynb", "C:/s01.ipynb", "a\\..\\..\\s01.ipynb", "\\\\host\\share\\s01.ipynb"],
)
def test_a_path_that_leads_out_of_an_archive_is_refused(
    cls: ClassFolder, inbox: Path, tmp_path: Path, name: str
) -> None:
    before = sorted(tmp_path.rglob("*"))
    put(inbox, "x.zip", zipped({name: notebook(), f"s02/{MODULE}.ipynb": notebook()}))
    report = collect(cls, MODULE, inbox)
    assert "leads out of the archive" in why(report, "s01.ipynb")
    assert report.with_state("handed in") == ("s02",)
    new = {path for path in tmp_path.rglob("*") if path not in before and "s01" in path.name}
    assert new == set()


def test_a_link_in_an_archive_is_refused(cls: ClassFolder, inbox: Path) -> None:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        link = zipfile.ZipInfo("s01/link.ipynb")
        link.create_system = 3
        link.external_attr = (stat.S_IFLNK | 0o777) << 16
        archive.writestr(link, "/etc/passwd")
    put(inbox, "x.zip", stream.getvalue())
    assert "it is a link" in why(collect(cls, MODULE, inbox), "link.ipynb")


@pytest.mark.skipif(os.name == "nt", reason="links need a right there")
def test_links_and_pipes_in_a_folder_are_refused(cls: ClassFolder, inbox: Path, tmp_path: Path) -> None:
    secret = put(tmp_path, "elsewhere/s01.ipynb", notebook())
    (inbox / "s01.ipynb").symlink_to(secret)
    (inbox / "s02").symlink_to(secret.parent)
    os.mkfifo(inbox / "s03.ipynb")
    report = collect(cls, MODULE, inbox)
    assert "it is a link" in why(report, "s01.ipynb")
    assert "it is a link" in why(report, "s02")
    assert "no ordinary file" in why(report, "s03.ipynb")


def test_files_of_another_kind_are_refused_one_by_one_and_the_rest_goes_on(
    cls: ClassFolder, inbox: Path
) -> None:
    put(inbox, "s01/answers.docx", b"PK")
    put(inbox, "s02/run.exe", b"MZ")
    put(inbox, "s02/noending", b"x")
    put(inbox, "s02/a.ipynb", notebook())
    put(inbox, "x.zip", zipped({"s03/photo.jpg": b"x", "s03/a.ipynb": notebook()}))
    report = collect(cls, MODULE, inbox)
    assert "but this is '.docx'" in why(report, "answers.docx")
    assert "but this is '.exe'" in why(report, "run.exe")
    assert "but this is 'no ending'" in why(report, "noending")
    assert "but this is '.jpg'" in why(report, "photo.jpg")
    assert report.with_state("handed in") == ("s02", "s03")


def test_a_notebook_that_is_too_large_is_refused(cls: ClassFolder, inbox: Path) -> None:
    small = Limits(notebook_bytes=1_000_000)
    put(inbox, "s01.ipynb", b"x" * 1_000_001)
    put(inbox, "x.zip", zipped({"s02.ipynb": os.urandom(1_000_001), "s03.ipynb": notebook()}))
    report = collect(cls, MODULE, inbox, limits=small)
    assert "larger than 1 MB" in why(report, "s01.ipynb")
    assert "larger than 1 MB" in why(report, "s02.ipynb")
    assert report.with_state("handed in") == ("s03",)


def test_a_file_made_to_fill_a_disk_is_refused(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "x.zip", zipped({"s01.ipynb": b"0" * 15_000_000, "s02.ipynb": notebook()}))
    report = collect(cls, MODULE, inbox)
    assert "more than 200 times its size" in why(report, "s01.ipynb")
    assert report.with_state("handed in") == ("s02",)


def test_a_size_that_the_archive_lies_about_does_not_help(cls: ClassFolder, inbox: Path) -> None:
    honest = zipped({"s01.ipynb": b"0" * 3_000_000})
    size = (3_000_000).to_bytes(4, "little")
    put(inbox, "x.zip", honest.replace(size, (900).to_bytes(4, "little")))
    report = collect(cls, MODULE, inbox, limits=Limits(notebook_bytes=1_000_000))
    assert why(report, "s01.ipynb")
    assert report.with_state("handed in") == ()


def test_too_many_files_too_deep_and_too_much_in_all(cls: ClassFolder, inbox: Path) -> None:
    deep = zipped({"s02.zip": zipped({"inner.zip": zipped({"a.ipynb": notebook()})})})
    put(inbox, "deep.zip", deep)
    assert "a zip in a zip in a zip" in why(collect(cls, MODULE, inbox / "deep.zip"), "inner.zip")
    put(inbox, "many.zip", zipped({f"{n}.txt": b"" for n in range(12)}))
    report = collect(cls, MODULE, inbox / "many.zip", limits=Limits(archive_entries=10))
    assert "it holds 12 files; at most 10" in why(report, "many.zip")
    put(inbox, "a/s01.ipynb", notebook("1"))
    put(inbox, "a/s02.ipynb", notebook("2"))
    with pytest.raises(CourseError, match="collect it in smaller parts"):
        collect(cls, MODULE, inbox / "a", limits=Limits(all_bytes=len(notebook()) + 1))


def test_one_students_flood_costs_that_student_and_not_the_class(cls: ClassFolder, inbox: Path) -> None:
    padded = [notebook(str(n)) + b" " * 900_000 for n in range(9)]
    for number in range(5):
        put(inbox, f"s01/{MODULE} copy {number}.ipynb", padded[number])
    put(inbox, "s02.ipynb", notebook("2"))
    put(inbox, "s03.zip", zipped({f"{MODULE} ({n}).ipynb": content for n, content in enumerate(padded)}))
    limits = Limits(student_bytes=2_000_000, all_bytes=4_500_000, archive_bytes=3_000_000)
    report = collect(cls, MODULE, inbox, limits=limits)
    assert report.with_state("handed in") == ("s01", "s02", "s03")
    whys = [item.why for item in report.refused]
    assert sum("came for student s01" in why for why in whys) == 3
    assert sum("unpacks to more than 3 MB" in why for why in whys) == 1


def test_folders_without_end_and_names_that_are_no_text(cls: ClassFolder, inbox: Path) -> None:
    deep = inbox.joinpath("s01", *["d"] * 60)
    put(deep, f"{MODULE}.ipynb", notebook("1"))
    named = os.fsdecode(os.fsencode(inbox) + b"/s02 homework \xff.ipynb")
    put(inbox, named, notebook("2"))
    report = collect(cls, MODULE, inbox)
    assert "more than 40 folders deep" in why(report, "s01/d")
    assert report.with_state("handed in") == ("s02",)
    (kept,) = everything_received(cls, MODULE, "s02")
    assert kept.name == "s02 homework ?.ipynb"


def test_a_password_a_damaged_archive_and_a_damaged_entry(cls: ClassFolder, inbox: Path) -> None:
    good = zipped({"s01.ipynb": notebook()})
    # Bit 0 of the general purpose flags says "encrypted" (ZIP application note, from memory).
    locked = bytearray(good)
    for signature, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        locked[good.index(signature) + offset] |= 1
    put(inbox, "a.zip", bytes(locked))
    put(inbox, "b.zip", good[:-30])
    broken = bytearray(zipped({"s03.ipynb": os.urandom(500)}))
    broken[100] ^= 0xFF
    put(inbox, "c.zip", bytes(broken))
    report = collect(cls, MODULE, inbox)
    assert "protected with a password" in why(report, "a.zip")
    assert "no readable zip" in why(report, "b.zip")
    assert "it is damaged" in why(report, "c.zip")


def test_two_entries_of_one_name_are_refused(cls: ClassFolder, inbox: Path) -> None:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive, pytest.warns(UserWarning, match="Duplicate name"):
        archive.writestr("s01.ipynb", notebook("1"))
        archive.writestr("s01.ipynb", notebook("2"))
    put(inbox, "x.zip", stream.getvalue())
    report = collect(cls, MODULE, inbox)
    assert {item.why.split(",")[0] for item in report.refused} == {"the archive holds two files of this name"}
    assert report.with_state("handed in") == ()


# ------------------------------------------------------------------ what is kept


def fingerprint(folder: Path) -> dict[str, tuple[str, int, int]]:
    return {
        str(path.relative_to(folder)): (
            hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else "",
            path.stat().st_mtime_ns,
            path.stat().st_mode,
        )
        for path in [folder, *folder.rglob("*")]
    }


def test_the_source_is_only_read(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01/a.ipynb", notebook("1"))
    put(inbox, "s02.zip", zipped({"a.ipynb": notebook("2"), "../x.ipynb": b""}))
    put(inbox, "s03/odd.exe", b"MZ")
    before = fingerprint(inbox)
    collect(cls, MODULE, inbox)
    collect(cls, MODULE, inbox)
    assert fingerprint(inbox) == before


def test_what_came_is_kept_byte_for_byte_with_its_time(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01.ipynb", notebook(), datetime(2025, 12, 1, 17, 30, 15, tzinfo=UTC))
    report = collect(cls, MODULE, inbox)
    (kept,) = everything_received(cls, MODULE, "s01")
    assert kept.folder.name == f"20251201T173015Z-{hashlib.sha256(notebook()).hexdigest()[:12]}"
    assert (kept.folder / f"{MODULE}.ipynb").read_bytes() == notebook()
    stamp = cls.submitted_notebook(MODULE, "s01").with_name("timestamp.txt").read_text(encoding="utf-8")
    assert stamp == "2025-12-01 17:30:15.000000 UTC\n"
    assert report.rows[0].late is True  # due 18:00 in Paris, 17:00 UTC


def test_the_time_is_read_by_nbgrader_as_it_was_meant(cls: ClassFolder, inbox: Path) -> None:
    from nbgrader.utils import parse_utc

    put(inbox, "s01.ipynb", notebook(), EARLY)
    collect(cls, MODULE, inbox)
    stamp = cls.submitted_notebook(MODULE, "s01").with_name("timestamp.txt").read_text(encoding="utf-8")
    assert parse_utc(stamp.strip()).replace(tzinfo=UTC) == EARLY


def test_a_given_time_counts_for_all(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01.ipynb", notebook("1"), LATER)
    put(inbox, "x.zip", zipped({"s02.ipynb": notebook("2")}))
    report = collect(cls, MODULE, inbox, received_at=datetime(2025, 12, 1, 12, 0))
    assert {row.received_at for row in report.rows[:2]} == {datetime(2025, 12, 1, 11, 0, tzinfo=UTC)}
    assert [row.late for row in report.rows] == [False, False, None, None]


def test_a_time_in_a_zip_is_on_the_class_clock(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "x.zip", zipped({"s01.ipynb": notebook()}, {"s01.ipynb": (2025, 7, 1, 18, 0, 0)}))
    assert collect(cls, MODULE, inbox).rows[0].received_at == datetime(2025, 7, 1, 16, 0, tzinfo=UTC)


@pytest.mark.parametrize("when", [(1980, 1, 1, 0, 0, 0), (1980, 0, 0, 0, 0, 0)])
def test_a_time_that_was_never_set_is_the_time_of_taking_in(
    cls: ClassFolder, inbox: Path, when: tuple[int, ...]
) -> None:
    put(inbox, "x.zip", zipped({"s01.ipynb": notebook()}, {"s01.ipynb": when}))
    row = collect(cls, MODULE, inbox).rows[0]
    assert row.received_at is not None
    assert abs(row.received_at - datetime.now(UTC)) < timedelta(minutes=1)
    assert "no usable time" in row.words


def test_a_time_that_lies_ahead_is_said(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01.ipynb", notebook(), datetime.now(UTC) + timedelta(days=2))
    assert "ahead of this computer's clock" in collect(cls, MODULE, inbox).rows[0].words


def test_the_same_file_again_changes_nothing(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01.ipynb", notebook())
    collect(cls, MODULE, inbox)
    before = fingerprint(cls.root)
    report = collect(cls, MODULE, inbox, received_at=LATER)
    assert state(report, "s01") == "already in"
    assert fingerprint(cls.root) == before


def test_a_newer_one_takes_its_place_and_both_are_kept(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01.ipynb", notebook("1"), EARLY)
    collect(cls, MODULE, inbox)
    put(inbox, "s01.ipynb", notebook("2"), LATER)
    report = collect(cls, MODULE, inbox)
    assert state(report, "s01") == "handed in again"
    assert working_copy(cls, "s01") == notebook("2")
    kept = [
        (item.folder / f"{MODULE}.ipynb").read_bytes() for item in everything_received(cls, MODULE, "s01")
    ]
    assert kept == [notebook("1"), notebook("2")]


def test_an_older_one_is_kept_but_does_not_count(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01.ipynb", notebook("new"), LATER)
    collect(cls, MODULE, inbox)
    put(inbox, "s01.ipynb", notebook("old"), EARLY)
    report = collect(cls, MODULE, inbox)
    assert state(report, "s01") == "an older one came"
    assert working_copy(cls, "s01") == notebook("new")
    assert len(everything_received(cls, MODULE, "s01")) == 2
    assert report.rows[0].received_at == LATER


def test_a_working_copy_that_an_instructor_mended_is_left_alone(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01.ipynb", notebook()[:40])
    collect(cls, MODULE, inbox)
    cls.submitted_notebook(MODULE, "s01").write_bytes(notebook())
    collect(cls, MODULE, inbox)
    assert working_copy(cls, "s01") == notebook()


@pytest.mark.parametrize("before", [False, True], ids=["the first hand-in", "a second hand-in"])
@pytest.mark.parametrize("failing_write", range(4))
def test_a_full_disk_loses_nothing_and_the_next_run_finishes(
    cls: ClassFolder, inbox: Path, monkeypatch: pytest.MonkeyPatch, failing_write: int, before: bool
) -> None:
    if before:
        put(inbox, "s01.ipynb", notebook("older"), EARLY)
        collect(cls, MODULE, inbox)
    put(inbox, "s01.ipynb", notebook(), LATER)
    real, calls = os.fsync, []

    def full(descriptor: int) -> None:
        calls.append(descriptor)
        if len(calls) > failing_write:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        real(descriptor)

    with monkeypatch.context() as patch:
        patch.setattr(files.os, "fsync", full)
        with pytest.raises(CourseError, match="Could not keep what student s01 handed in: No space left"):
            collect(cls, MODULE, inbox)
    assert not [path for path in cls.root.rglob("*") if ".part-" in str(path)]
    collect(cls, MODULE, inbox)
    assert working_copy(cls, "s01") == notebook()
    stamp = cls.submitted_notebook(MODULE, "s01").with_name("timestamp.txt").read_text(encoding="utf-8")
    assert stamp == "2025-12-02 10:00:00.000000 UTC\n"
    assert len(everything_received(cls, MODULE, "s01")) == 1 + before


def test_a_damaged_note_is_one_sentence(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "s01.ipynb", notebook())
    collect(cls, MODULE, inbox)
    note = everything_received(cls, MODULE, "s01")[0].folder / "received.json"
    note.chmod(0o644)
    note.write_text("{", encoding="utf-8")
    with pytest.raises(CourseError, match=r"The note .* is damaged"):
        collect(cls, MODULE, inbox)


def test_keeping_tells_of_the_hand_in_what_its_note_tells(cls: ClassFolder) -> None:
    item = FoundNotebook("s01/Größe.ipynb", ("s01", "Größe.ipynb"), EARLY, notebook())
    when = EARLY + timedelta(microseconds=7)
    kept = keep(cls, MODULE, "s01", item, when, "told")
    assert everything_received(cls, MODULE, "s01") == [kept]


def test_a_place_is_read_once_for_all_modules(
    cls: ClassFolder, inbox: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = "07_pad_wear"
    put(cls.root, f"cases/{other}/s01.json", b"{}")
    put(inbox, f"s01/{MODULE}.ipynb", notebook())
    put(inbox, f"s01/{other}.ipynb", notebook().replace(b"8.1", b"7.1"))
    put(inbox, f"{MODULE}-s02.ipynb", notebook("24.5"))
    opened: list[str] = []
    read = intake._read
    monkeypatch.setattr(intake, "_read", lambda path, most: opened.append(path.name) or read(path, most))
    reports = {report.module: report for report in collect_all(cls, inbox)}
    assert sorted(opened) == sorted([f"{MODULE}.ipynb", f"{other}.ipynb", f"{MODULE}-s02.ipynb"])
    assert reports[MODULE].with_state("handed in") == ("s01", "s02")
    assert reports[other].with_state("handed in") == ("s01",)
    # Each alone says the same of them.
    assert [row.state for row in collect(cls, other, inbox).rows] == ["already in", *["not handed in"] * 3]


# ------------------------------------------------------------------ what can't be collected at all


def test_unknown_modules_and_places_are_refused(cls: ClassFolder, inbox: Path) -> None:
    with pytest.raises(CourseError, match="No module '99_none' is in this course"):
        collect(cls, "99_none", inbox)
    with pytest.raises(CourseError, match="nothing to collect at"):
        collect(cls, MODULE, inbox / "none")
    with pytest.raises(CourseError, match="neither a folder nor a zip nor a notebook"):
        collect(cls, MODULE, put(inbox, "list.txt", b"x"))
    for place in (cls.root, cls.root / "kits", cls.root.parent):
        with pytest.raises(CourseError, match="holds the class folder or lies in it"):
            collect(cls, MODULE, place)


def test_a_module_that_was_not_handed_out_is_refused(cls: ClassFolder, inbox: Path) -> None:
    (cls.root / "cases" / MODULE / "s01.json").unlink()
    with pytest.raises(CourseError, match="was not handed out to this class yet"):
        collect(cls, MODULE, inbox)


def test_an_empty_folder_means_nobody_handed_in(cls: ClassFolder, inbox: Path) -> None:
    told: list[tuple[int, int, str]] = []
    report = collect(cls, MODULE, inbox, progress=lambda *step: told.append(step))
    assert report.with_state("not handed in") == cls.student_ids
    assert told == [(n, 4, student) for n, student in enumerate(cls.student_ids, start=1)]


def test_no_file_name_in_the_class_holds_a_students_name(cls: ClassFolder, inbox: Path) -> None:
    put(inbox, "Quillstone Amara s01/Quillstone.ipynb", notebook())
    collect(cls, MODULE, inbox)
    assert working_copy(cls, "s01") == notebook()
    assert not [path for path in cls.root.rglob("*") if "quillstone" in path.name.lower()]
