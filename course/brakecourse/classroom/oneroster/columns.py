"""The columns of OneRoster's files, versions 1.1 and 1.2, and the words that may stand in them.

Source: 1EdTech OneRoster, CSV binding, versions 1.1 and 1.2 (users.csv as in 1.2.1). The lists are those of
the project's design notes, which restate the standard's text; they were not read in it a second time.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

# Every file begins with these.
FIRST = "sourcedId!:guid status=status dateLastModified:datetime"

# One word a column. `!` a value must stand there; `:date` and so on what kind of value; `=type` a word of
# that vocabulary; `>orgs` the sourcedId of a row of orgs.csv; `>>orgs` several of them.
_SHARED = {
    "academicSessions": "title! type!=sessionType startDate!:date endDate!:date "
    "parentSourcedId>academicSessions schoolYear!:year",
    "classes": "title! grades courseSourcedId!>courses classCode classType!=classType location "
    "schoolSourcedId!>orgs termSourcedIds!>>academicSessions subjects subjectCodes periods",
    "courses": "schoolYearSourcedId>academicSessions title! courseCode grades orgSourcedId!>orgs subjects "
    "subjectCodes",
    "enrollments": "classSourcedId!>classes schoolSourcedId!>orgs userSourcedId!>users role!=enrolledAs "
    "primary:boolean beginDate:date endDate:date",
    "orgs": "name! type!=orgType identifier parentSourcedId>orgs",
}
_V1_1 = {
    **_SHARED,
    "users": "enabledUser!:boolean orgSourcedIds!>>orgs role!=userRole username! userIds:userIds givenName! "
    "familyName! middleName identifier email sms phone agentSourcedIds>>users grades password",
}
_V1_2 = {
    **_SHARED,
    "categories": "title! weight:integer",
    "lineItems": "title! description assignDate!:date dueDate!:date classSourcedId!>classes "
    "categorySourcedId!>categories academicSessionSourcedId!>academicSessions resultValueMin:number "
    "resultValueMax:number schoolSourcedId!>orgs",
    "lineItemLearningObjectiveIds": "lineItemSourcedId!>lineItems source!=objectiveSource "
    "learningObjectiveId!:objective",
    "resultLearningObjectiveIds": "resultSourcedId!>results source!=objectiveSource "
    "learningObjectiveId!:objective score:number textScore",
    "results": "lineItemSourcedId!>lineItems studentSourcedId!>users scoreStatus!=scoreStatus score:number "
    "scoreDate!:date comment textScore classSourcedId>classes inProgress:boolean incomplete:boolean "
    "late:boolean missing:boolean",
    "roles": "userSourcedId!>users roleType!=roleType role!=role beginDate:date endDate:date "
    "orgSourcedId!>orgs userProfileSourcedId",
    "users": "enabledUser!:boolean username! userIds:userIds givenName! familyName! middleName identifier "
    "email sms phone agentSourcedIds>>users grades password userMasterIdentifier preferredGivenName "
    "preferredMiddleName preferredFamilyName primaryOrgSourcedId>orgs pronouns",
}

# What is read of a package to know a class. Demographics are never read.
CLASS_FILES = ("academicSessions", "classes", "courses", "enrollments", "orgs", "roles", "users")

FILES: Mapping[str, tuple[str, ...]] = {
    "1.1": (
        "academicSessions", "categories", "classes", "classResources", "courses", "courseResources",
        "demographics", "enrollments", "lineItems", "orgs", "resources", "results", "users",
    ),
    "1.2": (
        "academicSessions", "categories", "classes", "classResources", "courses", "courseResources",
        "demographics", "enrollments", "lineItemLearningObjectiveIds", "lineItems", "lineItemScoreScales",
        "orgs", "resources", "resultLearningObjectiveIds", "results", "resultScoreScales", "roles",
        "scoreScales", "userProfiles", "userResources", "users",
    ),
}  # fmt: skip
"""Every file that a package may hold, in the order of its manifest, by version."""

# Each vocabulary may be extended with words that start with "ext:", but for these two.
CLOSED = frozenset(("status", "roleType"))
VOCABULARIES: Mapping[str, tuple[str, ...]] = {
    "classType": ("homeroom", "scheduled"),
    "enrolledAs": ("administrator", "proctor", "student", "teacher"),
    "objectiveSource": ("case", "unknown"),
    "orgType": ("department", "school", "district", "local", "state", "national"),
    "role": (
        "aide", "counselor", "districtAdministrator", "guardian", "parent", "principal", "proctor",
        "relative", "siteAdministrator", "student", "systemAdministrator", "teacher",
    ),
    "roleType": ("primary", "secondary"),
    "scoreStatus": ("exempt", "fully graded", "not submitted", "partially graded", "submitted"),
    "sessionType": ("gradingPeriod", "semester", "schoolYear", "term"),
    "status": ("active", "tobedeleted"),
    "userRole": (
        "administrator", "aide", "guardian", "parent", "proctor", "relative", "student", "teacher",
    ),
}  # fmt: skip


@dataclass(frozen=True)
class Column:
    """One column of a file.

    Attributes:
        name: its heading, capitals as in the standard.
        required: whether a value must stand in it.
        kind: "text", "guid", "date", "datetime", "year", "boolean", "integer", "number", "userIds",
            "objective", "word", "reference" or "references".
        of: the vocabulary of a word, or the file that a reference leads to.
    """

    name: str
    required: bool
    kind: str
    of: str = ""


_WORD = re.compile(r"(?P<name>\w+)(?P<required>!?)(?:(?P<sign>>>|[:=>])(?P<of>\w+))?")
_KINDS = {"=": "word", ">": "reference", ">>": "references"}


def _column(word: str) -> Column:
    found = _WORD.fullmatch(word)
    assert found is not None, word
    sign, of = found["sign"], found["of"] or "text"
    if sign in _KINDS:
        return Column(found["name"], bool(found["required"]), _KINDS[sign], of)
    return Column(found["name"], bool(found["required"]), of)


def _columns(files: Mapping[str, str]) -> dict[str, tuple[Column, ...]]:
    return {file: tuple(map(_column, f"{FIRST} {words}".split())) for file, words in files.items()}


COLUMNS: Mapping[str, Mapping[str, tuple[Column, ...]]] = {"1.1": _columns(_V1_1), "1.2": _columns(_V1_2)}
"""The columns of each file that the course reads or writes, in their order, by version."""

# users.csv of version 1.2 had one more column, which 1.2.1 took away. Both are read; the newer is written.
TAKEN_AWAY = ("resourceSourcedIds", "userMasterIdentifier")
