"""A tune as values: what it is drawn for, its phrases of four bars, and all of it."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from generators.studies.etude.forms import PhrasePlan, TuneForm
from generators.studies.etude.harmony import ChordSound, Tone
from generators.studies.etude.kinds import TuneKind
from generators.studies.etude.melody import LineCompass
from generators.studies.etude.rhythm import BarRhythm, duration, stroke_values
from generators.theory.key import Key


@dataclass(frozen=True, slots=True)
class Setup:
    """What a tune is drawn for: its kind, home and the middle's key, its compass on the horn, and what the player reads."""

    kind: TuneKind
    home: Key
    middle: tuple[str, Key]
    compass: LineCompass
    shortest: Fraction
    chromatic: bool
    syncopes: bool = True
    """Whether notes may lean over a beat."""
    winded: bool = False
    """Whether four bars are too long for a breath."""

    @property
    def beginner(self) -> bool:
        """Whether it is a beginner's."""
        return self.compass.gentle


@dataclass(frozen=True)
class TunePhrase:
    """Four bars with their notes; what is asked of it again and again is kept."""

    plan: PhrasePlan
    upbeat: BarRhythm
    """What stands before its first bar line, in the last bar of the phrase before it."""
    bars: tuple[BarRhythm, ...]
    chords: tuple[tuple[ChordSound, ...], ...]
    line: tuple[Tone, ...]
    """The notes of upbeat and bars; rests have none."""
    halved: bool
    """Whether its halves have an upbeat and a breath each."""
    leads: int = 0
    """How many notes after its breath lead into the next phrase."""

    @cached_property
    def strokes(self) -> BarRhythm:
        """Upbeat and bars in a row."""
        return (*self.upbeat, *(stroke for bar in self.bars for stroke in bar))

    @cached_property
    def places(self) -> tuple[int, ...]:
        """The staff places of its notes."""
        return tuple(tone.place for tone in self.line)

    @cached_property
    def told(self) -> list[tuple[tuple[float, ...], tuple[int, ...]]]:
        """The values and the staff places of each bar."""
        return [(stroke_values(bar), places) for bar, places in zip(self.bars, self.barwise[1:], strict=True)]

    @cached_property
    def barwise(self) -> list[tuple[int, ...]]:
        """The staff places of the upbeat and of each bar, 0 for a rest."""
        heard = iter(self.places)
        return [tuple(0 if stroke.rest else next(heard) for stroke in bar) for bar in (self.upbeat, *self.bars)]


@dataclass(frozen=True, slots=True)
class Tune:
    """A whole tune."""

    kind: TuneKind
    form: TuneForm
    phrases: tuple[TunePhrase, ...]
    faults: float = 0.0
    """How many faults were left in it as it was written."""

    @property
    def upbeat(self) -> Fraction:
        """How long the notes before the first bar line last."""
        return duration(self.phrases[0].upbeat)

    @property
    def line(self) -> tuple[Tone, ...]:
        """All of its notes."""
        return tuple(tone for phrase in self.phrases for tone in phrase.line)
