"""A packet: several studies under one cover with contents and cautions."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from typing import Any

from generators.brass.fingering import usual
from generators.brass.grade import Grade, grade, grade_by_notes, grade_on
from generators.brass.horn import Horn, horn
from generators.errors import BadRequest, Refusal, unknown
from generators.fields import option, slots
from generators.phrase.rests import with_single_rests
from generators.phrase.study import Study
from generators.phrase.wording import head_label
from generators.proof.prove import proved
from generators.sheets.document import Document, Front, Music, OmittedStudy, Section, Stamp, horn_band, omission_words
from generators.sheets.first_tune import to_new_notes
from generators.sheets.panels import CHILD_CAUTIONS, Cautions, Contents, ContentsEntry, Paragraph, TitlePanel
from generators.sheets.sheet import Sheet
from generators.sheets.study import file_name
from generators.studies.catalogue import PACKET, first_notes, kind, kind_of, made_as_asked, make, no_quicker
from generators.studies.etude.naming import unlettered
from generators.studies.etude.study import EtudeRequest
from generators.studies.flow.study import FlowRequest
from generators.studies.kit.fit import NoFit
from generators.studies.kit.kind import Kind
from generators.studies.kit.registers import FIRST_REGISTERS
from generators.studies.kit.request import FASTEST, Request
from generators.studies.kit.setting import resolve
from generators.studies.slurs.study import SlursRequest
from generators.theory.key import parse_key
from generators.theory.pitch import Pitch, parse_pitch

PACKET_TITLE = "Practice packet"
# So many labels of a study stand in the contents.
MOST_LABELS = 6
MINUTE_AND_A_HALF = 90
_LIMITS = ("low", "high")
# What a packet says to those whom it is not written for.
_TO_OTHERS = "For a grown player in practice. If you learn, or come back after a pause, ask for a grade from 0 to 6."
# The lip slurs from a beginner's lowest note, the second partial of a tube, and to his sixth, the fourth of the tube that
# lowers by so many half-steps; the kind of tune that is in four and sung: our choice.
_SUNG = "hymn"
# The shape of the flow that goes under his grade.
_DOWN = "dip"
_LOWEST_SLUR, _HIGHEST_SLUR, _UNDER_FOUR = "2-3", "3-4", 3
# How many signs a key has, in words.
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven")
# Of so many studies the notes show how far a packet goes: our choice.
_SHOWING = 4
# What stands over a beginner's first line, and the millimetres that it takes.
_TO_A_CHILD, _LINE = (
    "Stop when your lips are tired, at once if it hurts. In each rest wait as long as you played. Show your teacher this page.",
    5.0,
)
# What a beginner is told of a low note that is sharp; common practice, no source.
_PULLED = "Low {} with {}: {} a little. Your teacher shows you how far."
# How a beginner plays lip slurs that go on under those before them, or over them.
_SLURS = "slurs"
_SLURS_DOWN = "Blow slow, warm air. Listen: is the low note as full as the upper one?"
_SLURS_UP = "Blow faster air for the upper note, no harder. Listen: does it come without {bump}?"
# The studies that are tongued up to a beginner's highest note, by step; what comes before them in his packet, for it goes no
# farther than five notes; and what that has not by itself, for it begins on his highest note: our choice.
_FIRST, _OPENING, _TOO_WIDE = ("scales",), ("flow",), ("low",)
# What the flow of a first packet is from grade to grade, and the multiple tongue of the last ones, which others do not have, at
# first in no high register: our choice.
_TONGUING = "tonguing"
_GROWN: dict[tuple[str, str], dict[str, Any]] = {
    ("flow", "3"): {"shape": "wave"},
    ("flow", "4"): {"shape": "widening"},
    ("flow", "5"): {"shape": "wave", "length": "12"},
    ("flow", "6"): {"shape": "widening", "length": "12"},
    (_TONGUING, "5"): {"kind": "double", "registers": FIRST_REGISTERS},
    (_TONGUING, "6"): {"kind": "triple-tkt"},
}
# The studies of a beginner that are no quicker than his scales: our choice.
_AS_SCALES = ("arpeggios", "etude")


@dataclass(frozen=True, slots=True, kw_only=True)
class PacketRequest:
    """Several studies, in order."""

    studies: tuple[Request, ...] = option((), "The requests of its studies.")

    @property
    def music(self) -> "PacketRequest":
        """The request itself: all of it makes the music."""
        return self


def packet_of(names: Sequence[str] = (), **common: Any) -> PacketRequest:
    """Return a packet of the named studies, which share the common fields; without a name those of the first packet.

    Of the first notes the first packet has the studies that can be had of them.
    """
    rows = [kind(name) for name in names or _first_packet(common)]
    for row, name in product(rows, common):
        if name not in (known := [slot.name for slot in slots(row.request)]):
            raise unknown("field", name, known)
    asked = [row.request(**common) for row in rows]
    own = asked if names else [_of_the_grade(each) for each in asked]
    return PacketRequest(studies=tuple(_tongued_first([one for each in own for one in _of_a_kind(each)])))


def _of_the_grade(request: Request) -> Request:
    """Return a study of a first packet as its grade has it: a flow grows, and so does the tongue."""
    return replace(request, **_GROWN.get((kind_of(request).name, request.grade), {}))


def _tongued_first(requests: Sequence[Request]) -> Sequence[Request]:
    """Return the studies in order, but what slurs under a beginner's grade after the scales, which tongue those notes first."""
    place = next((place for place, each in enumerate(requests) if kind_of(each).name in _FIRST), 0)
    early = [each for each in requests[:place] if _slurs_under(each)]
    rest = [each for each in requests[:place] if each not in early]
    return [*rest, *requests[place : place + 1], *early, *requests[place + 1 :]]


def _slurs_under(request: Request) -> bool:
    """Tell whether a study is one of those that slur under a beginner's grade."""
    of, the_horn = grade_on(first_notes(request).grade, horn(request.horn)), horn(request.horn)
    if not of.beginner or not request.low or parse_pitch(request.low) >= of.low:
        return False
    lowest = isinstance(request, SlursRequest) and request.path == _LOWEST_SLUR and request.tubes[:1] != the_horn.tubes[:1]
    return lowest or (isinstance(request, FlowRequest) and request.shape == _DOWN)


def _of_a_kind(request: Request) -> tuple[Request, ...]:
    """Return the request; of a beginner's flow and lip slurs one to a note that he named and it does not reach.

    What goes down comes after the others; up to the sixth note, which is new, it stands for those of five.
    """
    of, the_horn = grade_on(first_notes(request).grade, horn(request.horn)), horn(request.horn)
    if not of.beginner or request.keys or not (request.low and request.high):
        return (request,)
    if isinstance(request, EtudeRequest):
        return (request if request.kind or of.slow else replace(request, kind=_SUNG),)
    under = of.low.midi - parse_pitch(request.low).midi
    if isinstance(request, FlowRequest):
        home = replace(request, keys=of.own_keys[:1], low=max(of.low, parse_pitch(request.low)).name)
        down = (replace(home, low=request.low, shape=_DOWN, compass="fifth", length="4"),) if under > 0 else ()
        return (home if made_as_asked(home) else request, *down)
    return tuple(_slurs(request, of, the_horn, under)) if isinstance(request, SlursRequest) else (request,)


def _slurs(request: SlursRequest, of: Grade, the_horn: Horn, under: int) -> Iterator[Request]:
    """Yield a beginner's lip slurs: the easiest, on the open tube, what goes under his grade, and at last those to his top."""
    if of.slow:
        yield request
        if parse_pitch(request.high) >= of.high:
            yield replace(request, tubes=(the_horn.tubes[_UNDER_FOUR],), path=_HIGHEST_SLUR)
        return
    lowest = [replace(request, tubes=(tube,), path=_LOWEST_SLUR) for tube in the_horn.tubes]
    below = lowest[under : under + 1] if under > 0 else ()
    yield from (lowest[0], *below, request) if under >= 0 else (request,)


def _first_packet(common: Mapping[str, Any]) -> list[str]:
    """Return the studies of a first packet that a beginner of such limits can have.

    Between limits, his very first notes, all is tongued before it is slurred; else he slurs five notes before he goes higher.
    """
    named, low, high = (str(common.get(field) or "") for field in ("grade", "low", "high"))
    of = grade(grade_by_notes(named, low, high, horn(str(common.get("horn") or "trumpet"))))
    had = [name for name in PACKET if name not in of.without and not (of.beginner and name in _TOO_WIDE)]
    had += [_TONGUING] if (_TONGUING, named) in _GROWN else []
    early = _FIRST if low or high else (*_OPENING, *_FIRST)
    return sorted(had, key=lambda name: (of.beginner and name not in early, kind(name).place))


def packet_document(request: PacketRequest, sheet: Sheet, stamp: Stamp) -> Document:
    """Return the packet: a cover, then every study that can be had, short ones together where they fit.

    Where none can, the first one's refusal is raised.
    """
    if not request.studies:
        raise BadRequest(Refusal("studies", None, "are missing", do="name at least one"))
    studies, left_out = _made(request.studies)
    findings = tuple(finding for study in studies for finding in proved(study))
    return Document(
        name=file_name("packet", studies[0].horn, stamp.code),
        title=sheet.title or _graded(request),
        sheet=sheet,
        stamp=stamp,
        chapters=_chapters(request, studies, sheet, omission_words(left_out)),
        findings=findings,
        left_out=tuple(left_out),
    )


def _chapters(
    request: PacketRequest, studies: Sequence[Study], sheet: Sheet, omitted: str
) -> tuple[Music] | tuple[Front | Music, ...]:
    """Return the cover and the studies; a beginner's few lines have no cover, but begin under the title."""
    if all(grade(first_notes(each).grade).beginner for each in request.studies):
        words = tuple(filter(None, (_TO_A_CHILD, _pulled(studies, request.studies[0]), omitted)))
        return (_at_once(studies, _graded(request), sheet, words),)
    grown = not any(each.grade or each.low or each.high for each in request.studies)
    told = " ".join(filter(None, (omitted, _TO_OTHERS if grown else "")))
    return _cover(studies, _grades(request), _graded(request), sheet, told), *(_chapter(study, sheet) for study in studies)


def _graded(request: PacketRequest) -> str:
    """Return the title of a packet, with the grade that was asked for all its studies."""
    grades = {each.grade for each in request.studies}
    return f"{PACKET_TITLE}, grade {grades.pop()}" if len(grades) == 1 and "" not in grades else PACKET_TITLE


def _grades(request: PacketRequest) -> set[str]:
    return {first_notes(each).grade for each in request.studies}


def _meaning(of: Grade) -> str:
    """Return what a grade means on a horn: how far it goes, and in how many sharps and flats."""
    most = max((abs(parse_key(name).fifths) for name in of.keys), default=0)
    keys = f"keys to {_COUNTS[most]} sharps or flats" if most else "every key"
    return f"Grade {of.id}: {of.low.pretty} to {of.high.pretty}, {keys}."


def _at_once(studies: Sequence[Study], graded: str, sheet: Sheet, words: Sequence[str]) -> Music:
    title = sheet.title or graded
    return Music(
        sections=tuple(Section(unlettered(study)) for study in _said_once(studies)),
        title=title,
        band=horn_band(studies[0].horn, sheet),
        glance=tuple(Paragraph(text, "quiet") for text in words),
        glance_height=_LINE * len(words),
        bookmark=title,
    )


def _pulled(studies: Sequence[Study], request: Request) -> str:
    """Return how a beginner brings the lowest note under his grade into tune, where a slide of his valves does that."""
    low, the_horn = _reach(studies)[0], horn(request.horn)
    own, new = usual(low, the_horn), low < grade_on(first_notes(request).grade, the_horn).low
    pull = the_horn.resonator.pulls.get(own.valves, "") if own and new and the_horn.valves else ""
    return _PULLED.format(low.pretty[:-1], own.valves, pull) if own and pull else ""


def _said_once(studies: Sequence[Study]) -> Iterator[Study]:
    """Yield studies, one that goes on with what the one before is for without saying so once more; slurs say what is new."""
    for before, study in pairwise((None, *studies)):
        if study:
            again = before and (before.kind, before.aim, before.also) == (study.kind, study.aim, study.also)
            yield replace(study, aim=_going_on(before, study), also="") if before and again else study


def _going_on(before: Study, study: Study) -> str:
    """Return what is said of a study after one of its kind: of lip slurs, whether they go down or up from there."""
    lower = _reach([study])[0] < _reach([before])[0]
    return horn(study.horn).said(_SLURS_DOWN if lower else _SLURS_UP) if study.kind == _SLURS else ""


def _made(requests: Sequence[Request]) -> tuple[list[Study], list[OmittedStudy]]:
    """Return the studies that can be had, and those that cannot."""
    studies, left_out = list[Study](), list[OmittedStudy]()
    first: BadRequest | None = None
    for request in requests:
        try:
            paced = _at_his_pace(request, studies)
            study = _in_reach(to_new_notes(paced) if isinstance(paced, EtudeRequest) else paced, studies)
            studies.append(with_single_rests(study) if grade(first_notes(request).grade).beginner else study)
        except BadRequest as refused:
            left_out.append(_omitted(request, refused))
            first = first or refused
    if not studies and first:
        raise first
    return studies, left_out


def _at_his_pace(request: Request, studies: Sequence[Study]) -> Request:
    """Return a request, of a beginner's chords or tune one that is no quicker than his scales before it."""
    scales = [study.tempo for study in studies if study.kind in _FIRST]
    slow = scales and kind_of(request).name in _AS_SCALES and grade(first_notes(request).grade).beginner
    return no_quicker(request, min(scales)) if slow else request


def _in_reach(request: Request, studies: Sequence[Study]) -> Study:
    """Return the study of a request; of a tune whose limits nobody named one that goes no farther than most of a packet.

    Where there is none between those limits it stays as it is.
    """
    study = make(request)
    if not isinstance(request, EtudeRequest) or request.low or request.high or len(studies) < _SHOWING:
        return study
    low, high = _reach(studies)
    if low <= _reach([study])[0] and _reach([study])[1] <= high:
        return study
    try:
        return make(replace(request, low=low.name, high=high.name))
    except BadRequest:
        return study


def _reach(studies: Sequence[Study]) -> tuple[Pitch, Pitch]:
    """Return the lowest and the highest note of studies."""
    heard = [note.pitch for study in studies for note in study.notes]
    return min(heard), max(heard)


def _omitted(request: Request, refused: BadRequest) -> OmittedStudy:
    """Return a study that is left out: for want of notes, for its grade, or as it was refused.

    Other limits than those of the player are not proposed where all else of the packet keeps to them.
    """
    row, why = kind_of(request), refused.refusal
    grades = dict(why.would_do).get("grade", ())
    words = (
        f"No {row.several or row.name} yet: they come with grade {grades[0]}." if grades else _wanting(request, row, refused)
    )
    kept = tuple((field, values) for field, values in why.would_do if field not in _LIMITS)
    return OmittedStudy(row.name, replace(why, would_do=kept if len(kept) == len(why.would_do) else ()), words)


def _wanting(request: Request, row: Kind, refused: BadRequest) -> str:
    """Return what the range has not that a study wants, where that is why it is left out."""
    if not isinstance(refused, NoFit):
        return ""
    low, high = (pitch.pretty for pitch in resolve(replace(request, tempo=None, keys=()), ("C",), FASTEST).range)
    return f"No {row.several or row.name}: {low} to {high} has {horn(request.horn).said(row.lacking)}."


def _chapter(study: Study, sheet: Sheet) -> Music:
    """Return the chapter of a study; the title of a packet stands on its cover, the studies keep their own."""
    band = horn_band(study.horn, sheet)
    return Music(sections=(Section(study),), flows=True, band=band, bookmark=study.title)


def _cover(studies: Sequence[Study], grades: set[str], graded: str, sheet: Sheet, omitted: str) -> Front:
    minutes = round(sum(study.playing + study.resting for study in studies) / 60)
    band = horn_band(studies[0].horn, sheet)
    entries = tuple(ContentsEntry(study.title, _words(study), place) for place, study in enumerate(studies, 1))
    title, of = TitlePanel(sheet.title or graded, band), next(iter(grades)) if len(grades) == 1 else ""
    meant = (Paragraph(_meaning(grade_on(of, horn(studies[0].horn)))),) if of else ()
    cautions = Cautions(texts=CHILD_CAUTIONS) if of and grade(of).child else Cautions()
    told = (Paragraph(omitted),) if omitted else ()
    return Front(
        pages=((title, *meant, Contents(entries), *told, cautions),),
        foot=f"about {minutes} min, rests included",
        bookmark="Contents",
    )


def _words(study: Study) -> str:
    labels = list(dict.fromkeys(head_label(strain.label) for strain in study.strains))
    valves = "Valves " if any(strain.tube for strain in study.strains) and horn(study.horn).valves else ""
    most = MOST_LABELS if len(labels) > MOST_LABELS + 1 else len(labels)
    shown = ", ".join(labels[:most]) + (" and more" if len(labels) > most else "")
    beat = "Dotted quarter" if study.compound else "Quarter"
    tempo = f"{study.tempo} to {study.goal}" if study.goal else study.told_tempo
    return f"{valves}{shown.removesuffix('.')}. {beat} note {tempo}, about {_lasting(study.playing + study.resting)}."


def _lasting(seconds: float) -> str:
    """Return a time as a cover tells it: to ten seconds under a minute and a half, else to a minute."""
    return f"{max(10, round(seconds, -1)):.0f} s" if seconds < MINUTE_AND_A_HALF else f"{seconds / 60:.0f} min"
