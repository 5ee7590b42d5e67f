"""Signs before notes: which are printed, and which only remind of what the key says."""

from collections.abc import Iterable, Iterator, Sequence

from generators.theory.key import Key
from generators.theory.pitch import Pitch

# What stands before a note, and what stands there in brackets.
NEW_SIGN, REMINDER = "sign", "reminder"
# In so many bars after the last one that alters a note the page reminds of the key's own sign.
REMINDING = 3


def signs(bars: Iterable[Sequence[Pitch]], key: Key) -> Iterator[list[str]]:
    """Yield what stands before the notes of each bar: none is said twice in it, one that was altered is reminded of."""
    said: dict[int, tuple[int, int]] = {}
    for number, pitches in enumerate(bars):
        told = list[str]()
        for pitch in pitches:
            own = key.alteration(pitch.step)
            bar, alter = said.get(pitch.place, (number, own))
            new = pitch.alter != (alter if bar == number else own)
            reminded = pitch.alter != alter and number - bar <= REMINDING
            told.append(NEW_SIGN if new else REMINDER if reminded else "")
            said[pitch.place] = (number, pitch.alter)
        yield told
