"""How a tune speaks: its head is not said too often, its close is led to, calls are chords, hymns do not growl."""

from collections.abc import Iterator
from functools import cache
from itertools import pairwise

import pytest

from generators.phrase.dynamics import LOUDNESS
from generators.phrase.note import Note, Phrase
from generators.phrase.study import Strain, Study
from generators.studies.etude.kinds import TUNE_KINDS
from generators.studies.etude.study import EtudeRequest, etude
from generators.theory.pitch import Pitch
from tests.studies.test_etude import NONE, pairs, phrases

KEYS = ("Eb", "G", "F", "Cm", "Bb", "Am", "D")
study_of = cache(etude)
ASKED = tuple(
    EtudeRequest(kind=kind, keys=(KEYS[(2 * i + j) % len(KEYS)],), bars=("32", "24", "16", "8")[(i + j) % 4], seed=31 * j + i)
    for i, kind in enumerate(TUNE_KINDS)
    for j in range(4)
)


@pytest.fixture(params=ASKED, ids=[f"{one.kind}-{one.keys[0]}-{one.bars}" for one in ASKED])
def study(request: pytest.FixtureRequest) -> Study:
    """Return one etude after another."""
    return study_of(request.param)


def degree(note: Note[Pitch], study: Study) -> int:
    """Return the degree of a note at home, 0 the tonic."""
    return (note.pitch.place - study.strains[0].key.degree(0).place) % 7


def whole_bars(study: Study) -> Iterator[Phrase[Pitch]]:
    """Yield the bars of a tune, without its upbeats."""
    for strain in study.strains:
        yield from strain.bars[bool(strain.upbeat) :]


def test_the_head_is_said_three_times(study: Study) -> None:
    """No more than three phrases begin with the first bar as it was."""
    told = [[(event.length, getattr(event, "pitch", None)) for event in bar] for bar in whole_bars(study)][::4]
    assert 3 >= told.count(told[0])


def test_nothing_falls_far_before_a_close(study: Study) -> None:
    """In the last two bars of a tune nothing falls by a sixth or more in one breath."""
    ends = [event for bar in study.strains[-1].bars[-2:] for event in bar if isinstance(event, Note)]
    assert all(a.pitch.place - b.pitch.place < 5 for a, b in pairwise(ends) if not a.breath)


def test_the_dominant_is_heard(study: Study) -> None:
    """On a strong beat of the last bar but one is a note of the dominant: the fifth, the seventh or the second."""
    strain = study.strains[-1]
    turn = strain.meter.bar / 2 if strain.meter.beats != 3 else strain.meter.bar * 2 / 3
    now, heard = 0 * turn, []
    for event in strain.bars[-2]:
        heard += [degree(event, study)] if isinstance(event, Note) and now in (0, turn) else []
        now += event.length
    assert set(heard) & {1, 4, 6}


@pytest.mark.parametrize("seed", range(6))
def test_a_call_is_a_chord(seed: int) -> None:
    """The first two bars of a fanfare have notes of the tonic's chord and the dominant's alone, and a dotted figure."""
    study = study_of(EtudeRequest(kind="fanfare", keys=(KEYS[seed],), bars="16", seed=seed))
    bars = list(whole_bars(study))[:2]
    for bar in bars:
        held = {degree(event, study) for event in bar if isinstance(event, Note)}
        assert held <= {0, 2, 4} or held <= {4, 6, 1, 3}
    assert any(a.length == 3 * b.length for bar in bars for a, b in pairwise(bar))


@pytest.mark.parametrize("seed", range(4))
def test_a_call_is_tongued(seed: int) -> None:
    """Slurs in a fanfare are rare: no more than one in eight bars."""
    study = study_of(EtudeRequest(kind="fanfare", keys=(KEYS[seed],), bars="32", seed=seed))
    assert 4 >= sum(note.slur_open for note in study.notes)


@pytest.mark.parametrize("kind", ["song", "hymn"])
@pytest.mark.parametrize("seed", range(4))
def test_what_is_sung_does_not_growl(kind: str, seed: int) -> None:
    """The height of a song or a hymn is D5 or higher where the range allows."""
    study = study_of(EtudeRequest(kind=kind, keys=(KEYS[seed],), bars="16", seed=seed))
    assert 74 <= max(note.pitch.midi for note in study.notes)


@pytest.mark.parametrize("seed", range(5))
def test_a_gigue_skips(seed: int) -> None:
    """In a gigue no more than one note in eight is struck again."""
    study = study_of(EtudeRequest(kind="gigue", keys=(KEYS[seed],), bars="24", seed=seed))
    every = list(pairs(study))
    assert 8 * sum(a.pitch == b.pitch for a, b in every) <= len(every)


def test_codas_speak_of_the_head() -> None:
    """A coda begins with the rhythm of the first bar, as the values of its notes go."""
    found = 0
    for seed in range(18):
        study = study_of(EtudeRequest(kind=list(TUNE_KINDS)[seed % 9], bars=("24", "32")[seed % 2], seed=seed))
        for strain in study.strains:
            if strain.label.name == "Coda" and not TUNE_KINDS[study.name.split()[0].lower()].pair[0]:
                found += 1
                assert _first(study.strains[0]) == _first(strain)
    assert found > 5


def _first(strain: Strain) -> list[object]:
    return [event.length for event in strain.bars[bool(strain.upbeat)]]


@pytest.mark.parametrize("grade", ["1", "2", ""])
def test_no_tune_is_one_that_all_know(grade: str) -> None:
    """None begins down the tonic's chord from the fifth and up it to the octave."""
    for seed in range(20 if grade else 10):
        study = study_of(EtudeRequest(grade=grade, kind="march", bars="8", seed=seed))
        assert [4, 2, 0, 2, 4, 0] != [degree(note, study) for note in study.notes[:6]]


def test_loudness_joins(study: Study) -> None:
    """Nothing is louder or softer by more than a step without a hairpin, but for another idea, which may be softer."""
    level, hairpin = "", ""
    others = [strain.notes[0] for strain in study.strains if strain.label.name in ("B", "C", "Var.")]
    for note in study.notes:
        if note.dynamic:
            step = LOUDNESS.index(note.dynamic) - LOUDNESS.index(level) if level else 0
            assert hairpin or step in (-1, 0, 1) or (step < 0 and any(note is first for first in others))
            level = note.dynamic
        hairpin = note.hairpin or ("" if note.dynamic else hairpin)


def test_a_first_section_is_shaded(study: Study) -> None:
    """A first section of eight bars has more than the loudness that it begins with."""
    assert 1 < sum(bool(note.dynamic) for note in study.strains[0].notes)


@pytest.mark.parametrize("kind", ["song", "lament"])
@pytest.mark.parametrize("seed", range(4))
def test_what_sings_is_slurred(kind: str, seed: int) -> None:
    """Every phrase of a song and of a lament has a slur."""
    for phrase in phrases(study_of(EtudeRequest(kind=kind, keys=(KEYS[seed],), bars="24", seed=seed))):
        assert any(note.slur_open for note in phrase)


def test_no_slur_begins_before_a_bar_line(study: Study) -> None:
    """What begins a slur on the last beat of a bar ends it there, but for an upbeat."""
    for strain in study.strains:
        now, begun = -strain.upbeat, NONE
        for event in strain.music:
            if isinstance(event, Note):
                begun = now if event.slur_open else begun
                over = event.slur_close and begun // strain.meter.bar < now // strain.meter.bar
                assert not over or begun % strain.meter.bar < strain.meter.bar - strain.meter.beat
            now += event.length
