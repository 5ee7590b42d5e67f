"""Dynamics: counted hairpins, sudden changes, one note a register."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given

from generators.phrase.algebra import length
from generators.phrase.note import Note
from generators.phrase.remark import Fewer
from generators.phrase.study import Study
from generators.studies.catalogue import make
from generators.studies.dynamics import LOUDEST, SOFTEST, DynamicsRequest
from generators.studies.kit.registers import REGISTERS
from generators.theory.pitch import Pitch
from tests.studies.phrasing import LAWS, stretches
from tests.studies.requests import studies

Asked = tuple[DynamicsRequest, Study]
Tone = tuple[Note[Pitch], ...]
RANK = {name: place for place, name in enumerate(("pp", "p", "mp", "mf", "f", "ff"))}


def tones(study: Study) -> list[Tone]:
    """Return the long tones of a study."""
    return [tuple(stretch) for strain in study.strains for stretch in stretches(strain)]


@LAWS
@given(studies("dynamics"))
def test_only_a_sudden_change_is_marked_sudden(asked: Asked) -> None:
    """Every change without a hairpin is marked as sudden, and nothing else is; such a note has no count."""
    _, study = asked
    for tone in tones(study):
        changes = [bool(before) and not before.hairpin for before in (None, *tone[:-1])]
        sudden = kind(tone) == "sudden"

        assert ["sudden" if sudden and change else "" for change in changes] == [note.role for note in tone]
        assert [bool(note.hairpin) for note in tone] == [note.beats > 0 for note in tone]


@LAWS
@given(studies("dynamics"))
def test_labels_tell_key_and_register(asked: Asked) -> None:
    """Strains are told apart by register, those of several keys by key too, in the order asked for."""
    request, study = asked
    registers = dict.fromkeys(request.registers) or REGISTERS
    keys = dict.fromkeys(strain.key for strain in study.strains)

    told = keys if len(keys) > 1 else [None]
    assert {(key, register) for key in told for register in registers} == {
        (strain.label.key, strain.label.part) for strain in study.strains
    }


def kind(tone: Tone) -> str:
    """Return what is done on a tone, from its marks."""
    if not tone[0].hairpin:
        return "sudden"
    return "swell" if tone[0].hairpin == "<" else "fade"


@LAWS
@given(studies("dynamics"))
def test_every_hairpin_is_counted(asked: Asked) -> None:
    """A hairpin has its beats, which are the length of its note, and leads to the next dynamic the way it opens."""
    _, study = asked
    for tone in tones(study):
        for note, following in pairwise(tone):
            if note.hairpin:
                assert note.length * 4 == note.beats
                assert (note.hairpin == "<") == (RANK[following.dynamic] > RANK[note.dynamic])


@LAWS
@given(studies("dynamics"))
def test_counts_fill_the_bars(asked: Asked) -> None:
    """The beats of a tone and of the rest after it fill whole bars; the rest is two beats or more."""
    _, study = asked
    for strain in study.strains:
        rests = [event.length for event in strain.music if not isinstance(event, Note)]

        assert 0 == length(strain.music) % 1
        assert min(rests) >= Fraction(1, 2)
        assert sum(strain.lines) == length(strain.music)


@LAWS
@given(studies("dynamics"))
def test_there_and_back_on_one_note(asked: Asked) -> None:
    """A tone is one pitch, tied; it ends as it began, and in between is the other extreme."""
    _, study = asked
    for tone in tones(study):
        first, other, last = (note.dynamic for note in tone)

        assert 1 == len({note.pitch for note in tone})
        assert [True, True, False] == [note.tie for note in tone]
        assert first == last
        assert {first in SOFTEST, other in SOFTEST} == {True, False}


@LAWS
@given(studies("dynamics"))
def test_what_was_asked(asked: Asked) -> None:
    """The shapes asked for come in order in every register and key, a strain each, sudden changes both ways in one."""
    request, study = asked
    shapes = list(dict.fromkeys(request.shapes)) or ["swell", "fade", "sudden"]
    for place, strain in enumerate(study.strains):
        found, shape = [tuple(stretch) for stretch in stretches(strain)], shapes[place % len(shapes)]

        assert [shape] * (2 if shape == "sudden" else 1) == [kind(tone) for tone in found]
        assert shape == strain.label.name
        starts = [tone[0].dynamic in SOFTEST for tone in found if kind(tone) == "sudden"]
        assert starts in ([], [False, True])


@LAWS
@given(studies("dynamics", registers=("low", "middle", "high")))
def test_registers_rise(asked: Asked) -> None:
    """The middle comes first, then low and high; they lie above one another."""
    _, study = asked
    first = study.strains[0].label.name
    strains = [strain for strain in study.strains if strain.label.name == first]
    for i in range(0, len(strains), 3):
        middle, low, high = (strain.notes[0].pitch.midi for strain in strains[i : i + 3])

        assert low < middle < high


@LAWS
@given(studies("dynamics"))
def test_tones_are_rested_after(asked: Asked) -> None:
    """After every tone of whatever register the rest is as long as the tone, or longer."""
    _, study = asked
    for strain in study.strains:
        heard = [length(stretch) for stretch in stretches(strain)]
        rests = [event.length for event in strain.music if not isinstance(event, Note)]

        assert all(tone <= rest for tone, rest in zip(heard, rests, strict=True))


@LAWS
@given(studies("dynamics", soft="", loud="", grade=""))
def test_only_the_high_tones_are_from_p_to_f(asked: Asked) -> None:
    """High tones beside others go from p to f; middle and low ones go from pp to ff in every shape."""
    request, study = asked
    others = len(set(request.registers) or {"low", "middle", "high"}) > 1
    for strain in study.strains:
        eased = others and strain.label.part == "high"

        assert ({"p", "f"} if eased else {"pp", "ff"}) == {note.dynamic for note in strain.notes}


def test_a_loud_fade_is_had_when_it_is_asked_for() -> None:
    """Who asks for ff fades from it."""
    assert "ff" == make(DynamicsRequest(shapes=("fade",), registers=("middle",), loud="ff")).notes[0].dynamic


def test_it_ends_soft() -> None:
    """The last tone of the usual study ends softly."""
    assert "p" == make(DynamicsRequest()).notes[-1].dynamic


@LAWS
@given(studies("dynamics"))
def test_each_shape_is_told_by_name(asked: Asked) -> None:
    """Where there are several shapes each has its sentence after its name; the pitch is left to a tuner."""
    _, study = asked
    shapes = list(dict.fromkeys(strain.label.name for strain in study.strains))
    told = f"{study.aim} {study.also}"

    assert [len(shapes) > 1] * len(shapes) == [f"{shape.capitalize()}: listen for" in told for shape in shapes]
    assert study.also.endswith("A tuner shows whether the pitch stays.")


@pytest.mark.parametrize(
    ("grade", "dynamics"),
    [("1", {"p", "f"}), ("2", {"p", "f"}), ("3", {"p", "f"}), ("4", {"pp", "p", "f", "ff"}), ("", {"pp", "p", "f", "ff"})],
)
def test_a_beginner_stays_between_p_and_f(grade: str, dynamics: set[str]) -> None:
    """Below grade 4 long tones go from p to f, others on to pp and ff."""
    assert dynamics == {note.dynamic for note in make(DynamicsRequest(grade=grade)).notes}


@pytest.mark.parametrize(
    ("asked", "beats"),
    [
        (DynamicsRequest(), 6),
        (DynamicsRequest(beats=16, breath=40), 16),
        (DynamicsRequest(beats=16), 6),
        (DynamicsRequest(grade="1"), 4),
        (DynamicsRequest(breath=5), 4),
        (DynamicsRequest(tempo=30), 2),
    ],
)
def test_beats_fit_the_breath(asked: DynamicsRequest, beats: int) -> None:
    """Hairpins shorten to the breath, not below four beats while a quicker tempo would do."""
    study = make(asked)

    fewer = Fewer("beats to each hairpin", beats, asked.beats, breath=study.limits.breath)
    assert beats == study.notes[0].beats
    assert study.remarks == (() if beats == asked.beats else (fewer,))


def test_written_out() -> None:
    """The swell of the middle register stands here in full, where it is all there is."""
    tone = tones(make(DynamicsRequest(registers=("middle",), shapes=("swell",))))[0]

    assert [("G4", 6, "pp", "<"), ("G4", 6, "ff", ">"), ("G4", 2, "pp", "")] == [
        (note.pitch.name, note.length * 4, note.dynamic, note.hairpin) for note in tone
    ]


def test_extremes_are_extremes() -> None:
    """No dynamic is both soft and loud."""
    assert set() == set(SOFTEST) & set(LOUDEST)
