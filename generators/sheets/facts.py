"""What reports and pages tell of days beside their music: parts, minutes, load and growth."""

from collections.abc import Sequence
from typing import Any

from generators.phrase.study import Study
from generators.routine.day import Day
from generators.routine.growth_words import reason
from generators.routine.load import load
from generators.routine.requests import RoutineRequest


def sentence(words: str) -> str:
    """Return words as a sentence; nothing for none."""
    return f"{words[:1].upper()}{words[1:]}." if words else ""


def growth_words(request: RoutineRequest) -> str:
    """Return why the top is where it is, as a sentence; nothing without a log."""
    return sentence(reason(request.growth, request.on)) if request.growth else ""


def part_keys(study: Study) -> tuple[str, ...]:
    """Return the keys, or the tubes, of a study, each once."""
    return tuple(dict.fromkeys(strain.tube or strain.key.name for strain in study.strains))


def routine_facts(days: Sequence[Day], request: RoutineRequest) -> dict[str, Any]:
    """Return what a report tells of days; times in seconds but for minutes. Days and parts hold requests that it codes."""
    loads = [load(day) for day in days]
    between = sum(part.rest for day in days for part in day.parts)
    total = sum(day.seconds for day in days)
    return {
        "days": [_day(day) for day in days],
        "parts": [_told(day, place) for day in days for place in range(len(day.parts))],
        "seconds_music": round(total - between, 1),
        "seconds_between": between,
        "minutes": round(total / 60, 2),
        "load": {
            "minutes_above_stave": round(sum(each.above for each in loads) / 60, 2),
            "minutes_of_high_work": round(sum(each.high for each in loads) / 60, 2),
            "longest_stretch_seconds": round(max(each.longest for each in loads), 1),
            "share_of_rest": round(sum(each.rest for each in loads) / len(loads), 3),
        },
        "growth": growth_words(request),
    }


def _day(day: Day) -> dict[str, Any]:
    low, high = day.reach
    return {
        "date": day.on.isoformat(),
        "kind": day.kind,
        "horn": day.context.horn.id,
        "minutes": round(day.seconds / 60, 2),
        "lowest": low.name,
        "highest": high.name,
        "keys": list(day.context.keys.all),
        "told": day.told,
        "request": day.request,
    }


def _told(day: Day, place: int) -> dict[str, Any]:
    part = day.parts[place]
    return {
        "day": day.on.isoformat(),
        "part": part.name,
        "title": part.study.title,
        "keys": list(part_keys(part.study)),
        "tempo": part.study.tempo,
        "seconds": round(part.seconds, 1),
        "rest": part.rest,
        "covers": list(part.areas),
        "request": part.request,
    }
