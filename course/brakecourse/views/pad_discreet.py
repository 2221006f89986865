"""A quiz whose topics would name the answer: what comes next is told with the next case, not before."""

from __future__ import annotations

from html import escape

from brakecourse.views.adapt import LET_THE_COURSE_CHOOSE, RULE
from brakecourse.views.quiz import Quiz


class DiscreetQuiz(Quiz):
    """After an answer only the rule is told: the topic would give the case away to who tries again.

    Args:
        name, seed, session, progress, lesson: as for every quiz.
    """

    def _count(self, *, right: bool) -> str:
        told = super()._count(right=right)
        if self.topic.value == LET_THE_COURSE_CHOOSE:
            self._next.value = f'<p class="bc-caption">{escape(RULE)}</p>'
        return told
