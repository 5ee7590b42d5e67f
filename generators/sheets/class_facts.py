"""What a report tells of a class beside its music: parts, keys, and who cannot play what."""

from collections.abc import Iterator
from typing import Any

from generators.band.joining import ClassLine
from generators.band.keys import PassedOver, written_key
from generators.band.plan import ClassItem, ClassPlan
from generators.band.request import Member
from generators.sheets.class_words import beyond_words, called, score_words
from generators.theory.interval import interval_name
from generators.theory.pitch import extremes


def class_facts(plan: ClassPlan) -> dict[str, Any]:
    """Return what a report tells of a class."""
    return {
        "concert_key": plan.choice.key.name,
        "minutes": round(plan.seconds / 60, 2),
        "programme": [_item_facts(plan, item) for item in plan.items],
        "parts": [part_facts(plan, member) for member in plan.reading if plan.studies(member)],
        "keys_passed_over": [_passed_facts(plan, one) for one in plan.choice.passed],
        "cannot_join": list(_absence_facts(plan)),
        "told": list(score_words(plan)),
    }


def study_key(plan: ClassPlan, item: ClassItem) -> str:
    """Return what a report calls a study: its name, and for a second tune its number too."""
    first = next(one for one in plan.items if one.shared.name == item.shared.name)
    return item.shared.name if first is item else f"{item.shared.name}-{item.number}"


def _item_facts(plan: ClassPlan, item: ClassItem) -> dict[str, Any]:
    return {
        "study": study_key(plan, item),
        "title": item.shared.study.title,
        "tempo": item.shared.study.tempo,
        "seconds": round(item.shared.seconds, 1),
        "rest": item.rest,
    }


def part_facts(plan: ClassPlan, member: Member) -> dict[str, Any]:
    """Return what a report tells of a player's part; octaves by study, over the first player's."""
    low, high = extremes(note.pitch for study in plan.studies(member) for note in study.notes)
    first = [line.octaves if isinstance(line, ClassLine) else 0 for _, line in plan.lines(plan.reading[0])]
    lines = list(zip(plan.lines(member), first, strict=True))
    return {
        "name": called(plan, member),
        "horn": member.horn.id,
        "transposition": interval_name(member.horn.interval),
        "reads": written_key(plan.choice.key, member.horn).name,
        "clef": member.horn.clef.name,
        "lowest": low.name,
        "highest": high.name,
        "octave": {study_key(plan, item): line.octaves - own for (item, line), own in lines if isinstance(line, ClassLine)},
        "simpler": [study_key(plan, item) for (item, line), _ in lines if isinstance(line, ClassLine) and line.beyond],
        "lower": [study_key(plan, item) for (item, line), _ in lines if isinstance(line, ClassLine) and line.lower],
        "plainer": [study_key(plan, item) for (item, line), _ in lines if isinstance(line, ClassLine) and line.plainer],
    }


def _passed_facts(plan: ClassPlan, one: PassedOver) -> dict[str, Any]:
    unread = [{"name": called(plan, plan.members[place]), "would_read": key.name} for place, key in one.unread]
    return {"key": one.key.name, "why": "not read yet" if unread else "lies less well", "unread_by": unread}


def _absence_facts(plan: ClassPlan) -> Iterator[dict[str, Any]]:
    for place, key in plan.choice.unread:
        why = f"{key.name} is not read yet"
        yield {"name": called(plan, plan.members[place]), "study": "all", "note": "", "why": why, "instead": "nothing"}
    for member in plan.reading:
        for item, line in plan.lines(member):
            if line.beyond:
                instead = "simpler line" if isinstance(line, ClassLine) else "rests"
                yield {
                    "name": called(plan, member),
                    "study": study_key(plan, item),
                    "note": line.beyond.name,
                    "why": beyond_words(line.beyond, member, "the limit"),
                    "instead": instead,
                }
