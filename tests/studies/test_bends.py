"""Bends: a half-step down fingered, then on one fingering and back."""

import pytest
from hypothesis import given

from generators.brass.fingering import usual
from generators.brass.horn import HORNS, horn
from generators.errors import BadRequest
from generators.phrase.label import Label
from generators.phrase.remark import Fewer
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
def test_fingered_then_bent_and_back(asked: Asked) -> None:
    """Two breaths, each the note, the half-step below it, and the note again, longer; both under one slur."""
    _, study = asked
    for strain in study.strains:
        fingered, bent = stretches(strain)

        assert [0, -1, 0] * 2 == heights(strain)
        assert [whole(fingered), whole(bent)] == [slurs(fingered), slurs(bent)]
        assert bent[-1].length > bent[0].length
        assert fingered[-1].length > fingered[0].length


@LAWS
@given(studies("bends"))
def test_one_fingering_glides_and_the_role(asked: Asked) -> None:
    """Both fingerings stand; then the bend prints one fingering, on its first note, and two glides round the bent note."""
    request, study = asked
    for strain in study.strains:
        own, lower = (usual(note.pitch, horn(request.horn)) for note in strain.notes[:2])

        assert own
        assert lower
        assert [own.valves, lower.valves, "", own.valves, "", ""] == [note.valves for note in strain.notes]
        assert [False, False, False, True, True, False] == [note.glide for note in strain.notes]
        assert ["", "", "", "", "bent", ""] == [note.role for note in strain.notes]


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
    within = (study.limits.low, study.limits.high)
    assert study.remarks == (() if count == len(tops) else (Fewer("notes", len(tops), count, within=within),))


def test_called_by_its_note() -> None:
    """A strain is told by the note that is bent, a study by its notes, or how many they are where they are many."""
    study = make(BendsRequest(notes=("G4", "F#4")))

    assert [Label(name="bends on", note=parse_pitch(note), detail="fingered and bent") for note in ("G4", "F#4")] == [
        strain.label for strain in study.strains
    ]
    assert ["Bends: G, F♯", "Bends: 9 notes"] == [study.title, make(BendsRequest(count=9)).title]


@pytest.mark.parametrize(
    ("note", "answer"), [("G4", "F#4"), ("F4", "E4"), ("C5", "B4"), ("Bb4", "A4"), ("F#4", "F4"), ("C#5", "C5"), ("Db5", "C5")]
)
def test_below(note: str, answer: str) -> None:
    """The bent note is spelled as a lower neighbour, plainly where that would be awkward."""
    assert answer == below(parse_pitch(note)).name


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        (BendsRequest(notes=("A5",)), 'notes "A5" is no note to bend; allowed: E4 to G5'),
        (
            BendsRequest(notes=("G4",), low="G4", high="G5"),
            'notes "G4" and the half-step below it do not lie .* low F#4 would do',
        ),
        (BendsRequest(high="D4"), "bends finds no note from E4 to G5 .* would do"),
        (BendsRequest(count=17), "count 17 is out of reach; allowed: 1 to 16"),
    ],
)
def test_refused(asked: BendsRequest, message: str) -> None:
    """What cannot be had is refused with what can."""
    with pytest.raises(BadRequest, match=message):
        make(asked)
