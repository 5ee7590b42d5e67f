"""The loudness of a tune, which follows its line."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from generators.phrase.algebra import length, onsets
from generators.phrase.bars import Meter
from generators.phrase.dynamics import LOUDNESS
from generators.phrase.note import Event, Note, Phrase
from generators.theory.pitch import Pitch

# A hairpin goes up to a note so many staff places above where it begins, down to one so far below: our choice.
_GROWS, _FALLS = 2, 1
# It lasts so many bars at the most, and so many where the line goes no further.
_LONGEST, _SHORT = 4, 2


@dataclass(frozen=True, slots=True)
class Levels:
    """How loud music begins, another idea, and its height; the softest there is, how the tune began, what comes before."""

    start: str
    aside: str
    height: str
    least: str
    home: str
    before: str = ""

    def after(self, level: str) -> "Levels":
        """Return those of music after what ends at a level: a step from it at the most."""
        here, start = LOUDNESS.index(level), LOUDNESS.index(self.start)
        return replace(self, start=LOUDNESS[max(here - 1, min(start, here + 1))], before=level)

    def lifted(self) -> "Levels":
        """Return those of music that comes to the height of all on the spot: it begins louder if what is before it lets it."""
        if not self.before:
            return self
        near, start = LOUDNESS.index(self.before) + 1, LOUDNESS.index(self.start)
        return replace(self, start=LOUDNESS[max(start, min(near, LOUDNESS.index(self.height) - 1))])

    def reached(self, *, grown: bool, returns: bool) -> str:
        """Return how loud the height is: a step over the start without a hairpin, and over the end without one back."""
        most = LOUDNESS.index(self.height)
        most = most if grown else min(most, LOUDNESS.index(self.start) + 1)
        return LOUDNESS[most if returns else min(most, LOUDNESS.index(self.home) + 1)]

    def ending(self, *, grown: bool, last: bool) -> str:
        """Return what music falls to: where it grew to its start, else to less, the last of all to less than the tune began."""
        lower = LOUDNESS.index(self.home if last else self.start) - 1
        return self.start if grown and not last else LOUDNESS[max(lower, LOUDNESS.index(self.least))]


def shaded(
    music: Phrase[Pitch],
    levels: Levels,
    meter: Meter,
    begin: Fraction,
    *,
    crowned: bool = False,
    last: bool = False,
    bold: bool = False,
    firm: bool = False,
) -> Phrase[Pitch]:
    """Return a section with its loudness: it grows where the line rises to its highest note, and falls with its end.

    It begins so far after a bar line. The highest note of a crowned one always has its loudness. The last one ends no louder
    than the tune began, but for a bold one, which ends loud, and grows to its last note where that is all it rises to. A firm
    one does not fall with its end. Nothing is softer than the least, nor louder or softer by more than a step with no hairpin.
    """
    notes = [(place, event) for place, event in enumerate(music) if isinstance(event, Note)]
    begun = [start + begin for start, event in zip(onsets(music), music, strict=True) if isinstance(event, Note)]
    top = _goal(notes, meter, begun)
    late = last and not (bold or crowned) and begun[top] - begin >= length(music) - _LONGEST * meter.bar
    grow = None if late or levels.height == levels.start else _growth(notes, top, meter, begun)
    levels = levels.lifted() if crowned and grow is None else levels
    if bold and grow is None and not crowned:
        grow, top = _ending(notes, meter, begun), len(notes) - 1
    fall = None if bold or firm else _waning(notes, top, meter, begun)
    height = levels.reached(grown=grow is not None, returns=fall is not None or not last or bold)
    marks = _Shades(notes, levels.start)
    if height != levels.start and top and not late:
        marks.grows(*_struck(notes, top, grow, meter, begun), height)
    if fall is not None:
        marks.falls(*fall, levels.ending(grown=marks.loud != levels.start, last=last))
    elif last and not bold and LOUDNESS.index(marks.loud) > LOUDNESS.index(levels.home):
        marks.subsides(_resumed(notes, begun, top), levels.home)
    return tuple(_loud(event, *marks.found.get(place, ("", ""))) for place, event in enumerate(music))


class _Shades:
    """What is written over a section: a dynamic and a hairpin at a place."""

    def __init__(self, notes: "_Placed", start: str) -> None:
        """Begin with the loudness of the first note."""
        self._notes, self.loud = notes, start
        self.found: dict[int, tuple[str, str]] = {notes[0][0]: (start, "")}

    def grows(self, grow: int | None, top: int, height: str) -> None:
        """Grow to a note, or have it louder on the spot."""
        if grow is not None:
            grow = self._notes[grow][0]
            self.found[grow] = self.found.get(grow, ("", ""))[0], "<"
        self.loud = height
        self.found[self._notes[top][0]] = height, ""

    def falls(self, fall: int, goal: int, softer: str) -> None:
        """Fall to a note."""
        if softer != self.loud:
            place = self._notes[fall][0]
            self.found |= {place: (self.found.get(place, ("", ""))[0], ">"), self._notes[goal][0]: (softer, "")}

    def subsides(self, note: int, softer: str) -> None:
        """Be softer from a note on."""
        self.found[self._notes[note][0]] = softer, ""


def _loud(event: Event[Pitch], dynamic: str, hairpin: str) -> Event[Pitch]:
    return replace(event, dynamic=dynamic, hairpin=hairpin) if isinstance(event, Note) else event


_Placed = Sequence[tuple[int, Note[Pitch]]]


def _goal(notes: _Placed, meter: Meter, starts: Sequence[Fraction]) -> int:
    """Return the note to grow to: of the highest ones that the line rises to the longest on a strong beat."""
    top = max(note.pitch.place for _, note in notes)
    every = [i for i, (_, note) in enumerate(notes) if note.pitch.place == top]
    risen = [i for i in every if _ascent(notes, i, meter, starts) is not None] or every
    return max(risen, key=lambda i: (starts[i] % meter.beat == 0, notes[i][1].length, starts[i] % meter.bar == 0, i))


def _struck(notes: _Placed, top: int, grow: int | None, meter: Meter, starts: Sequence[Fraction]) -> tuple[int | None, int]:
    """Return from which note music grows, and the one on whose beat the highest lies, where it comes to its height.

    That is the highest itself where none begins on its beat, or where there is nothing to grow over before that.
    """
    beat = starts[top] // meter.beat * meter.beat
    on = next((i for i in range(top, 0, -1) if starts[i] == beat), top)
    if grow is None or grow < on - 1:
        return grow, on
    earlier = on - 2
    joined = earlier > 0 and not any(_parted(notes, starts, i) for i in (earlier, earlier + 1))
    rises = joined and notes[earlier][1].pitch.place <= notes[earlier + 1][1].pitch.place < notes[on][1].pitch.place
    return (earlier, on) if rises else (grow, top)


def _ascent(notes: _Placed, top: int, meter: Meter, starts: Sequence[Fraction]) -> int | None:
    """Return the lowest note shortly before the highest, if the line rises enough; not an upbeat.

    Nothing is lower on the way up.
    """
    found, lasted, lowest = None, Fraction(0), notes[top][1].pitch.place
    for i in range(top - 1, 0, -1):
        lasted += notes[i][1].length
        if lasted > _LONGEST * meter.bar or _parted(notes, starts, i):
            break
        place = notes[i][1].pitch.place
        lower, lowest = place < lowest, min(place, lowest)
        early = starts[i] % meter.bar >= meter.bar - meter.beat and _parted(notes, starts, i - 1)
        if early:
            continue
        found = i if lower and notes[top][1].pitch.place - place >= _GROWS else found
    return None if found is None or top - found < 2 else found


def _growth(notes: _Placed, top: int, meter: Meter, starts: Sequence[Fraction]) -> int | None:
    """Return the note from which the line rises to its highest one: in four bars, or in half a bar at the least."""
    found = _ascent(notes, top, meter, starts)
    return _span(notes, top, starts, meter, 1) if found is None else found


def _span(notes: _Placed, goal: int, starts: Sequence[Fraction], meter: Meter, way: int) -> int | None:
    """Return the note, no more than two bars before another, from which nothing passes it on the way up, 1, or down, -1."""
    found, extreme = None, way * notes[goal][1].pitch.place
    for i in range(goal - 1, -1, -1):
        if _parted(notes, starts, i) or starts[goal] - starts[i] > _SHORT * meter.bar:
            break
        place = way * notes[i][1].pitch.place
        found = i if place < extreme and 2 * (starts[goal] - starts[i]) >= meter.bar else found
        extreme = min(extreme, place)
    return found


def _waning(notes: _Placed, top: int, meter: Meter, starts: Sequence[Fraction]) -> tuple[int, int] | None:
    """Return the note from which the line falls, a bar after its height at the least, and the one to which it does.

    That is the last one, or if there is no way down to it the last of a breath before.
    """
    fall, last = _descent(notes, top, meter, starts), len(notes) - 1
    if fall is not None:
        return fall, last
    ends = [last, *(i for i in range(last - 1, top, -1) if _parted(notes, starts, i))]
    spans = ((_span(notes, end, starts, meter, -1), end) for end in ends)
    return next(((begun, end) for begun, end in spans if begun is not None and starts[begun] >= starts[top] + meter.bar), None)


def _rested(notes: _Placed, starts: Sequence[Fraction], place: int) -> bool:
    """Tell whether a rest follows a note."""
    return starts[place] + notes[place][1].length < starts[place + 1]


def _resumed(notes: _Placed, starts: Sequence[Fraction], top: int) -> int:
    """Return the first note after a breath that comes after the highest one; the last note without one."""
    return next((i + 1 for i in range(top, len(notes) - 1) if _parted(notes, starts, i)), len(notes) - 1)


def _parted(notes: _Placed, starts: Sequence[Fraction], place: int) -> bool:
    """Tell whether a breath or a rest follows a note."""
    return notes[place][1].breath or _rested(notes, starts, place)


def _ending(notes: _Placed, meter: Meter, starts: Sequence[Fraction]) -> int | None:
    """Return the lowest note from which an end rises to its last, in its last two bars; None without one."""
    last, lower = len(notes) - 1, list[int]()
    for i in range(last - 1, 0, -1):
        if starts[last] - starts[i] > 2 * meter.bar or _parted(notes, starts, i):
            break
        lower += [i] if i < last - 1 and notes[i][1].pitch.place < notes[last][1].pitch.place else []
    return min(lower, key=lambda i: notes[i][1].pitch.place) if lower else None


def _descent(notes: _Placed, top: int, meter: Meter, starts: Sequence[Fraction]) -> int | None:
    """Return the note on a beat, a bar after the height at the least, from which the line falls to its last; None without."""
    found, lasted = None, notes[-1][1].length
    for i in range(len(notes) - 2, top, -1):
        lasted += notes[i][1].length
        held = starts[i] < starts[top] + meter.bar
        if lasted > _LONGEST * meter.bar or held or _parted(notes, starts, i):
            break
        higher = notes[i][1].pitch.place - notes[-1][1].pitch.place >= _FALLS and starts[i] % meter.beat == 0
        found = i if higher and (found is None or notes[i][1].pitch.place >= notes[found][1].pitch.place) else found
    return None if found is None or len(notes) - 1 - found < 2 else found


def told_once(music: Phrase[Pitch], before: Phrase[Pitch]) -> Phrase[Pitch]:
    """Return music without its first dynamic where the music before it has come to the same."""
    come = next((note.dynamic for note in reversed(before) if isinstance(note, Note) and note.dynamic), "")
    place = next(i for i, event in enumerate(music) if isinstance(event, Note))
    first = music[place]
    if not isinstance(first, Note) or first.dynamic != come:
        return music
    return (*music[:place], replace(first, dynamic=""), *music[place + 1 :])
