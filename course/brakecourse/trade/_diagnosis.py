"""From findings to causes, and to the check that is worth its minutes next."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from brakecourse.trade import _checks
from brakecourse.trade._diagnosis_answers import Evidence, NextCheck, RankedCause
from brakecourse.trade._diagnosis_files import diagnosis_table
from brakecourse.trade._diagnosis_odds import Key
from brakecourse.trade._diagnosis_records import Check
from brakecourse.trade._diagnosis_table import DiagnosisTable

LEAST_RATIO = 1.2
"""A finding that is less than this many times as likely with a cause as without, or the other way round, is
no evidence worth telling: assumption, no source."""


def rank_causes(findings: Mapping[str, str], table: DiagnosisTable | None = None) -> tuple[RankedCause, ...]:
    """Return every cause, the most probable first, with what speaks for and against it.

    The ranking advises. Before a part is changed, the cause is seen or measured.

    Args:
        findings: id of each check that was done, and id of what it showed. Empty when none was done yet.
        table: how often each finding goes with each cause; None takes the course's own table.

    Returns:
        One record a cause. The probabilities sum to 1; causes as probable stand as in the table.

    Raises:
        ValueError: a check or a finding is unknown (near ones are named), or the table is no such record.
        CourseError: the course's own table is missing or broken.

    Source:
        Bayes' theorem. Findings are taken as independent given the cause and its severity; a cause's
        likelihood is the sum over its severities. Counts are smoothed by adding half a vehicle each.

    Example:
        Of 100 vehicles with air in the lines 4 had a pedal that sinks; of 100 with a leak 90.

        >>> from brakecourse.trade.leaks import Cause, Check, Count, DiagnosisTable, Finding
        >>> hold = Check("hold", "Hold the pedal for a minute", 2.0, True,
        ...     (Finding("sinks", "The pedal sinks while held"), Finding("stays", "The pedal stays")))
        >>> table = DiagnosisTable(
        ...     (Cause("air", "Air in the lines", 0.5), Cause("leak", "Fluid leaves", 0.5)), (hold,),
        ...     (Count("air", "any", "hold", "sinks", 4), Count("air", "any", "hold", "stays", 96),
        ...      Count("leak", "any", "hold", "sinks", 90), Count("leak", "any", "hold", "stays", 10)))
        >>> first = rank_causes({"hold": "sinks"}, table)[0]
        >>> first.words, round(first.probability, 2)
        ('Fluid leaves', 0.95)
        >>> first.evidence_for[0].words
        'The pedal sinks while held: 20 times as likely with this cause as without.'
    """
    used = _table(table)
    keys = _keys(findings, used)
    odds = used.odds
    probabilities, components = odds.posterior(keys)
    best = _best_for_each(used, probabilities, _open_joints(used, keys, components))
    ranked = []
    for place, (cause, probability) in enumerate(zip(used.causes, probabilities, strict=True)):
        evidence = [(odds.log_ratios[key][place], key) for key in keys]
        ranked.append(
            RankedCause(
                cause.id,
                cause.words,
                probability,
                _told(used, sorted((one for one in evidence if one[0] > 0), reverse=True)),
                _told(used, sorted(one for one in evidence if one[0] < 0)),
                best[place],
            )
        )
    return tuple(sorted(ranked, key=lambda one: -one.probability))


def next_checks(findings: Mapping[str, str], table: DiagnosisTable | None = None) -> tuple[NextCheck, ...]:
    """Return the checks that are still open, the one that tells most for its minutes first.

    Args:
        findings: id of each check that was done, and id of what it showed. Empty when none was done yet.
        table: how often each finding goes with each cause; None takes the course's own table.

    Returns:
        One record for each check not done, by expected information a minute. Empty when all are done.

    Raises:
        ValueError: a check or a finding is unknown (near ones are named), or the table is no such record.
        CourseError: the course's own table is missing or broken.

    Source:
        Mutual information between the cause and the check's finding, under the probabilities that
        :func:`rank_causes` states; textbook information theory.

    Example:
        A check whose two findings part two causes surely would tell 1 bit. This one tells less.

        >>> from brakecourse.trade.leaks import Cause, Check, Count, DiagnosisTable, Finding
        >>> hold = Check("hold", "Hold the pedal for a minute", 2.0, True,
        ...     (Finding("sinks", "The pedal sinks while held"), Finding("stays", "The pedal stays")))
        >>> table = DiagnosisTable(
        ...     (Cause("air", "Air in the lines", 0.5), Cause("leak", "Fluid leaves", 0.5)), (hold,),
        ...     (Count("air", "any", "hold", "sinks", 4), Count("air", "any", "hold", "stays", 96),
        ...      Count("leak", "any", "hold", "sinks", 90), Count("leak", "any", "hold", "stays", 10)))
        >>> [(one.check, round(one.information_bits, 2)) for one in next_checks({}, table)]
        [('hold', 0.63)]
    """
    used = _table(table)
    keys = _keys(findings, used)
    probabilities, components = used.odds.posterior(keys)
    worth = [
        _next(check, _information_bits(probabilities, joints))
        for check, joints in _open_joints(used, keys, components)
    ]
    return tuple(sorted(worth, key=lambda one: -one.bits_per_minute))


Joints = list[tuple[Check, list[list[float]]]]


def _open_joints(table: DiagnosisTable, keys: Sequence[Key], components: Sequence[float]) -> Joints:
    """Return for each open check, for each of its findings, the joint probability with each cause."""
    done = {check for check, _ in keys}
    joint = table.odds.joint
    return [
        (check, [joint(components, (check.id, finding.id)) for finding in check.findings])
        for check in table.checks
        if check.id not in done
    ]


def _next(check: Check, bits: float) -> NextCheck:
    return NextCheck(check.id, check.words, check.minutes, bits, bits / check.minutes)


def _information_bits(probabilities: Sequence[float], joints: Sequence[Sequence[float]]) -> float:
    terms = []
    for joint in joints:
        finding = math.fsum(joint)
        terms += [
            both * math.log2(both / probability / finding)
            for both, probability in zip(joint, probabilities, strict=True)
            if both > 0
        ]
    return max(0.0, math.fsum(terms))  # rounding may leave it a hair below


def _best_for_each(
    table: DiagnosisTable, probabilities: Sequence[float], joints: Joints
) -> list[NextCheck | None]:
    """Return for each cause the check that tells most a minute of "this cause, or another one"."""
    whole = [_two_way(probability, 1.0) for probability in probabilities]
    best: list[NextCheck | None] = [None] * len(table.causes)
    highest = [-1.0] * len(table.causes)
    for check, rows in joints:
        # The information is what is sure once the finding is known, less what is sure now.
        after = [[_two_way(both, total) for both in row] for row in rows for total in (math.fsum(row),)]
        for place, terms in enumerate(zip(*after, strict=True)):
            bits = max(0.0, sum(terms) - whole[place])
            if bits / check.minutes > highest[place]:
                highest[place] = bits / check.minutes
                best[place] = _next(check, bits)
    return best


def _two_way(part: float, total: float) -> float:
    """Return ``total`` times the negative entropy, in bits, of a part of it and the rest."""
    rest = total - part
    if part <= 0 or rest <= 0:
        return 0.0
    return part * math.log2(part / total) + rest * math.log2(rest / total)


def _told(table: DiagnosisTable, weighed: Sequence[tuple[float, Key]]) -> tuple[Evidence, ...]:
    return tuple(
        Evidence(*key, table.finding_words[key], log_ratio)
        for log_ratio, key in weighed
        if abs(log_ratio) >= math.log(LEAST_RATIO)
    )


def _table(table: DiagnosisTable | None) -> DiagnosisTable:
    if table is None:
        return diagnosis_table()
    _checks.record(table, "table", DiagnosisTable)
    return table


def _keys(findings: Mapping[str, str], table: DiagnosisTable) -> list[Key]:
    """Return check and finding of each check that was done, in the table's order, or refuse them."""
    if not isinstance(findings, Mapping):
        raise _checks._refuse("findings", "given as a dict from check to finding", findings)
    for check, finding in findings.items():
        if not isinstance(check, str) or check not in table.check_by_id:
            raise _unknown("check", check, {one.id: one.words for one in table.checks})
        shown = {one.id: one.words for one in table.check_by_id[check].findings}
        if not isinstance(finding, str) or finding not in shown:
            raise _unknown(f"finding of the check '{check}'", finding, shown)
    return [(check.id, findings[check.id]) for check in table.checks if check.id in findings]


def _unknown(quantity: str, found: object, known: Mapping[str, str]) -> ValueError:
    """Name what was probably meant: by its id, or by the words that a learner reads."""
    wanted = str(found)[:60].lower()
    by_text = {text.lower(): id for id, words in known.items() for text in (id, words)}
    import difflib  # only a mistake needs it

    near = difflib.get_close_matches(wanted, by_text, n=3, cutoff=0.5)
    ids = list(dict.fromkeys(by_text[text] for text in near)) or list(known)[:5]
    return _checks._refuse(quantity, f"one that the table knows, like {', '.join(map(repr, ids))}", found)
