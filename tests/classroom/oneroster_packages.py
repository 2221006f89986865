"""Small OneRoster packages for tests, written out by hand. All people and schools are invented.

The headers are those of 1EdTech OneRoster 1.1 and 1.2, CSV binding, as the project's design notes restate
them; they are typed here once more, apart from the course's own table of columns.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

FIRST = "sourcedId,status,dateLastModified"
ORGS = f"{FIRST},name,type,identifier,parentSourcedId"
SESSIONS = f"{FIRST},title,type,startDate,endDate,parentSourcedId,schoolYear"
COURSES = f"{FIRST},schoolYearSourcedId,title,courseCode,grades,orgSourcedId,subjects,subjectCodes"
CLASSES = (
    f"{FIRST},title,grades,courseSourcedId,classCode,classType,location,schoolSourcedId,termSourcedIds,subjects,"
    "subjectCodes,periods"
)
ENROLLMENTS = f"{FIRST},classSourcedId,schoolSourcedId,userSourcedId,role,primary,beginDate,endDate"
ROLES = f"{FIRST},userSourcedId,roleType,role,beginDate,endDate,orgSourcedId,userProfileSourcedId"
USERS = (
    f"{FIRST},enabledUser,username,userIds,givenName,familyName,middleName,identifier,email,sms,phone,"
    "agentSourcedIds,grades,password,userMasterIdentifier,preferredGivenName,preferredMiddleName,"
    "preferredFamilyName,primaryOrgSourcedId,pronouns"
)
USERS_1_1 = (
    f"{FIRST},enabledUser,orgSourcedIds,role,username,userIds,givenName,familyName,middleName,identifier,email,"
    "sms,phone,agentSourcedIds,grades,password"
)

FILES_1_1 = (
    "academicSessions",
    "categories",
    "classes",
    "classResources",
    "courses",
    "courseResources",
    "demographics",
    "enrollments",
    "lineItems",
    "orgs",
    "resources",
    "results",
    "users",
)
FILES_1_2 = (
    "academicSessions",
    "categories",
    "classes",
    "classResources",
    "courses",
    "courseResources",
    "demographics",
    "enrollments",
    "lineItemLearningObjectiveIds",
    "lineItems",
    "lineItemScoreScales",
    "orgs",
    "resources",
    "resultLearningObjectiveIds",
    "results",
    "resultScoreScales",
    "roles",
    "scoreScales",
    "userProfiles",
    "userResources",
    "users",
)

NAMES = (
    "Mara",
    "Amara",
    "Quillstone",
    "Bruno",
    "Fennimoor",
    "=Zoë",
    "Neill",
    "Müller",
    "Chiyo",
    "Larkenfield",
)
"""Parts of the people's names: none of them may stand in a sentence that says what is wrong."""

# Of the school Larkmoor: two classes. In the first, Amara (called Mara), Bruno and Zoë; Chiyo's account is
# shut, and Edda left on 1 November. The second class has Ferro alone.
SHARED = {
    "orgs": [
        ORGS,
        "larkmoor,,,Larkmoor Training School,school,,county",
        "county,,,Larkmoor County,district,,",
    ],
    "academicSessions": [
        SESSIONS,
        "y2027,,,Year 2026/27,schoolYear,2026-08-01,2027-08-01,,2027",
        "autumn,,,Autumn,term,2026-09-01,2027-01-01,y2027,2027",
    ],
    "courses": [COURSES, 'brakes,,,y2027,"Brakes, first year",BR1,,larkmoor,,'],
    "classes": [
        CLASSES,
        'br/1@a,,,Evening class,,brakes,BR1-A,scheduled,Bay 2,larkmoor,"autumn","Vehicles, tools","V,T",',
        "br/1@b,,,Day class,,brakes,BR1-B,scheduled,,larkmoor,autumn,,,",
    ],
    "enrollments": [
        ENROLLMENTS,
        "e1,,,br/1@a,larkmoor,u-amara,student,,2026-09-01,",
        "e2,,,br/1@a,larkmoor,u/bruno@x,student,,,2027-01-01",
        "e3,,,br/1@a,larkmoor,u-zoe,student,false,,",
        "e4,,,br/1@a,larkmoor,u-chiyo,student,,,",
        "e5,,,br/1@a,larkmoor,u-edda,student,,,2026-11-01",
        "e6,,,br/1@a,larkmoor,t-dafydd,teacher,true,,",
        "e7,,,br/1@b,larkmoor,u-ferro,student,,,",
    ],
}
# id, enabled, username, given name, family name, email, preferred given name, role
PEOPLE = (
    (
        "u-amara",
        "true",
        "amara.q@larkmoor.example",
        "Amara",
        "Quillstone",
        "amara@larkmoor.example",
        "Mara",
        "student",
    ),
    ("u/bruno@x", "true", "bruno", "Bruno", '"Fennimoor, the younger"', "", "", "student"),
    ("u-zoe", "true", "=zoë müller", "=Zoë", '"O""Neill-Müller"', "zoe@larkmoor.example", "", "student"),
    ("u-chiyo", "false", "chiyo", "Chiyo", "Larkenfield", "", "", "student"),
    ("u-edda", "true", "edda", "Edda", "Ottermarsh", "", "", "student"),
    ("u-ferro", "true", "ferro", "Ferro", "Pellwick", "", "", "student"),
    ("t-dafydd", "true", "dafydd", "Dafydd", "Ottermarsh", "", "", "teacher"),
)


def files_1_2() -> dict[str, list[str]]:
    """Return the lines of each file of a good package of version 1.2."""
    users = [
        f"{one},,,{enabled},{name},{{Card:{number}}},{given},{family},,,{email},,,,,secret,,{called},,,larkmoor,"
        for number, (one, enabled, name, given, family, email, called, _) in enumerate(PEOPLE)
    ]
    roles = [f"r-{n},,,{one[0]},primary,{one[-1]},,,larkmoor," for n, one in enumerate(PEOPLE)]
    tables = {**SHARED, "users": [USERS, *users], "roles": [ROLES, *roles]}
    return {**{file: list(lines) for file, lines in tables.items()}, "manifest": manifest("1.2", tables)}


def files_1_1() -> dict[str, list[str]]:
    """Return the lines of each file of a good package of version 1.1, of the same school."""
    users = [
        f'{one},,,{enabled},"larkmoor,county",{role},{name},,{called or given},{family},,,{email},,,,,secret'
        for one, enabled, name, given, family, email, called, role in PEOPLE
    ]
    tables = {**SHARED, "users": [USERS_1_1, *users]}
    return {**{file: list(lines) for file, lines in tables.items()}, "manifest": manifest("1.1", tables)}


def manifest(version: str, tables: Mapping[str, object], mode: str = "bulk") -> list[str]:
    """Return the lines of a manifest that names these files."""
    names = FILES_1_1 if version == "1.1" else FILES_1_2
    return [
        "propertyName,value",
        "manifest.version,1.0",
        f"oneroster.version,{version}",
        *(f"file.{name},{mode if name in tables else 'absent'}" for name in names),
        "source.systemName,Invented school office",
    ]


def packed(files: Mapping[str, list[str] | str | bytes], end: str = "\r\n", mark: bytes = b"") -> bytes:
    """Return the zip of a package; a name with a dot in it is taken as it is."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            if isinstance(content, list):
                content = end.join(content) + end
            if isinstance(content, str):
                content = mark + content.encode("utf-8")
            archive.writestr(name if "." in name else f"{name}.csv", content)
    return stream.getvalue()
