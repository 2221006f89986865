"""The records of a job's order: a step, a rule of what comes first, and what a sequence does wrong."""

from __future__ import annotations

import re
from dataclasses import dataclass

from brakecourse.trade import _checks

COMMON_PRACTICE = "common practice, no source"

PHASES = (
    "before the lift",
    "wheel off",
    "taking apart",
    "cleaning and measuring",
    "putting together",
    "before it moves",
    "road and record",
)
"""The parts of the job in their usual order. Steps of neighbouring phases may overlap: the rules decide."""

_MOST_TOLD = 3
_ID = re.compile(r"[a-z][a-z0-9_]*")
_SENTENCE = re.compile(r"[A-Z].*[a-z0-9][.]")


def _id(value: object, quantity: str) -> None:
    if not isinstance(value, str) or not _ID.fullmatch(value):
        raise _checks._refuse(quantity, "a short name like 'loosen_nuts'", value)


def _sentence(value: object, quantity: str) -> None:
    if not isinstance(value, str) or not _SENTENCE.fullmatch(value):
        raise _checks._refuse(
            quantity, "a sentence that begins with a capital and ends with a full stop", value
        )


def _words(value: object, quantity: str) -> None:
    if not isinstance(value, str) or len(value.strip()) < 2:
        raise _checks._refuse(quantity, "given in words", value)


@dataclass(frozen=True)
class Operation:
    """One step of the job.

    Attributes:
        id: short name, by which sequences and rules call the step.
        words: what is done, in a sentence or two.
        tools: what it is done with, at least one.
        caution: what can hurt, and the control for it. The maker's data and local law come first.
        phase: one of :data:`PHASES`.
        if_left_out: the danger when the step is left out; empty when leaving it out harms the work only.

    Raises:
        ValueError: a value is no name, sentence, row of tools or phase.
    """

    id: str
    words: str
    tools: tuple[str, ...]
    caution: str
    phase: str
    if_left_out: str = ""

    def __post_init__(self) -> None:
        _id(self.id, "id of a step")
        _sentence(self.words, "words of a step")
        if not isinstance(self.tools, tuple) or not self.tools:
            raise _checks._refuse("tools of a step", "a tuple of at least one name", self.tools)
        for tool in self.tools:
            _words(tool, "tool of a step")
        _sentence(self.caution, "caution of a step")
        _checks.one_of(self.phase, "phase of a step", PHASES)
        if self.if_left_out != "":
            _sentence(self.if_left_out, "danger of leaving a step out")


@dataclass(frozen=True)
class Precedence:
    """One rule: which of two steps comes first, and why.

    Attributes:
        before: id of the step that comes first.
        after: id of the step that comes later, at once or at any time.
        reason: why, in a sentence.
        safety_critical: whether the wrong order can hurt someone or put an unsafe vehicle on the road.
        source: where the rule is written down, else ``"common practice, no source"``.
        through: ids of steps between the two, by way of which the rule follows from others; empty when
            the rule stands by itself.

    Raises:
        ValueError: a value is no name or sentence, or both names are the same.
    """

    before: str
    after: str
    reason: str
    safety_critical: bool = False
    source: str = COMMON_PRACTICE
    through: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        _id(self.before, "step that comes first")
        _id(self.after, "step that comes later")
        if self.before == self.after:
            raise _checks._refuse(
                "step that comes later", "another than the one that comes first", self.after
            )
        _sentence(self.reason, "reason of a rule")
        if not isinstance(self.safety_critical, bool):
            raise _checks._refuse("mark of a safety-critical rule", "True or False", self.safety_critical)
        _words(self.source, "source of a rule")
        if not isinstance(self.through, tuple):
            raise _checks._refuse("steps between the two of a rule", "a tuple of names", self.through)
        for step in self.through:
            _id(step, "step between the two of a rule")


@dataclass(frozen=True)
class Violation:
    """A rule that a sequence breaks: ``after`` stands in front of ``before``.

    Attributes:
        before: id of the step that must come first, but does not.
        after: id of the step that must come later.
        reason: why, in a sentence.
        safety_critical: whether the wrong order is dangerous.
        through: ids of the left-out steps by way of which the rule follows; empty for a rule that stands
            by itself.
    """

    before: str
    after: str
    reason: str
    safety_critical: bool
    through: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """What is wrong, and why, in two sentences."""
        way = f", by way of {_listed(self.through)}" if self.through else ""
        return f"'{_spaced(self.before)}' must come before '{_spaced(self.after)}'{way}. {self.reason}"


@dataclass(frozen=True)
class Omission:
    """A step that must not be left out.

    Attributes:
        operation: id of the step.
        consequence: the danger when it is left out, in a sentence.
    """

    operation: str
    consequence: str


@dataclass(frozen=True)
class SubJob:
    """A part of the job, or all of it.

    Attributes:
        name: what it is called.
        operations: its steps.
        rules: what must precede what among these steps, also by way of steps outside the part.
    """

    name: str
    operations: tuple[Operation, ...]
    rules: tuple[Precedence, ...]

    @property
    def ids(self) -> tuple[str, ...]:
        """The ids of its steps."""
        return tuple(step.id for step in self.operations)


def _listed(names: tuple[str, ...]) -> str:
    told = ", ".join(map(_spaced, names[:_MOST_TOLD]))
    return told if len(names) <= _MOST_TOLD else f"{told} and {len(names) - _MOST_TOLD} more"


def _spaced(name: str) -> str:
    return name.replace("_", " ")
