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
    return [strain for strain in study.strains if not strain.label.name]


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
    """Beside each octave drop stands its fingering: its own first partial, or where none helps the octave's, lipped."""
    request, study = asked
    instrument = horn(request.horn)
    # As a horn in treble clef reads it: the low brass lies two octaves and a step lower.
    down = {"treble": 0, "bass": -14}[instrument.clef.name]
    for strain in study.strains:
        midi, label = min(note.pitch.midi for note in strain.notes), strain.label
        way = usual(min(note.pitch for note in strain.notes), instrument)

        assert (midi < F_SHARP + down) == bool(label.name)
        if label.name not in ("", "bend"):
            assert way
            assert (way.kind == "lipped") == (label.name == "lipped")
            assert label.part.split()[-1] in (way.valves, "open")
        if label.name == "lipped":
            assert way
            assert midi - down in GAP
            assert any(midi + 12 == partial_midi(instrument, way.valves, n) for n in (2, 3))
        elif midi - down in PEDALS:
            assert way
            assert midi == partial_midi(instrument, way.valves, 1) or instrument.valves == 4


@LAWS
@given(studies("low", pedals=True))
def test_a_bend_leads_to_the_lipped_notes(asked: Asked) -> None:
    """Before lipped notes, and only there, the lowest note above them is bent on its own fingering to the first, then two."""
    request, study = asked
    bends = [strain for strain in study.strains if strain.label.name == "bend"]
    names = [strain.label.name for strain in study.strains if strain.label.name]
    lowest = horn(request.horn).lowest

    assert ["bend"] * ("lipped" in names) == [name for name in names if name == "bend"] == names[: len(bends)]
    for strain in bends:
        own = [note for note in strain.notes if note.pitch == lowest]
        assert [0, -1, 0, 0, -1, -2, -1, 0][: 3 if names.count("lipped") == 1 else 8] == heights(strain)
        assert [not note.breath for note in strain.notes] == [note.glide for note in strain.notes]
        assert {usual(lowest, horn(request.horn)).valves} == {note.valves for note in own}  # type: ignore[union-attr]


@LAWS
@given(studies("low", pedals=True))
def test_a_label_tells_the_fingering_of_its_line(asked: Asked) -> None:
    """What is bent or lipped has its fingering in its label alone, where all of it has the same."""
    request, study = asked
    instrument = horn(request.horn)
    for strain in study.strains:
        sets = {way.valves for note in strain.notes if (way := usual(note.pitch, instrument))}

        assert strain.held == bool(strain.label.part and (strain.label.name == "bend" or len(sets) == 1))
        assert not strain.held or strain.label.part.split()[-1] in (*instrument.resonator.sets, "open")


@pytest.mark.parametrize("name", HORNS)
def test_reaches_the_bottom(name: str) -> None:
    """Every horn as it comes goes down seven half-steps to its lowest tube, on which the last strain settles."""
    study = make(LowRequest(horn=name))

    lowest = {"treble": "F#3", "bass": "E2"}[horn(name).clef.name]
    bottom = parse_pitch(lowest).midi

    assert list(range(bottom + 6, bottom - 1, -1)) == [tonic(strain) for strain in study.strains]
    assert lowest == min(note.pitch for note in study.notes).name


def test_pedals_written_out() -> None:
    """On three valves a bend of F#3 leads to the pedals from F3 to C3, the gap fingered like the octave above, C3 open."""
    bend, *below = [strain.label for strain in make(LowRequest(pedals=True)).strains if strain.label.note]

    assert Label(name="bend", note=parse_pitch("F#3"), part="valves 1-2-3") == bend
    assert ["F3", "E3", "Eb3", "D3", "Db3", "C3"] == [label.note.name for label in below if label.note]
    assert ["valve 1", "valves 1-2", "valves 2-3", "valves 1-3", "valves 1-2-3", "open"] == [label.part for label in below]
    assert ["lipped"] * 5 + ["pedal"] == [label.name for label in below]


def test_every_strain_returns_to_comfort() -> None:
    """After each pedal the octave above sounds again."""
    study = make(LowRequest(pedals=True))
    _, *below = [strain for strain in study.strains if strain not in descent(study)]

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
    assert lowest == [strain.label.note for strain in study.strains[-6:]]
    assert all(strain.label.name and strain.label.part for strain in study.strains[-6:])


@pytest.mark.parametrize(("grade", "allowed"), [("1", "from grade 4"), ("3", "from grade 4")])
def test_pedals_wait(grade: str, allowed: str) -> None:
    """A young grade has no pedals."""
    with pytest.raises(BadRequest) as told:
        make(LowRequest(pedals=True, grade=grade))

    assert ("pedals", allowed) == (told.value.refusal.what, told.value.refusal.allowed)


def test_notes_only() -> None:
    """A strain is notes and one closing rest; between two bends there is a bar of rest."""
    for strain in make(LowRequest(pedals=True)).strains:
        between = [event.length for event in strain.music[:-1] if not isinstance(event, Note)]

        assert ([1] if strain.label.name == "bend" else []) == between
