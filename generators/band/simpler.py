"""The nearest simpler line of a player who does not reach all of a study: the same rhythm, notes within his own range."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generators.band.keys import AN_OCTAVE
from generators.band.moving import moved_study
from generators.band.request import Member
from generators.brass.horn import Horn, horn
from generators.brass.tube import HIGHEST_PARTIAL, RARE_PARTIALS, partial_pitch
from generators.phrase.algebra import mapped, onsets
from generators.phrase.note import Event, Note, Phrase
from generators.phrase.study import Strain, Study
from generators.proof.finding import ERROR
from generators.proof.prove import prove
from generators.theory.key import Key
from generators.theory.pitch import Pitch

# The degrees of the tonic chord.
CHORD = (0, 2, 4)
# What a study is called whose lines are others than those of the others, though under the same labels, by which a teacher calls
# them; and what is to be heard of it, in words for a child.
SECOND_VOICE = "second voice"
SECOND_AIM = "This is the second voice. Listen: do we all start and stop together?"
_FARTHEST = 5
# Steps of the staff that a second voice lies lower, the third of a chord becomes its tonic so; and of an octave.
THIRD, FOURTH, STEPS_OF_AN_OCTAVE = 2, 3, 7
# The degrees of the tonic and of its fifth, and those that the chord on that has beside it.
TONIC, FIFTH, _DOMINANT = 0, 4, (1, 6)


@dataclass(frozen=True, slots=True)
class Simpler:
    """A simpler line, how many octaves it lies away, and the first note of the whole line that is out of reach."""

    study: Study | None
    """Nothing where not even its rhythm can be played."""
    octaves: int
    beyond: Pitch


def simpler_line(study: Study, member: Member, concert: Key) -> Simpler:
    """Return what a player plays of a study: what he reaches, and chord notes for the rest; else chord notes alone."""
    whole = _nearest(study, member, concert)
    beyond = next(note.pitch for note in whole.study.notes if not _reached(note.pitch, member))
    for change in (*((_relieved,) if member.grade.beginner else ()), _replaced, _all_tongued, _held):
        strains = tuple(beside(strain) for one in whole.study.strains for strain in change(one, member))
        easier = replace(whole.study, what=SECOND_VOICE, strains=strains)
        if len(strains) == len(study.strains) and playable_by(easier):
            return Simpler(easier, whole.octaves, beyond)
    return Simpler(None, whole.octaves, beyond)


def beside(strain: Strain) -> Strain:
    """Return a strain of a second voice that tells what the others play with it, by which a teacher calls it."""
    part = strain.label.part
    return replace(strain, label=replace(strain.label, part=f"others: {part}")) if part else strain


def playable_by(study: Study) -> bool:
    """Tell whether a study passes its proof."""
    return all(found.severity != ERROR for found in prove(study))


@dataclass(frozen=True, slots=True)
class _Moved:
    study: Study
    octaves: int


def _nearest(study: Study, member: Member, concert: Key) -> _Moved:
    """Return the study in the octave in which the player reaches most of its notes."""
    away = horn(study.horn).sounding_half_steps
    notes = [note.pitch.midi + away for note in study.notes]
    low, high = member.span
    middle = sum(notes) / len(notes)

    def merit(octaves: int) -> tuple[int, float]:
        reached = sum(low <= note + AN_OCTAVE * octaves <= high for note in notes)
        return reached, -abs(middle + AN_OCTAVE * octaves - member.centre)

    tubes = any(strain.tube for strain in study.strains)
    fixed = (member.tube - horn(study.horn).fundamental.midi - away) // AN_OCTAVE
    best = fixed if tubes else max(range(-_FARTHEST, _FARTHEST + 1), key=merit)
    return _Moved(moved_study(study, member, concert, best), best)


def _reached(pitch: Pitch, member: Member) -> bool:
    return member.limits.low.midi <= pitch.midi <= member.limits.high.midi


def _relieved(strain: Strain, member: Member) -> Iterator[Strain]:
    """Yield a strain that lies high, or goes too high, a third lower in its key, to relieve the lips; another as it is.

    Nothing where it does not lie so.
    """
    low, high = member.limits.low.midi, member.limits.high.midi
    heights = [note.pitch.midi for note in strain.notes]
    if max(heights) <= high and 2 * sum(heights) <= len(heights) * (low + high):
        yield strain
    elif in_its_key(strain) and not strain.tube:
        lower = lower_line(strain, member)
        if all(_reached(note.pitch, member) for note in lower.notes):
            yield lower


def lower_line(strain: Strain, member: Member) -> Strain:
    """Return a strain with what stands under each of its notes."""
    return _slurred(strain, tuple(under(strain, place, member) for place in range(len(strain.music))))


def under(strain: Strain, place: int, member: Member) -> Event[Pitch]:
    """Return what stands under a note of a strain: its third, so that both are of one chord.

    The tonic has none, for its chord would be minor: it stays where a line begins or rests, and under a slur, which goes by
    step; else its fifth lies under it.
    """
    event = strain.music[place]
    if not isinstance(event, Note):
        return event
    if _degree(strain.key, event.pitch) != TONIC:
        on_fifth = _degree(strain.key, event.pitch) == FIFTH and _on_dominant(strain, place)
        return replace(event, pitch=_lower(strain.key, event.pitch, THIRD + on_fifth))
    rests = event is strain.notes[0] or event is strain.notes[-1] or event.breath
    fourth, octave = (_lower(strain.key, event.pitch, steps) for steps in (FOURTH, STEPS_OF_AN_OCTAVE))
    stays = rests or any(place in slur for slur in _slurs(strain.music))
    ways = (event.pitch, fourth, octave) if stays else (fourth, event.pitch, octave)
    return replace(event, pitch=next((pitch for pitch in ways if _reached(pitch, member)), event.pitch))


def _on_dominant(strain: Strain, place: int) -> bool:
    """Tell whether the bar of a note has more of the dominant's chord than of the tonic's, beside the note of both."""
    bar_of = [(start - strain.upbeat) // strain.meter.bar for start in onsets(strain.music)]
    there = [event for event, bar in zip(strain.music, bar_of, strict=True) if bar == bar_of[place] and isinstance(event, Note)]
    tonic, dominant = (
        sum(note.length for note in there if _degree(strain.key, note.pitch) in degrees) for degrees in (CHORD[:2], _DOMINANT)
    )
    return dominant > tonic


def in_its_key(strain: Strain) -> bool:
    """Tell whether a strain has no note outside its key."""
    return all(note.pitch.alter == strain.key.alteration(note.pitch.step) for note in strain.notes)


def _lower(key: Key, pitch: Pitch, steps: int) -> Pitch:
    """Return the note of a key so many steps under another."""
    return key.degree(pitch.place - key.degree(0).place - steps)


def _degree(key: Key, pitch: Pitch) -> int:
    return (pitch.place - key.degree(0).place) % STEPS_OF_AN_OCTAVE


def _replaced(strain: Strain, member: Member) -> Iterator[Strain]:
    """Yield a strain with the chord note nearest to each note that is out of reach; nothing where there is none."""
    chord = chord_notes(strain, member)
    if chord:
        yield _slurred(strain, mapped(strain.music, lambda pitch: pitch if _reached(pitch, member) else _near(pitch, chord)))


def _all_tongued(strain: Strain, member: Member) -> Iterator[Strain]:
    """Yield a strain with such chord notes, all of it tongued."""
    yield from (_tongued(strain, easier.music) for easier in _replaced(strain, member))


def _held(strain: Strain, member: Member) -> Iterator[Strain]:
    """Yield a strain on one chord note, the lowest of the chord that the player has; nothing where there is none."""
    chord = chord_notes(strain, member)
    if chord:
        yield _tongued(strain, mapped(strain.music, lambda _: chord[0]))


def chord_notes(strain: Strain, member: Member) -> list[Pitch]:
    """Return the notes of the key's own chord that a player reaches, tonics first; on a tube its partials."""
    found = _partials(strain.tube, member.horn) if strain.tube else _degrees(strain.key)
    return [pitch for pitch in found if _reached(pitch, member)]


def _degrees(key: Key) -> list[Pitch]:
    return [key.degree(degree, octave) for degree in CHORD for octave in range(8)]


def _partials(tube: str, the_horn: Horn) -> list[Pitch]:
    usual = [n for n in range(2, HIGHEST_PARTIAL + 1) if n not in RARE_PARTIALS]
    return [partial_pitch(the_horn, tube, n) for n in usual]


def _near(pitch: Pitch, chord: Sequence[Pitch]) -> Pitch:
    return min(chord, key=lambda one: (abs(one.midi - pitch.midi), one.midi))


def _slurred(strain: Strain, music: Phrase[Pitch]) -> Strain:
    """Return a strain with other notes under its slurs, as far as they move: none goes from a note to the same."""
    runs = [run for slur in _slurs(music) for run in _moving(music, slur) if len(run) > 1]
    opened, closed = {run[0] for run in runs}, {run[-1] for run in runs}
    plain = tuple(
        replace(event, slur_open=i in opened, slur_close=i in closed, glide=False) if isinstance(event, Note) else event
        for i, event in enumerate(music)
    )
    return replace(strain, music=plain)


def _slurs(music: Phrase[Pitch]) -> Iterator[list[int]]:
    """Yield the places of the notes under each slur."""
    under: list[int] = []
    for place, event in enumerate(music):
        if isinstance(event, Note) and (under or event.slur_open):
            under.append(place)
            if event.slur_close:
                yield under
                under = [place] if event.slur_open and len(under) > 1 else []


def _moving(music: Phrase[Pitch], slur: Sequence[int]) -> Iterator[list[int]]:
    """Yield the places of a slur in runs, cut between two notes of the same pitch that are not tied."""
    run: list[int] = []
    for place in slur:
        before, event = music[run[-1]] if run else None, music[place]
        if isinstance(before, Note) and isinstance(event, Note) and before.pitch == event.pitch and not before.tie:
            yield run
            run = []
        run.append(place)
    yield run


def _tongued(strain: Strain, music: Phrase[Pitch]) -> Strain:
    """Return a strain with other notes, all of them tongued."""
    plain = tuple(replace(e, slur_open=False, slur_close=False, glide=False) if isinstance(e, Note) else e for e in music)
    return replace(strain, music=plain)
