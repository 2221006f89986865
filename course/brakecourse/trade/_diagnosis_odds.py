"""Counts as probabilities, in the form in which a posterior is quick to work out."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from operator import mul
from typing import Self

SMOOTHING = 0.5
"""Added to every count, so that what was never seen stays possible: half a vehicle, as Jeffreys' prior has
it for two findings. Which smoothing to take is an assumption, no source."""

Key = tuple[str, str]


@dataclass(frozen=True)
class Odds:
    """How likely each finding is with each cause.

    A component is one severity of one cause. Components stand in the order of their causes.

    Attributes:
        log_priors: for each cause the logarithm of its share.
        spans: for each cause the places of its first component and of the one after its last.
        log_shares: for each component the logarithm of its share in its cause.
        likelihoods: for each check and finding the probability of it with each component.
        log_likelihoods: their logarithms.
        log_ratios: for each check and finding, and each cause, the logarithm of how many times as likely
            the finding is with this cause as with the mixture of the others, before anything is known.
        sharpness: the power to which a cause's likelihood is raised.
    """

    log_priors: tuple[float, ...]
    spans: tuple[tuple[int, int], ...]
    log_shares: tuple[float, ...]
    likelihoods: Mapping[Key, tuple[float, ...]]
    log_likelihoods: Mapping[Key, tuple[float, ...]]
    log_ratios: Mapping[Key, tuple[float, ...]]
    sharpness: float

    @classmethod
    def from_tallies(
        cls, priors: Sequence[float], tallies: Sequence[Sequence[Mapping[Key, int]]], sharpness: float
    ) -> Self:
        """Work them out from each cause's share, and its tally for each of its severities."""
        total = sum(priors)
        priors = [prior / total for prior in priors]
        components = [tally for cause in tallies for tally in cause]
        spans, shares, start = [], [], 0
        for cause in tallies:
            # Every check saw each vehicle once, so the sums over all checks weigh the severities as well.
            vehicles = [sum(tally.values()) for tally in cause]
            shares += [count / sum(vehicles) for count in vehicles]
            spans.append((start, start + len(cause)))
            start += len(cause)
        columns = list(zip(*(_smoothed(tally).items() for tally in components), strict=True))
        likelihoods = {column[0][0]: tuple(value for _, value in column) for column in columns}
        return cls(
            log_priors=tuple(map(math.log, priors)),
            spans=tuple(spans),
            log_shares=tuple(map(math.log, shares)),
            likelihoods=likelihoods,
            log_likelihoods={key: tuple(map(math.log, row)) for key, row in likelihoods.items()},
            log_ratios={
                key: _log_ratios(priors, _per_cause(list(map(mul, shares, row)), spans))
                for key, row in likelihoods.items()
            },
            sharpness=sharpness,
        )

    def posterior(self, findings: Sequence[Key]) -> tuple[list[float], list[float]]:
        """Return the probability of each cause, and of each component, after these findings.

        Given cause and severity, findings are taken as independent. A cause's likelihood is the sum over
        its severities; that sum is raised to the power ``sharpness``.
        """
        seen = [self.log_likelihoods[key] for key in findings]
        logs = [math.fsum(terms) for terms in zip(self.log_shares, *seen, strict=True)]
        cause_logs = [_log_sum(logs[start:stop]) for start, stop in self.spans]
        scores = [
            prior + self.sharpness * log for prior, log in zip(self.log_priors, cause_logs, strict=True)
        ]
        whole = _log_sum(scores)
        causes = [math.exp(score - whole) for score in scores]
        components = [
            probability * math.exp(log - cause_log)
            for probability, cause_log, (start, stop) in zip(causes, cause_logs, self.spans, strict=True)
            for log in logs[start:stop]
        ]
        return causes, components

    def joint(self, components: Sequence[float], key: Key) -> list[float]:
        """Return for each cause the probability that it is the one and the check shows this next."""
        return _per_cause(list(map(mul, components, self.likelihoods[key])), self.spans)


def _smoothed(tally: Mapping[Key, int]) -> dict[Key, float]:
    totals: dict[str, float] = {}
    for (check, _), count in tally.items():
        totals[check] = totals.get(check, 0.0) + count + SMOOTHING
    return {key: (count + SMOOTHING) / totals[key[0]] for key, count in tally.items()}


def _per_cause(values: Sequence[float], spans: Sequence[tuple[int, int]]) -> list[float]:
    return [sum(values[start:stop]) for start, stop in spans]


def _log_ratios(priors: Sequence[float], likelihoods: Sequence[float]) -> tuple[float, ...]:
    both = list(map(mul, priors, likelihoods))
    ratios = []
    for place, (prior, likelihood) in enumerate(zip(priors, likelihoods, strict=True)):
        others = math.fsum(both[:place] + both[place + 1 :]) / (1 - prior)
        ratios.append(math.log(likelihood / others))
    return tuple(ratios)


def _log_sum(logs: Sequence[float]) -> float:
    """Return the logarithm of the sum, where the terms themselves would be too small to be told from 0."""
    top = max(logs)
    return top + math.log(math.fsum(math.exp(log - top) for log in logs))
