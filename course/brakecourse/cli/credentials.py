"""The commands for what students carry away, and for what else leaves the class."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from brakecourse.classroom.folder import ClassFolder, open_class
from brakecourse.cli.classes import Folder
from brakecourse.cli.screen import count_of, next_step, say, table
from brakecourse.errors import CourseError

Preview = Annotated[
    bool, typer.Option("--preview", help="Only show exactly what would be written, and write nothing.")
]


def add_to(app: typer.Typer) -> None:
    """Add this file's commands to the program."""
    for name, function in (
        ("export", export),
        ("badge-key", badge_key),
        ("export-badges", export_badges),
        ("verify-badge", verify_badge),
        ("export-records", export_records),
    ):
        app.command(name)(function)


def export(
    folder: Folder,
    kind: Annotated[
        str, typer.Argument(metavar="[KIND]", help="What to write; left out, the kinds are listed.")
    ] = "",
    preview: Preview = False,
) -> None:
    """Write results of one kind into the class's exports folder, and log it; or list the kinds.

    Examples:

    brakecourse export autumn

    brakecourse export autumn case --preview

    brakecourse export autumn records
    """
    from brakecourse.exports.desk import KINDS

    cls = open_class(folder)
    if kind:
        _export(cls, kind, preview)
        return
    table("Kinds of export", ["Kind", "What it is", "What it is for"], [
        (one.name, one.title, one.purpose) for one in KINDS.values()
    ])  # fmt: skip
    next_step(f"brakecourse export {folder} KIND --preview")


def badge_key(folder: Folder) -> None:
    """Make the key that the class signs badges with, or show the public name of the one that is there.

    The key lies in the class folder (.badge-key) and is for its owner only: it is in no kit, no export and
    no log. Its public name, the did:key, is what the school publishes.

    Example:

    brakecourse badge-key autumn
    """
    from brakecourse.exports.badge_key import KEY_NAME, LOST, make_key
    from brakecourse.exports.signing import did_of

    cls = open_class(folder)
    there = (cls.root / KEY_NAME).exists()
    did = did_of(make_key(cls).public_key())
    say(f"{'The key was there already' if there else 'A key was made'}: {cls.root / KEY_NAME}")
    say("Keep it private, and keep a copy in a safe place.")
    say(f"Its public name: {did}")
    say("Publish that name where the school publishes other things, so that a badge can be compared with it.")
    say(LOST)
    next_step(f"brakecourse export-badges {folder}")


def export_badges(
    folder: Folder,
    preview: Preview = False,
    why: Annotated[bool, typer.Option("--why", help="List also who has earned none, and why.")] = False,
) -> None:
    """Write a signed badge for everyone who completed a module or the course.

    A badge says that something was completed. It is no licence and no certification.

    Examples:

    brakecourse export-badges autumn --preview --why

    brakecourse export-badges autumn
    """
    cls = open_class(folder)
    if why:
        from brakecourse.exports.badges import standings

        missing = [one for one in standings(cls) if not one.earned]
        rows = [(one.student_id, one.what, one.why) for one in missing]
        table("Not earned", ["Student", "What for", "Why"], rows)
    _export(cls, "badges", preview)


def verify_badge(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The badge.", show_default=False)],
    issuer: Annotated[
        str,
        typer.Option(
            metavar="did:key:...",
            help="The school's did:key, as the school publishes it.",
            show_default=False,
        ),
    ] = "",
    of_class: Annotated[
        Path | None,
        typer.Option("--class", metavar="DIR", help="Tell whose it is, of this class.", show_default=False),
    ] = None,
) -> None:
    """Say who signed a badge, for what, and whether it was changed since. No network is needed.

    Examples:

    brakecourse verify-badge 08_rotor_measurement.json

    brakecourse verify-badge badge.json --issuer did:key:z6MkjZRZv3aez3r18pB1RBFJR1kwUVJ5jHt92JmQwXbd5hwi
    """
    from brakecourse.exports.badge_check import verify, whose

    try:
        content = file.read_bytes()
    except OSError as error:
        raise CourseError(
            f"The badge {file} can't be read: {error.strerror or error}; check the path."
        ) from error
    verdict = verify(content, issuer)
    for line in verdict.lines:
        say(line)
    if not verdict.genuine:
        raise typer.Exit(1)
    if of_class is not None:
        student = whose(content, open_class(of_class))
        say(f"It is the badge of {student}." if student else "It is the badge of nobody in this class.")


def export_records(folder: Folder, preview: Preview = False) -> None:
    """Write a page of PDF for each student: modules, marks and competencies.

    The setting 'paper' in class.toml is "A4" or "US Letter".

    Example:

    brakecourse export-records autumn
    """
    from brakecourse.exports.record_pdf import lacking_signs

    cls = open_class(folder)
    _export(cls, "records", preview)
    for entry in cls.roster:
        lacking = lacking_signs(f"{entry.first_name}{entry.last_name}")
        if lacking:
            say(f"{entry.student_id}: the page's typeface lacks {lacking}; write the name in by hand.")


def _export(cls: ClassFolder, name: str, only_show: bool) -> None:
    from brakecourse.exports.desk import preview, write

    draft = preview(cls, name)
    rows = [
        (one.name, one.rows, _who(cls, one.who), one.sha256[:16], draft.remarks[one.name])
        for one in draft.files
    ]
    table(draft.kind.title, ["File", ">Rows", "Who", "SHA-256", "Compared with what is there"], rows)
    for stale in draft.stale:
        say(f"Not written any more: {stale}. It stays; delete it if it should not be there.")
    if only_show:
        say("Nothing was written.")
        next_step(f"brakecourse export {cls.root} {name}")
        return
    write(cls, draft)
    say(f"In {cls.exports}: {count_of(len(draft.files), 'file')}. The log is {cls.exports / 'log.csv'}.")
    say(draft.kind.purpose)
    next_step("look at what was written, then pass it on to whom it is for, and to nobody else")


def _who(cls: ClassFolder, who: tuple[str, ...]) -> str:
    if len(who) == len(cls.roster) and len(who) > 1:
        return f"all {len(who)}"
    return ", ".join(who) or "nobody"
