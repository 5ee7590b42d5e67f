"""Rests at the ends of lines, as those read them who know no sign but that of one bar."""

from dataclasses import replace
from itertools import takewhile

from generators.phrase.note import Rest
from generators.phrase.study import Strain, Study


def with_single_rests(study: Study) -> Study:
    """Return a study whose lines end with one bar of rest at the most; a tune stays as it is."""
    return study if study.piece else replace(study, strains=tuple(map(_shortened, study.strains)))


def _shortened(strain: Strain) -> Strain:
    bars = sum(1 for _ in takewhile(lambda event: event == Rest(strain.meter.bar), reversed(strain.music)))
    more = max(0, bars - 1)
    lines = (*strain.lines[:-1], strain.lines[-1] - more) if strain.lines else ()
    return replace(strain, music=strain.music[: len(strain.music) - more], lines=lines) if more else strain
