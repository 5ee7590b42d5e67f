"""Bends: a middle note bent down a half-step on its own fingering and back, on one breath; then the same notes fingered."""

from collections.abc import Iterator
from dataclasses import dataclass

from generators.brass.fingering import usual
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.algebra import mapped, on
from generators.phrase.bars import COMMON
from generators.phrase.label import Label
from generators.phrase.notation import degrees
from generators.phrase.note import Phrase
from generators.phrase.remark import Fewer
from generators.phrase.study import Strain, Study
from generators.studies.kit.fit import NoFit, with_air
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.interval import parse_interval, transpose
from generators.theory.key import Key, parse_key
from generators.theory.pitch import Pitch, parse_pitch, simple

_OWN_TEMPO = 60
# The note from which a study that names none goes down, in treble clef.
_FIRST = parse_pitch("G4")
# The highest note that a day bends, and the half-steps that it needs below: our choice.
_HIGHEST, _ROOM = parse_pitch("C5"), 12
_HALF_STEP_DOWN = parse_interval("-m2")
_AWKWARD = ("E#", "B#", "Fb", "Cb")
# Degree 1 is the note, 7, its lower neighbour: both fingered, which is heard first, then bent and back on one breath.
_FORM = "[mp]1/2( 7,/2 | 1/1)* | [p]1/2( 7,/2 | 1/2.)* r/4"
_FINGERED, _FIRST_OF_BENT = 1, 3
_CARE = "tongue and air lower it, not pressed lips."
_AIM = f"Listen for the bent note to match the {{fingered}} one; {_CARE}"
_GENERAL_AIM = f"Listen for the bent note to match its lower neighbour; {_CARE}"


@dataclass(frozen=True, slots=True, kw_only=True)
class BendsRequest(Request):
    """A bending study: its notes, or how many of them, or the keys whose tonics are bent."""

    notes: tuple[str, ...] = option(
        (), "The notes to bend, in treble clef E4 to G5, such as G4,F4,E4; without them half-steps down."
    )
    count: int = option(4, "How many notes, where neither notes nor keys are given.", span=(1, 16))


def bends(request: BendsRequest) -> Study:
    """Return the bending study of a request, one note a line."""
    setting = resolve(request, ("C",), _OWN_TEMPO)
    pairs = _asked(request, setting) or _of_keys(request, setting) or _down(request, setting)
    if not pairs:
        raise NoFit(Refusal("bends", None, f"finds no note {_middle(setting)} with a half-step below it {_where(setting)}"))
    music, pace = with_air([_line(note, setting) for _, note in pairs], setting)
    return Study(
        "bends",
        "Bends",
        _what(pairs),
        setting.horn.said(_AIM),
        setting.horn.id,
        pace,
        tuple(_strain(key, note, line, setting) for (key, note), line in zip(pairs, music, strict=True)),
        setting.limits,
        remarks=tuple(_remarks(request, pairs, setting)),
    )


def _where(setting: Setting) -> str:
    return f"between {setting.limits.low} and {setting.limits.high}"


def _middle(setting: Setting) -> str:
    lowest, highest = setting.horn.bends
    return f"from {lowest} to {highest}"


_Pairs = list[tuple[Key, Pitch]]


def _what(pairs: _Pairs) -> str:
    names = [note.pretty[:-1] for _, note in pairs]
    return ", ".join(names) if len(names) < 6 else f"{len(names)} notes"


def _remarks(request: BendsRequest, pairs: _Pairs, setting: Setting) -> Iterator[Fewer]:
    if not (request.notes or request.keys) and len(pairs) < request.count:
        yield Fewer("notes", len(pairs), request.count, within=setting.range)


def _bendable(note: Pitch, setting: Setting) -> bool:
    """Tell whether a note can be bent: in the middle of the horn, its lower neighbour still in the player's range."""
    return _in_the_middle(note, setting) and setting.limits.low.midi < note.midi <= setting.limits.high.midi


def _in_the_middle(note: Pitch, setting: Setting) -> bool:
    lowest, highest = setting.horn.bends
    return lowest.midi <= note.midi <= highest.midi


def _asked(request: BendsRequest, setting: Setting) -> _Pairs:
    """Return the notes asked for, in C or in the keys asked for in turn."""
    pitches = [parse_pitch(name) for name in request.notes]
    for pitch in pitches:
        if not _in_the_middle(pitch, setting):
            allowed = "{} to {}, where the horn lets it".format(*setting.horn.bends)
            raise BadRequest(Refusal("notes", pitch.name, "is no note to bend", allowed=allowed))
        if not _bendable(pitch, setting):
            raise NoFit(Refusal("notes", pitch.name, f"and the half-step below it do not lie {_where(setting)}"))
    return [(setting.keys[i % len(setting.keys)] if request.keys else _plain(setting), p) for i, p in enumerate(pitches)]


def _plain(setting: Setting) -> Key:
    return setting.keys[0] if setting.limits.keys else setting.horn.key_at_home(parse_key("C"))


def _of_keys(request: BendsRequest, setting: Setting) -> _Pairs:
    """Return a note of every key asked for: its tonic, or the chord note that bends."""
    return [(key, _of_key(key, setting)) for key in setting.keys] if request.keys else []


def _of_key(key: Key, setting: Setting) -> Pitch:
    for index in (0, 4, 2):
        found = [pitch for octave in range(1, 7) if _bendable(pitch := key.degree(index, octave), setting)]
        if found:
            return min(found, key=lambda pitch: abs(pitch.midi - setting.horn.at_home(_FIRST).midi))
    middle = f"of {key.pretty} {_middle(setting)}"
    raise NoFit(Refusal("bends", None, f"finds no chord note {middle} with a half-step below it {_where(setting)}"))


def _down(request: BendsRequest, setting: Setting) -> _Pairs:
    """Return so many notes by half-steps down, from the usual first or higher; fewer where the range ends."""
    lowest = setting.horn.bends[0].midi
    top = max(setting.horn.at_home(_FIRST).midi, lowest + request.count - 1)
    range_down = (simple(midi, sharp=False) for midi in range(min(top, setting.limits.high.midi), lowest - 1, -1))
    found = [pitch for pitch in range_down if _bendable(pitch, setting)]
    return [(_plain(setting), pitch) for pitch, _ in zip(found, range(request.count), strict=False)]


def below(note: Pitch) -> Pitch:
    """Return the half-step below a note as a lower neighbour is spelled, plainly where that would be awkward."""
    spelled = transpose(note, _HALF_STEP_DOWN)
    return simple(spelled.midi, note.alter >= 0) if spelled.name[:-1] in _AWKWARD or abs(spelled.alter) > 1 else spelled


def _line(note: Pitch, setting: Setting) -> Phrase[Pitch]:
    """Return the line of one note with its fingerings and glides, the bent note marked as such."""
    lower = below(note)
    phrase = mapped(degrees(_FORM), lambda degree: lower if degree.index else note)
    valves = [_valves(pitch, setting) for pitch in (note, lower)]
    phrase = on(on(phrase, 0, valves=valves[0]), _FINGERED, valves=valves[1])
    phrase = on(phrase, _FIRST_OF_BENT, glide=True, valves=valves[0])
    return on(phrase, _FIRST_OF_BENT + 1, glide=True, role="bent")


def _valves(pitch: Pitch, setting: Setting) -> str:
    way = usual(pitch, setting.horn)
    return way.valves if way else ""


def _strain(key: Key, note: Pitch, line: Phrase[Pitch], setting: Setting) -> Strain:
    detail = setting.horn.said("{fingered} and bent")
    return Strain(Label(name="bends on", note=note, detail=detail), key, line, COMMON, (4,))


def _bends_part(where: Occasion) -> Iterator[Request]:
    """Yield a few bent notes in the lower staff: of two of the day's majors, then of the others; a learner's usual ones."""
    half = where.turn((0, 2), "bends", 6)
    majors = tuple(sorted(where.keys.majors))
    keys = () if where.grade.keys else majors[half : half + 2] or majors
    top = min(where.high, where.horn.at_home(_HIGHEST))
    common = where.common | ({"high": top.name} if top.midi - where.low.midi >= _ROOM else {})
    for count in (1, 2, 3, 4):
        yield BendsRequest(**common, keys=keys[:count], count=count)


KIND = Kind(
    name="bends",
    place=30,
    request=BendsRequest,
    make=bends,
    summary="Middle notes, their half-step below fingered, then bent on their own fingering and back.",
    example=BendsRequest(notes=("G4", "F4", "E4")),
    aim=_GENERAL_AIM,
    child_aim=("Listen: can the note slide down a little and come home again?", ""),
    lacking="no middle note with a half-step below it",
    areas=("air",),
    parts=(DayPart("bends", 30, _bends_part, weight=3, rank=12, most_lines=3, areas=("air",), group="small", easy=True),),
)
