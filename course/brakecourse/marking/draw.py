"""Draw a student's case from the class secret, and seal it."""

from __future__ import annotations

import hashlib
import hmac
import json
from collections.abc import Collection

from brakecourse.bench.situations import Difficulty
from brakecourse.errors import CourseError
from brakecourse.marking.catalogue import check_module
from brakecourse.marking.paper import paper
from brakecourse.marking.seal import seal
from brakecourse.marking.sealed import Answers, SealedCase

SHORTEST_SECRET = 16


def draw_sealed_case(
    module: str,
    student: str,
    secret: bytes,
    attempt: int = 1,
    difficulty: Difficulty = "normal",
    unlike: Collection[Answers] = (),
) -> SealedCase:
    """Draw one student's case.

    The same secret, student, module and attempt always give the same case; without the secret nobody can
    tell it. The draw is repeated, with a counter, until no important mistake would give the right answer, and
    until not all the right answers are those of another case.
    What is to be done with the vehicle stays as first drawn, so repeating changes no situation's share.

    Args:
        module: e.g. ``"08_rotor_measurement"``.
        student: the student's id in the class.
        secret: the class secret, at least 16 bytes.
        attempt: 1 for the first, 2 for a second try with another vehicle, and so on.
        difficulty: how near the limits the readings may lie.
        unlike: the right answers of the classmates' cases.

    Returns:
        The sealed case: the answers for the class folder, the work order for the student.

    Raises:
        CourseError: an unknown module, no student, a secret too short, or an attempt below 1.
    """
    check_module(module)
    if not isinstance(student, str) or not student.strip():
        raise CourseError(f"A student's id was expected, but found {student!r}; take it from the roster.")
    if not isinstance(secret, bytes) or len(secret) < SHORTEST_SECRET:
        raise CourseError(
            f"A class secret of at least {SHORTEST_SECRET} bytes was expected, but found a shorter one; "
            "use the .secret file of the class folder as it was made."
        )
    if isinstance(attempt, bool) or not isinstance(attempt, int) or attempt < 1:
        raise CourseError(f"An attempt of 1 or more was expected, but found {attempt!r}; count from 1.")

    def seed(redraws: int) -> int:
        return _seed(secret, student, module, attempt, redraws)

    return seal(paper(module), student, attempt, seed, difficulty, unlike)


def _seed(secret: bytes, student: str, module: str, attempt: int, redraws: int) -> int:
    # JSON keeps the parts apart: no two different cases can give the same text.
    message = json.dumps([student, module, attempt, redraws]).encode()
    return int.from_bytes(hmac.new(secret, message, hashlib.sha256).digest(), "big")
