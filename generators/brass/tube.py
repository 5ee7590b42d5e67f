"""The tube: what each valve set makes of it, the partials it sounds, and how far both lie from equal temperament."""

from functools import cache
from math import log2

from generators.errors import BadRequest, unknown
from generators.theory.pitch import Pitch, simple

# The written first partial of the open tube, C3, on every treble-clef valved brass instrument.
FUNDAMENTAL = 48
HIGHEST_PARTIAL = 16
# The seven tubes of three valves, in order: each lowers the open one by its place in the row.
TUBES = ("0", "2", "1", "1-2", "2-3", "1-3", "1-2-3")
# The lowest note of three valves, the second partial of the longest tube, F#3.
LOWEST_TUBE = Pitch("F", 1, 3)
# The five that a fourth valve adds below them, lowering by 7 to 11; 3-4 rather than 1-2-4, as charts for four valves print it.
LONG_TUBES = ("1-4", "3-4", "2-3-4", "1-3-4", "1-2-3-4")
# Every set of three valves, and those with the fourth.
SETS = {3: (*TUBES, "3"), 4: (*TUBES, "3", "4", "2-4", "1-2-4", *LONG_TUBES)}
# Too far from any note of the scale to be a usual fingering. Source for the seventh: Colwell, Hewitt and Fonder, The Teaching
# of Instrumental Music, 5th ed., p. 215; the others by arithmetic.
RARE_PARTIALS = (7, 11, 13, 14)

_HALF_STEPS = {"0": 0, "1": 2, "2": 1, "3": 3, "4": 5}


def _exact(half_steps: int) -> float:
    # The tube that lowers by so many tempered half-steps, as a multiple of the open one.
    return float(2 ** (half_steps / 12))


# Added length as a share of the open tube: valves 1 and 2 exact alone, valve 3 as long as 2-3 needs to be exact. Computed; it
# lies between the published models (single valves exact; lengths 1/15, 1/8 and 1/5, Xenharmonic Wiki, "Trumpet"). Lengths add:
# T. R. Moore, The Acoustics of Brass Musical Instruments, Acoustics Today, Winter 2016. Valve 4 exact: common practice, no
# source.
_ADDED = {"0": 0.0, "1": _exact(2) - 1, "2": _exact(1) - 1, "3": _exact(4) - _exact(1), "4": _exact(5) - 1}


def _checked(valves: str) -> list[str]:
    if valves not in SETS[4]:
        raise unknown("valve set", valves, SETS[4])
    return valves.split("-")


def _above(partial: int) -> float:
    # Cents from the first partial to another.
    if not 1 <= partial <= HIGHEST_PARTIAL:
        raise BadRequest(f"partial {partial} is not on the chart; allowed: 1 to {HIGHEST_PARTIAL}.")
    return 1200 * log2(partial)


@cache
def lowered(valves: str) -> int:
    """Return by how many half-steps a valve set lowers the open tube, as it is fingered."""
    return sum(_HALF_STEPS[valve] for valve in _checked(valves))


@cache
def valve_cents(valves: str) -> float:
    """Return how far a valve set is from its half-steps, sharp positive."""
    length = 1 + sum(_ADDED[valve] for valve in _checked(valves))
    return 100 * lowered(valves) - 1200 * log2(length)


def partial_cents(partial: int) -> float:
    """Return how far a partial is from the nearest tempered note, sharp positive."""
    return _above(partial) - 100 * round(_above(partial) / 100)


@cache
def partial_midi(valves: str, partial: int) -> int:
    """Return the written MIDI number of a partial: the note nearest it on the open tube, lowered as the valves are fingered."""
    return FUNDAMENTAL + round(_above(partial) / 100) - lowered(valves)


def partial_pitch(valves: str, partial: int, sharp: bool = True) -> Pitch:
    """Return the written note of a partial in its plain spelling, with sharps or flats."""
    return simple(partial_midi(valves, partial), sharp)


def tube_cents(valves: str, midi: int) -> float:
    """Return how far the partial of a tube that gives a written note is from temperament; 0 where none gives it."""
    found = (n for n in range(1, HIGHEST_PARTIAL + 1) if partial_midi(valves, n) == midi)
    return next((partial_cents(n) + valve_cents(valves) for n in found), 0.0)
