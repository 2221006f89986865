"""The screen: acting on what somebody looks at the work with: a browser, a spreadsheet, a terminal."""

from __future__ import annotations

from nbformat.v4 import new_code_cell, new_markdown_cell, new_raw_cell

from tests.attacks.registry import Exercise, Surroundings, attack
from tests.classroom.engine_class import cell_of

ACT = "window.attacked=1"
EVIL = (
    f"<script>{ACT}</script><img src=x onerror='{ACT}'><svg onload={ACT}>"
    f"<iframe srcdoc=\"<script>parent.{ACT}</script>\"></iframe><a href='javascript:{ACT}'>look</a>"
    f"\" onmouseover='{ACT}' {{{{ 7*7 }}}} {{% raw %}}"
)
MARKDOWN = (
    f"{EVIL}\n\n[look](javascript:{ACT}) ![x](http://127.0.0.1:9/attacked.png) <javascript:{ACT}>\n\n"
    f"$\\href{{javascript:{ACT}}}{{look}}$ \\\\(\\\\style{{x}}{{y}}\\\\)\n\n"
    f"```\n````\n~~~\n</code></pre>{EVIL}\n"
    f"<details open ontoggle={ACT}>\n<style>body{{display:none}}</style>\n<base href=http://127.0.0.1:9/>\n"
    "<meta http-equiv=refresh content='0;url=http://127.0.0.1:9/attacked'>\n"
    "<form action=/x><button>Full credit"
)
FORMULAS = (
    '=HYPERLINK("http://x","look")',
    "+1+1",
    "-2+3",
    "@SUM(A1)",
    "\t=1+1",
    "＝1+1",
    "\u200b=1+1",
    "|calc",
)


@attack("Puts scripts into answers.", ours="shown as text")
def put_scripts_into_answers(exercise: Exercise, _: Surroundings) -> None:
    exercise.answer_with("8.1", repr([EVIL] * 8))
    exercise.answer_with("8.4", repr(EVIL))
    exercise.answer_with("8.5", repr(["<b>", EVIL]))
    exercise.answer_with("8.8", repr(EVIL))
    exercise.answer("8.6").source = f"raise ValueError({EVIL!r})  # {EVIL}"


@attack(
    "Writes an answer to a person with scripts, links, frames and formulas of mathematics in it.",
    ours="shown as text",
    status="waiting for hand-grading",
)
def put_scripts_into_the_letter(exercise: Exercise, _: Surroundings) -> None:
    cell_of(exercise.notebook, "q8_9").source = MARKDOWN


@attack("Adds cells of text and of raw HTML, which a grading page shows live.", ours="shown as text")
def add_cells_that_are_live(exercise: Exercise, _: Surroundings) -> None:
    raw = new_raw_cell(EVIL, metadata={"raw_mimetype": "text/html", "format": "text/html"})
    exercise.notebook.cells[3:3] = [new_markdown_cell(MARKDOWN), raw, new_raw_cell(EVIL)]
    cell = new_markdown_cell("![x](attachment:x.svg)")
    cell["attachments"] = {"x.svg": {"image/svg+xml": f"<svg onload='{ACT}'/>"}}
    exercise.notebook.cells.append(cell)


@attack("Puts out HTML, scripts, drawings, widgets and pictures that are none.", ours="dropped")
def put_out_what_is_live(exercise: Exercise, _: Surroundings) -> None:
    exercise.notebook.cells.append(
        new_code_cell(
            f"""
from IPython.display import display
evil = {EVIL!r}
for mime in ("text/html", "image/svg+xml", "text/markdown", "text/latex", "application/javascript",
             "application/vnd.jupyter.widget-view+json", "image/jpeg", "application/pdf", "text/plain"):
    display({{mime: evil, "text/plain": "\\x1b[1;31m" + evil}}, raw=True)
wide = {{"image/png": {{"width": "1 onload={ACT}"}}}}
display({{"image/png": '"><script>{ACT}</script>'}}, metadata=wide, raw=True)
print(evil + "\\x1b[2J\\x1b[31m")
raise type("Evil" + evil, (Exception,), {{}})(evil)
"""
        )
    )


@attack("Sends a cell's number as HTML.", ours="dropped")
def number_a_cell_in_html(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        f"""
        from IPython import get_ipython
        kernel = get_ipython().kernel
        real = kernel.session.send
        def send(stream, kind, content=None, *rest, **more):
            if isinstance(content, dict) and "execution_count" in content:
                content["execution_count"] = {EVIL!r}
            return real(stream, kind, content, *rest, **more)
        kernel.session.send = send
        """
    )


@attack(
    "Writes formulas that a spreadsheet would run, in answers and in the letter.",
    ours="text in every table",
    status="waiting for hand-grading",
)
def write_formulas_for_a_spreadsheet(exercise: Exercise, _: Surroundings) -> None:
    exercise.answer_with("8.1", repr(list(FORMULAS)))
    exercise.answer_with("8.5", repr(FORMULAS[0]))
    exercise.answer_with("8.8", repr(FORMULAS[1]))
    cell_of(exercise.notebook, "q8_9").source = FORMULAS[0]
    exercise.answer("8.6").source = f"{FORMULAS[0]}\nimport os; os._exit(1)"
    exercise.notebook.metadata["kernelspec"] = {"name": FORMULAS[0]}


@attack(
    "Steers the terminal: colours, clearing, titles, links, and the markup of its tables.",
    ours="shown as text",
)
def steer_the_terminal(exercise: Exercise, _: Surroundings) -> None:
    codes = "\x1b[2J\x1b]0;owned\x07\x1b]8;;http://x\x07[red]36 of 36[/red][link=http://x]\r\n:skull:\x9b31m"
    exercise.notebook.metadata["kernelspec"] = {"name": codes + "\ud800"}
    exercise.answer_with("8.5", repr(codes))
    exercise.answer("8.6").source = f"# {codes}\nimport os; os._exit(1)"


@attack(
    "Turns the direction of the text, and uses half characters and letters that nobody sees.",
    ours="shown as text",
    status="waiting for hand-grading",
)
def turn_the_text_round(exercise: Exercise, _: Surroundings) -> None:
    exercise.answer_with("8.5", repr("\u202e nihtiw \u2066 \ud800 \ufeff \U000e0041"))
    cell_of(exercise.notebook, "q8_9").source = "*Write your answer here.*\u200b"
    exercise.answer("8.8").source += "\nprint('\\ud800', '\\u202e')\nraise ValueError('\\udfff')"
    exercise.notebook.metadata["kernelspec"] = {"name": "\ud800\u202e\x00"}
