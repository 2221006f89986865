"""Draw many pictures, on two processors where that saves time."""

from __future__ import annotations

import multiprocessing
import signal
from collections.abc import Generator, Iterator, MutableMapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import closing
from typing import TYPE_CHECKING

from brakecourse.classroom.folder import Progress

if TYPE_CHECKING:
    from brakecourse.exports.pictures import Picture

FEW = 16
"""So few pictures are drawn here: the other processes take as long to start."""
_PROCESSES = 2


def draw(
    pictures: Sequence[Picture], kept: MutableMapping[str, bytes], told: Progress | None = None
) -> Iterator[tuple[Picture, bytes]]:
    """Give each picture with the bytes of its PNG file.

    Args:
        pictures: which.
        kept: pictures by name. What is there is not drawn again, and what is drawn is put there at once, so
            that nothing is lost when `told` stops the work.
        told: told how far the work is, after each picture.
    """
    with closing(_drawn([one for one in pictures if one.name not in kept])) as contents:
        for number, one in enumerate(pictures, start=1):
            if one.name not in kept:
                kept[one.name] = next(contents)
            yield one, kept[one.name]
            if told is not None:
                told(number, len(pictures), one.title)


def _drawn(pictures: Sequence[Picture]) -> Generator[bytes, None, None]:
    count = 0
    if len(pictures) > FEW:
        try:
            with closing(_side_by_side(pictures)) as contents:
                for content in contents:
                    count += 1
                    yield content
        except (BrokenProcessPool, OSError):
            # No memory, or no file from which a process could start: the rest is drawn here.
            pass
    yield from map(_png, pictures[count:])


def _side_by_side(pictures: Sequence[Picture]) -> Generator[bytes, None, None]:
    pool = ProcessPoolExecutor(
        _PROCESSES,
        multiprocessing.get_context("spawn"),  # a desk has threads, and those are not to be forked
        signal.signal,
        (signal.SIGINT, signal.SIG_IGN),  # who interrupts the work is answered by this process alone
    )
    try:
        yield from pool.map(_png, pictures)
    finally:
        pool.shutdown(cancel_futures=True)


def _png(picture: Picture) -> bytes:
    return picture.png()
