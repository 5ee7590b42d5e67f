"""What the first years are spared: long notes first, slurs by step, warm-ups in one loudness, nothing high and cold."""

from fractions import Fraction
from itertools import pairwise

import pytest

from generators.phrase.algebra import breaths, onsets
from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain
from generators.studies.arpeggios import ArpeggiosRequest
from generators.studies.catalogue import KINDS, make
from generators.studies.entrances import EntrancesRequest
from generators.studies.etude.study import EtudeRequest
from generators.studies.flow.study import FlowRequest
from generators.studies.kit.fit import NoFit
from generators.studies.kit.registers import REGISTERS
from generators.studies.kit.request import Request
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.study import SlursRequest
from generators.theory.pitch import Pitch, parse_pitch

# The limits of the first years that teachers name, from three notes to an octave and a fourth.
FIRST = [("C4", "E4"), ("C4", "G4"), ("C4", "A4"), ("C4", "C5"), ("G3", "C5")]
LIMITS = pytest.mark.parametrize(("low", "high"), FIRST)
FIVE = pytest.mark.parametrize(("low", "high"), FIRST[1:])


def tune(strain: Strain) -> list[Pitch]:
    """Return the notes of a strain without their lengths."""
    return [note.pitch for note in strain.notes]


@FIVE
@pytest.mark.parametrize("record", [ScalesRequest, ArpeggiosRequest])
def test_long_notes_come_first(record: type[ScalesRequest], low: str, high: str) -> None:
    """In the first key a scale or chord comes in halves, and each time again in notes half as long."""
    strains = make(record(low=low, high=high)).strains
    first = [strain for strain in strains if strain.key == strains[0].key and tune(strain) == tune(strains[0])]
    quickest = [min(note.length for note in strain.notes) for strain in first]

    assert "halves" == first[0].label.detail
    assert len(first) >= 2
    assert [Fraction(1, 2 << turn) for turn in range(len(first))] == quickest


@LIMITS
@pytest.mark.parametrize("record", [ScalesRequest, ArpeggiosRequest])
def test_after_a_rest_it_goes_on_with_a_bar(record: type[ScalesRequest], low: str, high: str) -> None:
    """No beginner comes in within a bar after a rest: it is a beat at the end of one, or a whole one."""
    for strain in strains_of(record, low, high):
        for before, event, start in zip(strain.music, strain.music[1:], onsets(strain.music)[1:], strict=False):
            assert not (isinstance(before, Rest) and isinstance(event, Note)) or start % strain.meter.bar == 0


def strains_of(record: type[ScalesRequest], low: str, high: str) -> tuple[Strain, ...]:
    """Return the strains of scales or chords between two notes; none where they have no room."""
    try:
        return make(record(low=low, high=high)).strains
    except NoFit:
        return ()


def test_later_keys_begin_in_quarters() -> None:
    """The halves of a first scale are not asked for in the keys after it, whose quarters come before its eighths."""
    told = [strain.label.detail for strain in make(ScalesRequest(low="C4", high="C5")).strains]

    assert ["halves", "a half, quarters", "quarters", "a quarter, eighths", "eighths"] == told


def test_a_rhythm_that_is_asked_for_is_the_only_one() -> None:
    """Who names a rhythm has it alone."""
    study = make(ScalesRequest(low="C4", high="G4", rhythm="quarters"))

    assert ["five notes"] == [strain.label.part for strain in study.strains]
    assert "tongued" == study.what


@LIMITS
def test_an_easier_line_comes_first(low: str, high: str) -> None:
    """A line of flow has one of four bars in three notes before it."""
    for easy, line in zip(*[iter(make(FlowRequest(low=low, high=high)).strains)] * 2, strict=True):
        assert max(note.pitch.place for note in easy.notes) - min(note.pitch.place for note in easy.notes) == 2
        assert (5, easy.key) == (len(easy.bars), line.key)
        assert len(line.bars) == 9


@LIMITS
@pytest.mark.parametrize("kind", ["flow", "etude", "air"])
def test_slurs_go_by_step(kind: str, low: str, high: str) -> None:
    """Tongue and fingers move by neighbours under a slur; a leap is tongued, for lip slurs are a study of their own."""
    for seed in range(4):
        for strain in make(KINDS[kind].request(low=low, high=high, seed=seed)).strains:
            under = False
            for a, b in pairwise(strain.notes):
                under = (under or a.slur_open) and not (a.slur_close and not a.slur_open)
                assert not under or abs(b.pitch.place - a.pitch.place) < 2 or kind == "air"


def test_one_open_tube_is_played_both_ways() -> None:
    """Where only the open tube lies within the limits, the slur comes from above, then from below."""
    above, below = make(SlursRequest(low="C4", high="G4")).strains

    assert "C4 G4 C4" == " ".join(pitch.name for pitch in tune(below)[:3])
    assert "G4 C4 G4" == " ".join(pitch.name for pitch in tune(above)[:3])
    assert ("rising", "falling") == (below.label.part, above.label.part)


@pytest.mark.parametrize("asked", [SlursRequest(low=low, high=high) for low, high in FIRST[1:]] + [SlursRequest(grade="1")])
def test_a_beginner_has_one_tempo(asked: SlursRequest) -> None:
    """Lip slurs of a beginner do not grow from one tempo to another."""
    assert 0 == make(asked).goal


@pytest.mark.parametrize("kind", [kind.name for kind in KINDS.values() if kind.warms])
@pytest.mark.parametrize("grade", ["0", "1"])
def test_one_warms_up_in_one_loudness(kind: str, grade: str) -> None:
    """What warms up a beginner is neither whispered nor swelled: mf, once a strain."""
    for strain in make(KINDS[kind].request(grade=grade)).strains:
        assert ["mf"] == [note.dynamic for note in strain.notes if note.dynamic]
        assert not any(note.hairpin for note in strain.notes)


@FIVE
def test_no_high_note_is_begun_cold(low: str, high: str) -> None:
    """No cold entrance begins on the highest notes of more than five, whatever the draw."""
    top = parse_pitch(high).midi - (2 if (low, high) != ("C4", "G4") else 0)
    for seed in range(20):
        study = make(EntrancesRequest(low=low, high=high, seed=seed))
        assert max(strain.notes[0].pitch.midi for strain in study.strains) <= top
        assert len(REGISTERS) < len(study.strains) * 2


@pytest.mark.parametrize(("low", "high"), FIRST[:3])
@pytest.mark.parametrize("record", [FlowRequest, ScalesRequest, EtudeRequest])
def test_the_newest_note_is_used(record: type[FlowRequest], low: str, high: str) -> None:
    """Who asks for three, five or six notes practises the last of them: in the line, the scale and the tune."""
    assert high == max(note.pitch for note in make(record(low=low, high=high)).notes).name


CLIMBS = [ask(grade=of, keys=keys) for ask in (ScalesRequest, ArpeggiosRequest) for of in "123" for keys in ((), ("C", "F"))]


@pytest.mark.parametrize("asked", CLIMBS)
def test_no_breath_parts_a_leading_note_from_its_tonic(asked: Request) -> None:
    """In a learner's climbs the tonic follows its leading note in one breath."""
    for strain in make(asked).strains:
        for note, after in pairwise(strain.notes):
            leads = after.pitch.midi - note.pitch.midi == 1 and after.pitch.name[:-1] == strain.key.tonic

            assert not (note.breath and leads)


@pytest.mark.parametrize("asked", [each for each in CLIMBS if each.grade == "1"])
def test_a_longer_first_note_is_told(asked: Request) -> None:
    """A beginner's label names its values, the longer first one before the others where there is one."""
    for strain in make(asked).strains:
        first, second, *_ = (note.length for note in strain.notes)
        named = {"halves": Fraction(1, 2), "quarters": Fraction(1, 4), "eighths": Fraction(1, 8)}
        *longer, rest = strain.label.detail.split(", ")

        assert (first > second) == bool(longer)
        assert named[rest] == second


@pytest.mark.parametrize("high", ["A4", "C5"])
def test_nobody_breathes_after_one_note(high: str) -> None:
    """In no long or short notes of a beginner's scale or chord is there a breath right after a note that a rest led to."""
    for asked in (ScalesRequest(low="C4", high=high), ArpeggiosRequest(low="C4", high=high)):
        for strain in make(asked).strains:
            for before, event, after in zip(strain.music, strain.music[1:], strain.music[2:], strict=False):
                alone = isinstance(before, Rest) and isinstance(event, Note) and isinstance(after, Note)
                assert not (alone and isinstance(event, Note) and event.breath)


@LIMITS
def test_no_breath_is_right_before_the_top(low: str, high: str) -> None:
    """The highest note of a beginner's scale ends the breath in which it is climbed to."""
    for strain in strains_of(ScalesRequest, low, high):
        top = max(strain.notes, key=lambda note: note.pitch.midi).pitch

        assert not any(before.breath and note.pitch == top != before.pitch for before, note in pairwise(strain.notes))


def test_six_notes_are_in_halves() -> None:
    """The line of the sixth note has the values that it is called after, all of them."""
    last = make(ScalesRequest(low="C4", high="A4")).strains[-1]

    assert ("six notes", "halves") == (last.label.part, last.label.detail)
    assert {Fraction(1, 2)} == {note.length for note in last.notes}


def test_an_octave_in_halves_has_one_breath_each_way() -> None:
    """Eight notes in halves are four and four, up and down."""
    first = make(ScalesRequest(low="C4", high="C5")).strains[0]
    stretches = [[note.pitch.step for note in stretch] for stretch in breaths(first.music)]

    assert [list("CDEF"), list("GABC"), list("CBAG"), list("FEDC")] == stretches
