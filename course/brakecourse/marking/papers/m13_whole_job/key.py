"""How every answer that a machine marks follows."""

from __future__ import annotations

from brakecourse.marking.given import Answer
from brakecourse.marking.papers.m13_whole_job import key_decide, key_finish, key_read

KEY: dict[str, Answer] = {**key_read.KEY, **key_decide.KEY, **key_finish.KEY}
