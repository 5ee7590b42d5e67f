"""The loudness of a tune, which follows its line."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from generators.phrase.algebra import length, onsets
from generators.phrase.bars import Meter
from generators.phrase.dynamics import LOUDNESS
from generators.phrase.note import Event, Note, Phrase
from generators.theory.pitch import Pitch

# A hairpin goes up to a note so many staff places above where it begins, down to one so far below, over so many degrees of
# loudness at the most: our choice.
_GROWS, _FALLS, _DEGREES = 2, 1, 2
# It lasts so many bars at the most.
_LONGEST = 4


def shaded(
    music: Phrase[Pitch],
    start: str,
    height: str,
    meter: Meter,
    begin: Fraction,
    *,
    least: str,
    farther: bool = True,
    last: bool = True,
    bold: bool = False,
) -> Phrase[Pitch]:
    """Return a section with its loudness: it grows where the line rises to its highest note, and falls with its end.

    It begins so far after a bar line. A hairpin goes over one degree, or farther over two. An end that has no height to grow
    to and does not fall grows to its last note if it rises to that; none but a bold one grows to its height in its last bars.
    Nothing is softer than the least.
    """
    notes = [(place, event) for place, event in enumerate(music) if isinstance(event, Note)]
    starts = [start + begin for start in onsets(music)]
    begun = [starts[place] for place, _ in notes]
    top = _goal(notes, meter, begun)
    loud = LOUDNESS[min(LOUDNESS.index(height), LOUDNESS.index(start) + _DEGREES - (not farther))]
    late = last and not bold and starts[notes[top][0]] - begin >= length(music) - _LONGEST * meter.bar
    grow = None if late else _rise(notes, top, meter, begun)
    fall = None if bold else _fall(notes, top, meter, begun)
    if last and grow is None and fall is None:
        grow, top = _ending(notes, meter, begun), len(notes) - 1
    marks: dict[int, tuple[str, str]] = {notes[0][0]: (start, "")}
    grows = grow is not None and loud != start
    if grow is not None and grows:
        marks |= {grow: (marks.get(grow, ("", ""))[0], "<"), notes[top][0]: (loud, "")}
    softer = start
    if fall is not None:
        softer = start if grows else LOUDNESS[max(LOUDNESS.index(start) - 1, LOUDNESS.index(least))]
    if fall is not None and softer != (loud if grows else start):
        marks |= {notes[fall][0]: (marks.get(notes[fall][0], ("", ""))[0], ">"), notes[-1][0]: (softer, "")}
    return tuple(_loud(event, *marks.get(place, ("", ""))) for place, event in enumerate(music))


def _loud(event: Event[Pitch], dynamic: str, hairpin: str) -> Event[Pitch]:
    return replace(event, dynamic=dynamic, hairpin=hairpin) if isinstance(event, Note) else event


_Placed = Sequence[tuple[int, Note[Pitch]]]


def _goal(notes: _Placed, meter: Meter, starts: Sequence[Fraction]) -> int:
    """Return the note to grow to: of the highest ones that the line rises to the longest on a strong beat."""
    top = max(note.pitch.place for _, note in notes)
    every = [i for i, (_, note) in enumerate(notes) if note.pitch.place == top]
    risen = [i for i in every if _rise(notes, i, meter, starts) is not None] or every
    return max(risen, key=lambda i: (starts[i] % meter.beat == 0, notes[i][1].length, starts[i] % meter.bar == 0, i))


def _rise(notes: _Placed, top: int, meter: Meter, starts: Sequence[Fraction]) -> int | None:
    """Return the place of the lowest note shortly before the highest, if the line rises enough; not an upbeat."""
    found, lasted = None, Fraction(0)
    for i in range(top - 1, 0, -1):
        lasted += notes[i][1].length
        if lasted > _LONGEST * meter.bar or _rested(notes, starts, i):
            break
        if starts[i] % meter.bar >= meter.bar - meter.beat or notes[i][1].breath:
            continue
        lower = found is None or notes[i][1].pitch.place < notes[found][1].pitch.place
        found = i if lower and notes[top][1].pitch.place - notes[i][1].pitch.place >= _GROWS else found
    return None if found is None or top - found < 2 else notes[found][0]


def _rested(notes: _Placed, starts: Sequence[Fraction], place: int) -> bool:
    """Tell whether a rest follows a note."""
    return starts[place] + notes[place][1].length < starts[place + 1]


def _parted(notes: _Placed, starts: Sequence[Fraction], place: int) -> bool:
    """Tell whether a breath or a rest follows a note."""
    return notes[place][1].breath or _rested(notes, starts, place)


def _ending(notes: _Placed, meter: Meter, starts: Sequence[Fraction]) -> int | None:
    """Return the place of the lowest note from which an end rises to its last, in its last two bars; None without one."""
    last, lower = len(notes) - 1, list[int]()
    for i in range(last - 1, 0, -1):
        if starts[last] - starts[i] > 2 * meter.bar or _parted(notes, starts, i):
            break
        lower += [i] if i < last - 1 and notes[i][1].pitch.place < notes[last][1].pitch.place else []
    return notes[min(lower, key=lambda i: notes[i][1].pitch.place)][0] if lower else None


def _fall(notes: _Placed, top: int, meter: Meter, starts: Sequence[Fraction]) -> int | None:
    """Return the note from which the line falls to its last one; None where it does not."""
    found, lasted = None, notes[-1][1].length
    for i in range(len(notes) - 2, top, -1):
        lasted += notes[i][1].length
        if lasted > _LONGEST * meter.bar or _parted(notes, starts, i):
            break
        higher = notes[i][1].pitch.place - notes[-1][1].pitch.place >= _FALLS
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
