"""The papers of a class: each player's part, and the teacher's score with what was chosen and why."""

from collections.abc import Iterator, Sequence
from math import ceil

from generators.band.joining import ClassLine
from generators.band.plan import ClassItem, ClassPlan, plan_class
from generators.band.request import ClassRequest, Member
from generators.band.silence import silent_study
from generators.band.simpler import SECOND_VOICE
from generators.brass.horn import HORNS, Horn
from generators.errors import BadRequest, Refusal
from generators.phrase.note import Phrase
from generators.phrase.study import Study
from generators.proof.prove import proved
from generators.routine.studio import slug
from generators.sheets.class_facts import class_facts
from generators.sheets.class_words import called, class_title, keys_of, part_words, score_words
from generators.sheets.document import (
    Band,
    Document,
    FullScore,
    Music,
    OmittedStudy,
    ScoredStudy,
    Section,
    Stamp,
    Stave,
    Voice,
    horn_band,
)
from generators.sheets.panels import Paragraph, Points
from generators.sheets.sheet import Sheet
from generators.theory.key import Key
from generators.theory.pitch import Pitch

# What stands on a staff.
Written = tuple[str, tuple[tuple[Key, Phrase[Pitch]], ...]]
# Millimetres of a line of words under the title, and the letters that it holds.
WORDS_LINE, WORDS_LETTERS = 4.4, 110


def class_document(request: ClassRequest, sheet: Sheet, stamp: Stamp) -> Document:
    """Return one paper of a class: the score, or a player's part; refuses the part of one who cannot read the key."""
    plan = plan_class(request)
    chapter, voices = _part(plan, plan.members[request.part - 1], sheet) if request.part else _score(plan, sheet)
    played = (study for voice in voices for study in voice.studies if study.notes)
    return Document(
        name=f"class-{slug(request.reader.name) or 'part' if request.reader else 'score'}-{stamp.code}",
        title=chapter.title,
        sheet=sheet,
        stamp=stamp,
        chapters=(chapter,),
        findings=tuple(dict.fromkeys(found for study in played for found in proved(study))),
        left_out=tuple(_omitted(plan)),
        voices=voices,
        facts=class_facts(plan),
    )


def _part(plan: ClassPlan, member: Member, sheet: Sheet) -> tuple[Music, tuple[Voice, ...]]:
    lines = [(item, line) for item, line in plan.lines(member) if isinstance(line, ClassLine)]
    if not lines:
        do = f"concert keys that this player reads: {', '.join(keys_of(plan, member)) or 'none'}"
        raise BadRequest(Refusal("part", called(plan, member), "has nothing to play in this class", do=do))
    title = sheet.title or class_title(plan)
    words = " ".join(part_words(plan, member))
    music = Music(
        sections=tuple(Section(line.study, item.number, item.rest, counted=True) for item, line in lines),
        title=title,
        band=horn_band(member.horn.id, sheet),
        glance=(Paragraph(words, "quiet"),) if words else (),
        glance_height=_height(words),
        bookmark=title,
    )
    return music, (Voice(called(plan, member), tuple(line.study for _, line in lines)),)


def _score(plan: ClassPlan, sheet: Sheet) -> tuple[FullScore, tuple[Voice, ...]]:
    title, words = sheet.title or class_title(plan), tuple(score_words(plan))
    score = FullScore(
        studies=tuple(ScoredStudy(item.number, item.rest, tuple(_staves(plan, item))) for item in plan.items),
        title=title,
        band=Band(_count(plan), sheet.player, sheet.shown_date),
        glance=(Points(words),) if words else (),
        glance_height=sum(map(_height, words)),
        bookmark=f"Score: {title}",
    )
    playing = (member for member in plan.reading if plan.studies(member))
    return score, tuple(Voice(called(plan, member), _whole(plan, member)) for member in playing)


def _count(plan: ClassPlan) -> str:
    players = "1 player" if len(plan.reading) == 1 else f"{len(plan.reading)} players"
    return f"Score, {players}, {plan.seconds / 60:.0f} minutes"


def _omitted(plan: ClassPlan) -> Iterator[OmittedStudy]:
    """Yield the studies that the class cannot have, and why."""
    stood_in = (plan.stood_in.wanted,) if plan.stood_in else ()
    for names, why in (
        (stood_in, "left out, for these horns do not share their open notes"),
        (plan.roomless, "left out, for no span of notes is shared by enough players"),
        (plan.timeless, "left out, for the minutes are too few"),
    ):
        yield from (OmittedStudy(name, Refusal(name, None, why)) for name in names)


def _height(words: str) -> float:
    return WORDS_LINE * ceil(len(words) / WORDS_LETTERS)


def _whole(plan: ClassPlan, member: Member) -> tuple[Study, ...]:
    """Return all studies of a class as a player has them, in silence where he rests."""
    return tuple(
        line.study if isinstance(line, ClassLine) else silent_study(item.shared.study, member, plan.choice.key)
        for item, line in plan.lines(member)
    )


def _staves(plan: ClassPlan, item: ClassItem) -> Iterator[Stave]:
    """Yield the staves of a study, the highest horn first; those who read the same notes share one, whatever their horns."""
    lines = zip(plan.reading, item.shared.lines, strict=True)
    playing = sorted(((member, line) for member, line in lines if isinstance(line, ClassLine)), key=_order)
    staves: dict[Written, list[tuple[Member, ClassLine]]] = {}
    for member, line in playing:
        staves.setdefault(_written(member, line.study), []).append((member, line))
    for alike in staves.values():
        horns = tuple(dict.fromkeys(_horn_name(member.horn) for member, _ in alike))
        names = tuple(called(plan, member) for member, _ in alike)
        if alike[0][1].study.what == SECOND_VOICE:
            names = (f"{SECOND_VOICE}: {names[0]}", *names[1:])
        yield Stave(names, alike[0][1].study, _gathered(horns), own=alike[0][1].own)


def _written(member: Member, study: Study) -> Written:
    """Return what stands on a player's staff: the clef, and key and music of every strain."""
    return member.horn.clef.name, tuple((strain.key, strain.music) for strain in study.strains)


def _horn_name(of: Horn) -> str:
    """Return what a horn is called beside its staff: one that is read as it sounds without the pitch of its tube."""
    return of.name if of.sounding_half_steps else of.name.split(" in ")[0]


def _gathered(horns: Sequence[str]) -> tuple[str, ...]:
    """Return the names of several horns, the pitch that all of them have told once, after the last."""
    parts = [name.split(" in ") for name in horns]
    if len({part[-1] for part in parts}) > 1:
        return tuple(horns)
    first, *others = (*(part[0] for part in parts[:-1]), horns[-1])
    return (first, *(f"{name[0].lower()}{name[1:]}" for name in others))


def _order(pair: tuple[Member, ClassLine]) -> tuple[int, int, int, str, int]:
    """Order lines by how high the horn lies, and the line on it; a simpler one is its player's own."""
    member, line = pair
    own = (line.beyond.name if line.beyond else "", member.place) if line.own else ("", 0)
    return -member.tube, list(HORNS).index(member.horn.id), -line.octaves, *own
