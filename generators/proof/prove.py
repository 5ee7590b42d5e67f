"""The proof: one small rule a function; a finding names study, strain, bar, note, rule, and what would cure it."""

from collections.abc import Callable, Iterator
from fractions import Fraction

from generators.brass.fingering import compass, usual
from generators.brass.horn import Horn, horn
from generators.brass.speed import FINGER_SPEED, LIP_SPEED, tongue_speed
from generators.brass.tube import HIGHEST_PARTIAL, RARE_PARTIALS, partial_midi
from generators.errors import FailedRun, Refusal
from generators.phrase.algebra import length
from generators.phrase.bars import bars
from generators.phrase.note import Event, Note, Rest
from generators.phrase.places import Place, places
from generators.phrase.study import Strain, Study
from generators.phrase.wording import full_label
from generators.proof.finding import ERROR, WARNING, Finding
from generators.theory.pitch import Pitch

# More ledger lines than this are hard to read at sight: our choice.
LEDGER_LINES = 4
# The role of a held note that ends a group: its syllable is none of the pattern.
LANDING = "landing"


Found = Iterator[tuple[str, Place | None, str, str]]


def in_range(study: Study, strain: Strain) -> Found:
    """Every note lies in the player's range and on the horn."""
    low, high = study.limits.low, min(study.limits.high, horn(study.horn).ceiling)
    for place in places(strain):
        if not low.midi <= place.note.pitch.midi <= high.midi:
            yield ERROR, place, f"outside {low} to {high}", "widen the range or choose a narrower study"


def playable(study: Study, strain: Strain) -> Found:
    """Every note has a fingering; pedals and the notes of the gap only where they were asked for."""
    instrument = horn(study.horn)
    lowest, highest = compass(instrument)
    for place in places(strain):
        way = usual(place.note.pitch, instrument)
        if way is None:
            yield ERROR, place, f"has no fingering on {instrument.name}", f"choose a note between {lowest} and {highest}"
        elif (way.kind or place.note.pitch.midi < instrument.low.midi) and not study.limits.pedals:
            yield (
                ERROR,
                place,
                f"is below {instrument.low}, where the horn has no note of its own",
                "ask for pedals, or stay above",
            )


def on_one_tube(study: Study, strain: Strain) -> Found:
    """Every note of a lip slur lies on the strain's tube, on a partial that was allowed."""
    if not strain.tube:
        return
    instrument = horn(study.horn)
    midi = {partial_midi(instrument, strain.tube, n): n for n in range(1, HIGHEST_PARTIAL + 1)}
    for place in places(strain):
        partial = midi.get(place.note.pitch.midi)
        if partial is None:
            yield ERROR, place, f"is not on the tube {strain.tube}", "choose a partial of that tube"
        elif partial in RARE_PARTIALS and not study.limits.partials:
            yield ERROR, place, f"is partial {partial}, out of tune", "ask for rare partials, or leave it out"


def fingered_right(study: Study, strain: Strain) -> Found:
    """Every printed valve set or position gives its note, or is the one of the octave above in the gap."""
    instrument = horn(study.horn)
    for place in places(strain):
        valves, midi = place.note.valves, place.note.pitch.midi
        if valves and not {midi, midi + 12} & _sounding(instrument, valves):
            yield ERROR, place, f"cannot be played with {valves}", "print another fingering"


def _sounding(instrument: Horn, tube: str) -> set[int]:
    return {partial_midi(instrument, tube, n) for n in range(1, HIGHEST_PARTIAL + 1)}


def breathable(study: Study, strain: Strain) -> Found:
    """No stretch without a breath or rest outlasts the player's breath."""
    start, now = Fraction(0), Fraction(0)
    for place, event in _events(strain):
        now += event.length
        if isinstance(event, Rest):
            start = now
        elif study.seconds(now - start) > study.limits.breath + 0.01:
            seconds = study.seconds(now - start)
            yield (
                ERROR,
                place,
                f"{seconds:.1f} s without a breath",
                f"breathe within {study.limits.breath:.0f} s or play faster",
            )
            return
        elif event.breath:
            start = now


def _events(strain: Strain) -> Iterator[tuple[Place | None, Event[Pitch]]]:
    walk = places(strain)
    for event in strain.music:
        yield (next(walk) if isinstance(event, Note) else None), event


def full_bars(_study: Study, strain: Strain) -> Found:
    """Every bar is full, the last one too."""
    for i, bar in enumerate(bars(strain.music, strain.meter), 1):
        if length(bar) != strain.meter.bar:
            yield (
                ERROR,
                None,
                f"bar {i} holds {length(bar)} instead of {strain.meter.bar}",
                "fill it with a rest or a longer note",
            )


def lines_whole(_study: Study, strain: Strain) -> Found:
    """Every bar of the strain stands on one of its printed lines."""
    if strain.lines and sum(strain.lines) != len(strain.bars):
        yield ERROR, None, f"lines for {sum(strain.lines)} bars, but there are {len(strain.bars)}", "lay the lines out anew"


def spelled(_study: Study, strain: Strain) -> Found:
    """No double accidental but a raised or lowered note of a key that already has the single one."""
    for place in places(strain):
        pitch = place.note.pitch
        needed = strain.key.alteration(pitch.step) * pitch.alter > 0
        if abs(pitch.alter) > 1 and not needed:
            yield ERROR, place, f"needs a double accidental in {strain.key.pretty}", "respell it"


def leaps(study: Study, strain: Strain) -> Found:
    """No leap is wider than the grade allows; over a rest or a breath nothing is a leap."""
    for place in places(strain):
        before = place.before
        if not isinstance(before, Note) or before.breath:
            continue
        wide = abs(place.note.pitch.midi - before.pitch.midi)
        if wide > study.limits.leap:
            yield ERROR, place, f"leaps {wide} half-steps from {before.pitch}", f"keep within {study.limits.leap}"


def values(study: Study, strain: Strain) -> Found:
    """No note is shorter than the grade knows; a triplet counts as the plain value it is written with."""
    for place in places(strain):
        value = place.note.length * (Fraction(3, 2) if place.note.length.denominator % 3 == 0 else 1)
        if value < study.limits.shortest:
            yield ERROR, place, f"is shorter than {study.limits.shortest} of a whole note", "choose a slower rhythm"


def known_meter(study: Study, strain: Strain) -> Found:
    """Every meter is one the grade knows; free lines have none on paper."""
    if study.limits.meters and not strain.free and str(strain.meter) not in study.limits.meters:
        yield ERROR, None, f"{strain.meter} is outside the grade", f"choose {', '.join(study.limits.meters)}"


def known_key(study: Study, strain: Strain) -> Found:
    """Every key is one the grade knows; strains on one tube have no key."""
    if study.limits.keys and not strain.tube and strain.key.name not in study.limits.keys:
        yield ERROR, None, f"{strain.key.pretty} is outside the grade", f"choose {', '.join(study.limits.keys)}"


def tempo(study: Study, strain: Strain) -> Found:
    """No tempo is past what the grade can be asked."""
    if study.tempo > study.limits.tempo and strain is study.strains[0]:
        yield ERROR, None, f"tempo {study.tempo} is past {study.limits.tempo}", "play it slower"


def speed(study: Study, strain: Strain) -> Found:
    """No note follows faster than tongue, lips or fingers go, at the last tempo of a ladder too."""
    walk = tuple(places(strain))
    climbed = max(study.tempo, *study.ladder, 0) / study.tempo
    for i, place in enumerate(walk):
        before = place.before
        if not isinstance(before, Note) or before.tie:
            continue
        most, what = _most(study, strain, walk, i)
        rate = climbed / study.seconds(before.length)
        if rate > most + 0.01:
            slower = int(study.tempo * most / rate)
            yield ERROR, place, f"{rate:.1f} notes a second {what}, more than {most:.1f}", f"tempo {slower} would do"
            return


def _most(study: Study, strain: Strain, walk: tuple[Place, ...], i: int) -> tuple[float, str]:
    """Return the limit of a note and its name; it is tongued in the pattern that the note before it was spoken in."""
    if walk[i].slurred:
        return (LIP_SPEED, "slurred on one tube") if strain.tube else (FINGER_SPEED, "under the fingers")
    pattern = _spoken(walk, walk[i - 1].bar)
    name = {"k": "on k alone", "t": "single-tongued", "": "single-tongued"}.get(
        "".join(sorted(set(pattern))), "multiple-tongued"
    )
    return tongue_speed(pattern, study.limits.speed), name


def _spoken(walk: tuple[Place, ...], bar: int) -> str:
    """Return the syllables of a bar in their order, landings left out."""
    return "".join(place.note.syllable for place in walk if place.bar == bar and place.note.role != LANDING)


def slurs_closed(_study: Study, strain: Strain) -> Found:
    """Every slur that opens closes, none crosses a breath or a rest."""
    under = False
    for event in strain.music:
        if isinstance(event, Note):
            if (event.slur_close and not under) or (event.slur_open and under and not event.slur_close):
                yield ERROR, None, "a slur begins or ends alone", "pair it"
            under = (under or event.slur_open) and not (event.slur_close and not (event.slur_open and under))
        if under and (isinstance(event, Rest) or event.breath):
            yield ERROR, None, "a slur crosses a breath", "end it before the breath"
            return
    if under:
        yield ERROR, None, "a slur never ends", "close it"


def legible(study: Study, strain: Strain) -> Found:
    """Few ledger lines; notes that are printed an octave higher do not count."""
    instrument = horn(study.horn)
    for place in places(strain):
        lines = abs(instrument.clef.ledgers(place.note.pitch))
        if lines > LEDGER_LINES and not instrument.bracketed(place.note.pitch):
            yield WARNING, place, f"stands on {lines} ledger lines", "choose another octave"


def ladder(study: Study, strain: Strain) -> Found:
    """Every ladder of tempi rises from the study's own to one the player can be asked."""
    steps = study.ladder
    if not steps or strain is not study.strains[0]:
        return
    if steps[0] != study.tempo or list(steps) != sorted(set(steps)) or steps[-1] > study.limits.tempo:
        cure = f"rise from {study.tempo} to {study.limits.tempo} at most"
        yield ERROR, None, f"its ladder goes from {steps[0]} to {steps[-1]}", cure


def counted(_study: Study, strain: Strain) -> Found:
    """Every hairpin with a count lasts so many beats."""
    for place in places(strain):
        note = place.note
        lasts = note.length / strain.meter.beat
        if note.beats and (note.hairpin not in ("<", ">") or note.beats != lasts):
            yield (
                ERROR,
                place,
                f"its hairpin says {note.beats} beats, it lasts {float(lasts):g}",
                "print the count of its length",
            )


def bent(study: Study, strain: Strain) -> Found:
    """Every bend goes from a middle note, its fingering printed, a half-step down and back, on the gliding lip."""
    lowest, highest = horn(study.horn).bends
    for place in places(strain):
        before, after, note = place.before, place.after, place.note
        if note.role != "bent":
            continue
        ends = [e for e in (before, after) if isinstance(e, Note) and e.pitch.midi == note.pitch.midi + 1]
        if len(ends) < 2 or not (ends[0].glide and note.glide and ends[0].valves):
            yield ERROR, place, "is not bent from a fingered note and back", "glide a half-step down and back"
        elif not lowest.midi <= ends[0].pitch.midi <= highest.midi:
            yield ERROR, place, f"bends {ends[0].pitch}", f"choose a note from {lowest} to {highest}"


RULES: dict[str, Callable[[Study, Strain], Found]] = {
    "range": in_range,
    "playability": playable,
    "one tube": on_one_tube,
    "fingering": fingered_right,
    "breath": breathable,
    "full bars": full_bars,
    "lines": lines_whole,
    "spelling": spelled,
    "leap": leaps,
    "note values": values,
    "key": known_key,
    "meter": known_meter,
    "tempo": tempo,
    "speed": speed,
    "slurs": slurs_closed,
    "ledger lines": legible,
    "ladder": ladder,
    "count": counted,
    "bend": bent,
}


def prove(study: Study) -> tuple[Finding, ...]:
    """Return what the rules find in a study, errors first; an empty tuple for a study that may be printed."""
    found = [
        _finding(study, strain, rule, *what)
        for strain in study.strains
        for rule, check in RULES.items()
        for what in check(study, strain)
    ]
    return tuple(sorted(found, key=lambda finding: finding.severity != ERROR))


def proved(study: Study) -> tuple[Finding, ...]:
    """Return the warnings of a study's proof; an error is a failed run, for nothing that fails its proof is printed."""
    findings = prove(study)
    errors = [finding for finding in findings if finding.severity == ERROR]
    if errors:
        more = f" (and {len(errors) - 1} more)" if len(errors) > 1 else ""
        raise FailedRun(Refusal("study", None, f"fails its proof, nothing was printed: {errors[0]}{more}"))
    return findings


def _finding(study: Study, strain: Strain, rule: str, severity: str, place: Place | None, reason: str, cure: str) -> Finding:
    bar, note = (place.bar, place.note.pitch.name) if place else (0, "")
    return Finding(severity, rule, study.kind, full_label(strain.label), bar, note, reason, cure)
