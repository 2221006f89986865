"""Write datasets/published/CHECKS.md: for each quantity its function, the formula's source, and its checks.

``python -m tests.published.checks_page``, from the project's folder, writes it anew. The checks are read from
the text of the tests beside this file: every ``compare(...)`` names the function that it checks, and its
source.
"""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from brakecourse import published

from tests.trade.refusals import public_functions

HERE = Path(__file__).resolve().parent
HOME = HERE.parents[1]
PAGE = HOME / "datasets" / "published" / "CHECKS.md"
UP = "../.."  # from the page to the project's folder

HEAD = """# From a number to its check

Every calculation of the course, one a line. The function's name leads to its formula. Beside it stands where
the formula comes from, and what its results were compared with; that leads to the test.

How a value from outside is known: *read* in the source or a copy of it, from *memory*, *run* with a
general-purpose library, or *counted* by hand from the law that is named.
`python3 run.py test tests/published` prints all compared numbers side by side.

`python -m tests.published.checks_page` writes this page; do not edit it.
"""


@dataclass(frozen=True)
class Check:
    """One comparison in a test.

    Attributes:
        function: the public function that it checks.
        source: what it compares with.
        how_known: how that is known.
        test: the file that holds it.
    """

    function: str
    source: str
    how_known: str
    test: str


Shared = dict[str, ast.expr]
"""Dicts and texts that several comparisons of a file share, by their names."""


def checks(text: str, test: str) -> Iterator[Check]:
    """The comparisons in the text of a test file.

    Raises:
        ValueError: a comparison does not name its function, source or row in place, so that nobody can look
            it up without running it.
    """
    tree = ast.parse(text)
    outside = _shared(tree.body)
    for function in ast.walk(tree):
        if isinstance(function, ast.FunctionDef):
            shared = outside | _shared(ast.walk(function))
            for node in ast.walk(function):
                if isinstance(node, ast.Call) and ast.unparse(node.func) in ("compare", "compare.row"):
                    try:
                        yield from _check(node, shared, test)
                    except (IndexError, KeyError, LookupError, ValueError):
                        where = f"{test}, line {node.lineno}"
                        raise ValueError(f"{where}: name function and source in place") from None


def _shared(nodes: Iterable[ast.AST]) -> Shared:
    return {
        ast.unparse(node.target if isinstance(node, ast.AnnAssign) else node.targets[0]): node.value
        for node in nodes
        if isinstance(node, (ast.AnnAssign, ast.Assign))
        and isinstance(node.value, (ast.Dict, ast.JoinedStr, ast.Constant))
    }


def _check(node: ast.Call, shared: Shared, test: str) -> Iterator[Check]:
    name = ast.literal_eval(node.args[0])
    if ast.unparse(node.func) == "compare.row":
        found = {(f"{one.source}, {one.section}", one.how_known) for one in _rows(node.args[2])}
        if not found:
            raise LookupError
        yield from (Check(name, source, how, test) for source, how in sorted(found))
        return
    words = {word.arg: word.value for word in node.keywords if word.arg}
    for more in (shared[ast.unparse(word.value)] for word in node.keywords if not word.arg):
        assert isinstance(more, ast.Dict)
        words |= {
            ast.literal_eval(key): value for key, value in zip(more.keys, more.values, strict=True) if key
        }
    yield Check(name, _source(words["source"], shared), _how_known(words["how_known"]), test)


def _source(node: ast.expr, shared: Shared) -> str:
    """The words of a source: a text, a shared one, or one with gaps, of which the fixed words are taken."""
    match node:
        case ast.Constant(value=str(words)):
            return words
        case ast.Name(id=name):
            return _source(shared[name], shared)
        case ast.JoinedStr(values=parts):
            plain = [part.value if isinstance(part, ast.FormattedValue) else part for part in parts]
            fixed = [part for part in plain if isinstance(part, ast.Constant) or ast.unparse(part) in shared]
            words = "".join(_source(part, shared) for part in fixed)
            return re.sub(r"\s+(?=,|$)", "", words)
    raise LookupError


def _rows(node: ast.expr) -> list[published.PublishedValue]:
    """The published rows that an id stands for; an id with a gap, as in f"gum_h2_{x}_u", for all that fit."""
    parts = node.values if isinstance(node, ast.JoinedStr) else [node]
    if not any(isinstance(part, ast.Constant) for part in parts):
        raise LookupError  # a mere name would stand for every row
    pattern = "".join(re.escape(part.value) if isinstance(part, ast.Constant) else r"\w+" for part in parts)
    return [one for id, one in published.all_values().items() if re.fullmatch(pattern, id)]


def _how_known(node: ast.expr) -> str:
    match node:
        case ast.Attribute(value=ast.Call(args=[ast.Constant(value=str(id))]), attr="how_known"):
            return published.value(id).how_known
    return str(ast.literal_eval(node))


def all_checks() -> list[Check]:
    """Every comparison in the tests of this folder."""
    return [
        check
        for path in sorted(HERE.glob("test_published_*.py"))
        if path.name != "test_published_walk.py"  # which tries this very code
        for check in checks(path.read_text(encoding="utf-8"), path.name)
    ]


# --- the page -----------------------------------------------------------------------------------------------


def source_of(function: Any) -> str:
    """What a function's docstring says under "Source", on one line."""
    text = inspect.getdoc(inspect.unwrap(function)) or ""
    found = re.search(r"^Source:\n((?:    .*\n?|\n(?=    ))*)", text, re.MULTILINE)
    return _marked(" ".join(found.group(1).split()) if found else "")


def quantity_of(function: Any) -> str:
    """What a function returns, from the first line of its docstring."""
    first = (inspect.getdoc(inspect.unwrap(function)) or "").partition("\n")[0].rstrip(".")
    words = re.sub(r"^(Return|Decide|Name) ", "", first)
    return _marked(words[:1].upper() + words[1:])


def _marked(words: str) -> str:
    """A docstring's marks for code as a page's."""
    return re.sub(r":\w+:`([^`]*)`|``([^`]*)``", lambda m: f"`{m.group(1) or m.group(2)}`", words)


def home_of(function: Any) -> str:
    """The file that holds a function's formula, from the project's folder."""
    return Path(inspect.getsourcefile(inspect.unwrap(function)) or "").resolve().relative_to(HOME).as_posix()


def _cell(words: str) -> str:
    return words.replace("|", "\\|")


def _told(found: list[Check]) -> str:
    """The checks of one function, each source once, with a link to its test."""
    once = dict.fromkeys((check.source, check.how_known, check.test) for check in found)
    return "<br>".join(
        f"{_cell(source)} (*{how}*): [{test.removeprefix('test_published_')}]({UP}/tests/published/{test})"
        for source, how, test in once
    )


def page() -> str:
    """The page's text."""
    functions, found = public_functions(), all_checks()
    lines = [HEAD]
    for subject in sorted({name.partition(".")[0] for name in functions}):
        lines += [f"\n## {subject.replace('_', ' ').capitalize()}\n"]
        lines += ["| Quantity | Formula | Where it comes from | Checked against |", "|---|---|---|---|"]
        for name in sorted(one for one in functions if one.startswith(f"{subject}.")):
            function = functions[name]
            link = f"[`{name.partition('.')[2]}`]({UP}/{home_of(function)})"
            told = _told([check for check in found if check.function == name])
            cells = (_cell(quantity_of(function)), link, _cell(source_of(function)), told)
            lines.append("| " + " | ".join(cells) + " |")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(f"Wrote {PAGE.relative_to(HOME)}.")
