"""The panels that several documents share: titles, contents, cautions, paragraphs and drawings."""

from dataclasses import dataclass

from generators.sheets.document import Band
from generators.sheets.drawing import Drawing

# The usual precautions of the trade, in our own words: embouchure overuse (Lewis, Embouchure Overuse Syndrome in Brass
# Players), rest as much as you play (advice described as well known by a brass teacher's article), sound levels in practice
# rooms (Phillips and Mace, Music Performance Research 2, 2008). They defer to teachers and doctors.
CAUTIONS = (
    "Pain, numbness or swelling: stop at once. If it does not pass, ask a doctor or a dentist before you play again.",
    "Begin softly in the middle register. After hard lines rest as long as they lasted: the printed rests are the minimum.",
    "Grow by small steps: a half-step of range, a few beats of tempo, a few minutes, never all three in one day.",
    "Small rooms make brass loud enough to harm the ears. Open a door, keep it soft, wear protection, take breaks.",
    "These pages are suggestions. What your teacher or your doctor tells you comes first.",
)

# The same for children, in their words.
CHILD_CAUTIONS = (
    "Does it hurt, or do your lips feel strange? Stop, and tell a grown-up.",
    "Start softly. When the page shows a rest, take the horn down and breathe.",
    "A little every day is better than a lot on one day.",
    "Too loud for your ears? Open the door and play softly.",
    "If your teacher says something else, do what your teacher says.",
)


@dataclass(frozen=True, slots=True)
class TitlePanel:
    """The title of a page without music, and its band."""

    title: str
    band: Band
    template: str = "panels/title.ily.j2"


@dataclass(frozen=True, slots=True)
class ContentsEntry:
    """One line of the contents: a chapter by its place in the document, from 0."""

    title: str
    words: str
    chapter: int


@dataclass(frozen=True, slots=True)
class Contents:
    """The contents of a packet."""

    entries: tuple[ContentsEntry, ...]
    template: str = "panels/contents.ily.j2"


@dataclass(frozen=True, slots=True)
class Cautions:
    """The cautions that stand on every cover; small where the cover is full."""

    small: bool = False
    texts: tuple[str, ...] = CAUTIONS
    template: str = "panels/cautions.ily.j2"


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A text of its own lines: plain, or strong for the one that counts, or quiet."""

    text: str
    manner: str = "plain"
    template: str = "panels/paragraph.ily.j2"


@dataclass(frozen=True, slots=True)
class Points:
    """Short texts close under one another, each from the start of a line."""

    texts: tuple[str, ...]
    template: str = "panels/points.ily.j2"


@dataclass(frozen=True, slots=True)
class Ticks:
    """A row of boxes to tick off, each with a word."""

    words: tuple[str, ...]
    template: str = "panels/ticks.ily.j2"


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing, with a heading and a remark at its right if it has them."""

    drawing: Drawing
    heading: str = ""
    remark: str = ""
    template: str = "panels/picture.ily.j2"


@dataclass(frozen=True, slots=True)
class TextRows:
    """Texts under a title, each behind what it is about; how to read them, a remark and a line to write on, if given."""

    title: str
    rows: tuple[tuple[str, str], ...]
    meaning: str = ""
    remark: str = ""
    written: str = ""
    template: str = "panels/rows.ily.j2"
