"""The page ‘Badges’: the signing key, who has earned what, and whether a badge that was shown is genuine."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

import ipywidgets as widgets

from brakecourse.classroom.folder import Progress
from brakecourse.desks.coordinator_grades import offer
from brakecourse.desks.coordinator_state import CoordinatorState, offers
from brakecourse.desks.export_page import not_earned
from brakecourse.desks.job import Job
from brakecourse.desks.parts import caution, choose, fold, heading, html, note, shown, table, text_field
from brakecourse.desks.shell import Page
from brakecourse.desks.source import Source
from brakecourse.errors import CourseError
from brakecourse.exports.badges import NO_LICENCE, title_of
from brakecourse.exports.facts import Facts


class BadgePage(Page):
    """Key, badges, verdict."""

    def build(self) -> Sequence[widgets.Widget]:
        self.of_class = choose("Class", [("–", None)], None)
        self.key = html()
        self.make = self.desk.button("Make the signing key", self.make_key)
        self.standings = Job(self.desk, "Show who has earned what", self._judge, self._judged, self._ready)
        self.earned = html()
        self.source = Source(self.desk.state, "Badge", (".json",))
        self.issuer = text_field("The school's did:key", placeholder="left empty: any signer will do")
        self.verdict = html()
        self.of_class.observe(lambda _: self.show_key(), "value")
        return (
            self.of_class,
            heading("The class's signing key"),
            html(
                caution(
                    "Whoever has the key can sign badges in the class's name. It lies in the class folder "
                    "and is "
                    "in no kit and no export: keep the folder private, and keep a copy in a safe place."
                )
            ),
            self.key,
            self.make,
            fold("If the key is lost or was seen by somebody else", html(note(_lost()))),
            heading("Who has earned what"),
            self.standings,
            self.earned,
            heading("Look at a badge"),
            html(
                "<p>No network is needed. Take the school's did:key from where the school itself publishes "
                "it.</p>"
            ),
            self.source,
            self.issuer,
            self.desk.button("Is it genuine?", self.verify, main=True),
            self.verdict,
            html(note(NO_LICENCE)),
        )

    def opened(self) -> None:
        state: CoordinatorState = self.desk.state
        offer(self.of_class, offers(state))
        self.source.look_again()
        self.show_key()

    def show_key(self) -> None:
        """Say whether the class has a key, and its public name."""
        from brakecourse.exports.badge_key import KEY_NAME, read_key
        from brakecourse.exports.signing import did_of

        self.earned.value = ""
        if self.of_class.value is None:
            return
        there = (self.of_class.value / KEY_NAME).exists()
        shown(self.make, not there)
        if not there:
            self.key.value = "<p>This class has no key yet.</p>"
            return
        with self.desk.trying():
            did = did_of(read_key(self.desk.state.facts(self.of_class.value).cls).public_key())
            self.key.value = (
                "<p>The class has a key. Its public name, to publish where the school publishes other "
                f"things:</p>"
                f'<pre class="bc-given">{escape(did)}</pre>'
            )

    def make_key(self) -> None:
        """Make the class's key. One that is there stays."""
        from brakecourse.exports.badge_key import make_key

        make_key(self.desk.state.facts(self.of_class.value).cls)
        self.show_key()
        self.desk.say("The key is made. Publish its public name. Badges are written on the page ‘Exports’.")

    def _ready(self) -> None:
        self._facts = self.desk.state.facts(self.of_class.value)

    def _judge(self, progress: Progress) -> Facts:
        earned = sum(one.earned for one in self._facts.standings)
        progress(1, 1, f"{earned} badges earned")
        return self._facts

    def _judged(self, facts: Facts) -> None:
        rows = [
            (one.student_id, title_of(one.what), f"{one.when:%Y-%m-%d}" if one.when else "")
            for one in facts.standings
            if one.earned
        ]
        self.earned.value = table("Earned", ["Student", "What for", "Since"], rows) + not_earned(facts)

    def verify(self) -> None:
        """Say who signed the badge, for what, and whether it was altered."""
        from brakecourse.exports.badge_check import verify, whose

        path = self.source.path
        try:
            content = path.read_bytes()
        except OSError as error:
            raise CourseError(
                f"The badge {path} can't be read: {error.strerror or error}; check the path."
            ) from error
        found = verify(content, self.issuer.value.strip())
        lines = [one.replace(" (--class)", "").replace("with --issuer", "above") for one in found.lines]
        if found.genuine and self.of_class.value is not None:
            who = whose(content, self.desk.state.facts(self.of_class.value).cls)
            lines.append(
                f"It is the badge of {who}." if who else "It is the badge of nobody in the chosen class."
            )
        items = "".join(f"<li>{escape(line)}</li>" for line in lines)
        self.verdict.value = f"<ul>{items}</ul>"
        self.desk.say(lines[0])


def _lost() -> str:
    from brakecourse.exports.badge_key import LOST

    return LOST.replace(
        "give 'brakecourse badge-key' again: it makes", "press ‘Make the signing key’: it makes"
    )
