"""What makes the tube longer, valves or a slide: the tubes it offers, what each lowers, and how each lies in tune."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import log2
from typing import Any

from generators.brass.table import read_table
from generators.errors import unknown
from generators.theory.interval import Interval, parse_interval

# How notes are spelled that lie so many half-steps lower on a longer tube.
_LOWERED = tuple(parse_interval(i) for i in ["P1", "-m2", "-M2", "-m3", "-M3", "-P4", "-d5", "-P5", "-m6", "-M6", "-m7", "-M7"])


@dataclass(frozen=True, slots=True)
class Resonator:
    """One kind of valves or slide; a tube is a text such as "1-3", or "3" for the third position."""

    id: str
    name: str
    """What a list of horns says of it, such as 3 valves."""
    valves: int
    """How many valves; none for a slide."""
    word: str
    """The heading over a chart: valves, or position."""
    one: str
    """The name of one tube in a sentence, such as valve set."""
    words: Mapping[str, str]
    """What texts call the parts that move, by their placeholders: `{parts}`, `{hand}` and so on."""
    lowers: Mapping[str, int]
    """By how many half-steps each part lowers, a set of parts as much as all of them."""
    in_tune: tuple[str, ...]
    """The sets that are exact; each settles the length of its last part."""
    tubes: tuple[str, ...]
    """The seven tubes that every note from the lowest second partial up is played on, each lower by its place."""
    more: tuple[str, ...]
    """Longer ones that go on from them."""
    others: tuple[str, ...]
    """Sets that are no note's usual one."""
    pulls: Mapping[str, str]
    """What to do about a tube that is sharp; the others only tend."""
    pushes: Mapping[str, str]
    """What to do about a tube that is flat."""
    sharp: str
    flat: str
    """What is said of a sharp or flat tube that has no word of its own."""
    instead: Mapping[str, str]
    """Which set each better one stands in for."""
    slides: Mapping[str, str]
    """What the page adds on slides for a rare tube, where that stands on it."""

    def __hash__(self) -> int:
        return hash(self.id)

    @property
    def sets(self) -> tuple[str, ...]:
        """Every tube there is."""
        return (*self.tubes, *self.others, *self.more)

    def checked(self, tube: str) -> str:
        """Return the tube, or refuse one that this resonator does not have."""
        if tube not in self.sets:
            raise unknown(self.one, tube, self.sets)
        return tube

    def lowered(self, tube: str) -> int:
        """Return by how many half-steps a tube lowers the open one, as it is played."""
        return sum(self.lowers[part] for part in self.checked(tube).split("-"))

    def interval(self, tube: str) -> Interval:
        """Return the interval down to the notes of a tube from those of the open one."""
        return _LOWERED[self.lowered(tube)]

    def cents(self, tube: str) -> float:
        """Return how far a tube is from its half-steps, sharp positive."""
        length = 1 + sum(_added(self)[part] for part in self.checked(tube).split("-"))
        return 100 * self.lowered(tube) - 1200 * log2(length)

    def label(self, tube: str) -> str:
        """Return a tube as the page names it: "1-3", "position 3"."""
        return tube if self.valves else f"{self.one} {tube}"

    def what(self, tube: str) -> str:
        """Return what a tube is called over its name: "open", "valve", "valves", "position"."""
        if not self.valves:
            return self.one
        return self.opened(tube) or ("valves" if "-" in tube else "valve")

    def opened(self, tube: str) -> str:
        """Return what the page says of the tube without a valve, open; nothing of any other, or of a position."""
        return "open" if self.valves and tube == self.tubes[0] else ""


@cache
def _added(of: Resonator) -> Mapping[str, float]:
    """Return what each part adds to the open tube, as a share of it: the sets that are in tune settle one part each."""
    added: dict[str, float] = {}
    for tube in of.in_tune:
        *known, last = tube.split("-")
        exact = float(2 ** (sum(of.lowers[part] for part in (*known, last)) / 12))
        added[last] = exact - 1 - sum(added[part] for part in known)
    return added


def _resonator(row: dict[str, Any]) -> Resonator:
    listed = {name: tuple(row[name]) for name in ("in_tune", "tubes", "more", "others")}
    return Resonator(**(row | listed))


RESONATORS: dict[str, Resonator] = {row["id"]: _resonator(row) for row in read_table("horns.toml")["resonator"]}


def resonator(id: str) -> Resonator:  # noqa: A002 - the word that the tables use
    """Return the resonator of an id such as "three-valves"; another id is refused."""
    if id not in RESONATORS:
        raise unknown("resonator", id, RESONATORS)
    return RESONATORS[id]
