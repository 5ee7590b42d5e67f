"""Range: rungs by half-steps, reached and left by what lies under them, with as long a rest, never past the limit."""

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given

from generators.errors import BadRequest
from generators.phrase.algebra import length
from generators.phrase.note import Note
from generators.phrase.remark import Advice
from generators.phrase.study import Study
from generators.studies.catalogue import make
from generators.studies.range import MOST_RUNGS, RangeRequest
from generators.theory.pitch import parse_pitch
from tests.studies.phrasing import LAWS
from tests.studies.requests import studies

Asked = tuple[Any, Study]


def test_a_ladder_is_every_half_step_from_its_first_rung_to_the_limit() -> None:
    """From G5 to C6 there are six rungs, each the highest and longest note of its strain."""
    study = make(RangeRequest(from_="G5", high="C6"))

    assert ["G5", "Ab5", "A5", "Bb5", "B5", "C6"] == [rung.name for rung in study.rungs]
    assert list(study.rungs) == [max(note.pitch for note in strain.notes) for strain in study.strains]


@LAWS
@given(studies("range"))
def test_rungs_rise_and_end_at_the_top(asked: Asked) -> None:
    """No rung is past the limit; a player without a learner's keys climbs by half-steps, a learner by steps of his key."""
    _, study = asked
    rungs = [rung.midi for rung in study.rungs]

    assert 1 <= len(rungs) <= MOST_RUNGS
    assert rungs[-1] <= study.limits.high.midi
    assert {1} >= {b - a for a, b in pairwise(rungs)} or (study.limits.keys and {1, 2} >= {b - a for a, b in pairwise(rungs)})


@LAWS
@given(studies("range"))
def test_a_rung_is_soft_and_rested(asked: Asked) -> None:
    """A rung begins softly under one slur, comes from a fourth below, is held for three beats, left and rested as long."""
    _, study = asked
    for rung, strain in zip(study.rungs, study.strains, strict=True):
        played = [event for event in strain.music if isinstance(event, Note)]
        silent = tuple(event for event in strain.music if not isinstance(event, Note))
        held = [note for note in played if note.pitch == rung]

        assert "p" == played[0].dynamic
        assert 3 == rung.place - played[0].pitch.place
        assert asked[0].approach != "steps" or {1, 2} >= {b.pitch.midi - a.pitch.midi for a, b in pairwise(played[:4])}
        assert Fraction(3, 4) == sum((note.length for note in held), Fraction(0))
        assert played[-1].pitch.midi < rung.midi
        assert length(silent) >= length(tuple(played))


@LAWS
@given(studies("range"))
def test_cautions_are_printed(asked: Asked) -> None:
    """The page says when to stop, and whose word comes first."""
    (advice,) = (remark for remark in asked[1].remarks if isinstance(remark, Advice))

    assert all(word in advice.text for word in ("hurts", "Rest", "teacher", "doctor"))


@pytest.mark.parametrize("first", ["C6", "C4", "H5"])
def test_a_first_rung_out_of_reach_is_refused(first: str) -> None:
    """A first rung over the limit, too far under it, or that is no note, is refused; what is allowed can be had."""
    with pytest.raises(BadRequest) as refused:
        make(RangeRequest(from_=first, high="G5"))

    assert first in str(refused.value)
    assert parse_pitch("G5") == make(RangeRequest(from_="G4", high="G5")).rungs[-1]
