"""First packets by limits alone: all notes that were named, three pages for few notes, easy things first, short waits."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

import pytest

from generators.jobs.compose import compose
from generators.phrase.algebra import length
from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain, Study
from generators.press.laying import laid
from generators.sheets.document import Document, Music
from generators.sheets.packet import packet_of
from generators.sheets.panels import Paragraph
from generators.theory.pitch import Pitch, extremes, parse_pitch

LIMITS = [("C4", "G4"), ("C4", "A4"), ("C4", "C5"), ("G3", "C5")]
STUDIES = ("flow", "slurs", "scales", "arpeggios", "entrances", "etude")
# The highest notes of those who have no more than five or six.
FEW = ("G4", "A4")
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


@pytest.mark.parametrize("limits_of", LIMITS[:3])
def test_first_notes_are_few_pages(limits_of: tuple[str, str]) -> None:
    """Few notes fill a leaf on both sides and at the most a page beside it; all pages have the range of the whole."""
    every = laid(packet(*limits_of), {})

    assert 2 <= len(every) <= 3
    assert 1 == len({page.page.foot for page in every})


@limits
def test_nobody_waits_long(low: str, high: str) -> None:
    """Four entrances in one key and one loudness, each after a bar of rest, are rests for a third; the home note is named."""
    (found,) = of_kind(packet(low, high), "entrances")
    rests = [event.length for strain in found.strains for event in strain.music if isinstance(event, Rest)]

    assert "Coming in after a rest: home note C" == found.title
    assert [found.strains[0].meter.bar] * 4 == rests
    assert sum(length(strain.music) for strain in found.strains) >= 3 * sum(rests)
    assert {"C"} == {strain.key.name for strain in found.strains}
    assert {"mf"} >= {note.dynamic for note in found.notes if note.dynamic}


@limits
def test_lines_end_with_one_bar_of_rest(low: str, high: str) -> None:
    """No line of a drill ends with more than a bar of rest: a child knows no sign for several."""
    for study in packet(low, high).studies:
        for strain in study.strains:
            *_, before, last = strain.bars
            assert study.piece or any(isinstance(event, Note) for event in (*before, *last))


@limits
def test_flow_is_in_quarters_at_home(low: str, high: str) -> None:
    """A beginner's flow has no eighths, for the scales that teach them come later, and one key."""
    for study in of_kind(packet(low, high), "flow"):
        assert min(note.length for note in study.notes) >= Fraction(1, 4)
        assert {"C"} == {strain.key.name for strain in study.strains}


@limits
def test_first_notes_are_tongued_before_they_are_slurred(low: str, high: str) -> None:
    """A beginner's packet begins with a scale in tongued halves up to its highest note, or near it."""
    first = compose(packet_of(low=low, high=high)).studies[0]

    assert "scales" == first.kind
    assert not any(note.slur_open for note in first.notes)


def _ends(strain: Strain) -> tuple[Pitch, Pitch]:
    """Return the lowest and the highest note of a strain."""
    return extremes(note.pitch for note in strain.notes)


def test_a_first_year_begins_with_five_slurred_notes() -> None:
    """Who names a grade, not his very first notes, slurs five notes from home before he tongues up to his highest."""
    flow, scales, *_ = compose(packet_of(grade="1")).studies

    assert ("flow", "scales") == (flow.kind, scales.kind)
    assert all(highest.midi - lowest.midi <= 7 for lowest, highest in map(_ends, flow.strains))


@pytest.mark.parametrize("names", [(), STUDIES])
def test_the_lowest_notes_are_tongued_before_they_are_slurred(names: tuple[str, ...]) -> None:
    """Each note under the home note comes tongued in a half or longer before any slur has it, however studies were named."""
    played = [note for study in compose(packet_of(names, low="G3", high="C5")).studies for note in slurred_or_not(study)]
    first = {}
    for note, slurred in played:
        first.setdefault(note.pitch.name, (slurred, note.length))

    for slurred, value in (first[name] for name in ("G3", "A3", "B3")):
        assert not slurred
        assert value >= Fraction(1, 2)


def test_the_lowest_note_comes_after_the_way_to_it() -> None:
    """Before the scale goes down to the lowest note it has gone to the one over it, and home."""
    heard = [note.pitch.name for study in compose(packet_of(STUDIES, low="G3", high="C5")).studies for note in study.notes]
    way = heard[heard.index("A3") : heard.index("G3")]

    assert heard.index("B3") < heard.index("A3") < heard.index("G3")
    assert "C4" in way


def slurred_or_not(study: Study) -> Iterator[tuple[Note[Pitch], bool]]:
    """Yield each note of a study, and whether it lies under a slur."""
    for strain in study.strains:
        under = False
        for note in strain.notes:
            under = under or note.slur_open
            yield note, under
            under = under and not note.slur_close


@limits
def test_chords_and_tune_are_no_quicker_than_the_scales(low: str, high: str) -> None:
    """A beginner's chords and his tune go as slowly as his scales, or more so."""
    found = packet_of(low=low, high=high)
    scale, *others = (study.tempo for kind in ("scales", "arpeggios", "etude") for study in of_kind(compose(found), kind))

    assert 2 == len(others)
    assert max(others) <= scale


@limits
def test_the_tune_comes_to_the_newest_notes(low: str, high: str) -> None:
    """A tune goes up to the highest note that was named, or under B where the lowest is the low G."""
    (found,) = of_kind(packet(low, high), "etude")
    lowest, highest = extremes(note.pitch for note in found.notes)

    assert highest.name == high or (low == "G3" and lowest < parse_pitch("B3"))


@limits
def test_words_and_tunes_are_plain(low: str, high: str) -> None:
    """No heading names an interval or a way that has no meaning to a child, and no section of a short tune has a letter."""
    (chapter,) = packet(low, high).chapters
    assert isinstance(chapter, Music)
    studies = [section.study for section in chapter.sections]

    assert not any(word in study.title for study in studies for word in ("fifth", "octave", "returning", "dip", "arch"))
    assert {""} == {strain.label.name for study in studies if study.piece for strain in study.strains}


@limits
def test_the_last_entrance_comes_home(low: str, high: str) -> None:
    """Each entrance has a line of its own, whose number no fingering looks like, and the last one ends on the home note."""
    (found,) = of_kind(packet(low, high), "entrances")

    assert ["No. 1", "No. 2", "No. 3", "No. 4"] == [strain.label.part for strain in found.strains]
    assert found.strains[-1].notes[-1].pitch.step == "C"


def calls(low: str, high: str) -> list[list[str]]:
    """Return the notes of each entrance of a packet."""
    (found,) = of_kind(packet(low, high), "entrances")
    return [[note.pitch.name for note in strain.notes] for strain in found.strains]


@limits
def test_no_entrance_begins_on_what_was_just_played(low: str, high: str) -> None:
    """The home note has been played, so none begins on it; nor on the note that the one before began on, nor at the top."""
    firsts = [parse_pitch(line[0]) for line in calls(low, high)]

    assert parse_pitch("C4") not in firsts
    assert all(a != b for a, b in pairwise(firsts))
    assert high == "G4" or max(firsts) < parse_pitch(high)


def test_entrances_use_the_notes_that_a_range_has_more() -> None:
    """Other limits are other entrances: the last of them go over the fifth note and under the home note where there is room."""
    late = [{name for line in calls(*each)[2:] for name in line} for each in LIMITS]

    assert len(LIMITS) == len({str(calls(*each)) for each in LIMITS})
    assert "A4" in late[1]
    assert {"A4", "C5"} <= late[2]
    assert {"A3", "B3", "C5"} <= late[3]


@limits
def test_the_first_entrance_is_the_easiest(low: str, high: str) -> None:
    """It comes home by step within a third; all others go as far or farther."""
    spans = [[pitch.midi for pitch in extremes(map(parse_pitch, line))] for line in calls(low, high)]
    wide = [highest - lowest for lowest, highest in spans]

    assert "C4" == calls(low, high)[0][-1]
    assert 4 >= wide[0]


@limits
def test_flow_up_stays_over_the_grades_lowest_note(low: str, high: str) -> None:
    """What lies under a beginner's grade is not met on the way up, but in the line that goes down."""
    up = of_kind(packet(low, high), "flow")[0]

    assert min(note.pitch for note in up.notes) >= parse_pitch("C4")


def test_a_grade_that_nobody_asked_for_is_not_told() -> None:
    """A packet for some first notes has no grade in its title; one for a grade has."""
    titles = [document.chapters[0].bookmark for document in (packet("C4", "G4"), compose(packet_of(grade="1")))]

    assert ["Practice packet", "Practice packet, grade 1"] == titles


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


@limits
def test_open_slurs_come_first(low: str, high: str) -> None:
    """The first lip slur goes between the tonic and its fifth on the open tube, whatever else is in reach."""
    first, *_ = of_kind(packet(low, high), "slurs")

    assert ("C4", "G4") == tuple(pitch.name for pitch in extremes(note.pitch for note in first.notes))
    assert {"0"} == {strain.tube for strain in first.strains}


def test_farther_slurs_come_after() -> None:
    """Six notes slur up to the sixth, begun below it; an octave to its top, last of all; who goes lower comes there before."""
    spans = {
        high: [tuple(pitch.name for pitch in extremes(note.pitch for note in study.notes)) for study in found]
        for low, high in LIMITS[1:3]
        if (found := of_kind(packet(low, high), "slurs"))
    }
    whole = compose(packet_of(low="G3", high="C5"))
    lows = [min(note.pitch for note in study.notes).name for study in of_kind(whole, "slurs")]

    assert [("C4", "G4"), ("E4", "A4")] == spans["A4"]
    assert "C5" == spans["C5"][1][1]
    assert ["C4", "G3", "E4"] == lows
    assert "E4" == of_kind(packet("C4", "A4"), "slurs")[1].notes[0].pitch.name


@limits
def test_all_lip_slurs_say_how_they_go(low: str, high: str) -> None:
    """No set of lip slurs stands without the line that tells how to play it."""
    (chapter,) = packet(low, high).chapters

    assert isinstance(chapter, Music)
    assert all(section.study.aim for section in chapter.sections if section.study.kind == "slurs")


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"low": "G3", "high": "C5"}, 1),
        ({"low": "C4", "high": "C5"}, 0),
        ({"low": "G3", "high": "C5", "horn": "trombone"}, 0),
        ({"low": "G3", "high": "C5", "grade": "4"}, 0),
    ],
    ids=["low", "not low", "slide", "grown"],
)
def test_a_beginner_is_told_of_the_third_slide(asked: dict[str, str], told: int) -> None:
    """Who is new to the low G with valves reads once what its slide does; nobody else does."""
    written = [panel for chapter in compose(packet_of(**asked)).chapters for panel in getattr(chapter, "glance", ())]

    assert told == sum(isinstance(panel, Paragraph) and "third slide" in panel.text for panel in written)


@limits
def test_low_slurs_come_before_high_ones(low: str, high: str) -> None:
    """The lines of a study begin with the lowest pair of notes, and climb."""
    for study in of_kind(packet(low, high), "slurs"):
        lows = [min(note.pitch for note in strain.notes) for strain in study.strains]
        assert sorted(lows) == lows


@limits
def test_nothing_is_said_twice_in_a_row(low: str, high: str) -> None:
    """Of two studies of a kind, one after the other, the second does not say again what to listen for."""
    chapter = packet(low, high).chapters[0]
    assert isinstance(chapter, Music)
    said = [section.study.aim for section in chapter.sections]

    assert said[0]
    assert not any(a == b for a, b in pairwise(said) if a)


@limits
def test_slow_slurs_come_before_quick_ones(low: str, high: str) -> None:
    """Every lip slur of a beginner comes in halves before it comes in quarters; five or six notes have halves alone."""
    for study in of_kind(packet(low, high), "slurs"):
        for strain in study.strains:
            values = [4 * note.length for note in strain.notes if note.length < strain.meter.bar]
            assert ([2] if high in FEW else [2, 1]) == list(dict.fromkeys(values))
            assert sorted(values, reverse=True) == values


@pytest.mark.parametrize(("low", "high"), LIMITS[:2])
def test_a_section_alone_has_no_letter(low: str, high: str) -> None:
    """A tune of one section has no letter beside it."""
    (tune,) = of_kind(packet(low, high), "etude")

    assert [""] == [strain.label.name for strain in tune.strains]
