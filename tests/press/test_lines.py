"""Printed lines: all bars in order, few lines, broken where one breathes, no bar alone, no silence first."""

from collections.abc import Iterator, Sequence
from itertools import accumulate, combinations, pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from generators.brass.horn import horn
from generators.errors import WaterkeyError
from generators.phrase.pieces import Piece, cut
from generators.phrase.study import Strain
from generators.press.lines import SYSTEM_BARS, TIGHT, WELL, Line, Measure, printed_lines
from generators.press.marks import NAMES, Extras, TextRow, rows
from generators.press.room import room_of
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS
from generators.studies.kit.request import Request
from generators.theory.key import parse_key
from tests.exchange.samples import SAMPLES, strain
from tests.press.sheets import made
from tests.studies.requests import requests

# What a line of plain print on A4 holds beside its column and its clef, in staff spaces, and one of large print.
ROOM, LARGE = (room_of(Sheet(large_print=large)).line for large in (False, True))
STUDIES = st.sampled_from(sorted(KINDS)).flatmap(requests)
SILENT = "r/1"
# Bars that have room on a line with three others at the least.
BARS = st.sampled_from(["1/1", "1/2 2", "1/4 2 3 4", "1/8 2 3 4 1/2", "1/8 2 3 4 5 6 7 8"])
PLAIN_BARS = st.sampled_from(["1/4 2 3 4", "1/8 2 3 4 5/4 6", "1/4 2 3/8 4 5 6", "1/8 2 3 4 5 6 7 8"])


def broken(music: Strain, room: float = ROOM, over: Sequence[TextRow] = ()) -> tuple[Line, ...]:
    """Return the lines of a strain."""
    return printed_lines(music, cut(music), over, room)


def counts(lines: Sequence[Line]) -> list[int]:
    """Return how many bars stand on each line, a rest of several as so many."""
    return [sum(measure.bars for measure in line.measures) for line in lines]


def breathing(bars: int, *after: int) -> Strain:
    """Return a strain of so many bars of quarters with a breath after some of them."""
    return strain(" | ".join("1/4 2 3 4" + "*" * (bar in after) for bar in range(1, bars + 1)))


def width(measures: Sequence[Measure]) -> float:
    """Return what measures take pressed together, in staff spaces."""
    return sum(measure.width for measure in measures)


def as_many(lines: Sequence[Line], room: float) -> Iterator[list[list[Measure]]]:
    """Yield every way to set the measures of lines on as many lines, none crowded."""
    measures = [measure for line in lines for measure in line.measures]
    for cuts in combinations(range(1, len(measures)), len(lines) - 1):
        found = [measures[start:end] for start, end in pairwise((0, *cuts, len(measures)))]
        if all(width(each) <= WELL * room and len(each) <= SYSTEM_BARS for each in found):
            yield found


def silent(measure: Measure) -> bool:
    """Tell whether a measure is a single silent bar."""
    return measure.full and measure.bars == 1


def assert_whole(music: Strain, lines: Sequence[Line]) -> None:
    """Hold that lines have all bars of a strain in order, those of rest in a row as one, none beyond its share."""
    bars = cut(music)
    measures = [measure for line in lines for measure in line.measures]
    firsts = [end - measure.bars for measure, end in zip(measures, accumulate(m.bars for m in measures), strict=True)]
    plain: list[Piece] = [piece for measure in measures for piece in measure.pieces * measure.bars]

    assert [piece for bar in bars for piece in bar] == plain
    assert [bars[first] for first in firsts] == [measure.pieces for measure in measures]
    assert len(bars) == sum(counts(lines))
    assert all(0 < len(line.measures) <= SYSTEM_BARS for line in lines)
    assert not [line for line in lines for one, other in pairwise(line.measures) if one.full and other.full]


@settings(max_examples=15)
@given(STUDIES, st.sampled_from([ROOM, LARGE, 40.0]))
def test_all_bars_stand_in_order(request: Request, room: float) -> None:
    """Whatever the study and however narrow the paper, the lines of a strain have all of its bars, each once."""
    try:
        study = made(request)
    except WaterkeyError:
        assume(False)
    for music in study.strains:
        if not music.free:
            over = rows([piece for bar in cut(music) for piece in bar], Extras(horn(study.horn), fingerings=True))
            assert_whole(music, broken(music, room, over))


@pytest.mark.parametrize("name", SAMPLES)
def test_all_bars_of_a_sample_stand_in_order(name: str) -> None:
    """Ties over bar lines, long rests, triplets and odd meters go to the lines as they are."""
    for music in SAMPLES[name].strains:
        assert_whole(music, broken(music))


@given(st.lists(PLAIN_BARS, min_size=1, max_size=SYSTEM_BARS))
def test_a_short_strain_is_one_line(bars: list[str]) -> None:
    """At most seven bars with at most thirty plain quarters and eighths stand on one line."""
    music = strain(" | ".join(bars))
    assume(len(music.notes) <= 30)

    assert 1 == len(broken(music))


@pytest.mark.parametrize("under", [4, 5])
def test_a_slur_is_not_cut(under: int) -> None:
    """Bars that would have room on a line are parted where a slur ends, not under it."""
    slurred = ["1/4( 2 3 4", *["1/4 2 3 4"] * (under - 2), "1/4 2 3 4)*"]

    assert [under, under] == counts(broken(strain(" | ".join(slurred * 2))))


def test_a_sign_is_counted_once_a_bar() -> None:
    """A note that is altered many times in a bar takes no more room than one that is so once, but for itself."""
    once, often = (broken(strain(text))[0].measures[0].width for text in ("#1/8 2 3 2 3 2 3 2", "#1/8 2 #1 2 #1 2 #1 2"))

    assert once == pytest.approx(often)


@given(st.lists(BARS, min_size=2, max_size=20), st.sampled_from([ROOM, LARGE]))
def test_no_bar_stands_alone(bars: list[str], room: float) -> None:
    """Where there are more bars than one, and two have room on a line, no line has one alone."""
    assert all(len(line.measures) > 1 for line in broken(strain(" | ".join(bars)), room))


@given(st.lists(BARS | st.just(SILENT), min_size=4, max_size=9), st.sampled_from([ROOM, LARGE]))
def test_no_line_begins_with_silence(bars: list[str], room: float) -> None:
    """Where two lines can be set so that the second does not begin with a single silent bar, and none is alone, it does not."""
    lines = broken(strain(" | ".join(bars)), room)
    assume(2 == len(lines))
    better = [one for one in as_many(lines, room) if not silent(one[1][0]) and all(len(each) > 1 for each in one)]

    assert not better or not silent(lines[1].measures[0])


@given(st.lists(BARS, min_size=1, max_size=24), st.sampled_from([ROOM, LARGE]))
def test_no_line_is_crowded(bars: list[str], room: float) -> None:
    """No line has much more than its room, and there are no more lines than a new one where the next bar does not fit."""
    lines = broken(strain(" | ".join(bars)), room)
    fewest, held = 1, list[Measure]()
    for measure in (measure for line in lines for measure in line.measures):
        if width([*held, measure]) > WELL * room or len(held) == SYSTEM_BARS:
            fewest, held = fewest + 1, []
        held.append(measure)

    assert all(width(line.measures) <= TIGHT * WELL * room for line in lines)
    assert len(lines) <= fewest + 1


@pytest.mark.parametrize(("first", "bars"), [(2, 8), (3, 8), (4, 8), (6, 8), (2, 9), (5, 9), (7, 9), (4, 10), (5, 12), (7, 12)])
def test_lines_break_where_one_breathes(first: int, bars: int) -> None:
    """Of two lines the first ends at the one breath, wherever it is, unless a bar were alone."""
    assert [first, bars - first] == counts(broken(breathing(bars, first)))


def test_a_rest_is_a_breath() -> None:
    """A line ends after a bar that ends with a rest rather than in the middle of a phrase."""
    music = strain(" | ".join(["1/4 2 3 4"] * 2 + ["1/4 2 3 r"] + ["1/4 2 3 4"] * 5))

    assert [3, 5] == counts(broken(music))


@pytest.mark.parametrize(("lines", "breath"), [((3, 5), 4), ((5, 3), 3), ((6, 4), 5)])
def test_the_lines_of_the_strain_come_before_its_breaths(lines: tuple[int, ...], breath: int) -> None:
    """Where a strain is too long for a line, it breaks where it says itself."""
    music = breathing(sum(lines), breath)
    wished = Strain(music.label, music.key, music.music, lines=lines)

    assert [*lines] == counts(broken(wished))


def test_what_has_room_on_a_line_is_not_broken_for_a_wish() -> None:
    """Lines that a strain gives itself are joined where one holds them."""
    assert [6] == counts(broken(strain("1/2 2 | 1 2 | 1 2 | 1 2 | 1 2 | 1 2", lines=(3, 3))))


def test_lines_are_even() -> None:
    """Without breaths and wishes lines are as long as one another."""
    assert [4, 4] == counts(broken(breathing(8)))
    assert [6, 6] == counts(broken(breathing(12)))


def test_a_wide_bar_stands_alone() -> None:
    """A bar that is wider than the room is a line of its own, and nothing is left out."""
    music = strain(" | ".join(["1/16 2 3 4 " * 4] * 3))

    assert [1, 1, 1] == counts(broken(music, 25.0))


def test_bars_of_rest_are_one_measure() -> None:
    """Full bars of rest in a row take the room of one sign; they may begin a line."""
    music = strain(" | ".join(["1/4 2 3 4", *[SILENT] * 5, "1/4 2 3 4"]))
    (line,) = broken(music)

    assert [1, 5, 1] == [measure.bars for measure in line.measures]
    assert [7] == counts([line])


def test_texts_over_the_notes_take_room() -> None:
    """With long texts over its notes a strain takes more lines, each text at its note."""
    music = breathing(6)
    heads = tuple(note.pitch.pretty * 2 for note in music.notes)

    assert len(broken(music)) < len(broken(music, over=(TextRow(NAMES, heads),)))


def test_a_key_takes_room() -> None:
    """The signs of a key stand on every line and leave less to the notes."""
    plain, signed = (strain(" | ".join(["1/4 2 3 4"] * 7), parse_key(key)) for key in ("C", "Cb"))

    assert (1, 2) == (len(broken(plain, LARGE)), len(broken(signed, LARGE)))
