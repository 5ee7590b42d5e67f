"""A score on paper: staves broken at the same bars, as large as they have room, no page with more than it holds."""

from dataclasses import replace

import pytest

from generators.jobs.compose import compose
from generators.jobs.render import render, render_all
from generators.phrase.algebra import on
from generators.press.pdf import page_count
from generators.press.room import room_of
from generators.press.scoring import STAFF_SIZES, FullScorePage, score_pages
from generators.sheets.document import Document, FullScore
from tests.band.bands import DEMO, FIRST_YEAR, band, player


def score(document: Document) -> FullScore:
    """Return the one chapter of a score."""
    [chapter] = document.chapters
    assert isinstance(chapter, FullScore)
    return chapter


def pages(document: Document) -> list[FullScorePage]:
    """Return the pages of a score."""
    return [page for page, _ in score_pages(score(document), document.sheet, frozenset())]


SCORE = compose(DEMO)


def test_a_score_tells_a_slide_how_to_slur() -> None:
    """Where a trombone slurs among valves the score says how, as the part does."""
    flow = compose(band(player("cornet"), player("trombone"), studies=("flow",), concert_key="Bb"))
    [heading] = [piece.heading for page in pages(flow) for piece in page.pieces if piece.heading]

    assert heading.aim.endswith("Trombone, bass clef: say doo on every note under the slur, and move the slide fast.")


def test_every_staff_has_the_same_lines() -> None:
    """In every piece of a score all staves have as many lines, with as many measures on each."""
    for page in pages(SCORE):
        for piece in page.pieces:
            assert 1 == len({tuple(strain.counts for strain in staff.strains) for staff in piece.staves})


def test_every_strain_is_printed_once() -> None:
    """All strains of all studies are on the pages in order, none twice."""
    printed = [strain.strain for page in pages(SCORE) for piece in page.pieces for strain in piece.staves[0].strains]
    every = [strain for study in SCORE.studies for strain in study.strains]

    assert [on(strain.music, 0, dynamic="") for strain in every] == [on(strain.music, 0, dynamic="") for strain in printed]


def test_a_loudness_that_stays_is_told_once() -> None:
    """In a study that has one loudness the staves of a score tell it at its beginning alone, as its parts do."""
    for page in pages(SCORE):
        for piece in page.pieces:
            for staff in piece.staves:
                told = [note.dynamic for strain in staff.strains for note in strain.strain.notes if note.dynamic]
                hairpins = any(note.hairpin for strain in staff.strains for note in strain.strain.notes)
                assert hairpins or not told or len(told) == 1 or len(set(told)) > 1


def test_those_who_read_the_same_share_a_staff() -> None:
    """Who reads the same notes has the same staff, whatever his horn, and no two staves of a study are alike."""
    for study in score(SCORE).studies:
        staves = [tuple((strain.key, strain.music) for strain in stave.study.strains) for stave in study.staves]
        assert len(set(staves)) == len(staves)
    first = score(SCORE).studies[0].staves

    assert ("Soprano cornet", "tenor horn in E♭") == first[0].horns
    assert ("Trumpet", "cornet", "flugelhorn", "euphonium in B♭") == first[1].horns


def test_a_class_of_ten_minutes_fills_few_pages() -> None:
    """The score of eight players and ten minutes has six pages at the most."""
    assert 6 >= len(pages(SCORE))


def test_a_large_band_has_small_staves() -> None:
    """More staves are smaller ones; two players have the largest."""
    many = band(*(player(name, "", studies) for name, studies in (("trumpet", ""), ("cornet", ""))))

    assert STAFF_SIZES[0] == pages(compose(replace(many, studies=("air",))))[0].points
    mixed = band(*(player(name, "") for name in ("trumpet", "trumpet-c", "trumpet-d", "trumpet-eb", "piccolo-a", "trombone")))

    assert pages(compose(replace(mixed, studies=("air",))))[0].points < STAFF_SIZES[0]


def test_a_page_that_proved_too_much_has_less() -> None:
    """Strains that are refused together are on two pages."""
    document = SCORE
    [(_, (first, end)), *_] = score_pages(score(document), document.sheet, frozenset())
    [(_, (begun, less)), *_] = score_pages(score(document), document.sheet, frozenset({(first, end)}))

    assert begun == first
    assert end > less


def test_a_piece_stands_on_one_page() -> None:
    """No page ends within a piece, unless it is all that the page has."""
    for asked in (DEMO, FIRST_YEAR):
        for page in pages(compose(asked)):
            assert page.pieces[-1].ends or len(page.pieces) == 1


def test_every_player_is_named() -> None:
    """Beside the staves of a piece stand the names of all who play it."""
    names = [player.name for player in DEMO.players]
    for page in pages(SCORE):
        for piece in page.pieces:
            told = ", ".join(" ".join(staff.players) for staff in piece.staves)
            assert not piece.heading or sorted(names) == sorted(told.split(", "))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_score_is_engraved(paper: str) -> None:
    """The engraver makes just the pages that were laid out, on either paper, and complains of nothing."""
    document = compose(FIRST_YEAR, replace(SCORE.sheet, paper=paper))
    _, pressed = render_all(document, ["pdf"])

    assert page_count(render(document)) == len(pressed.pages)
    assert room_of(document.sheet).paper == paper
    assert () == pressed.boxes
