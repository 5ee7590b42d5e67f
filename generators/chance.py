"""Chance as a pure function of seed and place: the same draw on every machine and every version of Python."""

from collections.abc import Iterator, Mapping, Sequence
from hashlib import sha256
from itertools import islice
from struct import unpack
from typing import TypeVar

T = TypeVar("T")
# A little more than the largest number of eight bytes, so that no draw is 1.
_WHOLE = float(2**64 + 2**12)


def number(seed: int, *place: object) -> int:
    """Return a large number that depends on the seed and the place alone."""
    text = "/".join(str(part) for part in (seed, *place))
    return int.from_bytes(sha256(text.encode()).digest()[:8], "big")


def pick(items: Sequence[T], seed: int, *place: object) -> T:
    """Return one of the items."""
    return items[number(seed, *place) % len(items)]


def shuffled(items: Sequence[T], seed: int, *place: object) -> list[T]:
    """Return the items in a drawn order."""
    order = sorted(range(len(items)), key=lambda i: number(seed, *place, i))
    return [items[i] for i in order]


class Dice:
    """Draws in a row, for what asks thousands of times: a stream that depends on the seed and the place alone."""

    def __init__(self, seed: int, *place: object) -> None:
        """Begin the stream of a seed and a place."""
        self._draws = _stream(seed, *place)
        self._next = self._draws.__next__

    def real(self) -> float:
        """Return a number from 0 up to 1."""
        return self._next()

    def reals(self, many: int) -> list[float]:
        """Return so many numbers from 0 up to 1."""
        return list(islice(self._draws, many))

    def chance(self, share: float) -> bool:
        """Return true so often."""
        return self._next() < share

    def pick(self, items: Sequence[T]) -> T:
        """Return one of the items, all as often."""
        return items[int(self._next() * len(items))]

    def weighted(self, items: Mapping[T, float]) -> T:
        """Return one of the items as often as its weight says."""
        left = self._next() * sum(items.values())
        for item, weight in items.items():
            left -= weight
            if left < 0:
                return item
        return list(items)[-1]


def _stream(seed: int, *place: object) -> Iterator[float]:
    """Yield numbers from 0 up to 1, four of every digest."""
    begun = sha256("/".join(str(part) for part in (seed, *place)).encode())
    count = 0
    while True:
        block = begun.copy()
        block.update(count.to_bytes(8, "big"))
        for part in unpack(">4Q", block.digest()):
            yield part / _WHOLE
        count += 1
