"""Air: one note, and turns around it that widen, soft and slurred."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.phrase.note import Rest
from generators.phrase.remark import Narrowed
from generators.phrase.study import Strain, Study
from generators.studies.air import AIR_TURNS, AirRequest, spread_out
from generators.studies.catalogue import make
from generators.theory.key import all_keys
from generators.theory.pitch import parse_pitch
from tests.studies.phrasing import LAWS, slurs, stretches, whole
from tests.studies.requests import studies

Asked = tuple[AirRequest, Study]
# Half-steps that a turn of each name may go from the middle note, by hand.
WIDE = {"half-step": (1, 1), "step": (1, 2), "third": (3, 4), "fourth": (5, 6), "fifth": (6, 8)}


def middle(strain: Strain) -> int:
    """Return the middle note of a strain."""
    return strain.notes[0].pitch.midi


def widths(strain: Strain) -> list[int]:
    """Return the half-steps of each turn above and below the middle note, the wider of the two."""
    turns = [stretch for stretch in stretches(strain) if len(stretch) > 1]
    return [max(abs(note.pitch.midi - middle(strain)) for note in turn) for turn in turns]


@LAWS
@given(studies("air"))
def test_every_phrase_is_slurred_round_the_middle_note(asked: Asked) -> None:
    """Every phrase begins and ends on the middle note, under one slur; a turn goes above and below it, an arc to one side."""
    request, study = asked
    for strain in study.strains:
        for stretch in stretches(strain):
            pitches = [note.pitch.midi for note in stretch]

            assert whole(stretch) == slurs(stretch)
            assert (middle(strain), middle(strain)) == (pitches[0], pitches[-1])
            sides = {pitch > middle(strain) for pitch in pitches if pitch != middle(strain)}
            assert len(stretch) == 1 or (1 if request.shape == "arcs" else 2) == len(sides)


@LAWS
@given(studies("air"))
def test_turns_widen(asked: Asked) -> None:
    """Within a key no turn is narrower than the one before it."""
    _, study = asked
    turns: list[int] = []
    for strain in study.strains:
        turns += widths(strain)

        assert sorted(turns) == turns
        turns = turns if isinstance(strain.music[-1], Rest) else []


@LAWS
@given(studies("air"))
def test_always_soft(asked: Asked) -> None:
    """No dynamic is louder than p, and nothing is accented."""
    _, study = asked

    assert {"p", "pp"} >= {note.dynamic for note in study.notes if note.dynamic}
    assert {(), ("fermata",)} >= {note.articulations for note in study.notes}


@LAWS
@given(studies("air"))
def test_the_end_is_long_and_strong(asked: Asked) -> None:
    """The last note of a key fills its bar."""
    _, study = asked

    assert 1 == study.strains[-1].notes[-1].length
    assert study.strains[-1].music[-1] == study.strains[-1].notes[-1]


@LAWS
@given(st.integers(30, 240))
def test_as_long_as_asked(seconds: int) -> None:
    """It lasts as long as was asked, within half a line of sixteen beats."""
    study = make(AirRequest(seconds=seconds))

    assert abs(study.playing + study.resting - seconds) <= 8


def test_a_minute_by_itself() -> None:
    """As it comes it lasts about a minute, round G4, from the half-step to the fourth."""
    study = make(AirRequest())

    assert 55 <= study.playing + study.resting <= 65
    assert "G4" == study.strains[0].notes[0].pitch.name
    assert [1, 2, 4, 5] == [width for strain in study.strains for width in widths(strain)]


@pytest.mark.parametrize("widest", AIR_TURNS)
@pytest.mark.parametrize("key", [key.name for key in all_keys()])
def test_widths_are_what_they_are_called(key: str, widest: str) -> None:
    """In every key the last turn is as wide as its name says."""
    study = make(AirRequest(keys=(key,), widest=widest))
    low, high = WIDE[widest]

    assert low <= widths(study.strains[-1])[-1] <= high


@pytest.mark.parametrize("grade", ["1", "2"])
def test_a_beginner_has_notes_of_the_key(grade: str) -> None:
    """In the first grades no note is altered against the key."""
    study = make(AirRequest(grade=grade))

    assert all(n.pitch.alter == s.key.alteration(n.pitch.step) for s in study.strains for n in s.notes)


@pytest.mark.parametrize("note", ["E4", "F#4", "Bb4", "C5"])
def test_the_note_asked_for(note: str) -> None:
    """The turns go round the note asked for, in the plainest key that has it."""
    study = make(AirRequest(note=note))

    assert {note} == {strain.notes[0].pitch.name for strain in study.strains}


def test_written_out() -> None:
    """The first two lines stand here note by note."""
    study = make(AirRequest())

    assert ["G4", "G4", "Ab4", "G4", "F#4", "G4", "G4", "G4", "A4", "G4", "F4", "G4"] == [
        note.pitch.name for note in study.notes[:12]
    ]


def test_narrowed() -> None:
    """A small range takes the widest turns away, and the page says so."""
    study = make(AirRequest(low="E4", high="B4"))

    assert (Narrowed("a fourth", "a third", (parse_pitch("E4"), parse_pitch("B4"))),) == study.remarks
    assert "Air: a note and its neighbours" == study.title


def test_labels() -> None:
    """A strain is told by its key, and in full by the turns on it, each once."""
    study = make(AirRequest(keys=("Bb", "Cm"), concert=True, horn="trumpet", seconds=120))

    assert ["C major", "D minor"] == list(dict.fromkeys(strain.key.pretty for strain in study.strains))
    assert all(strain.label.key == strain.key for strain in study.strains)
    assert {"B♭ major", "C minor"} == {strain.label.concert.pretty for strain in study.strains if strain.label.concert}
    assert ["half-step", "half-step", "step"] == [strain.label.detail for strain in study.strains[:3]]


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        (AirRequest(note="F#4", keys=("C",)), 'note "F#4" is no resting note of C major; choose another'),
        (AirRequest(note="F#4", grade="1"), 'note "F#4" is in no key of the grade; allowed: the notes of C, F'),
        (AirRequest(low="G4", high="Ab4"), "air finds no room for the smallest turn .* would do"),
        (AirRequest(seconds=5), "seconds 5 is out of reach; allowed: 15 to 300"),
        (AirRequest(breath=2), "breath 2 is out of reach; allowed: 5 to 60"),
    ],
)
def test_refused(asked: AirRequest, message: str) -> None:
    """What cannot be had is refused with what can."""
    with pytest.raises(BadRequest, match=message):
        make(asked)


@pytest.mark.parametrize(
    ("count", "answer"),
    [(1, "a"), (2, "a d"), (3, "a b d"), (4, "a b c d"), (6, "a a b c c d"), (8, "a a b b c c d d")],
)
def test_spread_out(count: int, answer: str) -> None:
    """Widths are spread evenly over the lines, the first always the narrowest."""
    assert answer.split() == spread_out(("a", "b", "c", "d"), count)


@pytest.mark.parametrize("grade", ["0", "1"])
def test_a_beginner_turns_in_halves_and_quarters_and_rests_after_every_line(grade: str) -> None:
    """A beginner's air has nothing quicker than quarters, ends every line with a bar of rest and tells which way it turns."""
    every = make(AirRequest(grade=grade, seconds=60)).strains

    assert Fraction(1, 4) == min(note.length for strain in every for note in strain.notes)
    assert all(strain.music[-1] == Rest(Fraction(1)) for strain in every)
    for strain in every:
        moves = [b.pitch.midi - a.pitch.midi for a, b in pairwise(strain.notes)]
        assert ("up" if next(filter(None, moves)) > 0 else "down") == strain.label.part.split()[0]


@pytest.mark.parametrize(("key", "note", "expected"), [("Ebm", "Eb4", "D C D"), ("Am", "A4", "G# F# G#")])
def test_minor_is_raised_both_ways_below_its_tonic(key: str, note: str, expected: str) -> None:
    """A turn that goes to the sixth and home by step has sixth and seventh raised on the way down as on the way up."""
    study = make(AirRequest(keys=(key,), note=note, widest="third", seconds=45))
    widest = next(strain for strain in study.strains if strain.label.detail == "third")

    assert expected in " ".join(n.pitch.name.rstrip("0123456789") for n in widest.notes)
