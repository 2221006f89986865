"""The class: reading what is not the student's, and changing what is another's."""

from __future__ import annotations

from pathlib import Path

from tests.attacks.registry import MARK, Exercise, Surroundings, attack, tried
from tests.classroom.engine_class import MODULE

QUOTE = "from pathlib import Path\nimport os\nseen = []\n"


def look_at(places: list[str]) -> str:
    """Code that reads files and folders, prints what it finds and keeps it."""
    return "".join(
        tried(
            f"""
            for path in [Path({place!r}), *Path({place!r}).rglob('*')]:
                if path.is_file():
                    seen.append(path.read_text(errors="replace")[:5000])
                    print(path, seen[-1])
            """
        )
        for place in places
    )


def tell_in_the_answers(exercise: Exercise) -> None:
    """Hand in what was read, so that it would come back on the feedback page."""
    for question in exercise.points:
        exercise.after(
            question, f"if 'seen' in globals() and seen: {exercise.variable(question)} = str(seen)"
        )


@attack("Runs the solutions and reads the sealed cases, the secret and others' work.", measured=17)
def read_the_solutions_and_the_secret(exercise: Exercise, where: Surroundings) -> None:
    places = [
        "../../../source", "../../../.secret", "../../../cases", "../../../submitted",
        f"{where.root}/source", f"{where.root}/.secret", f"{where.root}/submitted/{where.victim}",
        f"{where.root}/received", f"{where.root}/cases/{MODULE}/{where.victim}.json",
    ]  # fmt: skip
    exercise.first(QUOTE + look_at(places))
    tell_in_the_answers(exercise)
    # The solved notebook says what to answer, where it can be read.
    run = tried(
        """
        import json
        for cell in json.loads(next(Path("../../../source").rglob("*.ipynb")).read_text())["cells"]:
            if cell["metadata"].get("nbgrader", {}).get("solution"):
                exec("".join(cell["source"]))
        """
    )
    for question in exercise.points:
        exercise.after(question, run)


@attack(
    "Reads passwords in the environment, of the grader's other processes too, and files at home and in /tmp."
)
def read_the_graders_environment(exercise: Exercise, where: Surroundings) -> None:
    exercise.first(
        QUOTE
        + "print(dict(os.environ))\nseen.append(str(dict(os.environ)))\n"
        + look_at([*map(str, where.secrets), str(Path.home() / ".ssh"), "/etc/shadow", "/proc/self/environ"])
        + tried(
            """
            for path in Path("/proc").glob("*/environ"):
                try:
                    seen.append(path.read_text(errors="replace"))
                    print(path, seen[-1])
                except OSError:
                    pass
            """
        )
    )
    tell_in_the_answers(exercise)


@attack("Draws another student's case again from the secret and hands its answers in.")
def draw_the_case_again(exercise: Exercise, where: Surroundings) -> None:
    names = {question: exercise.variable(question) for question in exercise.points}
    lines = "\n".join(f"{name} = case.question({question!r}).expected" for question, name in names.items())
    exercise.after(
        "8.8",
        tried(
            "from brakecourse import marking\n"
            f"secret = bytes.fromhex(open({str(where.root / '.secret')!r}).read())\n"
            f"case = marking.draw_sealed_case({MODULE!r}, {where.victim!r}, secret)\n{lines}"
        ),
    )


@attack("Prints the hidden tests and the marking's own source into its own feedback.")
def print_hidden_things_into_the_feedback(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        QUOTE
        + tried("import brakecourse.marking as marking\nseen.append(str(vars(marking)))")
        + tried("import brakecourse\nprint(list(Path(brakecourse.__file__).parents[2].rglob('solutions')))")
        + look_at(["../../../solutions", str(Path(__file__).resolve().parents[2] / "solutions")])
    )
    for question in exercise.points:
        exercise.after(question, "print(get_ipython().user_ns['In'])")
    tell_in_the_answers(exercise)


@attack("Writes points into the gradebook with an UPDATE.")
def write_points_into_the_gradebook(exercise: Exercise, where: Surroundings) -> None:
    for path in (f"{where.root}/gradebook.db", "../../../gradebook.db"):
        exercise.first("import sqlite3\n" + tried(
            f"with sqlite3.connect({path!r}) as book:\n"
            "    book.execute('UPDATE grade SET manual_score = 99, needs_manual_grade = 0')"
        ))  # fmt: skip


@attack("Leaves a trigger in the gradebook, which raises points whenever one is stored.")
def leave_a_trigger_in_the_gradebook(exercise: Exercise, where: Surroundings) -> None:
    for path in (f"{where.root}/gradebook.db", "../../../gradebook.db"):
        exercise.first("import sqlite3\n" + tried(
            f"with sqlite3.connect({path!r}) as book:\n"
            "    book.execute('CREATE TRIGGER more AFTER UPDATE ON grade '\n"
            "                 'BEGIN UPDATE grade SET manual_score = 99; END')"
        ))  # fmt: skip


@attack("Leaves a daemon behind that changes the gradebook when grading is over.")
def leave_a_daemon_that_writes_later(exercise: Exercise, where: Surroundings) -> None:
    exercise.first(
        f"""
        import os, sqlite3, time
        if os.fork() == 0:
            os.setsid()
            if os.fork() == 0:
                for _ in range(60):
                    time.sleep(0.5)
                    try:
                        open({str(where.outside / MARK)!r}, "a").write("here")
                        with sqlite3.connect({str(where.root / "gradebook.db")!r}) as book:
                            book.execute("UPDATE grade SET manual_score = 99")
                    except Exception:
                        pass
            os._exit(0)
        """
    )


@attack("Poisons the start of every later kernel: startup files, site-packages, path files.")
def poison_the_kernels_that_come_later(exercise: Exercise, where: Surroundings) -> None:
    # Only a comment: were the sandbox to leak, the test would fail, and the machine still work.
    start = f"# {MARK}"
    exercise.first(
        f"""
        import os, sys, sysconfig
        from pathlib import Path
        homes = [Path.home(), Path({str(Path.home())!r}), Path({str(where.outside)!r})]
        places = [home / ".ipython/profile_default/startup/{MARK}.py" for home in homes]
        places += [home / ".config/matplotlib/{MARK}" for home in homes]
        places += [Path(sysconfig.get_paths()["purelib"]) / f"{MARK}{{end}}" for end in (".py", ".pth")]
        places += [Path(folder) / "{MARK}.py" for folder in ("/tmp", "/var/tmp", "/dev/shm", "/usr/lib")]
        places += [Path(folder) / "{MARK}.py" for folder in sys.path if folder]
        for place in places:
            try:
                place.parent.mkdir(parents=True, exist_ok=True)
                place.write_text({start!r})
            except OSError as failed:
                print(failed)
        """
    )


@attack("Changes the modules that are already loaded, for whoever is forked from the same process.")
def poison_what_is_already_loaded(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        import gc, json, sys
        import brakecourse.workorder.desk as desk, brakecourse.trade.conformity as conformity
        desk.hand_in.__code__ = (lambda *_: None).__code__
        conformity.decide.__code__ = (lambda **_: None).__code__
        json.JSONEncoder.encode = lambda *_: "0"
        for thing in gc.get_objects():
            if type(thing) is dict and "smallest_mm" in thing:
                thing["smallest_mm"] = 0
        sys.modules["brakecourse.workorder"] = None
        """
    )


@attack("Overwrites another student's submission.")
def change_another_students_work(exercise: Exercise, where: Surroundings) -> None:
    path = where.root / "submitted" / where.victim / MODULE / f"{MODULE}.ipynb"
    exercise.first(
        "import os\n"
        + tried(f"open({str(path)!r}, 'w').write('spoiled')")
        + tried(f"os.unlink({str(path)!r})")
        + tried(f"os.rename({str(where.root)!r}, {str(where.root) + MARK!r})")
    )
