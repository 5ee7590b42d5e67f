"""Bends: down a half-step on one fingering and back, then fingered."""

import pytest
from hypothesis import given

from generators.brass.fingering import usual
from generators.brass.horn import HORNS, horn
from generators.errors import BadRequest
from generators.phrase.study import Study
from generators.studies.bends import BendsRequest, below
from generators.studies.catalogue import make
from generators.theory.pitch import parse_pitch
from tests.studies.phrasing import LAWS, heights, slurs, stretches, whole
from tests.studies.requests import studies

Asked = tuple[BendsRequest, Study]
LOWEST, HIGHEST = 64, 79


@LAWS
@given(studies("bends"))
def test_bent_and_back_then_fingered(asked: Asked) -> None:
    """Two breaths, each the note, the half-step below it, and the note again, longer; both under one slur."""
    _, study = asked
    for strain in study.strains:
        bent, fingered = stretches(strain)

        assert [0, -1, 0] * 2 == heights(strain)
        assert [whole(bent), whole(fingered)] == [slurs(bent), slurs(fingered)]
        assert bent[-1].length > bent[0].length
        assert fingered[-1].length > fingered[0].length


@LAWS
@given(studies("bends"))
def test_one_fingering_glides_and_the_word(asked: Asked) -> None:
    """The bend prints one fingering, on its first note, two glides and the word; then both fingerings stand."""
    request, study = asked
    for strain in study.strains:
        own, lower = (usual(note.pitch, horn(request.horn)) for note in strain.notes[:2])

        assert own
        assert lower
        assert [own.valves, "", "", own.valves, lower.valves, ""] == [note.valves for note in strain.notes]
        assert [True, True, False, False, False, False] == [note.glide for note in strain.notes]
        assert ["", "bend", "", "", "", ""] == [note.text for note in strain.notes]


@LAWS
@given(studies("bends"))
def test_middle_notes_only(asked: Asked) -> None:
    """Every note that is bent lies between E4 and G5, in bass clef between D3 and F4."""
    _, study = asked
    down = {"treble": 0, "bass": -14}[horn(study.horn).clef.name]

    assert all(LOWEST <= strain.notes[0].pitch.midi - down <= HIGHEST for strain in study.strains)


@LAWS
@given(studies("bends", notes=(), concert=False))
def test_keys_bend_their_chord(asked: Asked) -> None:
    """With keys there is a strain for each of them on its tonic, or on another note of its chord."""
    request, study = asked
    if request.keys and request.keys != ("all",):
        assert list(request.keys) == [strain.key.name for strain in study.strains]
        assert all(s.notes[0].pitch in [s.key.degree(i, o) for i in (0, 2, 4) for o in (2, 3, 4, 5)] for s in study.strains)


@pytest.mark.parametrize("name", HORNS)
@pytest.mark.parametrize("count", [1, 4, 9, 16])
def test_half_steps_down(name: str, count: int) -> None:
    """Without keys the notes fall by half-steps, as many as asked for where the horn has them."""
    study = make(BendsRequest(horn=name, count=count))
    tops = [strain.notes[0].pitch.midi for strain in study.strains]

    assert list(range(tops[0], tops[0] - len(tops), -1)) == tops
    assert count == len(tops) or study.remarks


@pytest.mark.parametrize(
    ("note", "answer"), [("G4", "F#4"), ("F4", "E4"), ("C5", "B4"), ("Bb4", "A4"), ("F#4", "F4"), ("C#5", "C5"), ("Db5", "C5")]
)
def test_below(note: str, answer: str) -> None:
    """The bent note is spelled as a lower neighbour, plainly where that would be awkward."""
    assert answer == below(parse_pitch(note)).name


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        (BendsRequest(notes=("A5",)), "note A5 is none to bend; allowed: E4 to G5"),
        (BendsRequest(notes=("G4",), low="G4", high="G5"), "G4 and the half-step below it do not lie .* low F#4 would do"),
        (BendsRequest(high="D4"), "no note from E4 to G5 .* would do"),
        (BendsRequest(count=17), "count 17 is out of reach; allowed: 1 to 16"),
    ],
)
def test_refused(asked: BendsRequest, message: str) -> None:
    """What cannot be had is refused with what can."""
    with pytest.raises(BadRequest, match=message):
        make(asked)
