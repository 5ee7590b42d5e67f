"""A study in silence: the bars of the others, counted by one who rests."""

from dataclasses import replace

from generators.band.moving import moved_study
from generators.band.request import Member
from generators.phrase.algebra import length
from generators.phrase.note import Rest
from generators.phrase.study import Strain, Study
from generators.theory.key import Key


def silent_study(study: Study, member: Member, concert: Key) -> Study:
    """Return a study on a player's horn whose every bar is a rest."""
    moved = moved_study(study, member, concert, 0)
    return replace(moved, strains=tuple(map(_silent, moved.strains)))


def _silent(strain: Strain) -> Strain:
    whole = length(strain.music)
    early = (Rest(strain.upbeat),) if strain.upbeat else ()
    bars = (whole - strain.upbeat) // strain.meter.bar
    last = whole - strain.upbeat - bars * strain.meter.bar
    return replace(strain, music=(*early, *([Rest(strain.meter.bar)] * bars), *((Rest(last),) if last else ())), lines=())
