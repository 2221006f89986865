"""Which steps must precede which: the reasoning on any set of rules, whatever the job."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from functools import cache
from graphlib import CycleError, TopologicalSorter

from brakecourse.trade import _checks
from brakecourse.trade._job_records import Precedence, Violation


def violations_of(sequence: Sequence[str], rules: Sequence[Precedence]) -> tuple[Violation, ...]:
    """Return every rule that a sequence of steps breaks, for any set of rules.

    A step that is left out hides nothing: when a first step must precede a left-out one, and that must
    precede a last one, then the first must precede the last. Of several such ways between two steps, a
    dangerous one is told before another, then the one of the fewest steps.

    Args:
        sequence: names of the steps in the order of work, each once; names that stand in no rule are free.
            May be empty.
        rules: at least one rule, each pair of steps once, with no circle among them.

    Returns:
        The broken rules in the order of the sequence; empty when the order is sound. A rule that runs by
        way of left-out steps is safety-critical when its last link is, or its first; its reason is that of
        this link, else of the last one.

    Raises:
        ValueError: the sequence is no row of names or names one twice; the rules are no row of rules, give
            a pair twice or run in a circle.

    Source:
        Textbook order theory: a sequence is sound when it is a linear extension of the rules.

    Example:
        >>> rules = [Precedence("wash", "dry", "Dry a clean pin."), Precedence("dry", "oil", "Oil dry pins.")]
        >>> [found.words for found in violations_of(["oil", "wash"], rules)]
        ["'wash' must come before 'oil', by way of dry. Oil dry pins."]
    """
    order = _names(sequence, "sequence")
    place = {name: number for number, name in enumerate(order)}
    broken = [
        rule for rule in contracted(checked_rules(rules), order) if place[rule.after] < place[rule.before]
    ]
    broken.sort(key=lambda rule: (place[rule.after], place[rule.before]))
    return tuple(
        Violation(rule.before, rule.after, rule.reason, rule.safety_critical, rule.through) for rule in broken
    )


def implied_pairs(rules: Sequence[Precedence]) -> frozenset[tuple[str, str]]:
    """Return every pair of steps whose order the rules fix, stated or following from others.

    Args:
        rules: at least one rule, each pair of steps once, with no circle among them.

    Returns:
        Pairs ``(before, after)``.

    Raises:
        ValueError: the rules are no row of rules, give a pair twice or run in a circle.

    Source:
        Textbook order theory: the transitive closure.

    Example:
        >>> rules = [Precedence("wash", "dry", "Dry a clean pin."), Precedence("dry", "oil", "Oil dry pins.")]
        >>> sorted(implied_pairs(rules))
        [('dry', 'oil'), ('wash', 'dry'), ('wash', 'oil')]
    """
    return _closure(checked_rules(rules))


def share_in_order(sequence: Sequence[str], rules: Sequence[Precedence]) -> float:
    """Return the share of the implied pairs that a sequence keeps, for any set of rules.

    Args:
        sequence: names of the steps in the order of work, each once; may be empty.
        rules: at least one rule, each pair of steps once, with no circle among them.

    Returns:
        0 to 1. A pair is kept when both steps are there and in order, so a left-out step costs its pairs.

    Raises:
        ValueError: as for :func:`violations_of`.

    Source:
        Textbook order theory: pairs kept of the transitive closure. That the share is the score is the
        course's own choice.

    Example:
        >>> rules = [Precedence("wash", "dry", "Dry a clean pin."), Precedence("dry", "oil", "Oil dry pins.")]
        >>> share_in_order(["wash", "dry", "oil"], rules)
        1.0
        >>> round(share_in_order(["dry", "wash", "oil"], rules), 3)
        0.667
    """
    place = {name: number for number, name in enumerate(_names(sequence, "sequence"))}
    pairs = implied_pairs(rules)
    kept = [pair for pair in pairs if set(pair) <= place.keys() and place[pair[0]] < place[pair[1]]]
    return len(kept) / len(pairs)


def known(values: object, quantity: str, allowed: tuple[str, ...]) -> tuple[str, ...]:
    """Return a row of names, each one of the allowed ones and there once, or refuse it.

    Raises:
        ValueError: not a row, a name that is not allowed (near ones are told), or a name given twice.
    """
    found = _row(values, quantity)
    for place, name in enumerate(found, start=1):
        if not isinstance(name, str) or name not in allowed:
            raise unknown(name, f"{quantity}, place {place},", allowed, "steps")
    return _names(found, quantity)


def unknown(value: object, quantity: str, allowed: tuple[str, ...], kind: str) -> ValueError:
    """Return the refusal of a name that is none of the allowed ones; it tells which come near."""
    import difflib  # only a mistake needs it

    near = difflib.get_close_matches(value[:40] if isinstance(value, str) else "", allowed, n=2, cutoff=0.5)
    hint = f", such as {' or '.join(map(repr, near))}" if near else f", such as {allowed[0]!r}"
    return _checks._refuse(quantity, f"one of the {len(allowed)} {kind}{hint}", value)


def contracted(rules: tuple[Precedence, ...], keep: Sequence[str]) -> tuple[Precedence, ...]:
    """Return the rules among some steps only, with those that run by way of steps that are not kept.

    Args:
        rules: sound rules.
        keep: names of the steps that stay.
    """
    kept = set(keep)
    outward: dict[str, list[Precedence]] = {}
    for rule in rules:
        outward.setdefault(rule.before, []).append(rule)
    return tuple(_joined(way) for start in keep for way in _ways(start, kept, outward).values())


def _ways(
    start: str, kept: set[str], outward: dict[str, list[Precedence]]
) -> dict[str, tuple[Precedence, ...]]:
    """For each kept step that can be reached over steps not kept: a dangerous way, else the shortest one."""
    found: dict[str, tuple[Precedence, ...]] = {}
    seen: set[tuple[str, bool]] = set()
    waiting: deque[tuple[str, tuple[Precedence, ...]]] = deque([(start, ())])
    while waiting:
        at, so_far = waiting.popleft()
        for rule in outward.get(at, ()):
            way = (*so_far, rule)
            if rule.after in kept:
                if rule.after not in found or (_telling(way) and not _telling(found[rule.after])):
                    found[rule.after] = way
            elif (state := (rule.after, way[0].safety_critical)) not in seen:
                seen.add(state)
                waiting.append((rule.after, way))
    return found


def _telling(way: tuple[Precedence, ...]) -> Precedence | None:
    """The safety-critical link at an end of a way, the last one first: it tells of a step that is there."""
    return next((rule for rule in (way[-1], way[0]) if rule.safety_critical), None)


def _joined(way: tuple[Precedence, ...]) -> Precedence:
    if len(way) == 1:
        return way[0]
    telling = _telling(way) or way[-1]
    through = [step for rule in way for step in (*rule.through, rule.after)][:-1]
    return Precedence(
        way[0].before, way[-1].after, telling.reason, telling.safety_critical, telling.source, tuple(through)
    )


def checked_rules(rules: object) -> tuple[Precedence, ...]:
    """Return the rules as a tuple, or refuse them.

    Raises:
        ValueError: not a row of at least one rule, a pair that is given twice, or a circle.
    """
    found = tuple(_row(rules, "rules"))
    if not found:
        raise _checks._refuse("rules", "at least one rule", rules)
    for rule in found:
        _checks.record(rule, "rule", Precedence)
    sound = tuple(rule for rule in found if isinstance(rule, Precedence))
    pairs = [f"{rule.before} before {rule.after}" for rule in sound]
    _once(pairs, "rules")
    _closure(sound)
    return sound


@cache
def _closure(rules: tuple[Precedence, ...]) -> frozenset[tuple[str, str]]:
    sooner: dict[str, set[str]] = {}
    for rule in rules:
        sooner.setdefault(rule.after, set()).add(rule.before)
    try:
        order = tuple(TopologicalSorter(sooner).static_order())
    except CycleError as circle:
        names = " before ".join(circle.args[1][:4])
        raise ValueError(f"rules must be free of circles, but they hold this one: {names}.") from None
    everything: dict[str, set[str]] = {}
    for step in order:
        direct = sooner.get(step, set())
        everything[step] = direct.union(*(everything[one] for one in direct))
    return frozenset((one, step) for step, ones in everything.items() for one in ones)


def _names(values: object, quantity: str) -> tuple[str, ...]:
    found = _row(values, quantity)
    for place, name in enumerate(found, start=1):
        if not isinstance(name, str) or not name:
            raise _checks._refuse(f"{quantity}, place {place},", "the name of a step", name)
    names = tuple(str(name) for name in found)
    _once(names, quantity)
    return names


def _once(names: Sequence[str], quantity: str) -> None:
    first: dict[str, int] = {}
    for place, name in enumerate(names, start=1):
        if name in first:
            places = f"places {first[name]} and {place}"
            raise ValueError(
                f"{quantity} must be free of repeats, but '{name[:80]}' stands at {places}; keep one."
            )
        first[name] = place


def _row(values: object, quantity: str) -> list[object]:
    try:
        return _checks.row(values, quantity, 0)
    except ValueError:
        # The shared refusal speaks of numbers; here the members are names.
        raise _checks._refuse(quantity, "given as a row, such as a list", values) from None
