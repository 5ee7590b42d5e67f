"""The low brass: a horn in bass clef plays what its twin in treble clef plays, a major ninth lower on paper."""

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from generators.brass.grade import GRADES
from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain, Study
from generators.phrase.wording import full_label, remark_words
from generators.proof.prove import prove
from generators.studies.catalogue import KINDS, make
from generators.theory.interval import parse_interval, transpose
from generators.theory.pitch import Pitch, parse_pitch

NINTH = parse_interval("-M9")
TREBLE, BASS, SLIDE = "euphonium", "euphonium-bass-clef", "trombone"
# Notes asked for are written notes, and move with the clef.
NOTES = {"low", "high", "note", "depth"}
ASKED: tuple[tuple[str, dict[str, Any]], ...] = (
    *((kind, {}) for kind in KINDS),
    *((kind, {"grade": grade}) for kind in KINDS for grade in GRADES),
    ("flow", {"low": "A3", "high": "G5", "seed": 3}),
    ("scales", {"low": "F#3", "high": "C6", "pattern": "thirds"}),
    ("scales", {"kind": "chromatic"}),
    ("scales", {"kind": "whole-tone", "octaves": "1"}),
    ("arpeggios", {"kind": "diminished-seventh", "high": "C6"}),
    ("slurs", {"path": "there-and-back", "high": "C6"}),
    ("slurs", {"width": "sixth", "rare_partials": True, "high": "E6"}),
    ("low", {"pedals": True}),
    ("low", {"pedals": True, "depth": "E3"}),
    ("entrances", {"count": 30, "seed": 8, "low": "F#3", "high": "C6"}),
    ("fingers", {"changes": ("1-2>3", "2>2-3")}),
    ("fingers", {"shape": "gap", "count": 8}),
    ("bends", {"count": 12}),
    ("bends", {"low": "B3", "high": "C5"}),
    ("air", {"note": "G4"}),
    ("tonguing", {"kind": "double-reversed", "patterns": ("arpeggio",)}),
    ("etude", {"seed": 11, "bars": "16"}),
)
once = cache(make)
asked = pytest.mark.parametrize(("kind", "fields"), ASKED, ids=lambda value: str(value))


def moved(fields: dict[str, Any]) -> dict[str, Any]:
    """Return what is asked with its notes as they are read in bass clef."""
    return {name: transpose(parse_pitch(value), NINTH).name if name in NOTES else value for name, value in fields.items()}


def made(kind: str, name: str, fields: dict[str, Any]) -> Study | BadRequest:
    """Return the study of a request for a horn, or its refusal."""
    try:
        return once(KINDS[kind].request(horn=name, **fields))
    except BadRequest as refusal:
        return refusal


def shape(strain: Strain, down: int) -> tuple[object, ...]:
    """Return all of a strain but the names of its notes: marks, lengths, and heights so many half-steps further down."""
    events = [e if isinstance(e, Rest) else (e.pitch.midi - down, replace(e, pitch=parse_pitch("C4"))) for e in strain.music]
    return strain.meter, strain.lines, strain.tube, strain.repeats, strain.free, tuple(events)


@asked
def test_the_same_a_ninth_lower(kind: str, fields: dict[str, Any]) -> None:
    """A study in bass clef is the treble one moved by a major ninth: same notes, marks, lines, tempi, fingerings."""
    treble, bass = made(kind, TREBLE, fields), made(kind, BASS, moved(fields))
    if isinstance(treble, BadRequest):
        assert isinstance(bass, BadRequest)
        return

    assert isinstance(bass, Study), str(bass)
    assert [shape(strain, 0) for strain in treble.strains] == [shape(strain, -14) for strain in bass.strains]
    assert (treble.tempo, treble.goal, treble.ladder) == (bass.tempo, bass.goal, bass.ladder)
    assert (transpose(treble.limits.low, NINTH).midi, transpose(treble.limits.high, NINTH).midi) == (
        bass.limits.low.midi,
        bass.limits.high.midi,
    )


@asked
def test_they_sound_alike(kind: str, fields: dict[str, Any]) -> None:
    """The two sound the same notes, for they are one horn."""
    treble, bass = made(kind, TREBLE, fields), made(kind, BASS, moved(fields))
    if isinstance(treble, Study) and isinstance(bass, Study):
        heard = [[note.pitch.midi + horn(study.horn).sounding_half_steps for note in study.notes] for study in (treble, bass)]

        assert heard[0] == heard[1]


@pytest.mark.parametrize(
    ("name", "kind", "fields"),
    [(name, *one) for name in (BASS, SLIDE) for one in ASKED if name == SLIDE or "grade" not in one[1]],
    ids=lambda value: str(value),
)
def test_proved(name: str, kind: str, fields: dict[str, Any]) -> None:
    """What is made in bass clef passes the proof, without a warning but where D5 was asked for, on five ledger lines."""
    own = {"changes": ("1>3", "4>2")} if name == SLIDE and "changes" in fields else moved(fields)
    study = made(kind, name, own)

    assert not isinstance(study, Study) or [] == [found for found in prove(study) if found.note != "D5"]


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_there_on_a_slide(kind: str) -> None:
    """The trombone has every study, and its pages speak of positions, never of valves."""
    study = make(KINDS[kind].request(horn=SLIDE))
    told = [*map(remark_words, study.remarks), *(full_label(strain.label) for strain in study.strains)]
    words = " ".join([study.title, study.aim, *told]).lower()

    assert study.notes
    assert not [word for word in ("valve", "finger", "{") if word in words]


def test_one_position_all_along() -> None:
    """A lip slur on trombone names its position and stays in it, from first to seventh."""
    study = make(KINDS["slurs"].request(horn=SLIDE))

    assert [f"position {n}" for n in range(1, 8)] == [full_label(replace(strain.label, part="")) for strain in study.strains]
    assert list("1234567") == [strain.tube for strain in study.strains]


def test_valves_are_no_positions() -> None:
    """A slide has no valve sets, and the refusal says positions."""
    with pytest.raises(BadRequest, match='position "1-2" is not known; allowed: 1, 2, 3, 4, 5, 6, 7'):
        make(KINDS["slurs"].request(horn=SLIDE, tubes=("1-2",)))


def test_the_first_grade_sounds_with_the_band() -> None:
    """A first-grade trombone reads concert B flat and E flat, which the cornet reads as C and F."""
    trombone, cornet = (make(KINDS["scales"].request(horn=name, grade="1")) for name in (SLIDE, "cornet"))

    assert [["Bb", "Eb"], ["C", "F"]] == [
        list(dict.fromkeys(strain.key.name for strain in study.strains)) for study in (trombone, cornet)
    ]


def test_keys_of_seven_flats_are_not_made_of_five() -> None:
    """Where moving a key would give seven flats, five sharps are written."""
    study = make(KINDS["scales"].request(horn=BASS, grade="6", keys=("all",)))

    assert max(abs(strain.key.fifths) for strain in study.strains) < 7


def spelled(study: Study) -> list[Pitch]:
    """Return the notes of a study."""
    return [event.pitch for strain in study.strains for event in strain.music if isinstance(event, Note)]


@pytest.mark.parametrize("kind", ["flow", "slurs", "low", "intervals", "etude"])
def test_spelling_moves_with_the_notes(kind: str) -> None:
    """Where no key has seven accidentals, the spelling is moved too."""
    treble, bass = (make(KINDS[kind].request(horn=name)) for name in (TREBLE, BASS))

    assert [transpose(pitch, NINTH) for pitch in spelled(treble)] == spelled(bass)
