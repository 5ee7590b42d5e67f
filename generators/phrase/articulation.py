"""Articulation sets: how a group of notes is tongued and slurred, laid over any pattern and begun anew at every pulse."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from generators.errors import unknown
from generators.phrase.algebra import on, slurred
from generators.phrase.note import Note, P, Phrase


@dataclass(frozen=True, slots=True)
class Articulation:
    """A set: one character a slot of the pulse; equal letters are one slur, a dot is tongued short, a dash is plain."""

    name: str
    slots: str
    mark: str = ""
    """An articulation on every tongued note."""
    syllables: str = ""
    """One syllable a slot, printed under the notes."""
    lesson: str = ""
    """What it teaches, to follow "Listen for"; a horn fills in its own words (see `Horn.said`)."""
    words: str = ""
    """How a title names it; by default its name in words."""

    def __post_init__(self) -> None:
        """Give it its words."""
        object.__setattr__(self, "words", self.words or self.name.replace("-", " "))


SETS = {
    row.name: row
    for row in (
        Articulation("slurred", "", lesson="no bump between the {parts}"),
        Articulation("tongued", "-", lesson="starts that are all alike"),
        Articulation("tenuto", "-", "tenuto", lesson="the full value of each note"),
        Articulation("staccato", "-", "staccato", lesson="short notes that ring"),
        Articulation("accented", "-", "accent", lesson="the front of each note, made by the air"),
        Articulation("slurred-pairs", "aabb", lesson="a second note of each pair as full as the first"),
        Articulation("slur-two-tongue-two", "aa..", lesson="short notes as even as the slurred ones"),
        Articulation("tongue-two-slur-two", "..aa", lesson="slurs that begin exactly on their beat"),
        Articulation("slur-three-tongue-one", "aaa.", lesson="a last note that is placed, not thrown away"),
        Articulation("tongue-one-slur-three", ".aaa", lesson="a short first note that does not hurry the next"),
        Articulation("middle-pair-slurred", ".aa.", lesson="a slur across the middle without an accent"),
        Articulation("slur-two-tongue-one", "aa.", lesson="threes that do not turn into twos"),
        Articulation("tongue-one-slur-two", ".aa", lesson="slurs that start late and end even"),
        Articulation("double", "--", syllables="tk", lesson="a k as clear as the t", words="double tongue"),
        Articulation("triple", "---", syllables="ttk", lesson="a k as strong as the first t", words="triple tongue"),
        Articulation("k-tongue", "-", syllables="k", lesson="a k as close to the teeth as it will come", words="K-tongue"),
    )
}


def articulation(name: str) -> Articulation:
    """Return a set by name; an unknown one is refused with its nearest neighbour."""
    if name not in SETS:
        raise unknown("articulation", name, SETS)
    return SETS[name]


def fits(row: Articulation, slots: int) -> bool:
    """Tell whether a set goes evenly into a pulse of so many slots."""
    return slots % max(1, len(row.slots)) == 0


def articulated(
    phrase: Phrase[P], row: Articulation, unit: Fraction, pulse: Fraction, begin: Fraction = Fraction(0)
) -> Phrase[P]:
    """Return a run with a set laid over it, begun anew at every pulse; notes longer than a pulse slot keep their slots.

    The run begins so far after a pulse, in whole notes, and holds only notes.
    """
    if not row.slots:
        return slurred(phrase)
    pieces = groupby(_slotted(phrase, row, unit, pulse, begin), key=lambda item: item[0])
    return tuple(event for _, group in pieces for event in _grouped([note for _, note in group]))


def _slotted(
    phrase: Phrase[P], row: Articulation, unit: Fraction, pulse: Fraction, now: Fraction
) -> Iterator[tuple[object, Note[P]]]:
    """Yield each note with the slur it belongs to; a tongued note belongs to none but its own."""
    for i, event in enumerate(phrase):
        assert isinstance(event, Note)  # noqa: S101 - a run holds only notes, see articulated
        slot = int((now % pulse) / unit) % len(row.slots)
        letter = row.slots[slot]
        here = (now // pulse, slot // len(row.slots), letter) if letter.isalpha() else i
        yield here, _tongued(event, row, slot, letter)
        now += event.length


def _tongued(note: Note[P], row: Articulation, slot: int, letter: str) -> Note[P]:
    mark = "staccato" if letter == "." else row.mark
    syllable = row.syllables[slot % len(row.syllables)] if row.syllables else ""
    return replace(note, articulations=(*note.articulations, mark) if mark else note.articulations, syllable=syllable)


def _grouped(group: list[Note[P]]) -> Phrase[P]:
    return on(on(tuple(group), 0, slur_open=True), -1, slur_close=True) if len(group) > 1 else tuple(group)
