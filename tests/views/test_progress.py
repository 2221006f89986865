"""The learner's record: kept whole, and never in the lesson's way."""

from __future__ import annotations

import errno
import json
import os
from pathlib import Path
from typing import Any

import pytest
from brakecourse.views import progress as progress_module
from brakecourse.views.progress import Progress, Tally

LESSON = "08_rotor_measurement"


def topic_row(**changed: object) -> bytes:
    row = {"lesson": "x", "topic": "y", "latest": [True]} | changed
    return json.dumps({"format": 1, "activities": [], "topics": [row]}).encode()


def record(mine: Progress, *, right: bool = True, activity: str = "set-micrometer") -> str:
    return mine.record(LESSON, activity, "Set a micrometer", right=right)


def test_answers_are_counted_and_found_again_in_the_next_session(tmp_path: Path) -> None:
    path = tmp_path / "progress.json"
    assert [record(Progress(path), right=right) for right in (False, True, True)] == ["", "", ""]
    assert Progress(path).tallies() == [Tally(LESSON, "set-micrometer", "Set a micrometer", 3, 2)]
    assert os.listdir(tmp_path) == ["progress.json"]


def test_the_file_lies_beside_the_notebook_by_default(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    record(Progress())
    assert (tmp_path / "progress.json").is_file()


def test_two_open_lessons_do_not_overwrite_each_other(tmp_path: Path) -> None:
    path = tmp_path / "progress.json"
    one, other = Progress(path), Progress(path)
    record(one)
    record(other, activity="turn-rotor")
    record(one)
    assert {tally.activity: tally.tries for tally in Progress(path).tallies()} == {
        "set-micrometer": 2,
        "turn-rotor": 1,
    }


def test_no_file_is_no_trouble(tmp_path: Path) -> None:
    mine = Progress(tmp_path / "progress.json")
    assert (mine.tallies(), mine.trouble(), mine.erase()) == ([], "", "")


def one_row(**changed: object) -> bytes:
    row = {"lesson": "x", "activity": "y", "title": "z", "tries": 1, "right": 1} | changed
    return json.dumps({"format": 1, "activities": [row]}).encode()


DAMAGED = [
    b"",
    b"{",
    b"[]",
    b"null",
    b"\xff\xfe\x00",
    b'{"format": 2, "activities": []}',
    b'{"format": 1}',
    b'{"format": 1, "activities": [{"lesson": "x"}]}',
    one_row(right=2),
    one_row(tries="1"),
    one_row(tries=True, right=True),
    one_row(lesson=["x"]),
    topic_row(latest=[1]),
    topic_row(latest="right"),
    topic_row(latest=None),
    topic_row(topic=3),
    topic_row(lesson=["x"]),
    b'{"format": 1, "activities": [], "topics": [{"lesson": "x"}]}',
    b"[" * 100_000,
]


@pytest.mark.parametrize("content", DAMAGED, ids=range(len(DAMAGED)))
def test_a_damaged_file_is_told_in_one_sentence_kept_and_replaced(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "progress.json"
    path.write_bytes(content)
    mine = Progress(path)
    assert mine.tallies() == []
    assert "damaged" in mine.trouble()
    assert path.read_bytes() == content  # only looking changes nothing
    told = record(mine)
    assert "damaged" in told and "progress_damaged.json" in told and told.count(".") <= 3
    assert (tmp_path / "progress_damaged.json").read_bytes() == content
    assert mine.tallies()[0].tries == 1
    assert record(mine) == ""
    path.write_bytes(b"again")
    assert "progress_damaged1.json" in record(mine)
    assert (tmp_path / "progress_damaged.json").read_bytes() == content


def test_a_full_disk_loses_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "progress.json"
    record(Progress(path))
    before = path.read_bytes()

    def full(_: Any) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(progress_module.os, "fsync", full)
    told = record(Progress(path))
    assert "could not be saved" in told and "no space" in told and "goes on" in told
    assert path.read_bytes() == before
    assert os.listdir(tmp_path) == ["progress.json"]


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: Any, **__: Any) -> Any:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(progress_module.tempfile, "mkstemp", refused)
    assert "permission denied" in record(Progress(tmp_path / "progress.json"))
    assert os.listdir(tmp_path) == []


def test_a_read_only_file_is_told_and_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "progress.json"
    record(Progress(path))
    before = path.read_bytes()
    path.chmod(0o444)
    told = record(Progress(path))
    assert "read-only" in told and "the lesson goes on" in told
    assert path.read_bytes() == before and os.listdir(tmp_path) == ["progress.json"]


def test_a_missing_folder_is_told(tmp_path: Path) -> None:
    assert "could not be saved" in record(Progress(tmp_path / "gone" / "progress.json"))


def test_a_folder_in_the_place_of_the_file_is_told_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "progress.json"
    (path / "inside").mkdir(parents=True)
    mine = Progress(path)
    assert "could not be opened" in mine.trouble()
    assert "could not be erased" in mine.erase()
    assert (path / "inside").is_dir()


def test_an_unreadable_file_is_never_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A record that cannot be opened now may be a good one: keep it, count nothing."""
    path = tmp_path / "progress.json"
    record(Progress(path))
    before = path.read_bytes()

    def refused(*_: Any, **__: Any) -> Any:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    with monkeypatch.context() as broken:
        broken.setattr(Path, "read_bytes", refused)
        assert "permission denied" in record(Progress(path))
        assert "could not be opened" in Progress(path).trouble()
        assert Progress(path).tallies() == []
    assert path.read_bytes() == before
    assert os.listdir(tmp_path) == ["progress.json"]


def test_erase_and_export(tmp_path: Path) -> None:
    mine = Progress(tmp_path / "progress.json")
    record(mine)
    mine.record(LESSON, "quiz", "A quiz", right=False, topic="hoses")
    mine.record(LESSON, "quiz", "A quiz", right=True, topic="hoses")
    assert mine.as_csv().splitlines() == [
        "lesson,activity,title,tries,right,topic,latest",
        f"{LESSON},quiz,A quiz,2,1,,",
        f"{LESSON},set-micrometer,Set a micrometer,1,1,,",
        f"{LESSON},,,2,1,hoses,wrong right",
    ]
    assert mine.erase() == ""
    assert not mine.path.exists()
    assert mine.topics(LESSON) == {} and mine.as_csv().count("\n") == 1


def test_a_topic_keeps_its_latest_results_for_the_next_session(tmp_path: Path) -> None:
    path = tmp_path / "progress.json"
    for right in (False, False, True, True, True, False, True):
        Progress(path).record(LESSON, "quiz", "A quiz", right=right, topic="hoses")
    Progress(path).record("07_pad_wear", "quiz", "A quiz", right=True, topic="hoses")
    record(Progress(path))  # an answer without a topic leaves the topics alone
    assert Progress(path).topics(LESSON) == {"hoses": (False, True, True, True, False, True)}
    assert Progress(path).topics("07_pad_wear") == {"hoses": (True,)}
    assert Progress(path).topics("01_job_order") == {}


def test_a_record_from_before_topics_were_kept_still_counts(tmp_path: Path) -> None:
    path = tmp_path / "progress.json"
    path.write_bytes(one_row(lesson=LESSON, activity="set-micrometer", tries=3, right=2))
    mine = Progress(path)
    assert mine.trouble() == "" and mine.topics(LESSON) == {}
    assert mine.record(LESSON, "quiz", "A quiz", right=True, topic="hoses") == ""
    assert mine.tallies()[1].tries == 3 and mine.topics(LESSON) == {"hoses": (True,)}


def test_topics_of_a_file_that_cannot_be_used_are_none(tmp_path: Path) -> None:
    (tmp_path / "progress.json").write_bytes(b"{")
    assert Progress(tmp_path / "progress.json").topics(LESSON) == {}
    assert Progress(tmp_path / "progress.json").as_csv().count("\n") == 1


def test_the_file_is_plain_json_without_names_or_times(tmp_path: Path) -> None:
    mine = Progress(tmp_path / "progress.json")
    record(mine)
    stored = json.loads(mine.path.read_text(encoding="utf-8"))
    assert set(stored) == {"format", "activities"}
    assert set(stored["activities"][0]) == {"lesson", "activity", "title", "tries", "right"}


@pytest.mark.parametrize(("tries", "right"), [(1, 2), (-1, -1), (True, True), (1.0, 1), ("1", 1)])
def test_a_tally_refuses_impossible_counts(tries: Any, right: Any) -> None:
    with pytest.raises(ValueError, match=r"tries|right"):
        Tally(LESSON, "a", "b", tries, right)
