"""What is right on paper: full bars, spelling, slurs, ledger lines, counts."""

from generators.brass.horn import horn
from generators.phrase.algebra import length
from generators.phrase.note import Note, Rest
from generators.phrase.places import places
from generators.phrase.study import Strain, Study
from generators.proof.finding import WARNING, Fault, Faults

# More ledger lines than this are hard to read at sight: our choice.
LEDGER_LINES = 4


def full_bars(_study: Study, strain: Strain) -> Faults:
    """Every bar is full, the last one too; what an upbeat takes the last bar lacks."""
    for i, bar in enumerate(strain.bars, 1):
        upbeat = strain.upbeat and i in (1, len(strain.bars))
        wanted = strain.meter.bar if not upbeat else strain.upbeat if i == 1 else strain.meter.bar - strain.upbeat
        if length(bar) != wanted:
            yield Fault(f"bar {i} holds {length(bar)} instead of {wanted}", "fill it with a rest or a longer note")


def lines_whole(_study: Study, strain: Strain) -> Faults:
    """Every bar of the strain stands on one of its printed lines."""
    if strain.lines and sum(strain.lines) != len(strain.bars):
        yield Fault(f"lines for {sum(strain.lines)} bars, but there are {len(strain.bars)}", "lay the lines out anew")


def spelled(_study: Study, strain: Strain) -> Faults:
    """No double accidental but a raised or lowered note of a key that already has the single one."""
    for place in places(strain):
        pitch = place.note.pitch
        needed = strain.key.alteration(pitch.step) * pitch.alter > 0
        if abs(pitch.alter) > 1 and not needed:
            yield Fault(f"needs a double accidental in {strain.key.pretty}", "respell it", place)


def slurs_closed(_study: Study, strain: Strain) -> Faults:
    """Every slur that opens closes, none crosses a breath or a rest."""
    under = False
    for event in strain.music:
        if isinstance(event, Note):
            if (event.slur_close and not under) or (event.slur_open and under and not event.slur_close):
                yield Fault("a slur begins or ends alone", "pair it")
            under = (under or event.slur_open) and not (event.slur_close and not (event.slur_open and under))
        if under and (isinstance(event, Rest) or event.breath):
            yield Fault("a slur crosses a breath", "end it before the breath")
            return
    if under:
        yield Fault("a slur never ends", "close it")


def legible(study: Study, strain: Strain) -> Faults:
    """Few ledger lines; notes that are printed an octave higher do not count."""
    instrument = horn(study.horn)
    for place in places(strain):
        lines = abs(instrument.clef.ledgers(place.note.pitch))
        if lines > LEDGER_LINES and not instrument.bracketed(place.note.pitch):
            yield Fault(f"stands on {lines} ledger lines", "choose another octave", place, WARNING)


def counted(_study: Study, strain: Strain) -> Faults:
    """Every hairpin with a count lasts so many beats."""
    for place in places(strain):
        note, lasts = place.note, place.note.length / strain.meter.beat
        if note.beats and (note.hairpin not in ("<", ">") or note.beats != lasts):
            reason = f"its hairpin says {note.beats} beats, it lasts {float(lasts):g}"
            yield Fault(reason, "print the count of its length", place)
