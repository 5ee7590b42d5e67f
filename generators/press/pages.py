"""Pages as values, one record a look; the templates in `templates/` fill them in."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

from generators.brass.horn import horn
from generators.phrase.study import Study
from generators.phrase.wording import range_words, remark_words
from generators.press.leaves import pitch_name
from generators.press.score import Printed
from generators.sheets.document import Band, Panel
from generators.theory.interval import transpose
from generators.theory.pitch import Pitch, extremes

# What a page of panels, and an empty one, costs to engrave, in notes.
PANELS_COST, BLANK_COST = 100, 1


class AnyPage(Protocol):
    """What binding needs to know of a page of any look; the rest is between it and its template."""

    @property
    def notes(self) -> int:
        """How many notes it prints, which is what engraving it costs."""

    @property
    def full(self) -> bool:
        """Whether it is so full that its lines are spread to the bottom."""

    @property
    def foot(self) -> str:
        """What stands at the left of its footer."""

    @property
    def template(self) -> str:
        """The template that prints it."""


@dataclass(frozen=True, slots=True)
class PageSection:
    """A study, or what of it stands on a page, under its heading."""

    title: str
    tempo: int
    goal: int
    rest: str
    aim: str
    transposition: str
    strains: tuple[Printed, ...]
    inline: bool = False
    """Whether labels stand left of the staff instead of over it."""
    indent: int = 11
    """Millimetres left of the staff for such labels."""

    @property
    def syllables(self) -> tuple[str, ...]:
        """One syllable for every note where any strain has them."""
        return tuple(syllables_of(self.strains))

    @property
    def notes(self) -> int:
        """How many notes it prints."""
        return sum(strain.notes for strain in self.strains)


@dataclass(frozen=True, slots=True)
class StudyPage:
    """A page of one study under a large title."""

    title: str
    band: Band
    section: PageSection
    first: bool
    """The first page of its study, with aim, remarks and ladder."""
    full: bool
    foot: str
    remarks: tuple[str, ...] = ()
    ladder: tuple[int, ...] = ()
    """Tempi to tick off, under the title."""
    template: str = "page.ily.j2"

    @property
    def notes(self) -> int:
        """How many notes it prints."""
        return self.section.notes


@dataclass(frozen=True, slots=True)
class SectionsPage:
    """A page of several studies, or parts of them, one after another."""

    title: str
    band: Band
    glance: tuple[Panel, ...]
    sections: tuple[PageSection, ...]
    first: bool
    full: bool
    foot: str
    template: str = "sections.ily.j2"

    @property
    def notes(self) -> int:
        """How many notes it prints."""
        return sum(section.notes for section in self.sections)


@dataclass(frozen=True, slots=True)
class PanelPage:
    """A page without music."""

    panels: tuple[Panel, ...]
    foot: str
    full: bool = False
    notes: int = PANELS_COST
    template: str = "panels.ily.j2"


@dataclass(frozen=True, slots=True)
class BlankPage:
    """A page left empty so that the next chapter begins on an odd page."""

    foot: str = ""
    full: bool = False
    notes: int = BLANK_COST
    template: str = "blank.ily.j2"


def continued(title: str) -> str:
    """Return the title of what goes on from the page before."""
    return f"{title} (continued)"


def study_range(studies: Sequence[Study]) -> str:
    """Return the range that is fingered; the mouthpiece alone has none."""
    pitches = [note.pitch for study in studies for strain in study.strains if not strain.free for note in strain.notes]
    return range_words(extremes(pitches)) if pitches else ""


def remarks_of(study: Study) -> tuple[str, ...]:
    """Return what a page says of how its study was fitted."""
    return tuple(remark_words(remark) for remark in study.remarks)


def transposition(study: Study) -> str:
    """Return what a written C sounds on the study's horn, in LilyPond's words."""
    return pitch_name(transpose(Pitch("C", 0, 4), horn(study.horn).interval))


def syllables_of(strains: Sequence[Printed]) -> Iterator[str]:
    """Yield one syllable for every note of some strains where any has them."""
    if any(strain.syllables for strain in strains):
        for strain in strains:
            yield from strain.syllables or ("",) * strain.heads
