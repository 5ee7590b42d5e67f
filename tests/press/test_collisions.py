from datetime import date
from itertools import pairwise, product

import pytest

from generators.jobs.compose import compose
from generators.press.laying import laid
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest
from generators.sheets.packet import packet_of
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS
from generators.studies.dynamics import DynamicsRequest
from generators.studies.etude.study import EtudeRequest
from generators.studies.kit.request import Request
from generators.studies.low import LowRequest
from generators.studies.scales import ScalesRequest
from tests.press.collisions import Mark, Overlap, ink, overlaps
from tests.press.sheets import composed, is_to_be_had, joined, text_of

# So many staff spaces apart two texts over one note are not of one staff.
NEXT_ROW = 2.5
MONDAY = date(2026, 11, 30)
LOOKS = {
    "plain": Sheet(fingerings="none", player="Third-year student", date="2026-11-25"),
    "fingerings and intonation": Sheet(fingerings="all", intonation=True, player="Second cornet"),
    "large print": Sheet(fingerings="none", large_print=True),
}
# Sheets with more on them than most.
CROWDED: dict[str, tuple[Request, Sheet]] = {
    "pedals": (LowRequest(pedals=True, depth="F#2"), Sheet(fingerings="all")),
    "all rows": (ScalesRequest(keys=("Gb", "F#", "Ebm")), Sheet(fingerings="all", note_names=True, intonation=True)),
    "concert keys": (DynamicsRequest(concert=True), Sheet(paper="letter", fingerings="all", note_names=True)),
    "bar numbers": (EtudeRequest(concert=True), Sheet(fingerings="all", note_names=True, intonation=True)),
    "triple tonguing": (ScalesRequest(pattern="threes", articulation="triple", low="F#3", high="C6"), Sheet(large_print=True)),
    "sixteenths": (
        ScalesRequest(pattern="thirds", rhythm="sixteenths", articulation="staccato", keys=("Cb", "C#", "Abm")),
        Sheet(fingerings="all", intonation=True, large_print=True),
    ),
}
DAYS: dict[str, tuple[DayRequest, Sheet]] = {
    "large": (DayRequest(profile=Profile(), on=MONDAY), Sheet(large_print=True, fingerings="all", intonation=True)),
    "positions": (DayRequest(profile=Profile(horn="trombone", grade="2"), on=MONDAY, kind="light"), Sheet(paper="letter")),
}


def _found(requests: list[Request], sheet: Sheet) -> list[Overlap]:
    marks = ink(text_of(joined(requests, sheet)))
    assert len(marks) > 100
    return overlaps(marks)


# Every look once, on both papers: it is the engraving that takes long, and not every two need stand together. In plain print
# every study is looked at, in the others every third.
CASES = [("a4", "plain", "", 0, 1), ("letter", "fingerings and intonation", "", 0, 3), ("a4", "large print", "1", 1, 3)]


@pytest.mark.parametrize(("paper", "look", "grade", "first", "every"), CASES)
def test_no_mark_lies_on_another(paper: str, look: str, grade: str, first: int, every: int) -> None:
    """On no page of any study, beginner's or professional's, does a word, sign or number touch other ink."""
    sheet = Sheet(**{name: getattr(LOOKS[look], name) for name in Sheet.__slots__} | {"paper": paper})
    requests = [kind.request(grade=grade) for kind in list(KINDS.values())[first::every]]

    assert [] == _found([request for request in requests if is_to_be_had(request, sheet)], sheet)


def test_sudden_dynamics_stand_on_one_height() -> None:
    """In large print too a line has room for its sudden dynamics and their words on one height."""
    marks = ink(text_of(joined([DynamicsRequest(shapes=("sudden",), registers=("low", "middle"))], LOOKS["large print"])))
    feet = sorted(min(y for _, y in mark.low) for mark in marks if mark.name == "DynamicText")

    assert 12 == len(feet)
    assert 1 == sum(above - below > 1 for below, above in pairwise(feet))


@pytest.mark.parametrize(("name", "paper"), list(product(KINDS, ("a4", "letter"))))
def test_every_study_can_be_had_in_large_print(name: str, paper: str) -> None:
    """No strain of a study as it comes is too high for a page in large print."""
    document = composed(KINDS[name].request(), Sheet(paper=paper, large_print=True))

    assert laid(document, {})


@pytest.mark.parametrize("name", CROWDED)
def test_no_mark_lies_on_another_on_a_crowded_page(name: str) -> None:
    """Pedals, syllables, small values and many accidentals leave every mark free too."""
    request, sheet = CROWDED[name]

    assert [] == _found([request], sheet)


@pytest.mark.parametrize("name", DAYS)
def test_no_mark_lies_on_another_on_a_day(name: str) -> None:
    """The compact pages of a day, their labels left of the staff, leave every mark free too."""
    request, sheet = DAYS[name]

    assert [] == overlaps(ink(text_of(composed(request, sheet))))


@pytest.mark.parametrize(("low", "high"), [("C4", "A4"), ("G3", "C5")])
def test_names_stand_clear_of_fingerings(low: str, high: str) -> None:
    """Between the name of a note and its fingering there is more than half a staff space, in either size of print."""
    marks = ink(text_of(compose(packet_of(low=low, high=high))))
    texts = [(mark.page, *_box(mark)) for mark in marks if mark.name == "LyricText" and mark.low]
    gaps = [
        bottom - under
        for page, left, right, bottom, _ in texts
        for other, start, end, _, under in texts
        if page == other and left < end and start < right and 0 < bottom - under < NEXT_ROW
    ]

    assert len(gaps) > len(texts) / 4
    assert 0.55 < min(gaps)


def _box(mark: Mark) -> tuple[float, float, float, float]:
    """Return left, right, bottom and top of a mark."""
    across = [x for x, _ in (*mark.low, *mark.high)]
    return min(across), max(across), min(y for _, y in mark.low), max(y for _, y in mark.high)


def test_the_outlines_find_marks_that_were_pushed_together() -> None:
    """The engraver's own outlines show a dynamic that is moved onto a note, and a word onto a beam."""
    head = '\\version "2.24.0"\n{ \\override DynamicText.self-alignment-X = #0 '
    push = "\\once \\override {0}.outside-staff-priority = ##f \\once \\override {0}.Y-offset = #{1} "
    pushed, word = push.format("DynamicLineSpanner", 0), push.format("TextScript", 2)
    found = overlaps(ink(f"{head}{pushed} g'4\\p {word} g'8^\"word\" g' g' g' }}"))

    assert {"DynamicText", "TextScript"} <= {name for overlap in found for name in (overlap.over, overlap.under)}


def test_a_slanted_mark_is_not_the_box_around_it() -> None:
    """A number that stands in the corner over a beam's low end does not touch the beam."""
    beam = Mark(1, "Beam", [(0.0, 0.0), (10.0, 5.0)], [(0.0, 0.5), (10.0, 5.5)])
    above = Mark(1, "TextScript", [(0.0, 2.0), (1.0, 2.0)], [(0.0, 3.0), (1.0, 3.0)])
    on_it = Mark(1, "TextScript", [(8.0, 4.0), (9.0, 4.0)], [(8.0, 5.0), (9.0, 5.0)])
    elsewhere = on_it._replace(page=2)

    assert [("Beam", "TextScript")] == [(found.over, found.under) for found in overlaps([beam, above, on_it, elsewhere])]
