"""Musical sense, over every study that can be had: breath, dynamics, hairpins, leaps, and words for the page."""

from fractions import Fraction
from itertools import pairwise

import pytest

from generators.phrase.algebra import length
from generators.phrase.note import Note
from generators.phrase.wording import head_label, remark_words
from generators.studies.catalogue import PACKET
from generators.studies.slurs.paths import SLUR_PATHS
from tests.studies.phrasing import stretches, under_slur
from tests.studies.requests import drawn

each_kind = pytest.mark.parametrize("kind", PACKET)


@each_kind
def test_breath_after_a_long_note(kind: str) -> None:
    """A breath is taken only after a note of a quarter or more, and never inside a slur."""
    for _, study in drawn(kind):
        for strain in study.strains:
            for note, under in zip(strain.notes, under_slur(strain.notes), strict=True):
                assert not note.breath or (note.length >= Fraction(1, 4) and not under)


@each_kind
def test_no_breath_before_a_leading_note_resolves(kind: str) -> None:
    """No breath parts a raised seventh, or the seventh of a major key, from the tonic it leads to, but at a half close."""
    for _, study in drawn(kind):
        for strain in study.strains:
            for a, b in pairwise(strain.notes):
                leads = b.pitch.midi - a.pitch.midi == 1 and b.pitch.name[:-1] == strain.key.tonic

                assert not (a.breath and leads) or a.length >= strain.meter.bar or strain.tube or kind == "entrances"


@each_kind
def test_dynamics(kind: str) -> None:
    """Every strain starts from a dynamic or from silence, and its last hairpin ends."""
    for _, study in drawn(kind):
        for strain in study.strains:
            pins = [note.hairpin or note.dynamic for note in strain.notes if note.hairpin or note.dynamic]

            assert strain.notes[0].dynamic or strain.notes[0].hairpin == "o<"
            assert not pins or pins[-1] not in ("<", ">")


@each_kind
def test_no_leap_past_an_octave(kind: str) -> None:
    """Inside a phrase nothing leaps further than an octave, but a lip slur on a path of the player's own."""
    for request, study in drawn(kind):
        own = kind == "slurs" and request.path not in SLUR_PATHS
        for strain in study.strains:
            for stretch in stretches(strain):
                leaps = [abs(b.pitch.midi - a.pitch.midi) for a, b in pairwise(stretch)]

                assert own or max(leaps, default=0) <= 12


@each_kind
def test_no_slur_joins_a_note_to_itself(kind: str) -> None:
    """Under a slur no note is followed by the same once more, which would read as a tie; a tie is a tie."""
    for _, study in drawn(kind):
        for strain in study.strains:
            for (a, b), under in zip(pairwise(strain.notes), under_slur(strain.notes), strict=False):
                assert not (under and a.pitch == b.pitch) or a.tie


@each_kind
def test_words(kind: str) -> None:
    """Every study has a name, an aim that begins with Listen, a label for every strain, and remarks in sentences."""
    for _, study in drawn(kind):
        assert study.kind == kind
        assert study.name
        assert study.aim.startswith("Listen")
        assert study.aim.endswith(".")
        assert not study.also or study.also.endswith(".")
        assert all(head_label(strain.label) for strain in study.strains)
        assert all(remark_words(remark).endswith(".") for remark in study.remarks)


@pytest.mark.parametrize("kind", [kind for kind in PACKET if kind != "etude"])
def test_rest_is_written(kind: str) -> None:
    """Every strain but a tune's holds a bar of rest or more, whole bars throughout, and no note after its last long one."""
    for _, study in drawn(kind):
        for strain in study.strains:
            rests = length(tuple(e for e in strain.music if not isinstance(e, Note)))

            assert rests >= strain.meter.bar
            assert 0 == length(strain.music) % strain.meter.bar
