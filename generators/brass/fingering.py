"""Fingerings: every tube and partial that gives a note, the usual one first, with a word for the player."""

from dataclasses import dataclass
from functools import cache

from generators.brass.horn import Horn
from generators.brass.tube import HIGHEST_PARTIAL, RARE_PARTIALS, partial_cents, partial_midi, partial_pitch
from generators.errors import BadRequest, Refusal
from generators.theory.pitch import Pitch

# Past half a half-step a partial is nearer to another note.
_TOO_FAR = 50.0
# Below this nobody moves a slide: our choice.
_AUDIBLE = 10.0
# Source for the pedals' tendency and for the gap: two teaching articles, "Some ideas about pedal tones" (26 June 2018) and "The
# fingerings I use on pedals" (22 October 2018).
_PEDAL = "pedal: tends flat, lip it up"
_LIPPED = "lip it down: no resonance here"


@dataclass(frozen=True, slots=True)
class Fingering:
    """One way to a note: a tube and a partial on it."""

    valves: str
    """The tube: a valve set, or the position of a slide."""
    partial: int
    """The partial; 0 for a lipped note, which has none."""
    cents: float
    """How far the tube is from equal temperament, sharp positive; 0 for a lipped note."""
    kind: str = ""
    """Nothing; "pedal" on a first partial; "lipped" where no partial helps and the octave's fingering marks the place."""
    advice: str = ""


def _advice(horn: Horn, tube: str, partial: int, cents: float) -> str:
    own = horn.resonator
    if partial == 1:
        return _PEDAL
    if partial in RARE_PARTIALS:
        return f"rarely used: {'sharp' if partial_cents(partial) > 0 else 'flat'} {partial}th partial"
    if tube in own.instead:
        return f"{tube} is nearer in tune than {own.instead[tube]}"
    if abs(cents) < _AUDIBLE:
        return ""
    return own.pulls.get(tube, own.sharp) if cents > 0 else own.pushes.get(tube, own.flat)


@cache
def _fingering(horn: Horn, tube: str, partial: int) -> Fingering:
    cents = round(partial_cents(partial) + horn.resonator.cents(tube), 1) + 0.0  # no negative zero
    return Fingering(tube, partial, cents, "pedal" if partial == 1 else "", _advice(horn, tube, partial, cents))


def _lipped(horn: Horn, midi: int) -> Fingering | None:
    above = _on_next(horn, midi + 12, horn.tubes)
    return above and Fingering(above.valves, 0, 0.0, "lipped", _LIPPED)


def _on_next(horn: Horn, midi: int, tubes: tuple[str, ...]) -> Fingering | None:
    """Return the fingering of a note below the next usual partial, where one of the tubes gives it."""
    partial = _next(horn, midi)
    lowering = partial_midi(horn, horn.tubes[0], partial) - midi if partial else len(tubes)
    return _fingering(horn, tubes[lowering], partial) if lowering < len(tubes) else None


def _next(horn: Horn, midi: int) -> int:
    """Return the first usual partial of the open tube that is no lower than a note; 0 above them all."""
    return next((n for n in horn.partials if partial_midi(horn, horn.tubes[0], n) >= midi), 0)


@cache
def _usual(midi: int, horn: Horn) -> Fingering | None:
    partial = _next(horn, midi)
    # A first partial is played on the seven tubes only: below them nothing is asked of anyone.
    tubes = horn.tubes + horn.resonator.more if partial > 1 else horn.tubes
    return _on_next(horn, midi, tubes) or (_lipped(horn, midi) if partial > 1 else None)


def _others(midi: int, horn: Horn, partials: range) -> list[Fingering]:
    ways = [_fingering(horn, tube, n) for n in partials for tube in horn.sets if partial_midi(horn, tube, n) == midi]
    near = [way for way in ways if abs(way.cents) <= _TOO_FAR]
    return sorted(near, key=lambda way: (way.partial in RARE_PARTIALS, abs(way.cents)))


@cache
def _fingerings(midi: int, horn: Horn) -> tuple[Fingering, ...]:
    first = _usual(midi, horn)
    if first is None or first.kind == "lipped":
        return (first,) if first else ()
    partials = range(1, 2) if first.kind == "pedal" else range(2, HIGHEST_PARTIAL + 1)
    return (first, *(way for way in _others(midi, horn, partials) if way != first))


def usual(pitch: Pitch, horn: Horn) -> Fingering | None:
    """Return the usual fingering of a written note; None below the pedals or above the last usual partial."""
    return _usual(pitch.midi, horn)


def fingerings(pitch: Pitch, horn: Horn) -> tuple[Fingering, ...]:
    """Return every fingering of a written note: the usual one, then the nearest in tune, rare partials last."""
    if not isinstance(pitch, Pitch):
        raise BadRequest(Refusal("pitch", repr(pitch), "is none", do='give one, such as parse_pitch("F#3")'))
    if not isinstance(horn, Horn):
        raise BadRequest(Refusal("horn", repr(horn), "is none", do='give one, such as horn("cornet")'))
    return _fingerings(pitch.midi, horn)


def compass(horn: Horn) -> tuple[Pitch, Pitch]:
    """Return the lowest and the highest written note that has a fingering."""
    return horn.pedal_floor, partial_pitch(horn, horn.tubes[0], horn.partials[-1])
