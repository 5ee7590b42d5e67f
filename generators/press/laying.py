"""From a document to its pages: music flows on from chapter to chapter or begins its own page, and pages are chosen by cost."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, groupby, pairwise

from generators.brass.fingering import usual
from generators.brass.horn import Horn, horn
from generators.phrase.study import Strain, Study
from generators.press.breaking import (
    CLEAREST,
    CLEARS,
    NOTHING_PROVED,
    WIDEST,
    YOUNG_CLEARS,
    Block,
    Layout,
    Proved,
    clearance,
    cleared,
    heading_air,
    looseness,
    paginate,
    shared,
    well_filled,
)
from generators.press.extent import lies_low
from generators.press.heights import DENSE, GAPS, TITLE, head_height, heading_height, running_height
from generators.press.marks import AUDIBLE_CENTS, CENTS, Extras
from generators.press.once import as_high_as_told, told_on_page, unrepeated
from generators.press.pages import (
    AnyPage,
    BlankPage,
    Head,
    Heading,
    MusicPage,
    PageSection,
    PanelPage,
    remarks_of,
    scores,
    study_range,
    transposition,
)
from generators.press.room import Room, room_of
from generators.press.score import Printed, printed
from generators.press.scoring import score_pages
from generators.sheets.document import Document, Front, FullScore, Music, Section
from generators.sheets.sheet import Sheet

# How much closer staves stand that have rows of texts over them; how far apart these, those of many parts, and those of one
# piece are set at the most by our measures; rows print farther apart, more so in large print; many parts print nearer.
ROWS_CLOSER, DENSE_WIDEST, PIECE_WIDEST = 0.4, 12.2, 14.0
ROWS_WIDEST, ROWS_CLEAREST, DENSE_CLEAREST = {False: 11.3, True: 10.8}, {False: 13.2, True: 11.2}, 13.3
# How full a sheet of one study is whose staves have rows; how few staves are not worth a page more: our choice.
ROWS_FULL, ROWS_FEW = 0.93, 3
# What of its room a strain of so many measures and notes on one line is given, where the page has room for two: our choice.
EASE, MANY_BARS, MANY_NOTES = 0.78, 5, 24
# What the figures of intonation mean, by their signs.
CENTS_TOLD = f"In italics: cents, where {AUDIBLE_CENTS} or more, each note once on a page:"
SHARP_TOLD, FLAT_TOLD = "+ is sharp ({out}{more}, or lip it down)", "− is flat (lip it up)"
# How much clearer than the least they are to stand, a page more taken for it: our choice.
LEAST_CLEAR = 0.5
# The share of strains of one shape that sets how all of them are broken: our choice.
MANY_ALIKE = 0.4
# A longer title leaves no room for the rest beside it.
LONG_TITLE = 40


@dataclass(frozen=True, slots=True)
class Laid:
    """A page in its place, a book part of the engraver's."""

    page: AnyPage
    number: int
    chapters: tuple[int, ...] = ()
    """The chapters that begin on it."""
    flow: int = -1
    """The chapter with which its music begins to flow; -1 for a page without music."""
    strains: tuple[int, int] = (0, 0)
    """The strains of the flow on it, from one up to another."""


def laid(document: Document, proved: Mapping[int, Proved]) -> tuple[Laid, ...]:
    """Return the pages of a document; `proved` tells of each flow which strains have proved too much for a page."""
    pages: list[Laid] = []
    for places in _flows(document):
        chapter = document.chapters[places[0]]
        if chapter.odd and len(pages) % 2:
            pages.append(Laid(BlankPage(), len(pages) + 1))
        pages += _pages(document, places, len(pages) + 1, proved.get(places[0], NOTHING_PROVED))
    return tuple(pages)


def _flows(document: Document) -> Iterator[tuple[int, ...]]:
    """Yield the chapters that share pages: music that flows goes on where the chapter before it ends."""
    flow: tuple[int, ...] = ()
    for place, chapter in enumerate(document.chapters):
        if flow and not (isinstance(chapter, Music) and chapter.flows and isinstance(document.chapters[flow[-1]], Music)):
            yield flow
            flow = ()
        flow = (*flow, place)
    if flow:
        yield flow


def _pages(document: Document, places: Sequence[int], number: int, proved: Proved) -> Iterator[Laid]:
    chapter = document.chapters[places[0]]
    if isinstance(chapter, Front):
        for later, panels in enumerate(chapter.pages):
            yield Laid(PanelPage(panels, chapter.foot), number + later, tuple(places) if not later else ())
    elif isinstance(chapter, FullScore):
        for later, (page, strains) in enumerate(score_pages(chapter, document.sheet, proved.refused)):
            yield Laid(page, number + later, tuple(places) if not later else (), places[0], strains)
    else:
        flow = [(place, music) for place in places if isinstance(music := document.chapters[place], Music)]
        yield from _flowing(document, flow, number, proved)


@dataclass(frozen=True, slots=True)
class _Entry:
    """A strain in its place: which of its study's strains it is, and the heading and the chapter that begin with it."""

    study: Study
    number: int
    strain: Printed
    heading: Heading | None
    chapter: int | None
    counted: bool = False
    """Whether several players count its bars."""


def _flowing(document: Document, flow: Sequence[tuple[int, Music]], number: int, proved: Proved) -> Iterator[Laid]:
    """Yield the pages of chapters that share them, from a number on."""
    head, running = _head(flow, document.sheet), _running(document, flow[0][1])
    entries, task, counts = _roomiest(flow, head, document, number, proved)
    foot = study_range([entry.study for entry in entries])
    for later, (count, end) in enumerate(zip(counts, accumulate(counts), strict=True)):
        here = entries[end - count : end]
        page = _page(here, head if later == 0 else None, running, foot, document.sheet)
        clear = clearance(task, end - count, end)
        page = replace(_spaced(page, cleared(task, clear), end - count, end), clear=clear, dense=_dense(flow[0][1]))
        begun = tuple(entry.chapter for entry in here if entry.chapter is not None)
        yield Laid(page, number + later, begun, flow[0][0], (end - count, end))


def _spaced(page: MusicPage, task: Layout, start: int, end: int) -> MusicPage:
    """Return a page with its distances."""
    loose, over = looseness(task, start, end), heading_air(task, start, end)
    return replace(page, loose=loose, inside=task.gaps.inside, air=over)


def _roomiest(
    flow: Sequence[tuple[int, Music]], head: Head | None, document: Document, number: int, proved: Proved
) -> tuple[list[_Entry], Layout, tuple[int, ...]]:
    """Return strains, their layout and how many stand on each page: crowded lines on two where that takes no more pages.

    Staves stand clearer of one another where that takes no more pages and parts no more studies; a beginner's where it takes
    one more, if a study was parted or a page was tight, and it is not for a few staves.
    """
    entries = list(_entries(flow, document.sheet))
    task, counts = _fullest(_task(entries, head, flow, document, number, proved))
    for begin in [place for place, entry in enumerate(entries) if entry.number == 0]:
        eased = _eased(entries, begin, document.sheet)
        if eased != entries:
            wider = _task(eased, head, flow, document, number, proved)
            found = shared(wider, paginate(wider))
            if len(found) <= len(counts):
                entries, task, counts = eased, wider, found
    most = len(counts) + (task.whole and (_parted(task, counts) > 0 or _tight(task, counts)))
    for spaces in task.clears:
        clearer = cleared(task, spaces)
        found = shared(clearer, paginate(clearer))
        worth = len(found) <= len(counts) or (len(found) <= most and not _nearly_empty(task, found))
        fewest = worth and _parted(task, found) <= _parted(task, counts)
        if found == counts or (fewest and well_filled(clearer, found)):
            return entries, task, found
    return entries, task, counts


def _fullest(task: Layout) -> tuple[Layout, tuple[int, ...]]:
    """Return how strains are laid and how many stand on each page: on fuller ones where a last one had but a few staves."""
    counts, fuller = paginate(task), replace(task, full=1.0)
    if _nearly_empty(task, counts):
        found = paginate(fuller)
        if len(found) < len(counts):
            return fuller, found
    return task, shared(task, counts)


def _nearly_empty(task: Layout, counts: Sequence[int]) -> bool:
    """Tell whether the last of several pages has but a few staves."""
    return len(counts) > 1 and sum(block.staves for block in task.blocks[-counts[-1] :]) <= ROWS_FEW


def _parted(task: Layout, counts: Sequence[int]) -> int:
    """Return how many studies go on over a page."""
    return sum(task.blocks[end - 1].section == task.blocks[end].section for end in list(accumulate(counts))[:-1])


def _tight(task: Layout, counts: Sequence[int]) -> bool:
    """Tell whether the staves of a page do not stand clear of one another."""
    ends = list(accumulate(counts, initial=0))
    return any(clearance(task, start, end) < LEAST_CLEAR for start, end in pairwise(ends))


def _eased(entries: list[_Entry], begin: int, sheet: Sheet) -> list[_Entry]:
    """Return strains with the crowded lines of the study that begins at a place broken in two."""
    study = entries[begin].study
    if not any(_crowded(entry.strain) for entry in entries[begin : begin + len(study.strains)]):
        return entries
    eased = printed_strains(study, sheet, eased=True)
    own = [replace(entry, strain=one) for entry, one in zip(entries[begin:], eased, strict=False)]
    return [*entries[:begin], *own, *entries[begin + len(own) :]]


def _running(document: Document, music: Music) -> str:
    """Return what stands at the head of every further page: the title, and the horn."""
    return ", ".join(filter(None, (music.title or document.title, music.band.left)))


def _entries(flow: Sequence[tuple[int, Music]], sheet: Sheet) -> Iterator[_Entry]:
    alone = len(flow[0][1].sections) == 1 and not flow[0][1].flows
    for chapter, music in flow:
        for section in music.sections:
            strains = printed_strains(section.study, sheet)
            heading, begins = _heading(section, alone, sheet, strains), chapter if section is music.sections[0] else None
            for number, strain in enumerate(strains):
                begun = (heading, begins) if number == 0 else (None, None)
                yield _Entry(section.study, number, strain, begun[0], begun[1], section.counted)


def printed_strains(study: Study, sheet: Sheet, *, eased: bool = False) -> list[Printed]:
    """Return the strains of a study as they go to the page: those of one shape on lines of one length, eased where crowded."""
    extras = _extras(study, sheet)
    told, line = _shared_detail(study), room_of(sheet).line
    bare = list(unrepeated(study.strains, joined=study.piece))
    alone = [printed(strain, extras, line, _detail(strain, told), phrased=study.piece or bool(strain.tube)) for strain in bare]
    alone = [_wider(one, extras, line, _detail(one.strain, told)) for one in alone] if eased else alone
    counted = zip(bare, alone, _alike(alone), strict=True)
    strains = [
        one if counts == one.counts else printed(strain, extras, line, _detail(strain, told), counts)
        for strain, one, counts in counted
    ]
    return as_high_as_told(strains, sheet)


def _extras(study: Study, sheet: Sheet) -> Extras:
    of = horn(study.horn)
    return Extras(of, sheet.fingered, sheet.intonation, bool(sheet.note_names), low=lies_low(study.strains, of))


def _wider(one: Printed, extras: Extras, line: float, detail: str) -> Printed:
    """Return a strain of many bars on one line as it is broken where a line has less room."""
    return printed(one.strain, extras, EASE * line, detail) if _crowded(one) else one


def _crowded(one: Printed) -> bool:
    """Tell whether a strain has many bars and notes, all on one line."""
    return len(one.lines) == 1 and one.counts[0] >= MANY_BARS and one.notes >= MANY_NOTES


def _alike(strains: Sequence[Printed]) -> Iterator[tuple[int, ...]]:
    """Yield the measures on each line of every strain: as many others of its shape have them, on more lines if in doubt."""
    ways = Counter((strain.shape, strain.counts) for strain in strains)
    shapes = Counter(strain.shape for strain in strains)
    often = [(shape, counts) for (shape, counts), found in ways.items() if found > shapes[shape] * MANY_ALIKE]
    usual = dict(sorted(often, key=lambda way: len(way[1])))
    for strain in strains:
        counts = usual.get(strain.shape, strain.counts)
        yield max(counts, strain.counts, key=len)


def _detail(strain: Strain, told: str) -> str:
    """Return the detail of a label that nothing else tells."""
    return "" if told or strain.tube else strain.label.detail


def _shared_detail(study: Study) -> str:
    """Return what the full labels of all strains of a study add, where it is the same: the heading tells it then."""
    details = {strain.label.detail for strain in study.strains if not strain.tube}
    return details.pop() if len(details) == 1 else ""


def _heading(section: Section, alone: bool, sheet: Sheet, strains: Sequence[Printed]) -> Heading:
    """Return the heading of a study; alone, its title and tempo are those of the page; in a day, its aim is the short one."""
    study = section.study
    aim = study.aim if section.number else " ".join(filter(None, (study.aim, study.also)))
    return Heading(
        title="" if alone else study.title,
        detail="" if section.number else _shared_detail(study),
        number=section.number,
        tempo=_tempo(study),
        rest=section.told_rest,
        aim=aim,
        remarks=() if section.number else (*remarks_of(study), *_good(section), *_cents(study, strains)),
        ladder=section.boxes or (() if section.number else (*map(str, study.ladder), *(rung.pretty for rung in study.rungs))),
        crowded=section.rest > 0 and len(study.title) * room_of(sheet).larger > LONG_TITLE,
    )


def _cents(study: Study, strains: Sequence[Printed]) -> Iterator[str]:
    """Yield what the figures of intonation over some strains mean; nothing where there are none."""
    figures = [text for strain in strains for row in strain.rows if row.name == CENTS for text in row.texts if text]
    sharp, flat = any(text[0] == "+" for text in figures), any(text[0] == "−" for text in figures)
    if told := [*[_sharp_told(horn(study.horn), strains)] * sharp, *[FLAT_TOLD] * flat]:
        yield f"{CENTS_TOLD} {', '.join(told)}."


def _sharp_told(of: Horn, strains: Sequence[Printed]) -> str:
    """Return what is told of sharp notes: the slides of the horn, those of a rare tube where a figure stands over it."""
    stands = {tube for strain in strains for tube in _sharp_tubes(strain)}
    more = "".join(f", {words}" for tube, words in of.resonator.slides.items() if tube in stands)
    return of.said(SHARP_TOLD.replace("{more}", more))


def _sharp_tubes(strain: Printed) -> Iterator[str]:
    """Yield the tubes of the notes of a strain that have a figure of cents over them that says sharp."""
    for row in strain.rows:
        for text, pitch in zip(row.texts, strain.heads, strict=True):
            way = usual(pitch, strain.horn)
            if row.name == CENTS and text[:1] == "+" and way:
                yield strain.strain.tube or way.valves


def _good(section: Section) -> Iterator[str]:
    if section.good:
        yield f"Good when {section.good}."


def _head(flow: Sequence[tuple[int, Music]], sheet: Sheet) -> Head | None:
    """Return the head of the first page; music that goes on after a cover has none but the running line."""
    music = flow[0][1]
    if music.flows:
        return None
    study = music.sections[0].study
    alone = len(music.sections) == 1
    title = music.title or study.title
    head = Head(title, music.band, small=len(title) * room_of(sheet).larger > TITLE[1])
    if alone:
        return replace(head, detail=_shared_detail(study), tempo=_tempo(study))
    return replace(head, glance=music.glance)


def _task(
    entries: Sequence[_Entry],
    head: Head | None,
    flow: Sequence[tuple[int, Music]],
    document: Document,
    number: int,
    proved: Proved,
) -> Layout:
    room, music = room_of(document.sheet), flow[0][1]
    running, gaps = running_height(room), DENSE if _dense(music) else GAPS
    young = _young(entries, music)
    rows, piece = any(entry.strain.rows for entry in entries), all(entry.study.piece for entry in entries)
    closer = ROWS_CLOSER * rows
    return Layout(
        blocks=tuple(_blocks(entries, room)),
        room=room.height,
        gaps=replace(gaps, padding=gaps.padding - closer, apart=gaps.apart - closer, inside=1.0 if piece else GAPS.inside),
        widest=_widest(music, large=room.large, rows=rows, piece=piece),
        first=head_height(head, room) + room.spaces(music.glance_height) if head else running,
        later=running,
        page=number,
        even=music.even,
        last=flow[-1][0] == len(document.chapters) - 1,
        proved=proved,
        whole=young,
        clearest=_clearest(music, large=room.large, rows=rows and not piece),
        clears=YOUNG_CLEARS if young else CLEARS,
        full=ROWS_FULL if rows and not document.sheet.large_print and _alone(entries) else 1.0,
    )


def _widest(music: Music, *, large: bool, rows: bool, piece: bool) -> float:
    """Return how far apart the middle two lines of a page are set at the most by our measures."""
    if _dense(music):
        return DENSE_WIDEST
    if rows:
        return WIDEST if piece else ROWS_WIDEST[large]
    return PIECE_WIDEST if piece else WIDEST


def _clearest(music: Music, *, large: bool, rows: bool) -> float:
    """Return how far apart they are set at the most to stand clear of one another."""
    if _dense(music):
        return DENSE_CLEAREST
    return ROWS_CLEAREST[large] if rows else CLEAREST


def _young(entries: Sequence[_Entry], music: Music) -> bool:
    """Tell whether music is several studies for a beginner: most of them have the names of notes or fingerings."""
    studies, told = {id(one.study) for one in entries}, {id(one.study) for one in entries if one.strain.rows}
    return not _alone(entries) and not _dense(music) and 2 * len(told) > len(studies)


def _alone(entries: Sequence[_Entry]) -> bool:
    """Tell whether all strains are of one study."""
    return all(entry.study is entries[0].study for entry in entries)


def _dense(music: Music) -> bool:
    """Tell whether the sections of a chapter are the numbered parts of a day."""
    return any(section.number for section in music.sections)


def _blocks(entries: Sequence[_Entry], room: Room) -> Iterator[Block]:
    section = -1
    for entry in entries:
        section += entry.number == 0
        heading = heading_height(entry.heading, room) if entry.heading else 0.0
        joined = entry.study.piece and entry.number > 0
        yield Block(section, heading, entry.strain.extents, len(entry.strain.lines), joined, _second(entry))


def _second(entry: _Entry) -> bool:
    """Tell whether a strain is the second of two, where those of its study take turns, as their details tell."""
    first, *others = [strain.label.detail for strain in entry.study.strains]
    turns = len(set(others)) > 1 and all((detail == first) == bool(place % 2) for place, detail in enumerate(others))
    return turns and entry.number % 2 == 1


def _page(entries: Sequence[_Entry], head: Head | None, running: str, foot: str, sheet: Sheet) -> MusicPage:
    """Return a page; what begins on it stands under its heading, what goes on has its title in the running line."""
    first, *others = entries
    shown = told_on_page([_begun(first, sheet), *(entry.strain for entry in others)], sheet)
    return MusicPage(
        head=head,
        running=running,
        section=first.study.title if first.number and not running.startswith(first.study.title) else "",
        tempo=_tempo(first.study) if first.number else "",
        sections=tuple(_sections([replace(entry, strain=one) for entry, one in zip(entries, shown, strict=True)])),
        player=sheet.player,
        foot=foot,
    )


def _begun(entry: _Entry, sheet: Sheet) -> Printed:
    """Return the first strain of a page: its dynamic is told, though it is that of the page before."""
    own = entry.study.strains[entry.number]
    if entry.strain.strain == own:
        return entry.strain
    return printed(
        own, _extras(entry.study, sheet), room_of(sheet).line, _detail(own, _shared_detail(entry.study)), entry.strain.counts
    )


def _tempo(study: Study) -> str:
    """Return the tempo of a study, and up to which it is quickened; a dot before it says that beats are dotted."""
    told = f"{study.tempo} to {study.goal}" if study.goal else str(study.told_tempo)
    return f".{told}" if study.compound else told


def _sections(entries: Sequence[_Entry]) -> Iterator[PageSection]:
    for _, run in groupby(entries, key=lambda entry: id(entry.study)):
        group = list(run)
        study = group[0].study
        music = scores([entry.strain for entry in group], group[0].number, study, counted=group[0].counted)
        yield PageSection(group[0].heading, transposition(study), music)
