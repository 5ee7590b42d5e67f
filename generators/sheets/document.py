"""Paper of any kind as one value: chapters of studies and of panels, and what the whole is called and carries."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol

from generators.brass.horn import horn
from generators.errors import Refusal
from generators.phrase.study import Study
from generators.proof.finding import Finding
from generators.sheets.sheet import Sheet

# Seconds that a class is told as half a minute.
_HALF_A_MINUTE = 30


@dataclass(frozen=True, slots=True)
class Stamp:
    """What names a document: the code of its music, and its whole request as JSON."""

    code: str
    carried: str


@dataclass(frozen=True, slots=True)
class Band:
    """The quiet line under a title: what the page is for, whom and when."""

    left: str = ""
    player: str = ""
    date: str = ""


def horn_band(horn_id: str, sheet: Sheet) -> Band:
    """Return the band of a page for a horn."""
    return Band(horn(horn_id).name, sheet.player, sheet.shown_date)


class Panel(Protocol):
    """Anything but music on a page: a table, a chart, a list. What it holds is between it and its template."""

    @property
    def template(self) -> str:
        """The template that prints it."""


@dataclass(frozen=True, slots=True)
class Section:
    """A study, with its number and the seconds of rest after it where it is part of a day."""

    study: Study
    number: int = 0
    rest: int = 0
    counted: bool = False
    """Whether several play it together: its bars have numbers, and the rest is told in words."""
    good: str = ""
    """When it has been practised enough, where the page tells that."""
    boxes: tuple[str, ...] = ()
    """Days to tick off."""

    @property
    def told_rest(self) -> str:
        """What the page says of the rest; nothing where there is none."""
        return told_rest(self.rest, together=self.counted)


def told_rest(seconds: int, *, together: bool) -> str:
    """Return a rest after a study in words: "13 s", or as a teacher says it to a class, "half a minute"."""
    if not together or not seconds:
        return f"{seconds} s" if seconds else ""
    return "half a minute" if seconds == _HALF_A_MINUTE else f"{seconds} seconds"


@dataclass(frozen=True, slots=True, kw_only=True)
class Music:
    """A chapter of studies."""

    sections: tuple[Section, ...]
    title: str = ""
    """A title over the whole; without it a study alone has its own."""
    band: Band = field(default_factory=Band)
    glance: tuple[Panel, ...] = ()
    """What stands between the title and the first study."""
    glance_height: float = 0
    """What that takes of the page, in millimetres."""
    flows: bool = False
    """Whether it goes on where the chapter before it ends, its titles on their own lines."""
    even: bool = False
    """Whether it is to fill an even number of pages."""
    bookmark: str = ""
    odd: bool = False
    """Whether it begins on an odd page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Front:
    """A chapter of panels, each page by itself."""

    pages: tuple[tuple[Panel, ...], ...]
    foot: str = ""
    """What stands at the left of the footer."""
    bookmark: str = ""
    odd: bool = False


@dataclass(frozen=True, slots=True)
class Stave:
    """What those who read the same notes have of a study: who they are, and the study on their horn."""

    names: tuple[str, ...]
    study: Study
    horns: tuple[str, ...]
    """The names of their horns."""
    own: bool = False
    """Whether it is another line than that of most."""


@dataclass(frozen=True, slots=True)
class ScoredStudy:
    """A study in score: its number, and the staves from the highest horn to the lowest, the same bars in all."""

    number: int
    rest: int
    staves: tuple[Stave, ...]

    @property
    def told(self) -> Study:
        """The study whose words stand over it: that of the highest staff with the line of most."""
        return next((stave.study for stave in self.staves if not stave.own), self.staves[0].study)


@dataclass(frozen=True, slots=True, kw_only=True)
class FullScore:
    """A chapter of studies for several horns, a staff each."""

    studies: tuple[ScoredStudy, ...]
    title: str
    band: Band = field(default_factory=Band)
    glance: tuple[Panel, ...] = ()
    glance_height: float = 0
    bookmark: str = ""
    odd: bool = False


Chapter = Music | Front | FullScore


@dataclass(frozen=True, slots=True)
class Voice:
    """What one player has of a whole document, for other programs: studies one after another."""

    name: str
    studies: tuple[Study, ...]


@dataclass(frozen=True, slots=True)
class OmittedStudy:
    """A study that cannot be had among others that can: its name in the catalogue or in the day, and why."""

    name: str
    why: Refusal
    words: str = ""
    """What the page says of it, in a sentence of its own."""


def omission_words(omitted: Sequence[OmittedStudy]) -> str:
    """Return what a page says of the studies that it leaves out; nothing where it has all."""
    told = dict.fromkeys(study.words for study in omitted if study.words)
    names = dict.fromkeys(study.name.replace("-", " ") for study in omitted if not study.words)
    plain = f"Not today, for want of notes: {', '.join(names)}." if names else ""
    return " ".join(filter(None, (*told, plain)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """Paper of one kind, complete: chapters in order, and what the whole is called and carries."""

    name: str
    """What its files are called where nobody says otherwise; it tells the music."""
    title: str
    sheet: Sheet
    stamp: Stamp
    chapters: tuple[Chapter, ...]
    findings: tuple[Finding, ...] = ()
    """What the proof warns of."""
    left_out: tuple[OmittedStudy, ...] = ()
    voices: tuple[Voice, ...] = ()
    """Its parts as other programs get them, all in one file; without them every study is a file of its own."""
    facts: Mapping[str, Any] = field(default_factory=dict)
    """What reports tell of this kind of paper beside what they tell of all: plain values that JSON can hold."""

    @property
    def studies(self) -> tuple[Study, ...]:
        """Every study in the order of the pages; of a score the line of its top staff."""
        return tuple(study for chapter in self.chapters for study in _studies_of(chapter))


def _studies_of(chapter: Chapter) -> tuple[Study, ...]:
    if isinstance(chapter, FullScore):
        return tuple(scored.staves[0].study for scored in chapter.studies)
    return tuple(section.study for section in chapter.sections) if isinstance(chapter, Music) else ()
