"""The rules of a day, like those of a study: order, coverage, minutes, load; each a small function in one table."""

from collections.abc import Callable, Iterator

from generators.phrase.note import Note
from generators.phrase.study import Study
from generators.routine.day import Day
from generators.routine.load import load
from generators.studies.catalogue import DAY_PARTS
from generators.studies.kit.registers import band

# How far the planned time may lie from the asked one.
TOLERANCE = 0.05
LEAST_REST_SHARE = 0.25
# A routine shorter than this cannot touch everything: our choice.
WHOLE = 15
LOUD, SOFT = ("f", "ff", "mf"), ("p", "pp")


def minutes(day: Day) -> Iterator[str]:
    """Check that the time is within five percent of what was asked."""
    if abs(day.seconds - day.minutes * 60) > TOLERANCE * day.minutes * 60:
        yield f"{day.seconds / 60:.1f} minutes instead of {day.minutes}"


def order(day: Day) -> Iterator[str]:
    """Check that the parts stand in warming order."""
    names = list(DAY_PARTS)
    places = [names.index(part.name) for part in day.parts]
    if places != sorted(places):
        yield "parts out of warming order"


def slurred_first(day: Day) -> Iterator[str]:
    """Check that nothing is tongued before the finger studies but the first note after a breath or rest."""
    names = list(DAY_PARTS)
    for part in day.parts:
        if names.index(part.name) < names.index("fingers") and tongued(part.study):
            yield f"{part.name} is tongued before the finger studies"


def tongued(study: Study) -> bool:
    """Tell whether a study tongues a note that does not begin a breath."""
    for strain in study.strains:
        if strain.free:
            continue
        under, fresh = False, True
        for event in strain.music:
            if not isinstance(event, Note):
                under, fresh = False, True
                continue
            if not (under or fresh):
                return True
            under = (under or event.slur_open or event.tie) and not (event.slur_close and not event.slur_open)
            fresh = event.breath
    return False


def rested(day: Day) -> Iterator[str]:
    """Check that a fair share of the day is rest."""
    share = load(day).rest
    if share < LEAST_REST_SHARE:
        yield f"only {share:.0%} of rest"


def covered(day: Day) -> Iterator[str]:
    """Check that a whole day touches loud and soft, low, middle and high, slurred and tongued."""
    if day.minutes < WHOLE or day.request.profile.leave_out:
        return
    notes = [note for part in day.parts for note in part.study.notes]
    marks = {note.dynamic for note in notes}
    limits = day.parts[0].study.limits
    for register in ("low", "middle", "high"):
        low, high = band(limits, register)
        if not any(low <= note.pitch.midi <= high for note in notes):
            yield f"nothing in the {register} register"
    if not marks & set(LOUD) or not marks & set(SOFT):
        yield "not both loud and soft"
    if not any(tongued(part.study) for part in day.parts) or not any(note.slur_open for note in notes):
        yield "not both slurred and tongued"


def stretched_once(day: Day) -> Iterator[str]:
    """Check that only a stretch day passes the top, and that it reaches its note once, late."""
    top = day.context.high.midi
    above = [(i, note) for i, part in enumerate(day.parts) for note in part.study.notes if note.pitch.midi > top]
    if day.kind != "stretch":
        if above:
            yield "a note above the top of the day"
        return
    peak = day.context.stretch.midi
    reached = [i for i, note in above if note.pitch.midi == peak]
    if top < peak and (len(reached) != 1 or reached[0] < len(day.parts) // 2):
        yield f"the stretch note is reached {len(reached)} times, or early"


RULES: dict[str, Callable[[Day], Iterator[str]]] = {
    "minutes": minutes,
    "order": order,
    "slurred first": slurred_first,
    "rest": rested,
    "coverage": covered,
    "stretch": stretched_once,
}


def check(day: Day) -> tuple[str, ...]:
    """Return what the rules find in a day; an empty tuple for one that may be printed."""
    return tuple(f"{name}: {found}" for name, rule in RULES.items() for found in rule(day))
