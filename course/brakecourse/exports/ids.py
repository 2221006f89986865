"""The lasting names of what leaves the class: a UUID for each competency, module, class, student and result.

Every UUID is of version 5 (RFC 9562): it is worked out from a fixed namespace and the thing's own name. So
the same thing has the same UUID in every export, on every computer and in every format: the item of a
competency framework, the learning objective of a result and the alignment of a badge are one.
"""

from __future__ import annotations

import hashlib
import hmac
import json
from functools import lru_cache
from uuid import UUID, uuid5

from brakecourse.classroom.attempts import module_of
from brakecourse.classroom.folder import ClassFolder

# uuid5(NAMESPACE_DNS, "brakecourse.example"). A change here would make everything ever exported a stranger.
NAMESPACE = UUID("ae37ade2-327f-5d46-8cef-322678ece921")


@lru_cache(maxsize=8192)
def uuid_of(kind: str, *parts: str) -> UUID:
    """Return the UUID of a thing of some kind, from the parts of its name.

    Args:
        kind: what it is, such as "competency", so that things of two kinds may share a name.
        parts: its name; two names that only look alike when joined stay apart.

    >>> uuid_of("room", "a", "b") == uuid_of("room", "a", "b")
    True
    >>> uuid_of("room", "a", "b") == uuid_of("room", "ab")
    False
    """
    return uuid5(NAMESPACE, json.dumps([kind, *parts], ensure_ascii=False, separators=(",", ":")))


def urn(value: UUID) -> str:
    """Return a UUID as a URN, as learning objectives and credentials are named.

    >>> urn(course_uuid())
    'urn:uuid:2cf651f4-73ab-54da-91d1-2e8a18270fd8'
    """
    return value.urn


def course_uuid() -> UUID:
    """Return the UUID of the course as a whole, which its competency framework bears too."""
    return uuid_of("course", "brakecourse")


def competency_uuid(competency: str) -> UUID:
    """Return the UUID of a competency.

    Args:
        competency: its short name, as in ``datasets/course/competencies.csv``.

    >>> str(competency_uuid("order-the-job"))
    '64bccac8-72a4-5fce-9e33-188cadf6d15b'
    """
    return uuid_of("competency", competency)


def module_uuid(module: str) -> UUID:
    """Return the UUID of a module. All attempts at a module share it.

    >>> module_uuid("08_rotor_measurement") == module_uuid("08_rotor_measurement-attempt-2")
    True
    """
    return uuid_of("module", module_of(module))


def class_uuid(cls: ClassFolder) -> UUID:
    """Return the UUID of a class. It stays when the class is renamed or its folder is moved.

    It rests on the class's secret, the one thing that two classes never share and that never changes; the
    secret can't be worked out from it.

    Raises:
        CourseError: the secret is missing or damaged.
    """
    return uuid_of("class", hmac.new(cls.secret, b"the class's public name", hashlib.sha256).hexdigest())


def student_uuid(class_id: UUID, student_id: str) -> UUID:
    """Return the UUID of a student of a class.

    Args:
        class_id: from :func:`class_uuid`.
        student_id: as in the roster.
    """
    return uuid_of("student", str(class_id), student_id)


def line_item_uuid(class_id: UUID, module: str) -> UUID:
    """Return the UUID of a module's column in a class's gradebook; all attempts share it."""
    return uuid_of("line item", str(class_id), module_of(module))


def result_uuid(class_id: UUID, module: str, student_id: str) -> UUID:
    """Return the UUID of a student's result in a module; it is that of what counts of all attempts."""
    return uuid_of("result", str(class_id), module_of(module), student_id)
