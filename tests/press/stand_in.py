"""In the engraver's place: notes what it is handed, gives pages that tell their text, and calls overfull what it is told to."""

import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import NamedTuple

from generators.press.engraver import Engraved

_NUMBER = re.compile(r"part-made (\d+) ")
_TOTAL = re.compile(r'" of (\d+)"')


class Handed(NamedTuple):
    """A book part that an engraver was handed, one page: its number, how many there are in all, and its source."""

    number: int
    total: int
    text: str

    @property
    def image(self) -> bytes:
        """What stands for its page."""
        return f"{self.number} of {self.total}: {self.text}".encode()


class StandIn:
    """Engravers without an engraver."""

    def __init__(self, crowded: Callable[[Handed], bool]) -> None:
        """Take what says which book parts are overfull."""
        self.crowded = crowded
        self.rounds: list[list[list[Handed]]] = []
        """What was handed over: a list a round of engraving, in it one a run."""

    @contextmanager
    def engravers(self, count: int, _: Sequence[str]) -> Iterator[list["StandIn"]]:
        """Give itself as often as engravers are asked for."""
        self.rounds.append([])
        yield [self] * count
        assert count == len(self.rounds[-1])

    def begin(self, text: str) -> Callable[[], Engraved]:
        """Note a text and what its pages are."""
        head, *parts = text.split("\\bookpart {")
        total = _TOTAL.search(head)
        assert total
        run = [Handed(int(number[1]), int(total[1]), part) for part in parts if (number := _NUMBER.search(part))]
        assert len(parts) == len(run)
        self.rounds[-1].append(run)
        overfull = tuple(part.number for part in run if self.crowded(part))
        return lambda: Engraved({"svg": tuple(part.image for part in run)}, "", overfull)

    def texts(self, place: int) -> list[str]:
        """Return the book parts of a round in order."""
        return [part.text for run in self.rounds[place] for part in run]
