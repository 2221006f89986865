"""The first step of a whole job: do checks that cost minutes, and name the cause."""

from __future__ import annotations

import ipywidgets as widgets

from brakecourse.views.activity import Activity
from brakecourse.views.controls import button, dropdown, row
from brakecourse.views.diagnosis_bench import NO_CAUSE, not_on_the_road
from brakecourse.views.diagnosis_cases import CHECK, Job, is_drive, may_be_driven, worth
from brakecourse.views.diagnosis_replies import named_reply
from brakecourse.views.diagnosis_words import cause_words, min_words
from brakecourse.views.whole_job_case import WholeJobCase


class FindingTheCause(Activity):
    """An activity that begins with finding a cause. A subclass holds the case and goes on from there."""

    case: WholeJobCase

    def finding_controls(self) -> tuple[widgets.Widget, ...]:
        """Return the controls to check and to name the cause."""
        first = _check_line(next(iter(CHECK)))
        self.next_check = dropdown("Check", tuple(map(_check_line, CHECK)), first)
        self.cause = dropdown("The cause", (NO_CAUSE, *sorted(cause_words().values())), NO_CAUSE)
        return (
            row(
                self.next_check,
                button("Do this check", self.do_check),
                button("Which check is worth most?", self.advise),
            ),
            row(self.cause, button("Name this cause", self.name_cause)),
        )

    def tried(self, answer: object, topic: str, *, right: bool) -> str:
        """Count an answer; return a sentence when that was not saved."""
        raise NotImplementedError

    def found(self, cause: str, words: str, told: str) -> None:
        """Go on from the named cause."""
        raise NotImplementedError

    def show_sheet(self) -> None:
        """Show the record as it stands."""
        raise NotImplementedError

    def do_check(self) -> None:
        """Do the chosen check, and note what it shows."""
        case = self.case
        check = next((one for one in CHECK if _check_line(one) == self.next_check.value), None)
        if check is None or check in case.findings:
            self.say("That check is done already. Choose another one, or name the cause.")
            return
        if is_drive(check) and not may_be_driven(case.findings):
            self.say(not_on_the_road(case.findings))
            return
        shown = case.do(check)
        self.say(f"{shown}. That took {min_words(CHECK[check].minutes)}.")
        self.refresh()
        self.show_sheet()

    def advise(self) -> None:
        """Choose the check that tells most for its minutes."""
        best = worth(self.case.findings)
        if not best:
            self.say("Every check is done. Name the cause.")
            return
        self.next_check.value = _check_line(best[0].check)
        self.say(f"{best[0].words}: no open check is expected to tell more a minute. It is chosen for you.")

    def name_cause(self) -> None:
        """Reply to the named cause."""
        if self.cause.value == NO_CAUSE:
            self.say("No cause is chosen yet: choose one from the list, then press Name this cause.")
            return
        case = self.case
        named = next(id for id, words in cause_words().items() if words == self.cause.value)
        right = named if named in case.hidden else case.hidden[0]
        reply = named_reply(Job(case.job.case, right, case.bench.draw), case.findings, self.cause.value)
        told = self.tried(named, "find the cause", right=reply.right)
        if reply.right:
            self.found(named, reply.words.partition(" You spent")[0], told)
        else:
            self.say(reply.words, told)


def _check_line(check: str) -> str:
    one = CHECK[check]
    return f"{one.words} ({one.minutes:g} min)"
