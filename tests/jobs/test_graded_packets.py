"""Packets of a grade: a tune no farther than the rest, tempi that grow, a cover that says what the grade means."""

import pytest

from generators.brass.grade import GRADES, grade_on
from generators.brass.horn import HORNS
from generators.jobs.compose import compose
from generators.phrase.algebra import length
from generators.phrase.study import Study
from generators.sheets.document import Document, Front
from generators.sheets.packet import packet_of
from generators.sheets.panels import CAUTIONS, CHILD_CAUTIONS, Cautions, Paragraph
from generators.studies.catalogue import make
from generators.studies.entrances import EntrancesRequest


def graded(grade: str, **asked: object) -> Document:
    """Return the first packet of a grade."""
    return compose(packet_of((), grade=grade, **asked))


def reach(studies: list[Study]) -> tuple[int, int]:
    """Return the lowest and the highest MIDI number of studies."""
    heard = [note.pitch.midi for study in studies for note in study.notes]
    return min(heard), max(heard)


@pytest.mark.parametrize("grade", ["2", "3", "4", "5", "6"])
@pytest.mark.parametrize("seed", range(3))
def test_a_tune_goes_no_farther_than_the_rest(grade: str, seed: int) -> None:
    """The tune of a packet lies between the lowest and the highest note of the other studies."""
    *others, tune = graded(grade, seed=seed).studies
    (low, high), (lowest, highest) = reach([tune]), reach(others)

    assert "etude" == tune.kind
    assert lowest <= low <= high <= highest


def test_flow_goes_farther_from_grade_to_grade() -> None:
    """In grades 1 to 3 each packet has longer lines than the one before or wider ones, none shorter or narrower."""
    flows = [next(study for study in graded(grade).studies if "flow" == study.kind) for grade in ("1", "2", "3")]
    lengths = [max(length(strain.music) for strain in study.strains) for study in flows]
    each = [[[note.pitch.midi for note in strain.notes] for strain in study.strains] for study in flows]
    spans = [max(max(line) - min(line) for line in lines) for lines in each]

    assert sorted(lengths) == lengths
    assert sorted(spans) == spans
    assert 3 == len(set(zip(lengths, spans, strict=True)))


@pytest.mark.parametrize("grade", list(GRADES))
@pytest.mark.parametrize("horn", ["trumpet", "euphonium-bass-clef"])
def test_a_packet_comes_to_both_ends_of_its_grade(grade: str, horn: str) -> None:
    """The lowest and the highest note that a cover tells are played, the highest in slurs, the lowest in low notes."""
    studies = {study.kind: study for study in graded(grade, horn=horn).studies}
    limits = grade_on(grade, HORNS[horn])

    assert (limits.low.midi, limits.high.midi) == reach(list(studies.values()))
    assert limits.beginner or limits.high.midi == reach([studies["slurs"]])[1]
    assert limits.beginner or limits.low.midi == reach([studies["low"]])[0]


@pytest.mark.parametrize("grade", ["2", "3", "5"])
def test_scales_chords_and_slurs_grow(grade: str) -> None:
    """They have a tempo to begin with and one to grow to, slurs from 60 or little more."""
    studies = {study.kind: study for study in graded(grade).studies}

    assert all(studies[kind].tempo < studies[kind].goal for kind in ("scales", "arpeggios", "slurs"))
    assert 60 <= studies["slurs"].tempo <= 64


@pytest.mark.parametrize(
    ("grade", "meaning", "cautions"),
    [
        ("3", "Grade 3: G3 to G5, keys to three sharps or flats.", CHILD_CAUTIONS),
        ("5", "Grade 5: F♯3 to C6, keys to five sharps or flats.", CAUTIONS),
        ("6", "Grade 6: F♯3 to D6, every key.", CAUTIONS),
    ],
)
def test_a_cover_says_what_a_grade_means(grade: str, meaning: str, cautions: tuple[str, ...]) -> None:
    """Range and keys stand under the title; a child is cautioned in words of his own."""
    front = graded(grade).chapters[0]
    assert isinstance(front, Front)

    assert Paragraph(meaning) in front.pages[0]
    assert Cautions(texts=cautions) in front.pages[0]


@pytest.mark.parametrize("seed", range(6))
def test_a_first_tune_that_walks_is_no_slower_than_a_walk(seed: int) -> None:
    """A march and what else has a step goes at 76 to 92 in grade 1, though the scales before it are slower."""
    *_, scales, tune = (study for study in graded("1", seed=seed).studies if study.kind in ("scales", "etude"))

    assert scales.tempo < 76
    assert tune.title.startswith(("Song", "Hymn", "Lament")) or 76 <= tune.tempo <= 92


def test_cold_entrances_tell_how_to_check_them() -> None:
    """A grown player is told when to hear the home note, and where to look afterwards; a child plays his home note first."""
    grown, child = make(EntrancesRequest()), make(EntrancesRequest(grade="2"))

    assert "home note" in grown.also
    assert "tuner" in grown.also
    assert "home note" in child.aim
