"""Strains and studies: what a page holds, before any notation library sees it."""

from dataclasses import dataclass
from fractions import Fraction

from generators.phrase.algebra import length
from generators.phrase.bars import COMMON, NONE, Bar, Meter, bars
from generators.phrase.label import Label
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.remark import Remark
from generators.theory.key import Key
from generators.theory.pitch import Pitch

_THREE_EIGHTHS = Fraction(3, 8)


@dataclass(frozen=True, slots=True)
class Limits:
    """What the player may be asked: written range, breath in seconds, and the habits of a grade."""

    low: Pitch
    high: Pitch
    breath: float
    """Seconds between two breaths at the most."""
    leap: int = 24
    """The widest leap in half-steps."""
    tempo: int = 240
    """Beats a minute at the most."""
    shortest: Fraction = Fraction(1, 16)
    """The shortest note value, in whole notes."""
    speed: float = 8.8
    """Single-tongued notes a second at the most."""
    pedals: bool = False
    """Whether notes below the lowest second partial were asked for."""
    partials: bool = False
    """Whether partials 7, 11, 13 and 14 were asked for."""
    keys: tuple[str, ...] = ()
    """The written keys allowed; empty for all."""
    meters: tuple[str, ...] = ()
    """The meters allowed, such as 3/4; empty for all."""


@dataclass(frozen=True, slots=True)
class Strain:
    """One strain: a sentence of music with its key, meter and label, on lines of its own."""

    label: Label
    key: Key
    music: Phrase[Pitch]
    meter: Meter = COMMON
    lines: tuple[int, ...] = ()
    """Bars on each printed line; empty: three or four a line as they come."""
    tube: str = ""
    """The tube all of it lies on, for lip slurs: a valve set, or a position."""
    paired: bool = False
    """Whether its eighths are beamed two by two, whatever the meter."""
    held: bool = False
    """Whether its label tells how all of it is fingered, its notes therefore do not."""
    repeats: int = 1
    """How often it is played."""
    upbeat: Fraction = NONE
    """How long what stands before its first bar line lasts, in whole notes; 0 for nothing."""
    free: bool = False
    """Printed without a staff, its glides as free lines: for the mouthpiece alone."""

    @property
    def bars(self) -> tuple[Bar[Pitch], ...]:
        """The music cut into bars."""
        return bars(self.music, self.meter, self.upbeat)

    @property
    def notes(self) -> tuple[Note[Pitch], ...]:
        """The notes without the rests."""
        return tuple(event for event in self.music if isinstance(event, Note))


@dataclass(frozen=True, slots=True)
class Study:
    """One study, complete: all that is proved, printed, heard and exported."""

    kind: str
    name: str
    """What it is called by itself, such as "Flow"."""
    what: str
    """What is done in it, such as "arch, to the octave"; empty where the name says it."""
    aim: str
    """What to listen for, one or two sentences at the most."""
    horn: str
    tempo: int
    strains: tuple[Strain, ...]
    limits: Limits
    goal: int = 0
    """The tempo to grow to; 0 for none."""
    remarks: tuple[Remark, ...] = ()
    """What the page says of how the study was fitted to the player."""
    ladder: tuple[int, ...] = ()
    """The tempi to tick off one by one, the first of them the tempo; empty for none."""
    rungs: tuple[Pitch, ...] = ()
    """The notes to tick off one by one; empty for none."""
    also: str = ""
    """What a page with room for it adds to the aim."""
    piece: bool = False
    """Whether its strains are one piece: printed in one score, its bars numbered through."""

    @property
    def title(self) -> str:
        """Name and contents, as they stand over the page."""
        return f"{self.name}: {self.what}" if self.what else self.name

    @property
    def compound(self) -> bool:
        """Whether a beat is three eighths all through: the tempo is then told in dotted quarters."""
        return all(strain.meter.beat == _THREE_EIGHTHS for strain in self.strains)

    @property
    def told_tempo(self) -> int:
        """The tempo as it is told, in beats."""
        return round(self.tempo * 2 / 3) if self.compound else self.tempo

    @property
    def notes(self) -> tuple[Note[Pitch], ...]:
        """Every note in order, repeats once."""
        return tuple(note for strain in self.strains for note in strain.notes)

    def seconds(self, whole_notes: Fraction) -> float:
        """Return how long a length lasts at the tempo; the beat is a quarter."""
        # As whole numbers: the same figure as a fraction gives, and much sooner.
        return whole_notes.numerator * 240 / (whole_notes.denominator * self.tempo)

    @property
    def playing(self) -> float:
        """Seconds of sound, repeats counted."""
        return self.seconds(sum((length(s.notes) * s.repeats for s in self.strains), Fraction(0)))

    @property
    def resting(self) -> float:
        """Seconds of written rest, repeats counted."""
        rests = (length(tuple(e for e in s.music if isinstance(e, Rest))) * s.repeats for s in self.strains)
        return self.seconds(sum(rests, Fraction(0)))
