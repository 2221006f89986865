"""The diagnosis table, estimated from simulated vehicles: how often each finding goes with each cause.

Every vehicle has one cause, or none, at "normal" difficulty, and goes through every check. Vehicle number
``n`` has the seed ``first_seed + n``, and the causes take turns, so that each is seen as often.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from types import MappingProxyType

from brakecourse.bench.checks import whole
from brakecourse.bench.draw import Draw
from brakecourse.bench.inspection import CHECKS, inspect
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicle_faults import FAULTS, VehicleFault
from brakecourse.trade.leaks import Cause, Count, DiagnosisTable

NOTHING = "nothing_wrong"
NOTHING_WORDS = "nothing is the matter"
MARKED_FROM = 0.65
"""Severity from which a fault counts as marked, below as slight: the middle of "normal" difficulty.
Assumption, no source."""

PRIORS: Mapping[str, float] = MappingProxyType(
    {
        NOTHING: 0.05,
        "worn_pads": 0.10,
        "hose_leak": 0.02,
        "caliper_seal_leak": 0.03,
        "fitting_leak": 0.02,
        "primary_seal_leak": 0.02,
        "internal_bypass": 0.03,
        "air_in_circuit": 0.03,
        "old_fluid": 0.05,
        "wrong_fluid": 0.02,
        "seized_piston": 0.05,
        "seized_pin": 0.04,
        "dry_pins": 0.03,
        "packed_pin_bore": 0.02,
        "swapped_pins": 0.02,
        "rust_under_clips": 0.04,
        "collapsed_hose": 0.02,
        "torn_piston_boot": 0.03,
        "torn_pin_boot": 0.02,
        "thin_rotor": 0.04,
        "grooved_rotor": 0.04,
        "ridged_rotor": 0.03,
        "thickness_variation": 0.04,
        "heat_spotted_rotor": 0.02,
        "dirty_hub": 0.03,
        "bent_hub": 0.01,
        "under_torqued": 0.03,
        "over_torqued": 0.03,
        "glazed_pads": 0.03,
        "contaminated_pads": 0.03,
        "bedding_skipped": 0.03,
    }
)
"""Share of each cause among the vehicles of this course that come in. Assumption, no source."""

_KINDS: dict[str, type[VehicleFault]] = {kind.id: kind for kind in FAULTS}


@dataclass(frozen=True)
class Examined:
    """One simulated vehicle and what every check showed.

    Attributes:
        cause: id of what was the matter with it, or ``NOTHING``.
        severity: how strong it was, and of which sort where the fault has several: findings that go
            together with the sort would else count twice.
        findings: what each check showed, by its id.
    """

    cause: str
    severity: str
    findings: Mapping[str, str]


def causes() -> tuple[Cause, ...]:
    """Return every cause with its words and its share.

    >>> [cause.id for cause in causes()][:2]
    ['nothing_wrong', 'worn_pads']
    """
    words = {NOTHING: NOTHING_WORDS, **{kind.id: kind.words for kind in FAULTS}}
    return tuple(Cause(id, words[id], prior) for id, prior in PRIORS.items())


def drawn_cause(seed: int) -> str:
    """Return the id of a cause, each as often as its share says.

    Args:
        seed: a whole number, 0 or more.
    """
    return Draw(seed).child("cause").weighted(PRIORS)


def examine(seed: int, cause: str, checks: Iterable[str] | None = None) -> Examined:
    """Draw a vehicle with one cause and do the checks.

    Args:
        seed: a whole number, 0 or more.
        cause: id of a cause.
        checks: ids of the checks; all when left out.

    Raises:
        ValueError: there is no such cause or check.

    >>> examine(1, "worn_pads").findings["pad_lining"]
    'below'
    """
    if cause not in PRIORS:
        raise ValueError(f"cause must be one of {', '.join(PRIORS)}, but it was {cause!r}.")
    if cause == NOTHING:
        case = draw_vehicle(seed, 0)
        severity = "as found"
    else:
        case = draw_vehicle(seed, 1, kinds=(_KINDS[cause],))
        severity = severity_of(case.faults[0])
    return Examined(cause, severity, inspect(case, Draw(seed).child("inspection"), checks))


def severity_of(fault: VehicleFault) -> str:
    """Return how strong a fault is, in a word, and its sort where its kind has several.

    >>> from brakecourse.bench.vehicle_faults import HoseLeak, WrongFluid
    >>> severity_of(HoseLeak(0.4)), severity_of(WrongFluid(0.9, "DOT 5"))
    ('slight', 'marked, DOT 5')
    """
    places = ("wheel", "axle")
    values = [getattr(fault, field.name) for field in fields(fault) if field.name not in places]
    sorts = [value for value in values if isinstance(value, str)]
    return ", ".join(["marked" if fault.severity >= MARKED_FROM else "slight", *sorts])


def simulate(vehicles: int, first_seed: int) -> Iterator[Examined]:
    """Draw and examine vehicles, the causes taking turns.

    Args:
        vehicles: how many.
        first_seed: seed of the first.

    Raises:
        ValueError: a number is no whole number in its range.
    """
    turns = tuple(PRIORS)
    first = whole("first_seed", first_seed, 0)
    for number in range(whole("vehicles", vehicles, 1)):
        yield examine(first + number, turns[number % len(turns)])


def tally(examined: Iterable[Examined]) -> tuple[Count, ...]:
    """Return how often each finding was seen, in the table's order.

    Args:
        examined: vehicles that went through the checks.
    """
    seen: Counter[tuple[str, str, str, str]] = Counter()
    for one in examined:
        seen.update((one.cause, one.severity, *finding) for finding in one.findings.items())
    order = {id: place for place, id in enumerate(PRIORS)}
    checks = [(check.id, finding.id) for check in CHECKS for finding in check.findings]
    place = {key: number for number, key in enumerate(checks)}
    return tuple(
        Count(*key, seen[key])
        for key in sorted(seen, key=lambda key: (order[key[0]], key[1], place[key[2:]]))
    )


def table_of(counts: Iterable[Count], sharpness: float = 1.0) -> DiagnosisTable:
    """Return the table that rests on these counts.

    Args:
        counts: from :func:`tally`.
        sharpness: how far a cause's likelihood is trusted, above 0.
    """
    return DiagnosisTable(causes(), CHECKS, tuple(counts), sharpness)


def digest(examined: Iterable[Examined]) -> str:
    """Return a short text that tells whether the same vehicles show the same findings.

    Args:
        examined: the vehicles, in their order.

    Returns:
        The first sixteen hexadecimal digits of the SHA-256 of everything that was seen.
    """
    seen = hashlib.sha256()
    for one in examined:
        findings = " ".join(f"{check}={finding}" for check, finding in one.findings.items())
        seen.update(f"{one.cause}/{one.severity}/{findings}\n".encode())
    return seen.hexdigest()[:16]
