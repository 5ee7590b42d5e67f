"""The parts of a class as another program reads them: music21 moves each to sounding pitch, and all of them agree.

Nothing of ours is asked but for the files: a part's notes are those of the first, the same octaves away all through a study.
"""

from dataclasses import replace
from fractions import Fraction
from typing import Any
from xml.etree.ElementTree import fromstring

import pytest
from hypothesis import given, settings
from music21 import converter, stream

from generators.band.plan import plan_class
from generators.band.request import ClassRequest
from generators.brass.grade import FIRST_GRADES
from generators.errors import BadRequest
from generators.jobs.compose import compose
from generators.jobs.render import render
from tests.band.bands import DEMO, FIRST_YEAR, any_bands, band, player

MIXED = band(*map(player, ("cornet", "tenor-horn", "trombone", "euphonium-bass-clef", "eb-bass")), studies=("air", "etude"))
GROWN = band(player("trumpet", ""), player("soprano-cornet", ""), player("trombone", ""), concert_key="Eb", minutes=20)


def score_of(asked: ClassRequest) -> stream.Score:
    """Return the score of a class as music21 reads it, at sounding pitch."""
    found: Any = converter.parse(render(compose(asked), "musicxml").decode(), format="musicxml")
    return found.toSoundingPitch()


def heard(part: Any) -> list[tuple[Fraction, Fraction, int]]:
    """Return where each note begins, how long it is and how high it sounds."""
    return [(Fraction(note.offset), Fraction(note.quarterLength), note.pitch.midi) for note in part.flatten().notes]


def whole(asked: ClassRequest) -> ClassRequest | None:
    """Return the class if it can be had and everyone plays all of it, else nothing."""
    try:
        plan = plan_class(asked)
    except BadRequest:
        return None
    return asked if all(item.shared.joined == len(plan.reading) for item in plan.items) else None


def agree(asked: ClassRequest) -> None:
    """Check that all parts of a score agree note for note, whole octaves apart and constant in each study."""
    first, *others = score_of(asked).parts
    own = heard(first)
    starts = [item.shared.study for item in plan_class(asked).items]
    counts = [len([note for strain in study.strains for note in strain.notes]) for study in starts]
    for part in others:
        their = heard(part)
        assert [(start, length) for start, length, _ in own] == [(start, length) for start, length, _ in their]
        away = [one - other for (_, _, one), (_, _, other) in zip(own, their, strict=True)]
        assert all(step % 12 == 0 for step in away)
        assert len(set(away)) <= len(counts)


OLDER = replace(DEMO, players=tuple(one for one in DEMO.players if one.grade not in FIRST_GRADES))


@pytest.mark.parametrize("asked", [OLDER, FIRST_YEAR, GROWN], ids=["demo", "first year", "grown"])
def test_parts_agree_note_for_note(asked: ClassRequest) -> None:
    """Every note of every part sounds with the first part's, in whole octaves, as long and at the same time."""
    agree(asked)


@settings(max_examples=2)
@given(any_bands)
def test_parts_of_any_class_agree(asked: ClassRequest) -> None:
    """So it is in any class in which everyone plays all."""
    if whole(asked):
        agree(asked)


def test_a_simpler_line_keeps_the_rhythm() -> None:
    """In a class of horns in B flat and E flat those who do not reach all play in the rhythm of the others."""
    first, *others = score_of(MIXED).parts

    assert all(
        [(start, length) for start, length, _ in heard(first)] == [(start, length) for start, length, _ in heard(part)]
        for part in others
    )


def test_the_score_has_a_part_for_every_player() -> None:
    """The parts are called by chair, and each has the transposition of its horn."""
    root = fromstring(render(compose(DEMO), "musicxml"))  # noqa: S314 - our own file
    names = [name.text for name in root.iterfind("part-list/score-part/part-name")]
    away = [part.findtext("measure/attributes/transpose/chromatic") for part in root.iterfind("part")]

    assert [one.name for one in DEMO.players] == names
    assert {"solo horn": "-9", "soprano cornet": "3", "guest trumpet": "-2"} == {
        name: step for name, step in zip(names, away, strict=True) if name in ("solo horn", "soprano cornet", "guest trumpet")
    }


def test_a_part_is_the_same_alone_and_in_the_score() -> None:
    """A player's own file has the notes of his part in the score."""
    alone: Any = converter.parse(render(compose(FIRST_YEAR_SECOND), "musicxml").decode(), format="musicxml")

    assert heard(score_of(FIRST_YEAR).parts[1]) == heard(alone.toSoundingPitch().parts[0])


def test_midi_has_a_track_for_every_player() -> None:
    """The MIDI score sounds what the MusicXML score sounds."""
    found: Any = converter.parse(render(compose(FIRST_YEAR), "midi"), format="midi")

    assert len(FIRST_YEAR.players) == len(found.parts)


FIRST_YEAR_SECOND = ClassRequest(players=FIRST_YEAR.players, part=2)
