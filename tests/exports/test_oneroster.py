"""The OneRoster 1.2 bulk package: every result in it, the same bytes each time, and read by others.

Rules: 1EdTech OneRoster 1.2, CSV binding, as the project's design notes restate them. The independent reader
is Frictionless (a general library for tabular data packages), with a description of the columns, words and
references that was typed apart from the course's own.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
import shutil
import zipfile
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

import pytest
from brakecourse import marking
from brakecourse.classroom import export_log
from brakecourse.classroom.counting import Counted, count
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.classroom.oneroster import read_package
from brakecourse.classroom.oneroster.columns import COLUMNS
from brakecourse.classroom.records import GradeRecord
from brakecourse.classroom.roster import write_roster
from brakecourse.cli import main
from brakecourse.errors import CourseError
from brakecourse.exports import ids
from brakecourse.exports.grades import write_grades_csv
from brakecourse.exports.mastery import Evidence
from brakecourse.exports.oneroster import bulk, oneroster_package, write_oneroster
from brakecourse.exports.tables import export_all
from frictionless import Package

from tests.classroom.oneroster_packages import FILES_1_2, files_1_1, files_1_2, packed
from tests.exports.small_class import ABLE, ABSENT, WAITING, small_class

DESCRIBED = Path(__file__).with_name("oneroster_1_2_datapackage.json")
MODULE, OTHER = "08_rotor_measurement", "07_pad_wear"
SECRET = bytes(range(32))
# In Paris it is the next day already.
HANDED_IN = datetime(2026, 12, 4, 23, 30, tzinfo=UTC)
Rows = dict[str, list[dict[str, str]]]


def rows_of(path: Path) -> Rows:
    """Read every file of a package with Python's own csv and zipfile."""
    with zipfile.ZipFile(path) as archive:
        assert archive.testzip() is None
        return {
            name.removesuffix(".csv"): list(csv.DictReader(io.StringIO(archive.read(name).decode("utf-8"))))
            for name in archive.namelist()
        }


def frictionless_trouble(path: Path, folder: Path) -> list[tuple[str, int | None, str]]:
    """Return what Frictionless has against a package: file, row, kind of trouble."""
    with zipfile.ZipFile(path) as archive:
        archive.extractall(folder)
        there = {name.removesuffix(".csv") for name in archive.namelist()} - {"manifest"}
    described = json.loads(DESCRIBED.read_text(encoding="utf-8"))
    known = {one["path"].removesuffix(".csv") for one in described["resources"]}
    described["resources"] = [
        one for one in described["resources"] if one["path"].removesuffix(".csv") in there
    ]
    assert there <= known
    report = Package.from_descriptor(described, basepath=str(folder)).validate()
    return [
        (Path(task.place).name, getattr(error, "row_number", None), error.type)
        for task in report.tasks
        for error in task.errors
    ]


def record(student: str, status: str = "graded", **more: object) -> GradeRecord:
    """Return a record of 34 of 40 points, in time; names are looked up in the roster, not here."""
    known: dict[str, object] = {
        "auto_points": 30.0, "hand_points": 4.0, "raw_score": 34.0, "max_score": 40.0,
        "waiting_questions": (), "days_late": 0, "late_penalty": 0.0, "final_score": 34.0, "healed": (),
        "handed_in_at": HANDED_IN, "module": MODULE, "why": "",
    }  # fmt: skip
    return GradeRecord(student, "", "", status=status, **{**known, **more})  # type: ignore[arg-type]


NOTHING = dict.fromkeys(("raw_score", "late_penalty", "final_score", "auto_points", "hand_points"))
RECORDS = [
    record("amara.q", days_late=2, late_penalty=6.8, final_score=27.2),
    record("bruno", "waiting for hand-grading", raw_score=30.0, late_penalty=None, final_score=None),
    record("zoe-muller", "excused", why="Ill with the flu.", handed_in_at=None, **NOTHING),
]
EVIDENCE = {
    "read-micrometer": [
        Evidence("amara.q", MODULE, "8.1", 2.0, 3.0, False),
        Evidence("amara.q", MODULE, "8.2", 4.0, 4.0, False),
        Evidence("bruno", MODULE, "8.1", 0.0, 3.0, False),
    ]
}


def written_to(cls: ClassFolder, path: Path) -> Path:
    write_oneroster(cls, path)
    return path


def handed_out(cls: ClassFolder, *modules: str) -> ClassFolder:
    """Let modules count as handed out, without drawing any vehicle."""
    for module in modules:
        for student in cls.student_ids:
            path = cls.case_file(module, student)
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text("{}", encoding="utf-8")
    return cls.with_due(modules[0], datetime(2026, 12, 4, 18, 0))


def from_school(folder: Path, files: dict[str, list[str]]) -> ClassFolder:
    """Make a class from a school's package; nothing of it has been graded."""
    (folder / "school.zip").write_bytes(packed(files))
    cls = new_class(
        folder / "class", folder / "school.zip", name="Evening", wanted="BR1-A", timezone="Europe/Paris",
        secret=SECRET,
    )  # fmt: skip
    return handed_out(cls, MODULE)


def from_plain_list(folder: Path) -> ClassFolder:
    """Make a class with a plain list, with names that are hard on a CSV file."""
    (folder / "roster.csv").write_text(
        'student_id,first_name,last_name,email\namara.q,Amara,"Quillstone, Jr",a@larkmoor.example\n'
        'bruno,=1+1,"O""Neill-Müller",\nzoe-muller,+Zoë,@Fennimoor,\n',
        encoding="utf-8",
    )
    cls = new_class(folder / "class", folder / "roster.csv", name="Evening", term="Autumn", secret=SECRET)
    return handed_out(cls, MODULE)


@pytest.fixture(params=[files_1_1, files_1_2], ids=["1.1", "1.2"])
def school_class(request: pytest.FixtureRequest, tmp_path: Path) -> ClassFolder:
    """A class with a school's list, in either version."""
    return from_school(tmp_path, request.param())


@pytest.fixture
def plain_class(tmp_path: Path) -> ClassFolder:
    """A class with a plain list."""
    return from_plain_list(tmp_path)


@pytest.fixture(params=["1.1", "1.2", "plain"])
def any_class(request: pytest.FixtureRequest, tmp_path: Path) -> ClassFolder:
    """A class with a list of each kind."""
    if request.param == "plain":
        return from_plain_list(tmp_path)
    return from_school(tmp_path, files_1_1() if request.param == "1.1" else files_1_2())


@pytest.fixture
def results(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the gradebook say what RECORDS and EVIDENCE say."""
    gradebook_says(monkeypatch, count(RECORDS, "best"))


def gradebook_says(monkeypatch: pytest.MonkeyPatch, counted: Sequence[Counted]) -> None:
    monkeypatch.setattr(bulk, "counted", lambda cls: list(counted))
    monkeypatch.setattr(bulk, "class_evidence", lambda cls: EVIDENCE)


def test_every_status_is_told_apart(school_class: ClassFolder, tmp_path: Path, results: None) -> None:
    rows = rows_of(written_to(school_class, tmp_path / "o.zip"))
    got = {
        row["studentSourcedId"]: [
            row[name] for name in ("scoreStatus", "score", "scoreDate", "late", "missing")
        ]
        for row in rows["results"]
    }
    assert got == {
        "u-amara": ["fully graded", "27.20", "2026-12-05", "true", "false"],
        "u/bruno@x": ["partially graded", "", "2026-12-05", "false", "false"],
        "u-zoe": ["exempt", "", "2026-12-04", "false", "false"],
    }
    comments = {row["studentSourcedId"]: row["comment"] for row in rows["results"]}
    assert comments["u-amara"] == "34.00 before 6.80 was taken off for being late (days: 2)."
    assert "flu" not in json.dumps(rows)  # why somebody is excused is not the office's business


def test_not_handed_in_is_missing_and_no_zero(
    plain_class: ClassFolder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    records = [
        record("amara.q", "not handed in", handed_in_at=None, **NOTHING),
        record("bruno", "could not be graded", why="The file is damaged.", **NOTHING),
        record("zoe-muller", auto_points=0.0, hand_points=0.0, raw_score=0.0, final_score=0.0),
    ]
    gradebook_says(monkeypatch, count(records, "best"))
    rows = rows_of(written_to(plain_class, tmp_path / "o.zip"))
    students = {row["sourcedId"]: row["username"] for row in rows["users"]}
    got = {
        students[row["studentSourcedId"]]: (row["scoreStatus"], row["score"], row["missing"])
        for row in rows["results"]
    }
    assert got == {
        "amara.q": ("not submitted", "", "true"),
        "bruno": ("submitted", "", "false"),
        "zoe-muller": ("fully graded", "0.00", "false"),
    }


@pytest.mark.parametrize(("rule", "score"), [("best", "30.00"), ("last", "25.00"), ("average", "27.50")])
def test_of_two_attempts_the_classes_rule_counts(
    plain_class: ClassFolder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, rule: str, score: str
) -> None:
    first = record("amara.q", raw_score=30.0, final_score=30.0)
    second = replace(first, module=f"{MODULE}-attempt-2", raw_score=25.0, final_score=25.0)
    others = [record("bruno"), record("zoe-muller")]
    gradebook_says(monkeypatch, count([first, second, *others], rule))  # type: ignore[arg-type]
    handed_out(plain_class, f"{MODULE}-attempt-2")
    cls = open_class(plain_class.root)
    rows = rows_of(written_to(cls, tmp_path / "o.zip"))
    assert (len(rows["lineItems"]), len(rows["results"])) == (1, 3)
    (row,) = [one for one in rows["results"] if one["comment"]]
    assert row["score"] == score and "graded attempts counts" in row["comment"]


def test_another_reader_finds_nothing_wrong(any_class: ClassFolder, tmp_path: Path, results: None) -> None:
    written = written_to(any_class, tmp_path / "o.zip")
    assert frictionless_trouble(written, tmp_path / "out") == []
    with zipfile.ZipFile(written) as archive:
        said = dict(csv.reader(io.StringIO(archive.read("manifest.csv").decode("utf-8"))))
        assert said["oneroster.version"] == "1.2" and said["manifest.version"] == "1.0"
        there = {name.removesuffix(".csv") for name in archive.namelist()}
        assert {name for name in FILES_1_2 if said[f"file.{name}"] == "bulk"} == there - {"manifest"}
        assert {said[f"file.{name}"] for name in set(FILES_1_2) - there} == {"absent"}
        for name in archive.namelist():
            lines = archive.read(name).split(b"\r\n")
            assert lines[-1] == b"" and len(lines) > 2 and b"\n" not in b"".join(lines)


def test_the_other_reader_would_find_what_is_wrong(
    plain_class: ClassFolder, tmp_path: Path, results: None
) -> None:
    """Frictionless's own words for each planted fault: the check above is one that can fail."""
    written = written_to(plain_class, tmp_path / "o.zip")
    with zipfile.ZipFile(written) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    user = rows_of(written)["users"][0]["sourcedId"].encode()
    faults = {
        "results.csv": (b"exempt", b"excused", "constraint-error"),
        "enrollments.csv": (user, b"nobody", "foreign-key"),
        "lineItems.csv": (b"2026-12-04", b"4.12.2026", "type-error"),
        "users.csv": (b",enabledUser,username", b",username,enabledUser", "incorrect-label"),
    }
    for number, (name, (old, new, kind)) in enumerate(faults.items()):
        assert old in files[name]
        broken = tmp_path / f"{number}.zip"
        broken.write_bytes(packed({**files, name: files[name].replace(old, new, 1)}))
        found = frictionless_trouble(broken, tmp_path / str(number))
        assert (name, kind) in {(file, trouble) for file, _, trouble in found}


def test_the_description_and_the_course_name_the_same_columns() -> None:
    described = json.loads(DESCRIBED.read_text(encoding="utf-8"))["resources"]
    assert {one["path"].removesuffix(".csv") for one in described} == set(COLUMNS["1.2"])
    for one in described:
        columns = COLUMNS["1.2"][one["path"].removesuffix(".csv")]
        fields = {field["name"]: field.get("constraints", {}) for field in one["schema"]["fields"]}
        assert [column.name for column in columns] == list(fields)
        assert [column.required for column in columns] == [
            bool(found.get("required")) for found in fields.values()
        ]


def test_the_package_makes_the_same_class_again(
    any_class: ClassFolder, tmp_path: Path, results: None
) -> None:
    """List in, results out, and in again: the same people by the same ids, whatever is in their names."""
    written = written_to(any_class, tmp_path / "o.zip")
    again = new_class(tmp_path / "again", written, name="Again", secret=SECRET)
    told = {(one.student_id, one.first_name, one.last_name, one.email) for one in any_class.roster}
    assert {(one.student_id, one.first_name, one.last_name, one.email) for one in again.roster} == told
    if any_class.oneroster is not None:
        assert {one.lms_user_id for one in again.roster} == {"u-amara", "u/bruno@x", "u-zoe"}


def test_what_the_school_gave_goes_back_unchanged(
    school_class: ClassFolder, tmp_path: Path, results: None
) -> None:
    rows = rows_of(written_to(school_class, tmp_path / "o.zip"))
    given = {
        name: {row["sourcedId"]: row for row in csv.DictReader(io.StringIO("\n".join(files_1_2()[name])))}
        for name in ("orgs", "academicSessions", "courses", "classes", "enrollments", "users")
    }
    for name, known in given.items():
        for row in rows[name]:
            same = [key for key in row if key not in {"password", "primaryOrgSourcedId", "userIds"}]
            if school_class.oneroster and school_class.oneroster.version == "1.1":
                same = [key for key in same if key not in {"givenName", "preferredGivenName"}]
            assert {key: row[key] for key in same} == {key: known[row["sourcedId"]][key] for key in same}
    assert {row["password"] for row in rows["users"]} == {""}
    assert {(row["userSourcedId"], row["role"]) for row in rows["roles"]} == {
        ("u-amara", "student"), ("u/bruno@x", "student"), ("u-zoe", "student"), ("t-dafydd", "teacher"),
    }  # fmt: skip
    primary = Counter(row["userSourcedId"] for row in rows["roles"] if row["roleType"] == "primary")
    assert set(primary.values()) == {1}
    assert rows["lineItems"][0]["academicSessionSourcedId"] == "autumn"  # the term, not the school year


def test_a_class_that_runs_a_whole_school_year_gets_a_period_in_it(tmp_path: Path, results: None) -> None:
    files = files_1_2()
    files["classes"] = [one.replace('"autumn"', "y2027") for one in files["classes"]]
    (tmp_path / "school.zip").write_bytes(packed(files))
    cls = handed_out(new_class(tmp_path / "class", tmp_path / "school.zip", name="E", wanted="BR1-A"), MODULE)
    rows = rows_of(written_to(cls, tmp_path / "o.zip"))
    session = {row["sourcedId"]: row for row in rows["academicSessions"]}[
        rows["lineItems"][0]["academicSessionSourcedId"]
    ]
    assert (session["type"], session["parentSourcedId"]) == ("gradingPeriod", "y2027")
    assert (session["startDate"], session["endDate"]) == ("2026-08-01", "2027-08-01")


def test_the_same_results_give_the_same_bytes(
    plain_class: ClassFolder, tmp_path: Path, results: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = written_to(plain_class, tmp_path / "a.zip").read_bytes()
    monkeypatch.setattr("time.time", lambda: 2_000_000_000.0)
    gradebook_says(monkeypatch, count(list(reversed(RECORDS)), "best"))
    moved = open_class(Path(shutil.copytree(plain_class.root, tmp_path / "elsewhere")))
    write_roster(list(reversed(moved.roster)), moved.roster_file)
    moved.settings_file.write_text(
        "# renamed\n" + moved.settings_file.read_text(encoding="utf-8"), encoding="utf-8"
    )
    assert written_to(open_class(moved.root), tmp_path / "b.zip").read_bytes() == first
    gradebook_says(monkeypatch, count([replace(RECORDS[0], final_score=27.3), *RECORDS[1:]], "best"))
    assert written_to(plain_class, tmp_path / "c.zip").read_bytes() != first


def test_competencies_go_by_the_uuids_of_the_framework(
    plain_class: ClassFolder, tmp_path: Path, results: None
) -> None:
    rows = rows_of(written_to(plain_class, tmp_path / "o.zip"))
    tested = {name for one in marking.questions(MODULE) for name in one.competencies}
    assert {row["learningObjectiveId"] for row in rows["lineItemLearningObjectiveIds"]} == {
        f"urn:uuid:{ids.competency_uuid(name)}" for name in tested
    }
    student = {row["sourcedId"]: row["username"] for row in rows["users"]}
    result = {row["sourcedId"]: student[row["studentSourcedId"]] for row in rows["results"]}
    got = {
        (result[row["resultSourcedId"]], row["score"], row["textScore"], row["source"])
        for row in rows["resultLearningObjectiveIds"]
    }
    # Amara has 6 of 7 marks, over two questions only; Bruno 0 of 3. The rule asks for more questions.
    assert got == {
        ("amara.q", "85.71", "too little to tell", "case"),
        ("bruno", "0.00", "too little to tell", "case"),
    }


def test_a_school_and_a_term_are_made_from_the_settings(
    plain_class: ClassFolder, tmp_path: Path, results: None
) -> None:
    said = oneroster_package(plain_class).said
    assert [line.split(":")[0] for line in said] == ["School", "First day", "Last day"]
    rows = rows_of(written_to(plain_class, tmp_path / "o.zip"))
    (term,) = rows["academicSessions"]
    # Due on 4 December 2026: the year from 1 August to 31 July, its last day not in it.
    assert (term["title"], term["startDate"], term["endDate"]) == ("Autumn", "2026-08-01", "2027-08-01")
    assert term["schoolYear"] == "2027" and rows["orgs"][0]["name"] == "Training school"
    text = plain_class.settings_file.read_text(encoding="utf-8").replace('school = ""', 'school = "Larkmoor"')
    text = text.replace("[due]", "begins = 2026-09-07\nends = 2026-12-31\n\n[due]")
    plain_class.settings_file.write_text(text, encoding="utf-8")
    cls = open_class(plain_class.root)
    rows = rows_of(written_to(cls, tmp_path / "o.zip"))
    (term,) = rows["academicSessions"]
    assert oneroster_package(cls).said == () and rows["orgs"][0]["name"] == "Larkmoor"
    assert (term["startDate"], term["endDate"], term["schoolYear"]) == ("2026-09-07", "2027-01-01", "2026")
    assert rows["lineItems"][0]["assignDate"] == "2026-09-07"


def test_a_class_without_any_day_is_asked_for_one(
    plain_class: ClassFolder, tmp_path: Path, results: None
) -> None:
    text = plain_class.settings_file.read_text(encoding="utf-8").partition("[due]")[0]
    plain_class.settings_file.write_text(text + "[due]\n", encoding="utf-8")
    with pytest.raises(CourseError, match=r"write a line such as 'begins = 2026-09-01' above \[due\]"):
        written_to(open_class(plain_class.root), tmp_path / "o.zip")
    assert not (tmp_path / "o.zip").exists()


def test_a_part_is_refused(school_class: ClassFolder, results: None) -> None:
    with pytest.raises(CourseError, match=r"the whole truth.*1 of 1 modules would be left out"):
        oneroster_package(school_class, modules=())
    with pytest.raises(CourseError, match=r"2 of 3 students would be left out; export all of them"):
        oneroster_package(school_class, students=("bruno",))
    assert oneroster_package(school_class, students=school_class.student_ids).students == 3
    # Somebody took a line out of the roster by hand.
    write_roster(school_class.roster[1:], school_class.roster_file)
    with pytest.raises(CourseError, match=r"leaves out 1 of the 3 students who are enrolled"):
        oneroster_package(open_class(school_class.root))


def test_what_left_the_class_is_in_its_log(plain_class: ClassFolder, tmp_path: Path, results: None) -> None:
    content = written_to(plain_class, tmp_path / "o.zip").read_bytes()
    (line,) = export_log.lines(plain_class)
    digest = hashlib.sha256(content).hexdigest()
    assert line[1:] == ["oneroster", "o.zip", digest, "3", "outside the exports folder"]


def test_who_left_is_not_in_it(
    school_class: ClassFolder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gradebook_says(monkeypatch, count(RECORDS[:1], "best"))
    gone = [replace(one, left="2026-12-01") for one in school_class.roster if one.student_id != "amara.q"]
    write_roster([school_class.student("amara.q"), *gone], school_class.roster_file)
    rows = rows_of(written_to(open_class(school_class.root), tmp_path / "o.zip"))
    assert {row["sourcedId"] for row in rows["users"]} == {"u-amara", "t-dafydd"}
    assert [row["studentSourcedId"] for row in rows["results"]] == ["u-amara"]
    assert frictionless_trouble(tmp_path / "o.zip", tmp_path / "out") == []


def test_who_was_added_by_hand_is_in_it_too(
    school_class: ClassFolder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gradebook_says(monkeypatch, count([*RECORDS, record("gina")], "best"))
    gina = replace(school_class.roster[0], student_id="gina", first_name="Gina", lms_user_id="")
    write_roster([*school_class.roster, gina], school_class.roster_file)
    rows = rows_of(written_to(open_class(school_class.root), tmp_path / "o.zip"))
    assert len(rows["results"]) == len({row["studentSourcedId"] for row in rows["results"]}) == 4
    assert frictionless_trouble(tmp_path / "o.zip", tmp_path / "out") == []


def test_a_name_is_altered_for_people_only(plain_class: ClassFolder, tmp_path: Path, results: None) -> None:
    """A spreadsheet would run "=1+1"; a program reads the name as it is."""
    rows = rows_of(written_to(plain_class, tmp_path / "o.zip"))
    assert {row["givenName"] for row in rows["users"]} == {"Amara", "=1+1", "+Zoë"}
    write_grades_csv([replace(RECORDS[0], first_name="=1+1", last_name="@Fennimoor")], tmp_path / "g.csv")
    with (tmp_path / "g.csv").open(encoding="utf-8", newline="") as handle:
        (row,) = csv.DictReader(handle)
    assert (row["first_name"], row["last_name"]) == ("'=1+1", "'@Fennimoor")


def test_a_real_gradebook_goes_out_whole(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two modules as grading left them: one student has everything right, one is absent, others wait."""
    cls = small_class(tmp_path)
    out = tmp_path / "o.zip"
    assert main(["export-oneroster", str(cls.root), "--out", str(out)]) == 0
    said = capsys.readouterr().out
    assert "In it: 4 students, 2 modules, 8 results." in said and "because 'school' is not set" in said
    rows = rows_of(out)
    student = {row["sourcedId"]: row["username"] for row in rows["users"]}
    line = {row["sourcedId"]: row for row in rows["lineItems"]}
    got = {
        (line[row["lineItemSourcedId"]]["title"][:2], student[row["studentSourcedId"]]): row
        for row in rows["results"]
    }
    for module in ("07", "08"):
        able, absent = got[module, ABLE], got[module, ABSENT]
        assert able["scoreStatus"] == "fully graded" and float(able["score"]) > 0
        assert ("taken off for being late" in able["comment"]) == (able["late"] == "true")
        assert (absent["scoreStatus"], absent["missing"]) == ("not submitted", "true")
    assert "partially graded" in {got[module, WAITING]["scoreStatus"] for module in ("07", "08")}
    # The grade tables for people, which other tests hold to the gradebook, say the same.
    export_all(cls)
    with (cls.exports / "results.csv").open(encoding="utf-8", newline="") as handle:
        told = {(row["module"][:2], row["student_id"]): row for row in csv.DictReader(handle)}
    assert got.keys() == told.keys()
    for key, row in got.items():
        assert (row["score"], row["scoreStatus"]) == (told[key]["final_score"], WORDS[told[key]["status"]])
    assert frictionless_trouble(out, tmp_path / "out") == []
    ables = {row["sourcedId"] for key, row in got.items() if key[1] == ABLE}
    marks = {row["score"] for row in rows["resultLearningObjectiveIds"] if row["resultSourcedId"] in ables}
    assert marks == {"100.00"}
    before = out.read_bytes()
    assert main(["export-oneroster", str(cls.root), "--out", str(out)]) == 0 and out.read_bytes() == before


WORDS = {
    "graded": "fully graded",
    "waiting for hand-grading": "partially graded",
    "could not be graded": "submitted",
    "not handed in": "not submitted",
    "excused": "exempt",
}


def test_nothing_handed_out_is_nothing_to_export(tmp_path: Path) -> None:
    (tmp_path / "r.csv").write_text("student_id,first_name,last_name\ns01,A,B\n", encoding="utf-8")
    cls = new_class(tmp_path / "class", tmp_path / "r.csv", name="Evening")
    with pytest.raises(CourseError, match="no module was handed out"):
        written_to(cls, tmp_path / "o.zip")


def test_the_courses_own_reader_reads_all_of_it(
    school_class: ClassFolder, tmp_path: Path, results: None
) -> None:
    path = written_to(school_class, tmp_path / "o.zip")
    package = read_package(path, files=tuple(COLUMNS["1.2"]))
    assert len(package.rows("results")) == 3 and package.unread == ()


def test_ids_never_change(plain_class: ClassFolder) -> None:
    """Golden values: whoever has an old export must find the same things in a new one."""
    class_id = ids.class_uuid(plain_class)
    found = {
        "course": ids.course_uuid(),
        "competency": ids.competency_uuid("read-micrometer"),
        "module": ids.module_uuid(MODULE),
        "class": class_id,
        "student": ids.student_uuid(class_id, "s01"),
        "line item": ids.line_item_uuid(class_id, f"{MODULE}-attempt-2"),
        "result": ids.result_uuid(class_id, MODULE, "s01"),
    }
    assert {name: str(value) for name, value in found.items()} == GOLDEN
    assert {value.version for value in found.values()} == {5}
    assert plain_class.secret.hex() not in str(class_id)
    assert ids.uuid_of("a", "b", "c") != ids.uuid_of("a", "b,c") != ids.uuid_of("a,b", "c")


GOLDEN = {
    "course": "2cf651f4-73ab-54da-91d1-2e8a18270fd8",
    "competency": "6fef3675-fda3-50a1-a9d0-e40a5e19a34d",
    "module": "9bdee0d1-8f44-5dad-8f4b-9f26280b6e7f",
    "class": "8b57def1-02c2-50a7-830f-0827283aa594",
    "student": "464e6962-3387-5fbc-8548-f1971794f21e",
    "line item": "fb671808-7a6d-5c2e-b0b1-336342d4b964",
    "result": "00b20c38-3da3-5dcd-812a-dc6412c52ae9",
}


def test_a_uuid_is_one(plain_class: ClassFolder, tmp_path: Path, results: None) -> None:
    rows = rows_of(written_to(plain_class, tmp_path / "o.zip"))
    every = [row["sourcedId"] for name, found in rows.items() if name != "manifest" for row in found]
    assert all(str(UUID(one)) == one and UUID(one).version == 5 for one in every)
    assert len(set(every)) == len(every)
