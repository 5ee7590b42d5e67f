"""Shaping a line to a player: the octave it lies in, the breaths it needs, the compass that is left; never clipping."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from generators.errors import BadRequest, Refusal
from generators.phrase.algebra import breaths, length, notes
from generators.phrase.in_key import in_key
from generators.phrase.note import Degree, Note, P, Phrase
from generators.phrase.study import Limits
from generators.studies.kit.setting import OffTempo, Setting
from generators.theory.key import Key
from generators.theory.pitch import Pitch

# How far an altered note may lie from its degree, in half-steps.
_ALTERED = 2


class NoFit(BadRequest):
    """No shape of the study fits the player's limits; the refusal says which note stands where."""


def inside(phrase: Phrase[Pitch], limits: Limits) -> bool:
    """Tell whether every note lies between the player's lowest and highest."""
    return all(limits.low.midi <= note.pitch.midi <= limits.high.midi for note in notes(phrase))


def leap(phrase: Phrase[Pitch]) -> int:
    """Return the widest leap in half-steps; over a rest or a breath nothing is a leap."""
    stretches = ([note.pitch.midi for note in stretch] for stretch in breaths(phrase))
    return max((abs(b - a) for stretch in stretches for a, b in pairwise(stretch)), default=0)


def middle(phrase: Phrase[Pitch]) -> float:
    """Return the average pitch of a line as a MIDI number, long notes counting for more."""
    line = notes(phrase)
    return float(sum(n.pitch.midi * n.length for n in line) / sum(n.length for n in line))


def seats(phrase: Phrase[Degree], key: Key, limits: Limits) -> list[Phrase[Pitch]]:
    """Return the line in a key in every octave in which the player reaches all of it, lowest first."""
    lines = (in_key(phrase, key, octave) for octave in _octaves(phrase, key, limits))
    return [line for line in lines if inside(line, limits)]


def _octaves(phrase: Phrase[Degree], key: Key, limits: Limits) -> Iterator[int]:
    """Yield the octaves in which a line may lie in the range; its outer notes may be altered by a half-step or two."""
    degrees = [note.pitch.index for note in notes(phrase)]
    lowest, highest = min(degrees), max(degrees)
    for octave in range(1, 8):
        low, high = key.degree(lowest, octave).midi, key.degree(highest, octave).midi
        if low >= limits.low.midi - _ALTERED and high <= limits.high.midi + _ALTERED:
            yield octave


def centre(limits: Limits) -> float:
    """Return the MIDI number a study settles round: a little below the middle of the range, where the lips are fresh."""
    return 0.55 * limits.low.midi + 0.45 * limits.high.midi


def all_seated(phrase: Phrase[Degree], keys: Sequence[Key], limits: Limits) -> list[Phrase[Pitch]] | None:
    """Return the line in every key, each near the one before it and the middle of the range; None if any key fits nowhere.

    What is narrowed for one key is so narrowed for all.
    """
    taken: list[Phrase[Pitch]] = []
    for key in keys:
        before = middle(taken[-1]) if taken else centre(limits)
        found = seats(phrase, key, limits)
        if not found:
            return None
        taken.append(min(found, key=lambda line: abs(middle(line) - before) + 0.8 * abs(middle(line) - centre(limits))))
    return taken


def breathed(phrase: Phrase[P], tempo: int, seconds: float) -> Phrase[P]:
    """Return the phrase with as many of its possible breaths taken as the air needs, the fewest and the latest."""
    room = Fraction(int(seconds * tempo), 240)
    taken: list[int] = []
    start, last = Fraction(0), -1
    now = Fraction(0)
    for i, event in enumerate(phrase):
        now += event.length
        if now - start > room and last >= 0:
            taken.append(last)
            start, last = length(phrase[: taken[-1] + 1]), -1
        if not isinstance(event, Note) or event.breath:
            start, last = now, -1
        elif event.may_breathe:
            last = i
    return _with_breaths(phrase, taken)


def _with_breaths(phrase: Phrase[P], taken: Sequence[int]) -> Phrase[P]:
    events = list(phrase)
    under = False
    for i, event in enumerate(events):
        if not isinstance(event, Note):
            continue
        before, under = under, (under or event.slur_open) and not event.slur_close
        if i in taken:
            # Where a slur would begin with the breath, the note stands alone.
            events[i] = replace(event, breath=True, slur_open=event.slur_open and not under, slur_close=before)
            following = events[i + 1]
            if under and isinstance(following, Note):
                alone = following.slur_close
                events[i + 1] = replace(following, slur_open=not alone, slur_close=False)
    return tuple(events)


def longest(phrase: Phrase[Pitch]) -> Fraction:
    """Return the longest stretch without a breath or a rest, in whole notes."""
    return max((length(stretch) for stretch in breaths(phrase)), default=Fraction(0))


def needed(music: Sequence[Phrase[Pitch]], limits: Limits) -> int:
    """Return the slowest tempo at which the longest phrase still fits into one breath."""
    whole = max(longest(phrase) for phrase in music)
    return -(-int(whole * 240 * 1000) // int(limits.breath * 1000))


def with_air(lines: Sequence[Phrase[Pitch]], setting: Setting) -> tuple[list[Phrase[Pitch]], int]:
    """Return the lines with the breaths they need and their tempo: the study's own is quickened where the air is short.

    A tempo the player asked for is kept; if a phrase outlasts the breath at it, OffTempo names the tempo that may do.
    """
    limits, tempo = setting.limits, setting.tempo
    music = [breathed(line, tempo, limits.breath) for line in lines]
    while needed(music, limits) > tempo:
        out_of_breath("the longest phrase", needed(music, limits), setting)
        tempo = min(needed(music, limits), tempo + 4)
        music = [breathed(line, tempo, limits.breath) for line in lines]
    return music, tempo


def out_of_breath(what: str, tempo: int, setting: Setting) -> None:
    """Refuse a study that needs a quicker tempo than was asked for, or than the player may be asked."""
    breath = f"the breath of {setting.limits.breath:.0f} s"
    if tempo > setting.limits.tempo:
        raise NoFit(Refusal(what, why=f"needs tempo {tempo} for {breath}, past {setting.limits.tempo}"))
    if setting.tempo_asked:
        raise OffTempo(Refusal(what, why=f"outlasts {breath} at tempo {setting.tempo}"), tempo)
