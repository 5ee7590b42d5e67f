"""The manner of an etude: a character with its tempo, rhythms and dynamics, and the slurs and marks laid over the line."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from generators.chance import pick
from generators.phrase.articulation import SETS, Articulation
from generators.phrase.bars import Meter
from generators.phrase.note import Event, Note, Phrase, Rest
from generators.phrase.study import Limits
from generators.theory.pitch import Pitch

_OCTAVE = 12
_EIGHTH, _QUARTER = Fraction(1, 8), Fraction(1, 4)


@dataclass(frozen=True, slots=True)
class Style:
    """A character: its word, its tempi, the manner of its motive and of its runs, its articulation sets, and how it begins."""

    word: str
    slowest: int
    fastest: int
    manner: str
    runs: str
    sets: tuple[str, ...]
    dynamics: tuple[str, str, str]
    """At the start of a sentence, at its height, and at the climax of the whole."""
    aim: str


# Characters, their tempi and dynamics: our choice.
STYLES = (
    Style(
        "cantabile",
        72,
        80,
        "calm",
        "flowing",
        ("slurred",),
        ("p", "mp", "f"),
        "for a voice that never stops between two breaths",
    ),
    Style(
        "espressivo",
        66,
        74,
        "leaning",
        "flowing",
        ("slurred",),
        ("p", "mf", "f"),
        "for the long notes growing into what follows",
    ),
    Style(
        "semplice",
        84,
        92,
        "calm",
        "light",
        ("slurred", "slurred-pairs"),
        ("mp", "mf", "f"),
        "for a tune that a child could sing after you",
    ),
    Style(
        "grazioso",
        96,
        106,
        "light",
        "light",
        ("slurred-pairs", "slur-two-tongue-two"),
        ("mp", "mf", "f"),
        "for light upbeats and a first beat that only leans",
    ),
    Style(
        "leggiero",
        108,
        118,
        "light",
        "light",
        ("slur-two-tongue-two", "tongue-two-slur-two"),
        ("p", "mf", "f"),
        "for eighths as even as if one finger played them",
    ),
    Style(
        "marziale",
        100,
        108,
        "dotted",
        "dotted",
        ("tongued", "tongue-two-slur-two"),
        ("mf", "f", "ff"),
        "for dotted notes held to their dot and the short one going to the next beat",
    ),
    Style(
        "giocoso",
        118,
        126,
        "light",
        "light",
        ("slur-two-tongue-two", "tongue-one-slur-three", "slur-three-tongue-one"),
        ("mf", "f", "ff"),
        "for the same smile each time the opening comes back",
    ),
    Style(
        "con moto",
        88,
        100,
        "leaning",
        "light",
        ("slurred", "slurred-pairs"),
        ("mp", "mf", "f"),
        "for the note off the beat, leaned on but never late",
    ),
)
# Common practice, no source: the tempo words by quarter notes a minute.
_TEMPO_WORDS = (
    (168, "Presto"),
    (120, "Allegro"),
    (108, "Moderato"),
    (76, "Andante"),
    (66, "Adagio"),
    (60, "Larghetto"),
    (0, "Largo"),
)
# The sets that may be asked for: those that lie well on a tune in eighths and quarters.
ASKED_SETS = tuple(name for name, row in SETS.items() if not row.syllables and len(row.slots) != 3)


def styled(tempo: int | None, limits: Limits, syncopes: bool, seed: int) -> Style:
    """Return the character of an etude, drawn among those whose tempo is near the one asked for or allowed."""
    known = [style for style in STYLES if syncopes or style.manner in ("calm", "light")]
    near = sorted(known, key=lambda style: abs((style.slowest + style.fastest) // 2 - tempo) if tempo else style.slowest)
    slow = [style for style in near if style.slowest <= limits.tempo] or near
    return pick(slow[:4] if tempo else slow, seed, "style")


def tempo_word(tempo: int) -> str:
    """Return the Italian word for a tempo."""
    return next(name for least, name in _TEMPO_WORDS if tempo >= least)


def barwise(music: Phrase[Pitch], row: Articulation, meter: Meter) -> Phrase[Pitch]:
    """Return the line under a set begun anew in every bar; no slur crosses a bar, a breath, a repeated note or an octave."""
    groups = list(_groups(music, row, meter))
    opens = [_with(groups, i, i + 1, music) for i in range(len(music))]
    closes = [i > 0 and opens[i - 1] for i in range(len(music))]
    marked = (_marked(event, row, group) for event, group in zip(music, groups, strict=True))
    return tuple(
        event if isinstance(event, Rest) else replace(event, slur_open=o and not c, slur_close=c and not o)
        for event, o, c in zip(marked, opens, closes, strict=True)
    )


_Group = tuple[object, ...]


def _groups(music: Phrase[Pitch], row: Articulation, meter: Meter) -> Iterator[_Group]:
    """Yield for each event the slur it belongs to, ending with the letter of its slot."""
    now = Fraction(0)
    for event in music:
        within = now % meter.bar
        letter = row.slots[int(within / _EIGHTH) % len(row.slots)] if row.slots else "a"
        place = int(within / _EIGHTH) // len(row.slots) if row.slots else 0
        yield (now // meter.bar, place, letter)
        now += event.length


def _with(groups: Sequence[_Group], i: int, j: int, music: Sequence[Event[Pitch]]) -> bool:
    """Tell whether two neighbours stand under one slur."""
    if j >= len(music) or groups[i] != groups[j] or not str(groups[i][-1]).isalpha():
        return False
    one, other = music[i], music[j]
    if not isinstance(one, Note) or not isinstance(other, Note):
        return False
    return not one.breath and 0 < abs(other.pitch.midi - one.pitch.midi) < _OCTAVE


def _marked(event: Event[Pitch], row: Articulation, group: _Group) -> Event[Pitch]:
    if isinstance(event, Rest):
        return event
    if group[-1] == "." and event.length <= _EIGHTH:
        return replace(event, articulations=("staccato",))
    return replace(event, articulations=(row.mark,)) if row.mark and event.length <= _QUARTER else event
