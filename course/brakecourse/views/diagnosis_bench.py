"""The diagnosis bench: a vehicle with something hidden; checks cost minutes; name the cause."""

from __future__ import annotations

import secrets
from collections.abc import Mapping, Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.views.activity import Activity
from brakecourse.views.controls import button, choice, dropdown, row, tick
from brakecourse.views.diagnosis_cases import (
    BEFORE_A_DRIVE,
    CHECK,
    FIELDS,
    FINDING,
    PEDAL_FIELDS,
    draw_job,
    is_drive,
    may_be_driven,
    worth,
)
from brakecourse.views.diagnosis_replies import answer_words, named_reply
from brakecourse.views.diagnosis_words import (
    BOOSTER,
    cause_words,
    check_line,
    evidence_table,
    min_words,
    order_table,
    sheet,
)
from brakecourse.views.quiz import DIFFICULTIES

PEDAL, ALL = "pedal and fluid", "the whole vehicle"
_CAUSES = {
    PEDAL: tuple(cause for field in PEDAL_FIELDS for cause in FIELDS[field]),
    ALL: tuple(cause for causes in FIELDS.values() for cause in causes),
}
NO_CAUSE = "choose a cause"
ALL_DONE = "every check is done"


class DiagnosisBench(Activity):
    """A hidden fault. Each check costs minutes and shows what this vehicle shows.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first vehicle.
        session: fixes the vehicles after it, for tests; by default every session has others.
    """

    title = "The diagnosis bench"
    task = (
        "Choose a check and do it. Watch how the causes move. When you are sure enough, name the cause. "
        "Spend few minutes."
    )
    lesson = "05_leaks_and_pedal_feel"

    def __init__(
        self, name: str = "diagnosis-bench", seed: int = 5, session: int | None = None, **more: Any
    ) -> None:
        self.number = 0
        self.findings: dict[str, str] = {}
        self.told = False
        self._session = Draw(secrets.randbits(64) if session is None else session)
        self.job = draw_job(Draw(seed).child("first vehicle"), _CAUSES[PEDAL])
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.difficulty = choice("How hard?", tuple(DIFFICULTIES), "usual")
        self.field = dropdown("Trouble with", (PEDAL, ALL), PEDAL)
        for control in (self.difficulty, self.field):
            control.observe(self.new_vehicle, "value")
        self.next_check = dropdown("Check", tuple(map(check_line, CHECK)), self._first_open())
        self.show_ranking = tick("Show how the causes stand", value=True)
        self.show_ranking.observe(self.refresh, "value")
        return (
            row(self.difficulty, self.field, button("New vehicle", self.new_vehicle)),
            row(self.next_check),
            row(
                button("Do this check", self.do_check),
                button("Which check is worth most?", self.advise),
                self.show_ranking,
            ),
        )

    def answers(self) -> Sequence[widgets.Widget]:
        named = (NO_CAUSE, *sorted((*cause_words().values(), BOOSTER)))
        self.cause = dropdown("The cause", named, NO_CAUSE)
        return (
            row(self.cause),
            row(button("Name this cause", self.name_cause), button("Show the answer", self.show_answer)),
        )

    def picture(self) -> str:
        causes = 5 if self.show_ranking.value else 0
        return sheet(self.job, self.findings, self.uid, causes=causes, note="You chose not to see them.")

    def words(self) -> str:
        return self.job.case.complaint

    def facts(self) -> Sequence[Sequence[str]]:
        if self.told:
            return order_table(self.job)
        return evidence_table(self.findings) if self.show_ranking.value else ()

    def opening(self) -> str:
        return "Your first named cause counts. After it you may go on checking and try again."

    def do_check(self) -> None:
        """Do the chosen check: note what it shows, and count its minutes."""
        check = next((one for one in CHECK if check_line(one) == self.next_check.value), None)
        if check is None or check in self.findings:
            self.say("Every check is done. Name the cause.")
            return
        if is_drive(check) and not may_be_driven(self.findings):
            self.say(not_on_the_road(self.findings))
            return
        finding = self.job.finding(check)
        self.findings[check] = finding
        self._offer()
        self.say(f"{FINDING[check, finding]}. That took {min_words(CHECK[check].minutes)}.")
        self.refresh()

    def advise(self) -> None:
        """Tell which of the open checks is worth most, and choose it."""
        best = worth(self.findings)
        if not best:
            self.say("Every check is done. Name the cause.")
            return
        first = best[0]
        self.next_check.value = check_line(first.check)
        self.say(
            f"{first.words}: it is expected to tell {first.information_bits:.2f} bit "
            f"in {min_words(first.minutes)}. 1 bit halves the field. It is chosen for you."
        )

    def name_cause(self) -> None:
        """Reply to the named cause. The first one for a vehicle counts."""
        if self.cause.value == NO_CAUSE:
            self.say("No cause is chosen yet: choose one from the list, then press Name this cause.")
            return
        reply = named_reply(self.job, self.findings, self.cause.value)
        self.say(reply.words, self.count(self.number, right=reply.right))
        if reply.right:
            self._tell()

    def show_answer(self) -> None:
        """Tell the cause. A vehicle without a named cause counts as not right."""
        told = self.count(self.number, right=False)
        self.say(answer_words(self.job, self.findings), told)
        self._tell()

    def new_vehicle(self, *_: object) -> None:
        """Bring in another vehicle."""
        self.number += 1
        draw = self._session.child(f"vehicle {self.number}")
        self.job = draw_job(draw, _CAUSES[self.field.value], DIFFICULTIES[self.difficulty.value])
        self.findings, self.told = {}, False
        self._offer()
        self.cause.value = NO_CAUSE
        self.say(self.opening())
        self.refresh()

    def _first_open(self) -> str:
        """Return the first check that may be done now, else the first that is left."""
        left = [one for one in CHECK if one not in self.findings]
        driven = may_be_driven(self.findings)
        return check_line(next((one for one in left if driven or not is_drive(one)), left[0]))

    def _tell(self) -> None:
        self.told = True
        self.refresh()

    def _offer(self) -> None:
        """Offer only the checks that are not done yet."""
        left = tuple(check_line(one) for one in CHECK if one not in self.findings) or (ALL_DONE,)
        with self.next_check.hold_sync():
            self.next_check.options = left
            self.next_check.value = left[0] if ALL_DONE in left else self._first_open()


def not_on_the_road(findings: Mapping[str, str]) -> str:
    """Say why a vehicle with these findings is not driven yet."""
    for check, wanted in BEFORE_A_DRIVE.items():
        seen = findings.get(check, wanted)
        if seen != wanted:
            return f"“{FINDING[check, seen]}”: this vehicle is not driven. Choose another check."
    return "First press the pedal and hold it: a vehicle is driven only when its pedal is firm and stays."
