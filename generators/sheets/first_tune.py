"""The tune of a beginner's sheet: one that comes to his newest notes."""

from dataclasses import replace
from itertools import chain

from generators.brass.grade import grade_on
from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.studies.catalogue import first_notes, make
from generators.studies.etude.study import EtudeRequest
from generators.theory.pitch import extremes, parse_pitch

# So many other tunes are tried, their seeds so far apart; within so many half-steps of the lowest note a tune is down there:
# our choice.
_OTHERS, _APART, _NEAR = 11, 1000, 2


def to_new_notes(request: EtudeRequest) -> EtudeRequest:
    """Return a beginner's tune that comes to the highest note he named, or near a lowest one under his grade; else as it is."""
    if not (request.low and request.high) or not grade_on(first_notes(request).grade, horn(request.horn)).beginner:
        return request
    others = (replace(request, seed=request.seed + _APART * number) for number in range(1, _OTHERS + 1))
    return next((one for one in chain((request,), others) if _comes_there(one)), request)


def _comes_there(request: EtudeRequest) -> bool:
    try:
        low, high = extremes(note.pitch for note in make(request).notes)
    except BadRequest:
        return False
    lowest, known = parse_pitch(request.low), grade_on(first_notes(request).grade, horn(request.horn)).low
    return high.midi == parse_pitch(request.high).midi or (lowest < known and low.midi <= lowest.midi + _NEAR)
