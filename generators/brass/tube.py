"""The partials that a horn sounds on each of its tubes, and how far they lie from equal temperament."""

from functools import cache
from math import log2

from generators.brass.horn import CONVENTION, Horn
from generators.errors import BadRequest, Refusal
from generators.theory.interval import between, transpose
from generators.theory.pitch import Pitch, parse_pitch

HIGHEST_PARTIAL = 16
# Too far from any note of the scale to be a usual fingering. Source for the seventh: Colwell, Hewitt and Fonder, The Teaching
# of Instrumental Music, 5th ed., p. 215; the others by arithmetic.
RARE_PARTIALS = (7, 11, 13, 14)
# The open series over C3, as charts spell it; partial n stands at place n - 1.
_SERIES = tuple(
    between(CONVENTION, parse_pitch(name))
    for name in ["C3", "C4", "G4", "C5", "E5", "G5", "Bb5", "C6", "D6", "E6", "F#6", "G6", "Ab6", "Bb6", "B6", "C7"]
)


def _above(partial: int) -> float:
    # Cents from the first partial to another.
    if not 1 <= partial <= HIGHEST_PARTIAL:
        raise BadRequest(Refusal("partial", partial, "is not on the chart", allowed=f"1 to {HIGHEST_PARTIAL}"))
    return 1200 * log2(partial)


def partial_cents(partial: int) -> float:
    """Return how far a partial is from the nearest tempered note, sharp positive."""
    return _above(partial) - 100 * round(_above(partial) / 100)


@cache
def partial_midi(horn: Horn, tube: str, partial: int) -> int:
    """Return the written MIDI number of a partial: the note nearest it on the open tube, lowered as the tube is played."""
    return horn.fundamental.midi + round(_above(partial) / 100) - horn.resonator.lowered(tube)


@cache
def partial_pitch(horn: Horn, tube: str, partial: int) -> Pitch:
    """Return the written note of a partial on a tube, spelled as a chord note of the tube's own major chord."""
    _above(partial)
    return transpose(transpose(horn.fundamental, _SERIES[partial - 1]), horn.resonator.interval(tube))


def tube_cents(horn: Horn, tube: str, midi: int) -> float:
    """Return how far the partial of a tube that gives a written note is from temperament; 0 where none gives it."""
    found = (n for n in range(1, HIGHEST_PARTIAL + 1) if partial_midi(horn, tube, n) == midi)
    return next((partial_cents(n) + horn.resonator.cents(tube) for n in found), 0.0)
