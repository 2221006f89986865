"""Readings of any gauge of the bench, sealed as they stood: the drawing shows them, the answer reads them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from brakecourse.bench.gauge_base import Readable
from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.sealed import Finite, Record, SealedMistake
from brakecourse.trade.conformity import expanded


class SealedReading(Record):
    """One indication of a gauge.

    Attributes:
        gauge: name of the gauge, as the shop calls it.
        unit: unit of everything here.
        division: distance between two lines at the reading.
        indication: what it shows, between the lines.
        reading: the nearest line.
        u: standard uncertainty of one reading there.
        misreadings: what each usual mistake makes of it, by the mistake's name.
        likely: those that somebody with the habit falls for here.
    """

    gauge: str
    unit: str
    division: Finite
    indication: Finite
    reading: Finite
    u: Finite
    misreadings: dict[str, Finite]
    likely: tuple[str, ...]

    @property
    def expanded_u(self) -> float:
        """Expanded uncertainty of one reading, k = 2."""
        return expanded(self.u)


def seal_reading(gauge: Readable, indication: float) -> SealedReading:
    """Write down what a gauge shows.

    Args:
        gauge: any gauge of the bench.
        indication: what it shows, clear of the middle between two lines, in its unit.
    """
    reading = gauge.reading(indication)
    likely = gauge.likely_misreadings(indication)
    return SealedReading(
        gauge=gauge.name,
        unit=gauge.scale.unit,
        division=gauge.scale.line,
        indication=indication,
        reading=reading,
        u=gauge.standard_uncertainty_at(reading),
        misreadings={**likely, **gauge.misreadings(indication)},
        likely=tuple(sorted(likely)),
    )


def read_one(
    read: SealedReading,
    candidates: Iterable[SealedMistake] = (),
    *,
    how: str,
    places: int,
    reach: float | None = None,
) -> Basis:
    """Return the basis of one reading: one division is forgiven, every misreading of the gauge is named.

    Args:
        read: the sealed reading.
        candidates: further named mistakes, likelier than the gauge's own.
        how: how it is read, in a sentence.
        places: decimal places that are asked for.
        reach: how far off it may be to be built on; left out: a quarter of the reading.
    """
    near = tolerances.reading(read.division)
    return basis.number(
        read.reading,
        near,
        [*candidates, *_gauge_slips(read)],
        how=how,
        places=places,
        shown=read.indication,
        reach=max(near, basis.REACH_SHARE * abs(read.reading)) if reach is None else reach,
    )


def read_row(
    reads: Sequence[SealedReading],
    candidates: Iterable[SealedMistake] = (),
    *,
    how: str,
    places: int,
    reach: float | None = None,
) -> Basis:
    """Return the basis of a row of readings, as :func:`read_one` for each.

    Args:
        reads: the sealed readings in the order of the table's places.
        candidates: further named mistakes, likelier than the gauge's own; one without a place counts at each.
        how, places, reach: as for :func:`read_one`.
    """
    own = [
        one.model_copy(update={"place": place})
        for place, read in enumerate(reads, start=1)
        for one in _gauge_slips(read)
    ]
    return basis.table(
        [read.reading for read in reads],
        tuple(tolerances.reading(read.division) for read in reads),
        [*candidates, *own],
        how=how,
        places=places,
        shown=[read.indication for read in reads],
        reach=reach,
    )


def _gauge_slips(read: SealedReading) -> list[SealedMistake]:
    near = tolerances.rounded(read.division)
    order = sorted(read.misreadings, key=lambda name: (name not in read.likely, name))
    found = [slips.slip(name, read.misreadings[name], near) for name in order]
    if read.unit == "mm":
        found += slips.of_any_length(read.reading, near)
    else:
        found += slips.decimal_point(read.reading, near)
    return found
