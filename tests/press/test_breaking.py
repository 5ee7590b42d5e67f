"""Breaking pages: whole strains in order, no page over its room, and no layout that is better in every respect."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import accumulate, combinations, pairwise
from typing import NamedTuple

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from generators.errors import FailedRun
from generators.press.breaking import (
    FILLED,
    FITS,
    FULL,
    MOST_LOOSE,
    ROOMY,
    WELL_LOOSE,
    Block,
    Gaps,
    Layout,
    Proved,
    TooTallError,
    clearance,
    cleared,
    heading_air,
    height,
    looseness,
    paginate,
)
from generators.press.extent import Extent

GAPS = Gaps(system=9.4, score=9.8, padding=0.2, apart=0.2, over=0.3, under=0.1)
ROOM = 100.0
# A page that is not the last should be no emptier than this.
WELL_FILLED = 0.7


def block(section: int = 0, lines: int = 1, heading: float = 0.0, joined: bool = False) -> Block:
    """Return a strain of so many lines."""
    return Block(section, heading, (Extent(4.0, 4.0),) * lines, lines, joined)


def strains(sections: Sequence[Sequence[int]], heading: float = 0.0) -> tuple[Block, ...]:
    """Return the strains of sections, each told by its lines; the first of a section has a heading."""
    return tuple(
        block(section, lines, 0.0 if place else heading)
        for section, each in enumerate(sections)
        for place, lines in enumerate(each)
    )


def task(blocks: Sequence[Block], *, first: float = 8.0, even: bool = False, last: bool = True, page: int = 1) -> Layout:
    """Return strains to be laid on pages of our room."""
    return Layout(tuple(blocks), ROOM, GAPS, first, 4.0, page=page, even=even, last=last)


SECTIONS = st.lists(st.lists(st.sampled_from([1, 1, 2, 3, 5]), min_size=1, max_size=4), min_size=1, max_size=7)
HEADED = st.builds(strains, SECTIONS, st.sampled_from([0.0, 5.0, 9.0]))
TASKS = st.builds(
    task,
    HEADED,
    first=st.sampled_from([4.0, 12.0, 30.0]),
    even=st.booleans(),
    last=st.booleans(),
    page=st.integers(1, 2),
)
# Few enough strains to try every layout.
FEW = TASKS.filter(lambda asked: len(asked.blocks) <= 10)


def spans(counts: Sequence[int]) -> list[tuple[int, int]]:
    """Return from which strain up to which other each page goes."""
    return [(end - count, end) for count, end in zip(counts, accumulate(counts), strict=True)]


def fullness(asked: Layout, start: int, end: int) -> float:
    """Return how much of its room a page takes."""
    return height(asked.blocks[start:end], asked.later if start else asked.first, asked.gaps) / asked.room


class Faults(NamedTuple):
    """What speaks against a layout, each to be as little as can be."""

    pages: int
    blank: bool
    empty: int
    """Pages before the last that are too empty."""
    emptiness: float
    splits: int
    turns: int
    """Sections that go on over a turn of the page."""
    orphans: int
    scattered: int


def faults(asked: Layout, counts: Sequence[int]) -> Faults:
    """Return what speaks against a layout."""
    found = spans(counts)
    judged = [fullness(asked, *span) for span in (found[:-1] if asked.last else found)]
    sections = [block.section for block in asked.blocks]
    splits = [asked.page + number for number, (_, end) in enumerate(found[:-1]) if sections[end - 1] == sections[end]]
    return Faults(
        pages=len(found),
        blank=asked.even and len(found) % 2 == 1,
        empty=sum(1 for full in judged if full < FULL),
        emptiness=sum((1 - full) ** 2 + 150 * max(0.0, FULL - full) ** 2 for full in judged),
        splits=len(splits),
        turns=sum(number % 2 for number in splits),
        orphans=sum(orphans(sections, *span) for span in found),
        scattered=sum(scattered(asked.blocks[start:end]) for start, end in found),
    )


def orphans(sections: Sequence[int], start: int, end: int) -> int:
    """Count the strains that begin or end a page without another of a section that goes on there."""
    above, below = sections[:start][-1:], sections[end:][:1]
    here = sections[start:end]
    return sum((edge == [at]) and here.count(at) == 1 for edge, at in ((above, here[0]), (below, here[-1])))


def scattered(blocks: Sequence[Block]) -> bool:
    """Tell whether a page has more headings under its first strain than staves without one."""
    headed = sum(1 for block in blocks[1:] if block.heading)
    return 2 * headed > sum(block.staves for block in blocks) - 1


def layouts(asked: Layout) -> Iterator[tuple[int, ...]]:
    """Yield every layout of few strains of which no page is over its room."""
    count = len(asked.blocks)
    for pages in range(count):
        for cuts in combinations(range(1, count), pages):
            found = tuple(end - start for start, end in pairwise((0, *cuts, count)))
            if all(fullness(asked, *span) <= FITS for span in spans(found)):
                yield found


def better(asked: Layout, counts: Sequence[int]) -> list[tuple[int, ...]]:
    """Return the layouts that have fewer faults of some kind than one, and of no kind more."""
    ours = faults(asked, counts)
    return [
        other
        for other in layouts(asked)
        if (theirs := faults(asked, other)) != ours
        and all(b <= a + 1e-9 for a, b in zip(ours, theirs, strict=True))
        and any(b < a - 1e-6 for a, b in zip(ours, theirs, strict=True))
    ]


@given(TASKS)
def test_every_strain_stands_whole_on_a_page(asked: Layout) -> None:
    """Pages take whole strains in their order, all of them, at least one each."""
    counts = paginate(asked)

    assert len(asked.blocks) == sum(counts)
    assert 0 < min(counts)


@given(TASKS)
def test_no_page_holds_more_than_it_can(asked: Layout) -> None:
    """The first page and the further ones keep within their room."""
    counts = paginate(asked)

    assert all(fullness(asked, *span) <= FITS for span in spans(counts))


@given(TASKS, st.sets(st.tuples(st.integers(0, 12), st.integers(2, 6)), max_size=4))
def test_what_was_refused_stands_on_no_page(asked: Layout, wide: set[tuple[int, int]]) -> None:
    """Strains that have proved too much for a page never stand on one together again."""
    refused = frozenset((first, min(first + count, len(asked.blocks))) for first, count in wide)
    refused = frozenset(span for span in refused if span[1] - span[0] > 1)
    counts = paginate(replace(asked, proved=Proved(refused=refused)))

    assert not [span for span in spans(counts) for first, last in refused if span[0] <= first and last <= span[1]]
    assert len(asked.blocks) == sum(counts)


@given(FEW)
def test_no_layout_is_better_in_every_respect(asked: Layout) -> None:
    """Of all layouts none has fewer pages, emptier ones, torn sections, strains alone or blanks, and is otherwise as good."""
    counts = paginate(asked)

    assert [] == better(asked, counts)


@given(st.integers(1, 40), st.sampled_from([1, 2, 4, 5]), st.sampled_from([4.0, 30.0]))
def test_there_are_as_few_pages_as_do(count: int, lines: int, first: float) -> None:
    """Strains of one size and section stand on no more pages than a new one where the next does not fit."""
    asked = task([block(0, lines)] * count, first=first)
    fewest, start = 1, 0
    for end in range(1, count + 1):
        if fullness(asked, start, end) > FITS:
            fewest, start = fewest + 1, end - 1

    assert fewest == len(paginate(asked))


@given(st.lists(st.integers(1, 2), min_size=1, max_size=60), st.booleans())
def test_only_the_last_page_is_rather_empty(lines: list[int], alone: bool) -> None:
    """Short strains, each a section or all of them one, fill every page but the last of the document well."""
    asked = task(strains([[each] for each in lines] if alone else [lines], heading=5.0))
    found = spans(paginate(asked))

    assert all(fullness(asked, *span) >= WELL_FILLED for span in found[:-1])


@given(FEW)
def test_a_section_is_whole_where_it_can_be(asked: Layout) -> None:
    """Where a layout of as few well filled pages tears no section, none is torn."""
    ours = faults(asked, paginate(asked))
    whole = [other for counts in layouts(asked) if not (other := faults(asked, counts)).splits]
    assume(any(other.pages <= ours.pages and not (other.empty or other.scattered or other.blank) for other in whole))

    assert 0 == ours.splits


@given(FEW)
def test_no_strain_stands_alone_where_it_need_not(asked: Layout) -> None:
    """Where a layout of as few well filled pages leaves no strain without another of its section, none is left so."""
    ours = faults(asked, paginate(asked))
    good = [other for counts in layouts(asked) if not (other := faults(asked, counts)).orphans]
    assume(ours.pages <= 3)
    assume(any(other.pages <= ours.pages and not (other.empty or other.scattered or other.blank) for other in good))

    assert 0 == ours.orphans


@pytest.mark.parametrize(
    ("counts", "sections"),
    [
        ((3,), [[1, 2, 3]]),
        ((2, 2), [[5, 4], [5, 4]]),
        ((3, 3), [[3, 3, 3], [3, 3, 3]]),
        ((4, 2), [[2, 2, 2, 2, 2, 2]]),
        ((2, 3), [[3, 5], [2, 2, 2]]),
        ((1,), [[9]]),
    ],
)
def test_pages_as_one_would_lay_them(counts: tuple[int, ...], sections: list[list[int]]) -> None:
    """One page where one does; else sections whole, pages full, and what is left over on the last."""
    assert counts == paginate(task(strains(sections), first=4.0))


@given(TASKS)
def test_an_even_number_is_not_made_odd(asked: Layout) -> None:
    """Music that is to fill both sides of its paper has no odd number of pages where it would have an even one anyway."""
    plain, even = (len(paginate(replace(asked, even=wanted))) for wanted in (False, True))

    assert even % 2 == 0 or even == plain


@pytest.mark.parametrize(("counts", "even"), [((2, 2, 2), False), ((2, 2, 2), True)])
def test_a_blank_page_is_better_than_two_empty_ones(counts: tuple[int, ...], even: bool) -> None:
    """Three full pages are not made four for the sake of an even number."""
    assert counts == paginate(task(strains([[3], [4, 4], [4, 4], [4]]), first=4.0, even=even))


def test_a_tall_strain_is_refused() -> None:
    """A strain that is higher than a page is refused with its height and what would do."""
    with pytest.raises(TooTallError, match=r"strain is 1\d\d% of a page high.*larger paper.*no large print") as refused:
        paginate(task([block(), block(0, 12)]))

    assert isinstance(refused.value, FailedRun)


def test_a_strain_that_was_refused_alone_is_refused() -> None:
    """A strain that has proved too much for a page of its own fits nowhere, whatever was measured."""
    with pytest.raises(TooTallError, match="strain does not fit on a page; choose larger paper or no large print"):
        paginate(replace(task([block(), block()]), proved=Proved(refused=frozenset([(1, 2)]))))


@given(TASKS)
def test_staves_are_loosened_within_bounds(asked: Layout) -> None:
    """No page is loosened beyond the limit or its room, farther than well only if it is empty and not the last."""
    for start, end in spans(paginate(asked)):
        loose, full = looseness(asked, start, end), fullness(asked, start, end)

        assert 0 <= loose <= MOST_LOOSE
        assert loose <= WELL_LOOSE or full < FULL
        assert loose <= WELL_LOOSE or not asked.last or end < len(asked.blocks)
        assert fullness(replace(asked, gaps=asked.gaps.looser(loose)), start, end) <= max(full, ROOMY[0])


@given(TASKS)
def test_a_page_is_no_looser_than_it_takes(asked: Layout) -> None:
    """A page is loosened farther than well only until it is full."""
    for start, end in spans(paginate(asked)):
        loose = looseness(asked, start, end)
        tighter = replace(asked, gaps=asked.gaps.looser(loose - 0.4))

        assert loose <= WELL_LOOSE or fullness(tighter, start, end) < FILLED


@given(TASKS)
def test_headings_have_air_where_there_is_room(asked: Layout) -> None:
    """What stands over headings beyond the least leaves a page within its room."""
    for start, end in spans(paginate(asked)):
        more = heading_air(asked, start, end)
        gaps = asked.gaps.looser(looseness(asked, start, end)).airier(more)

        assert 0 <= more
        assert more == 0 or fullness(replace(asked, gaps=gaps), start, end) <= ROOMY[0]


@given(TASKS)
def test_what_proves_overfull_is_set_closer_and_parted_in_the_end(asked: Layout) -> None:
    """A page that proves too full is filled less each time, as far as its music lets it; then its strains are parted."""
    for span in spans(paginate(asked)):
        proved = Proved()
        for full in ROOMY:
            loose = looseness(replace(asked, proved=proved), *span)
            assert loose == 0 or fullness(replace(asked, gaps=asked.gaps.looser(loose)), *span) <= max(full, FILLED + 0.1)
            assert not proved.refused
            proved = proved.overfull(span)
        assert frozenset([span]) == proved.refused


@given(TASKS)
def test_height_grows_with_every_strain(asked: Layout) -> None:
    """A page with one strain more is higher by no less than its staves."""
    blocks = asked.blocks
    heights = [height(blocks[:count], asked.first, GAPS) for count in range(1, len(blocks) + 1)]

    inner = [9.4 * (len(block.lines) - 1) for block in blocks[1:]]

    assert all(more > less + added for less, more, added in zip(heights, heights[1:], inner, strict=False))


def test_a_heading_takes_its_height() -> None:
    """Over the first strain of a page stands its heading, and nothing else is moved."""
    assert pytest.approx(7 + height([block()], 8.0, GAPS)) == height([block(heading=7.0)], 8.0, GAPS)


def test_joined_strains_stand_nearer() -> None:
    """Two strains of one score take the distance of its staves, two scores their own."""
    apart, joined = (height([block(), block(joined=one)], 0, GAPS) for one in (False, True))

    assert GAPS.score - GAPS.system == pytest.approx(apart - joined)


@given(st.integers(1, 30), st.sampled_from([1, 2, 3]))
def test_what_is_left_over_does_not_stand_first(count: int, lines: int) -> None:
    """Where more music follows, what strains of one size and section leave empty is not left on their first page alone."""
    asked = task([block(0, lines)] * count, first=4.0, last=False)
    first, *_, last = (0, *paginate(asked))[1:] if len(paginate(asked)) > 1 else (1, 1)

    assert first + 2 >= last


@given(TASKS)
def test_sections_that_are_to_stand_whole_do_so_on_as_many_pages(asked: Layout) -> None:
    """Where sections are to stand whole there are no more pages than else, and no more sections go on over one."""
    usual, whole = paginate(asked), paginate(replace(asked, whole=True))

    assert len(whole) <= len(usual)
    assert going_on(asked, whole) <= going_on(asked, usual) or len(whole) < len(usual)


def going_on(asked: Layout, counts: Sequence[int]) -> int:
    """Return how many sections go on over a page."""
    return sum(asked.blocks[end - 1].section == asked.blocks[end].section for end in list(accumulate(counts))[:-1])


def test_a_section_begins_the_next_page_that_has_room_for_it() -> None:
    """A section that would be cut though the next page is nearly empty begins there, where sections are to stand whole."""
    blocks = strains([[1] * 5, [1] * 5], heading=5.0)

    assert (7, 3) == paginate(task(blocks))
    assert (5, 5) == paginate(replace(task(blocks), whole=True))


@given(TASKS, st.sampled_from([0.4, 1.2]))
def test_what_stands_clearer_takes_more_of_a_page(asked: Layout, spaces: float) -> None:
    """With more between the ink of two staves strains are at least as high, no more than so much a line, and have room."""
    clearer = cleared(asked, spaces)
    usual, wider = (height(task_.blocks, 0, task_.gaps) for task_ in (asked, clearer))
    lines = sum(len(block.lines) for block in asked.blocks)

    assert usual <= wider <= usual + spaces * lines
    for end in range(1, len(asked.blocks) + 1):
        clear = clearance(asked, 0, end)
        assert not clear or height(asked.blocks[:end], asked.first, asked.gaps.clearer(clear)) <= ROOMY[0] * asked.room


@pytest.mark.parametrize("count", [20, 22])
def test_strains_that_take_turns_stay_together(count: int) -> None:
    """Where seven or eight fit on the first page, it ends after a pair, if every other strain is the second of one."""
    alone = [block()] * count
    turns = [replace(each, paired=bool(place % 2)) for place, each in enumerate(alone)]

    assert (8, 7) == (paginate(task(turns))[0], paginate(task(alone))[0])
