"""Look at a badge without any network: who signed it, for what, and whether it was changed since."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from brakecourse.classroom.folder import ClassFolder
from brakecourse.exports.badge_record import Badge, read_badge
from brakecourse.exports.badges import identity_hash, identity_of
from brakecourse.exports.signing import is_signed_by, key_of

UNKNOWN_ISSUER = (
    "The signature shows that the holder of this key signed it, not who that is: "
    "compare the did:key with the one that the school itself publishes, or give it with --issuer."
)


@dataclass(frozen=True)
class Verdict:
    """What can be said of a badge.

    Attributes:
        genuine: the signature is good, and where an issuer was asked for, it is that one's.
        lines: in words, a sentence each.
    """

    genuine: bool
    lines: tuple[str, ...]


def verify(content: bytes, issuer: str = "") -> Verdict:
    """Say who signed a badge, for what, and whether it was changed.

    Args:
        content: the file's bytes.
        issuer: the ``did:key`` that the school publishes; left out, any signer will do.

    Raises:
        CourseError: the file is no badge of this course.
    """
    badge = read_badge(content)
    did, subject = badge.issuer.id, badge.credentialSubject
    if not _signed(badge):
        return Verdict(
            False,
            (
                "Not genuine: the badge was changed after it was signed, or another key signed it than the "
                f"one that it names ({did}). Nothing in it can be trusted.",
            ),
        )
    if issuer and issuer != did:
        return Verdict(
            False,
            (
                f"Not from this school: the badge is signed and unchanged, but by {did} and not by {issuer}. "
                "Anybody can make a key and write any name beside it.",
            ),
        )
    mastered = [one.targetName.removeprefix("The student ") for one in subject.achievement.alignment or ()]
    return Verdict(
        True,
        (
            "Genuine: the badge is unchanged since it was signed.",
            f"Signed by: {badge.issuer.name}, key {did}.",
            f"For: {subject.achievement.name}, with {subject.result[0].value} % of the marks.",
            f"Date: {badge.validFrom[:10]}.",
            *([f"Mastered ({len(mastered)}): the student {'; '.join(mastered)}."] if mastered else []),
            f"Rule: {subject.achievement.criteria.narrative}",
            "It bears no name. The class that gave it can tell whose it is (--class).",
            *([] if issuer else [UNKNOWN_ISSUER]),
        ),
    )


def _signed(badge: Badge) -> bool:
    did = badge.issuer.id
    assert badge.proof is not None  # read_badge refuses one without
    try:
        key = key_of(did)
    except ValueError:
        return False
    own_method = badge.proof.verificationMethod == f"{did}#{did.removeprefix('did:key:')}"
    return own_method and is_signed_by(badge.document(), key)


def whose(content: bytes, cls: ClassFolder) -> str | None:
    """Return the id of the student of a class whose badge it is, or None.

    Raises:
        CourseError: the file is no badge of this course, or the class's secret is missing.
    """
    (identity,) = read_badge(content).credentialSubject.identifier
    return next(_matching(cls, identity.identityHash, identity.salt), None)


def _matching(cls: ClassFolder, wanted: str, salt: str) -> Iterator[str]:
    return (one for one in cls.student_ids if identity_hash(identity_of(cls, one), salt) == wanted)
