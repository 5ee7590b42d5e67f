"""Chance as a pure function of seed and place: the same draw on every machine and every version of Python."""

from collections.abc import Sequence
from hashlib import sha256
from typing import TypeVar

T = TypeVar("T")


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
