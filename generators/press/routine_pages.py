"""Pages of a day: compact sections one after another, with a strip at the head that shows the day at a glance."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generators.brass.horn import horn
from generators.press.layout import PAPERS
from generators.press.marks import Extras
from generators.press.pages import span, syllables_of, transposition
from generators.press.score import LABEL, Printed, printed
from generators.routine.day import Day, Part
from generators.sheets.sheet import Sheet

# What a heading and a row of the strip take of the page, in lines of music: measured on our own sheets.
# How much more a page of compact sections holds, and the steps in which pages are evened out.
DENSER, EVENING = 1.0, 0.25
HEADING, AIM, STRIP_ROW, HEAD = 0.5, 0.2, 0.22, 0.9


@dataclass(frozen=True, slots=True)
class Row:
    """One part in the strip."""

    number: int
    title: str
    keys: str
    minutes: str
    tempo: int


@dataclass(frozen=True, slots=True)
class Section:
    """One part of the day on a page, or what of it stands there."""

    title: str
    tempo: int
    goal: int
    rest: str
    aim: str
    transposition: str
    strains: tuple[Printed, ...]
    syllables: tuple[str, ...]
    inline: bool = True
    indent: int = 11
    """Millimetres left of the staff for the labels."""


@dataclass(frozen=True, slots=True)
class RoutinePage:
    """One page of a day."""

    title: str
    band: str
    player: str
    date: str
    strip: tuple[Row, ...]
    summary: str
    sections: tuple[Section, ...]
    foot_left: str
    foot_right: str
    first: bool
    full: bool = False
    template: str = "routine.ily.j2"

    @property
    def notes(self) -> int:
        """How many notes it prints."""
        return sum(strain.notes for section in self.sections for strain in section.strains)


@dataclass(slots=True)
class _Filling:
    """A page while it is filled: its sections and the lines still free."""

    free: float
    sections: list[Section]


def routine_pages(day: Day, title: str, summary: str, sheet: Sheet, code: str, *, slack: float = 0) -> tuple[RoutinePage, ...]:
    """Return the pages of a day; `slack` leaves so many lines of every page empty."""
    paper = PAPERS[sheet.paper, sheet.large_print]
    sections = [_section(i, part, sheet, paper.notes_a_line) for i, part in enumerate(day.parts, 1)]
    rows = tuple(_row(i, part) for i, part in enumerate(day.parts, 1))
    room = paper.later + DENSER - slack / 2
    strip = HEAD + STRIP_ROW * (1 + -(-len(rows) // 2))
    filled = _evened(sections, strip, room)
    base = RoutinePage(
        title, horn(day.context.horn.id).name, sheet.player, sheet.date, (), "", (), _range(day), code, first=False
    )
    return tuple(
        replace(
            base,
            title=title if i == 0 else f"{title} (continued)",
            strip=rows if i == 0 else (),
            summary=summary,
            sections=tuple(page.sections),
            first=i == 0,
            full=page.free < 2 and i < len(filled) - 1,
        )
        for i, page in enumerate(filled)
    )


def _evened(sections: Sequence[Section], strip: float, room: float) -> list[_Filling]:
    """Return as few pages as do, filled as evenly as they get, so that the last is not nearly empty."""
    pages = _filled(sections, room - strip, room)
    while room > 6:
        room -= EVENING
        tighter = _filled(sections, room - strip, room)
        if len(tighter) > len(pages):
            break
        pages = tighter
    return pages


def _filled(sections: Sequence[Section], first: float, room: float) -> list[_Filling]:
    """Return the pages: sections go on over a page turn only between strains, and never leave their heading behind."""
    pages = [_Filling(first, [])]
    for section in sections:
        rest = section
        while True:
            fits = _fitting(rest, pages[-1].free)
            if fits:
                part = replace(rest, strains=rest.strains[:fits])
                pages[-1].sections.append(voiced(part))
                pages[-1].free -= height(part)
                if fits == len(rest.strains):
                    break
                rest = replace(rest, strains=rest.strains[fits:], title=_continued(section.title), aim="")
            pages.append(_Filling(room, []))
    return pages


def _continued(title: str) -> str:
    return f"{title} (continued)"


def voiced(section: Section) -> Section:
    """Return a section with the syllables of its strains."""
    return replace(section, syllables=tuple(syllables_of(section.strains)))


def height(section: Section) -> float:
    """Return what a section takes of a page, in plain lines of music."""
    return HEADING + (AIM if section.aim else 0) + sum(strain.height for strain in section.strains)


def _fitting(section: Section, free: float) -> int:
    """Return how many strains of a section fit into what is free."""
    count = 0
    while count < len(section.strains) and height(replace(section, strains=section.strains[: count + 1])) <= free:
        count += 1
    return count


def _section(number: int, part: Part, sheet: Sheet, notes_a_line: int) -> Section:
    study = part.study
    extras = Extras(horn(study.horn), bool(sheet.fingerings), sheet.intonation)
    strains = tuple(_labelled(printed(strain, extras, notes_a_line, compact=True)) for strain in study.strains)
    rest = f"then rest {part.rest} s" if part.rest else ""
    aim = study.aim.partition(". ")[0]
    aim = aim if aim.endswith((".", "?")) else f"{aim}."
    return Section(f"{number}  {study.title}", study.tempo, study.goal, rest, aim, transposition(study), strains, ())


def _labelled(strain: Printed) -> Printed:
    """Return a strain with a label short enough to stand left of its staff."""
    if strain.free:
        return strain
    first, *rest = (part.split(":")[0] for part in strain.label.split(", "))
    short = first.replace(" major", "").replace(" minor", "m").replace(" (open)", "")
    kept = [part.replace(" times", "×") for part in rest if not part.startswith(("round", "bent", "by"))]
    return replace(strain, label=", ".join((short, *kept)), height=strain.height - LABEL)


def _row(number: int, part: Part) -> Row:
    keys = dict.fromkeys(key for key in _labels(part))
    shown = ", ".join(keys) if len(keys) <= 5 else f"{len(keys)} keys"
    minutes = f"{(part.seconds + part.rest) / 60:.1f} min"
    return Row(number, part.study.title.split(":")[0], shown, minutes, part.study.tempo)


def _labels(part: Part) -> Iterator[str]:
    for strain in part.study.strains:
        yield strain.tube or strain.key.name


def _range(day: Day) -> str:
    return span(note.pitch for part in day.parts for note in part.study.notes)
