"""Badges: Open Badges 3.0 credentials for those who completed a module or the course, signed by the class.

A badge says "completed", never "licensed" or "certified". It bears no name and no address: whoever knows a
student's lasting id can tell whose it is, nobody else.
"""

from __future__ import annotations

import hashlib
import hmac
import json
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from brakecourse import marking
from brakecourse.classroom.attempts import assignment_name
from brakecourse.classroom.counting import Counted, count
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import class_records
from brakecourse.classroom.settled import settled_at
from brakecourse.exports import badge_record as record
from brakecourse.exports.cells import rounded
from brakecourse.exports.ids import (
    class_uuid,
    competency_uuid,
    course_uuid,
    module_uuid,
    student_uuid,
    urn,
    uuid_of,
)
from brakecourse.exports.mastery import Mastery, Rule, everyones_mastery, rules
from brakecourse.exports.signing import did_of, signed
from brakecourse.tables import read_table

COURSE = "course"
NO_LICENCE = (
    "This is no licence and no certification, and gives no leave to work on brakes: who may do so is for "
    "local law to say, and the vehicle maker's data come first."
)
FRAMEWORK = "Disc-brake course: competencies"


@dataclass(frozen=True)
class Award:
    """For what a badge is given, and the rule, from the course's table."""

    award: str
    achievement_type: Literal["Badge", "Course"]
    modules: str
    competencies: str
    narrative: str


@dataclass(frozen=True)
class Standing:
    """One student and one badge: whether it is earned.

    Attributes:
        student_id: who.
        what: a module's name, or "course".
        earned: whether the rule is met.
        why: where it is not, what is missing; else empty.
        percent: share of the marks, in percent; of the course, the mean of its modules.
        when: when its last mark was given, in UTC; None where nothing was.
        mastered: the competencies of these modules that are mastered.
    """

    student_id: str
    what: str
    earned: bool
    why: str
    percent: float
    when: datetime | None
    mastered: tuple[str, ...]


def awards() -> dict[str, Award]:
    """Return the awards by name: "module" and "course"."""
    return {row["award"]: Award(**row) for row in read_table("course/awards.csv")}  # type: ignore[arg-type]


def module_competencies(module: str) -> tuple[str, ...]:
    """Return the competencies that a module's questions bear, in the competencies' order."""
    asked = {name for question in marking.questions(module) for name in question.competencies}
    return tuple(rule.competency for rule in rules() if rule.competency in asked)


def standings(cls: ClassFolder) -> list[Standing]:
    """Return everyone's standing for each module that was handed out, then for the course.

    Raises:
        CourseError: the gradebook can't be read.
    """
    if not cls.assigned:
        return []
    records = class_records(cls)
    results = count((one for module in records for one in module.grades), cls.settings.attempts_count)
    return judged(results, everyones_mastery(cls, records), settled_at(cls), cls.settings.pass_percent)


def judged(
    results: Iterable[Counted],
    everyone: Iterable[Mastery],
    settled: Mapping[tuple[str, str], datetime],
    pass_percent: float,
) -> list[Standing]:
    """Judge by the table's rules who has earned what.

    Args:
        results: what counts of each student's work in each module.
        everyone: how far each student is with each competency.
        settled: when marks were last given, by assignment and student id.
        pass_percent: the share of the marks that a badge asks for.
    """
    mastery: dict[str, dict[str, Mastery]] = defaultdict(dict)
    for known in everyone:
        mastery[known.student_id][known.competency] = known
    modules: dict[str, list[Standing]] = defaultdict(list)
    for one in results:
        own = one.record
        whens = [settled.get((assignment_name(own.module, n), own.student_id)) for n in one.counts]
        when = max((at for at in whens if at is not None), default=None)
        modules[own.student_id].append(_module(one, mastery[own.student_id], when, pass_percent))
    return [
        standing
        for student, own_modules in modules.items()
        for standing in (*own_modules, _course(student, own_modules, mastery[student]))
    ]


def _module(
    one: Counted, known: Mapping[str, Mastery], when: datetime | None, pass_percent: float
) -> Standing:
    own, bears = one.record, module_competencies(one.record.module)
    percent = 100 * (own.final_score or 0.0) / own.max_score if own.max_score else 0.0
    why = ""
    if own.status != "graded":
        why = f"The work is {own.status}." if own.status != "excused" else "The student is excused."
    elif percent < pass_percent - 1e-9:  # sums of marks are binary fractions
        why = f"{rounded(percent, 1)} % of the marks; {pass_percent:g} % are asked for."
    else:
        why = _lacking(awards()["module"], bears, known)
    mastered = _mastered(bears, known)
    return Standing(own.student_id, own.module, not why, why, percent, when, mastered)


def _course(student: str, modules: list[Standing], known: Mapping[str, Mastery]) -> Standing:
    done = {one.what for one in modules if one.earned}
    missing = [name for name in marking.MODULES if name not in done]
    names = [rule.competency for rule in rules()]
    why = f"Not completed: {', '.join(missing)}." if missing else _lacking(awards()[COURSE], names, known)
    when = max((one.when for one in modules if one.when is not None), default=None)
    percent = sum(one.percent for one in modules) / len(modules)
    return Standing(student, COURSE, not why, why, percent, when, _mastered(names, known))


def _lacking(award: Award, names: Iterable[str], known: Mapping[str, Mastery]) -> str:
    """Say which competencies stand in the way, or nothing."""
    wanted = {"none not yet": ("mastered", "too little to tell"), "all mastered": ("mastered",)}
    states = wanted[award.competencies]
    missing = [name for name in names if known[name].state not in states]
    return (
        f"Competencies: {', '.join(f'{name} ({known[name].state})' for name in missing)}." if missing else ""
    )


def _mastered(names: Iterable[str], known: Mapping[str, Mastery]) -> tuple[str, ...]:
    return tuple(name for name in names if known[name].state == "mastered")


def badge_bytes(cls: ClassFolder, standing: Standing, key: Ed25519PrivateKey) -> bytes:
    """Return one signed badge as a file's bytes. The same standing and key give the same bytes.

    Args:
        cls: the class that signs.
        standing: an earned one.
        key: the class's signing key.

    Raises:
        ValueError: it is not earned.
        CourseError: the class's secret is missing.
    """
    if not standing.earned or standing.when is None:
        raise ValueError("only an earned standing has a badge")
    own = class_uuid(cls)
    percent = str(rounded(standing.percent, 1)).removesuffix(".0")
    moment = f"{standing.when:%Y-%m-%dT%H:%M:%SZ}"
    result_id = urn(uuid_of("badge result", standing.what))
    badge = record.Badge(
        id=urn(uuid_of("badge", str(own), standing.student_id, standing.what, moment, percent)),
        name=f"Completed: {title_of(standing.what)}",
        issuer=record.Issuer(id=did_of(key.public_key()), name=cls.settings.name),
        validFrom=moment,
        credentialSubject=record.Subject(
            identifier=(_identity(cls, standing.student_id),),
            achievement=_achievement(cls, standing, result_id),
            result=(record.Result(resultDescription=result_id, value=percent),),
        ),
    )
    text = json.dumps(signed(badge.document(), key), indent=1, ensure_ascii=False)
    return f"{text}\n".encode()


def identity_of(cls: ClassFolder, student_id: str) -> str:
    """Return the lasting id that a badge's fingerprint is made of: the student's OneRoster sourcedId.

    It is the school's own where the class list told it, and else the one that the course exports.
    """
    return cls.student(student_id).lms_user_id or str(student_uuid(class_uuid(cls), student_id))


def _identity(cls: ClassFolder, student_id: str) -> record.Identity:
    # Drawn from the class's secret, so that nobody else can work it out and the bytes stay the same.
    message = json.dumps(["salt of a badge", student_id]).encode()
    salt = hmac.new(cls.secret, message, hashlib.sha256).hexdigest()[:32]
    return record.Identity(identityHash=identity_hash(identity_of(cls, student_id), salt), salt=salt)


def identity_hash(identity: str, salt: str) -> str:
    """Return the fingerprint of a salted identity, as Open Badges 3.0 writes it."""
    return f"sha256${hashlib.sha256(f'{identity}{salt}'.encode()).hexdigest()}"


def title_of(what: str) -> str:
    """Return what a badge is for, in words.

    >>> title_of("course")
    'the disc-brake course'
    """
    if what == COURSE:
        return "the disc-brake course"
    row = next(row for row in read_table("course/modules.csv") if row["module"] == what)
    return f"module {row['number']} of the disc-brake course, {row['title']}"


def _achievement(cls: ClassFolder, standing: Standing, result_id: str) -> record.Achievement:
    award = awards()[COURSE if standing.what == COURSE else "module"]
    subject = course_uuid() if standing.what == COURSE else module_uuid(standing.what)
    narrative = award.narrative.format(percent=f"{cls.settings.pass_percent:g}")
    statements = {rule.competency: rule for rule in rules()}
    return record.Achievement(
        id=urn(uuid_of("achievement", str(subject), narrative)),
        achievementType=award.achievement_type,
        name=f"Completed {title_of(standing.what)}",
        description=f"The student completed {title_of(standing.what)}. {NO_LICENCE}",
        criteria=record.Criteria(narrative=f"{narrative} {NO_LICENCE}"),
        alignment=tuple(_alignment(statements[name]) for name in standing.mastered) or None,
        resultDescription=(record.ResultDescription(id=result_id, name="Share of the marks, in percent"),),
    )


def _alignment(rule: Rule) -> record.Alignment:
    return record.Alignment(
        targetName=f"The student {rule.statement}",
        targetUrl=urn(competency_uuid(rule.competency)),
        targetFramework=FRAMEWORK,
        targetCode=rule.competency,
    )
