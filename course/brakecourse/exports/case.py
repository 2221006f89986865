"""The competencies as a CASE 1.1 package: a framework that other systems can read and refer to.

Every competency is an item below the module that treats it first; the other modules that treat it are told as
related ones. So the items are a tree, and nothing of the table is lost.

Source: 1EdTech, Competencies and Academic Standards Exchange (CASE) 1.1, class descriptions of CFPackage.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

import brakecourse
from brakecourse.exports.ids import competency_uuid, course_uuid, module_uuid, urn, uuid_of
from brakecourse.tables import read_table

TITLE = "Disc-brake course: competencies"
CREATOR = "brakecourse, a training course for the disc-brake job"
LAST_CHANGE = "2026-11-29T00:00:00+00:00"
"""When the modules' and competencies' words were last changed. A test holds them to it."""

Row = Mapping[str, str]


@dataclass(frozen=True)
class Node:
    """The document or an item, as a link names it."""

    title: str
    id: UUID

    def link(self) -> dict[str, str]:
        """Return the link to it."""
        return {"title": self.title, "identifier": str(self.id), "uri": urn(self.id)}


def package_bytes() -> bytes:
    """Return the package as a JSON file. The same tables give the same bytes."""
    return f"{json.dumps(package(), indent=1, ensure_ascii=False)}\n".encode()


def package() -> dict[str, Any]:
    """Return the package: the document, its items, and how they hang together."""
    modules, competencies = read_table("course/modules.csv"), read_table("course/competencies.csv")
    return {
        "CFDocument": _document(),
        "CFItems": [*map(_module, modules), *map(_competency, competencies)],
        "CFAssociations": list(_associations(modules, competencies)),
    }


def _document() -> dict[str, Any]:
    return {
        "identifier": str(course_uuid()),
        "uri": urn(course_uuid()),
        "caseVersion": "1.1",
        "creator": CREATOR,
        "title": TITLE,
        "lastChangeDateTime": LAST_CHANGE,
        "description": "What a person who has completed the course can be seen to do. It is no licence: "
        "who may work on brakes is for local law to say, and the vehicle maker's data come first.",
        "language": "en",
        "version": brakecourse.__version__,
        "adoptionStatus": "Draft",
    }


def _module(row: Row) -> dict[str, Any]:
    return _item(module_uuid(row["module"]), f"M{row['number']}", "Module", row["can"], row["title"])


def _competency(row: Row) -> dict[str, Any]:
    name = row["competency"]
    return _item(competency_uuid(name), name, "Competency", row["statement"], name.replace("-", " "))


def _item(item: UUID, code: str, kind: str, statement: str, short: str) -> dict[str, Any]:
    return {
        "identifier": str(item),
        "uri": urn(item),
        "humanCodingScheme": code,
        "CFItemType": kind,
        "fullStatement": f"The student {statement}.",
        "abbreviatedStatement": short,
        "language": "en",
        "lastChangeDateTime": LAST_CHANGE,
    }


def _associations(modules: Sequence[Row], competencies: Sequence[Row]) -> Iterator[dict[str, Any]]:
    document = Node(TITLE, course_uuid())
    nodes = {row["module"]: Node(row["title"], module_uuid(row["module"])) for row in modules}
    for number, row in enumerate(modules, start=1):
        yield _association("isChildOf", nodes[row["module"]], document, number)
    for number, row in enumerate(competencies, start=1):
        own = Node(row["competency"], competency_uuid(row["competency"]))
        first, *others = row["modules"].split()
        yield _association("isChildOf", own, nodes[first], number)
        for other in others:
            yield _association("isRelatedTo", own, nodes[other])


def _association(kind: str, origin: Node, destination: Node, number: int | None = None) -> dict[str, Any]:
    own = uuid_of("association", kind, str(origin.id), str(destination.id))
    return {
        "identifier": str(own),
        "associationType": kind,
        **({"sequenceNumber": number} if number is not None else {}),
        "uri": urn(own),
        "originNodeURI": origin.link(),
        "destinationNodeURI": destination.link(),
        "lastChangeDateTime": LAST_CHANGE,
    }
