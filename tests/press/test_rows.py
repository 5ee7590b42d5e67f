"""Rows of small texts over the notes, on real pages: each text at its own note, whatever is tied, slurred or silent between."""

from dataclasses import replace

import pytest

from generators.brass.horn import horn
from generators.press.laying import laid
from generators.press.marks import CENTS, NAMES, Extras
from generators.press.pages import MusicPage
from generators.press.score import printed
from generators.sheets.document import Music, Section
from generators.sheets.sheet import Sheet
from generators.studies.entrances import EntrancesRequest
from generators.studies.etude.study import EtudeRequest
from generators.studies.fingers.study import FingersRequest
from generators.studies.flow.study import FlowRequest
from generators.studies.kit.request import Request
from generators.studies.low import LowRequest
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.study import SlursRequest
from tests.exchange.samples import strain, study
from tests.press.collisions import Mark, ink
from tests.press.sheets import composed, joined, text_of

NAMED = Sheet(fingerings="none", note_names=True)
ALL = Sheet(fingerings="all", note_names=True, intonation=True)
# Slurs, triplets, long rests, notes under octave signs.
REQUESTS: dict[str, Request] = {
    "slurs": FlowRequest(keys=("C", "Eb"), shape="wave"),
    "triplets": ScalesRequest(pattern="threes", articulation="slurred", keys=("D", "Bbm")),
    "rests": EntrancesRequest(count=6),
    "pedals": LowRequest(pedals=True, depth="F#2"),
    "fingers": FingersRequest(),
    "an etude": EtudeRequest(),
}
# One line with ties over bar lines, triplets, rests and slurs.
TIED = strain("1/4( 2) 3 4~ | 4/2 r/4 5 | 6/8t 7 1' 5/4~ 5/2~ | 5/1 | 1/1")
# A scale on four valves, and what is said of the slides wherever it lies.
FOUR = ScalesRequest(horn="flugelhorn-4", keys=("C",), low="G3")
SLIDES = "first slide out for 1-2, fourth for 2-4"
# How far the middle of a text may be from that of its note head, and how far over it, in staff spaces.
BESIDE, OVER = 0.7, 16.0


def middle(mark: Mark) -> float:
    """Return the middle of a mark between left and right."""
    places = [x for x, _ in (*mark.low, *mark.high)]
    return (min(places) + max(places)) / 2


def heads_under(text: Mark, heads: list[Mark]) -> list[Mark]:
    """Return the note heads that a text stands over."""
    base = min(y for _, y in text.low)
    return [
        head
        for head in heads
        if head.page == text.page
        and abs(middle(head) - middle(text)) <= BESIDE
        and 0 < base - min(y for _, y in head.low) < OVER
    ]


def test_every_text_stands_over_its_note() -> None:
    """There are as many names on the pages as notes that are attacked, each over a note head."""
    document = joined(list(REQUESTS.values()), NAMED)
    marks = ink(text_of(document))
    heads, texts = ([mark for mark in marks if mark.name == kind] for kind in ("NoteHead", "LyricText"))
    pages = [page.page for page in laid(document, {}) if isinstance(page.page, MusicPage)]
    names = [text for page in pages for part in page.sections for score in part.scores for _, row in score.rows for text in row]

    assert len(list(filter(None, names))) == len(texts)
    assert [] == [text for text in texts if not heads_under(text, heads)]


@pytest.mark.parametrize("name", REQUESTS)
def test_every_row_is_a_line_of_lyrics(name: str) -> None:
    """Each score has a line of lyrics a row, the few cents on top, with a text or an empty one for every head."""
    document = composed(REQUESTS[name], ALL)
    pages = [page.page for page in laid(document, {}) if isinstance(page.page, MusicPage)]
    scores = [score for page in pages for section in page.sections for score in section.scores]

    assert sum(len(score.rows) for score in scores) == text_of(document).count("\\new Lyrics \\with { \\row }")
    rows = [[name for name, _ in score.rows] for score in scores]
    assert all(NAMES in found and CENTS not in found[1:] for found in rows)
    assert all(len(row) == sum(len(strain.heads) for strain in score.strains) for score in scores for _, row in score.rows)


def test_a_tied_note_keeps_its_row_in_step() -> None:
    """On one line every text stands over the very head that it tells, none over a head that is only held."""
    document = replace(composed(FlowRequest(), NAMED), chapters=(Music(sections=(Section(study(TIED)),)),))
    marks = [mark for mark in ink(text_of(document)) if mark.name in ("NoteHead", "LyricText")]
    heads, texts = ([middle(mark) for mark in marks if mark.name == kind] for kind in ("NoteHead", "LyricText"))
    (row,) = printed(TIED, Extras(horn("trumpet"), note_names=True), 36.0).rows
    told = [place for place, text in zip(sorted(heads), row.texts, strict=True) if text]

    assert len(TIED.notes) - 3 == len(told) == len(texts)
    assert told == pytest.approx(sorted(texts), abs=BESIDE)


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (LowRequest(), "+ is sharp (third slide out for 1-3 and 1-2-3, first for 1-2, or lip it down)."),
        (SlursRequest(tubes=("0",)), "− is flat (lip it up)."),
        (LowRequest(horn="trombone"), ""),
        (FOUR, f"+ is sharp ({SLIDES}, or lip it down)."),
        (
            replace(FOUR, keys=("E",), low="E3"),
            f"+ is sharp ({SLIDES}, third and fourth well out for 3-4, or lip it down), − is flat (lip it up).",
        ),
    ],
)
def test_only_the_cents_that_stand_there_are_explained(asked: Request, told: str) -> None:
    """The heading explains the signs of the cents over its notes and no others, and from where on they are printed."""
    page = laid(composed(asked, Sheet(intonation=True)), {})[0].page
    assert isinstance(page, MusicPage)
    heading = page.sections[0].heading

    assert heading
    assert [f"In italics: cents, where 10 or more, each note once on a page: {told}"] * bool(told) == [
        text for text in heading.remarks if "cents" in text
    ]
