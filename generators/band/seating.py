"""Where a class lies: spans of notes that players share, each an own number of octaves away."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generators.band.keys import AN_OCTAVE, FIVE_NOTES
from generators.band.request import Member
from generators.theory.key import Key

# A span of fewer half-steps holds no study; of more no class needs: our choice.
NARROWEST_SEAT, WIDEST_SEAT = 3, 24


@dataclass(frozen=True, slots=True)
class Seat:
    """A span of sounding notes, and who reaches all of it in an octave of his own."""

    low: int
    high: int
    joining: tuple[Member, ...]

    @property
    def width(self) -> int:
        """The half-steps from its lowest to its highest note."""
        return self.high - self.low


def shared_seats(members: Sequence[Member], key: Key, *, on_tubes: bool = False) -> list[Seat]:
    """Return the spans that players share: those of most players first, then those that hold most from the tonic up.

    On tubes nobody has a choice of octaves: what is one's third partial is everyone's.
    """
    first = members[0]
    bases = [member.tube - first.tube if on_tubes else 0 for member in members]
    found = {seat for low in _lows(members, bases, on_tubes) for seat in _from(low, members, bases, on_tubes)}
    widest = {(seat.joining, seat.low): seat for seat in sorted(found, key=lambda seat: seat.width)}
    return sorted(widest.values(), key=lambda seat: (-len(seat.joining), -_held(seat, key), -seat.width, seat.low))


def _lows(members: Sequence[Member], bases: Sequence[int], on_tubes: bool) -> Sequence[int]:
    """Return the lowest notes to try: all of an octave, or of each player his own."""
    if on_tubes:
        return sorted({member.span[0] - base for member, base in zip(members, bases, strict=True)})
    return range(60, 60 + AN_OCTAVE)


def _from(low: int, members: Sequence[Member], bases: Sequence[int], on_tubes: bool) -> Iterator[Seat]:
    """Yield the spans from a lowest note up, one for every number of players that reach so high."""
    tops = [_top(low, member, base, on_tubes) for member, base in zip(members, bases, strict=True)]
    for high in sorted({min(top, low + WIDEST_SEAT) for top in tops}):
        joining = tuple(member for member, top in zip(members, tops, strict=True) if top >= high)
        if high - low >= NARROWEST_SEAT:
            yield Seat(low, high, joining)


def _top(low: int, member: Member, base: int, on_tubes: bool) -> int:
    """Return how high a player goes whose line begins so low, in the lowest octave that he has."""
    lowest, highest = member.span
    if on_tubes:
        return highest - base if low + base >= lowest else low - 1
    return highest - AN_OCTAVE * -(-(lowest - low) // AN_OCTAVE)


def _held(seat: Seat, key: Key) -> int:
    """Return 2 for a span that holds an octave from the tonic up, 1 for five notes, 0 for less."""
    tonic = seat.low + (key.degree(0).midi - seat.low) % AN_OCTAVE
    return (tonic + FIVE_NOTES <= seat.high) + (tonic + AN_OCTAVE <= seat.high)


def octaves_to(low: int, high: int, member: Member) -> tuple[int, ...]:
    """Return by how many octaves a line may be moved so that a player reaches all of it, the one that lies best first."""
    lowest, highest = member.span
    least, most = -(-(lowest - low) // AN_OCTAVE), (highest - high) // AN_OCTAVE
    middle = (low + high) / 2
    return tuple(sorted(range(least, most + 1), key=lambda n: abs(middle + AN_OCTAVE * n - member.centre)))
