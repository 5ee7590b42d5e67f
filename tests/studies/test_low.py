"""Low: descents by half-steps to the bottom of the horn, and below it only when asked."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given

from generators.brass.fingering import usual
from generators.brass.horn import HORNS, horn
from generators.brass.tube import partial_midi
from generators.errors import BadRequest
from generators.phrase.label import Label
from generators.phrase.note import Note
from generators.phrase.remark import Narrowed
from generators.phrase.study import Strain, Study
from generators.studies.catalogue import make
from generators.studies.kit.fit import NoFit
from generators.studies.low import LOW_FORMS, LowRequest
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
    return [strain for strain in study.strains if strain.label.name != "pedal"]


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
    """Below the lowest tube a note has a fingering: its own first partial, or in the gap the octave's, marked as lipped."""
    request, study = asked
    # As a horn in treble clef reads it: the low brass lies two octaves and a step lower.
    down = {"treble": 0, "bass": -14}[horn(request.horn).clef.name]
    for note in study.notes:
        midi, way = note.pitch.midi, usual(note.pitch, horn(request.horn))
        gap = way is not None and way.kind == "lipped"

        assert (midi < F_SHARP + down) == bool(note.valves)
        assert ("lipped" if gap else "") == note.role
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
    assert ["lipped"] * 5 + [""] == [note.role for note in below]


def test_every_strain_returns_to_comfort() -> None:
    """After each pedal the octave above sounds again."""
    study = make(LowRequest(pedals=True))
    below = [strain for strain in study.strains if strain not in descent(study)]

    assert [[0, -12, 0]] * 6 == [heights(strain) for strain in below]


@pytest.mark.parametrize(("high", "form"), [("C5", "an octave"), ("E4", "a fifth"), ("Bb4", "an octave"), ("C4", "a third")])
def test_narrowed(high: str, form: str) -> None:
    """A lower top narrows the descent from an octave to a fifth to a third, and the page says so."""
    study = make(LowRequest(low="F#3", high=high))

    limits = (study.limits.low, study.limits.high)
    narrowed = [remark for remark in study.remarks if isinstance(remark, Narrowed)]

    assert ("Low", f"{form} down") == (study.name, study.what)
    assert ([Narrowed("an octave", form, limits)] if form != next(iter(LOW_FORMS)) else []) == narrowed


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
    """A range of a tone is refused with limits that would do, and they do."""
    request = LowRequest(low="G4", high="A4")
    with pytest.raises(NoFit) as told:
        make(request)
    cure = {field: values[0] for field, values in told.value.refusal.would_do}

    assert cure
    assert set(cure) <= {"low", "high"}
    assert make(replace(request, **cure)).strains  # type: ignore[arg-type]


def test_pedals_past_the_top() -> None:
    """Pedals whose octave lies past the player's top are refused with the top that would do."""
    with pytest.raises(NoFit) as told:
        make(LowRequest(pedals=True, high="C4"))

    assert "pedals" == told.value.refusal.what
    assert (("high", ("F4",)),) == told.value.refusal.would_do


def test_pedals_say_so() -> None:
    """With pedals the page names what follows, cares for the lips where there is room, and labels each drop by its note."""
    study = make(LowRequest(pedals=True))
    lowest = [min(note.pitch for note in strain.notes) for strain in study.strains[-6:]]

    assert "an octave down, then the pedals" == study.what
    assert "Stop if the lips feel numb." == study.also
    assert [Label(name="pedal", note=pitch) for pitch in lowest] == [strain.label for strain in study.strains[-6:]]


@pytest.mark.parametrize(("grade", "allowed"), [("1", "from grade 4"), ("3", "from grade 4")])
def test_pedals_wait(grade: str, allowed: str) -> None:
    """A young grade has no pedals."""
    with pytest.raises(BadRequest) as told:
        make(LowRequest(pedals=True, grade=grade))

    assert ("pedals", allowed) == (told.value.refusal.what, told.value.refusal.allowed)


def test_notes_only() -> None:
    """A strain is notes and one closing rest."""
    for strain in make(LowRequest(pedals=True)).strains:
        assert all(isinstance(event, Note) for event in strain.music[:-1])
