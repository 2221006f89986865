"""The page ‘Exports’: what can leave a class and what for, exactly what would be written, and what was."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

import ipywidgets as widgets

from brakecourse.classroom import export_log
from brakecourse.classroom.folder import ClassFolder, Progress
from brakecourse.desks.coordinator_grades import offer
from brakecourse.desks.coordinator_state import CoordinatorState, label, offers
from brakecourse.desks.file_peek import peek
from brakecourse.desks.job import Job
from brakecourse.desks.parts import caution, choose, heading, html, note, row, shown, table, tick
from brakecourse.desks.plain import in_desk_words
from brakecourse.desks.shell import Page
from brakecourse.errors import CourseError
from brakecourse.exports.desk import KINDS, SAME, Draft, preview, write
from brakecourse.exports.facts import Facts

_SLOW = "pictures"
MOST_MISSING = 200


@dataclass(frozen=True)
class Looked:
    """What would be written of one class and kind, or why nothing can be."""

    facts: Facts
    kind: str
    draft: Draft | None
    why_not: str = ""


class ExportPage(Page):
    """Choose, look, write."""

    def build(self) -> Sequence[widgets.Widget]:
        self.kinds = {
            one.name: tick(f"{one.title}. {one.purpose}", one.name in ("grades", "results"))
            for one in KINDS.values()
        }
        self.kinds[_SLOW].description += " Drawing takes a while."
        self.classes: dict[object, widgets.Checkbox] = {}
        self._class_boxes = widgets.VBox()
        self.look = Job(self.desk, "Show what would be written", self._preview, self._looked, self._ready)
        self.found = html()
        self.which = choose("Look into", [("–", None)], None)
        self.inside = html()
        self.write = Job(self.desk, "Write these files", self._write, self._written, self._ready_to_write)
        self._below = widgets.VBox(
            [
                self.found,
                row(self.which, self.desk.button("Look into it", self.look_into)),
                self.inside,
                html(caution("These files tell of people. Give each to whom it is for, and to nobody else.")),
                self.write,
            ]
        )
        shown(self._below, False)
        self.log_table = html()
        self._drafts: list[Looked] = []
        self._seen = -1
        return (
            heading("What"),
            widgets.VBox(list(self.kinds.values())),
            heading("Of which classes"),
            self._class_boxes,
            self.look,
            self._below,
            heading("What was written, and when"),
            self.log_table,
        )

    def opened(self) -> None:
        state: CoordinatorState = self.desk.state
        if self._seen != state.changes:
            self._seen = state.changes
            kept = {folder: box.value for folder, box in self.classes.items()}
            self.classes = {folder: tick(words, kept.get(folder, True)) for words, folder in offers(state)}
            self._class_boxes.children = tuple(self.classes.values())
            self._drafts = []
            shown(self._below, False)
        self.show_log()

    def _ready(self) -> None:
        self._wanted = [name for name, box in self.kinds.items() if box.value]
        self._of = [self.desk.state.facts(folder) for folder, box in self.classes.items() if box.value]
        if not self._wanted or not self._of:
            what = "kind" if not self._wanted else "class"
            raise CourseError(f"At least one {what} was expected, but none is ticked; tick one.")
        shown(self._below, False)

    def _preview(self, progress: Progress) -> list[Looked]:
        pairs = [(facts, kind) for facts in self._of for kind in self._wanted]
        found = []
        for number, (facts, kind) in enumerate(pairs, start=1):

            def told(done: int, total: int, item: str, words: str = KINDS[kind].title) -> None:
                progress(done, total, f"{words}: {item}")

            try:
                found.append(Looked(facts, kind, preview(facts.cls, kind, facts, told)))
            except CourseError as error:
                found.append(Looked(facts, kind, None, in_desk_words(str(error))))
            progress(number, len(pairs), f"{label(facts.cls)}: {KINDS[kind].title}")
        return found

    def _looked(self, found: list[Looked]) -> None:
        self._drafts = [one for one in found if one.draft is not None]
        files = [
            (f"{one.facts.cls.root.name}: {file.name}", file)
            for one in self._drafts
            if one.draft
            for file in one.draft.files
        ]
        self.found.value = _shown_beforehand(found)
        offer(self.which, files)
        if files:
            self.which.value = files[0][1]
        self.inside.value = ""
        shown(self._below, True)
        shown(self.write, bool(files))
        self.desk.say(f"Nothing is written yet. {_files(len(files))} would be; look at the tables below.")

    def look_into(self) -> None:
        """Show what is in the chosen file."""
        if self.which.value is not None:
            self.inside.value = peek(self.which.value)

    def _ready_to_write(self) -> None:
        if not self._drafts:
            raise CourseError(
                "Files that were looked at are expected; press ‘Show what would be written’ first."
            )

    def _write(self, progress: Progress) -> int:
        count, drafts = 0, list(self._drafts)
        for number, one in enumerate(drafts, start=1):
            assert one.draft is not None
            count += len(write(one.facts.cls, one.draft))
            progress(number, len(drafts), f"{label(one.facts.cls)}: {one.draft.kind.title}")
        return count

    def _written(self, count: int) -> None:
        same = sum(one.draft.same for one in self._drafts if one.draft)
        places = ", ".join(dict.fromkeys(str(one.facts.cls.exports) for one in self._drafts))
        self._drafts = []
        shown(self._below, False)
        self.show_log()
        self.desk.say(f"{_files(count)} in {places}; {same} of them have the same bytes as before.")

    def show_log(self) -> None:
        """Show what was written of the chosen classes, the newest first."""
        rows = sorted(
            (one for facts in self.desk.state.chosen for one in _log(facts.cls)),
            key=lambda one: one[0],
            reverse=True,
        )
        headings = ["When", "Class", "Kind", "File", ">Rows", "SHA-256 begins", "Compared with before"]
        self.log_table.value = (
            table("The log, the newest first", headings, rows[:MOST_MISSING])
            if rows
            else "<p>Nothing was written yet.</p>"
        )


def _files(count: int) -> str:
    return "1 file" if count == 1 else f"{count} files"


def _log(cls: ClassFolder) -> Iterator[tuple[str, ...]]:
    for when, kind, file, sha256, rows, remark in export_log.lines(cls):
        at = datetime.fromisoformat(when).replace(tzinfo=UTC).astimezone(cls.settings.zone)
        title = KINDS[kind].title if kind in KINDS else kind
        yield f"{at:%Y-%m-%d %H:%M:%S}", label(cls), title, file, rows, sha256[:16], remark


def _shown_beforehand(found: Sequence[Looked]) -> str:
    rows = [
        (
            file.name,
            label(one.facts.cls),
            file.rows,
            _who(one.facts.cls, file.who),
            len(file.content),
            file.sha256[:16],
            one.draft.remarks[file.name],
        )
        for one in found
        if one.draft is not None
        for file in one.draft.files
    ]
    headings = [
        "File",
        "Class",
        ">Rows",
        "Tells of",
        ">Bytes",
        "SHA-256 begins",
        "Compared with what is there",
    ]
    parts = [table("Exactly these files would be written", headings, rows)] if rows else []
    parts += [
        note(f"{KINDS[one.kind].title} of {label(one.facts.cls)}: nothing can be written. {one.why_not}")
        for one in found
        if one.draft is None
    ]
    parts += [
        note(f"Not written any more: {stale}. It stays; delete it if it should not be there.")
        for one in found
        if one.draft is not None
        for stale in one.draft.stale
    ]
    parts += [not_earned(one.facts) for one in found if one.kind == "badges"]
    if rows and all(row[-1] == SAME for row in rows):
        parts.append(note("Nothing changed since the last time: the same bytes as before."))
    return "".join(parts)


def not_earned(facts: Facts) -> str:
    """Return who has earned no badge for what yet, and why, as HTML."""
    missing = [one for one in facts.standings if not one.earned]
    earned = len(facts.standings) - len(missing)
    rows = [(one.student_id, one.what, one.why) for one in missing]
    more = f"; the first {MOST_MISSING} are shown" if len(rows) > MOST_MISSING else ""
    words = f"{label(facts.cls)}: {earned} badges earned, {len(missing)} not yet, and why{more}"
    return table(words, ["Student", "What for", "Why not yet"], rows[:MOST_MISSING])


def _who(cls: ClassFolder, who: Sequence[str]) -> str:
    if len(who) == len(cls.roster) and len(who) > 1:
        return f"all {len(who)} students"
    return ", ".join(who) or "nobody"
