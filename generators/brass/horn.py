"""The instruments: one value a row of `horns.toml`; written pitch is the player's, the horn holds the transposition."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from generators.brass.resonator import Resonator, resonator
from generators.brass.table import read_table
from generators.errors import unknown
from generators.theory.clef import Clef, clef
from generators.theory.interval import Interval, between, parse_interval, transpose
from generators.theory.key import Key, moved, plainer
from generators.theory.pitch import Pitch, parse_pitch

# What is written for all horns alike, such as the ranges and keys of the grades, is written for a horn in treble clef whose
# open tube sounds from here.
CONVENTION = parse_pitch("C3")
# Where notes bend well, as that horn reads it. That middle notes do is common practice, no source; where they end: our choice.
BENDING = parse_pitch("E4"), parse_pitch("G5")
# A note that stands on so many ledger lines under the staff is hard to read: from there on an octave bracket is used if it lies
# below the lowest tube as well. Our choice.
BRACKETED = 5
_OCTAVE = parse_interval("P8")


@dataclass(frozen=True, slots=True)
class Horn:
    """One instrument; every pitch is written, in its clef."""

    id: str
    name: str
    clef: Clef
    fundamental: Pitch
    """The first partial of the open tube."""
    resonator: Resonator
    partials: tuple[int, ...]
    """Those that charts finger from: a note lies on the shortest tube below the next of them."""
    interval: Interval
    """From the written to the sounding pitch."""
    low: Pitch
    high: Pitch
    """The ordinary limits; pedals lie below the lower one."""
    ceiling: Pitch
    """The top that a player may ask for."""
    comfort: tuple[Pitch, Pitch]
    """The span that studies use when the player names none."""
    program: int
    """The General MIDI program, counted from 0."""
    sound: str
    """The MusicXML sound id."""
    source: str
    reason: str

    def __hash__(self) -> int:
        return hash(self.id)

    @property
    def sounding_half_steps(self) -> int:
        """Half-steps from the written to the sounding pitch."""
        return self.interval.half_steps

    @property
    def valves(self) -> int:
        """How many valves it has; none on a slide."""
        return self.resonator.valves

    @property
    def tubes(self) -> tuple[str, ...]:
        """The seven tubes that every note from the lowest up is played on."""
        return self.resonator.tubes

    @property
    def sets(self) -> tuple[str, ...]:
        """Every tube there is."""
        return self.resonator.sets

    @property
    def lowest(self) -> Pitch:
        """The second partial of the longest of the seven tubes: F#3 on three valves in treble clef."""
        return _below(self.fundamental, self.resonator, _OCTAVE)

    @property
    def pedal_floor(self) -> Pitch:
        """The first partial of the longest of the seven tubes: below it nothing is asked of anyone."""
        return _below(self.fundamental, self.resonator, Interval(0, 0))

    @property
    def home(self) -> Interval:
        """The interval from what is written for all horns alike to what this horn reads."""
        return between(CONVENTION, self.fundamental)

    @property
    def bends(self) -> tuple[Pitch, Pitch]:
        """The lowest and the highest note that bends well."""
        return self.at_home(BENDING[0]), self.at_home(BENDING[1])

    def at_home(self, pitch: Pitch) -> Pitch:
        """Return a note that is written for all horns alike as this horn reads it."""
        return transpose(pitch, self.home)

    def key_at_home(self, key: Key) -> Key:
        """Return a key that is written for all horns alike as this horn reads it, never with seven accidentals for five."""
        return key if not self.home.steps else plainer(moved(key, self.home))

    def bracketed(self, pitch: Pitch) -> bool:
        """Tell whether a note is printed an octave higher, under a bracket: below the lowest tube and far below the staff."""
        return pitch.midi < self.lowest.midi and self.clef.ledgers(pitch) <= -BRACKETED

    def said(self, text: str) -> str:
        """Return a text with the horn's own words for what moves: `{parts}` becomes valves, or positions."""
        return text.format_map(self.resonator.words)


@cache
def _below(fundamental: Pitch, of: Resonator, above: Interval) -> Pitch:
    return transpose(transpose(fundamental, above), of.interval(of.tubes[-1]))


def _horn(row: dict[str, Any]) -> Horn:
    pitches = {field: parse_pitch(row[field]) for field in ("fundamental", "low", "high", "ceiling")}
    low, high = row["comfort"]
    typed = {
        **pitches,
        "comfort": (parse_pitch(low), parse_pitch(high)),
        "interval": parse_interval(row["interval"]),
        "clef": clef(row["clef"]),
        "resonator": resonator(row["resonator"]),
        "partials": tuple(row["partials"]),
    }
    return Horn(**(row | typed))


HORNS: dict[str, Horn] = {row["id"]: _horn(row) for row in read_table("horns.toml")["horn"]}


def horn(id: str) -> Horn:  # noqa: A002 - the word that the tables and the command line use
    """Return the horn of an id such as "trumpet"; another id is refused with its nearest neighbour."""
    if not isinstance(id, str) or id not in HORNS:
        raise unknown("horn", id, HORNS)
    return HORNS[id]
