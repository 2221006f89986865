"""A class in which almost everybody attacks, taken in, graded in one run, given back and exported."""

from __future__ import annotations

import contextlib
import hashlib
import os
import secrets
import socket
import tempfile
import threading
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from brakecourse import marking
from brakecourse.classroom.collect import CollectReport, collect
from brakecourse.classroom.engine import GradeReport, excuse, grade, prepare_assignment
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.feedback import give_back
from brakecourse.classroom.folder import ClassFolder, new_class
from brakecourse.classroom.records import GradeRecord, QuestionRecord, grade_records, question_records
from brakecourse.exports.tables import export_all

from tests.attacks import (  # noqa: F401 (each enters its attacks into the list)
    on_marks,
    on_the_class,
    on_the_machine,
    on_the_notebook,
    on_the_screen,
    on_the_walls,
    on_what_is_handed_in,
)
from tests.attacks.registry import ATTACKS, MARK, Attack, Exercise, Surroundings
from tests.classroom.engine_class import (
    HANDED_IN,
    MODULE,
    SECRET,
    filled,
    points_in_gradebook,
    released,
    right_answers,
)

FULL_MARKS = {"8.1": 8, "8.2": 3, "8.3": 4, "8.4": 6, "8.5": 4, "8.6": 3, "8.7": 4, "8.8": 4}
WRONG = {
    "8.1": [1.0] * 8,
    "8.2": 1.5,
    "8.3": 3.25,
    "8.4": 4.75,
    "8.5": "maybe",
    "8.6": 47.5,
    "8.7": "likely",
    "8.8": "Paint it.",
}
# Small enough that bombs go off within seconds.
LIMITS = Limits(
    cell_s=3, total_s=30, memory_bytes=500_000_000, processes=24, file_bytes=8_000_000, output_bytes=100_000
)
HONEST_EVERY = 16
CANARY = "canary-" + secrets.token_hex(12)
CANARY_VARIABLE = "BRAKECOURSE_TEST_PASSWORD"


@dataclass
class Listeners:
    """Who listens outside the sandbox, and what they heard."""

    heard: list[bytes] = field(default_factory=list)
    tcp: int = 0
    udp: int = 0
    unix: tuple[str, ...] = ()
    _open: list[socket.socket] = field(default_factory=list)

    def start(self) -> None:
        """Listen over TCP, over UDP, and at unix sockets with a path and without."""
        server = self._listen(socket.create_server(("127.0.0.1", 0)))
        self.tcp = int(server.getsockname()[1])
        datagrams = socket.socket(type=socket.SOCK_DGRAM)
        datagrams.bind(("127.0.0.1", 0))
        self.udp = int(datagrams.getsockname()[1])
        self._open.append(datagrams)
        threading.Thread(target=self._take, args=(datagrams,), daemon=True).start()
        self.unix = (f"@{MARK}-{os.getpid()}", f"{tempfile.gettempdir()}/{MARK}-{os.getpid()}.sock")
        for address in self.unix:
            local = socket.socket(socket.AF_UNIX)
            local.bind(address.replace("@", "\0", 1))
            local.listen()
            self._listen(local)

    def stop(self) -> None:
        """Stop listening."""
        for one in self._open:
            one.close()
        Path(self.unix[1]).unlink(missing_ok=True)

    def call_all(self) -> None:
        """Call each listener, to see that it listens."""
        with socket.create_connection(("127.0.0.1", self.tcp)) as own:
            own.sendall(b"tcp")
        with socket.socket(type=socket.SOCK_DGRAM) as own:
            own.sendto(b"udp", ("127.0.0.1", self.udp))
        for address in self.unix:
            with socket.socket(socket.AF_UNIX) as own:
                own.connect(address.replace("@", "\0", 1))
                own.sendall(b"unix")
        end = time.monotonic() + 5
        while len(self.heard) < 4 and time.monotonic() < end:
            time.sleep(0.02)

    def _listen(self, server: socket.socket) -> socket.socket:
        self._open.append(server)
        threading.Thread(target=self._accept, args=(server,), daemon=True).start()
        return server

    def _accept(self, server: socket.socket) -> None:
        with contextlib.suppress(OSError):
            while True:
                connection, _ = server.accept()
                self._take(connection, once=True)

    def _take(self, source: socket.socket, once: bool = False) -> None:
        with contextlib.suppress(OSError):
            while True:
                self.heard.append(source.recv(100))
                if once:
                    source.close()
                    return


@dataclass(frozen=True)
class Attacked:
    """The attacked class after all of it."""

    cls: ClassFolder
    student_of: dict[str, str]
    honest: tuple[str, ...]
    excused: str
    collected: CollectReport
    report: GradeReport
    before: dict[str, str]
    where: Surroundings
    listeners: Listeners
    canaries: tuple[str, ...]
    records: dict[str, GradeRecord]
    answers: dict[tuple[str, str], QuestionRecord]
    points: dict[tuple[str, str], float | None]


def fingerprints(cls: ClassFolder) -> dict[str, str]:
    """Every file of the class that grading has no business to change."""
    own = ("gradebook.db", "gradebook.db-wal", "gradebook.db-shm", "autograded", "feedback", "exports")
    files = [path for path in sorted(cls.root.rglob("*")) if path.is_file()]
    return {
        str(path.relative_to(cls.root)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in files
        if path.relative_to(cls.root).parts[0] not in own
    }


def make_class(folder: Path, students: int) -> ClassFolder:
    """A class that was set the module. One vehicle is drawn, and everybody gets it: drawing is slow."""
    roster = folder / "roster.csv"
    rows = [f"s{n:03},Amara{n},Quillstone" for n in range(1, students + 1)]
    roster.write_text("\n".join(["student_id,first_name,last_name", *rows]) + "\n", encoding="utf-8")
    cls = new_class(folder / "class", roster, name="Evening class", secret=SECRET)
    drawn = marking.draw_sealed_case(MODULE, cls.student_ids[0], SECRET)
    for student in cls.student_ids:
        path = cls.case_file(MODULE, student)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(drawn.model_copy(update={"student": student}).model_dump_json(), encoding="utf-8")
    prepare_assignment(cls, MODULE)
    return cls


def wrong_exercise(cls: ClassFolder) -> Exercise:
    """An honest notebook whose answers all earn nothing."""
    return Exercise(filled(released(cls), WRONG), dict(FULL_MARKS))


def lay_out(attack: Attack, cls: ClassFolder, inbox: Path, student: str, where: Surroundings) -> None:
    """Do one attack: what it hands in lies in the inbox afterwards, or in the place of the graded copy."""
    exercise = wrong_exercise(cls)
    folder = inbox / student
    folder.mkdir(parents=True)
    if attack.kind == "inbox":
        attack.do(folder, exercise, where)
    elif attack.kind == "submitted":
        attack.do(cls.submitted_notebook(MODULE, student), exercise, where)
    else:
        made = attack.do(exercise, where)
        content = made if attack.kind == "file" else on_what_is_handed_in.content_of(exercise)
        (folder / f"{MODULE}.ipynb").write_bytes(content)


@contextlib.contextmanager
def attacked_class(folder: Path, attacks: Sequence[Attack] = tuple(ATTACKS.values())) -> Iterator[Attacked]:
    """Let everyone but a few attack a class; then take in, grade, give back and export.

    An honest student comes first, one last, and one after every few attackers. One student is excused and
    one hands in nothing.
    """
    seats: list[Attack | None] = []
    for number, one in enumerate(attacks):
        seats += [None, one] if number % HONEST_EVERY == 0 else [one]
    seats.append(None)
    cls = make_class(folder, len(seats) + 2)
    *seated, excused, _absent = cls.student_ids
    honest = tuple(student for student, seat in zip(seated, seats, strict=True) if seat is None)
    listeners = Listeners()
    listeners.start()
    home = Path.home() / f".{MARK}-{os.getpid()}"
    try:
        where = _surroundings(cls, folder, honest[0], listeners, home)
        student_of = _hand_in(cls, folder / "inbox", dict(zip(seated, seats, strict=True)), where)
        excuse(cls, MODULE, excused, "Ill.")
        collected = collect(cls, MODULE, folder / "inbox", received_at=HANDED_IN)
        before = fingerprints(cls)
        report = grade(cls, MODULE, limits=LIMITS, workers=4)
        give_back(cls, MODULE)
        export_all(cls)
        canaries = (CANARY, SECRET.hex())
        records = {one.student_id: one for one in grade_records(cls, MODULE)}
        answers = {(one.student_id, one.question_id): one for one in question_records(cls, MODULE)}
        points = points_in_gradebook(cls)
        yield Attacked(
            cls, student_of, honest, excused, collected, report, before, where, listeners, canaries,
            records, answers, points,
        )  # fmt: skip
    finally:
        listeners.stop()
        home.unlink(missing_ok=True)


def _surroundings(
    cls: ClassFolder, folder: Path, victim: str, listeners: Listeners, home: Path
) -> Surroundings:
    outside = folder / "outside"
    outside.mkdir()
    places = (outside / "password.txt", cls.root / "cases" / "password.txt", home)
    for place in places:
        place.write_text(f"{CANARY}\n", encoding="utf-8")
    return Surroundings(
        cls.root, victim, outside, places, listeners.tcp, listeners.udp, listeners.unix
    )  # fmt: skip


def _hand_in(
    cls: ClassFolder, inbox: Path, seats: dict[str, Attack | None], where: Surroundings
) -> dict[str, str]:
    student_of: dict[str, str] = {}
    for student, attack in seats.items():
        if attack is not None:
            student_of[attack.name] = student
            lay_out(attack, cls, inbox, student, where)
            continue
        letter = f"Dear customer, the rotor is worn. {CANARY}" if student == where.victim else "It is worn."
        notebook = filled(released(cls), right_answers(cls, student), letter)
        (inbox / student).mkdir(parents=True)
        content = on_what_is_handed_in.content_of(Exercise(notebook, {}))
        (inbox / student / f"{MODULE}.ipynb").write_bytes(content)
    return student_of
