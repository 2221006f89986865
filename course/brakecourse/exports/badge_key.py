"""The class's signing key: made once, kept in the class folder, never handed out."""

from __future__ import annotations

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)

from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError

KEY_NAME = ".badge-key"
LOST = (
    "If the key is lost, give 'brakecourse badge-key' again: it makes another one. Badges that the old key "
    "signed stay good, so keep its did:key published beside the new one. If somebody else may have seen the "
    "key, delete the file, make another one, say in public that the old did:key no longer counts, and write "
    "the badges anew."
)


def make_key(cls: ClassFolder) -> Ed25519PrivateKey:
    """Return the class's signing key; make it if there is none. One that is there stays.

    Raises:
        CourseError: the one that is there is damaged, or it can't be written.
    """
    path = cls.root / KEY_NAME
    if not path.exists():
        key = Ed25519PrivateKey.generate()
        content = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
        with reporting_disk_trouble(f"write the signing key {path}"):
            write_bytes_whole(path, content, mode=0o600)
    return read_key(cls)


def read_key(cls: ClassFolder) -> Ed25519PrivateKey:
    """Return the class's signing key.

    Raises:
        CourseError: there is none yet, or it is damaged.
    """
    path = cls.root / KEY_NAME
    if not path.exists():
        raise CourseError(
            f"The class {cls.root} has no key to sign badges with; "
            f"give 'brakecourse badge-key {cls.root}' first."
        )
    try:
        key = load_pem_private_key(path.read_bytes(), None)
    except (OSError, ValueError, TypeError) as error:
        raise CourseError(
            f"The signing key {path} can't be read; put it back from a copy, or move it away and give "
            f"'brakecourse badge-key {cls.root}' for a new one."
        ) from error
    if not isinstance(key, Ed25519PrivateKey):
        raise CourseError(
            f"The signing key {path} should be an Ed25519 key but is another one; put the right one back."
        )
    return key
