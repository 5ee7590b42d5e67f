"""First packets by limits alone: all notes that were named, two pages for few notes, easy things first, short waits."""

import pytest

from generators.jobs.compose import compose
from generators.phrase.algebra import length
from generators.phrase.note import Rest
from generators.phrase.study import Study
from generators.press.laying import laid
from generators.sheets.document import Document
from generators.sheets.packet import packet_of
from generators.theory.pitch import extremes

LIMITS = [("C4", "G4"), ("C4", "A4"), ("C4", "C5"), ("G3", "C5")]
STUDIES = ("flow", "slurs", "scales", "arpeggios", "entrances", "etude")
limits = pytest.mark.parametrize(("low", "high"), LIMITS)


def packet(low: str, high: str) -> Document:
    """Return a first packet between two notes."""
    return compose(packet_of(STUDIES, low=low, high=high))


def of_kind(document: Document, kind: str) -> list[Study]:
    """Return the studies of a kind."""
    return [study for study in document.studies if study.kind == kind]


@limits
def test_the_lowest_and_the_highest_note_are_played(low: str, high: str) -> None:
    """A packet uses the whole range that was asked for."""
    assert (low, high) == tuple(
        pitch.name for pitch in extremes(note.pitch for study in packet(low, high).studies for note in study.notes)
    )


@pytest.mark.parametrize(("low", "high"), LIMITS[:2])
def test_first_notes_are_two_pages(low: str, high: str) -> None:
    """Five or six notes fill a leaf on both sides."""
    assert 2 == len(laid(packet(low, high), {}))


@limits
def test_nobody_waits_longer_than_two_bars(low: str, high: str) -> None:
    """Four entrances, each after two bars of rest at the most; a child's are not called cold."""
    (found,) = of_kind(packet(low, high), "entrances")
    waits = [event.length for strain in found.strains for event in strain.music if isinstance(event, Rest)]

    assert "4 entrances after rests" == found.title
    assert 2 * found.strains[0].meter.bar >= max(waits)


@limits
def test_climbs_are_in_one_loudness(low: str, high: str) -> None:
    """Scales and chord notes neither grow nor fade."""
    for kind in ("scales", "arpeggios"):
        assert {""} == {note.hairpin for study in of_kind(packet(low, high), kind) for note in study.notes}


@limits
def test_breaths_of_scales_come_after_whole_groups(low: str, high: str) -> None:
    """On the way up a beginner breathes after a whole bar or two, or not at all."""
    for study in of_kind(packet(low, high), "scales"):
        for strain in study.strains:
            rising = strain.music[: next(i for i, event in enumerate(strain.music) if isinstance(event, Rest))]
            ends = [length(rising[: i + 1]) for i, note in enumerate(rising[:-1]) if getattr(note, "breath", False)]
            assert {strain.meter.bar, 2 * strain.meter.bar} >= set(ends)


def test_easy_slurs_come_first() -> None:
    """Who has an octave slurs from the tonic to its fifth before the fifth to the octave; six notes slur up to the sixth."""
    tops = [extremes(note.pitch for note in study.notes)[1].name for study in of_kind(packet("C4", "C5"), "slurs")]

    assert ["G4", "C5"] == tops
    assert "A4" == extremes(note.pitch for study in of_kind(packet("C4", "A4"), "slurs") for note in study.notes)[1].name


def test_low_slurs_are_come_down_to() -> None:
    """Who goes under his grade slurs neighbours, then lower and lower."""
    lows = [min(note.pitch for note in study.notes).name for study in of_kind(packet("G3", "C5"), "slurs")]

    assert ["E4", "C4", "G3"] == lows


@limits
def test_slow_slurs_come_before_quick_ones(low: str, high: str) -> None:
    """Every lip slur of a beginner comes in halves before it comes in quarters."""
    for study in of_kind(packet(low, high), "slurs"):
        for strain in study.strains:
            values = [4 * note.length for note in strain.notes if note.length < strain.meter.bar]
            assert [2, 1] == list(dict.fromkeys(values))
            assert sorted(values, reverse=True) == values


@pytest.mark.parametrize(("low", "high"), LIMITS[:2])
def test_a_section_alone_has_no_letter(low: str, high: str) -> None:
    """A tune of one section has no letter beside it."""
    (tune,) = of_kind(packet(low, high), "etude")

    assert [""] == [strain.label.name for strain in tune.strains]
