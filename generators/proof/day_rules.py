"""The rules of a day by name: time, warming order, rest, coverage, the one stretch."""

from collections.abc import Callable, Mapping

from generators.phrase.note import Note
from generators.phrase.study import Strain, Study
from generators.proof.finding import Fault, Faults
from generators.routine.day import Day
from generators.routine.load import load
from generators.studies.catalogue import DAY_PARTS
from generators.studies.kit.registers import REGISTERS, band

# How far the planned time may lie from the asked one.
TOLERANCE = 0.05
# The share of a day that is rest, at the least: our choice.
LEAST_REST_SHARE = 0.25
# A routine shorter than this cannot touch everything: our choice.
WHOLE = 15
LOUD, SOFT = ("f", "ff", "mf"), ("p", "pp")
# The first part in which every note may be tongued.
FIRST_TONGUED = "fingers"


def lasting(day: Day) -> Faults:
    """Every day lasts what was asked, within five percent."""
    if abs(day.seconds - day.minutes * 60) > TOLERANCE * day.minutes * 60:
        yield Fault(f"{day.seconds / 60:.1f} minutes instead of {day.minutes}", "choose longer or shorter doses")


def in_order(day: Day) -> Faults:
    """Every part stands in its place of the warming order."""
    places = [_rank(part.name) for part in day.parts]
    if places != sorted(places):
        yield Fault("parts out of warming order", "sort them")


def _rank(part: str) -> int:
    """Return where a part stands in warming order."""
    return list(DAY_PARTS).index(part)


def slurred_first(day: Day) -> Faults:
    """Nothing is tongued before the finger studies but the first note after a breath or rest; a beginner tongues his leaps."""
    for part in day.parts if not day.context.grade.beginner else ():
        if _rank(part.name) < _rank(FIRST_TONGUED) and tongued(part.study):
            yield Fault(f"{part.name} is tongued before the finger studies", "slur it, or play it later")


def tongued(study: Study) -> bool:
    """Tell whether a study tongues a note that does not begin a breath."""
    return any(_tongued(strain) for strain in study.strains if not strain.free)


def _tongued(strain: Strain) -> bool:
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


def enough_rest(day: Day) -> Faults:
    """No day is short of rest: a fair share of it is silence."""
    share = load(day).rest
    if share < LEAST_REST_SHARE:
        yield Fault(f"only {share:.0%} of rest", f"rest {LEAST_REST_SHARE:.0%} of the time")


def covered(day: Day) -> Faults:
    """Every whole day touches low, middle and high; but for a light one also loud and soft, slurred and tongued."""
    if day.minutes < WHOLE or day.request.profile.leave_out:
        return
    notes = [note for part in day.parts for note in part.study.notes]
    for register in REGISTERS:
        low, high = band(day.parts[0].study.limits, register)
        if not any(low <= note.pitch.midi <= high for note in notes):
            yield Fault(f"nothing in the {register} register", "play there too")
    if day.kind == "light":
        return
    marks = {note.dynamic for note in notes}
    if not day.context.grade.beginner and (not marks & set(LOUD) or not marks & set(SOFT)):
        yield Fault("not both loud and soft", "play both")
    if not any(tongued(part.study) for part in day.parts) or not any(note.slur_open for note in notes):
        yield Fault("not both slurred and tongued", "play both")


def stretched_once(day: Day) -> Faults:
    """Only a stretch day passes the top, and it reaches its note once, late."""
    top, peak = day.context.high.midi, day.context.stretch.midi
    above = [(i, note.pitch.midi) for i, part in enumerate(day.parts) for note in part.study.notes if note.pitch.midi > top]
    if day.kind != "stretch":
        if above:
            yield Fault("a note above the top of the day", "stay below it")
        return
    reached = [i for i, midi in above if midi == peak]
    if top < peak and (len(reached) != 1 or reached[0] < len(day.parts) // 2):
        yield Fault(f"the stretch note is reached {len(reached)} times, or early", "reach it once, in the second half")


DAY_RULES: Mapping[str, Callable[[Day], Faults]] = {
    "minutes": lasting,
    "order": in_order,
    "slurred first": slurred_first,
    "rest": enough_rest,
    "coverage": covered,
    "stretch": stretched_once,
}
