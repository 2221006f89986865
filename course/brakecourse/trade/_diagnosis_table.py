"""How often each finding was seen with each cause: the table that a diagnosis rests on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from brakecourse.trade import _checks
from brakecourse.trade._diagnosis_odds import Odds
from brakecourse.trade._diagnosis_records import Cause, Check, Count, records, unlike

PRIOR_ROUNDING = 0.005
"""How far the shares of all causes together may be from 1, because each is rounded in its table."""

Key = tuple[str, str]


@dataclass(frozen=True)
class DiagnosisTable:
    """Causes, checks, and how often each finding was seen with each cause.

    Each vehicle counted had one cause, in one severity, and went through every check. A finding that is
    missing from ``counts`` was never seen with that cause.

    Attributes:
        causes: two or more; their shares sum to 1.
        checks: one or more of them, in the order in which they are told.
        counts: one row for each cause, severity, check and finding that was seen.
        sharpness: how far a cause's likelihood is trusted, above 0. 1 is plain Bayes. Findings that go
            together even at the same severity make plain Bayes too sure of itself; a value below 1
            takes that back: the likelihood of all findings together is raised to this power. It changes
            how sure the ranking is of itself, and can change the order only through the shares.

    Raises:
        ValueError: a record is missing, doubled or unknown, a count is no whole number of 0 or more, the
            shares do not sum to 1, or a cause lacks its counts for a check.
    """

    causes: tuple[Cause, ...]
    checks: tuple[Check, ...]
    counts: tuple[Count, ...]
    sharpness: float = 1.0

    def __post_init__(self) -> None:
        _checks.positive(self.sharpness, "sharpness")
        causes = records(self.causes, Cause, "causes", 2)
        checks = records(self.checks, Check, "checks", 1)
        unlike([one.id for one in causes], "causes")
        unlike([one.id for one in checks], "checks")
        object.__setattr__(self, "causes", causes)
        object.__setattr__(self, "checks", checks)
        object.__setattr__(self, "counts", records(self.counts, Count, "counts", 1))
        total = sum(cause.prior for cause in self.causes)
        if abs(total - 1) > PRIOR_ROUNDING:
            raise ValueError(f"shares of all causes together must be 1, but they were {total:.4f}.")
        _ = self._tallies  # refuses what does not fit together

    @cached_property
    def check_by_id(self) -> Mapping[str, Check]:
        """Every check by its id."""
        return {check.id: check for check in self.checks}

    @cached_property
    def finding_words(self) -> Mapping[Key, str]:
        """The words of every finding, by the ids of its check and of itself."""
        return {(check.id, one.id): one.words for check in self.checks for one in check.findings}

    @cached_property
    def odds(self) -> Odds:
        """The counts as probabilities, worked out on first use and kept."""
        return Odds.from_tallies(
            [cause.prior for cause in self.causes],
            [[tally for (id, _), tally in self._tallies.items() if id == cause.id] for cause in self.causes],
            self.sharpness,
        )

    @cached_property
    def _tallies(self) -> Mapping[Key, dict[Key, int]]:
        """By cause and severity: how often each finding of each check was seen, all findings named."""
        known = {cause.id for cause in self.causes}
        tallies: dict[Key, dict[Key, int]] = {}
        seen: set[tuple[str, ...]] = set()
        for row in self.counts:
            finding = row.check, row.finding
            if row.cause not in known or finding not in self.finding_words or row.place in seen:
                raise _checks._refuse(
                    "row of the counts", "of a known cause, check and finding, and stand once", row.place
                )
            seen.add(row.place)
            tally = tallies.setdefault((row.cause, row.severity), dict.fromkeys(self.finding_words, 0))
            tally[finding] = row.count
        for cause in self.causes:
            if not any(id == cause.id for id, _ in tallies):
                raise ValueError(f"counts of the cause '{cause.id}' must be given, but there were none.")
        for key, tally in tallies.items():
            self._refuse_unequal(key, tally)
        return tallies

    def _refuse_unequal(self, key: Key, tally: Mapping[Key, int]) -> None:
        vehicles = None
        for check in self.checks:
            total = sum(tally[check.id, finding.id] for finding in check.findings)
            vehicles = total if vehicles is None else vehicles
            if total != vehicles or total == 0:
                raise ValueError(
                    f"counts of the cause '{key[0]}' ({key[1]}) must sum to the same number above 0 for "
                    f"every check, but for '{check.id}' it was {total}."
                )
