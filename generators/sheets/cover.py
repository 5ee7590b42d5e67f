"""The cover of a packet: title, contents and the usual cautions."""

from collections.abc import Sequence
from dataclasses import dataclass

from generators.phrase.study import Study

# The usual precautions of the trade, in our own words: embouchure overuse (Lewis, Embouchure Overuse Syndrome in Brass
# Players), rest as much as you play (advice described as well known by a brass teacher's article), sound levels in practice
# rooms (Phillips and Mace, Music Performance Research 2, 2008). They defer to teachers and doctors.
CAUTIONS = (
    "Pain, numbness or swelling: stop at once. If it does not pass, ask a doctor or a dentist before you play again.",
    "Begin softly in the middle register. Rest at least as long as you have played, more on a tired day.",
    "Grow by small steps: a half-step of range, a few beats of tempo, a few minutes, never all three in one day.",
    "Small rooms make brass loud enough to harm the ears. Open a door, keep it soft, wear protection, take breaks.",
    "These pages are suggestions. What your teacher or your doctor tells you comes first.",
)


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the contents."""

    title: str
    words: str
    page: int


@dataclass(frozen=True, slots=True)
class Cover:
    """The first page of a packet, as the template fills it in."""

    title: str
    band: str
    player: str
    date: str
    contents: tuple[Entry, ...]
    cautions: tuple[str, ...]
    foot_left: str
    foot_right: str
    template: str = "cover.ily.j2"
    first: bool = True
    full: bool = False
    notes: int = 100
    """What it costs to engrave, in notes."""


def entries(studies: Sequence[Study], starts: Sequence[int]) -> tuple[Entry, ...]:
    """Return the contents: each study with its keys or tubes and the page it starts on."""
    return tuple(Entry(study.title, _what(study), page) for study, page in zip(studies, starts, strict=True))


def _what(study: Study) -> str:
    labels = list(dict.fromkeys(strain.label.split(",")[0] for strain in study.strains))
    shown = ", ".join(labels[:6]) + (" and more" if len(labels) > 6 else "")
    return f"{shown}. Quarter note {study.tempo}, about {max(1, round((study.playing + study.resting) / 60))} min."
