"""Badges: who gets one, what it says and never says, and that nothing in it can be changed unseen."""

from __future__ import annotations

import copy
import hashlib
import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from brakecourse import marking
from brakecourse.classroom.counting import Counted
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import GradeRecord
from brakecourse.errors import CourseError
from brakecourse.exports import badges
from brakecourse.exports.badge_check import verify, whose
from brakecourse.exports.badge_key import KEY_NAME, make_key, read_key
from brakecourse.exports.badges import COURSE, Standing, badge_bytes, judged, standings
from brakecourse.exports.ids import competency_uuid
from brakecourse.exports.mastery import Mastery, rules
from brakecourse.exports.signing import did_of, signed
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from openbadgeslib.ob3.ldp import OB3LdpVerifier
from openbadgeslib.ob3.verifier import OB3VerificationError

from tests.exports.small_class import ABLE, ABSENT, MODULES, WAITING, WEAK, small_class

SCHEMA = json.loads(
    (Path(__file__).with_name("vectors") / "ob_v3p0_achievementcredential_schema.json").read_text(
        encoding="utf-8"
    )
)
NOW = datetime(2026, 6, 1, 9, 0, tzinfo=UTC)
KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))


@pytest.fixture(scope="module")
def cls(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    return small_class(tmp_path_factory.mktemp("badges"))


@pytest.fixture(scope="module")
def everyone(cls: ClassFolder) -> list[Standing]:
    return standings(cls)


@pytest.fixture(scope="module")
def badge(cls: ClassFolder, everyone: list[Standing]) -> bytes:
    return badge_bytes(cls, next(one for one in everyone if one.earned), KEY)


@pytest.fixture(autouse=True)
def no_network(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("the network was asked for")

    monkeypatch.setattr("socket.socket.connect", refuse)
    monkeypatch.setattr("socket.create_connection", refuse)
    monkeypatch.setattr("socket.getaddrinfo", refuse)


# Who gets one


def test_who_gets_a_badge_of_the_class(everyone: list[Standing]) -> None:
    assert {(one.student_id, one.what) for one in everyone if one.earned} == {
        (ABLE, name) for name in MODULES
    }
    why = {(one.student_id, one.what): one.why for one in everyone}
    assert "0.0 % of the marks; 70 % are asked for" in why[WEAK, MODULES[0]]
    assert why[ABSENT, MODULES[0]] == "The work is not handed in."
    assert why[WAITING, MODULES[1]] == "The work is waiting for hand-grading."
    assert why[ABLE, COURSE].startswith("Not completed: 01_job_order")


def record(module: str, status: str = "graded", score: float = 90.0) -> Counted:
    final = score if status == "graded" else None
    own = GradeRecord(
        "s1", "Amara", "Quillstone", module, status, "", final, None, (), final, 100.0, 0, 0.0, final, ()
    )  # type: ignore[arg-type]
    return Counted(own, (1,), (1,), "")


def mastery(**states: str) -> list[Mastery]:
    """Everything is mastered, but what is named."""
    return [
        Mastery(
            "s1",
            rule.competency,
            9,
            10,
            4,
            2,
            (),
            states.get(rule.competency.replace("-", "_"), "mastered"),
            "",
        )  # type: ignore[arg-type]
        for rule in rules()
    ]


def judge(results: list[Counted], known: list[Mastery], percent: float = 70.0) -> dict[str, Standing]:
    when = {(one.record.module, "s1"): NOW for one in results}
    return {one.what: one for one in judged(results, known, when, percent)}


ALL = [record(module) for module in marking.MODULES]


def test_the_course_is_completed_by_all_modules_and_all_competencies() -> None:
    found = judge(ALL, mastery())[COURSE]
    assert (found.earned, found.percent, found.when, len(found.mastered)) == (True, 90.0, NOW, len(rules()))


@pytest.mark.parametrize("change", ["a module missing", "one below", "excused", "too little to tell"])
def test_the_course_is_not_completed(change: str) -> None:
    others, known = ALL[:-1], mastery()
    last = marking.MODULES[-1]
    results = {
        "a module missing": others,
        "one below": [*others, record(last, score=69.9)],
        "excused": [*others, record(last, "excused")],
        "too little to tell": ALL,
    }[change]
    if change == "too little to tell":
        known = mastery(tell_customer="too little to tell")
    found = judge(results, known)[COURSE]
    assert not found.earned and found.why


def test_the_marks_are_compared_with_the_settings_share() -> None:
    assert judge([record("08_rotor_measurement", score=70.0)], mastery())["08_rotor_measurement"].earned
    assert not judge([record("08_rotor_measurement", score=69.99)], mastery())["08_rotor_measurement"].earned
    assert not judge([record("08_rotor_measurement", score=70.0)], mastery(), 80)[
        "08_rotor_measurement"
    ].earned


def test_a_competency_that_is_not_yet_there_stands_in_the_way_of_its_modules_only() -> None:
    results = [record("08_rotor_measurement"), record("03_brake_fluid")]
    found = judge(results, mastery(read_micrometer="not yet"))
    assert "read-micrometer (not yet)" in found["08_rotor_measurement"].why and found["03_brake_fluid"].earned
    few = judge(results, mastery(read_micrometer="too little to tell"))["08_rotor_measurement"]
    assert few.earned and "read-micrometer" not in few.mastered and "decide-rotor" in few.mastered


def test_no_badge_without_having_earned_it(cls: ClassFolder, everyone: list[Standing]) -> None:
    with pytest.raises(ValueError, match="only an earned"):
        badge_bytes(cls, next(one for one in everyone if not one.earned), KEY)


# What it says


def test_it_fits_the_published_schema(badge: bytes) -> None:
    """Source: the Open Badges 3.0 JSON Schema (vectors/README.md)."""
    check = jsonschema.Draft201909Validator(SCHEMA, format_checker=jsonschema.FormatChecker())
    check.validate(json.loads(badge))
    without = json.loads(badge)
    del without["credentialSubject"]["achievement"]["criteria"]
    assert not check.is_valid(without)


def test_it_says_completed_and_that_it_is_no_licence(badge: bytes) -> None:
    values = json.loads(badge)
    achievement = values["credentialSubject"]["achievement"]
    assert achievement["achievementType"] not in ("License", "Certification", "Certificate")
    assert achievement["name"] == "Completed module 7 of the disc-brake course, Reading the old pads"
    for text in (achievement["description"], achievement["criteria"]["narrative"]):
        assert "no licence and no certification" in text and "local law" in text and "maker's data" in text
    assert "at least 70 % of the marks" in achievement["criteria"]["narrative"]
    assert values["credentialSubject"]["result"][0]["value"] == "100"


def test_its_competencies_are_items_of_the_framework(cls: ClassFolder) -> None:
    standing = Standing(ABLE, COURSE, True, "", 91.25, NOW, ("read-micrometer", "decide-rotor"))
    values = json.loads(badge_bytes(cls, standing, KEY))
    targets = values["credentialSubject"]["achievement"]["alignment"]
    assert [one["targetUrl"] for one in targets] == [
        competency_uuid(name).urn for name in ("read-micrometer", "decide-rotor")
    ]
    assert {one["targetType"] for one in targets} == {"CFItem"}
    assert values["credentialSubject"]["result"][0]["value"] == "91.3"
    assert values["credentialSubject"]["achievement"]["achievementType"] == "Course"


def test_it_names_nobody(cls: ClassFolder, badge: bytes) -> None:
    text = badge.decode()
    for entry in cls.roster:
        for word in (entry.student_id, entry.first_name, entry.last_name, entry.email):
            assert word not in text
    assert whose(badge, cls) == ABLE
    (identity,) = json.loads(badge)["credentialSubject"]["identifier"]
    assert identity["identityType"] == "oneRosterSourcedId" and identity["hashed"] is True


def test_the_schools_own_id_goes_before_the_courses(cls: ClassFolder, badge: bytes) -> None:
    """So a school whose system told its ids can find the student by them (OneRoster's sourcedId)."""
    roster = tuple(replace(one, lms_user_id=f"school-{one.student_id}") for one in cls.roster)
    school = replace(cls, roster=roster)
    own = badge_bytes(school, Standing(ABLE, MODULES[0], True, "", 100.0, NOW, ()), KEY)
    (identity,) = json.loads(own)["credentialSubject"]["identifier"]
    # Source: Open Badges 3.0, IdentityHash: SHA-256 of the identity with the salt behind it.
    wanted = hashlib.sha256(f"school-{ABLE}{identity['salt']}".encode()).hexdigest()
    assert identity["identityHash"] == f"sha256${wanted}"
    assert whose(own, school) == ABLE and whose(own, cls) is None and whose(badge, school) is None


def test_the_same_standing_gives_the_same_bytes(
    cls: ClassFolder, everyone: list[Standing], badge: bytes
) -> None:
    first, second = (one for one in everyone if one.earned)
    assert badge_bytes(cls, first, KEY) == badge
    other = json.loads(badge_bytes(cls, second, KEY))
    assert other["id"] != json.loads(badge)["id"]


# Signature and verdict


def test_ours_and_another_verifier_accept_it(badge: bytes) -> None:
    """Outside check: openbadgeslib 4.6, a verifier of others, with the network shut off."""
    did = did_of(KEY.public_key())
    verdict = verify(badge, did)
    assert verdict.genuine and "Signed by: Big evening class (invented)" in " ".join(verdict.lines)
    assert OB3LdpVerifier.for_issuer_did(did).verify(badge) is not None
    assert any("Reading the old pads, with 100 % of the marks" in line for line in verdict.lines)
    assert "publishes" in verify(badge).lines[-1]


def leaves(values: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if isinstance(values, dict | list):
        for key, value in values.items() if isinstance(values, dict) else enumerate(values):
            yield from leaves(value, (*path, key))
    else:
        yield path


def changed(values: Any, path: tuple[Any, ...], value: Any) -> bytes:
    found = copy.deepcopy(values)
    place = found
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value(place[path[-1]])
    return json.dumps(found).encode()


def other(value: Any) -> Any:
    """Return another value of the same form, so that only the signature can tell."""
    if isinstance(value, bool):
        return not value
    last = value[-1]
    return value[:-1] + ("1" if last != "1" else "2") if last.isalnum() else value + " x"


def refused_by_us(content: bytes) -> bool:
    try:
        return not verify(content).genuine
    except CourseError:
        return True


def refused_by_the_other(content: bytes) -> bool:
    try:
        OB3LdpVerifier.for_issuer_did(did_of(KEY.public_key())).verify(content)
    except OB3VerificationError:
        return True
    return False


def test_every_single_value_is_covered_by_the_signature(cls: ClassFolder) -> None:
    content = badge_bytes(cls, Standing(ABLE, COURSE, True, "", 91.25, NOW, ("read-micrometer",)), KEY)
    values = json.loads(content)
    paths = list(leaves(values))
    assert len(paths) > 40
    for number, path in enumerate(paths):
        forged = changed(values, path, other)
        assert refused_by_us(forged), path
        assert number % 5 or refused_by_the_other(forged), path


def test_a_better_result_is_refused(badge: bytes) -> None:
    forged = badge.replace(b'"value": "100"', b'"value": "99"')
    assert forged != badge
    assert verify(forged).lines[0].startswith("Not genuine: the badge was changed after it was signed")
    assert refused_by_the_other(forged)


@pytest.mark.parametrize(
    "where", [(), ("credentialSubject",), ("credentialSubject", "achievement"), ("issuer",)]
)
def test_an_added_field_is_refused(badge: bytes, where: tuple[str, ...]) -> None:
    values = json.loads(badge)
    place = values
    for key in where:
        place = place[key]
    place["licence"] = "A"
    forged = json.dumps(values).encode()
    with pytest.raises(CourseError, match="a field that a badge never has"):
        verify(forged)
    assert refused_by_the_other(forged)


def test_a_field_written_twice_is_refused(badge: bytes) -> None:
    forged = badge.replace(b'"value": "100"', b'"value": "1", "value": "100"')
    with pytest.raises(CourseError, match="twice"):
        verify(forged)


def test_another_key_under_the_schools_name_is_told(badge: bytes) -> None:
    forger, real = Ed25519PrivateKey.from_private_bytes(bytes(32)), did_of(KEY.public_key())
    values = {name: value for name, value in json.loads(badge).items() if name != "proof"}
    kept_name = json.dumps(
        signed(values, forger)
    ).encode()  # signed by another key, the school's did:key kept
    assert refused_by_us(kept_name) and refused_by_the_other(kept_name)
    values["issuer"]["id"] = did_of(forger.public_key())
    own_name = json.dumps(signed(values, forger)).encode()
    assert verify(own_name).genuine  # a good signature of somebody; who that is, only the issuer's key tells
    assert verify(own_name, real).lines[0].startswith("Not from this school")
    assert refused_by_the_other(own_name)


def test_the_proofs_own_words_are_covered(badge: bytes) -> None:
    did = did_of(KEY.public_key())
    forged = badge.replace(f"{did}#".encode(), f"{did}?#".encode())
    assert forged != badge and refused_by_us(forged)


@pytest.mark.parametrize("content", [b"", b"{}", b"[]", b"\xff\xfe", b'{"a":' * 100_000, b"x" * 300_000])
def test_what_is_no_badge_is_said_in_one_sentence(content: bytes) -> None:
    with pytest.raises(CourseError, match=r"^A badge of this course was expected.*\.$"):
        verify(content)


def test_an_unsigned_badge_is_refused(badge: bytes) -> None:
    values = json.loads(badge)
    del values["proof"]
    with pytest.raises(CourseError, match="not signed"):
        verify(json.dumps(values).encode())


# The key


def test_the_key_is_made_once_and_is_for_its_owner_only(tmp_path: Path, cls: ClassFolder) -> None:
    path = cls.root / KEY_NAME
    with pytest.raises(CourseError, match="badge-key"):
        read_key(cls)
    first = make_key(cls)
    assert path.stat().st_mode & 0o777 == 0o600
    assert make_key(cls).private_bytes_raw() == first.private_bytes_raw() == read_key(cls).private_bytes_raw()
    path.write_text("no key", encoding="utf-8")
    with pytest.raises(CourseError, match="can't be read"):
        read_key(cls)
    path.unlink()
    assert make_key(cls).private_bytes_raw() != first.private_bytes_raw()


def test_the_awards_are_data() -> None:
    found = badges.awards()
    assert set(found) == {"module", "course"}
    assert all("{percent}" in one.narrative for one in found.values())
