"""A study moved from one horn to another: the same bars, rhythms and marks, each note as many half-steps away."""

from dataclasses import replace

from generators.band.keys import written_key
from generators.band.request import Member
from generators.brass.horn import Horn, horn
from generators.phrase.algebra import mapped
from generators.phrase.label import Label
from generators.phrase.note import Note, Phrase
from generators.phrase.study import Limits, Strain, Study
from generators.studies.catalogue import KINDS
from generators.theory.interval import Interval, between, transpose
from generators.theory.key import Key, moved, way
from generators.theory.pitch import Pitch, simple

# What a slide is told of slurs.
_DOO = "{doo}"


def moved_study(study: Study, member: Member, concert: Key, octaves: int) -> Study:
    """Return a study as a player reads it whose line sounds so many octaves higher or lower."""
    home = horn(study.horn)
    half_steps = home.sounding_half_steps + 12 * octaves - member.horn.sounding_half_steps
    return replace(
        study,
        horn=member.horn.id,
        aim=_aim(study, member),
        also="",
        remarks=(),
        strains=tuple(_strain(strain, home, member, half_steps) for strain in study.strains),
        limits=member_limits(member, concert),
        rungs=tuple(simple(rung.midi + half_steps, rung.alter >= 0) for rung in study.rungs),
    )


def member_limits(member: Member, concert: Key) -> Limits:
    """Return what a player can be asked in a class: his own limits, and the key that all share."""
    limits = member.limits
    key = written_key(concert, member.horn).name
    return replace(limits, keys=(*limits.keys, key)) if limits.keys and key not in limits.keys else limits


def _aim(study: Study, member: Member) -> str:
    """Return what is to be heard, in general: no note is named, for it is another on every horn."""
    return child_words(study, member) if member.grade.child else member.horn.said(KINDS[study.kind].aim)


def child_words(study: Study, member: Member) -> str:
    """Return what is to be heard, in words for a child, and on a slide how what is slurred is begun."""
    return slurring(" ".join(filter(None, KINDS[study.kind].child_aim)), study, member)


def slurring(words: str, study: Study, member: Member) -> str:
    """Return words for a child, on a slide with how what is slurred in a study is begun."""
    slurred = any(note.slur_open for note in study.notes) and _DOO not in words
    return member.horn.said(f"{words}{_DOO}" if slurred else words)


def _strain(strain: Strain, home: Horn, member: Member, half_steps: int) -> Strain:
    there = member.horn
    if strain.tube:
        tube = _tube(strain.tube, home, there)
        interval = between(home.fundamental, there.fundamental)
        label = replace(strain.label, tube=there.resonator.label(tube), detail=there.resonator.opened(tube))
        return replace(strain, tube=tube, label=label, music=_moved_line(strain.music, interval, home, there))
    key = _key(strain.key, home, member)
    interval = way(strain.key, key, half_steps)
    music = _moved_line(strain.music, interval, home, there)
    return replace(strain, key=key, label=_label(strain.label, interval, home, member), music=music)


def _key(key: Key, home: Horn, member: Member) -> Key:
    return written_key(moved(key, home.interval), member.horn)


def _label(label: Label, interval: Interval, home: Horn, member: Member) -> Label:
    return replace(
        label,
        key=_key(label.key, home, member) if label.key else None,
        concert=None,
        root=transpose(label.root, interval) if label.root else None,
        note=transpose(label.note, interval) if label.note else None,
    )


def _moved_line(music: Phrase[Pitch], interval: Interval, home: Horn, there: Horn) -> Phrase[Pitch]:
    moved_on = mapped(music, lambda pitch: transpose(pitch, interval))
    return tuple(_fingered(event, home, there) if isinstance(event, Note) else event for event in moved_on)


def _fingered(note: Note[Pitch], home: Horn, there: Horn) -> Note[Pitch]:
    """Return a note with the tube that is written over it named as on the other horn."""
    return replace(note, valves=_tube(note.valves, home, there)) if note.valves else note


def _tube(tube: str, home: Horn, there: Horn) -> str:
    """Return the tube of the other horn that is as much longer than its open one."""
    return there.tubes[home.resonator.lowered(tube)]
