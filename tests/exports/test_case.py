"""The competencies as a CASE 1.1 package."""

from __future__ import annotations

import hashlib
import json
import re
import uuid
from typing import Any

import jsonschema
import networkx
import pytest
from brakecourse.exports import case
from brakecourse.exports.badges import FRAMEWORK
from brakecourse.exports.ids import competency_uuid
from brakecourse.tables import read_table, table_path

# No schema of the publisher's was at hand. This one was made from the specification's text (1EdTech, CASE
# 1.1, data model): the attributes of a package's document, items and associations, which of them are
# required, the types of associations, and that nothing else may stand there. The words of adoptionStatus are
# from memory.
UUID = {
    "type": "string",
    "pattern": "^[0-9a-f]{8}-[0-9a-f]{4}-[1-5][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$",
}
URI = {"type": "string", "format": "uri"}
TIME = {"type": "string", "format": "date-time"}
DATE = {"type": "string", "format": "date"}
TEXT = {"type": "string", "minLength": 1}
TEXTS = {"type": "array", "items": TEXT}


def strict(required: list[str], **fields: Any) -> dict[str, Any]:
    return {"type": "object", "properties": fields, "required": required, "additionalProperties": False}


LINK = strict(["title", "identifier", "uri"], title=TEXT, identifier=UUID, uri=URI)
DOCUMENT = strict(
    ["identifier", "uri", "creator", "title", "lastChangeDateTime"],
    identifier=UUID, uri=URI, frameworkType=TEXT, caseVersion={"const": "1.1"}, creator=TEXT, title=TEXT,
    lastChangeDateTime=TIME, officialSourceURL=URI, publisher=TEXT, description=TEXT, subject=TEXTS,
    subjectURI={"type": "array", "items": LINK}, language=TEXT, version=TEXT,
    adoptionStatus={"enum": ["Private Draft", "Draft", "Adopted", "Deprecated"]},
    statusStartDate=DATE, statusEndDate=DATE, licenseURI=LINK, notes=TEXT, extensions={"type": "object"},
)  # fmt: skip
ITEM = strict(
    ["identifier", "fullStatement", "uri", "lastChangeDateTime"],
    identifier=UUID, fullStatement=TEXT, alternativeLabel=TEXT, CFItemType=TEXT, uri=URI,
    humanCodingScheme=TEXT, listEnumeration=TEXT, abbreviatedStatement=TEXT, conceptKeywords=TEXTS,
    conceptKeywordsURI=LINK, notes=TEXT,
    subject=TEXTS, subjectURI={"type": "array", "items": LINK}, language=TEXT, educationLevel=TEXTS,
    CFItemTypeURI=LINK, licenseURI=LINK, statusStartDate=DATE, statusEndDate=DATE, lastChangeDateTime=TIME,
    extensions={"type": "object"},
)  # fmt: skip
KINDS = [
    "isChildOf",
    "isPeerOf",
    "isPartOf",
    "exactMatchOf",
    "precedes",
    "isRelatedTo",
    "replacedBy",
    "exemplar",
]
ASSOCIATION = strict(
    ["identifier", "associationType", "uri", "originNodeURI", "destinationNodeURI", "lastChangeDateTime"],
    identifier=UUID, associationType={"enum": [*KINDS, "hasSkillLevel", "isTranslationOf"]},
    sequenceNumber={"type": "integer"}, uri=URI, originNodeURI=LINK, destinationNodeURI=LINK,
    CFAssociationGroupingURI=LINK, lastChangeDateTime=TIME, notes=TEXT, extensions={"type": "object"},
)  # fmt: skip
PACKAGE = strict(
    ["CFDocument", "CFItems", "CFAssociations"],
    CFDocument=DOCUMENT,
    CFItems={"type": "array", "items": ITEM},
    CFAssociations={"type": "array", "items": ASSOCIATION},
)
CHECK = jsonschema.Draft202012Validator(PACKAGE, format_checker=jsonschema.FormatChecker())


@pytest.fixture
def package() -> dict[str, Any]:
    return json.loads(case.package_bytes())


def test_it_fits_the_specifications_fields(package: dict[str, Any]) -> None:
    CHECK.validate(package)


@pytest.mark.parametrize(
    ("place", "field", "value"),
    [
        ("CFDocument", "caseVersion", "1.0"),
        ("CFDocument", "CFPackageURI", {}),  # not allowed inside a package
        ("CFItems", "CFDocumentURI", {}),  # nor this
        ("CFItems", "identifier", "no uuid"),
        ("CFItems", "uri", "no uri"),
        ("CFAssociations", "associationType", "isBelow"),
        ("CFAssociations", "lastChangeDateTime", "yesterday"),
    ],
)
def test_the_check_sees_what_is_wrong(package: dict[str, Any], place: str, field: str, value: object) -> None:
    part = package[place] if place == "CFDocument" else package[place][3]
    part[field] = value
    assert not CHECK.is_valid(package)


def test_it_holds_every_module_and_competency_once(package: dict[str, Any]) -> None:
    items = {item["identifier"]: item for item in package["CFItems"]}
    modules, competencies = read_table("course/modules.csv"), read_table("course/competencies.csv")
    assert len(items) == len(package["CFItems"]) == len(modules) + len(competencies)
    for row in competencies:
        item = items[str(competency_uuid(row["competency"]))]
        assert (
            item["fullStatement"] == f"The student {row['statement']}." and item["CFItemType"] == "Competency"
        )
    parts = [package["CFDocument"], *package["CFItems"], *package["CFAssociations"]]
    ids = [part["identifier"] for part in parts]
    assert len(ids) == len(set(ids)) and all(str(uuid.UUID(one)) == one for one in ids)
    assert all(part["uri"] == f"urn:uuid:{part['identifier']}" for part in parts)


def test_the_items_are_a_tree_below_the_document(package: dict[str, Any]) -> None:
    """Outside check: networkx says whether it is a tree."""
    tree = networkx.DiGraph(
        (one["destinationNodeURI"]["identifier"], one["originNodeURI"]["identifier"])
        for one in package["CFAssociations"]
        if one["associationType"] == "isChildOf"
    )
    assert networkx.is_arborescence(tree)
    assert [node for node, many in tree.in_degree if not many] == [package["CFDocument"]["identifier"]]
    assert set(tree) - {package["CFDocument"]["identifier"]} == {
        one["identifier"] for one in package["CFItems"]
    }


def test_every_module_of_a_competency_is_told(package: dict[str, Any]) -> None:
    codes = {item["identifier"]: item["humanCodingScheme"] for item in package["CFItems"]}
    numbers = {row["module"]: f"M{row['number']}" for row in read_table("course/modules.csv")}
    told: dict[str, set[str]] = {}
    for one in package["CFAssociations"]:
        origin, destination = (
            codes.get(one[name]["identifier"]) for name in ("originNodeURI", "destinationNodeURI")
        )
        if destination is not None:
            told.setdefault(str(origin), set()).add(destination)
    wanted = {
        r["competency"]: {numbers[m] for m in r["modules"].split()}
        for r in read_table("course/competencies.csv")
    }
    assert told == wanted


def test_links_tell_the_right_names(package: dict[str, Any]) -> None:
    names = {
        item["identifier"]: {item["humanCodingScheme"], item["abbreviatedStatement"]}
        for item in package["CFItems"]
    }
    names[package["CFDocument"]["identifier"]] = {package["CFDocument"]["title"], FRAMEWORK}
    for one in package["CFAssociations"]:
        for end in ("originNodeURI", "destinationNodeURI"):
            assert one[end]["title"] in names[one[end]["identifier"]]


def test_the_same_tables_give_the_same_bytes() -> None:
    assert case.package_bytes() == case.package_bytes()


def test_a_change_of_the_words_needs_a_new_date() -> None:
    """If this fails: set LAST_CHANGE in exports/case.py to today, and the fingerprint here to the new one."""
    words = b"".join(
        table_path(f"course/{name}.csv").read_bytes().replace(b"\r\n", b"\n")
        for name in ("modules", "competencies")
    )
    assert (case.LAST_CHANGE, hashlib.sha256(words).hexdigest()[:16]) == (
        "2026-11-29T00:00:00+00:00",
        "68285fad777a8b64",
    )
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT00:00:00\+00:00", case.LAST_CHANGE)
