"""What the horn can do: range, fingerings, tubes, bends."""

from generators.brass.fingering import compass, usual
from generators.brass.horn import Horn, horn
from generators.brass.tube import HIGHEST_PARTIAL, RARE_PARTIALS, partial_midi
from generators.phrase.note import Note
from generators.phrase.places import Place, places
from generators.phrase.study import Strain, Study
from generators.proof.finding import Fault, Faults
from generators.theory.pitch import Pitch

# The role of a note that is bent down to.
BENT = "bent"


def in_range(study: Study, strain: Strain) -> Faults:
    """Every note lies in the player's range and on the horn."""
    low, high = study.limits.low, min(study.limits.high, horn(study.horn).ceiling)
    for place in places(strain):
        if not low.midi <= place.note.pitch.midi <= high.midi:
            yield Fault(f"outside {low} to {high}", "widen the range or choose a narrower study", place)


def playable(study: Study, strain: Strain) -> Faults:
    """Every note has a fingering; pedals and the notes of the gap only where they were asked for."""
    instrument = horn(study.horn)
    lowest, highest = compass(instrument)
    for place in places(strain):
        way = usual(place.note.pitch, instrument)
        if way is None:
            yield Fault(f"has no fingering on {instrument.name}", f"choose a note between {lowest} and {highest}", place)
        elif (way.kind or place.note.pitch.midi < instrument.low.midi) and not study.limits.pedals:
            reason = f"is below {instrument.low}, where the horn has no note of its own"
            yield Fault(reason, "ask for pedals, or stay above", place)


def on_one_tube(study: Study, strain: Strain) -> Faults:
    """Every note of a lip slur lies on the strain's tube, on a partial that was allowed."""
    if not strain.tube:
        return
    partials = _partials(horn(study.horn), strain.tube)
    for place in places(strain):
        partial = partials.get(place.note.pitch.midi)
        if partial is None:
            yield Fault(f"is not on the tube {strain.tube}", "choose a partial of that tube", place)
        elif partial in RARE_PARTIALS and not study.limits.partials:
            yield Fault(f"is partial {partial}, out of tune", "ask for rare partials, or leave it out", place)


def fingered_right(study: Study, strain: Strain) -> Faults:
    """Every printed valve set or position gives its note, or is the one of the octave above in the gap."""
    instrument = horn(study.horn)
    for place in places(strain):
        tube, midi = place.note.valves, place.note.pitch.midi
        if tube and not {midi, midi + 12} & set(_partials(instrument, tube)):
            yield Fault(f"cannot be played with {tube}", "print another fingering", place)


def _partials(instrument: Horn, tube: str) -> dict[int, int]:
    """Return the partials of a tube by the written notes that they give."""
    return {partial_midi(instrument, tube, n): n for n in range(1, HIGHEST_PARTIAL + 1)}


def bent(study: Study, strain: Strain) -> Faults:
    """Every bend goes from a middle note, its fingering printed, a half-step down and back, on the gliding lip."""
    lowest, highest = horn(study.horn).bends
    for place in places(strain):
        if place.note.role != BENT:
            continue
        ends = _ends(place)
        if len(ends) < 2 or not (ends[0].glide and place.note.glide and ends[0].valves):
            yield Fault("is not bent from a fingered note and back", "glide a half-step down and back", place)
        elif not lowest.midi <= ends[0].pitch.midi <= highest.midi:
            yield Fault(f"bends {ends[0].pitch}", f"choose a note from {lowest} to {highest}", place)


def _ends(place: Place) -> list[Note[Pitch]]:
    """Return those of a bent note's neighbours that lie a half-step above it."""
    around = (place.before, place.after)
    return [note for note in around if isinstance(note, Note) and note.pitch.midi == place.note.pitch.midi + 1]
