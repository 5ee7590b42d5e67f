"""Pages as values, one record a look; the templates in `templates/` fill them in."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, groupby
from typing import Protocol

from generators.brass.horn import horn
from generators.phrase.label import Label
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
    def foot(self) -> str:
        """What stands at the left of its footer."""

    @property
    def template(self) -> str:
        """The template that prints it."""


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands over the first strain of a study."""

    title: str
    """Its title; empty where it is that of the page."""
    detail: str
    """What all its strains have in common."""
    number: int
    """Its number in the day; 0 for none."""
    tempo: str
    """In quarters, such as 72 to 100."""
    rest: str
    """The rest after it, such as 13 s or 4 bars."""
    aim: str
    remarks: tuple[str, ...]
    ladder: tuple[str, ...]
    """Tempi or notes to tick off."""
    crowded: bool = False
    """Whether its title leaves no room for the rest beside it, which then follows the aim."""


@dataclass(frozen=True, slots=True)
class Score:
    """Strains in one score, one under another."""

    strains: tuple[Printed, ...]
    timed: bool
    """Whether the meter is printed."""
    first_bar: int = 0
    """The number of its first bar, where bars are numbered."""
    ends: bool = False
    """Whether the study ends with it."""
    piece: bool = False
    """Whether it is one piece, its sections lettered."""
    opened: bool = False
    """Whether the repeat that it begins with has its opening sign too."""

    @property
    def syllables(self) -> tuple[str, ...]:
        """One syllable for every note where any strain has them."""
        return tuple(_in_a_row([strain.syllables for strain in self.strains], self.strains))

    @property
    def rows(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """The rows of texts over the notes, by name, from the top downwards."""
        names = dict.fromkeys(row.name for strain in self.strains for row in strain.rows)
        return tuple((name, tuple(_in_a_row([_row(strain, name) for strain in self.strains], self.strains))) for name in names)


def _row(strain: Printed, name: str) -> tuple[str, ...]:
    return next((row.texts for row in strain.rows if row.name == name), ())


def _in_a_row(texts: Sequence[tuple[str, ...]], strains: Sequence[Printed]) -> Iterator[str]:
    """Yield the texts of strains one after another, empty ones where a strain has none; nothing where none has any."""
    if any(texts):
        for found, strain in zip(texts, strains, strict=True):
            yield from found or ("",) * len(strain.heads)


@dataclass(frozen=True, slots=True)
class PageSection:
    """A study, or what of it stands on a page; without a heading it goes on from the page before."""

    heading: Heading | None
    transposition: str
    scores: tuple[Score, ...]

    @property
    def notes(self) -> int:
        """How many notes it prints."""
        return sum(strain.notes for score in self.scores for strain in score.strains)


@dataclass(frozen=True, slots=True)
class Head:
    """What stands over the first page: the title, the quiet band, and a glance at what follows."""

    title: str
    band: Band
    detail: str = ""
    """What all strains of the one study under it have in common, and its tempo."""
    tempo: str = ""
    glance: tuple[Panel, ...] = ()
    small: bool = False
    """Whether its title is so long that it is set smaller."""


@dataclass(frozen=True, slots=True)
class MusicPage:
    """A page of studies, or parts of them, one after another."""

    head: Head | None
    """The head of a first page; another has its running line."""
    running: str
    section: str
    """The title of the study that goes on from the page before."""
    tempo: str
    """Its tempo."""
    player: str
    sections: tuple[PageSection, ...]
    foot: str
    loose: float = 0.0
    """How much farther apart than the least its staves stand, in staff spaces."""
    inside: float = 0.0
    """What of that comes between the staves of one score."""
    air: float = 0.0
    """What stands over its headings beyond the least, in staff spaces."""
    clear: float = 0.0
    """How much more stands between the ink of two staves, in staff spaces."""
    dense: bool = False
    """Whether headings stand as close as they may."""
    template: str = "page.ily.j2"

    @property
    def rows(self) -> bool:
        """Whether rows of texts stand over its staves, which are air enough between two of them."""
        return any(score.rows for section in self.sections for score in section.scores)

    @property
    def parted(self) -> tuple[int, ...]:
        """How what follows each score is parted from it: 2 for another way to play, as labels tell, 1 for another key or note.

        And for a strain of several lines after another; 0 for what belongs to it.
        """
        every = [score.strains for section in self.sections for score in section.scores]
        labels = [(strains[0].column.head, strains[0].strain.key) for strains in every]
        several = [len(strains[-1].lines) > 1 for strains in every]
        ways = list(_ways([strains[0].strain.label for strains in every]))
        nexts = zip((*labels[1:], None), (*several[1:], True), (*ways[1:], None), strict=True)
        return tuple(
            2 if way != follows else int(one != other or (many and more))
            for one, many, way, (other, more, follows) in zip(labels, several, ways, nexts, strict=True)
        )

    @property
    def notes(self) -> int:
        """How many notes it prints."""
        return sum(section.notes for section in self.sections)


def _ways(labels: Sequence[Label]) -> Iterator[tuple[bool, str, str]]:
    """Yield what tells how strains are played: in a key or not, by names that do not return, on a tube how quick and high."""
    names = [label.name for label in labels]
    once = len(list(groupby(names))) == len(set(names))
    for label in labels:
        yield label.key is not None, label.name if once else "", label.part if label.tube else ""


@dataclass(frozen=True, slots=True)
class PanelPage:
    """A page without music."""

    panels: tuple[Panel, ...]
    foot: str
    notes: int = PANELS_COST
    template: str = "panels.ily.j2"


@dataclass(frozen=True, slots=True)
class BlankPage:
    """A page left empty so that what follows begins on an odd page."""

    foot: str = ""
    notes: int = BLANK_COST
    template: str = "blank.ily.j2"


def study_range(studies: Sequence[Study]) -> str:
    """Return the range that studies finger, from the lowest note to the highest; the mouthpiece alone has none."""
    strains = [strain for study in studies for strain in study.strains]
    pitches = [note.pitch for strain in strains if not strain.free for note in strain.notes]
    return range_words(extremes(pitches)) if pitches else ""


def remarks_of(study: Study) -> tuple[str, ...]:
    """Return what a page says of how its study was fitted."""
    return tuple(remark_words(remark) for remark in study.remarks)


def transposition(study: Study) -> str:
    """Return what a written C sounds on the study's horn, in LilyPond's words."""
    return pitch_name(transpose(Pitch("C", 0, 4), horn(study.horn).interval))


def scores(strains: Sequence[Printed], first: int, study: Study, *, counted: bool = False) -> tuple[Score, ...]:
    """Return the scores of the strains of a study from one on, on a page: one for all where it is one piece, else one each.

    The meter is printed where the study begins and where it changes. Bars are numbered through a piece, and all those of a
    study that several players `counted` together.
    """
    bars = list(accumulate((len(strain.bars) - bool(strain.upbeat) for strain in study.strains), initial=1))
    meters = [None, *(str(strain.meter) for strain in study.strains)]
    size = len(strains) if study.piece else 1
    return tuple(
        Score(
            strains=tuple(strains[place : place + size]),
            timed=meters[first + place] != strains[place].meter,
            first_bar=bars[first + place] if study.piece or counted else 0,
            ends=first + place + size == len(study.strains),
            piece=study.piece,
            opened=counted and strains[place].repeated,
        )
        for place in range(0, len(strains), size)
    )
