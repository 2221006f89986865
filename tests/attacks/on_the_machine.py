"""The machine: using up its memory, disk, processes or time, or ending what runs the notebook."""

from __future__ import annotations

from tests.attacks.registry import Exercise, Surroundings, attack

CONTAINED = "contained"


@attack("Forks without end.", ours=CONTAINED)
def fork_bomb(exercise: Exercise, _: Surroundings) -> None:
    exercise.after(
        "8.8", "import os\nwhile True:\n    try:\n        os.fork()\n    except OSError:\n        pass"
    )


@attack("Takes memory without end.", ours=CONTAINED)
def memory_bomb(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.8", "taken = []\nwhile True:\n    taken.append(bytearray(b'x') * 20_000_000)")


@attack("Takes memory without end in many processes, each a small part.", ours=CONTAINED)
def memory_bomb_of_many(exercise: Exercise, _: Surroundings) -> None:
    exercise.after(
        "8.8",
        """
        import os, time
        for _ in range(12):
            if os.fork() == 0:
                taken = bytearray(b"x") * 60_000_000
                time.sleep(60)
                os._exit(0)
        time.sleep(60)
        """,
    )


@attack(
    "Fills every disk it can write to, with one big file and with thousands of small ones.", ours=CONTAINED
)
def disk_filler(exercise: Exercise, _: Surroundings) -> None:
    exercise.after(
        "8.8",
        """
        import os, glob
        for folder in {".", "/tmp", "/dev/shm", *(os.path.dirname(path) for path in glob.glob("/tmp/*/*"))}:
            try:
                with open(folder + "/big", "wb") as big:
                    while True:
                        big.write(b"x" * 4_000_000)
            except OSError as failed:
                print(folder, failed)
            try:
                for number in range(3000):
                    open(f"{folder}/small-{number}", "wb").write(b"x" * 5000)
            except OSError as failed:
                print(folder, failed)
        """,
    )


@attack("Digs folders inside folders, deeper than tidying up can follow.", ours=CONTAINED)
def dig_a_deep_hole(exercise: Exercise, _: Surroundings) -> None:
    exercise.after(
        "8.8",
        """
        import glob, os
        home = os.getcwd()
        for place in {".", *(os.path.dirname(path) for path in glob.glob("/tmp/*/*"))}:
            try:
                os.chdir(place)
                for _ in range(3000):
                    os.mkdir("d")
                    os.chdir("d")
            except OSError as failed:
                print(failed)
            os.chdir(home)
        """,
    )


@attack("Prints two hundred megabytes.", ours=CONTAINED)
def two_hundred_megabytes_of_output(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.2", "for _ in range(200):\n    print('x' * 1_000_000)")


@attack("Prints without end.", ours=CONTAINED)
def print_without_end(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.8", "while True:\n    print('a line that goes on and on', end='')")


@attack("Shows pictures without end, and one of a thousand million dots.", ours=CONTAINED)
def show_pictures_without_end(exercise: Exercise, _: Surroundings) -> None:
    exercise.after(
        "8.2",
        r"""
        import base64
        from IPython.display import display
        head = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" + (60_000).to_bytes(4, "big") * 2 + b"\x08\x02\0\0\0"
        for _ in range(2000):
            display({"image/png": base64.b64encode(head + b"0" * 5000).decode()}, raw=True)
        """,
    )


@attack("Starts threads without end.", ours=CONTAINED)
def thread_bomb(exercise: Exercise, _: Surroundings) -> None:
    exercise.after(
        "8.2",
        """
        import threading, time
        try:
            while True:
                threading.Thread(target=time.sleep, args=(60,), daemon=True).start()
        except RuntimeError as failed:
            print(failed)
        """,
    )


@attack("Opens files without end.", ours=CONTAINED)
def open_files_without_end(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.2", "import os\nheld = []\nwhile True:\n    held.append(os.open('.', os.O_RDONLY))")


@attack("Loops and swallows every interrupt.", ours=CONTAINED)
def loop_that_swallows_interrupts(exercise: Exercise, _: Surroundings) -> None:
    exercise.after(
        "8.8",
        """
        while True:
            try:
                while True:
                    pass
            except BaseException:
                pass
        """,
    )


@attack("Matches a regular expression that takes longer than the sun will shine.", ours=CONTAINED)
def regular_expression_without_end(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.8", "import re\nre.match(r'(a+)+$', 'a' * 60 + 'b')")


@attack("Works out a power of powers, which no interrupt reaches.", ours=CONTAINED)
def arithmetic_without_end(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.8", "9 ** 9 ** 9 ** 9")


@attack("Sleeps for ever.", ours=CONTAINED)
def sleep_for_ever(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.8", "import time\ntime.sleep(10 ** 8)")


@attack("Waits for somebody to type.", ours=CONTAINED)
def wait_for_somebody_to_type(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.2", "import sys\nsys.stdin.read()\ninput('points? ')")


@attack("Crashes the interpreter.", ours=CONTAINED)
def crash_the_interpreter(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.8", "import ctypes\nctypes.string_at(0)")


@attack("Stops its own process, which then neither works nor ends.", ours=CONTAINED)
def stop_its_own_process(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.8", "import os, signal\nos.kill(os.getpid(), signal.SIGSTOP)")


@attack("Calls itself until the stack is full.", ours=CONTAINED)
def call_itself_without_end(exercise: Exercise, _: Surroundings) -> None:
    exercise.after(
        "8.2", "import sys\nsys.setrecursionlimit(10 ** 7)\ndef again(): return [again()]\nagain()"
    )
