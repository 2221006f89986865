"""Chance that comes out the same on every computer: the same seed gives the same vehicle.

Only two things are used, both promised to keep their values: ``random.Random(seed).random()``
and the inverse of the normal distribution from ``statistics``. The ready-made helpers of
``random`` (``gauss``, ``choice``, ``shuffle``) carry no such promise, so they are not used.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from functools import cached_property
from random import Random
from statistics import NormalDist
from typing import TypeVar

from brakecourse.bench.checks import number, whole

T = TypeVar("T")


class Draw:
    """A stream of chance values fixed by one seed.

    Args:
        seed: a whole number, 0 or more, of any size.

    Raises:
        ValueError: the seed is not a whole number of 0 or more.

    >>> Draw(7).uniform() == Draw(7).uniform()
    True
    """

    def __init__(self, seed: int) -> None:
        # Random() ignores a seed's sign, so a negative seed would repeat a positive one's vehicle.
        self.seed = whole("seed", seed, low=0)

    @cached_property
    def _random(self) -> Random:
        # Made when it is first asked: many a stream only has children, and seeding takes long.
        return Random(self.seed)

    def uniform(self) -> float:
        """Return a number from 0 up to, never reaching, 1."""
        return self._random.random()

    def between(self, a: float, b: float) -> float:
        """Return a number from ``a`` to ``b``, each part of the range as likely as another.

        Raises:
            ValueError: an end is not a finite number, or ``b`` is below ``a``.
        """
        low = number("a", a)
        high = number("b", b, low=low)
        return low + (high - low) * self.uniform()

    def normal(self, mean: float, sd: float) -> float:
        """Return a number from the normal distribution.

        Args:
            mean: the middle.
            sd: the standard deviation, 0 or more; 0 gives the mean itself.

        Raises:
            ValueError: not a finite number, or ``sd`` below 0.
        """
        middle = number("mean", mean)
        width = number("sd", sd, low=0)
        share = self.uniform()
        while share == 0.0:  # the inverse has no value at 0
            share = self.uniform()
        return middle + width * _STANDARD.inv_cdf(share)

    def integer(self, a: int, b: int) -> int:
        """Return a whole number from ``a`` to ``b``, both ends included.

        Raises:
            ValueError: an end is not a whole number, or ``b`` is below ``a``.
        """
        for name, value in (("a", a), ("b", b)):
            if isinstance(value, bool) or not isinstance(value, int):
                raise ValueError(f"{name} must be a whole number, but {value!r} was given.")
        if b < a:
            raise ValueError(f"b must be a or more, but a = {a} and b = {b} were given.")
        return a + int(self.uniform() * (b - a + 1))

    def choice(self, seq: Sequence[T]) -> T:
        """Return one item of ``seq``, each as likely as another.

        Raises:
            ValueError: ``seq`` is empty.
        """
        if len(seq) == 0:
            raise ValueError("choice needs at least one item to choose from, but none was given.")
        return seq[self.integer(0, len(seq) - 1)]

    def weighted(self, shares: Mapping[T, float]) -> T:
        """Return one key of ``shares``, each as often as its share of the sum says.

        Raises:
            ValueError: no share above 0, or a share that is not a number of 0 or more.
        """
        weights = {key: number(f"share of {key!r}", share, low=0) for key, share in shares.items()}
        total = sum(weights.values())
        if total <= 0:
            raise ValueError("weighted needs at least one share above 0, but none was given.")
        left = self.uniform() * total
        chosen = None
        for key, weight in weights.items():
            if weight > 0:
                chosen = key
                if left < weight:
                    break
                left -= weight
        assert chosen is not None  # some weight is above 0
        return chosen

    def shuffled(self, seq: Sequence[T]) -> list[T]:
        """Return a new list with the items of ``seq`` in a drawn order."""
        items = list(seq)
        for last in range(len(items) - 1, 0, -1):
            other = self.integer(0, last)
            items[last], items[other] = items[other], items[last]
        return items

    def child(self, label: str) -> Draw:
        """Return a stream of its own, fixed by this stream's seed and a label.

        A child does not depend on what was drawn before it, so a new draw added in one place
        leaves every other place as it was.

        >>> Draw(7).child("wear").uniform() == Draw(7).child("rust").uniform()
        False
        """
        if not isinstance(label, str) or not label:
            raise ValueError(f"label must be a text that is not empty, but {label!r} was given.")
        digest = hashlib.sha256(f"{self.seed}/{label}".encode()).digest()
        return Draw(int.from_bytes(digest, "big"))


_STANDARD = NormalDist()
