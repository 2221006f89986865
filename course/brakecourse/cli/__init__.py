"""The command line: parse, call a room, print with progress. It decides nothing itself."""

from __future__ import annotations

import sys
import tempfile
import traceback
from collections.abc import Sequence
from typing import Any

import typer
from typer.core import TyperGroup

from brakecourse.cli import classes, credentials, exporting, printing, privacy, roster, work
from brakecourse.cli.screen import complain
from brakecourse.errors import CourseError


class _InOrderOfUse(TyperGroup):
    """Lists the commands in the order in which a teacher needs them."""

    def list_commands(self, ctx: Any) -> list[str]:
        return ["class", *(name for name in super().list_commands(ctx) if name != "class")]


app = typer.Typer(
    name="brakecourse",
    cls=_InOrderOfUse,
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode="rich",
    help="Run a class in the disc-brake course: hand out, take in, grade, give back.\n\n"
    "An evening's work, from first to last:\n\n"
    "brakecourse class new autumn --roster roster.csv --name 'Autumn evening class'\n\n"
    'brakecourse assign autumn 08_rotor_measurement --due "2026-12-04 18:00"\n\n'
    "brakecourse collect autumn 08_rotor_measurement download.zip\n\n"
    "brakecourse grade autumn 08_rotor_measurement\n\n"
    "brakecourse hand-mark autumn 08_rotor_measurement s03 8.9 3 --comment 'Clear.'\n\n"
    "brakecourse feedback autumn 08_rotor_measurement\n\n"
    "brakecourse export-grades autumn\n\n"
    "Give any command with --help to see its parts and examples. 'brakecourse demo' shows it all with "
    "simulated students.",
)
roster.add_to(classes.app)
privacy.add_to(classes.app)
app.add_typer(classes.app, name="class")
work.add_to(app)
exporting.add_to(app)
credentials.add_to(app)
printing.add_to(app)


_STOPPED = 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Carry out one command and return the exit code: 0, or 1 after one sentence on the error output."""
    try:
        command = typer.main.get_command(app)
        result = command.main(args=arguments, prog_name="brakecourse", standalone_mode=False)
        if result == _STOPPED:  # the parser's own answer to Ctrl-C
            raise KeyboardInterrupt
        return result if isinstance(result, int) else 0
    except CourseError as error:
        return complain(str(error))
    except (KeyboardInterrupt, typer.Abort):
        complain("Stopped. What was finished is kept; give the same command again to go on.")
        return _STOPPED
    except BrokenPipeError:
        # The reader of the output went away (a pager that was quit): nobody is left to tell.
        sys.stderr.close()
        return 1
    except OSError as error:
        where = f" ({error.filename})" if error.filename else ""
        return complain(
            f"The computer refused a file{where}: {error.strerror or error}; "
            "free some space or check who may use it, then give the same command again."
        )
    except Exception as error:
        if hasattr(error, "format_message"):  # what the parser says about the words that were typed
            return _usage_trouble(error)
        return complain(
            f"Something went wrong that the course did not foresee ({type(error).__name__}); "
            f"nothing handed in was changed, and the details are in {_details()}."
        )


def _usage_trouble(error: Exception) -> int:
    text = " ".join(error.format_message().split())  # type: ignore[attr-defined]
    if not text:  # the command was given without anything: its help was printed
        return 1
    context = getattr(error, "ctx", None)
    path = context.command_path if context else "brakecourse"
    return complain(f"{text.rstrip('.?').replace('. Did', '; did')}; '{path} --help' shows how it is given.")


def _details() -> str:
    with tempfile.NamedTemporaryFile(
        "w", prefix="brakecourse-trouble-", suffix=".txt", delete=False, encoding="utf-8"
    ) as handle:
        traceback.print_exc(file=handle)
    return handle.name
