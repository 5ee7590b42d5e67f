"""What the papers of a class say: to a player in his own notes, to the teacher what was chosen, passed over and left out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from generators.band.joining import ClassLine
from generators.band.keys import FIRST_KEY, written_key
from generators.band.plan import ClassItem, ClassPlan
from generators.band.request import Member
from generators.band.simpler import SECOND_AIM
from generators.brass.fingering import usual
from generators.brass.horn import horn
from generators.phrase.study import Study
from generators.phrase.wording import key_words
from generators.sheets.facts import sentence
from generators.theory.pitch import Pitch

# What a class is called that has no name.
UNNAMED_CLASS = "Class"
# The position of the slide that a child's arm does not quite reach; common practice, no source.
_FAR_OUT = "6"
# So many keys that were passed over are named, more are counted: our choice.
_FEW_KEYS = 3


def class_title(plan: ClassPlan) -> str:
    """Return what stands over a paper of the class: "Saltmarsh Town Band, concert B♭"."""
    return f"{plan.request.name or UNNAMED_CLASS}, concert {key_words(plan.choice.key.name)}"


def called(plan: ClassPlan, member: Member) -> str:
    """Return what a player is called: by the chair, or by the horn."""
    return plan.request.players[member.place].name or f"{member.horn.name} {member.place + 1}"


def part_words(plan: ClassPlan, member: Member) -> Iterator[str]:
    """Yield what a player is told of the class: what he reads, and where his line is another."""
    own, sounding = (key_words(key.name) for key in (written_key(plan.choice.key, member.horn), plan.choice.key))
    if len(plan.reading) > 1:
        reading = "you read it as it sounds" if own == sounding else f"for you that is {own}"
        yield f"All {len(plan.reading)} play together in concert {sounding}; {reading}."
    for missed in missed_by(plan, member):
        names, note = _names(missed.studies), beyond_words(missed.note, member, "your")
        if missed.simpler and member.grade.child:
            way = "higher" if missed.note > member.limits.high else "lower"
            yield f"In {_numbers(missed.studies)} the tune goes {way} than your notes: you play the second voice."
        elif missed.simpler:
            yield f"In {names} you have a second voice: the first would go to {note}."
        else:
            yield f"In {names} the line would go to {note}: rest and listen there."
    if lower := lower_for(plan, member):
        yield f"In {_numbers(lower)} you play the second voice to warm up lower."
    if member.grade.child and _far_out(plan, member):
        yield f"{_FAR_OUT}: as far as your arm goes, then listen."
    plainer = plainer_for(plan, member)
    if plainer:
        yield f"Your own line in {_names(plainer)}: the same bars without the quick notes."


def _far_out(plan: ClassPlan, member: Member) -> bool:
    """Tell whether a player has a note in the position that a child's arm does not reach."""
    notes = {note.pitch for study in plan.studies(member) for note in study.notes}
    ways = [usual(note, member.horn) for note in sorted(notes)]
    return not member.horn.valves and any(way and way.valves == _FAR_OUT for way in ways)


@dataclass(frozen=True, slots=True)
class Missed:
    """Studies that a player does not play as the others do, for the same note, and whether he has a simpler line."""

    note: Pitch
    simpler: bool
    studies: tuple[ClassItem, ...]


def missed_by(plan: ClassPlan, member: Member) -> Iterator[Missed]:
    """Yield what a player does not play as the others do, each note out of reach once."""
    found = [(line.beyond, isinstance(line, ClassLine), item) for item, line in plan.lines(member) if line.beyond]
    for note, simpler in dict.fromkeys((note, simpler) for note, simpler, _ in found):
        yield Missed(note, simpler, tuple(item for one, easier, item in found if (one, easier) == (note, simpler)))


def plainer_for(plan: ClassPlan, member: Member) -> list[ClassItem]:
    """Return the studies in which a beginner has a plainer line than the others."""
    return [item for item, line in plan.lines(member) if isinstance(line, ClassLine) and line.plainer]


def lower_for(plan: ClassPlan, member: Member) -> list[ClassItem]:
    """Return the studies in which a beginner has a second voice under the others, whose line would lie high for him."""
    return [item for item, line in plan.lines(member) if isinstance(line, ClassLine) and line.lower]


def _names(items: Sequence[ClassItem]) -> str:
    """Return the names of studies with their numbers: "Flow (2) and Scales (3)"."""
    return _listed([f"{item.shared.study.name} ({item.number})" for item in items])


def _numbers(items: Sequence[ClassItem]) -> str:
    """Return the numbers of studies, as a child finds them: "2, 3 and 4"."""
    return _listed([str(item.number) for item in items])


def beyond_words(note: Pitch, member: Member, whose: str) -> str:
    """Return a note out of reach and the limit that it passes: "D5, over your C5"."""
    low, high = member.limits.low, member.limits.high
    return f"{note.pretty}, over {whose} {high.pretty}" if note > high else f"{note.pretty}, under {whose} {low.pretty}"


def score_words(plan: ClassPlan) -> Iterator[str]:
    """Yield what the teacher is told: why this key, what was passed over, who has another line, what is left out."""
    yield from _key_reasons(plan)
    if plan.singing:
        yield "A minute is left to sing the tune before you play it."
    yield from absences(plan)
    if any(member.grade.child and missed.simpler for member in plan.reading for missed in missed_by(plan, member)):
        yield f"Their parts say: {SECOND_AIM}"
    if above := [called(plan, member) for member in plan.reading if _sounds_above(plan, member)]:
        yield f"The second voice of {_listed(above)} sounds above the tune."
    yield from _left_out(plan)


def _sounds_above(plan: ClassPlan, member: Member) -> bool:
    """Tell whether a second voice lies over all who play the first, as on a horn that is higher than theirs."""
    for item, line in plan.lines(member):
        whole = [one.study for one in item.shared.lines if isinstance(one, ClassLine) and not one.own]
        if whole and isinstance(line, ClassLine) and (line.beyond or line.lower):
            return _height(line.study) > max(map(_height, whole))
    return False


def _height(study: Study) -> float:
    """Return how high a study sounds, in half-steps, all its notes taken together."""
    heard = [note.pitch.midi for note in study.notes]
    return sum(heard) / len(heard) + horn(study.horn).sounding_half_steps


def _key_reasons(plan: ClassPlan) -> Iterator[str]:
    key = key_words(plan.choice.key.name)
    if plan.choice.asked:
        yield f"Concert {key}, as you asked."
        shared = [key_words(one.key.name) for one in plan.choice.passed if not one.unread]
        if plan.choice.unread and shared:
            yield f"Keys that all can read: {_listed(shared)}."
        return
    if plan.choice.key == FIRST_KEY and any(member.grade.keys for member in plan.members):
        yield f"Concert {key} is what beginners on every brass horn share."
    else:
        yield f"Concert {key}: all can read it, and it lies best."
    for first, group in groupby(sorted(_unread(plan)), key=lambda pair: pair[0]):
        keys = [key_words(plan.choice.passed[place].key.name) for _, place in group]
        passed = _listed(keys) if len(keys) <= _FEW_KEYS else f"{len(keys)} keys"
        yield f"Passed over {passed}: not read yet by {called(plan, plan.members[first])}."
    lying = [key_words(one.key.name) for one in plan.choice.passed if not one.unread]
    if lying:
        yield f"Also possible: {_listed(lying)}."


def _unread(plan: ClassPlan) -> Iterator[tuple[int, int]]:
    """Yield the first who does not read a key, and the place of the key among those passed over."""
    yield from ((one.unread[0][0], place) for place, one in enumerate(plan.choice.passed) if one.unread)


def _listed(names: Sequence[str]) -> str:
    """Return names in a sentence."""
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def absences(plan: ClassPlan) -> Iterator[str]:
    """Yield a sentence for all who do not play what the others do, for the same note or key in the way, and what instead."""
    for place, key in plan.choice.unread:
        member = plan.members[place]
        yield sentence(f"{called(plan, member)} sits this one out: {key_words(key.name)} is not read yet")
    told: dict[str, list[str]] = {}
    for member in plan.reading:
        for words in _lacking(plan, member):
            told.setdefault(words, []).append(called(plan, member))
    for words, names in told.items():
        yield sentence(f"{_listed(names)} {'has' if len(names) == 1 else 'have'} {words}")


def _lacking(plan: ClassPlan, member: Member) -> Iterator[str]:
    """Yield what a player has in the place of what the others play, and why."""
    for missed in missed_by(plan, member):
        instead = "a second voice" if missed.simpler else "a rest"
        beyond = beyond_words(missed.note, member, "the limit of")
        yield f"{instead} in {_names(missed.studies)}: the first would go to {beyond}"
    if lower := lower_for(plan, member):
        yield f"a second voice in {_names(lower)}, to warm up lower"
    if plainer := plainer_for(plan, member):
        yield f"the same bars without the quick notes in {_names(plainer)}"


def _left_out(plan: ClassPlan) -> Iterator[str]:
    if plan.stood_in:
        instead = f"{plan.stood_in.instead} stands in" if plan.stood_in.instead else "they are left out"
        yield f"No lip slurs: in concert {key_words(plan.choice.key.name)} these horns have different open notes; {instead}."
    if plan.roomless:
        yield f"No notes that all share for {_listed(plan.roomless)}: left out."
    if plan.timeless:
        yield f"No time left for {_listed(plan.timeless)}."


def keys_of(plan: ClassPlan, member: Member) -> list[str]:
    """Return the other concert keys that a player reads."""
    return [key_words(one.key.name) for one in plan.choice.passed if member.place not in {place for place, _ in one.unread}]
