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
LOWEST, HIGHEST = parse_pitch("E4"), parse_pitch("G5")
HALF_STEP_DOWN = parse_interval("-m2")
AWKWARD = ("E#", "B#", "Fb", "Cb")
# Degree 1 is the note, 7, its lower neighbour: bent and back on one breath, then both fingered.
FORM = "[mp]1/2( 7,/2 | 1/1)* | [p]1/2( 7,/2 | 1/2.)* r/4"
BENT, FINGERED = 1, 4
AIM = (
    "Listen for the bent note to keep the full sound of the first and to reach exactly the pitch of the fingered one;"
    " let the tongue and the air lower it, not the lips pressed."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BendsRequest(Request):
    """A bending study: its notes, or how many of them, or the keys whose tonics are bent."""

    notes: tuple[str, ...] = option((), "The notes to bend, E4 to G5, such as G4,F4,E4; without them half-steps down.")
    count: int = option(4, "How many notes, where neither notes nor keys are given.", span=(1, 16))


def bends(request: BendsRequest) -> Study:
    """Return the bending study of a request, one note a line."""
    setting = resolve(request, ("C",), OWN_TEMPO)
    pairs = _asked(request, setting) or _of_keys(request, setting) or _down(request, setting)
    if not pairs:
        raise NoFit(f"bends: no note from {LOWEST} to {HIGHEST} has a half-step below it {_where(setting)}")
    music, pace = with_air([_line(note, setting) for _, note in pairs], setting)
    strains = tuple(_strain(key, note, line) for (key, note), line in zip(pairs, music, strict=True))
    fewer = not (request.notes or request.keys) and len(pairs) < request.count
    remarks = (f"{len(pairs)} notes instead of {request.count} to stay within {span_words(setting.limits)}.",) if fewer else ()
    return Study("bends", _title(pairs), AIM, setting.horn.id, pace, strains, setting.limits, remarks=remarks)


def _where(setting: Setting) -> str:
    return f"between {setting.limits.low} and {setting.limits.high}"


Pairs = list[tuple[Key, Pitch]]


def _title(pairs: Pairs) -> str:
    names = [note.pretty[:-1] for _, note in pairs]
    return f"Bends: {', '.join(names) if len(names) < 6 else f'{len(names)} notes'}"


def _bends(note: Pitch, setting: Setting) -> bool:
    """Tell whether a note can be bent: in the middle of the horn, its lower neighbour still in the player's range."""
    middle = LOWEST.midi <= note.midi <= HIGHEST.midi
    return middle and setting.limits.low.midi < note.midi <= setting.limits.high.midi


def _asked(request: BendsRequest, setting: Setting) -> Pairs:
    """Return the notes asked for, in C or in the keys asked for in turn."""
    pitches = [parse_pitch(name) for name in request.notes]
    for pitch in pitches:
        if not LOWEST.midi <= pitch.midi <= HIGHEST.midi:
            raise BadRequest(f"note {pitch} is none to bend; allowed: {LOWEST} to {HIGHEST}, where the horn lets it.")
        if not _bends(pitch, setting):
            raise NoFit(f"bends: {pitch} and the half-step below it do not lie {_where(setting)}")
    return [(setting.keys[i % len(setting.keys)] if request.keys else _plain(setting), p) for i, p in enumerate(pitches)]


def _plain(setting: Setting) -> Key:
    return setting.keys[0] if setting.limits.keys else parse_key("C")


def _of_keys(request: BendsRequest, setting: Setting) -> Pairs:
    """Return a note of every key asked for: its tonic, or the chord note that bends."""
    return [(key, _of_key(key, setting)) for key in setting.keys] if request.keys else []


def _of_key(key: Key, setting: Setting) -> Pitch:
    for index in (0, 4, 2):
        found = [pitch for octave in (3, 4, 5) if _bends(pitch := key.degree(index, octave), setting)]
        if found:
            return min(found, key=lambda pitch: abs(pitch.midi - 67))
    raise NoFit(f"bends: no chord note of {key.pretty} from {LOWEST} to {HIGHEST} has a half-step below it {_where(setting)}")


def _down(request: BendsRequest, setting: Setting) -> Pairs:
    """Return so many notes by half-steps down, from G4 or as much higher as E4 allows; fewer where the range ends."""
    top = max(67, LOWEST.midi + request.count - 1)
    range_down = (simple(midi, sharp=False) for midi in range(min(top, setting.limits.high.midi), LOWEST.midi - 1, -1))
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


def _strain(key: Key, note: Pitch, line: Phrase[Pitch]) -> Strain:
    return Strain(f"{note.pretty[:-1]}, bent and fingered", key, line, COMMON, (4,))
