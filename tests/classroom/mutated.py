"""Submissions spoilt in every way that a seed thinks of: bytes, JSON structure, and single values."""

from __future__ import annotations

import copy
import json
import random
from collections.abc import Callable
from typing import Any

_STRANGE: tuple[Any, ...] = (
    None, True, False, 0, -1, 1e308, 2**70, "", "\x00", "\ud800", "x" * 5000, [], {}, [[]], {"": None},
    ["a", 1], "code", "../../etc/passwd", "q8_1", "𝔘𝔫𝔦", "\u202e", "<script>", "NaN", [None] * 50,
)  # fmt: skip


def mutated(content: bytes, seed: int) -> bytes:
    """Return a submission that was spoilt once to five times. The same seed gives the same bytes."""
    chance = random.Random(seed)
    many = chance.randint(1, 5)
    if chance.random() < 0.25:
        for _ in range(many):
            content = chance.choice(_BYTES)(content, chance)
        return content
    notebook = json.loads(content)
    for _ in range(many):
        notebook = chance.choice(_STRUCTURE)(notebook, chance)
    return json.dumps(notebook).encode("utf-8", "surrogatepass")


def _cut(content: bytes, chance: random.Random) -> bytes:
    return content[: chance.randrange(len(content) + 1)]


def _flip(content: bytes, chance: random.Random) -> bytes:
    if not content:
        return b"\x00"
    spoilt = bytearray(content)
    for _ in range(chance.randint(1, 30)):
        spoilt[chance.randrange(len(spoilt))] = chance.randrange(256)
    return bytes(spoilt)


def _splice(content: bytes, chance: random.Random) -> bytes:
    at, other = chance.randrange(len(content) + 1), chance.randrange(len(content) + 1)
    piece = content[other : other + chance.randint(0, 400)]
    return content[:at] + piece + content[at:]


def _wrap(content: bytes, chance: random.Random) -> bytes:
    return chance.choice([b"\xef\xbb\xbf", b"\xff\xfe", b"[" * 3000, b"\x1f\x8b", b" " * 100]) + content


_BYTES: tuple[Callable[[bytes, random.Random], bytes], ...] = (_cut, _flip, _splice, _wrap)


def _places(value: Any) -> list[tuple[Any, Any]]:
    """Every place of a JSON value that could hold something else: its container and its key."""
    found: list[tuple[Any, Any]] = []
    waiting = [value]
    while waiting:
        one = waiting.pop()
        keys: Any = list(one) if isinstance(one, dict) else range(len(one)) if isinstance(one, list) else ()
        for key in keys:
            found.append((one, key))
            waiting.append(one[key])
    return found


def _replace(notebook: Any, chance: random.Random) -> Any:
    places = _places(notebook)
    if not places:
        return chance.choice(_STRANGE)
    where, key = chance.choice(places)
    where[key] = copy.deepcopy(chance.choice(_STRANGE))
    return notebook


def _delete(notebook: Any, chance: random.Random) -> Any:
    places = _places(notebook)
    if places:
        where, key = chance.choice(places)
        del where[key]
    return notebook


def _move(notebook: Any, chance: random.Random) -> Any:
    """Put a piece of the notebook in another piece's place."""
    places = _places(notebook)
    if places:
        (where, key), (other, other_key) = chance.choice(places), chance.choice(places)
        where[key] = copy.deepcopy(other[other_key])
    return notebook


def _cells(notebook: Any) -> list[Any]:
    cells = notebook.get("cells") if isinstance(notebook, dict) else None
    return cells if isinstance(cells, list) else []


def _shuffle(notebook: Any, chance: random.Random) -> Any:
    chance.shuffle(_cells(notebook))
    return notebook


def _copy_cell(notebook: Any, chance: random.Random) -> Any:
    cells = _cells(notebook)
    if cells:
        cells.insert(chance.randrange(len(cells) + 1), copy.deepcopy(chance.choice(cells)))
    return notebook


def _spoil_cell(notebook: Any, chance: random.Random) -> Any:
    """Change the text, the names or the kind of one cell."""
    cells = [cell for cell in _cells(notebook) if isinstance(cell, dict)]
    if cells:
        cell = chance.choice(cells)
        key = chance.choice(["source", "metadata", "cell_type", "id", "outputs", "attachments"])
        cell[key] = chance.choice(
            [
                copy.deepcopy(chance.choice(_STRANGE)),
                "x = (",
                "exit()",
                ["a\n", "b"],
                {"tags": ["skip-execution"]},
            ]
        )
    return notebook


def _nest(notebook: Any, chance: random.Random) -> Any:
    deep: Any = "bottom"
    for _ in range(chance.choice([5, 60, 150])):
        deep = [deep] if chance.random() < 0.5 else {"a": deep}
    places = _places(notebook)
    if places:
        where, key = chance.choice(places)
        where[key] = deep
    return notebook


def _version(notebook: Any, chance: random.Random) -> Any:
    if isinstance(notebook, dict):
        notebook["nbformat"] = chance.choice([1, 2, 3, 4, 5, -1, "4", None, 4.0, True, 10**30])
        if chance.random() < 0.5:
            notebook["worksheets"] = [{"cells": copy.deepcopy(_cells(notebook))}]
    return notebook


_STRUCTURE: tuple[Callable[[Any, random.Random], Any], ...] = (
    _replace, _replace, _delete, _delete, _move, _shuffle, _copy_cell, _spoil_cell, _spoil_cell, _nest,
    _version,
)  # fmt: skip
