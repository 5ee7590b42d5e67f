"""A beginner's tune asks and answers in the same words, by step, in values that he reads; nothing in it surprises him."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

import pytest

from generators.phrase.note import Note
from generators.phrase.study import Strain, Study
from generators.studies.catalogue import make
from generators.studies.etude.study import EtudeRequest
from generators.theory.pitch import Pitch

# The limits of the first years that teachers name, and grades as they are.
LIMITS = (("C4", "G4"), ("C4", "A4"), ("C4", "C5"), ("G3", "C5"))
TUNES = (
    *(
        EtudeRequest(low=low, high=high, bars=bars, seed=seed)
        for low, high in LIMITS
        for bars in ("8", "16")
        for seed in (0, 1)
    ),
    *(EtudeRequest(grade=of, seed=seed) for of in "01" for seed in range(2, 6)),
    *(EtudeRequest(grade="1", kind=kind, bars="8", keys=("F",)) for kind in ("song", "hymn", "march", "waltz", "dance")),
)
FIFTH, WIDE = 7, 3
QUARTER, EIGHTH = Fraction(1, 4), Fraction(1, 8)
TONIC, SECOND, THIRD, FOURTH, DOMINANT = 0, 1, 2, 3, 4
STEP, SKIP = 1, 2


@pytest.fixture(params=TUNES, ids=lambda one: f"{one.grade}{one.low}{one.high}-{one.kind}{one.bars}-{one.seed}")
def study(request: pytest.FixtureRequest) -> Study:
    """Return one tune after another."""
    return make(request.param)


def degree(note: Note[Pitch], strain: Strain) -> int:
    """Return the degree of a note, 0 the tonic."""
    return (note.pitch.place - strain.key.degree(0).place) % 7


def moves(strain: Strain) -> list[int]:
    """Return the moves of a section in steps of the staff."""
    return [b.pitch.place - a.pitch.place for a, b in pairwise(strain.notes)]


def test_the_idea_comes_back(study: Study) -> None:
    """Bars five and six are bars one and two, and so are the first two of the last section."""
    first, last = study.strains[0], study.strains[-1]
    told, again = (_plain(strain)[:2] for strain in (first, last))

    assert told == _plain(first)[4:6]
    assert told == again


def _plain(strain: Strain) -> list[list[tuple[object, Fraction]]]:
    bars = strain.bars[bool(strain.upbeat) :]
    return [[(getattr(event, "pitch", None), event.length) for event in bar] for bar in bars]


def test_the_idea_comes_back_as_loud(study: Study) -> None:
    """The first bar is as loud when it comes back: nothing before the sixth has a dynamic but the first note."""
    first = study.strains[0]
    told = [note.dynamic for note, now in _timed(first) if now < 5 * first.meter.bar and note.dynamic]

    assert [first.notes[0].dynamic] == told


def test_it_asks_and_comes_home(study: Study) -> None:
    """The first four bars and a middle end on a note that asks; the first section and the last come home by step."""
    first, *_, last = study.strains[:1] * 2 if len(study.strains) == 1 else study.strains
    asking = [note for note, after in pairwise(_timed(first)) if note[1] < 4 * first.meter.bar - first.upbeat <= after[1]]

    assert [True] == [degree(note, first) in (SECOND, THIRD, DOMINANT) for note, _ in asking]
    assert {TONIC} == {degree(strain.notes[-1], strain) for strain in (first, last)}
    assert {1} == {abs(moves(strain)[-1]) for strain in (first, last)}
    assert {SECOND, DOMINANT} >= {degree(strain.notes[-1], strain) for strain in study.strains if strain.label.name == "B"}


def _timed(strain: Strain) -> Iterator[tuple[Note[Pitch], Fraction]]:
    now = -strain.upbeat
    for event in strain.music:
        if isinstance(event, Note):
            yield event, now
        now += event.length


def test_leaps_are_few_and_sure(study: Study) -> None:
    """No leap is wider than a fifth, none follows another in one breath, and none comes to the last note but one."""
    for strain in study.strains:
        wide = [abs(move) >= WIDE and not a.breath for a, move in zip(strain.notes, moves(strain), strict=False)]
        assert FIFTH >= max(abs(b.pitch.midi - a.pitch.midi) for a, b in pairwise(strain.notes))
        assert not any(a and b for a, b in pairwise(wide))
    assert not any(wide[-2:])


def test_an_upbeat_is_easy_to_sing(study: Study) -> None:
    """The first upbeat is a note of the tonic's chord; none that begins a phrase is the fourth degree."""
    first = study.strains[0]
    begun = [strain.notes[0] for strain in study.strains if strain.upbeat]

    assert not first.upbeat or degree(first.notes[0], first) in (TONIC, THIRD, DOMINANT)
    assert FOURTH not in {degree(note, first) for note in begun}
    for strain in study.strains:
        after = [b for a, b in pairwise(_timed(strain)) if a[0].breath]
        assert FOURTH not in {degree(note, strain) for note, now in after if now % strain.meter.bar}


def test_first_notes_step_and_skip(study: Study) -> None:
    """A tune in nothing quicker than quarters goes no farther than a third in one breath, and within its first bar by step."""
    first, bar = study.strains[0], study.strains[0].meter.bar
    if min(note.length for note in study.notes) < QUARTER or study.limits.shortest < QUARTER:
        return

    for strain in study.strains:
        joined = [(a, b) for a, b in pairwise(strain.music) if isinstance(a, Note) and isinstance(b, Note) and not a.breath]

        assert SKIP >= max(abs(b.pitch.place - a.pitch.place) for a, b in joined)
    opening = [note.pitch.place for note, now in _timed(first) if 0 <= now < bar]
    assert STEP >= max((abs(b - a) for a, b in pairwise(opening)), default=0)


@pytest.mark.parametrize("seed", range(4))
def test_six_notes_come_to_the_sixth(seed: int) -> None:
    """A tune whose highest note was named goes up to it, once."""
    notes = [note.pitch.name for note in make(EtudeRequest(low="C4", high="A4", seed=seed)).notes]

    assert 1 == notes.count("A4")


@pytest.mark.parametrize("grade", ["", *"123456"])
@pytest.mark.parametrize("seed", range(3))
def test_no_fanfare_begins_as_an_anthem(grade: str, seed: int) -> None:
    """A call does not go down the tonic's chord and up to its octave, nor straight up to it, as known anthems do."""
    strain = make(EtudeRequest(grade=grade, kind="fanfare", bars="8", seed=seed)).strains[0]
    way = [note.pitch.place - strain.key.degree(0).place for note in strain.notes[:7]]
    shapes = [tuple(place - start[0] for place in start) for start in (way, way[1:], way[2:])]

    assert not any(shape[:6] == (0, -2, -4, -2, 0, 3) for shape in shapes)
    assert not any(
        start[0] % 7 == 0 and shape[:4] == (0, 2, 4, 7) for start, shape in zip((way, way[1:]), shapes, strict=False)
    )


@pytest.mark.parametrize("grade", "01")
@pytest.mark.parametrize("seed", range(6))
def test_what_is_called_a_fanfare_calls(grade: str, seed: int) -> None:
    """A beginner's fanfare begins on the tonic's chord, three notes of it; what does not is called a march."""
    found = make(EtudeRequest(grade=grade, kind="fanfare", bars="8", seed=seed))
    calls = all(degree(note, found.strains[0]) in (TONIC, THIRD, DOMINANT) for note in found.notes[:3])

    assert found.name.startswith("Fanfare" if calls else "March")


def test_no_breath_is_inside_a_note_struck_again(study: Study) -> None:
    """After a breath comes another note than before it."""
    for strain in study.strains:
        assert not any(a.breath and not move for a, move in zip(strain.notes, moves(strain), strict=False))


def test_values_are_plain(study: Study) -> None:
    """There are wholes, halves, a dotted half, quarters and pairs of eighths that begin on a beat; the end is in time."""
    for strain in study.strains:
        assert {1, 3 * QUARTER, 2 * QUARTER, QUARTER, EIGHTH} >= {n.length for n in strain.notes}
        assert not any(note.role for note in strain.notes)
        for note, now in _timed(strain):
            assert 0 == now % QUARTER or (note.length < QUARTER and 0 == (now - note.length) % QUARTER)


@pytest.mark.parametrize("kind", ["march", "dance", "fanfare", "song", "hymn"])
def test_first_notes_have_no_eighths(kind: str) -> None:
    """Who has nothing quicker than quarters has none in any kind of tune that he asks for."""
    assert QUARTER <= min(note.length for note in make(EtudeRequest(grade="0", kind=kind, seed=1)).notes)


def test_like_figures_are_slurred_alike(study: Study) -> None:
    """A slur has a pair of eighths by step, and in a tune that has one every such pair has."""
    pairs = [(a, b) for strain in study.strains for a, b in pairwise(_timed(strain)) if _is_pair(a, b)]
    slurred = [a.slur_open and b.slur_close for (a, _), (b, _) in pairs]

    assert sum(slurred) == sum(note.slur_open for strain in study.strains for note in strain.notes)
    assert len(set(slurred)) < 2


def _is_pair(one: tuple[Note[Pitch], Fraction], other: tuple[Note[Pitch], Fraction]) -> bool:
    (a, now), (b, _) = one, other
    even = a.length == b.length == EIGHTH and now % QUARTER == 0
    return even and abs(b.pitch.place - a.pitch.place) == 1


def test_a_hairpin_that_falls_begins_on_a_beat(study: Study) -> None:
    """A diminuendo begins with a beat, not between two."""
    starts = [now for strain in study.strains for note, now in _timed(strain) if note.hairpin == ">"]

    assert not any(now % QUARTER for now in starts)


def test_a_breath_comes_after_a_long_note(study: Study) -> None:
    """A half or longer comes before every breath, so that there is time for it."""
    assert all(2 * QUARTER <= note.length for strain in study.strains for note in strain.notes if note.breath)
