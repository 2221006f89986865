"""What the commands print comes out as plain words, whatever a file's or a person's name holds."""

from __future__ import annotations

import io

import pytest
from brakecourse.cli import screen
from rich.console import Console

STEERING = (
    "\x1b[2J\x1b]0;owned\x07\x9b31m[red]36 of 36[/red] [link=http://x]look[/link] :skull:\r\n\u202eback"
)
SHOWN = "[red]36 of 36[/red] [link=http://x]look[/link] :skull:"


def steers(text: str) -> list[str]:
    return [sign for sign in text if not sign.isprintable() and sign != "\n"]


def test_a_table_and_lines_of_words_show_what_is_there(capsys: pytest.CaptureFixture[str]) -> None:
    screen.table(f"Title {STEERING}", ["Who", ">Points"], [[STEERING, 1]])
    screen.say(STEERING)
    screen.next_step(STEERING)
    code = screen.complain(STEERING)
    out, err = capsys.readouterr()
    assert code == 1
    assert steers(out + err) == []
    assert "".join(out.split()).count("".join(SHOWN.split())) == 4 and SHOWN in err


def test_the_progress_bar_shows_what_is_there(monkeypatch: pytest.MonkeyPatch) -> None:
    shown = io.StringIO()

    def terminal(**_: object) -> Console:
        return Console(file=shown, force_terminal=True, width=200, color_system=None)

    monkeypatch.setattr(screen, "Console", terminal)
    with screen.progress_bar("Grading [b]08[/b]") as told:
        told(1, 2, STEERING)
    assert SHOWN in shown.getvalue() and "Grading [b]08[/b]" in shown.getvalue()
    assert "owned\x07" not in shown.getvalue() and "\x1b[2J" not in shown.getvalue()
