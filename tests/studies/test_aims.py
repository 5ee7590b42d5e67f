"""An aim is a claim: whatever a page bids the player listen for, its notes show; those of etudes apart."""

from collections import Counter
from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given

from generators.fields import slots
from generators.phrase.bars import bars
from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain, Study
from generators.studies.catalogue import KINDS, make
from generators.studies.dynamics import DynamicsRequest
from generators.studies.fingers.study import FingersRequest
from generators.studies.kit.request import Request
from generators.studies.low import LowRequest
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.paths import SLUR_PATHS
from generators.studies.slurs.study import SlursRequest
from generators.theory.pitch import Pitch
from tests.studies.phrasing import LAWS, slurs, stretches, whole
from tests.studies.requests import studies

Line = tuple[Note[Pitch], ...]
HALF = Fraction(1, 2)
# A kind as it is drawn here: a close, which goes its own way, is left out.
DRAWN: dict[str, dict[str, Any]] = {"flow": {"close": "none"}}


def heights(line: Line) -> list[int]:
    """Return the MIDI numbers of a line."""
    return [note.pitch.midi for note in line]


def each(claim: Callable[[Strain], bool]) -> Callable[[Study], bool]:
    """Return the claim that every strain makes."""
    return lambda study: all(claim(strain) for strain in study.strains)


def shaped(shape: str, claim: Callable[[Strain], bool]) -> Callable[[Study], bool]:
    """Return the claim that every strain of a shape makes, and one does."""
    return lambda study: {True} == {claim(strain) for strain in study.strains if strain.label.name == shape}


def outermost(strain: Strain, pick: Callable[[list[int]], int]) -> list[int]:
    """Return the places of the highest or the lowest note."""
    line = heights(strain.notes)
    return [i for i, height in enumerate(line) if height == pick(line)]


def long_bottom(strain: Strain) -> bool:
    """Tell whether the lowest note is a half note or longer."""
    return any(strain.notes[i].length >= HALF for i in outermost(strain, min))


def grows_to_the_top(strain: Strain) -> bool:
    """Tell whether the last hairpin before one of the highest notes grows."""
    before = ["".join(n.hairpin for n in strain.notes[:i]).replace(".", "") for i in outermost(strain, max)]
    return any(signs.endswith("<") for signs in before)


def wide(strain: Strain) -> bool:
    """Tell whether the line spans a fourth at the least."""
    line = heights(strain.notes)
    return max(line) - min(line) >= 5


def farther(strain: Strain) -> bool:
    """Tell whether long notes reach higher and higher, twice at the least, before the line goes home."""
    tops = [height for height, note in zip(heights(strain.notes), strain.notes, strict=True) if note.length >= HALF]
    return len([i for i, top in enumerate(tops) if top > max(tops[:i], default=tops[0])]) >= 1 and max(tops) == max(
        heights(strain.notes)
    )


def leans(strain: Strain) -> bool:
    """Tell whether every second bar but the last begins with a half note that falls a step."""
    measures = [[e for e in bar if isinstance(e, Note)] for bar in bars(strain.music, strain.meter)]
    leaning = [bar for bar in measures[: len(measures) - 2 : 2] if bar]
    return all(bar[0].length == HALF and bar[0].pitch.place - bar[1].pitch.place == 1 for bar in leaning)


def comes_back(strain: Strain) -> bool:
    """Tell whether what is slurred leaves a note and ends on it."""
    turns = [stretch for stretch in stretches(strain) if len(stretch) > 1]
    return bool(turns) and all(turn[0].pitch == turn[-1].pitch for turn in turns)


def cold(strain: Strain) -> bool:
    """Tell whether counted rests of a bar or more stand before entrances, and each has its dynamic."""
    rests = [event for event in strain.music if isinstance(event, Rest) and event.length >= 1]
    return len(rests) == len([note for note in strain.notes if note.dynamic])


def repeats_its_cell(strain: Strain) -> bool:
    """Tell whether four notes come again and again, but for the way home at the end."""
    parts = stretches(strain)
    return all(heights(part[:4])[: len(part[4:8])] == heights(part[4:8]) for part in parts[: len(parts) // 2 * 2])


def bends_and_fingers(strain: Strain) -> bool:
    """Tell whether the note that is bent was fingered before at the same pitch."""
    bent = next(i for i, note in enumerate(strain.notes) if note.role == "bent")
    return strain.notes[bent].pitch in [note.pitch for note in strain.notes[:bent] if not note.role]


def fixed(strain: Strain) -> bool:
    """Tell whether one note returns after every leap: it is the one that comes most often, the first and the last."""
    line = heights(strain.notes)
    return Counter(line).most_common(1)[0][0] == line[0] == line[-1]


def counted(strain: Strain) -> bool:
    """Tell whether one pitch, whose hairpins have their beats over them."""
    return 1 == len(set(heights(strain.notes))) and all(note.beats for note in strain.notes if note.hairpin in ("<", ">"))


def sudden(strain: Strain) -> bool:
    """Tell whether the change stands on a beat, with its dynamic and its word."""
    return any(note.role == "sudden" and note.dynamic for note in strain.notes)


def neighbours(strain: Strain) -> bool:
    """Tell whether every slur goes to the next note of those that are played."""
    ladder = sorted(set(heights(strain.notes)))
    return all(abs(ladder.index(a) - ladder.index(b)) <= 1 for a, b in pairwise(heights(strain.notes)))


def three_notes(study: Study) -> bool:
    """Tell whether there is a third note, on some tube at the least, and values quicken."""
    lengths = [[note.length for note in strain.notes[:-1] if note.length < 1] for strain in study.strains]
    return any(len(set(heights(s.notes))) > 2 for s in study.strains) and all(sorted(n, reverse=True) == n for n in lengths)


def by_the_middle(strain: Strain) -> bool:
    """Tell whether from the lowest note the line goes up to one that is not the highest."""
    line = heights(strain.notes)
    return all(b < max(line) for a, b in pairwise(line) if a == min(line) != b)


def same_road(strain: Strain) -> bool:
    """Tell whether up and down the same steps are taken."""
    line = heights(strain.notes)
    moves = {(a, b) for a, b in pairwise(line) if a != b}
    return moves == {(b, a) for a, b in moves}


def skips(strain: Strain) -> bool:
    """Tell whether a note of the path is left out on the way to the next."""
    return not neighbours(strain)


def from_the_lowest(strain: Strain) -> bool:
    """Tell whether the lowest note comes most often, and first."""
    line = heights(strain.notes)
    return line[0] == min(line) and Counter(line).most_common(1)[0][0] == min(line)


def falls(strain: Strain) -> bool:
    """Tell whether the line begins on its highest note and goes down to the lowest."""
    line = heights(strain.notes)
    return line[0] == max(line) and sorted(line[: line.index(min(line)) + 1], reverse=True) == line[: line.index(min(line)) + 1]


def one_slur(strain: Strain) -> bool:
    """Tell whether each breath is one slur."""
    return all(whole(stretch) == slurs(stretch) for stretch in stretches(strain))


def said(syllables: str) -> Callable[[Study], bool]:
    """Return the claim that these syllables and no others are said, the first of them on the first note, or k alone before."""
    return each(
        lambda strain: (
            {*syllables, "t"} == {n.syllable for n in strain.notes}
            and strain.notes[0].syllable == ("k" if strain.label.part == "k first" else syllables[0])
        )
    )


def as_soft(study: Study) -> bool:
    """Tell whether every rung has the dynamic of the one before it."""
    return 1 == len({tuple(note.dynamic for note in strain.notes) for strain in study.strains})


def up_and_down(strain: Strain) -> bool:
    """Tell whether the line rises from its first note and comes down again."""
    line = heights(strain.notes)
    return line[0] < max(line) > line[-1]


def passes_the_top(strain: Strain) -> bool:
    """Tell whether the highest note is no longer than the one before it."""
    top = outermost(strain, max)[0]
    return strain.notes[top].length <= strain.notes[top - 1].length


def opens_by(*steps: int) -> Callable[[Study], bool]:
    """Return the claim that a strain begins with a cell and takes it up again a step or more higher."""

    def claim(strain: Strain) -> bool:
        places = [note.pitch.place for note in strain.notes]
        return [place - places[0] for place in places[: len(steps)]] == list(steps)

    return each(claim)


def threes(strain: Strain) -> bool:
    """Tell whether triplets, the first of a strain as long as the others or longer for the beat's sake."""
    return sum(note.length == Fraction(1, 12) for note in strain.notes) >= 6


def low_ones_first(strain: Strain) -> bool:
    """Tell whether on the way up every second note is higher than the one before it."""
    line = heights(strain.notes)[: outermost(strain, max)[0]]
    return all(a < b for a, b in zip(line[::2], line[1::2], strict=False))


def in_positions(strain: Strain) -> bool:
    """Tell whether the first three notes rise, and the next group begins higher."""
    line = heights(strain.notes)
    return (line[0] < line[1] < line[2] and line[0] < line[3]) or line[0] < line[1] < line[2] < line[3]


def octave_drop(study: Study) -> bool:
    """Tell whether some line drops an octave."""
    return any(-12 in [b - a for a, b in pairwise(heights(strain.notes))] for strain in study.strains)


# What is said, by words of it, and what it claims.
CLAIMS: dict[str, Callable[[Study], bool]] = {
    "turn at the bottom": each(long_bottom),
    "grow into its top note": each(grows_to_the_top),
    "one colour at the top and at the bottom": each(wide),
    "each turn to reach a little farther": each(farther),
    "weight on each leaning note": each(leans),
    "finds it without a push": each(comes_back),
    "ready a bar early": each(cold),
    "slow air; stop before": each(repeats_its_cell),
    "bent note to match": each(bends_and_fingers),
    "bottom note to be the broadest": each(long_bottom),
    "octave below to ring": octave_drop,
    "fixed note": each(fixed),
    "low end of each leap": each(fixed),
    "same amount on every beat": shaped("swell", lambda strain: any(note.beats for note in strain.notes)),
    "core of the loud sound": shaped("fade", lambda strain: any(n.hairpin == ">" and n.beats for n in strain.notes)),
    "exactly on its beat": shaped("sudden", sudden),
    "click between notes to vanish": each(neighbours),
    "every new note to arrive": three_notes,
    "middle note to sound alike": each(by_the_middle),
    "same road home": each(same_road),
    "what you skip": each(skips),
    "low note to keep its place": each(from_the_lowest),
    "sound to open as it falls": each(falls),
    "every partial to be there": each(one_slur),
    "one gesture of air": each(one_slur),
    "every t to begin": said("t"),
    "k to speak as far forward": said("k"),
    "tell the k from the t": said("tk"),
    "k on the beat to carry": said("kt"),
    "three even notes; the second t": said("tk"),
    "two equal t where groups meet": said("tk"),
    "k on the beat to be the strongest": said("kt"),
    "second k as clear": said("kt"),
    "two k in a row": said("kt"),
    "both k after the t": said("tk"),
    "no louder and no thinner": as_soft,
    "on the way up and on the way down": each(up_and_down),
    "beat to stay where it is": lambda study: (
        len({strain.label.detail for strain in study.strains}) > 1 or len(study.strains) == 1
    ),
    "turn at the top to pass in time": each(passes_the_top),
    "lower notes to make one line": opens_by(0, 2, 1, 3),
    "each fourth to be in tune": opens_by(0, 3, 1, 4),
    "note that is turned round": opens_by(0, 1, 0, -1),
    "first of every four": opens_by(0, 1, 2, 3, 1),
    "three even notes to the beat": each(threes),
    "skips to sound like steps": each(up_and_down),
    "top note as a point on the way": each(passes_the_top),
    "every three as one gesture": each(in_positions),
    "notes that move to make one line": each(low_ones_first),
    "keep its colour whichever note": each(in_positions),
    "outer notes of each skip": each(low_ones_first),
    "one buzz up and back": each(lambda strain: strain.free),
    "crest and trough": each(lambda strain: strain.free),
    "each level in tune": each(lambda strain: strain.free),
    "as fast on the way down": each(lambda strain: strain.free),
    "same relaxed buzz": each(lambda strain: strain.free),
}


@pytest.mark.parametrize("kind", [name for name in KINDS if name != "etude"])
def test_an_aim_is_a_claim(kind: str) -> None:
    """Whatever is asked of a kind, the aim of its page claims something, and the notes show it."""

    @LAWS
    @given(studies(kind, grade="", **DRAWN.get(kind, {})) | studies(kind, grade="5", **DRAWN.get(kind, {})))
    def law(asked: tuple[Any, Study]) -> None:
        _, study = asked

        assert kept(study)

    law()


# The names of fields that take other texts too.
NAMED = {"path": tuple(SLUR_PATHS)}
# Every choice that brings an aim of its own.
CHOICES: dict[str, tuple[str, ...]] = {
    "flow": ("shape",),
    "slurs": ("path", "width"),
    "scales": ("pattern",),
    "arpeggios": ("pattern",),
    "intervals": ("direction",),
    "tonguing": ("kind",),
    "buzz": ("shapes",),
}


def chosen() -> Iterator[Request]:
    """Yield every kind as it comes and with every choice that brings an aim of its own."""
    for name, kind in KINDS.items():
        if name != "etude":
            yield kind.request()
    for name, fields in CHOICES.items():
        slots_of = {slot.name: slot for slot in slots(KINDS[name].request)}
        for field in fields:
            for value in NAMED.get(field, slots_of[field].allowed):
                yield KINDS[name].request(**{field: (value,) if slots_of[field].listed else value})
    yield from (LowRequest(pedals=True), SlursRequest(path="3-4-5-4"), FingersRequest(changes=("1-2>3",)))
    yield from (DynamicsRequest(shapes=(shape,)) for shape in ("swell", "fade", "sudden"))
    yield ScalesRequest(rhythm="turning")


def test_every_choice_keeps_its_aim() -> None:
    """Every shape, path, pattern and kind keeps what its page claims, and every claim of the table is made by one of them."""
    made_by = {words for request in chosen() for words in kept(make(request))}

    assert set(CLAIMS) == made_by


def kept(study: Study) -> list[str]:
    """Return the words by which the aim of a study claims something; one that it does not keep fails."""
    found = [words for words in CLAIMS if words in study.aim]
    assert found, study.aim
    assert all(CLAIMS[words](study) for words in found), (study.aim, study.what)
    return found
