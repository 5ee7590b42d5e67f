"""Buzz: glides in a box of seconds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.phrase.note import Note, Rest
from generators.phrase.remark import Advice
from generators.phrase.study import Study
from generators.studies.buzz.glides import BUZZ_SHAPES
from generators.studies.buzz.study import BuzzRequest
from generators.studies.catalogue import make
from tests.studies.phrasing import LAWS
from tests.studies.requests import studies

Asked = tuple[BuzzRequest, Study]


@LAWS
@given(studies("buzz"))
def test_exactly_the_seconds(asked: Asked) -> None:
    """Glides and rests together last the seconds asked for, at a beat a second; a minute at the most unless asked."""
    request, study = asked

    assert 60 == study.tempo
    assert request.seconds == pytest.approx(study.playing + study.resting)
    assert request.seconds <= 60 or request.long


@LAWS
@given(studies("buzz"))
def test_free_glides(asked: Asked) -> None:
    """Every strain is drawn free: one glide through all its notes, then a rest of two seconds or more."""
    _, study = asked
    for strain in study.strains:
        *glide, last, rest = strain.music

        assert strain.free
        assert all(isinstance(note, Note) and note.glide for note in glide)
        assert isinstance(last, Note)
        assert not last.glide
        assert isinstance(rest, Rest)
        assert study.seconds(rest.length) >= 2


@LAWS
@given(studies("buzz"))
def test_rows_are_labelled_by_their_seconds(asked: Asked) -> None:
    """The label of a row tells its glide, and the seconds of glide and rest."""
    request, study = asked
    shapes = list(dict.fromkeys(request.shapes)) or list(BUZZ_SHAPES)
    for row, strain in enumerate(study.strains):
        rest = int(strain.music[-1].length * 4)

        assert shapes[row % len(shapes)].capitalize() == strain.label.name
        assert f"{strain.meter.beats - rest} s, rest {rest} s" == strain.label.detail


@given(st.integers(61, 300))
def test_never_past_a_minute_unasked(seconds: int) -> None:
    """More than a minute is refused without `long` and given with it."""
    with pytest.raises(BadRequest, match="past a minute of buzzing; allowed: 10 to 60; for more ask for a long one"):
        make(BuzzRequest(seconds=seconds))

    assert seconds == pytest.approx(_lasts(make(BuzzRequest(seconds=seconds, long=True))))


def _lasts(study: Study) -> float:
    return study.playing + study.resting


@pytest.mark.parametrize("shape", BUZZ_SHAPES)
def test_shapes_are_whole(shape: str) -> None:
    """A shape has as many points in every compass, narrower and narrower, and an aim of its own."""
    points = BUZZ_SHAPES[shape].points

    assert 1 == len({len(row) for row in points})
    assert [max(row) - min(row) for row in points] == sorted((max(row) - min(row) for row in points), reverse=True)
    assert 1 == [other.aim for other in BUZZ_SHAPES.values()].count(BUZZ_SHAPES[shape].aim)


@pytest.mark.parametrize(("shape", "answer"), [("siren", "C4 C5 C4"), ("wave", "E4 G4 D4 G4 C4"), ("fall", "C5 G4 C4 C4")])
def test_written_out(shape: str, answer: str) -> None:
    """The approximate pitches of a few shapes stand here."""
    study = make(BuzzRequest(seconds=10, shapes=(shape,)))

    assert answer.split() == [note.pitch.name for note in study.notes]


def test_by_the_clock() -> None:
    """A tempo is taken note of and not followed: the page says so."""
    study = make(BuzzRequest(tempo=90))

    assert (60, (Advice("A beat is a second here, whatever the tempo asked for."),)) == (study.tempo, study.remarks)
    assert () == make(BuzzRequest(tempo=60)).remarks
