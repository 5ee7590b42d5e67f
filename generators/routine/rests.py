"""The silence of a day: between its parts, by how hard each of them was, and after the lines of what is high."""

from collections.abc import Sequence
from dataclasses import replace
from math import ceil

from generators.phrase.note import Rest
from generators.phrase.study import Strain, Study

# How often the share is tried nearer: enough for a tenth of a second.
_TRIES = 32


def rests_between(total: float, bounds: Sequence[tuple[int, int]], efforts: Sequence[float]) -> list[int]:
    """Return as many whole seconds for each as its effort is worth, between its least and its most, that make up the total."""
    if not efforts:
        return []
    low, high = 0.0, max(most / effort for (_, most), effort in zip(bounds, efforts, strict=True))
    for _ in range(_TRIES):
        middle = (low + high) / 2
        short = sum(_shares(middle, bounds, efforts)) < total
        low, high = (middle, high) if short else (low, middle)
    return list(map(round, _shares(high, bounds, efforts)))


def _shares(one: float, bounds: Sequence[tuple[int, int]], efforts: Sequence[float]) -> list[float]:
    """Return the seconds of each where an effort of one is worth so many."""
    return [max(least, min(most, one * effort)) for (least, most), effort in zip(bounds, efforts, strict=True)]


def with_bars_off(study: Study, least: int) -> Study:
    """Return a study with so many bars of rest, at the least, after each line."""
    return replace(study, strains=tuple(_off(strain, least) for strain in study.strains)) if least else study


def _off(strain: Strain, least: int) -> Strain:
    *music, last = strain.music
    more = max(0, ceil(least - last.length / strain.meter.bar)) if isinstance(last, Rest) else 0
    rest = replace(last, length=last.length + more * strain.meter.bar)
    return replace(strain, music=(*music, rest), lines=(*strain.lines[:-1], strain.lines[-1] + more))
