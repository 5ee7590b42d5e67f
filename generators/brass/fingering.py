"""Fingerings: every valve set and partial that gives a note, the usual one first, with a word for the player."""

from dataclasses import dataclass
from functools import cache

from generators.brass.horn import Horn
from generators.brass.tube import (
    HIGHEST_PARTIAL,
    LONG_TUBES,
    RARE_PARTIALS,
    SETS,
    TUBES,
    partial_cents,
    partial_midi,
    valve_cents,
)
from generators.theory.pitch import Pitch

# The partials that charts finger from: a note lies on the shortest tube below the next of them. Source: the chart "trumpet
# overtone series", Wikimedia Commons, up to C#6; above that common practice, no source.
_USUAL_PARTIALS = (1, 2, 3, 4, 5, 6, 8, 10, 12, 16)
# Past half a half-step a partial is nearer to another note.
_TOO_FAR = 50.0
# Below this nobody moves a slide.
_AUDIBLE = 10.0
# Source for D4, C#4, G3 and F#3: Wikipedia, "Brass instrument", on valve compensation.
_SLIDES = {"1-3": "third slide out", "1-2-3": "third slide well out"}
_SLIDES |= dict.fromkeys(LONG_TUBES, "slides well out, lip it down")
_INSTEAD = {"4": "1-3", "2-4": "1-2-3"}
# Source for the pedals' tendency and for the gap: two teaching articles, "Some ideas about pedal tones" (June 2018) and "The
# fingerings I use on pedals" (October 2018).
_PEDAL = "pedal: tends flat, lip it up"
_LIPPED = "lip it down: no resonance here"


@dataclass(frozen=True, slots=True)
class Fingering:
    """One way to a note: a valve set and a partial on it."""

    valves: str
    partial: int
    """The partial; 0 for a lipped note, which has none."""
    cents: float
    """How far the tube is from equal temperament, sharp positive; 0 for a lipped note."""
    kind: str = ""
    """Nothing; "pedal" on a first partial; "lipped" where no partial helps and the octave's fingering marks the place."""
    advice: str = ""


def _advice(valves: str, partial: int, cents: float) -> str:
    if partial == 1:
        return _PEDAL
    if partial in RARE_PARTIALS:
        return f"rarely used: {'sharp' if partial_cents(partial) > 0 else 'flat'} {partial}th partial"
    if valves in _INSTEAD:
        return f"{valves} is nearer in tune than {_INSTEAD[valves]}"
    if abs(cents) < _AUDIBLE:
        return ""
    return _SLIDES.get(valves, "tends sharp") if cents > 0 else "tends flat"


@cache
def _fingering(valves: str, partial: int) -> Fingering:
    cents = round(partial_cents(partial) + valve_cents(valves), 1) + 0.0  # no negative zero
    return Fingering(valves, partial, cents, "pedal" if partial == 1 else "", _advice(valves, partial, cents))


def _lipped(midi: int) -> Fingering | None:
    above = _usual(midi + 12, 3)
    return above and Fingering(above.valves, 0, 0.0, "lipped", _LIPPED)


@cache
def _usual(midi: int, valves: int) -> Fingering | None:
    partial = next((n for n in _USUAL_PARTIALS if partial_midi("0", n) >= midi), None)
    if partial is None:
        return None
    # A first partial is played on the seven short tubes only: below F#2 nothing is asked of anyone.
    tubes = TUBES + LONG_TUBES if valves == 4 and partial > 1 else TUBES
    lowering = partial_midi("0", partial) - midi
    if lowering < len(tubes):
        return _fingering(tubes[lowering], partial)
    return _lipped(midi) if partial > 1 else None


def _others(midi: int, valves: int, partials: range) -> list[Fingering]:
    ways = [_fingering(s, n) for n in partials for s in SETS[valves] if partial_midi(s, n) == midi]
    near = [way for way in ways if abs(way.cents) <= _TOO_FAR]
    return sorted(near, key=lambda way: (way.partial in RARE_PARTIALS, abs(way.cents)))


@cache
def _fingerings(midi: int, valves: int) -> tuple[Fingering, ...]:
    first = _usual(midi, valves)
    if first is None or first.kind == "lipped":
        return (first,) if first else ()
    partials = range(1, 2) if first.kind == "pedal" else range(2, HIGHEST_PARTIAL + 1)
    return (first, *(way for way in _others(midi, valves, partials) if way != first))


def usual(pitch: Pitch, horn: Horn) -> Fingering | None:
    """Return the usual fingering of a written note; None outside F#2 to C7."""
    return _usual(pitch.midi, horn.valves)


def fingerings(pitch: Pitch, horn: Horn) -> tuple[Fingering, ...]:
    """Return every fingering of a written note: the usual one, then the nearest in tune, rare partials last."""
    return _fingerings(pitch.midi, horn.valves)
