"""What each kind of argument must refuse, and how a refusal reads.

The table of good calls (``tests/trade/good_calls.py``) says of every argument of a public function or record
what kind it is. Each kind here knows the values that are wrong for it.
"""

from __future__ import annotations

import importlib
import inspect
import math
import pkgutil
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from types import ModuleType
from typing import Any

import brakecourse.trade
import numpy as np
import pytest

NO_NUMBERS: tuple[Any, ...] = (
    *(math.nan, math.inf, -math.inf, 1e300, 10**400, True, False, "3", "", b"3", None, 1 + 2j),
    *([1.0], {}, {1.0}, object(), Decimal("NaN"), np.float64("nan"), np.bool_(True), np.array(3.0)),
    np.complex128(3),
)
NO_RECORDS: tuple[Any, ...] = (None, {}, (), 3, 24.0, True, "record", object(), (24.0, 22.6, 22.0))


@dataclass(frozen=True)
class Argument:
    """One argument of a public function: a good value, words that a refusal must hold, and bad values.

    Attributes:
        good: a value that the function takes.
        words: the quantity's name as the refusal must give it.
        bad: values that it must refuse.
        each: whether it is one of any number of values, as in ``f(*values)``.
    """

    good: Any
    words: str
    bad: tuple[Any, ...]
    each: bool = False

    def or_none(self) -> Argument:
        """The same argument, where None is a good value too."""
        return replace(self, bad=tuple(value for value in self.bad if value is not None))


def number(good: Any, words: str, *also: Any) -> Argument:
    """Any finite number; ``also`` are numbers that are out of range here."""
    return Argument(good, words, (*NO_NUMBERS, *also))


def not_negative(good: Any, words: str, *also: Any) -> Argument:
    """A number of 0 or more."""
    return number(good, words, -0.001, np.float64(-1), *also)


def positive(good: Any, words: str, *also: Any) -> Argument:
    """A number above 0."""
    return not_negative(good, words, 0, 0.0, 5e-324, *also)


def share(good: Any, words: str, *also: Any) -> Argument:
    """A share: 0 up to 1, and no percentage."""
    return not_negative(good, words, 1.001, 70, *also)


def confidence(good: float = 0.95) -> Argument:
    """A probability from one half to below 1."""
    return number(good, "confidence", 0.4999, 1, 1.0, 95, -0.95)


def whole(good: int, words: str, low: int, high: int) -> Argument:
    """A whole number in a range."""
    return number(good, words, low - 1, high + 1, -good - 1, good + 0.5)


def word(good: str, words: str, *also: Any) -> Argument:
    """One of a few words, in its own spelling."""
    twisted = {good.swapcase(), good + " ", "", "no such word"} - {good}
    return Argument(good, words, (*sorted(twisted), None, 1, True, math.nan, [good], {good}, *also))


def text(good: str, words: str) -> Argument:
    """A few words of any kind."""
    return Argument(good, words, ("", " ", None, 3, True, math.nan, [good]))


def row(
    good: Sequence[Any],
    words: str,
    *also: Any,
    least: int = 1,
    member: Callable[..., Argument] = number,
    unbounded: bool = False,
) -> Argument:
    """A row of at least so many numbers, each of a kind; infinity may be allowed in it."""
    whole_row, others = list(good), list(good)[1:]
    bad = [one for one in member(whole_row[0], words).bad if not (unbounded and one is math.inf)]
    no_rows = [
        *([], (), np.array([]), "24.0 24.1", b"24", None, 24.0, True, math.nan, object()),
        *(set(whole_row), dict.fromkeys(whole_row), iter(whole_row), np.array(24.0)),
        *(np.full((3, 3), 24.0), [[24.0, 24.1], [24.2], [24.3]], whole_row[: least - 1]),
    ]
    inside = [[one, *others] for one in bad] + [(*others, one) for one in bad]
    return Argument(good, words, (*no_rows, *inside, *also))


def each(good: Sequence[Any], words: str, member: Callable[..., Argument] = number) -> Argument:
    """Any number of values, but at least one: ``f(*values)``."""
    bad = member(good[0], words).bad
    return Argument(good, words, (*((one,) for one in bad), *((*good, one) for one in bad)), each=True)


def record(good: Any, words: str, *also: Any) -> Argument:
    """A record of one type."""
    return Argument(good, words, (*NO_RECORDS, *also))


def records(good: Iterable[Any], words: str, *also: Any) -> Argument:
    """A row of at least one record of one type."""
    known = list(good)
    no_rows = [[], (), None, 3, "ab", True, math.nan, {1: 2}, iter(known), [known]]
    inside = [[one] for one in NO_RECORDS] + [[*known, one] for one in NO_RECORDS]
    return Argument(known, words, (*no_rows, *inside, *also))


# --- calling and reading ------------------------------------------------------------------------------------


def call(function: Callable[..., Any], arguments: dict[str, Argument], **changed: Any) -> Any:
    """Call a function with its good values, some of them changed."""
    values = {name: one.good for name, one in arguments.items()} | changed
    several = [value for name in arguments if arguments[name].each for value in values.pop(name)]
    return function(*several, **values)


def refused(function: Callable[..., Any], arguments: dict[str, Argument], **changed: Any) -> str:
    """Call what must refuse, and return its one sentence."""
    try:
        found = call(function, arguments, **changed)
    except ValueError as refusal:
        sentence = str(refusal)
    else:
        pytest.fail(f"took {changed!r} and returned {found!r}")
    assert " must " in sentence and sentence.endswith("."), sentence
    assert "\n" not in sentence and len(sentence) < 240, sentence
    return sentence


def shown(value: Any) -> list[str]:
    """How a refusal may tell what it found: the value, its shortened text, or a member of it."""
    is_row = isinstance(value, (list, tuple)) or (isinstance(value, np.ndarray) and value.ndim > 0)
    members = list(value) if is_row else []
    numbers = [f"{value:g}"] if isinstance(value, (int, float)) and abs(value) < 1e308 else []
    counted = [f"there were {len(members)}"] if is_row else []
    return [repr(value)[:40], *numbers, *counted, *(form for member in members for form in shown(member))]


# --- what there is to test ----------------------------------------------------------------------------------


def public_modules() -> dict[str, ModuleType]:
    """The trade's public modules, by their short names."""
    names = [info.name for info in pkgutil.iter_modules(brakecourse.trade.__path__) if info.name[0] != "_"]
    return {name: importlib.import_module(f"brakecourse.trade.{name}") for name in names}


def public_members() -> dict[str, Any]:
    """Every function and class that the trade offers, by a name like ``rotor.verdict``."""
    found = {}
    for short, module in public_modules().items():
        home = module.__name__
        own = [name for name, one in vars(module).items() if getattr(one, "__module__", "") == home]
        offered = getattr(module, "__all__", [name for name in own if name[0] != "_"])
        for name in offered:
            member = getattr(module, name)
            if inspect.isfunction(inspect.unwrap(member)) or inspect.isclass(member):
                found[f"{short}.{name}"] = member
    return found


def public_functions() -> dict[str, Any]:
    """Those of the public members that are functions."""
    return {name: one for name, one in public_members().items() if not inspect.isclass(one)}


def parameters(member: Any) -> list[str]:
    """The names of what a function or record takes."""
    return list(inspect.signature(member).parameters)
