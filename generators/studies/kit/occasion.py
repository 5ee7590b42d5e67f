"""The occasion that a part of a day is written for: one player on one day, as far as the studies need to know."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from generators.brass.grade import Grade
from generators.brass.horn import Horn
from generators.chance import T, number, pick
from generators.theory.pitch import Pitch, simple

# Half-steps under the top that wait for the high work, and the compass from which there is room for that: our choice.
_UNDER, _WIDE = 2, 24
# Half-steps from the first note above the staff to a professional's top, at the least: our choice.
_FAR = 5
# The share of a strain above the staff from which all of it is high work: our choice.
HIGH_SHARE = 0.25
# How many signs the keys of a quiet start and a warm-down have at the most, and on a light day: our choice.
_SIGNS, _LIGHT_SIGNS = 4, 2
# How high a quiet start and a warm-down go, in treble clef, and the compass that they need below: our choice.
_CALM, _OCTAVE = Pitch("D", 0, 5), 12


@dataclass(frozen=True, slots=True)
class DayKeys:
    """The keys of one day, as written."""

    majors: tuple[str, ...]
    minors: tuple[str, ...]
    weak: tuple[str, ...]

    @property
    def all_majors(self) -> tuple[str, ...]:
        """The weak keys of the day that are major, then its majors, each once."""
        return tuple(dict.fromkeys((*(key for key in self.weak if not key.endswith("m")), *self.majors)))

    @property
    def all(self) -> tuple[str, ...]:
        """Every key of the day, once."""
        return tuple(dict.fromkeys((*self.majors, *self.minors, *self.weak)))


@dataclass(frozen=True, slots=True)
class Occasion:
    """One player's day before its parts are chosen."""

    player: str
    """What the draws of this player depend on."""
    horn: Horn
    grade: Grade
    """Its range and keys as the horn reads them; the adult's without one."""
    kind: str
    """normal, light, concert or stretch."""
    day: int
    """The day's number, counted from any fixed date."""
    low: Pitch
    high: Pitch
    stretch: Pitch
    keys: DayKeys
    grade_id: str = ""
    """The grade that the player named; empty for none."""
    tempo: int | None = None
    """The tempo wished for on this day; None for every study's own."""
    tempi: Mapping[str, int] = field(default_factory=dict, hash=False)
    """The tempo wished for single parts."""
    own_low: bool = False
    """Whether the player named the lowest note."""
    breath: int = 0
    tongue: int = 0
    multiple: int = 0
    """The player's own figures; 0 for the grade's."""
    articulations: tuple[str, ...] = ()
    """The sets that the player prefers."""

    @property
    def far_above(self) -> bool:
        """Whether the top lies so far above the staff that a day should be at home there."""
        return self.high.midi >= self.horn.clef.over.midi + _FAR

    @property
    def few_signs(self) -> int:
        """How many sharps or flats what is easy has at the most."""
        return _LIGHT_SIGNS if self.kind == "light" else _SIGNS

    def draw(self, items: Sequence[T], *place: object) -> T:
        """Return one of the items, the same for the same player and day."""
        return pick(items, self.day, self.player, *place)

    def turn(self, items: Sequence[T], what: str, days: int = 1) -> T:
        """Return the item whose turn it is: each stays for so many days and comes once before any comes again."""
        return items[(self.day // days + number(0, what, self.player)) % len(items)]

    def drift(self, items: Sequence[T], what: str, days: int) -> T:
        """Return the item whose turn it is, another every day, and one farther every so many days."""
        return items[(self.day + self.day // days + number(0, what, self.player)) % len(items)]

    @property
    def swells(self) -> bool:
        """Whether the flow of the day goes from soft to loud, every second day: what is there for loudness has the others."""
        return self.drift((True, False), "swells", 6)

    def set_of(self, names: Sequence[str]) -> str:
        """Return the articulation set of the day: one of the player's own among the names, or the next of them in turn."""
        own = tuple(name for name in self.articulations if name in names)
        return self.turn(own or names, "articulation")

    @property
    def early(self) -> dict[str, Any]:
        """The common fields of what comes before the high work: its highest notes are left for that where the range is wide."""
        under = self.high.midi - _UNDER
        wide = under - self.low.midi >= _WIDE and self.grade.octaves != "1"
        return self.common | ({"high": simple(under, sharp=False).name} if wide else {})

    @property
    def calm(self) -> dict[str, Any]:
        """The common fields of a quiet start and a warm-down, which stay within the staff where the range leaves them room."""
        top = min(self.high, self.horn.at_home(_CALM))
        return self.common | ({"high": top.name} if top.midi - self.low.midi >= _OCTAVE else {})

    @property
    def common(self) -> dict[str, Any]:
        """The fields that all requests of the day share; the tempo only where one is wished for."""
        wished = {} if self.tempo is None else {"tempo": self.tempo}
        return wished | {
            "horn": self.horn.id,
            "grade": self.grade_id,
            "low": self.low.name,
            "high": self.high.name,
            "seed": number(self.day, "seed", self.player) % 10000,
            "breath": self.breath or None,
            "tongue": self.tongue or None,
        }
