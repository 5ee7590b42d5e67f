"""Bends: a middle note bent down a half-step on its own fingering and back, on one breath; then the same notes fingered."""

from dataclasses import dataclass

from generators.brass.fingering import usual
from generators.errors import BadRequest
from generators.fields import option
from generators.phrase.algebra import mapped, on
from generators.phrase.bars import COMMON
from generators.phrase.notation import degrees
from generators.phrase.note import Phrase
from generators.phrase.study import Strain, Study
from generators.studies.kit.fit import NoFit, span_words, with_air
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.interval import parse_interval, transpose
from generators.theory.key import Key, parse_key
from generators.theory.pitch import Pitch, parse_pitch, simple

OWN_TEMPO = 60
# The note from which a study that names none goes down, in treble clef.
FIRST = parse_pitch("G4")
HALF_STEP_DOWN = parse_interval("-m2")
AWKWARD = ("E#", "B#", "Fb", "Cb")
# Degree 1 is the note, 7, its lower neighbour: bent and back on one breath, then both fingered.
FORM = "[mp]1/2( 7,/2 | 1/1)* | [p]1/2( 7,/2 | 1/2.)* r/4"
BENT, FINGERED = 1, 4
AIM = (
    "Listen for the bent note to keep the full sound of the first and to reach exactly the pitch of the {fingered} one;"
    " let the tongue and the air lower it, not the lips pressed."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BendsRequest(Request):
    """A bending study: its notes, or how many of them, or the keys whose tonics are bent."""

    notes: tuple[str, ...] = option(
        (), "The notes to bend, in treble clef E4 to G5, such as G4,F4,E4; without them half-steps down."
    )
    count: int = option(4, "How many notes, where neither notes nor keys are given.", span=(1, 16))


def bends(request: BendsRequest) -> Study:
    """Return the bending study of a request, one note a line."""
    setting = resolve(request, ("C",), OWN_TEMPO)
    pairs = _asked(request, setting) or _of_keys(request, setting) or _down(request, setting)
    if not pairs:
        lowest, highest = setting.horn.bends
        raise NoFit(f"bends: no note from {lowest} to {highest} has a half-step below it {_where(setting)}")
    music, pace = with_air([_line(note, setting) for _, note in pairs], setting)
    strains = tuple(_strain(key, note, line, setting) for (key, note), line in zip(pairs, music, strict=True))
    fewer = not (request.notes or request.keys) and len(pairs) < request.count
    remarks = (f"{len(pairs)} notes instead of {request.count} to stay within {span_words(setting.limits)}.",) if fewer else ()
    return Study(
        "bends", _title(pairs), setting.horn.said(AIM), setting.horn.id, pace, strains, setting.limits, remarks=remarks
    )


def _where(setting: Setting) -> str:
    return f"between {setting.limits.low} and {setting.limits.high}"


Pairs = list[tuple[Key, Pitch]]


def _title(pairs: Pairs) -> str:
    names = [note.pretty[:-1] for _, note in pairs]
    return f"Bends: {', '.join(names) if len(names) < 6 else f'{len(names)} notes'}"


def _bends(note: Pitch, setting: Setting) -> bool:
    """Tell whether a note can be bent: in the middle of the horn, its lower neighbour still in the player's range."""
    lowest, highest = setting.horn.bends
    middle = lowest.midi <= note.midi <= highest.midi
    return middle and setting.limits.low.midi < note.midi <= setting.limits.high.midi


def _asked(request: BendsRequest, setting: Setting) -> Pairs:
    """Return the notes asked for, in C or in the keys asked for in turn."""
    lowest, highest = setting.horn.bends
    pitches = [parse_pitch(name) for name in request.notes]
    for pitch in pitches:
        if not lowest.midi <= pitch.midi <= highest.midi:
            raise BadRequest(f"note {pitch} is none to bend; allowed: {lowest} to {highest}, where the horn lets it.")
        if not _bends(pitch, setting):
            raise NoFit(f"bends: {pitch} and the half-step below it do not lie {_where(setting)}")
    return [(setting.keys[i % len(setting.keys)] if request.keys else _plain(setting), p) for i, p in enumerate(pitches)]


def _plain(setting: Setting) -> Key:
    return setting.keys[0] if setting.limits.keys else setting.horn.key_at_home(parse_key("C"))


def _of_keys(request: BendsRequest, setting: Setting) -> Pairs:
    """Return a note of every key asked for: its tonic, or the chord note that bends."""
    return [(key, _of_key(key, setting)) for key in setting.keys] if request.keys else []


def _of_key(key: Key, setting: Setting) -> Pitch:
    for index in (0, 4, 2):
        found = [pitch for octave in range(1, 7) if _bends(pitch := key.degree(index, octave), setting)]
        if found:
            return min(found, key=lambda pitch: abs(pitch.midi - setting.horn.at_home(FIRST).midi))
    lowest, highest = setting.horn.bends
    raise NoFit(f"bends: no chord note of {key.pretty} from {lowest} to {highest} has a half-step below it {_where(setting)}")


def _down(request: BendsRequest, setting: Setting) -> Pairs:
    """Return so many notes by half-steps down, from the usual first or higher; fewer where the range ends."""
    lowest = setting.horn.bends[0].midi
    top = max(setting.horn.at_home(FIRST).midi, lowest + request.count - 1)
    range_down = (simple(midi, sharp=False) for midi in range(min(top, setting.limits.high.midi), lowest - 1, -1))
    found = [pitch for pitch in range_down if _bends(pitch, setting)]
    return [(_plain(setting), pitch) for pitch, _ in zip(found, range(request.count), strict=False)]


def below(note: Pitch) -> Pitch:
    """Return the half-step below a note as a lower neighbour is spelled, plainly where that would be awkward."""
    spelled = transpose(note, HALF_STEP_DOWN)
    return simple(spelled.midi, note.alter >= 0) if spelled.name[:-1] in AWKWARD or abs(spelled.alter) > 1 else spelled


def _line(note: Pitch, setting: Setting) -> Phrase[Pitch]:
    """Return the line of one note with its fingerings, glides and the word."""
    lower = below(note)
    phrase = mapped(degrees(FORM), lambda degree: lower if degree.index else note)
    valves = [_valves(pitch, setting) for pitch in (note, lower)]
    for place, marks in ((0, {"glide": True, "valves": valves[0]}), (BENT, {"glide": True, "text": "bend"})):
        phrase = on(phrase, place, **marks)
    return on(on(phrase, FINGERED - 1, valves=valves[0]), FINGERED, valves=valves[1])


def _valves(pitch: Pitch, setting: Setting) -> str:
    way = usual(pitch, setting.horn)
    return way.valves if way else ""


def _strain(key: Key, note: Pitch, line: Phrase[Pitch], setting: Setting) -> Strain:
    return Strain(setting.horn.said(f"{note.pretty[:-1]}, bent and {{fingered}}"), key, line, COMMON, (4,))
