"""Marks: points for answers that earn none, by what the notebook says of itself and what it answers."""

from __future__ import annotations

from nbformat.v4 import new_code_cell, new_markdown_cell

from tests.attacks.registry import MIME, Exercise, Surroundings, attack, tried


@attack("Writes more points into the hand-in cells' metadata and unlocks them.", measured=0)
def raise_the_points_and_unlock_the_cells(exercise: Exercise, _: Surroundings) -> None:
    for question, cell in exercise.graded():
        cell.metadata["nbgrader"] |= {"points": 1000, "locked": False, "solution": True, "checksum": "0" * 32}
        cell.source = f"{exercise.points[question]}"


@attack("Turns the hand-in cells into text, which no test runs in.", measured=0)
def turn_the_hand_in_cells_into_text(exercise: Exercise, _: Surroundings) -> None:
    for _question, cell in exercise.graded():
        cell.cell_type = "markdown"
        del cell["outputs"], cell["execution_count"]


@attack("Copies the hand-in cells and writes the points into the copies.")
def copy_the_hand_in_cells_and_change_the_copies(exercise: Exercise, _: Surroundings) -> None:
    for number, (question, cell) in enumerate(exercise.graded()):
        copy = new_code_cell(
            f"{exercise.points[question]}", metadata=cell.metadata.copy(), id=f"copy-{number}"
        )
        exercise.notebook.cells.append(copy)


@attack("Gives every cell the same id and the same grade id.")
def call_all_cells_the_same(exercise: Exercise, _: Surroundings) -> None:
    for cell in [*exercise.notebook.cells]:
        cell.id = "open"
    for _question, cell in exercise.graded():
        exercise.notebook.cells.insert(0, new_markdown_cell("8.0", id="q8_1", metadata=cell.metadata.copy()))


@attack("Asks for a kernel of its own choice.", said="asked for the kernel 'bash'")
def ask_for_another_kernel(exercise: Exercise, _: Surroundings) -> None:
    exercise.notebook.metadata["kernelspec"] = {
        "name": "bash",
        "display_name": "Bash",
        "language": "bash",
        "argv": ["/bin/sh", "-c", "echo 8.0"],
    }


@attack("Fills the metadata with values of the wrong kind and with settings that tools obey.")
def write_hostile_metadata(exercise: Exercise, _: Surroundings) -> None:
    notebook = exercise.notebook
    notebook.metadata |= {
        "brakecourse": {"healed": [], "status": "graded", "points": 36},
        "nbgrader": {"points": 1000},
        "execution": {"timeout": 10**9, "allow_errors": False},
        "widgets": {"application/vnd.jupyter.widget-state+json": {"state": "no state"}},
        "signature": "trusted",
        "language_info": ["python"],
    }
    for cell in notebook.cells:
        cell.metadata |= {"trusted": True, "deletable": [], "jupyter": "hidden", "raises-exception": 1}
        cell.metadata["tags"] = {"raises-exception": "skip-execution"}
    one, two, three = (exercise.answer(question) for question in ("8.5", "8.6", "8.7"))
    one.metadata["nbgrader"] = ["solution"]
    two.metadata["nbgrader"] = {"grade_id": {"q8_6": 1}, "schema_version": "nine"}
    three["metadata"] = None


@attack("Claims to be another student, and rewrites its own work order.")
def claim_to_be_somebody_else(exercise: Exercise, where: Surroundings) -> None:
    exercise.notebook.metadata |= {"student": where.victim, "brakecourse": {"student": where.victim}}
    exercise.first(
        "import json, os\n"
        f"os.environ.update(USER={where.victim!r}, STUDENT={where.victim!r})\n"
        + tried(
            f"""
            order = json.load(open("work_order.json"))
            order["student"] = {where.victim!r}
            for question in order["questions"]:
                question["points"] = 0
            os.replace("work_order.json", "old.json")
            json.dump(order, open("work_order.json", "w"))
            """
        )
    )


@attack(
    "Answers with numbers that are none, numbers of five thousand digits, and texts of a million letters."
)
def answer_with_monsters(exercise: Exercise, _: Surroundings) -> None:
    for question, monster in {
        "8.1": "[float('nan')] * 8",
        "8.2": "float('inf')",
        "8.3": "10 ** 5000",
        "8.4": "1e308",
        "8.5": "'within' * 200_000",
        "8.6": "-0.0 * float('inf')",
        "8.7": "[[[[[[[[99]]]]]]]]",
        "8.8": "{'a': print, 'b': b'\\x00', 'c': '\\ud800'}",
    }.items():
        exercise.answer_with(question, monster)
    exercise.after(
        "8.8",
        f"""
        from IPython import get_ipython
        from IPython.display import display
        deep = []
        for _ in range(600):
            deep = [deep]
        def monsters(*_):
            for answer in (deep, list(range(100_000)), 10 ** 400, "9" * 300_000):
                display({{{MIME!r}: {{"question": "8.8", "answer": answer}}}}, raw=True)
        get_ipython().events.register("post_run_cell", monsters)
        """,
    )


@attack("Ends the process with os._exit, hoping that no test is a passed test.")
def end_the_process(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.1", "import os\nos._exit(0)")


@attack("Ends the kernel with exit().")
def ask_the_kernel_to_end(exercise: Exercise, _: Surroundings) -> None:
    exercise.after("8.1", "exit()")
