"""What the player can be asked: breath, leaps, note values, keys, meters, speed."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from fractions import Fraction

from generators.brass.speed import FINGER_SPEED, LIP_SPEED, tongue_speed
from generators.phrase.note import Event, Note, Rest
from generators.phrase.places import Place, places
from generators.phrase.study import Strain, Study
from generators.proof.finding import Fault, Faults
from generators.theory.pitch import Pitch

# The role of a held note that ends a group: its syllable is none of the pattern.
LANDING = "landing"
# What rounding may add to seconds, and to notes a second.
ROUNDING = 0.01


def breathable(study: Study, strain: Strain) -> Faults:
    """No stretch without a breath or rest outlasts the player's breath."""
    start, now = Fraction(0), Fraction(0)
    for place, event in _events(strain):
        now += event.length
        seconds = study.seconds(now - start)
        if isinstance(event, Rest):
            start = now
        elif seconds > study.limits.breath + ROUNDING:
            cure = f"breathe within {study.limits.breath:.0f} s or play faster"
            yield Fault(f"{seconds:.1f} s without a breath", cure, place)
            return
        elif event.breath:
            start = now


def _events(strain: Strain) -> Iterator[tuple[Place | None, Event[Pitch]]]:
    walk = places(strain)
    for event in strain.music:
        yield (next(walk) if isinstance(event, Note) else None), event


def leaps(study: Study, strain: Strain) -> Faults:
    """No leap is wider than the grade allows; over a rest or a breath nothing is a leap."""
    for place in places(strain):
        before = place.before
        if not isinstance(before, Note) or before.breath:
            continue
        wide = abs(place.note.pitch.midi - before.pitch.midi)
        if wide > study.limits.leap:
            yield Fault(f"leaps {wide} half-steps from {before.pitch}", f"keep within {study.limits.leap}", place)


def values(study: Study, strain: Strain) -> Faults:
    """No note is shorter than the grade knows; a triplet counts as the plain value it is written with; free lines show none."""
    for place in () if strain.free else places(strain):
        value = place.note.length * (Fraction(3, 2) if place.note.length.denominator % 3 == 0 else 1)
        if value < study.limits.shortest:
            yield Fault(f"is shorter than {study.limits.shortest} of a whole note", "choose a slower rhythm", place)


def known_meter(study: Study, strain: Strain) -> Faults:
    """Every meter is one the grade knows; free lines have none on paper."""
    if study.limits.meters and not strain.free and str(strain.meter) not in study.limits.meters:
        yield Fault(f"{strain.meter} is outside the grade", f"choose {', '.join(study.limits.meters)}")


def known_key(study: Study, strain: Strain) -> Faults:
    """Every key is one the grade knows; strains on one tube have no key."""
    if study.limits.keys and not strain.tube and strain.key.name not in study.limits.keys:
        yield Fault(f"{strain.key.pretty} is outside the grade", f"choose {', '.join(study.limits.keys)}")


def speed(study: Study, strain: Strain) -> Faults:
    """No note follows faster than tongue, lips or fingers go, at the last tempo of a ladder too; free lines are not tongued."""
    spoken = _spoken(strain)
    climbed = max(study.tempo, *study.ladder, 0) / study.tempo
    bar = 1
    for place in places(strain):
        before, pattern, bar = place.before, spoken[bar], place.bar
        if not isinstance(before, Note) or before.tie or strain.free:
            continue
        most, what = _most(study, strain, place, pattern)
        rate = climbed / study.seconds(before.length)
        if rate > most + ROUNDING:
            cure = f"tempo {int(study.tempo * most / rate)} would do"
            yield Fault(f"{rate:.1f} notes a second {what}, more than {most:.1f}", cure, place)
            return


def _spoken(strain: Strain) -> Mapping[int, str]:
    """Return the syllables of every bar in their order, landings left out."""
    spoken: defaultdict[int, str] = defaultdict(str)
    for place in places(strain):
        if place.note.role != LANDING:
            spoken[place.bar] += place.note.syllable
    return spoken


def _most(study: Study, strain: Strain, place: Place, pattern: str) -> tuple[float, str]:
    """Return the limit of a note and its name; it is tongued in the pattern that the note before it was spoken in."""
    if place.slurred:
        return (LIP_SPEED, "slurred on one tube") if strain.tube else (FINGER_SPEED, "under the fingers")
    names = {"k": "on k alone", "t": "single-tongued", "": "single-tongued"}
    return tongue_speed(pattern, study.limits.speed), names.get("".join(sorted(set(pattern))), "multiple-tongued")
