"""Low: descents by half-steps to the bottom of the horn, and below it only when asked."""

from itertools import pairwise

import pytest
from hypothesis import given

from generators.brass.fingering import usual
from generators.brass.horn import HORNS, horn
from generators.brass.tube import partial_midi
from generators.errors import BadRequest
from generators.phrase.note import Note
from generators.phrase.study import Strain, Study
from generators.studies.catalogue import make
from generators.studies.low import FORMS, LowRequest
from generators.theory.pitch import parse_pitch
from tests.studies.phrasing import LAWS, heights, slurs, stretches, whole
from tests.studies.requests import studies

Asked = tuple[LowRequest, Study]
F_SHARP, GAP, PEDALS = 54, range(49, 54), range(36, 49)


def tonic(strain: Strain) -> int:
    """Return the lowest note of a strain."""
    return min(note.pitch.midi for note in strain.notes)


def descent(study: Study) -> list[Strain]:
    """Return the strains above the pedals."""
    return [strain for strain in study.strains if not strain.label.startswith("pedal")]


@LAWS
@given(studies("low"))
def test_same_descent_lower_and_lower(asked: Asked) -> None:
    """The strains above the pedals are one line; where no keys are asked for its tonics only fall."""
    request, study = asked
    tonics = [tonic(strain) for strain in descent(study)]

    assert len({tuple(heights(strain)) for strain in descent(study) if strain.key.mode == "major"}) <= 1
    assert request.keys or all(a > b for a, b in pairwise(tonics))
    assert request.keys or request.grade or all(a == b + 1 for a, b in pairwise(tonics))


@LAWS
@given(studies("low"))
def test_the_low_note_is_the_tonic_and_long(asked: Asked) -> None:
    """The descent settles on its tonic for a whole bar, breathes, and comes back to where it began."""
    _, study = asked
    for strain in descent(study):
        lowest = [note for note in strain.notes if note.pitch.midi == tonic(strain)]

        assert strain.key.tonic == lowest[0].pitch.name[:-1]
        assert (1, True) == (lowest[0].length, lowest[0].breath)
        assert strain.notes[0].pitch == strain.notes[-1].pitch
        assert 1 == strain.notes[-1].length


@LAWS
@given(studies("low"))
def test_one_slur_a_phrase(asked: Asked) -> None:
    """From breath to breath all is under one slur."""
    _, study = asked
    for strain in study.strains:
        for stretch in stretches(strain):
            assert whole(stretch) == slurs(stretch)


@LAWS
@given(studies("low"))
def test_pedals_only_when_asked(asked: Asked) -> None:
    """No note lies below the horn's lowest unless pedals were asked for; the depth is never passed."""
    request, study = asked
    lowest = min(note.pitch.midi for note in study.notes)

    assert request.pedals or lowest >= horn(request.horn).low.midi
    assert study.limits.low.midi <= lowest


@LAWS
@given(studies("low", pedals=True))
def test_fingered_below(asked: Asked) -> None:
    """Below the lowest tube every note carries a fingering: its own first partial, or the octave's, with the word lip."""
    request, study = asked
    # As a horn in treble clef reads it: the low brass lies two octaves and a step lower.
    down = {"treble": 0, "bass": -14}[horn(request.horn).clef.name]
    for note in study.notes:
        midi, way = note.pitch.midi, usual(note.pitch, horn(request.horn))
        gap = way is not None and way.kind == "lipped"

        assert (midi < F_SHARP + down) == bool(note.valves)
        assert ("lip" if gap else "") == note.text
        if gap:
            assert midi - down in GAP
            assert any(midi + 12 == partial_midi(horn(request.horn), note.valves, n) for n in (2, 3))
        elif midi - down in PEDALS:
            assert midi == partial_midi(horn(request.horn), note.valves, 1) or horn(request.horn).valves == 4


@pytest.mark.parametrize("name", HORNS)
def test_reaches_the_bottom(name: str) -> None:
    """Every horn as it comes goes down seven half-steps to its lowest tube, on which the last strain settles."""
    study = make(LowRequest(horn=name))

    lowest = {"treble": "F#3", "bass": "E2"}[horn(name).clef.name]
    bottom = parse_pitch(lowest).midi

    assert list(range(bottom + 6, bottom - 1, -1)) == [tonic(strain) for strain in study.strains]
    assert lowest == min(note.pitch for note in study.notes).name


def test_pedals_written_out() -> None:
    """On three valves the pedals fall from F3 to C3, the gap fingered like the octave above, C3 open."""
    study = make(LowRequest(pedals=True))
    below = [note for note in study.notes if note.pitch.midi < F_SHARP]

    assert ["F3", "E3", "Eb3", "D3", "Db3", "C3"] == [note.pitch.name for note in below]
    assert ["1", "1-2", "2-3", "1-3", "1-2-3", "0"] == [note.valves for note in below]
    assert ["lip"] * 5 + [""] == [note.text for note in below]


def test_every_strain_returns_to_comfort() -> None:
    """After each pedal the octave above sounds again."""
    study = make(LowRequest(pedals=True))
    below = [strain for strain in study.strains if strain not in descent(study)]

    assert [[0, -12, 0]] * 6 == [heights(strain) for strain in below]


@pytest.mark.parametrize(("high", "form"), [("C5", "an octave"), ("E4", "a fifth"), ("Bb4", "an octave"), ("C4", "a third")])
def test_narrowed(high: str, form: str) -> None:
    """A lower top narrows the descent from an octave to a fifth to a third, and the page says so."""
    study = make(LowRequest(low="F#3", high=high))

    assert study.title == f"Low: {form} down"
    assert (form != next(iter(FORMS))) == any(remark.startswith("Narrowed") for remark in study.remarks)


@pytest.mark.parametrize("depth", ["F#3", "G3", "Bb3", "D4"])
def test_depth(depth: str) -> None:
    """The descent ends exactly at the depth asked for."""
    study = make(LowRequest(depth=depth))

    assert depth == min(note.pitch for note in study.notes).name


def test_keys_as_given() -> None:
    """Keys asked for come in their order, each on its lowest tonic."""
    study = make(LowRequest(keys=("F", "Gm", "F#m")))

    assert ["F4", "G3", "F#3"] == [min(note.pitch for note in strain.notes).name for strain in study.strains]


def test_too_narrow() -> None:
    """A range of a tone is refused with limits that would do."""
    with pytest.raises(BadRequest, match=r"not even a descent of a third .*(low|high) .* would do"):
        make(LowRequest(low="G4", high="A4"))


def test_pedals_past_the_top() -> None:
    """Pedals whose octave lies past the player's top are refused with the top that would do."""
    with pytest.raises(BadRequest, match=r"F4, an octave above the first, past C4; .*high F4 would do"):
        make(LowRequest(pedals=True, high="C4"))


def test_notes_only() -> None:
    """A strain is notes and one closing rest."""
    for strain in make(LowRequest(pedals=True)).strains:
        assert all(isinstance(event, Note) for event in strain.music[:-1])
