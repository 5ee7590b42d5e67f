"""Pages as LilyPond source: studies laid out over pages, each page a value that the templates in `templates/` fill in."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import accumulate
from pathlib import Path
from typing import Protocol

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from generators.brass.horn import Horn, horn
from generators.phrase.study import Study
from generators.press.layout import PAPERS, STAFF_POINTS, Paper, paginate
from generators.press.leaves import pitch_name
from generators.press.marks import Extras
from generators.press.score import Printed, printed
from generators.press.texts import quoted
from generators.sheets.sheet import Sheet
from generators.theory.interval import transpose
from generators.theory.pitch import Pitch, simple

_HERE = Path(__file__).parent.parent
# In an installed package the templates lie inside it, in a checkout beside it.
TEMPLATES = next(path for path in (_HERE / "templates", _HERE.parent / "templates") if path.is_dir())
# A page with so much of its lines filled is spread to the bottom; an emptier one keeps its natural spacing.
FULL = 0.6
# How many notes more a line is given, time and again, where a strain is too tall for its page.
FULLER = 4
# What a ladder of tempi takes of a page, in lines of music.
LADDER = 0.3


class AnyPage(Protocol):
    """What binding needs to know of a page of any kind; the rest is between it and its template."""

    @property
    def notes(self) -> int:
        """How many notes it prints, which is what engraving it costs."""

    @property
    def first(self) -> bool:
        """Whether it begins a part: a cover, a study, a day."""

    @property
    def template(self) -> str:
        """The template that prints it."""


@dataclass(frozen=True, slots=True)
class Page:
    """One page: what the template prints; texts are the player's own and are quoted by the template."""

    title: str
    tempo: int
    goal: int
    band: str
    player: str
    date: str
    aim: str
    remarks: tuple[str, ...]
    foot_left: str
    foot_right: str
    transposition: str
    strains: tuple[Printed, ...]
    syllables: tuple[str, ...]
    first: bool
    """The first page of its study."""
    full: bool
    """So full that its lines are spread to the bottom."""
    ladder: tuple[int, ...] = ()
    """Tempi to tick off, under the title."""
    inline: bool = False
    """Whether labels stand left of the staff instead of over it."""
    template: str = "page.ily.j2"

    @property
    def notes(self) -> int:
        """How many notes it prints, which is what engraving it costs."""
        return sum(strain.notes for strain in self.strains)


def pages(study: Study, sheet: Sheet, code: str, *, slack: int = 0) -> tuple[Page, ...]:
    """Return the pages of a study; `slack` leaves so many lines of every page empty."""
    paper = PAPERS[sheet.paper, sheet.large_print]
    instrument = horn(study.horn)
    extras = Extras(instrument, bool(sheet.fingerings), sheet.intonation)
    first, later = paper.first - slack - bool(study.remarks) - LADDER * bool(study.ladder), paper.later - slack
    strains = _fitting(study, extras, paper.notes_a_line, first)
    counts = paginate([strain.height for strain in strains], first, later)
    ends = list(accumulate(counts))
    parts = [strains[end - count : end] for count, end in zip(counts, ends, strict=True)]
    return tuple(_page(study, sheet, instrument, code, parts, i, paper) for i in range(len(parts)))


def _fitting(study: Study, extras: Extras, notes_a_line: int, room: float) -> list[Printed]:
    """Return the strains, their lines a little fuller where one would not fit on a page."""
    for most in range(notes_a_line, 2 * notes_a_line, FULLER):
        strains = [printed(strain, extras, most) for strain in study.strains]
        if max(strain.height for strain in strains) <= room:
            break
    return strains


def _page(
    study: Study, sheet: Sheet, instrument: Horn, code: str, parts: Sequence[Sequence[Printed]], i: int, paper: Paper
) -> Page:
    room = paper.later if i else paper.first
    strains = tuple(parts[i])
    title = sheet.title or study.title
    return Page(
        title=title if i == 0 else f"{title} (continued)",
        tempo=study.tempo,
        goal=study.goal,
        band=instrument.name,
        player=sheet.player,
        date=sheet.date,
        aim=study.aim if i == 0 else "",
        remarks=study.remarks if i == 0 else (),
        ladder=study.ladder if i == 0 else (),
        foot_left=_range(study),
        foot_right=code,
        transposition=transposition(study),
        strains=strains,
        syllables=tuple(syllables_of(strains)),
        first=i == 0,
        full=sum(strain.height for strain in strains) >= FULL * room,
    )


def _range(study: Study) -> str:
    """Return the range that is fingered; the mouthpiece alone has none."""
    pitches = [note.pitch for strain in study.strains if not strain.free for note in strain.notes]
    return span(pitches) if pitches else ""


def span(pitches: Iterable[Pitch]) -> str:
    """Return the range of some pitches in plain spelling, for a footer."""
    found = sorted(pitches)
    return " to ".join(simple(pitch.midi, pitch.alter >= 0).pretty for pitch in (found[0], found[-1]))


def transposition(study: Study) -> str:
    """Return what a written C sounds on the study's horn, in LilyPond's words."""
    return pitch_name(transpose(Pitch("C", 0, 4), horn(study.horn).interval))


def syllables_of(strains: Sequence[Printed]) -> Iterator[str]:
    """Yield one syllable for every note of some strains where any has them."""
    if any(strain.syllables for strain in strains):
        for strain in strains:
            yield from strain.syllables or ("",) * strain.heads


def source(pages: Sequence[AnyPage], sheet: Sheet, first_page: int = 1, total: int = 0, *, midi: bool = False) -> str:
    """Return the LilyPond source of some pages, those of a study in one book part; the same pages give the same text.

    `first_page` and `total` are for the footers; `midi` adds what makes LilyPond write MIDI too.
    """
    return (
        _environment()
        .get_template("sheet.ly.j2")
        .render(
            parts=_parts(pages),
            paper=sheet.paper,
            staff_points=STAFF_POINTS[sheet.large_print],
            first_page=first_page,
            unit=22 / STAFF_POINTS[sheet.large_print],
            total=total or len(pages),
            midi=midi,
        )
    )


def _parts(pages: Sequence[AnyPage]) -> list[list[AnyPage]]:
    """Return the pages in groups that belong together: a cover, the pages of a study."""
    parts: list[list[AnyPage]] = []
    for page in pages:
        if not parts or page.first:
            parts.append([])
        parts[-1].append(page)
    return parts


@cache
def _environment() -> Environment:
    environment = Environment(loader=FileSystemLoader(TEMPLATES), undefined=StrictUndefined, trim_blocks=True, autoescape=False)  # noqa: S701 - LilyPond source, not HTML; every text goes through `quoted`
    environment.filters["quoted"] = quoted
    return environment
