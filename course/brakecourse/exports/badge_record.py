"""The exact form of the course's badges: Open Badges 3.0 credentials, no field more and no field less.

Writing and reading share these records. What is not in them is refused on reading, for two reasons: a field
that no context defines is not covered by the signature, and a file of another form could take hours to
canonicalize.
"""

from __future__ import annotations

import json
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from brakecourse.errors import CourseError
from brakecourse.exports.signing import CREDENTIALS, OPEN_BADGES

BIGGEST_BYTES = 262_144

Text = Annotated[str, Field(min_length=1, max_length=3000)]
Urn = Annotated[str, Field(pattern=r"^urn:uuid:[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$")]
DidKey = Annotated[str, Field(pattern=r"^did:key:z[1-9A-HJ-NP-Za-km-z]{47}$")]
Moment = Annotated[str, Field(pattern=r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$")]
Percent = Annotated[str, Field(pattern=r"^(100|\d{1,2})(\.\d)?$")]


class _Record(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, populate_by_name=True)


class Identity(_Record):
    """Who it is for, without saying the name: a salted fingerprint of the student's lasting id."""

    type: Literal["IdentityObject"] = "IdentityObject"
    hashed: Literal[True] = True
    identityHash: Annotated[str, Field(pattern=r"^sha256\$[0-9a-f]{64}$")]
    identityType: Literal["oneRosterSourcedId"] = "oneRosterSourcedId"
    salt: Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]


class Criteria(_Record):
    """What had to be done."""

    narrative: Text


class Alignment(_Record):
    """A competency that the student has mastered: an item of the course's competency framework (CASE)."""

    type: tuple[Literal["Alignment"]] = ("Alignment",)
    targetName: Text
    targetUrl: Urn
    targetType: Literal["CFItem"] = "CFItem"
    targetFramework: Text
    targetCode: Text


class ResultDescription(_Record):
    """What the result below is."""

    id: Urn
    type: tuple[Literal["ResultDescription"]] = ("ResultDescription",)
    name: Text
    resultType: Literal["Percent"] = "Percent"
    valueMin: Literal["0"] = "0"
    valueMax: Literal["100"] = "100"


class Result(_Record):
    """The student's own result."""

    type: tuple[Literal["Result"]] = ("Result",)
    resultDescription: Urn
    value: Percent


class Achievement(_Record):
    """What was completed. Its type is that of a course's part: never a licence, never a certification."""

    id: Urn
    type: tuple[Literal["Achievement"]] = ("Achievement",)
    achievementType: Literal["Course", "Badge"]
    name: Text
    description: Text
    criteria: Criteria
    alignment: Annotated[tuple[Alignment, ...], Field(max_length=60)] | None = None
    resultDescription: tuple[ResultDescription]

    @model_validator(mode="after")
    def _no_twins(self) -> Achievement:
        targets = [one.targetUrl for one in self.alignment or ()]
        if len(targets) != len(set(targets)):
            raise ValueError("a competency stands there twice")
        return self


class Subject(_Record):
    """The student, and what the student completed."""

    type: tuple[Literal["AchievementSubject"]] = ("AchievementSubject",)
    identifier: tuple[Identity]
    achievement: Achievement
    result: tuple[Result]


class Issuer(_Record):
    """The class that signs, named by its public key."""

    id: DidKey
    type: tuple[Literal["Profile"]] = ("Profile",)
    name: Text


class Proof(_Record):
    """The signature."""

    type: Literal["DataIntegrityProof"]
    verificationMethod: Text
    cryptosuite: Literal["eddsa-rdfc-2022"]
    proofPurpose: Literal["assertionMethod"]
    proofValue: Annotated[str, Field(pattern=r"^z[1-9A-HJ-NP-Za-km-z]{60,100}$")]


class Badge(_Record):
    """One credential."""

    context: Annotated[
        tuple[
            Literal["https://www.w3.org/ns/credentials/v2"],
            Literal["https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json"],
        ],
        Field(alias="@context"),
    ] = (CREDENTIALS, OPEN_BADGES)  # type: ignore[assignment]
    id: Urn
    type: tuple[Literal["VerifiableCredential"], Literal["OpenBadgeCredential"]] = (
        "VerifiableCredential",
        "OpenBadgeCredential",
    )
    name: Text
    issuer: Issuer
    validFrom: Moment
    credentialSubject: Subject
    proof: Proof | None = None

    def document(self) -> dict[str, Any]:
        """Return it as JSON-LD."""
        return self.model_dump(mode="json", by_alias=True, exclude_none=True)


def read_badge(content: bytes) -> Badge:
    """Read a badge file.

    Raises:
        CourseError: it is no badge of this course, or it is not signed.
    """
    if len(content) > BIGGEST_BYTES:
        raise CourseError(
            "A badge of this course was expected, but the file is larger than any; check the file."
        )
    try:
        values = json.loads(content.decode("utf-8"), object_pairs_hook=_each_once)
        badge = Badge.model_validate_json(json.dumps(values))
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"]) or "the whole"
        unknown = first["type"] == "extra_forbidden"
        words = "a field that a badge never has" if unknown else first["msg"]
        raise CourseError(
            f"A badge of this course was expected, but at '{where[:60]}' it has another form ({words}); "
            "it was made by another program, or changed after it was signed."
        ) from error
    except (ValueError, RecursionError) as error:
        raise CourseError(
            "A badge of this course was expected, but the file is not readable as JSON "
            f"({str(error)[:80]}); check the file."
        ) from error
    if badge.proof is None:
        raise CourseError("The badge is not signed, so nothing can be said of it; ask for the signed file.")
    return badge


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a field stands there twice")
    return found
